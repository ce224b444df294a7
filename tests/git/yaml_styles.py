"""Writes plain data in the styles that people write plans in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import yaml
from hypothesis import strategies as st
from sites import as_yaml

if TYPE_CHECKING:
    from collections.abc import Callable

    Draw = Callable[[st.SearchStrategy[Any]], Any]


@st.composite
def styled(draw: Draw, data: dict[str, Any]) -> str:
    """Draw a text of the data: a thing a line, all in blocks, or all in braces; lists indented or not."""
    style = draw(st.sampled_from(["lines", "blocks", "dashes", "mixed"]))
    if style == "lines":
        return as_yaml(data)
    flow = {"blocks": False, "dashes": False, "mixed": None}[style]
    text: str = yaml.dump(
        data, Dumper=_Indented if style == "blocks" else yaml.SafeDumper, default_flow_style=flow, sort_keys=False,
        allow_unicode=True, width=10_000, indent=draw(st.sampled_from([2, 4])),
    )  # fmt: skip
    return text


class _Indented(yaml.SafeDumper):
    """Indents the items of a list below their key."""

    def increase_indent(self, flow=False, indentless=False):
        return super().increase_indent(flow, False)

    def ignore_aliases(self, data):
        return True


yaml.SafeDumper.ignore_aliases = lambda self, data: True
