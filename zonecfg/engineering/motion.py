"""How long sashes take, alone and in a queue."""

import heapq
from collections.abc import Sequence
from typing import NamedTuple


class Queue(NamedTuple):
    """When each sash of a queue moves [s], in the order given."""

    starts_s: list[float]
    finishes_s: list[float]
    last_s: float  # 0 for an empty queue


def travel_time(travel_mm: float, speed_mm_s: float) -> float:
    """Time an actuator takes for a travel.

    Parameters
    ----------
    travel_mm : float
        Travel, the same in either direction [mm]; its sign does not matter.
    speed_mm_s : float
        Speed of the chain [mm/s], above 0.

    Returns
    -------
    float
        Travel over speed [s].

    Raises
    ------
    ValueError
        A speed that is not above 0.

    References
    ----------
    Definition of speed; starting and stopping are not counted.

    Examples
    --------
    >>> travel_time(-300, 6)
    50.0
    """
    if speed_mm_s <= 0:
        raise ValueError(f"a speed is above 0 mm/s, not {speed_mm_s}")
    return abs(travel_mm) / speed_mm_s


def queue(durations_s: Sequence[float], at_once: int | None = None) -> Queue:
    """Let sashes move in order, no more than some at once: the next starts when a place becomes free.

    O(n·log(at_once)).

    Parameters
    ----------
    durations_s : Sequence[float]
        How long each sash moves [s], 0 and more, in the order they start.
    at_once : int | None
        Sashes that may move together [-], 1 and more; None for all.

    Returns
    -------
    Queue
        Start and finish of each, and the last finish [s], from the command.

    Raises
    ------
    ValueError
        A duration below 0 or no place at all.

    References
    ----------
    List scheduling on identical machines (Graham, 1966).

    Examples
    --------
    Three of 50 s, two at once: the third waits for a place.

    >>> queue([50, 50, 50], 2).starts_s
    [0.0, 0.0, 50.0]
    """
    places = len(durations_s) if at_once is None else at_once
    if at_once is not None and at_once < 1:
        raise ValueError(f"at least 1 sash moves at once, not {at_once}")
    if durations_s and min(durations_s) < 0:
        raise ValueError("a movement takes 0 s or more")
    starts, finishes, free = [], [], [0.0] * min(places, len(durations_s))
    for duration in durations_s:
        start = free[0]
        heapq.heapreplace(free, start + duration)
        starts.append(start)
        finishes.append(start + duration)
    return Queue(starts, finishes, max(finishes, default=0.0))
