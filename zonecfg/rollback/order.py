"""The order of operations: the worst moment least, and among those orders the least sum of actuators x minutes.

Up to ``EXACT_UP_TO`` operations every order within the limits is weighed: a shortest path over what has been done,
first by its worst moment, then by its sum (Dijkstra's algorithm twice; at most 2^10 states, more where a sash may wait
outside). Beyond, what covers most actuators a minute goes next, a group with all it needs being one thing to do
(Smith's rule for the weighted sum, with sets in the place of jobs as in Sidney's decomposition); what covers nobody
follows, and what uncovers comes last. Where a limit leaves nothing to do, a sash waits outside.
"""

import heapq
from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct, structs

from zonecfg.errors import NoOrder
from zonecfg.rollback.operations import Operation
from zonecfg.rollback.stand import Stand, per_group

EXACT_UP_TO = 10
_NONE = "no order of steps stays within the limits of the controllers: the target is over one of them"


class Done(Struct, frozen=True):
    """An operation that was done, and how many actuators have no rain closing then."""

    operation: Operation
    uncovered: int


class Order(Struct, frozen=True):
    """Operations in order; ``exact`` where every order was weighed."""

    done: list[Done]
    exact: bool
    method: str


def ordered(
    stand: Stand,
    operations: Sequence[Operation],
    minutes: Mapping[str, float],
    *,
    exact_up_to: int = EXACT_UP_TO,
) -> Order:
    """Find an order of operations.

    Parameters
    ----------
    stand
        How things stand before; it is left as it stands after.
    operations
        What has to be done.
    minutes
        Minutes of each kind of step [min].
    exact_up_to
        Operations up to which every order is weighed.

    Raises
    ------
    NoOrder
        No order stays within the limits.
    """
    if len(operations) > exact_up_to:
        done = _Greedy(stand, operations, minutes).run()
        return Order(done, False, "what covers most actuators a minute goes next")
    path = _Exact(stand, operations, minutes).run()
    done = []
    for op in path:
        stand.apply(op)
        done.append(Done(op, stand.uncovered))
    return Order(done, True, "every order weighed")


def parked(op: Operation) -> tuple[Operation, Operation]:
    """A move in two: out to wait, and in from outside."""
    out = structs.replace(op, do="park", group=op.from_group)
    return out, structs.replace(op, do="put-in", from_group=None)


