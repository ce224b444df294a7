"""Rule sets on opening area for air: what counts and how much of the floor is asked."""

from __future__ import annotations

from typing import ClassVar

import msgspec

from zonecfg.rules.head import SLACK, Head


class Band(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The fraction of the floor area asked of sashes that open at least this far.

    Attributes
    ----------
    angle_at_least_deg
        Opening angle [deg] from which the band holds; None means whatever the angle.
    floor_fraction
        Numerator and denominator, as printed.
    text
        The band in words.
    """

    angle_at_least_deg: float | None
    floor_fraction: tuple[int, int]
    text: str

    def of_floor(self, floor_area_m2: float) -> float:
        """Give the area asked.

        Parameters
        ----------
        floor_area_m2
            Floor area of the room [m²].

        Returns
        -------
        float
            [m²]
        """
        numerator, denominator = self.floor_fraction
        return floor_area_m2 * numerator / denominator


class VentilationRule(Head, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="ventilation"):
    """A rule set on opening area.

    Attributes
    ----------
    counted
        What area counts, in words.
    bands
        The widest angle first. Its fraction is the one rooms are held to; a sash in another band counts for
        as much less as that band asks more.
    secondary
        Figures known only from texts that quote the rule.
    """

    kind: ClassVar[str] = "ventilation"
    counted: str
    bands: tuple[Band, ...]
    secondary: tuple[str, ...]

    @property
    def needs_angle(self) -> bool:
        """Whether the counted area depends on how far the sash opens."""
        return any(band.angle_at_least_deg is not None for band in self.bands)

    def band(self, angle_deg: float | None) -> Band | None:
        """Find the band of an opening angle.

        Parameters
        ----------
        angle_deg
            Angle the sash opens to [deg], None where unknown.

        Returns
        -------
        Band or None
            None where the rule gives this angle no area, or the angle is needed and unknown.
        """
        for band in self.bands:
            least = band.angle_at_least_deg
            if least is None or (angle_deg is not None and angle_deg >= least * (1 - SLACK)):
                return band
        return None

    def counted_share(self, angle_deg: float | None) -> float | None:
        """Give the share of a sash's area that counts.

        Parameters
        ----------
        angle_deg
            Angle the sash opens to [deg], None where unknown.

        Returns
        -------
        float or None
            1 is the whole sash, 0 nothing; None where the angle is needed and unknown.
        """
        if self.needs_angle and angle_deg is None:
            return None
        band = self.band(angle_deg)
        return 0.0 if band is None else self.bands[0].of_floor(1) / band.of_floor(1)

    def counted_area_m2(self, width_mm: float, height_mm: float, angle_deg: float | None) -> float | None:
        """Give the area of one sash that counts.

        Parameters
        ----------
        width_mm, height_mm
            Size of the opening part [mm].
        angle_deg
            Angle the sash opens to [deg], None where unknown.

        Returns
        -------
        float or None
            [m²]; None where the angle is needed and unknown.
        """
        share = self.counted_share(angle_deg)
        return None if share is None else width_mm * height_mm / 1e6 * share

    def required_area_m2(self, floor_area_m2: float) -> float:
        """Give the counted area a room must have.

        Parameters
        ----------
        floor_area_m2
            Floor area of the room [m²].

        Returns
        -------
        float
            [m²]
        """
        return self.bands[0].of_floor(floor_area_m2)

    def enough(self, counted_m2: float, required_m2: float) -> bool:
        """Compare, forgiving the last digits of a sum.

        Parameters
        ----------
        counted_m2, required_m2
            What there is and what is asked [m²].

        Returns
        -------
        bool
        """
        return counted_m2 >= required_m2 * (1 - SLACK)
