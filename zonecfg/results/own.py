"""Keys that are the user's own: kept, never read."""


def is_own(key: str) -> bool:
    """Whether a key is one of the user's own."""
    return key.startswith("x-")
