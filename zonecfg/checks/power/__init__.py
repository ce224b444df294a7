"""Power."""
