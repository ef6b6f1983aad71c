"""The checks of the demo: the stand-in of the chat API, and the story played on it."""
