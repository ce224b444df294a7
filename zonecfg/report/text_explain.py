"""The help of a check, the meaning of a field, a published rule set, and the list of all, as text."""

from collections.abc import Iterator
from itertools import groupby

from zonecfg.report.style import Style
from zonecfg.results.guide import Field, Guide, RuleGuide
from zonecfg.results.outcome import Help

_FAMILIES = {
    "reading": "Reading",
    "membership": "Who moves with whom",
    "weather": "Sensors and weather",
    "sash": "The sash",
    "air": "Air",
    "power": "Power",
    "bus": "Bus",
    "commissioning": "Commissioning",
    "plausibility": "Plausibility",
    "acceptance": "Accepted findings",
}
CAUTIONS = {
    "sash": "Keep hands clear of a moving sash. Work at height and fall protection follow local rules.",
    "power": "Isolate the supply, mains and battery, before any connection.",
    "bus": "Isolate the supply, mains and battery, before any connection.",
    "commissioning": "Keep hands clear of a moving sash; make sure nobody stands below it.",
    "weather": "Smoke vents and escape windows follow the fire strategy; a fire command outranks rain.",
}
FOOTING = "The checks and figures support, and do not replace, local codes and licensed practice."


def check_lines(help_: Help, style: Style) -> Iterator[str]:
    """Tell a check: why, wrong, right, source."""
    yield style.paint(help_.check, "strong")
    yield from style.wrapped(help_.title)
    yield style.paint(f"{help_.severity}, {_FAMILIES.get(help_.family, help_.family)}", help_.severity)
    yield ""
    yield from style.wrapped(help_.why)
    yield ""
    yield style.paint("Wrong", "strong")
    yield from (f"    {line}" for line in help_.wrong.splitlines())
    yield ""
    yield style.paint("Right", "strong")
    yield from style.wrapped(help_.cure, "  ")
    yield ""
    yield from (f"    {line}" for line in help_.right.splitlines())
    yield ""
    yield from style.wrapped(help_.source, "Source: ", "  ")
    if caution := CAUTIONS.get(help_.family):
        yield ""
        yield from style.wrapped(f"{caution} {FOOTING}")


def field_lines(field: Field, style: Style) -> Iterator[str]:
    """Tell a field: meaning, unit, bounds, an example."""
    yield style.paint(field.name, "strong")
    yield from style.wrapped(field.meaning)
    yield ""
    needed = "; needed, on the thing or in its type" if field.required else ""
    yield f"  Written as  {field.kind}{needed}"
    if field.bounds:
        yield f"  Bounds      {field.bounds}"
    if field.allowed:
        yield from style.wrapped(", ".join(field.allowed), "  One of      ")
    if field.example:
        yield f"  Example     {field.example}"


def rule_lines(rule: RuleGuide, style: Style) -> Iterator[str]:
    """Tell a published rule set."""
    yield style.paint(rule.id, "strong")
    yield from style.wrapped(f"{rule.title}. {rule.edition}, {rule.clause}.")
    yield ""
    yield from style.wrapped(rule.buildings, "  Written for  ")
    for number, asked in enumerate(rule.asks):
        yield from style.wrapped(asked, "  Asks         " if number == 0 else " " * 15)
    yield from style.wrapped(rule.source, "  Source       ")
    if rule.note:
        yield from style.wrapped(rule.note, "  Note         ")
    yield f"  Named by     site.rules.{rule.kind}"
    yield ""
    if rule.secondary or any("second-hand" in asked for asked in rule.asks):
        yield from style.wrapped("Figures read second-hand: open the standard before relying on them.")
    yield from style.wrapped(FOOTING)


def catalogue_lines(guide: Guide, style: Style) -> Iterator[str]:
    """List every check by family, and every field by section."""
    yield style.paint("Checks", "strong")
    for family, group in groupby(guide.checks, key=lambda help_: help_.family):
        yield ""
        yield _FAMILIES.get(family, family)
        for help_ in group:
            yield from style.wrapped(help_.title, f"  {help_.check:<31}", " " * 33)
    yield ""
    yield style.paint("Fields", "strong")
    for section, fields in groupby(guide.fields, key=lambda field: field.name.split(".")[0]):
        names = [field.name.removeprefix(f"{section}.") for field in fields if field.name != section]
        yield ""
        yield section
        if names:
            yield from style.wrapped(", ".join(names), "  ")
    yield ""
    yield style.paint("Rule sets", "strong")
    for rule in guide.rules:
        yield from style.wrapped(f"{rule.title}, {rule.edition}", f"  {rule.id:<24}", " " * 26)
    yield ""
    yield from style.wrapped("zonecfg explain NAME tells one of them, such as sensor-unlinked or openings.drop_mm.")
