"""The post: the durable way in and out of the chat API."""
