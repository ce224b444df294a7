"""The weather to rehearse, as people write it, and what the sensors make of it."""

import re
from collections.abc import Iterable, Sequence
from typing import Literal

from msgspec import Struct

from zonecfg.errors import UnknownName, ZonecfgError
from zonecfg.model.site import Site
from zonecfg.results.nearest import did_you_mean
from zonecfg.results.rehearsal import Spell

_WRITTEN = re.compile(r"(?P<sensor>[^@]+)@(?P<start>\d+(?:\.\d+)?)\.\.(?P<end>\d+(?:\.\d+)?)\Z")
LONGEST_MINUTES = 7 * 24 * 60


class BadSpell(ZonecfgError):
    """A spell of weather that cannot be rehearsed."""


class Weather(Struct, frozen=True, kw_only=True):
    """What is rehearsed; times in seconds from the start."""

    spells: tuple[Spell, ...] = ()
    failed: frozenset[str] = frozenset()
    fire_s: float | None = None


def weather(
    site: Site,
    *,
    wet: Sequence[str] = (),
    wind: Sequence[str] = (),
    fail: Sequence[str] = (),
    fire_minute: float | None = None,
) -> Weather:
    """Read the weather to rehearse.

    Parameters
    ----------
    site
        The site whose sensors are named.
    wet, wind
        ``SENSOR@START..END``, in minutes.
    fail
        Sensors that never report.
    fire_minute
        When the fire command comes.

    Raises
    ------
    BadSpell
        A spell that is not written so, ends before it starts, overlaps another of its sensor, or is of a sensor that
        measures something else.
    UnknownName
        There is no such sensor.
    """
    spells = [_spell(site, text, "rain") for text in wet] + [_spell(site, text, "wind") for text in wind]
    spells.sort(key=lambda s: (s.start_s, s.end_s, s.sensor))
    _refuse_overlaps(spells)
    for sensor in fail:
        _known(site, sensor)
    if fire_minute is not None and not 0 <= fire_minute <= LONGEST_MINUTES:
        raise BadSpell(
            f"a fire command at minute {fire_minute:g}: a rehearsal lasts from 0 to {LONGEST_MINUTES} minutes"
        )
    fire_s = None if fire_minute is None else fire_minute * 60
    return Weather(spells=tuple(spells), failed=frozenset(fail), fire_s=fire_s)


def _spell(site: Site, text: str, kind: Literal["rain", "wind"]) -> Spell:
    match = _WRITTEN.match(text)
    if match is None:
        raise BadSpell(f"{text}: write a spell as SENSOR@START..END in minutes, such as R-1@10..25")
    sensor, start, end = match["sensor"], float(match["start"]), float(match["end"])
    _known(site, sensor)
    measures = site.sensors[sensor].measures
    if measures is not None and measures != kind:
        raise BadSpell(f"{text}: {sensor} measures {measures}, not {kind}")
    if end <= start:
        raise BadSpell(f"{text}: it ends at minute {end:g}, which is not after its start at {start:g}")
    if end > LONGEST_MINUTES:
        raise BadSpell(f"{text}: a rehearsal lasts at most {LONGEST_MINUTES} minutes, a week")
    return Spell(sensor=sensor, kind=kind, start_s=start * 60, end_s=end * 60)


def _known(site: Site, sensor: str) -> None:
    if sensor not in site.sensors:
        raise UnknownName(f"{sensor} is none of the sensors{did_you_mean(sensor, site.sensors)}")


def _refuse_overlaps(spells: Iterable[Spell]) -> None:
    last: dict[str, Spell] = {}
    for spell in spells:
        before = last.get(spell.sensor)
        if before is not None and spell.start_s < before.end_s:
            raise BadSpell(
                f"two spells of {spell.sensor} overlap: {before.start_s / 60:g}..{before.end_s / 60:g} and "
                f"{spell.start_s / 60:g}..{spell.end_s / 60:g}; write them as one"
            )
        last[spell.sensor] = spell


def heard(site: Site, weather: Weather) -> list[tuple[float, str, bool]]:
    """What the controllers hear: moment [s], sensor, and whether it is wet (or strong) from then on.

    A sensor reports ``responds_s`` after the first drops and as soon as it is dry; a spell shorter than that goes
    unreported. One that never reports is taken for what ``if_lost`` says: wet from the start, or nothing at all.
    """
    heard = []
    for spell in weather.spells:
        if spell.sensor in weather.failed:
            continue
        begins = spell.start_s + (site.sensors[spell.sensor].responds_s or 0.0)
        if begins < spell.end_s:
            heard += [(begins, spell.sensor, True), (spell.end_s, spell.sensor, False)]
    heard += [(0.0, sensor, True) for sensor in weather.failed if site.sensors[sensor].if_lost == "wet"]
    return sorted(heard)
