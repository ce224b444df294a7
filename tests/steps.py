"""How much work something is, counted in lines of Python that run: the same on every machine, busy or not."""

import sys
from collections.abc import Callable
from typing import Any


def steps(use: Callable[[], Any]) -> int:
    """Count the lines that run while something is used."""
    count = 0

    def each(frame: Any, event: str, _: Any) -> Any:
        nonlocal count
        count += event == "line"
        return each

    before = sys.gettrace()
    sys.settrace(each)
    try:
        use()
    finally:
        sys.settrace(before)
    return count
