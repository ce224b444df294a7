"""How near every figure of a site stands to its limit: the share of the limit that is used up."""

from collections.abc import Iterator

from zonecfg.figures import Figures
from zonecfg.figures.network import Network
from zonecfg.results.finding import Unknown
from zonecfg.results.review import Margin


def margins(figures: Figures) -> list[Margin]:
    """Give every figure that keeps its limit, the nearest to it first.

    ``used`` is the figure over its limit, or the limit over the figure where it may not be less [-].
    """
    found = [margin for margin in _all(figures) if 0 < margin.used <= 1 + 1e-9]
    return sorted(found, key=lambda margin: (-margin.used, margin.about, margin.what))


def _most(about: str, what: str, figure: float, limit: float, unit: str) -> Margin:
    """A figure that may not be more."""
    return Margin(about=about, what=what, figure=figure, limit=limit, unit=unit, used=figure / limit)


def _least(about: str, what: str, figure: float, limit: float, unit: str) -> Margin:
    """A figure that may not be less."""
    return Margin(about=about, what=what, figure=figure, limit=limit, unit=unit, used=limit / figure)


def _all(figures: Figures) -> Iterator[Margin]:
    yield from _of_sashes(figures)
    yield from _of_power(figures)
    for bus in figures.buses.all if figures.buses.unknown is None else ():
        length, most = bus.length_m, bus.length_limit
        if not isinstance(length, Unknown) and not isinstance(most, Unknown):
            yield _most(bus.about, "length of the bus", length, most[0], "m")
        loads, limit = bus.unit_loads, bus.limit("unit_loads")
        if not isinstance(loads, Unknown) and not isinstance(limit, Unknown):
            yield _most(bus.about, "load of the bus", loads, limit, "unit loads")
    for key, room in figures.rooms.items():
        if room.counted_area_m2 and room.required_area_m2:
            yield _least(f"rooms/{key}", "opening area counted", room.counted_area_m2, room.required_area_m2, "m²")


def _of_sashes(figures: Figures) -> Iterator[Margin]:
    for key, thrust in figures.thrusts.items():
        need = thrust.worst
        if need is not None:
            yield _most(f"openings/{key}", f"thrust for {need.movement}", need.each_n, need.has_n, "N")
    if isinstance(figures.falls, Unknown):
        return
    for key, fall in figures.falls.items():
        if fall.limits_gap and fall.gap_mm and fall.demand is not None and fall.demand.sphere_mm:
            yield _most(f"openings/{key}", "gap against a fall", fall.gap_mm, fall.demand.sphere_mm, "mm")


def _of_power(figures: Figures) -> Iterator[Margin]:
    power, site = figures.power, figures.site
    if power.unknown is not None:
        return
    for key, supply in power.supplies.items():
        if supply.peak_a is not None and supply.output_a:
            yield _most(f"supplies/{key}", "current", supply.peak_a, supply.output_a, "A")
        network = power.network_of(key)
        if isinstance(network, Network) and network.load_unknown is None:
            for cable in network.cables:
                carried = network.carried(cable) if cable.current_max_a else None
                if carried is not None and cable.current_max_a:
                    yield _most(f"cables/{cable.id}", "current", carried.amp, cable.current_max_a, "A")
    for actuator in site.actuators.values():
        network = power.feeding(actuator.id)
        volt = network.lowest(actuator.id) if isinstance(network, Network) else None
        if volt is not None and actuator.voltage_min_v and volt.volt > 0:
            yield _least(f"actuators/{actuator.id}", "lowest voltage", volt.volt, actuator.voltage_min_v, "V")
