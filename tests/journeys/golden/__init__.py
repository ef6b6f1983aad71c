"""Chats as they are known to be right, and how to write them anew."""
