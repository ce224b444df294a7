"""JSON Pointers (RFC 6901) as text: how every place in a plan is named."""


def escape(token: str) -> str:
    """Write one reference token: ``~`` becomes ``~0`` and ``/`` becomes ``~1``."""
    return token.replace("~", "~0").replace("/", "~1") if "~" in token or "/" in token else token


def join(*tokens: str | int) -> str:
    """Make a pointer of its tokens; no token at all is the whole document."""
    return "".join("/" + (escape(t) if isinstance(t, str) else str(t)) for t in tokens)


def split(pointer: str) -> list[str]:
    """Take a pointer apart; ``~1`` is decoded before ``~0`` as RFC 6901 asks.

    Raises
    ------
    ValueError
        The text is neither empty nor begins with a slash.
    """
    if not pointer:
        return []
    if not pointer.startswith("/"):
        raise ValueError(f"{pointer!r} is not a JSON Pointer: it must begin with a slash")
    return [token.replace("~1", "/").replace("~0", "~") for token in pointer[1:].split("/")]


def covers(prefix: str, pointer: str) -> bool:
    """Whether ``pointer`` is ``prefix`` itself or stands below it."""
    return pointer == prefix or pointer.startswith(prefix + "/") or not prefix
