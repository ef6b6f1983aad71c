"""Checks of the memory, on real SQLite files."""