class _Exact:
    """A shortest path over sets of operations; an operation's number in a state is 0 open, 1 outside, 2 done."""

    def __init__(self, stand: Stand, operations: Sequence[Operation], minutes: Mapping[str, float]) -> None:
        self.stand, self.operations, self.minutes = stand, operations, minutes
        self.detours = [parked(op) if op.do == "move" else None for op in operations]
        self.paths: dict[tuple[int, ...], tuple[Operation, ...]] = {(0,) * len(operations): ()}
        self.next: dict[tuple[int, ...], list[tuple[tuple[int, ...], Operation, int]]] = {}

    def run(self) -> tuple[Operation, ...]:
        start, goal = (0,) * len(self.operations), (2,) * len(self.operations)
        worst = self._worst(start, goal)
        settled: set[tuple[int, ...]] = set()
        best: dict[tuple[int, ...], tuple[float, int]] = {start: (0.0, 0)}
        came: dict[tuple[int, ...], tuple[tuple[int, ...], Operation]] = {}
        queue: list[tuple[float, int, tuple[int, ...]]] = [(0.0, 0, start)]
        while queue:
            cost, steps, marks = heapq.heappop(queue)
            state = tuple(-mark for mark in marks)  # of equal ones that which does the first operations first
            if state in settled:
                continue
            settled.add(state)
            if state == goal:
                break
            for after, op, uncovered in self._moves(state):
                price = cost + uncovered * self.minutes.get(op.do, 0), steps + 1
                if uncovered <= worst and (after not in best or price < best[after]):
                    best[after], came[after] = price, (state, op)
                    heapq.heappush(queue, (*price, tuple(-mark for mark in after)))
        found: list[Operation] = []
        state = goal
        while state != start:
            state, op = came[state]
            found.append(op)
        return tuple(reversed(found))

    def _worst(self, start: tuple[int, ...], goal: tuple[int, ...]) -> int:
        """The least worst moment of any order."""
        queue, seen = [(0, start)], set()
        while queue:
            worst, state = heapq.heappop(queue)
            if state == goal:
                return worst
            if state in seen:
                continue
            seen.add(state)
            for after, _, uncovered in self._moves(state):
                if after not in seen:
                    heapq.heappush(queue, (max(worst, uncovered), after))
        raise NoOrder(_NONE)

    def _moves(self, state: tuple[int, ...]) -> list[tuple[tuple[int, ...], Operation, int]]:
        if state in self.next:
            return self.next[state]
        path = self.paths[state]
        for op in path:
            self.stand.apply(op)
        found = []
        for i, mark in enumerate(state):
            detour = self.detours[i]
            choices: list[tuple[int, Operation]] = []
            if mark == 0:
                choices.append((2, self.operations[i]))
                if detour is not None and self.limited:
                    choices.append((1, detour[0]))
            elif mark == 1 and detour is not None:
                choices.append((2, detour[1]))
            for to, op in choices:
                if self.stand.allowed(op):
                    after = (*state[:i], to, *state[i + 1 :])
                    self.stand.apply(op)
                    found.append((after, op, self.stand.uncovered))
                    self.stand.apply(op, back=True)
                    self.paths.setdefault(after, (*path, op))
        for op in reversed(path):
            self.stand.apply(op, back=True)
        self.next[state] = found
        return found

    @property
    def limited(self) -> bool:
        """Whether a limit could stand in the way of anybody, so that waiting outside may help."""
        return self.stand.limited


