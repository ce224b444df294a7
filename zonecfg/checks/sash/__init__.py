"""The sash."""
