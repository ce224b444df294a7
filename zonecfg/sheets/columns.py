"""The columns of the worksheet: what is told of each thing, and what is to be filled in."""

from collections.abc import Callable
from typing import Literal, get_args

from msgspec import Struct

from zonecfg.model.grammar import Node, grammar
from zonecfg.results.pointer import join

Kind = Literal["text", "number", "count", "choice", "flag", "day"]


class Column(Struct, frozen=True, kw_only=True):
    """One column: its key in CSV and JSON, its title on paper; what may be filled in has a home in the plan."""

    key: str
    title: str
    width: float = 10
    home: str | None = None
    """Where a filled value goes: ``{id}`` stands for the thing; None for what is only told."""
    kind: Kind = "text"
    unit: str | None = None
    choices: tuple[str, ...] = ()
    above: float | None = None
    least: float | None = None
    most: float | None = None
    doc: str = ""
    step: bool = False
    """Whether the columns like it are filled in one after the other, each for all things."""

    @property
    def fill(self) -> bool:
        """Whether people fill it in."""
        return self.home is not None

    def pointer(self, thing: str) -> str:
        """Where the value of a thing goes.

        Raises
        ------
        ValueError
            Nobody fills in this column.
        """
        if self.home is None:
            raise ValueError(f"{self.key} is not filled in")
        return join(*(thing if step == "{id}" else step for step in self.home.split("/")))


class SheetTable(Struct, frozen=True, kw_only=True):
    """The columns of one kind of thing; the first is its id."""

    name: str
    title: str
    columns: tuple[Column, ...]

    @property
    def to_fill(self) -> tuple[Column, ...]:
        """What people fill in."""
        return tuple(column for column in self.columns if column.fill)


class Form(Struct, frozen=True, kw_only=True):
    """What kind of sheet goes to site: its tables, and how the whole is called."""

    format: str
    name: str
    tables: dict[str, SheetTable]
    footer: str
    keyed: bool = False
    """Whether the sheet says, besides site and revision, what else it was made of."""

    @property
    def called(self) -> str:
        """Its name with an article."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    @property
    def about(self) -> tuple[str, ...]:
        """Columns of its CSV form that every row has."""
        return ("section", "id", "site", "revision", *(("key",) if self.keyed else ()), "note")

    @property
    def header(self) -> tuple[str, ...]:
        """Columns of its CSV form; those that several tables have stand once."""
        return (*self.about, *dict.fromkeys(c.key for table in self.tables.values() for c in table.columns[1:]))


FormFor = Callable[[str], Form]
"""Gives the form of a sheet from its key."""


def told(key: str, title: str, width: float = 10) -> Column:
    """Describe a column that nobody fills in."""
    return Column(key=key, title=title, width=width)


def _filled(home: str, key: str, title: str, width: float = 10) -> Column:
    """Take kind, unit and bounds of a column from the field of the plan it goes to."""
    node = grammar().of(home.replace("/", "."), key)
    if node is None:
        raise LookupError(f"{home} has no field {key}")
    kind, choices = _kind(node)
    meta, said = node.meta, node.said
    return Column(
        key=key,
        title=f"{title}, {said.unit}" if said.unit else title,
        width=width,
        home=f"{home}/{{id}}/{key}",
        kind=kind,
        unit=said.unit,
        choices=choices,
        above=meta.gt,
        least=meta.ge,
        most=meta.le,
        doc=said.doc,
    )


def _kind(node: Node) -> tuple[Kind, tuple[str, ...]]:
    inner, meta = node.of, node.meta
    if inner is bool:
        return "flag", ("yes", "no")
    if inner is float:
        return "number", ()
    if inner is int:
        return "count", ()
    if inner is str:
        return ("day" if (meta.extra_json_schema or {}).get("format") == "date" else "text"), ()
    return "choice", tuple(map(str, get_args(inner)))


TABLES: dict[str, SheetTable] = {
    table.name: table
    for table in (
        SheetTable(
            name="actuators",
            title="Actuators",
            columns=(
                told("id", "Actuator", 8),
                told("opening", "Opening", 7.5),
                told("room", "Room", 12),
                told("storey", "Storey", 6),
                told("faces", "Faces", 7),
                told("hinge", "Hinge", 11),
                told("set_stroke_mm", "Stroke to set, mm", 7),
                told("expected_gap_mm", "Gap it gives, mm", 7),
                told("sash", "Sash moved by", 11),
                told("group", "Group", 13),
                told("cables", "Cables", 12),
                told("planned_serial", "Serial planned", 11),
                _filled("actuators", "serial", "Serial", 12),
                _filled("record/actuators", "measured_stroke_mm", "Measured stroke", 8.5),
                _filled("record/actuators", "measured_gap_mm", "Measured gap", 8.5),
                _filled("record/actuators", "voltage_moving_v", "Voltage while moving", 8.5),
                _filled("record/actuators", "calibrated", "Calibrated", 9),
                _filled("record/actuators", "walk_test", "Walk test", 8),
                _filled("record/actuators", "date", "Date", 10),
                _filled("record/actuators", "by", "By", 10),
            ),
        ),
        SheetTable(
            name="groups",
            title="Groups",
            columns=(
                told("id", "Group", 22),
                told("name", "Name", 34),
                told("controller", "Controller", 11),
                told("members", "Actuators", 46),
                _filled("record/groups", "walk_test", "Walk test", 12),
                _filled("record/groups", "moved_after_s", "Moved after", 12),
            ),
        ),
        SheetTable(
            name="sensors",
            title="Sensors",
            columns=(
                told("id", "Sensor", 11),
                told("measures", "Measures", 10),
                told("room", "Room", 16),
                told("faces", "Faces", 9),
                told("controller", "Controller", 11),
                told("groups", "Groups it acts on", 46),
                told("planned_serial", "Serial planned", 12),
                _filled("sensors", "serial", "Serial", 14),
                _filled("record/sensors", "wet_test", "Wet test", 10),
                _filled("record/sensors", "settled_after_s", "Settled after", 10),
            ),
        ),
        SheetTable(
            name="controllers",
            title="Controllers",
            columns=(
                told("id", "Controller", 11),
                told("room", "Room", 18),
                told("type", "Type", 20),
                told("actuators", "Actuators planned", 10),
                told("expected_ohm", "Resistance across the bus, Ω", 14),
                told("planned_serial", "Serial planned", 12),
                _filled("controllers", "serial", "Serial", 14),
                _filled("controllers", "firmware", "Firmware", 12),
                _filled("record/controllers", "actuators_counted", "Actuators counted"),
                _filled("record/controllers", "fire_test", "Fire test"),
                _filled("record/buses", "bus_ohm", "Measured across the bus", 13),
            ),
        ),
    )
}
"""Every table of the worksheet by the name of its section."""

WORKSHEET = Form(
    format="zonecfg-worksheet/1",
    name="worksheet",
    tables=TABLES,
    footer="Isolate mains and battery before connecting. Keep clear of moving sashes.",
)


def worksheet_form(_key: str) -> Form:
    """Give the form of the worksheet, which is always the same."""
    return WORKSHEET
