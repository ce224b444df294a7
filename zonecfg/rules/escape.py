"""Rule sets on windows that are a way out."""

from __future__ import annotations

from typing import ClassVar

import msgspec

from zonecfg.rules.head import SLACK, Head


class EscapeLimits(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What an escape window must give.

    Attributes
    ----------
    clear_area_at_least_m2
        Clear opening [m²].
    each_way_at_least_mm
        Clear width and clear height [mm].
    bottom_at_most_mm
        Bottom of the clear opening above the floor [mm].
    by_hand
        Whether it must open by hand.
    """

    clear_area_at_least_m2: float
    each_way_at_least_mm: float
    bottom_at_most_mm: float
    by_hand: bool


class EscapeDemand(msgspec.Struct, frozen=True, kw_only=True):
    """What an escape rule asks of one opening.

    Attributes
    ----------
    rule, clause
        Id of the rule set and its clause, for messages.
    limits
        The figures.
    secondary
        Names of figures known only from texts that quote the rule.
    beyond_uses
        The room's use is not one the rule is written for; None where no use is stated.
    """

    rule: str
    clause: str
    limits: EscapeLimits
    secondary: tuple[str, ...]
    beyond_uses: bool | None

    def unmet(
        self,
        *,
        clear_area_m2: float | None = None,
        clear_width_mm: float | None = None,
        clear_height_mm: float | None = None,
        bottom_mm: float | None = None,
        opens_by_hand: bool | None = None,
    ) -> tuple[str, ...]:
        """Name the limits that are not met; what is not given is not judged.

        Parameters
        ----------
        clear_area_m2
            Clear opening [m²].
        clear_width_mm, clear_height_mm
            Its size [mm].
        bottom_mm
            Its bottom above the floor [mm].
        opens_by_hand
            Whether a hand opens it without the actuator's help.

        Returns
        -------
        tuple of str
            Of ``clear_area_at_least_m2``, ``each_way_at_least_mm``, ``bottom_at_most_mm``, ``by_hand``.
        """
        sizes = [size for size in (clear_width_mm, clear_height_mm) if size is not None]
        limits, low = self.limits, 1 - SLACK
        faults = {
            "clear_area_at_least_m2": clear_area_m2 is not None and clear_area_m2 < limits.clear_area_at_least_m2 * low,
            "each_way_at_least_mm": any(size < limits.each_way_at_least_mm * low for size in sizes),
            "bottom_at_most_mm": bottom_mm is not None and bottom_mm > limits.bottom_at_most_mm * (1 + SLACK),
            "by_hand": limits.by_hand and opens_by_hand is False,
        }
        return tuple(name for name, fails in faults.items() if fails)


class EscapeRule(Head, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="escape"):
    """A rule set on escape windows.

    Attributes
    ----------
    limits
        The figures.
    secondary
        Names of figures known only from texts that quote the rule.
    """

    kind: ClassVar[str] = "escape"
    limits: EscapeLimits
    secondary: tuple[str, ...]

    def asks(self, use: str | None) -> EscapeDemand:
        """Say what the rule asks of a window that is marked as an escape window.

        Parameters
        ----------
        use
            The room's use, None where it is not stated.

        Returns
        -------
        EscapeDemand
        """
        return EscapeDemand(
            rule=self.id,
            clause=self.clause,
            limits=self.limits,
            secondary=self.secondary,
            beyond_uses=self.beyond_uses(use),
        )
