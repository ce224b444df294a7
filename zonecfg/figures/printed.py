"""The figures in the shape others read."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from msgspec import UNSET

from zonecfg.figures.motion import travel_s
from zonecfg.figures.network import Volt
from zonecfg.results.figure import (
    ActuatorFigure,
    ControllerFigure,
    OpeningFigure,
    RoomFigure,
    SensorFigure,
    SiteFigures,
    SupplyFigure,
)
from zonecfg.results.finding import Unknown

if TYPE_CHECKING:
    from zonecfg.figures import Figures


def printed(figures: "Figures") -> SiteFigures:
    """Give every figure of a site."""
    site = figures.site
    with_flow = site.info.indoor_c is not None and site.info.outdoor_c is not None
    return SiteFigures(
        openings={key: _opening(figures, key) for key in site.openings},
        rooms={
            key: RoomFigure(
                free_area_m2=room.free_area_m2,
                counted_area_m2=room.counted_area_m2,
                required_area_m2=room.required_area_m2,
                floor_area_m2=room.floor_area_m2,
                flow_m3_s=room.flow_m3_s if with_flow else UNSET,
                flow_without_wind_m3_s=room.still_m3_s if with_flow else UNSET,
            )
            for key, room in figures.rooms.items()
        },
        actuators={
            key: ActuatorFigure(
                voltage_at_peak_v=volt.volt if isinstance(volt := figures.power.voltage(key), Volt) else None,
                travel_s=travel_s(site, key),
            )
            for key in site.actuators
        },
        supplies={
            key: SupplyFigure(peak_a=supply.peak_a, peak_event=supply.peak_event, output_a=supply.output_a)
            for key, supply in figures.power.supplies.items()
        },
        controllers={
            key: ControllerFigure(
                bus_length_m=_largest(bus.length_m for bus in buses),
                bus_unit_loads=_largest(bus.unit_loads for bus in buses),
            )
            for key in site.controllers
            for buses in [figures.buses.of_controller.get(key, ())]
        },
        sensors={
            key: SensorFigure(groups=s.groups, actuators=s.actuators, last_settled_s=s.last_settled_s)
            for key, s in figures.sensors.items()
        },
    )


def _opening(figures: "Figures", key: str) -> OpeningFigure:
    known = figures.openings[key]
    opened, vent = known.opened, bool(figures.site.openings[key].smoke_vent)
    return OpeningFigure(
        stroke_mm=known.stroke_mm,
        angle_deg=None if opened is None else opened.angle_deg,
        gap_mm=None if opened is None else opened.gap_mm,
        free_area_m2=None if opened is None else opened.free_m2,
        equivalent_area_m2=None if opened is None else opened.equivalent_m2,
        sash_area_m2=known.sash_area_m2,
        force_per_actuator_n=known.each_n(known.forces),
        actuators=len(known.actuators),
        fire_stroke_mm=known.fire_stroke_mm if vent else UNSET,
        fire_force_per_actuator_n=known.each_n(known.fire_forces) if vent else UNSET,
        snow_force_per_actuator_n=UNSET if known.snow_forces is None else known.each_n(known.snow_forces),
    )


def _largest(values: Iterable[float | Unknown]) -> float | None:
    found = list(values)
    numbers = [value for value in found if not isinstance(value, Unknown)]
    return max(numbers) if numbers and len(numbers) == len(found) else None
