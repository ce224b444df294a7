"""Rounds of opening that tell every unknown actuator apart, and the decoder of what was seen."""

from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

import msgspec
from msgspec import Struct

from zonecfg.errors import CannotWrite, UnknownName, UnreadableSheet, UnreadableSite
from zonecfg.figures import Figures
from zonecfg.identify.code_words import RoundCode, code
from zonecfg.identify.found import OnBus, read_found
from zonecfg.identify.limits import UnitLimits
from zonecfg.identify.named import sheet_of_serials
from zonecfg.identify.observer_sheet import cautions, form_for, form_of, key_of, options_in, sheet_of_rounds
from zonecfg.identify.resolve_first import faults_of_three
from zonecfg.identify.rounds import LOOK_S, course, spread
from zonecfg.identify.seen import Coded, decoded, reported
from zonecfg.identify.units import Parting, parting
from zonecfg.results.identified import LETTERS, Identified, ResolveFirst, Seen, UnitPlan, WindowPlan
from zonecfg.sheets.filled import recognise
from zonecfg.sheets.raw import RawSheet
from zonecfg.sheets.sheet import Identity
from zonecfg.workflow.plan import plan_of
from zonecfg.workflow.record import read_sheet
from zonecfg.workflow.worksheet import SUFFIXES
from zonecfg.workflow.write import refuse_standing, spare, write_bytes


class Options(Struct, frozen=True, kw_only=True):
    """How the rounds are made; None takes 2 positions and corrects nothing, or what a filled sheet says."""

    levels: int | None = None
    correct: int | None = None
    isolated: tuple[str, ...] | None = None


def identify(
    path: Path,
    found: Path,
    options: Options | None = None,
    *,
    seen: Path | None = None,
    output: Path | None = None,
    force: bool = False,
) -> Identified:
    """Plan the rounds, or decode what was seen in them.

    Parameters
    ----------
    path
        Site file, or the folder of one as-designed state.
    found
        Serials read from the bus: CSV with a column ``serial``, and ``controller type set`` where known.
    options
        Positions told apart, misreads corrected, openings whose actuators are isolated.
    seen
        The filled observer sheet: .csv, .xlsx, or the .json that the page exports.
    output
        Without ``seen`` the observer sheet to write (.csv, .xlsx, .html); with it the worksheet with the serials that
        were named (.csv, .xlsx), which ``record`` takes.
    force
        Replace a file that stands there.

    Raises
    ------
    CannotRead, UnreadableSite
        The plan cannot be opened, has faults of reading, or its windows do not bear what was asked.
    UnreadableSheet
        The found list or the filled sheet cannot be taken as it is.
    UnknownName
        An option or a suffix is none of those there are.
    MissingExtra
        The form needs a library that is not installed.
    CannotWrite
        The file stands there already, or there is nothing to write.
    """
    suffixes = [s for s in SUFFIXES if seen is None or s != ".html"]
    if output is not None:
        if output.suffix.lower() not in suffixes:
            raise UnknownName(f"{output.name}: it is one of {', '.join(suffixes)}")
        refuse_standing([output], force=force)
        spare(output, found, seen)
    raw = None if seen is None else read_sheet(seen, form_for)
    _, state, site = plan_of(path)
    if raw is not None:
        recognise(raw, Identity.of(site), form_for(raw.key))
    options = _settled(options or Options(), raw)
    named = found.as_posix() if not found.is_absolute() else found.name
    entries = read_found(found)
    figures = Figures(site)
    parted = parting(site, entries, found_name=named, isolated=options.isolated or ())
    answer, words = _planned(figures, parted, entries, options, plan=state.file, found=named)
    if raw is not None:
        answer = msgspec.structs.replace(
            answer, remarks=parted.remarks, seen=_decoded(figures, parted, answer, words, raw)
        )
    if output is not None:
        _write(output, figures, answer, force=force)
    return answer


def _settled(options: Options, raw: RawSheet | None) -> Options:
    """Fill in what was not asked for: from the filled sheet, which says what it was made with."""
    levels, correct, isolated = options.levels, options.correct, options.isolated
    if raw is not None:
        said = options_in(raw.key)
        of_sheet = said.get("levels"), said.get("correct"), tuple(filter(None, said.get("isolated", "").split("+")))
        if of_sheet[0] not in ("2", "3") or of_sheet[1] not in ("0", "1"):
            raise UnreadableSheet(f"{raw.file}: its key is not as it went out: {raw.key[:60] or 'there is none'}")
        for option, asked, there in (
            ("--levels", levels, int(of_sheet[0])),
            ("--correct", correct, int(of_sheet[1])),
            ("--isolated", None if isolated is None else tuple(sorted(isolated)), of_sheet[2]),
        ):
            if asked is not None and asked != there:
                shown = " ".join(there) if isinstance(there, tuple) else there
                raise UnreadableSheet(f"{raw.file}: was made with {option} {shown or '(none)'}; leave the option away")
        levels, correct, isolated = int(of_sheet[0]), int(of_sheet[1]), of_sheet[2]
    if levels not in (None, 2, 3):
        raise UnknownName(f"--levels {levels}: it is 2 (closed, open) or 3 (closed, part, open)")
    if correct not in (None, 0, 1):
        raise UnknownName(f"--correct {correct}: it is 0 or 1")
    return Options(levels=levels or 2, correct=correct or 0, isolated=tuple(sorted(set(isolated or ()))))


