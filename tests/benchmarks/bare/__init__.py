"""Bots that only answer a button, to compare with: no memory, no outbox, no questions."""
