"""The sash."""

TOUCHES = "safety"
