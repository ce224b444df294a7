"""Commissioning: what was seen and tested."""

STATES = ("as-commissioned",)
TOUCHES = "record"
