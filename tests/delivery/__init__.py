"""Checks of the post: over real HTTP on loopback where it matters."""
