"""An actuator gets less voltage than it needs, when most of the others move.

Why
    Long thin cables lose voltage in step with the current. Below its least voltage an actuator
    stops, or its electronics start anew in the middle of closing.
Wrong
    cables:
      K-01: {from: PS-1, to: A-01, type: pair-2x0.75, length_m: 60, carries: [power]}
Right
    Take a larger conductor, a shorter way, or a supply nearer to the windows.

        cables:
          K-01: {from: PS-1, to: A-01, type: pair-2x2.5, length_m: 60, carries: [power]}
"""

from collections.abc import Iterable, Iterator, Mapping

from zonecfg.checks.cures import Patch, setting, smallest_type
from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.network import Network
from zonecfg.model.site import Site
from zonecfg.results.finding import Cure, Problem, Size, Unknown
from zonecfg.results.words import beside, listed

CHECK = Check(
    "voltage-too-low",
    "error",
    source="Kirchhoff's laws; IEC 60228 for conductors, 0.00393 a kelvin for copper; voltage_min_v of the type",
    needs=("cables", "supplies", "actuators", "controllers", "sensors", "groups", "links", "types"),
    over="actuators",
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong; controllers and sensors are judged where their types state a least voltage."""
    power = figures.power
    if power.unknown is not None:
        yield power.unknown
        return
    for section in ("actuators", "controllers", "sensors"):
        for device in getattr(site, section).values():
            least = device.voltage_min_v
            if section != "actuators" and least is None:
                continue
            network = power.feeding(device.id)
            if isinstance(network, Unknown):
                yield network
            elif least is None:
                yield Unknown("voltage_min_v of the actuator is not given", (device.id,))
            elif (found := network.below(device.id, least)) is not None:
                only = " (running current only: no peak_a is given)" if network.running_only else ""
                way, cure = _way(network.ways[device.id]), _cure(site, network, device.id, least)
                gets = f"{beside(found.volt, least, 1)} V" if found.volt > 0 else "no voltage at all"
                yield Problem(
                    f"{section}/{device.id}",
                    site.at(section, device.id),
                    f"{device.id} gets {gets} when {found.event}{only}; its minimum is "
                    f"{least:g} V ({way} from {network.supply.id}); {cure.text}",
                    size=Size(found.volt, least, "V"),
                    cures=(cure,),
                )


def _way(metres: Mapping[float, float]) -> str:
    return listed(f"{length:g} m of {_size(size)}" for size, length in metres.items())


def _cure(site: Site, network: Network, actuator: str, least: float) -> Cure:
    fitting = network.size_for(actuator, least)
    if fitting is None:
        return Cure("no conductor up to 10 mm² is enough: bring a supply nearer, or move fewer sashes at once")
    size, volt = fitting
    return Cure(f"{_size(size)} gives {volt:.1f} V", _thicker(site, network.way_to(actuator), size))


def _thicker(site: Site, way: Iterable[str], size: float) -> Patch | None:
    """Give every thinner cable of the way the thinnest type of the catalogue that is thick enough."""
    steps: Patch = ()
    for cable in (site.cables[key] for key in way):
        if (cable.conductor_mm2 or 0.0) >= size:
            continue
        carries = cable.current_max_a or 0.0
        thicker = smallest_type(
            site,
            "cables",
            "conductor_mm2",
            lambda fields, carries=carries: (
                fields["conductor_mm2"] >= size  # type: ignore[misc]
                and (fields.get("current_max_a") or 0.0) >= carries
            ),
        )
        if thicker is None or cable.type is None:
            return None
        steps += setting(site, "cables", cable.id, "type", thicker[0])
    return steps or None


def _size(mm2: float) -> str:
    return "1.0 mm²" if mm2 == 1 else f"{mm2:g} mm²"