class _Greedy:
    def __init__(self, stand: Stand, operations: Sequence[Operation], minutes: Mapping[str, float]) -> None:
        self.stand, self.minutes = stand, minutes
        self.open = dict.fromkeys(range(len(operations)))
        self.operations = list(operations)
        self.number = {id(op): i for i, op in enumerate(operations)}
        self.done: list[Done] = []

    def run(self) -> list[Done]:
        while self.open:
            self._covering()
            if self._harmless():
                continue
            if not self.open:
                break
            if not (self._making_room() or self._detour() or self._uncovering()):
                raise NoOrder(_NONE)
        return self.done

    def _do(self, i: int, op: Operation | None = None) -> None:
        op = op or self.operations[i]
        self.stand.apply(op)
        self.done.append(Done(op, self.stand.uncovered))

    def _finish(self, i: int) -> None:
        self._do(i)
        del self.open[i]

    def _rate(self, gain: int, minutes: float) -> float:
        return gain / minutes if minutes else gain * 1e9

    def _covering(self) -> None:
        """Take the best group, with all it needs, again and again while somebody is covered by it."""
        numbers = per_group(self.operations[i] for i in self.open)
        of = {group: [self.number[id(op)] for op in ops] for group, ops in numbers.items()}
        loose = [i for i in self.open if self.operations[i].do == "reconnect"]
        units = {group: self._unit(ops) for group, ops in of.items()}
        units |= {f"\1{i}": self._unit([i]) for i in loose}
        while units:
            group = max(sorted(units), key=lambda g: units[g][0])
            rate, chosen = units[group]
            if rate <= 0:
                return
            touched = {group}
            for i in chosen:
                op = self.operations[i]
                touched.update(g for g in (op.group, op.from_group) if g is not None)
                self._finish(i)
            if any(self.operations[i].actuators for i in chosen):
                touched.update(f"\1{i}" for i in loose)
            for name in touched & units.keys():
                ops = [int(name[1:])] if name.startswith("\1") else of[name]
                left = [i for i in ops if i in self.open]
                if left:
                    units[name] = self._unit(left)
                else:
                    del units[name]

    def _unit(self, numbers: Sequence[int]) -> tuple[float, list[int]]:
        """The first operations of a group that together cover most a minute, in an order that can be gone."""
        rank = {"make-group": 0, "set-wet-action": 1, "link": 2}
        first = sorted(
            (i for i in numbers if self.operations[i].do in rank), key=lambda i: (rank[self.operations[i].do], i)
        )
        best: tuple[float, list[int]] = (0.0, [])
        start = self.stand.uncovered
        for prepared in ([], first) if first else ([],):
            tried: list[int] = []
            spent = 0.0
            linked = False
            for i in (*prepared, *(i for i in numbers if self.operations[i].do not in rank)):
                op = self.operations[i]
                if (op.do == "link" and linked) or not self.stand.allowed(op):
                    continue
                before = self.stand.uncovered
                self.stand.apply(op)
                if i not in prepared and self.stand.uncovered >= before:
                    self.stand.apply(op, back=True)
                    continue
                linked = linked or (op.do == "link" and self.stand.covers(op.group or ""))
                tried.append(i)
                spent += self.minutes.get(op.do, 0)
                rate = self._rate(start - self.stand.uncovered, spent)
                if rate > best[0] or (rate == best[0] and rate > 0 and len(tried) > len(best[1])):
                    best = rate, list(tried)
            for i in reversed(tried):
                self.stand.apply(self.operations[i], back=True)
        return best

    def _gain(self, i: int) -> int:
        before = self.stand.uncovered
        self.stand.apply(self.operations[i])
        gain = before - self.stand.uncovered
        self.stand.apply(self.operations[i], back=True)
        return gain

    def _harmless(self) -> bool:
        """Do all that uncovers nobody."""
        before = len(self.open)
        for i in list(self.open):
            if self.stand.allowed(self.operations[i]) and self._gain(i) >= 0:
                self._finish(i)
        return len(self.open) < before

    def _by_least_harm(self, numbers: Iterable[int]) -> list[int]:
        allowed = [i for i in numbers if self.stand.allowed(self.operations[i])]
        return sorted(allowed, key=lambda i: (-self._rate(self._gain(i), self._minutes(i)), i))

    def _waiting(self) -> list[Operation]:
        """What cannot be done now: a group is full, a sensor acts on as many as it may, or something goes first."""
        return [self.operations[i] for i in self.open if not self.stand.allowed(self.operations[i])]

    def _making_room(self) -> bool:
        """Of what gives way to something that waits, do what uncovers least a minute."""
        waiting = self._waiting()
        full = {op.group for op in waiting if op.goes_in}
        sensors = {op.sensor for op in waiting if op.do == "link"}
        frees = [
            i
            for i in self.open
            if (op := self.operations[i]).from_group in full or (op.do == "unlink" and op.sensor in sensors)
        ]
        ordered = self._by_least_harm(frees)
        for i in ordered[:1]:
            self._finish(i)
        return bool(ordered)

    def _uncovering(self) -> bool:
        """Do what uncovers least a minute; one, where something else waits."""
        ordered = self._by_least_harm(self.open)
        for i in ordered[:1] if self._waiting() else ordered:
            if self.stand.allowed(self.operations[i]):
                self._finish(i)
        return bool(ordered)

    def _minutes(self, i: int) -> float:
        return self.minutes.get(self.operations[i].do, 0)

    def _detour(self) -> bool:
        """Let one sash wait outside, of those whose place somebody needs the one that is covered least."""
        full = {op.group for op in self._waiting() if op.goes_in}
        choices = [i for i in self.open if self.operations[i].do == "move" and self.operations[i].from_group in full]
        if not choices:
            return False

        def cost(i: int) -> tuple[int, int, int]:
            out, _ = parked(self.operations[i])
            before = self.stand.uncovered
            self.stand.apply(out)
            lost = self.stand.uncovered - before
            self.stand.apply(out, back=True)
            return lost, -len(out.actuators), i

        i = min(choices, key=cost)
        out, back = parked(self.operations[i])
        self._do(i, out)
        self.operations[i] = back
        self.number[id(back)] = i
        return True
