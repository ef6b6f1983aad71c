"""The chat bot: the shell around core that talks, remembers and keeps time."""
