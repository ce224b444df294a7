"""Bus."""

TOUCHES = "electrical"
