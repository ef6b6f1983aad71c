"""Whole stories, told with the real bot, real HTTP on loopback and a real SQLite file."""
