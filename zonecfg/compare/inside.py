"""What differs inside a value of the user's own, which no grammar describes."""

from typing import Any

from zonecfg.compare.words import value_words
from zonecfg.results.words import listed


def inner_changes(before: Any, after: Any) -> str | None:
    """Say what differs inside two mappings or lists; None where one of them is neither.

    The library that finds it is imported only here: most plans hold no such value, and fewer change one.
    """
    if not isinstance(before, dict | list) or type(before) is not type(after):
        return None
    from deepdiff import DeepDiff  # noqa: PLC0415

    found = []
    for items in DeepDiff(before, after, view="tree").values():
        for item in items:
            place = ".".join(map(str, item.path(output_format="list")))
            kind = item.report_type
            if kind.endswith("_added"):
                found.append(f"{place} {value_words(item.t2)} (not given before)")
            elif kind.endswith("_removed"):
                found.append(f"{place} no longer given (was {value_words(item.t1)})")
            else:
                found.append(f"{place} {value_words(item.t2)} (was {value_words(item.t1)})")
    return listed(sorted(found))
