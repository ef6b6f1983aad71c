"""The desk: what the chat and the calendar both ask for: gather facts, let core decide, write."""
