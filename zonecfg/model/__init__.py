"""A site and its parts: typed, immutable, every field said once."""
