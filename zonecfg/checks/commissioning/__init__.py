"""Commissioning: what was seen and tested."""
