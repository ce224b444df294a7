"""Power."""

TOUCHES = "electrical"
