"""JSON for other people's scripts: the shapes in ``schemas/``, unrounded."""

import msgspec

from zonecfg.report.inert import harmless_json
from zonecfg.results.outcome import Answer


def render(outcome: Answer) -> str:
    """Write an outcome as JSON, two spaces a level."""
    return harmless_json(msgspec.json.format(msgspec.json.encode(outcome.plain), indent=2).decode()) + "\n"
