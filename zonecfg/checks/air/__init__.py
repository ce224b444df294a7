"""Air."""

TOUCHES = "air"
