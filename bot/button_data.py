"""The shape of what buttons carry: `kind:id` or `kind:id:rest`, at most 64 bytes."""

ID = r"[a-z2-7]{12}"
"""An opaque id of a row."""
