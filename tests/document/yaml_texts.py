"""Draws YAML texts in every style people write: block and flow, all five kinds of scalar, comments, any line ends."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

if TYPE_CHECKING:
    from collections.abc import Callable

    Draw = Callable[[st.SearchStrategy[Any]], Any]

# Plain scalars on which ruamel.yaml and the core schema of YAML 1.2.2, section 10.3.2, agree. Left out are those that
# ruamel.yaml's own 1.2 resolver takes further than the core schema: dates, underscores, 0b, signed 0x and 0o, "=".
PLAIN = (
    "1", "0", "-7", "+12", "012", "00", "1.5", "-0.0", "1.", ".5", "1e3", "1.5E-4", "0o17", "0x1F", "true", "False",
    "TRUE", "tRUE", "null", "Null", "~", "no", "yes", "On", "y", "1:30", "12:30:45", "0o8", "0x", "1.2.3", "1e", "e1",
    "--", "studio", "W-01", "2.OG-03", "a b", "a  b", "a#b", "http://x", "a:b", "a-b", "-a", "?a", "crèche", "窓",
    "😀", "x]y", "x}y", "a,b", "0070", "70041832", "a'b", 'a"b', "a@b", "a%b", "...a", "nan", "inf",
)  # fmt: skip
FLOW_PLAIN = tuple(text for text in PLAIN if not set(text) & set("[]{},"))
KEYS = ("a", "b", "101", "no", "2.OG-03", "true", "~", "1.5", "0x1F", "y", "W-01", "x-own", "a b", "crèche", "é", "")
WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Co", "Cn", "Zl", "Zp"), exclude_characters="\ufeff"),
    max_size=12,
)
ESCAPED = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=8)
COMMENTS = ("", " # note", " # key: value", "  # [", " #")


@st.composite
def flow_nodes(draw: Draw, depth: int = 2) -> str:
    """Draw a node in flow style, on one line."""
    kind = draw(
        st.sampled_from(["plain", "single", "double", "map", "list"] if depth else ["plain", "single", "double"])
    )
    if kind == "plain":
        return draw(st.sampled_from(FLOW_PLAIN))
    if kind == "single":
        return _single(draw(WORDS))
    if kind == "double":
        return json.dumps(draw(ESCAPED), ensure_ascii=draw(st.booleans())).replace("\x7f", "\\x7f")
    items = draw(st.lists(flow_nodes(depth - 1), max_size=3))
    if kind == "list":
        return "[" + ", ".join(items) + "]"
    keys = draw(st.lists(st.sampled_from(KEYS), min_size=len(items), max_size=len(items), unique=True))
    return "{" + ", ".join(f"{_key(draw, key)}: {item}" for key, item in zip(keys, items, strict=True)) + "}"


@st.composite
def block_lines(draw: Draw, indent: int, depth: int = 2) -> list[str]:
    """Draw a block mapping or list as lines."""
    pad = " " * indent
    lines: list[str] = []
    mapping = draw(st.booleans())
    keys = draw(st.lists(st.sampled_from(KEYS), min_size=1, max_size=4, unique=True))
    for key in keys:
        if draw(st.integers(0, 5)) == 0:
            lines.append(draw(st.sampled_from(["", f"{pad}# remark", "#", f"{pad}  # deeper: remark"])))
        head = f"{pad}{_key(draw, key)}:" if mapping else f"{pad}-"
        kind = draw(st.sampled_from(["flow", "block", "plain", "literal", "folded", "nothing", "lines"]))
        comment = draw(st.sampled_from(COMMENTS))
        if kind == "block" and depth:
            lines.append(head + comment)
            lines += draw(block_lines(indent + draw(st.sampled_from([1, 2, 4])), depth - 1))
        elif kind in {"literal", "folded"}:
            sign = "|" if kind == "literal" else ">"
            lines.append(f"{head} {sign}{draw(st.sampled_from(['', '-', '+']))}")
            body = draw(
                st.lists(st.sampled_from(["a", "b c", "", "# none", "- x: 1", "  deep"]), min_size=1, max_size=4)
            )
            lines += [f"{pad}  {text}" if text else "" for text in ["begin", *body]]
        elif kind == "lines":
            lines += [f"{head} two", f"{pad}  lines", "", f"{pad}  and more" + comment]
        elif kind == "plain":
            lines.append(f"{head} {draw(st.sampled_from(PLAIN))}{comment}")
        elif kind == "nothing":
            lines.append(head + comment)
        else:
            lines.append(f"{head} {draw(flow_nodes())}{comment}")
    return lines


@st.composite
def documents(draw: Draw) -> str:
    """Draw a document: everything stands below one key of the user's own, where values are read as YAML has them."""
    lines = [*draw(st.sampled_from([[], ["# head"], ["", "# head", ""], ["---"]])), "x-data:"]
    lines += draw(block_lines(2))
    ending = draw(st.sampled_from(["\n", "\r\n"]))
    bom = draw(st.sampled_from(["", "\ufeff"]))
    return bom + ending.join(lines) + draw(st.sampled_from(["", ending, ending * 2]))


def _single(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def _key(draw: Draw, key: str) -> str:
    style = draw(st.sampled_from(["plain", "single", "double"])) if key else "single"
    return {"plain": key, "single": _single(key), "double": json.dumps(key)}[style]
