"""Rule sets on falls through windows: when they apply to an opening and what they then ask."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

import msgspec

from zonecfg.rules.head import SLACK, Head, NotJudged

if TYPE_CHECKING:
    from collections.abc import Iterator


class FallAsks(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What one clause asks where it applies; None is not asked.

    Attributes
    ----------
    sphere_mm
        Diameter [mm] that must not pass. A gap equal to it fails.
    resist_n
        Force [N] the thing that limits the opening must resist.
    barrier_mm
        Least height [mm] of sill or barrier above the floor, asked always.
    barrier_if_overridable_mm
        The same [mm], asked where the limit can be removed or overridden.
    no_climb_from_mm, no_climb_to_mm
        Heights [mm] between which nothing may give a foothold on a barrier.
    child_resistant_release
        Asked where the limit can be removed or overridden.
    judges_hand_opened
        Whether the largest position is meant that a hand can bring the sash to.
    guarding_sphere_mm
        Diameter [mm] that must not pass openings in the guarding.
    or_device
        What satisfies the clause instead of the sphere, in words.
    """

    sphere_mm: float | None
    resist_n: float | None
    barrier_mm: float | None
    barrier_if_overridable_mm: float | None
    no_climb_from_mm: float | None
    no_climb_to_mm: float | None
    child_resistant_release: bool
    or_device: str | None
    judges_hand_opened: bool
    guarding_sphere_mm: float | None


class FallClause(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One clause: its triggers, all of which must hold, and what it asks.

    Attributes
    ----------
    text
        When it applies, in words.
    uses
        Room uses it applies to; None means any.
    drop_at_least_mm, drop_over_mm
        Floor above the surface outside [mm]: this or more, more than this.
    opening_over_mm
        Lowest edge that opens above the surface outside [mm]: more than this.
    sill_under_mm
        Lowest edge that opens above the floor [mm]: less than this.
    asks
        What it then asks.
    secondary
        The figures known only from texts that quote the clause.
    """

    text: str
    uses: tuple[str, ...] | None
    drop_at_least_mm: float | None
    drop_over_mm: float | None
    opening_over_mm: float | None
    sill_under_mm: float | None
    asks: FallAsks
    secondary: tuple[str, ...]

    def fits(self, use: str | None, drop_mm: float | None, sill_mm: float | None) -> bool | NotJudged:
        """Say whether the clause applies; one trigger that certainly fails settles it.

        Parameters
        ----------
        use
            The room's use.
        drop_mm
            Floor above the surface outside [mm].
        sill_mm
            Lowest edge that opens above the floor [mm].

        Returns
        -------
        bool or Unknown
        """
        lacks: list[str] = []
        for holds, missing in self._triggers(use, drop_mm, sill_mm):
            if holds is False:
                return False
            lacks += missing
        return NotJudged(tuple(lacks)) if lacks else True

    def _triggers(
        self, use: str | None, drop_mm: float | None, sill_mm: float | None
    ) -> Iterator[tuple[bool | None, list[str]]]:
        if self.uses is not None:
            yield (None, ["use"]) if use is None else (use in self.uses, [])
        if self.drop_at_least_mm is not None:
            yield (None, ["drop_mm"]) if drop_mm is None else (drop_mm >= self.drop_at_least_mm, [])
        if self.drop_over_mm is not None:
            yield (None, ["drop_mm"]) if drop_mm is None else (drop_mm > self.drop_over_mm, [])
        if self.opening_over_mm is not None:
            if drop_mm is None or sill_mm is None:
                named = (("drop_mm", drop_mm), ("sill_mm", sill_mm))
                yield None, [name for name, value in named if value is None]
            else:
                yield drop_mm + sill_mm > self.opening_over_mm, []
        if self.sill_under_mm is not None:
            yield (None, ["sill_mm"]) if sill_mm is None else (sill_mm < self.sill_under_mm, [])


class FallDemand(msgspec.Struct, frozen=True, kw_only=True):
    """What a fall rule asks of one opening.

    Attributes
    ----------
    rule, clause
        Id of the rule set and its clause, for messages.
    text
        Why it applies, in words.
    asks
        The figures.
    secondary
        Names of figures, triggers too, known only from texts that quote the rule.
    beyond_uses
        The room's use is not one the rule is written for; None where no use is stated.
    """

    rule: str
    clause: str
    text: str
    asks: FallAsks
    secondary: tuple[str, ...]
    beyond_uses: bool | None

    @property
    def sphere_mm(self) -> float | None:
        """Diameter that must not pass [mm]."""
        return self.asks.sphere_mm

    @property
    def resist_n(self) -> float | None:
        """Force the limit must resist [N]."""
        return self.asks.resist_n

    def lets_through(self, gap_mm: float) -> bool:
        """Say whether the sphere passes: a smaller gap does not let it, an equal one does.

        Parameters
        ----------
        gap_mm
            Clear gap of the sash [mm].

        Returns
        -------
        bool
            False where no sphere is asked.
        """
        sphere = self.asks.sphere_mm
        return sphere is not None and gap_mm >= sphere * (1 - SLACK)

    def barrier_mm(self, overridable: bool = False) -> float | None:
        """Give the least height of sill or barrier [mm].

        Parameters
        ----------
        overridable
            Whether what limits the opening can be removed, unlocked or overridden.

        Returns
        -------
        float or None
            None where none is asked.
        """
        if self.asks.barrier_mm is not None or not overridable:
            return self.asks.barrier_mm
        return self.asks.barrier_if_overridable_mm


class FallRule(Head, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="falls"):
    """A rule set on falls; the first clause that applies to an opening is the one that asks.

    Attributes
    ----------
    clauses
        In order.
    """

    kind: ClassVar[str] = "falls"
    clauses: tuple[FallClause, ...]

    def asks(self, use: str | None, drop_mm: float | None, sill_mm: float | None) -> FallDemand | NotJudged | None:
        """Say what the rule asks of an opening.

        Parameters
        ----------
        use
            The room's use, None where it is not stated.
        drop_mm
            Floor level above the surface outside [mm], None where unknown.
        sill_mm
            Lowest edge that opens above the floor [mm], None where unknown.

        Returns
        -------
        FallDemand, Unknown or None
            None where it asks nothing, Unknown where that hangs on something missing.
        """
        lacks: dict[str, None] = {}
        for clause in self.clauses:
            fit = clause.fits(use, drop_mm, sill_mm)
            if isinstance(fit, NotJudged):
                lacks |= dict.fromkeys(fit.lacks)
            elif fit and lacks:
                break
            elif fit:
                return FallDemand(
                    rule=self.id,
                    clause=self.clause,
                    text=clause.text,
                    asks=clause.asks,
                    secondary=clause.secondary,
                    beyond_uses=self.beyond_uses(use),
                )
        return NotJudged(tuple(lacks)) if lacks else None
