"""What each group is told to do: at most this open while it rains, closed in strong wind, and what comes after.

A group keeps what people set (``wanted``) and the limits that weather lays on it. Rain lays ``open_percent`` on it,
wind 0; a limit is lifted once all its sensors have been dry, or calm, for the group's minutes, and rain in between
starts the wait anew. Lifted with ``stay``, the group stays where the limit held it; with ``return``, it goes back to
what was wanted. Limits only ever close: a sash less open stays where it is.
"""

from typing import Literal

from zonecfg.model.site import Site

Kind = Literal["rain", "wind"]


class GroupOrders:
    """The orders of one group, changed by reports and by time that passes."""

    def __init__(self, site: Site, group: str, open_percent: float) -> None:
        self.group = group
        self.wanted = open_percent
        self._sensors: dict[Kind, frozenset[str]] = {
            "rain": frozenset(site.sensors_measuring("rain", group)),
            "wind": frozenset(site.sensors_measuring("wind", group)),
        }
        wet, wind = site.wet_weather.get(group), site.strong_wind.get(group)
        self._limit: dict[Kind, float | None] = {
            "rain": wet.open_percent if wet else None,
            "wind": 0.0 if wind else None,
        }
        self._after: dict[Kind, str | None] = {
            "rain": wet.when_dry if wet else None,
            "wind": wind.when_calm if wind else None,
        }
        self._wait_s: dict[Kind, float] = {
            "rain": 60 * ((wet.dry_minutes if wet else None) or 0.0),
            "wind": 60 * ((wind.calm_minutes if wind else None) or 0.0),
        }
        self._reporting: dict[Kind, set[str]] = {"rain": set(), "wind": set()}
        self._active: dict[Kind, bool] = {"rain": False, "wind": False}
        self._lift_at: dict[Kind, float | None] = {"rain": None, "wind": None}

    @property
    def target(self) -> float:
        """How far the group should stand open now [percent of the set stroke]."""
        limits = [self._limit[kind] for kind in ("rain", "wind") if self._active[kind]]
        return min([self.wanted, *(limit for limit in limits if limit is not None)])

    @property
    def held_by(self) -> tuple[Kind, ...]:
        """The limits that lie on it now."""
        return tuple(kind for kind, active in self._active.items() if active)

    def obeys(self, sensor: str) -> Kind | None:
        """Which limit a sensor's report lays on the group; None where it does nothing here."""
        for kind, sensors in self._sensors.items():
            if sensor in sensors and self._limit[kind] is not None:
                return kind
        return None

    def hear(self, sensor: str, on: bool, now: float) -> tuple[Kind, str] | None:
        """Take a report in; say what it does: the limit comes ``closes``, or the wait begins ``waits``."""
        kind = self.obeys(sensor)
        if kind is None:
            return None
        reporting = self._reporting[kind]
        if on:
            reporting.add(sensor)
            self._lift_at[kind] = None
            if not self._active[kind]:
                self._active[kind] = True
                return kind, "closes"
            return None
        reporting.discard(sensor)
        if not reporting and self._active[kind]:
            self._lift_at[kind] = now + self._wait_s[kind]
            return (kind, "waits") if self._wait_s[kind] else None
        return None

    @property
    def next_change(self) -> float | None:
        """When a wait is over [s]."""
        times = [at for at in self._lift_at.values() if at is not None]
        return min(times, default=None)

    def pass_to(self, now: float) -> list[tuple[Kind, str]]:
        """Lift the limits whose wait is over; say what follows: ``returns`` or ``stays``."""
        done: list[tuple[Kind, str]] = []
        for kind, at in self._lift_at.items():
            if at is None or at > now + 1e-9:
                continue
            limit = self._limit[kind]
            self._lift_at[kind] = None
            self._active[kind] = False
            if self._after[kind] == "return":
                done.append((kind, "returns"))
            else:
                self.wanted = min(self.wanted, self.wanted if limit is None else limit)
                done.append((kind, "stays"))
        return done
