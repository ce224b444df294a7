"""How a value is written anew: as the donor has it where that is possible, on one line or as lines of its own."""

from collections.abc import Set as AbstractSet
from typing import Any

from zonecfg.document.chunks import line_start
from zonecfg.document.donor import Donor, shifted
from zonecfg.document.nodes import TextNode
from zonecfg.document.text import BREAK
from zonecfg.document.writer import as_block, in_line, same_value


def written_in_line(donor: Donor | None, wanted: Any, key: str, quoted: AbstractSet[str]) -> str:
    """Write a value on one line, as the donor has it where that is possible."""
    if donor is not None and same_value(donor.data, wanted) and (donor.node.flow or is_scalar(donor.node)):
        written = donor.text[donor.node.start : donor.node.end]
        if written and not BREAK.search(written) and written[0] not in "|>":
            return written
    return in_line(wanted, key, quoted)


def written_as_block(
    node: TextNode, wanted: Any, donor: Donor | None, column: int, newline: str, quoted: AbstractSet[str]
) -> str:
    """Write a value as lines of its own; nothing where it belongs behind its key."""
    if not isinstance(wanted, (dict, list)) or not wanted:
        return ""
    if donor is not None and same_value(donor.data, wanted):
        if donor.node.flow or is_scalar(donor.node):
            return ""
        body = donor.text[line_start(donor.text, donor.begin) : donor.end].splitlines()
        return "".join(shifted(body, column + 2, newline))
    if node.flow and node.items is None and node.members:
        return ""
    made = as_block(wanted, column + 2, newline, quoted)
    return made.removeprefix(newline) + newline if made else ""


def made_entry(head: str, wanted: Any, column: int, key: str, newline: str, quoted: AbstractSet[str]) -> str:
    """Write a new entry of a block mapping or list, which no donor has."""
    pad = " " * column
    block = as_block(wanted, column + 2, newline, quoted)
    if block and head != "- ":
        return f"{pad}{head}{block}{newline}"
    return f"{pad}{head.rstrip()} {in_line(wanted, key, quoted)}{newline}"


def is_scalar(node: TextNode) -> bool:
    """Whether a node is neither a mapping nor a list."""
    return node.items is None and node.members is None
