"""Commissioning: what was seen and tested."""

STATES = ("as-commissioned",)
