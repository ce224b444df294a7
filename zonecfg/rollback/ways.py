"""Every way back, laid out: keep what stands, put a copy back, put it back and mend it, go there by hand."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct, structs

from zonecfg.compare.differences import differences
from zonecfg.errors import NoOrder
from zonecfg.graph.topology import Topology
from zonecfg.model.site import Site
from zonecfg.results.change import Change, FigureMove, FindingsMoved
from zonecfg.results.way import Exposure, Search, Standing, Step, Way, WayKind
from zonecfg.results.words import listed
from zonecfg.rollback.by_place import by_place
from zonecfg.rollback.isolation import Isolated, halves, isolating
from zonecfg.rollback.predict import Prediction, predict
from zonecfg.rollback.retests import retests
from zonecfg.rollback.settings import Coverage, Settings, groups_of_controllers, settings_of, with_settings
from zonecfg.rollback.steps import listed_in_full, steps_between
from zonecfg.rollback.targets import Copy, mended_settings, put_together


class Predicted(Struct, frozen=True):
    """What the checks say of a predicted site: what it brings and clears, which figures move, and all that stands."""

    findings: FindingsMoved
    figures: tuple[FigureMove, ...]
    standing: tuple[Standing, ...]


Judge = Callable[[Site | None], Predicted]
"""Judges a predicted site against what stands; None is what stands itself."""


def ways(
    now: Site, copies: Sequence[Copy], design: Copy | None, judge: Judge, minutes: Mapping[str, float]
) -> list[Way]:
    """Lay out every way.

    Parameters
    ----------
    now
        The plant as it stands.
    copies
        Saved copies of it; where several cover different controllers, putting all of them back is a way too.
    design
        The plan, for going there by hand.
    judge
        Runs all checks and figures on a predicted site.
    minutes
        Rough minutes of each kind of step and test.
    """
    weighing = _Weighing(now, judge, minutes)
    found = [weighing.keep()]
    for copy in copies:
        prediction = predict(now, copy.site, copy.name)
        mended = mended_settings(now, [copy], design)
        found += [
            weighing.restore(copy.name, prediction),
            weighing.restore_then_mend(copy.name, prediction, mended),
            weighing.by_hand(copy.name, mended, warnings=prediction.moved),
        ]
    if len(copies) > 1:
        together = put_together(now, copies)
        if together is not None:
            name = listed(copy.name for copy in copies)
            found += [
                weighing.restore(name, together),
                weighing.restore_then_mend(name, together, mended_settings(now, copies, design)),
            ]
    if design is not None:
        target = by_place(now, [design.site], whole=True)
        found.append(weighing.by_hand(design.name, target, plan=design.site))
    return found


class _Weighing:
    """Works out ways of one plant."""

    def __init__(self, now: Site, judge: Judge, minutes: Mapping[str, float]) -> None:
        self.now, self.judge, self.minutes = now, judge, minutes
        self.stands = settings_of(now)
        self.coverage = Coverage(now)
        self.topology = Topology(now)
        self.uncovered = self.coverage.uncovered(self.stands)

    def keep(self) -> Way:
        return self._way("keep", "what stands", self.stands, [self._save()], isolated={})

    def restore(self, name: str, prediction: Prediction) -> Way:
        """Put a copy back and leave it: what is split then, or not certain, stays cut off."""
        off = halves(self.now, self.stands, prediction.settings, unsure=prediction.unsure)
        stays = halves(self.now, prediction.settings, unsure=prediction.unsure)
        steps = [*self._preparing(prediction, off), self._restoring(name, prediction, off)]
        for opening, actuators in off.items():
            if opening not in stays:
                off = {o: held for o, held in off.items() if o != opening}
                steps.append(self._reconnecting(actuators, prediction.settings, off))
        steps.append(self._released(prediction.settings, off))
        return self._way("restore", name, prediction.settings, steps, prediction=prediction, isolated=stays)

    def restore_then_mend(self, name: str, prediction: Prediction, mended: Settings) -> Way:
        """Put a copy back, then put right by hand what it gets wrong by place; what is whole then moves again."""
        off = halves(self.now, self.stands, prediction.settings, unsure=prediction.unsure)
        try:
            plan = steps_between(
                self.now, prediction.settings, mended, self.minutes, coverage=self.coverage, isolated=off
            )
        except NoOrder as error:
            return self._impossible("restore-then-mend", name, mended, str(error))
        left = self._left(off, plan.isolated)
        steps = [*self._preparing(prediction, off), self._restoring(name, prediction, off), *plan.steps]
        steps.append(self._released(mended, left))
        return self._way(
            "restore-then-mend", name, mended, steps, prediction=prediction, search=plan.search, isolated=left
        )

    def by_hand(self, name: str, target: Settings, *, plan: Site | None = None, warnings: Sequence[str] = ()) -> Way:
        """Change settings one by one, a sash that is split cut off until it is whole."""
        stays = tuple(_physical(plan, with_settings(self.now, target))) if plan is not None else ()
        way = self._by_hand(name, target)
        return structs.replace(way, stays=stays, warnings=tuple(warnings))

    def _by_hand(self, name: str, target: Settings) -> Way:
        off = halves(self.now, self.stands, target)
        try:
            plan = steps_between(self.now, self.stands, target, self.minutes, coverage=self.coverage, isolated=off)
        except NoOrder as error:
            return self._impossible("by-hand", name, target, str(error))
        if not plan.steps:
            left = halves(self.now, target)
            return self._way("by-hand", name, target, [self._save()], search=plan.search, isolated=left)
        concerned = self._openings_of({a for step in plan.steps for a in step.actuators})
        left = self._left(off, plan.isolated)
        steps = [*self._before(concerned, off, self.stands), *plan.steps, self._released(target, left)]
        return self._way("by-hand", name, target, steps, search=plan.search, isolated=left)

    @staticmethod
    def _left(off: Isolated, isolated: Iterable[str]) -> dict[str, tuple[str, ...]]:
        cut = set(isolated)
        return {opening: held for opening, held in off.items() if cut.intersection(held)}

    def _impossible(self, kind: WayKind, name: str, target: Settings, why: str) -> Way:
        way = self._way(kind, name, target, [self._save()], isolated={})
        return structs.replace(way, first=(f"This way cannot be gone: {why}.",))

    # The steps that every way begins and ends with.

    def _bare(self, settings: Settings, off: Isolated) -> int:
        """Actuators without rain closing: those no sensor closes, and those that are cut off."""
        reached = self.coverage.reached(settings) - {a for held in off.values() for a in held}
        return len(self.coverage.exposed - reached)

    def _save(self) -> Step:
        return Step(
            do="save-copy", text="save a fresh copy of what stands, and keep it apart", uncovered=self.uncovered
        )

    def _before(self, openings: Sequence[str], off: Isolated, settings: Settings) -> Iterator[Step]:
        """Save, tell, cut off what is split, close the rest and keep it still, cut off what is going to be split."""
        yield self._save()
        yield Step(
            do="tell-people",
            text="wait for dry and calm weather; tell the people in the rooms; nobody on ladders or below the windows",
            uncovered=self.uncovered,
        )
        split = halves(self.now, settings)
        cut: dict[str, tuple[str, ...]] = {}
        for opening in (opening for opening in off if opening in split):
            cut[opening] = off[opening]
            yield isolating(self.now, self.topology, opening, off[opening], self._bare(settings, cut))
        rest = [opening for opening in openings if opening not in cut]
        if rest or not openings:
            which = listed(rest, most=10_000) or "the windows"
            yield Step(
                do="close",
                text=f"close {which} and see {'it' if len(rest) == 1 else 'them'} closed",
                openings=tuple(rest),
                uncovered=self._bare(settings, cut),
            )
        yield from self._holding([opening for opening in rest if opening not in off], self._bare(settings, cut))
        for opening in (opening for opening in off if opening not in split):  # whole as yet, and closed by now
            cut[opening] = off[opening]
            yield isolating(self.now, self.topology, opening, off[opening], self._bare(settings, cut))

    def _holding(self, openings: Sequence[str], bare: int) -> Iterator[Step]:
        """Keep weather from moving windows by a means that the plan knows; where it knows none, that is said."""
        movers = [a for o in openings for a in self.now.actuators_of[o]]
        homes = dict.fromkeys(self.topology.controller_of_actuator.get(a) for a in movers)
        known = [self.now.controllers[home] for home in homes if home is not None and home in self.now.controllers]
        able = [c.id for c in known if c.can_hold]
        unable = [c.id for c in known if c.can_hold is False]
        unsaid = [c.id for c in known if c.can_hold is None]
        words = []
        if able:
            words.append(f"set {listed(able)} to keep weather from moving windows")
        if unable:
            words.append(f"isolate the closed windows of {listed(unable)}, which cannot keep weather from moving them")
        if unsaid or not known:
            of = f" of {listed(unsaid)}" if unsaid else ""
            words.append(
                f"keep rain and wind from moving them by a mode{of} if it has one (can_hold is not stated), else "
                "isolate the closed windows"
            )
        yield Step(
            do="hold-still",
            text=f"{'; '.join(words)}; wall keys and timers too",
            openings=tuple(openings),
            uncovered=bare,
            caution=self._fire(openings),
        )

    def _fire(self, openings: Iterable[str]) -> str | None:
        vents = [o for o in openings if o in self.now.openings and self.now.openings[o].smoke_vent]
        if not vents:
            return None
        return f"a fire command to {listed(vents, most=10_000)} stays live; where it cannot, agree it first"

    def _released(self, settings: Settings, off: Isolated) -> Step:
        isolated = tuple(a for held in off.values() for a in held)
        text = "let wall keys, timers and weather move them again"
        if off:
            text += (
                f"; {listed_in_full(self.now, isolated)} stay isolated and have no rain closing: see their windows "
                "closed and mend them next"
            )
        return Step(
            do="release",
            text=text,
            actuators=isolated,
            isolated=isolated,
            openings=tuple(off),
            uncovered=self._bare(settings, off),
        )

    def _preparing(self, prediction: Prediction, off: Isolated) -> Iterator[Step]:
        held = [(s, groups_of_controllers(self.now, s)) for s in (self.stands, prediction.settings)]
        concerned = {
            actuator
            for settings, of in held
            for controller in prediction.controllers
            for group in of.get(controller, ())
            for actuator in settings.members[group]
        }
        yield from self._before(self._openings_of(concerned), off, self.stands)

    def _restoring(self, name: str, prediction: Prediction, off: Isolated) -> Step:
        where = listed(prediction.controllers)
        bare = self._bare(prediction.settings, off)
        return Step(do="restore", text=f"put {name} back on {where}", uncovered=bare)

    def _reconnecting(self, actuators: tuple[str, ...], settings: Settings, off: Isolated) -> Step:
        return Step(
            do="reconnect",
            text=f"connect {listed_in_full(self.now, actuators)} to the supply again: they move as one",
            actuators=actuators,
            actuator=actuators[0],
            uncovered=self._bare(settings, off),
        )

    def _openings_of(self, actuators: Iterable[str]) -> list[str]:
        chosen = set(actuators)
        return [o for o, held in self.now.actuators_of.items() if chosen.intersection(held)]

    # What a way comes to.

    def _way(
        self,
        kind: WayKind,
        target: str,
        settings: Settings,
        steps: Sequence[Step],
        *,
        isolated: Isolated,
        prediction: Prediction | None = None,
        search: Search | None = None,
    ) -> Way:
        site = self.now if kind == "keep" else with_settings(self.now, settings)
        changes = differences(self.now, site)[0]
        judged = self.judge(None if kind == "keep" else site)
        touched = changes
        if kind == "restore-then-mend" and prediction is not None:  # what was wiped and entered again was touched too
            between = with_settings(self.now, prediction.settings)
            touched = [*differences(self.now, between)[0], *differences(between, site)[0]]
        retest = tuple(retests(self.now, site, touched))
        after = self._bare(settings, isolated)
        counts = [step.uncovered for step in steps]
        worst = max([*counts, after])
        total = sum(self.minutes.get(step.do, 0) for step in steps)
        total += sum(self.minutes.get(test.test, 0) for test in retest)
        return Way(
            way=kind,
            target=target,
            first=tuple(_first_words(self.now, settings, prediction, kind, isolated)),
            predicted=settings.plain,
            lost=tuple(c for c in changes if _is_loss(c)),
            returns=tuple(c for c in changes if not _is_loss(c)),
            also_returns=prediction.also_returns if prediction else (),
            warnings=(*prediction.warnings, *prediction.called) if prediction else (),
            findings=judged.findings,
            figures=judged.figures,
            standing=judged.standing,
            uncovered_openings=self._uncovered_openings(settings, isolated),
            steps=tuple(steps),
            exposure=Exposure(
                now=self.uncovered,
                at_worst=worst,
                after=after,
                sum_over_steps=sum(counts),
                worst_actuators=worst,
                actuator_minutes=sum(step.uncovered * self.minutes.get(step.do, 0) for step in steps),
            ),
            search=search,
            retest=retest,
            minutes=total,
        )

    def _uncovered_openings(self, settings: Settings, off: Isolated) -> tuple[str, ...]:
        reached = self.coverage.reached(settings) - {a for held in off.values() for a in held}
        bare = self.coverage.exposed - reached
        return tuple(sorted(o for o, held in self.now.actuators_of.items() if bare.intersection(held)))


def _first_words(
    now: Site, settings: Settings, prediction: Prediction | None, kind: WayKind, isolated: Isolated
) -> Iterator[str]:
    if kind == "keep":
        for opening, actuators in halves(now, settings).items():
            yield (
                f"Isolate {listed(actuators)} at once: the sash of {opening} is pulled apart by different groups. "
                "Keeping what stands does not mend it."
            )
    if prediction is None:
        return
    yield from prediction.taken
    for opening, actuators in halves(now, prediction.settings, unsure=prediction.unsure).items():
        still = " It stays so: this way does not make it whole." if opening in isolated else ""
        yield (
            f"Isolate {listed(actuators)} first: after the restore one of them could move alone and break the sash of "
            f"{opening}.{still}"
        )
    for words in prediction.wiped:
        yield f"{words[0].upper()}{words[1:]}{' until entered again' * (kind == 'restore-then-mend')}."


def _physical(plan: Site, then: Site) -> Iterator[Change]:
    """Give what differs from a plan though its settings are back: strokes, serials, cables and the like."""
    for change in differences(plan, then)[0]:
        if change.consequence != "record":
            yield change


def _is_loss(change: Change) -> bool:
    if change.kind in {"removed", "unlinked"}:
        return True
    return change.kind == "moved" and change.after is None
