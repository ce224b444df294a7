"""The observer sheet: what moves when, and a row a window to note where it stands in each round."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import ceil

import msgspec

from zonecfg.figures import Figures
from zonecfg.identify.code_words import RoundCode
from zonecfg.identify.found import OnBus
from zonecfg.model.site import Site
from zonecfg.results.identified import LETTERS, Identified, Start
from zonecfg.sheets.advice import Advice, first_named
from zonecfg.sheets.columns import Column, Form, SheetTable, told
from zonecfg.sheets.sheet import Identity, Row, Sheet, about_opening

FORMAT = "zonecfg-observer-sheet/1"


def form_of(length: int, levels: int) -> Form:
    """Give the form of an observer sheet.

    Parameters
    ----------
    length
        How many rounds.
    levels
        How many positions are told apart.
    """
    seen = tuple(
        Column(
            key=f"round_{number}",
            title=f"Round {number}",
            width=10,
            home=f"seen/{{id}}/{number}",
            kind="choice",
            choices=LETTERS[levels],
            doc="Where the window stands when all has stopped. Blank is better than a guess.",
            step=True,
        )
        for number in range(1, length + 1)
    )
    windows = (
        told("id", "Opening", 9),
        told("room", "Room", 16),
        told("storey", "Storey", 6),
        told("faces", "Faces", 8),
        told("hinge", "Hinge", 13),
        told("members", "Actuators", 14),
        told("expected_gap_mm", "Gap when open, mm", 8),
    )
    rounds = (
        told("id", "Start", 16),
        told("round", "Round", 7),
        told("controller", "Controller", 11),
        told("rest_s", "Rest first, s", 9),
        told("at_s", "After, s", 9),
        told("closed", "Close", 46),
        *((told("part", "Half open", 46),) if levels == 3 else ()),
        told("open", "Open", 46),
        told("still_after_s", "All stopped after, s", 11),
    )
    units = (
        told("id", "Unit", 6),
        told("serials", "Serials, moved together", 34),
        told("set", "Set", 12),
        told("controller", "Controller", 11),
        told("type", "Type", 18),
        told("word", "Round by round", 46),
    )
    return Form(
        format=FORMAT,
        name="observer sheet",
        tables={
            "windows": SheetTable(name="windows", title="Windows", columns=(*windows, *seen)),
            "rounds": SheetTable(name="rounds", title="Rounds", columns=rounds),
            "units": SheetTable(name="units", title="Units", columns=units),
        },
        footer="Area empty and told. Nobody below. A second person at the isolator, in contact. Dry and calm only.",
        keyed=True,
    )


def key_of(
    site: Site, found: Iterable[OnBus], windows: Iterable[str], code: RoundCode, *, isolated: Sequence[str] = ()
) -> str:
    """Say what a sheet is made of, so that a reader recognises one that was made of something else."""
    listed = sorted((f.serial, f.controller or "", f.type or "", f.set or "") for f in found)
    planned = [(a.id, a.opening, a.serial, a.type, a.stroke_mm) for a in site.actuators.values()]
    said = {
        "levels": code.levels,
        "correct": (code.distance - 1) // 2,
        "rounds": code.length if code.words else 0,
        "found": _digest(listed),
        "plan": _digest([planned, *windows]),
        "words": _digest(code.words),
        **({"isolated": "+".join(sorted(isolated))} if isolated else {}),
    }
    return " ".join(f"{name}={value}" for name, value in said.items())


def options_in(key: str) -> dict[str, str]:
    """Take a key apart."""
    return dict(part.split("=", 1) for part in key.split() if "=" in part)


def form_for(key: str) -> Form:
    """Give the form of the sheet that has a key; without rounds where the key does not say them."""
    said = options_in(key)
    rounds, levels = said.get("rounds", ""), said.get("levels", "")
    known = rounds.isascii() and rounds.isdigit() and len(rounds) < 3 and levels in ("2", "3")
    return form_of(int(rounds), int(levels)) if known else form_of(0, 2)


def _digest(of: object) -> str:
    return hashlib.sha256(json.dumps(of).encode()).hexdigest()[:10]


def cautions(site: Site, windows: Iterable[str]) -> tuple[str, ...]:
    """What everybody is told before a window moves."""
    locked = [opening for opening in windows if site.openings[opening].lock == "hand"]
    return (
        "The area is empty and everybody in it has been told; the sills are clear.",
        "Nobody below the windows, and no ladders at them. Keep hands and faces clear of a sash that can move.",
        "A second person stands at the isolator, in contact with whoever watches, and cuts off at one word.",
        "Only while it is dry and calm. Rain and wind closing stays live: if it acts, repeat the round.",
        "Smoke vents, escape windows, known actuators and those whose stroke is not set stay still.",
        *((f"Hand locks off, or fixed open, before the first round: {first_named(locked)}.",) if locked else ()),
        "At the end close all, and confirm at each window that it is closed.",
    )


_STEPS = (
    "Close all first, and see each window of the sheet closed.",
    "In each round make its starts one after the other: at the seconds that stand there, or when all has stopped.",
    "Serials with + between them are of one sash: move them together, never one alone. If one does not go, cut off.",
    "When all has stopped, note where each window stands. Blank is better than a guess.",
    "A window that does not move at all, or stands open always, is noted as it is seen.",
    "Close all, confirm, and take the filled sheet to the office: identify --seen names the serials.",
)


def sheet_of_rounds(figures: Figures, answer: Identified) -> Sheet:
    """Make the observer sheet of an answer that has rounds."""
    site = figures.site
    serials = {unit.unit: " + ".join(unit.serials) for unit in answer.units}
    return Sheet(
        form=form_of(len(answer.rounds), answer.levels),
        identity=msgspec.structs.replace(Identity.of(site), key=answer.key),
        name=site.info.name or "",
        advice=Advice(answer.cautions, _STEPS),
        tables={
            "windows": tuple(_windows(figures, answer)),
            "rounds": tuple(_rounds(answer, serials)),
            "units": tuple(
                {
                    "id": str(unit.unit),
                    "serials": serials[unit.unit],
                    "set": unit.set,
                    "controller": unit.controller,
                    "type": unit.type,
                    "word": ", ".join(unit.positions),
                }
                for unit in answer.units
            ),
        },
    )


def _windows(figures: Figures, answer: Identified) -> Iterator[Row]:
    for window in answer.windows:
        yield {
            "id": window.opening,
            "members": ", ".join(window.actuators),
            **about_opening(figures, window.opening),
        }


def _rounds(answer: Identified, serials: Mapping[int, str]) -> Iterator[Row]:
    """Give a row a start and controller: whoever stands at one sees what is to be done there."""
    home = {unit.unit: unit.controller for unit in answer.units}
    for number, one in enumerate([*answer.rounds, *filter(None, [answer.closing])], start=1):
        round_ = number if number <= len(answer.rounds) else None
        name = "At the end" if round_ is None else f"Round {round_}"
        for index, start in enumerate(one.starts or (Start(at_s=None),), start=1):
            moved = {position: getattr(start, position) for position in LETTERS[answer.levels]}
            homes = dict.fromkeys(home[unit] for units in moved.values() for unit in units)
            for controller in sorted(homes, key=str) or [None]:
                here = {p: [serials[unit] for unit in units if home[unit] == controller] for p, units in moved.items()}
                yield {
                    "id": ", ".join(
                        part
                        for part, told_ in (
                            (name, True),
                            (f"start {index}", len(one.starts) > 1),
                            (controller or "any controller", len(homes) > 1),
                        )
                        if told_
                    ),
                    "round": round_,
                    "controller": controller,
                    "rest_s": _seconds(one.rest_s or None) if index == 1 else None,
                    "at_s": _seconds(start.at_s),
                    **{position: ", ".join(names) or None for position, names in here.items()},
                    "still_after_s": _seconds(one.still_after_s) if index >= len(one.starts) else None,
                }


def _seconds(value: float | None) -> int | None:
    """Whole seconds, rounded up: they are waited for."""
    return None if value is None else ceil(value - 1e-9)
