"""Which windows stand open when a spell of rain ends, and why."""

from collections.abc import Collection, Iterator, Mapping

from zonecfg.model.site import Site
from zonecfg.results.rehearsal import OpenInRain
from zonecfg.results.words import listed


def open_at(
    site: Site,
    positions: Mapping[str, tuple[str, float]],
    wet: Collection[str],
    reporting: Collection[str],
    on_fire: Collection[str],
    now: float,
) -> Iterator[OpenInRain]:
    """Tell every unsheltered window that is open.

    Parameters
    ----------
    site
        The site.
    positions
        Sash to its group and how far it stands open [percent].
    wet
        Sensors that it rains on.
    reporting
        Sensors that are heard to be wet.
    on_fire
        Groups that the fire command opened.
    now
        The moment [s].
    """
    for opening in site.openings.values():
        if opening.sheltered or opening.id not in site.actuators_of:
            continue
        group, percent = positions.get(opening.id, (None, None))
        if percent is None:
            yield OpenInRain(
                opening=opening.id, group=None, open_percent=100.0, at_s=now, because="no group moves its actuators"
            )
        elif percent > 1e-9 and group is not None:
            because = (
                f"the fire command opened {group}" if group in on_fire else _why(site, group, percent, wet, reporting)
            )
            yield OpenInRain(opening=opening.id, group=group, open_percent=percent, at_s=now, because=because)


def _why(site: Site, group: str, percent: float, wet: Collection[str], reporting: Collection[str]) -> str:
    sensors = site.sensors_measuring("rain", group)
    action = site.wet_weather.get(group)
    if not sensors:
        linked = [s for s in site.sensors_of.get(group, ()) if s in site.sensors and site.sensors[s].measures is None]
        if linked:
            measure = "measures" if len(linked) == 1 else "measure"
            return f"it is not known what {listed(linked)}, linked to {group}, {measure}"
        return f"no rain sensor acts on {group}"
    if action is None:
        return f"{group} has no wet_weather"
    if action.open_percent and percent <= action.open_percent + 1e-9:
        return f"{group} stays at most {action.open_percent:g} % open in wet weather, as set"
    rained_on = sorted(set(sensors) & set(wet))
    if not rained_on:
        return f"{listed(sensors)}, which {'acts' if len(sensors) == 1 else 'act'} on {group}, stayed dry"
    if not set(sensors) & set(reporting):
        return f"{listed(rained_on)} did not report"
    return f"{group} had not stopped yet"