def _planned(
    figures: Figures, parted: Parting, entries: Sequence[OnBus], options: Options, *, plan: str, found: str
) -> tuple[Identified, RoundCode]:
    site, levels, distance = figures.site, options.levels or 2, 2 + (options.correct or 0)
    openings = [window.opening for window in parted.windows]
    if levels == 3:
        faults = faults_of_three(figures, parted.windows)
        if faults:
            raise UnreadableSite(f"--levels 3 is for calibrated actuators of wide opening windows; {'; '.join(faults)}")
    limits = UnitLimits(figures, parted)
    first = list(parted.first)
    first += [
        ResolveFirst(because=because, ids=ids, how="give the plan a supply that bears it, or read the labels")
        for because, ids in limits.faults()
    ]
    runs = bool(parted.units and parted.windows and not first)
    words = code(len(parted.units) if runs else 0, levels=levels, distance=distance)
    if runs:
        words = msgspec.structs.replace(words, words=spread(parted.units, words.words))
    timed = course(parted, words, limits) if runs else None
    key = key_of(site, entries, openings, words, isolated=options.isolated or ())
    timing = timed is not None and timed.minutes is not None
    slower = timed is not None and (timed.minutes or 0) > (timed.minutes_one_by_one or 0)
    look = f"the minutes count {LOOK_S:g} s a look at a window, one by one at half of those left: common practice"
    answer = Identified(
        plan=plan,
        found=found,
        levels=levels,
        distance=distance,
        key=key,
        units=tuple(
            UnitPlan(
                unit=unit.number,
                serials=unit.serials,
                set=unit.members[0].set,
                controller=unit.controller,
                type=unit.type,
                positions=tuple(LETTERS[levels][letter] for letter in word),
            )
            for unit, word in zip(parted.units, words.words if runs else ((),) * len(parted.units), strict=True)
        ),
        windows=tuple(WindowPlan(opening=w.opening, actuators=w.actuators) for w in parted.windows),
        first=tuple(first),
        by_set=parted.by_set,
        aside=parted.aside,
        rounds=timed.rounds if timed else (),
        closing=timed.closing if timed else None,
        rounds_at_least=words.at_least if runs else 0,
        minutes=timed.minutes if timed else None,
        minutes_one_by_one=timed.minutes_one_by_one if timed else None,
        cautions=cautions(site, openings),
        remarks=(
            *parted.remarks,
            *limits.remarks,
            *((look,) if timing else ()),
            *(("moving one by one takes less time here",) if slower else ()),
        ),
    )
    return answer, words


def _decoded(figures: Figures, parted: Parting, answer: Identified, words: RoundCode, raw: RawSheet) -> Seen:
    form = form_of(len(answer.rounds), answer.levels)
    _same_key(raw, answer.key)
    if not answer.rounds:
        raise UnreadableSheet(f"{raw.file}: of this plan and found list nothing moves, so nothing can have been seen")
    noted = reported(raw, form, parted.windows, answer.levels)
    coded = Coded(
        site=figures.site,
        controllers=figures.topology.controller_of_actuator,
        units=parted.units,
        windows=parted.windows,
        words=words.words,
        levels=answer.levels,
        distance=answer.distance,
        length=words.length,
    )
    return decoded(coded, noted, raw.file)


def _same_key(raw: RawSheet, key: str) -> None:
    """Refuse a sheet that was made of something else: it has other words."""
    there, here = options_in(raw.key), options_in(key)
    for part, what in (
        ("found", "was made with another found list"),
        ("plan", "was made before the plan's actuators or windows changed"),
        ("words", "was made by another version of zonecfg"),
    ):
        if there.get(part) != here[part]:
            raise UnreadableSheet(f"{raw.file}: {what}; make the sheet anew and see the rounds again; nothing was read")
    if there != here:
        raise UnreadableSheet(f"{raw.file}: its key is not as it went out: {raw.key[:60]}; nothing was read")


def _write(output: Path, figures: Figures, answer: Identified, *, force: bool) -> None:
    if answer.seen is None:
        if not answer.rounds:
            why = answer.first[0].because if answer.first else "no unknown serial has a window that lacks one"
            raise CannotWrite(f"{output.as_posix()}: there are no rounds to write: {why}")
        sheet = sheet_of_rounds(figures, answer)
    else:
        sheet = sheet_of_serials(figures, answer, notes=output.suffix.lower() == ".csv")
        if not any("serial" in row or "note" in row for row in sheet.tables["actuators"]):
            raise CannotWrite(f"{output.as_posix()}: no window was named, so there is no serial to write")
    made: str | bytes = import_module(SUFFIXES[output.suffix.lower()]).render(sheet)
    write_bytes(output, made.encode() if isinstance(made, str) else made, force=force)
