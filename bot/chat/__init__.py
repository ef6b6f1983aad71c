"""What a person can do in the chat: one file for each thing, one table of contents."""
