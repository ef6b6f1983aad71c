"""The story of a class, played by the real bot against a stand-in of the chat API."""
