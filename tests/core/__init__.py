"""The effort arithmetic, checked against what was published."""
