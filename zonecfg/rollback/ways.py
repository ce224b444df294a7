"""Every way back, laid out: keep what stands, put a copy back, put it back and mend it, go there by hand."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import structs

from zonecfg.compare.differences import differences
from zonecfg.errors import NoOrder
from zonecfg.model.site import Site
from zonecfg.results.change import Change, FigureMove, FindingsMoved
from zonecfg.results.way import Exposure, Search, Step, Way, WayKind
from zonecfg.results.words import listed
from zonecfg.rollback.predict import Prediction, predict
from zonecfg.rollback.retests import retests
from zonecfg.rollback.settings import Coverage, Settings, groups_of_controllers, settings_of, with_settings
from zonecfg.rollback.steps import steps_between
from zonecfg.rollback.targets import Copy, mended_settings, on_site, put_together

Judge = Callable[[Site], tuple[FindingsMoved, tuple[FigureMove, ...]]]
"""Gives what a predicted site brings and clears, against what stands."""


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
        mended = mended_settings(now, prediction, design)
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
                weighing.restore_then_mend(name, together, mended_settings(now, together, design)),
            ]
    if design is not None:
        target = on_site(now, design.site)
        found.append(weighing.by_hand(design.name, target, plan=design.site))
    return found


class _Weighing:
    """Works out ways of one plant."""

    def __init__(self, now: Site, judge: Judge, minutes: Mapping[str, float]) -> None:
        self.now, self.judge, self.minutes = now, judge, minutes
        self.stands = settings_of(now)
        self.coverage = Coverage(now)
        self.uncovered = self.coverage.uncovered(self.stands)

    def keep(self) -> Way:
        steps = [self._save()]
        return self._way("keep", "what stands", self.stands, steps)

    def restore(self, name: str, prediction: Prediction) -> Way:
        steps = [*self._preparing(prediction), self._restoring(name, prediction), self._released(prediction.settings)]
        return self._way("restore", name, prediction.settings, steps, prediction=prediction)

    def restore_then_mend(self, name: str, prediction: Prediction, mended: Settings) -> Way:
        try:
            plan = steps_between(self.now, prediction.settings, mended)
        except NoOrder as error:
            return self._impossible("restore-then-mend", name, mended, str(error))
        steps = [*self._preparing(prediction), self._restoring(name, prediction), *plan.steps]
        steps += [*self._reconnecting(prediction, mended), self._released(mended)]
        return self._way("restore-then-mend", name, mended, steps, prediction=prediction, search=plan.search)

    def by_hand(self, name: str, target: Settings, *, plan: Site | None = None, warnings: Sequence[str] = ()) -> Way:
        stays = tuple(_physical(plan, with_settings(self.now, target))) if plan is not None else ()
        way = self._by_hand(name, target)
        return structs.replace(way, stays=stays, warnings=tuple(warnings))

    def _by_hand(self, name: str, target: Settings) -> Way:
        try:
            plan = steps_between(self.now, self.stands, target)
        except NoOrder as error:
            return self._impossible("by-hand", name, target, str(error))
        if not plan.steps:
            return self._way("by-hand", name, target, [self._save()], search=plan.search)
        concerned = self._openings_of(a for step in plan.steps for a in step.actuators)
        steps = [*self._before(concerned), *plan.steps, self._released(target)]
        return self._way("by-hand", name, target, steps, search=plan.search)

    def _impossible(self, kind: WayKind, name: str, target: Settings, why: str) -> Way:
        way = self._way(kind, name, target, [self._save()])
        return structs.replace(way, first=(f"This way cannot be gone: {why}.",))

    # The beginning of every way.

    def _save(self) -> Step:
        return Step(
            do="save-copy", text="save a fresh copy of what stands, and keep it apart", uncovered=self.uncovered
        )

    def _before(self, openings: Sequence[str]) -> Iterator[Step]:
        windows = listed(openings, most=8) if openings else "the windows"
        yield self._save()
        yield Step(
            do="tell-people",
            text="wait for dry and calm weather; tell the people in the rooms; nobody on ladders or below the windows",
            uncovered=self.uncovered,
        )
        yield Step(
            do="close",
            text=f"close {windows} and see {'it' if len(openings) == 1 else 'them'} closed",
            uncovered=self.uncovered,
        )
        yield Step(
            do="hold-still",
            text="keep wall keys, timers and rain from moving them while settings change; a fire command stays live",
            uncovered=self.uncovered,
        )

    def _released(self, settings: Settings) -> Step:
        return Step(
            do="release",
            text="let wall keys, timers and rain move them again",
            uncovered=self.coverage.uncovered(settings),
        )

    def _preparing(self, prediction: Prediction) -> Iterator[Step]:
        held = [(s, groups_of_controllers(self.now, s)) for s in (self.stands, prediction.settings)]
        concerned = [
            actuator
            for settings, of in held
            for controller in prediction.controllers
            for group in of.get(controller, ())
            for actuator in settings.members[group]
        ]
        yield from self._before(self._openings_of(concerned))
        for opening, actuators in _split_sashes(self.now, prediction.settings, self.stands):
            yield Step(
                do="isolate",
                text=f"isolate {listed(actuators)} on {opening} from the supply, mains and battery: after the restore "
                "one would move alone and could break the sash",
                actuators=tuple(actuators),
                actuator=actuators[0],
                uncovered=self.uncovered,
            )

    def _reconnecting(self, prediction: Prediction, mended: Settings) -> Iterator[Step]:
        for opening, actuators in _split_sashes(self.now, prediction.settings, self.stands):
            if not _apart(_homes(mended), actuators):
                yield Step(
                    do="reconnect",
                    text=f"connect {listed(actuators)} on {opening} to the supply again: they move as one",
                    actuators=tuple(actuators),
                    actuator=actuators[0],
                    uncovered=self.coverage.uncovered(mended),
                )

    def _restoring(self, name: str, prediction: Prediction) -> Step:
        where = listed(prediction.controllers)
        return Step(
            do="restore", text=f"put {name} back on {where}", uncovered=self.coverage.uncovered(prediction.settings)
        )

    def _openings_of(self, actuators: Any) -> list[str]:
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
        prediction: Prediction | None = None,
        search: Search | None = None,
    ) -> Way:
        site = self.now if kind == "keep" else with_settings(self.now, settings)
        changes = differences(self.now, site)[0]
        moved, figures = (FindingsMoved(), ()) if kind == "keep" else self.judge(site)
        touched = changes
        if kind == "restore-then-mend" and prediction is not None:  # what was wiped and entered again was touched too
            between = with_settings(self.now, prediction.settings)
            touched = [*differences(self.now, between)[0], *differences(between, site)[0]]
        retest = tuple(retests(self.now, site, touched))
        after = self.coverage.uncovered(settings)
        counts = [step.uncovered for step in steps]
        lost = tuple(c for c in changes if _is_loss(c))
        total = sum(self.minutes.get(step.do, 0) for step in steps)
        total += sum(self.minutes.get(test.test, 0) for test in retest)
        return Way(
            way=kind,
            target=target,
            first=tuple(_first_words(self.now, self.stands, prediction, kind)),
            predicted=settings.plain,
            lost=lost,
            returns=tuple(c for c in changes if not _is_loss(c)),
            also_returns=prediction.also_returns if prediction else (),
            warnings=(*prediction.warnings, *prediction.called) if prediction else (),
            findings=moved,
            figures=figures,
            steps=tuple(steps),
            exposure=Exposure(
                now=self.uncovered, at_worst=max([*counts, after]), after=after, sum_over_steps=sum(counts)
            ),
            search=search,
            retest=retest,
            minutes=total,
        )


def _first_words(now: Site, stands: Settings, prediction: Prediction | None, kind: WayKind) -> Iterator[str]:
    if prediction is None:
        return
    for opening, actuators in _split_sashes(now, prediction.settings, stands):
        yield (
            f"Isolate {listed(actuators)} first: after the restore one of them would move alone and could break the "
            f"sash of {opening}."
        )
    for words in prediction.wiped:
        yield f"{words[0].upper()}{words[1:]}{' until entered again' * (kind == 'restore-then-mend')}."


def _split_sashes(now: Site, settings: Settings, stands: Settings) -> list[tuple[str, list[str]]]:
    """Sashes whose actuators were together and would no longer be."""
    then, before = _homes(settings), _homes(stands)
    return [
        (opening, actuators)
        for opening, actuators in now.actuators_of.items()
        if _apart(then, actuators) and not _apart(before, actuators)
    ]


def _homes(settings: Settings) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for group in sorted(settings.members):
        for actuator in settings.members[group]:
            found.setdefault(actuator, []).append(group)
    return found


def _apart(homes: Mapping[str, list[str]], actuators: Sequence[str]) -> bool:
    return len({tuple(homes.get(a, ())) for a in actuators}) > 1


def _physical(plan: Site, then: Site) -> Iterator[Change]:
    """Give what differs from a plan though its settings are back: strokes, serials, cables and the like."""
    for change in differences(plan, then)[0]:
        if change.consequence != "record":
            yield change


def _is_loss(change: Change) -> bool:
    if change.kind in {"removed", "unlinked"}:
        return True
    return change.kind == "moved" and change.after is None
