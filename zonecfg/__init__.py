"""Motorised windows as files: checked, computed, compared and reviewed like code."""

__version__ = "0.1.0"
