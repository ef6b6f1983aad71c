"""What the bot says is true, plain, and short."""
