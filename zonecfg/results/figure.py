"""The figures of a site as others read them: ``zonecfg-figures/1``; null where one cannot be computed."""

from typing import Any, ClassVar, Literal

from msgspec import UNSET, Struct, UnsetType

from zonecfg.results.outcome import Told

FORMAT: Literal["zonecfg-figures/1"] = "zonecfg-figures/1"


class OpeningFigure(Struct, frozen=True, kw_only=True, gc=False):
    """A sash at the stroke its actuators are set to, and the largest force of its travel; more of vents and roofs."""

    stroke_mm: float | None
    angle_deg: float | None
    gap_mm: float | None
    free_area_m2: float | None
    equivalent_area_m2: float | None
    sash_area_m2: float | None
    force_per_actuator_n: float | None
    actuators: int
    fire_stroke_mm: float | UnsetType | None = UNSET
    """The longest way a smoke vent may have to go; there where the opening is one."""
    fire_force_per_actuator_n: float | UnsetType | None = UNSET
    """The largest force on that way."""
    snow_force_per_actuator_n: float | UnsetType | None = UNSET
    """The same with the snow of the site on the sash; there where the site states it and the sash lies in a roof."""


class RoomFigure(Struct, frozen=True, kw_only=True, gc=False):
    """Opening area of a room. The flows are there where the site gives both temperatures."""

    free_area_m2: float | None
    counted_area_m2: float | None
    required_area_m2: float | None
    floor_area_m2: float | None
    flow_m3_s: float | UnsetType | None = UNSET
    flow_without_wind_m3_s: float | UnsetType | None = UNSET


class ActuatorFigure(Struct, frozen=True, kw_only=True, gc=False):
    """Lowest voltage of an actuator over all events, and the time of its whole stroke."""

    voltage_at_peak_v: float | None
    travel_s: float | None


class SupplyFigure(Struct, frozen=True, kw_only=True, gc=False):
    """Largest current of a supply, and the event that asks for it."""

    peak_a: float | None
    peak_event: str | None
    output_a: float | None


class ControllerFigure(Struct, frozen=True, kw_only=True, gc=False):
    """The bus of a controller; of several lines the longest and the fullest."""

    bus_length_m: float | None
    bus_unit_loads: float | None


class SensorFigure(Struct, frozen=True, kw_only=True, gc=False):
    """What a sensor sets moving, and the time from the first drop until all has stopped."""

    groups: int
    actuators: int
    last_settled_s: float | None


class WorkingLine(Struct, frozen=True, kw_only=True):
    """A line of a calculation; one without a formula is given. A result that is null could not be computed."""

    what: str
    symbol: str = ""
    formula: str = ""
    numbers: str = ""
    result: float | None
    unit: str
    source: str


class SiteFigures(Struct, frozen=True, kw_only=True):
    """Everything computed of one state of a site: ``zonecfg-figures/1``."""

    format: Literal["zonecfg-figures/1"] = FORMAT
    openings: dict[str, OpeningFigure]
    rooms: dict[str, RoomFigure]
    actuators: dict[str, ActuatorFigure]
    supplies: dict[str, SupplyFigure]
    controllers: dict[str, ControllerFigure]
    sensors: dict[str, SensorFigure]
    working: dict[str, tuple[WorkingLine, ...]] | UnsetType = UNSET
    """Calculations that were asked for, by thing."""


SECTIONS: tuple[str, ...] = ("openings", "rooms", "actuators", "supplies", "controllers", "sensors")


class NotComputed(Struct, frozen=True):
    """Why some figures are null: what is missing, and for which ids."""

    because: str
    ids: tuple[str, ...] = ()


class FiguresPage(Struct, frozen=True, kw_only=True):
    """The answer of ``figures``, with what text says besides: whose they are, what they rest on, what is missing."""

    judges: ClassVar[bool] = False
    path: str
    state: str | None
    figures: SiteFigures
    remarks: tuple[str, ...] = ()
    not_computed: tuple[NotComputed, ...] = ()

    @property
    def plain(self) -> Any:
        """What goes into JSON."""
        return self.figures

    @property
    def told(self) -> Told:
        """None: figures judge nothing."""
        return Told()
