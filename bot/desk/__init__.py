"""The desk: what chat and calendar both ask for: gather facts, let core decide, write."""
