"""What members can press, in every order: states put back, tried, and compared."""
