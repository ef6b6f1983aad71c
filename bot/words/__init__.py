"""Every sentence the bot says: facts in, message out."""
