"""The shell around the arithmetic, room by room."""
