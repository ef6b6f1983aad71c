"""The memory: plain SQL beside the functions that use it, in SQLite or PostgreSQL."""
