"""Filled observer sheets: what is named, what must be seen again, and what is never named as another."""

import itertools

import msgspec
import pytest
from plans import site_of
from plants import on_the_bus, parted, planned, plant, serials_of

from zonecfg.errors import UnreadableSheet
from zonecfg.identify.found import OnBus
from zonecfg.identify.observer_sheet import form_of
from zonecfg.identify.resolve_first import Window
from zonecfg.identify.seen import Coded, decoded, reported
from zonecfg.identify.units import which
from zonecfg.sheets.raw import RawCell, RawRow, RawSheet

UNITS = (7, 26, 40, 121)


class Site:
    """A plant of single windows (or of given sizes), its code, and what a perfect observer notes."""

    def __init__(self, sizes, *, levels=2, distance=2, found=None, **sections):
        self.data = plant(sizes, **sections)
        who, made, _, _ = planned(self.data, found or on_the_bus(self.data), levels=levels, distance=distance)
        self.coded = Coded(
            site=site_of(self.data), controllers=dict.fromkeys(self.data["actuators"], "C-1"), units=who.units, windows=who.windows, words=made.words,
            levels=levels, distance=distance, length=made.length,
        )  # fmt: skip
        opening = {serial: self.data["actuators"][name]["opening"] for name, serial in serials_of(self.data).items()}
        self.home = {opening[unit.serials[0]]: n for n, unit in enumerate(who.units) if unit.serials[0] in opening}
        self.noted = {home: made.words[n] for home, n in self.home.items()}

    def seen(self, **changes):
        told = decoded(self.coded, {**self.noted, **{k.replace("_", "-"): v for k, v in changes.items()}}, "sheet.csv")
        return told, {window.opening: window for window in told.windows}

    def serials(self, opening):
        return self.coded.units[self.home[opening]].serials


def changed(word, place, letter):
    return (*word[:place], letter, *word[place + 1 :])


@pytest.mark.parametrize("distance", [2, 3])
@pytest.mark.parametrize("count", UNITS)
def test_a_perfect_sheet_names_all(count, distance):
    site = Site([1] * count, distance=distance)
    told, at = site.seen()
    truth = serials_of(site.data)
    assert all(window.result == "named" for window in at.values())
    assert {a: s for w in at.values() for a, s in w.actuators.items()} == truth
    assert (told.unplaced, told.repeat) == ((), ())


@pytest.mark.parametrize("count", UNITS)
def test_one_misread_is_never_named_as_another(count):
    """Distance 2: every single misread of every window is told, and nothing is named wrongly."""
    site = Site([1] * count)
    for opening, word in site.noted.items():
        for place, letter in enumerate(word):
            told, at = site.seen(**{opening.replace("-", "_"): changed(word, place, 1 - letter)})
            assert at[opening].result == "impossible"
            assert place + 1 in told.repeat
            assert told.unplaced == (site.serials(opening),)
            assert at[opening].candidates == (site.serials(opening),)
            assert all(w.serials == site.serials(o) for o, w in at.items() if o != opening)
        if count > 40:
            break


@pytest.mark.parametrize("count", UNITS)
def test_one_misread_is_corrected(count):
    """Distance 3: every single misread of every window is put right and told."""
    site = Site([1] * count, distance=3)
    for number, (opening, word) in enumerate(site.noted.items()):
        for place, letter in enumerate(word):
            told, at = site.seen(**{opening.replace("-", "_"): changed(word, place, 1 - letter)})
            assert at[opening].serials == site.serials(opening)
            assert at[opening].misread == (place + 1,)
            assert f"round {place + 1} misread, corrected" in at[opening].because
            assert told.unplaced == ()
        if number > 5 and count > 40:
            break


def test_misreads_at_every_window_at_once_are_corrected():
    site = Site([1] * 26, distance=3)
    noted = {
        opening.replace("-", "_"): changed(word, n % len(word), 1 - word[n % len(word)])
        for n, (opening, word) in enumerate(site.noted.items())
    }
    _, at = site.seen(**noted)
    assert all(window.serials == site.serials(opening) for opening, window in at.items())


@pytest.mark.parametrize(
    ("distance", "blanks", "result"), [(2, 1, "ambiguous"), (3, 1, "named"), (3, 2, "either"), (3, 3, "either")]
)
def test_blanks(distance, blanks, result):
    """A blank takes one from the distance; with less than 2 left a misread would not show, and the round is seen again."""
    site = Site([1] * 26, distance=distance)
    for opening, word in site.noted.items():
        for first in range(len(word) - blanks + 1):
            noted = tuple(None if first <= place < first + blanks else letter for place, letter in enumerate(word))
            _, at = site.seen(**{opening.replace("-", "_"): noted})
            left = [n for n in range(len(word)) if not first <= n < first + blanks]
            words = [*site.coded.words, *((x,) * len(word) for x in (0, 1))]
            near = min(sum(w[n] != word[n] for n in left) for w in words if w != word)
            assert at[opening].result == ("named" if near > 1 and blanks <= distance else "ambiguous")
            assert result in {at[opening].result, "either"}
            if at[opening].result == "named":
                assert at[opening].serials == site.serials(opening)
            else:
                assert at[opening].repeat == tuple(range(first + 1, first + blanks + 1))
                assert site.serials(opening) in at[opening].candidates


def test_nobody_looked():
    site = Site([1] * 3)
    _, at = site.seen(W_2=(None,) * site.coded.length)
    assert at["W-2"].because == "nobody noted where it stood"
    assert at["W-2"].repeat == tuple(range(1, site.coded.length + 1))


@pytest.mark.parametrize("distance", [2, 3])
def test_dead_and_stuck(distance):
    """Both are words of the code: with one misread they are still told from every unit."""
    site = Site([1] * 7, distance=distance)
    never, always = (0,) * site.coded.length, (1,) * site.coded.length
    told, at = site.seen(W_1=never, W_2=always, W_3=never)
    assert "dead" in at["W-1"].because
    assert "stuck" in at["W-2"].because
    assert at["W-3"].because == at["W-1"].because
    assert {at[w].result for w in ("W-1", "W-2", "W-3")} == {"impossible"}
    assert set(told.unplaced) == {site.serials(w) for w in ("W-1", "W-2", "W-3")}
    for place in range(site.coded.length):
        if distance == 2:  # that one is dead takes nothing from the likelihood that another is
            _, at = site.seen(W_1=never, W_2=changed(never, place, 1))
            assert place + 1 in at["W-2"].repeat
        _, at = site.seen(W_1=changed(never, place, 1))
        assert at["W-1"].result == "impossible"
        assert ("dead" in at["W-1"].because) == (distance == 3)


def test_two_windows_with_one_word():
    site = Site([1] * 7)
    told, at = site.seen(W_2=site.noted["W-1"])
    assert {at[w].result for w in ("W-1", "W-2")} == {"ambiguous"}
    assert at["W-1"].because == f"W-2 and W-1 are both reported as {site.serials('W-1')[0]} moves"
    assert at["W-2"].candidates == (site.serials("W-1"),)
    assert set(told.unplaced) == {site.serials("W-1"), site.serials("W-2")}
    assert set(told.repeat) >= {
        place + 1 for place, (a, b) in enumerate(zip(site.noted["W-1"], site.noted["W-2"], strict=True)) if a != b
    }


def test_a_pair_is_named_as_a_whole():
    site = Site([2, 1])
    _, at = site.seen()
    assert at["W-1"].serials == ("7000", "7002")
    assert at["W-1"].actuators == {}
    assert at["W-1"].because == "the labels say which is which of A-1-1 and A-1-2"
    assert at["W-2"].actuators == {"A-2-1": "7001"}


def test_a_pair_of_two_types_needs_no_labels():
    data = plant([2], actuators={"A-1-2": {"type": "other"}})
    data["types"]["actuators"]["other"] = dict(data["types"]["actuators"]["chain"])
    who = parted(data, on_the_bus(data, typed=True))
    (unit,) = who.units
    assert {a: f.serial for f, a in which(site_of(data), unit.members, ["A-1-1", "A-1-2"])} == serials_of(data)


def test_what_does_not_fit_is_said():
    """Reports of two windows swapped: what the plan has there, and what moves there by them."""
    data = plant([1, 1, 2], actuators={"A-1-1": {"type": "rack"}})
    data["types"]["actuators"]["rack"] = dict(data["types"]["actuators"]["chain"])
    site = Site([1, 1, 2], found=on_the_bus(data, typed=True), actuators={"A-1-1": {"type": "rack"}},
                types={"actuators": data["types"]["actuators"]})  # fmt: skip
    other = {"W-1": site.noted["W-3"], "W-3": site.noted["W-1"]}
    told = decoded(site.coded, {**site.noted, **other}, "s.csv")
    at = {window.opening: window for window in told.windows}
    pair = site.serials("W-3")
    assert at["W-1"].differs == (
        *(f"{serial} was found as chain, planned as rack" for serial in pair),
        "2 serials move it; the plan has 1 without one there",
    )
    assert at["W-1"].actuators == {}
    assert at["W-3"].differs == (
        f"{site.serials('W-1')[0]} was found as rack, planned as chain",
        "1 serial moves it; the plan has 2 without one there",
    )


def test_three_positions():
    site = Site([1] * 26, levels=3)
    _, at = site.seen()
    assert all(window.serials == site.serials(opening) for opening, window in at.items())
    assert {letter for window in at.values() for letter in window.seen} == {"closed", "part", "open"}


@pytest.mark.parametrize("distance", [2, 3])
@pytest.mark.parametrize("count", [1, 2, 3, 4, 5, 6, 7])
def test_a_blank_and_a_misread_in_one_window_never_name_another(count, distance):
    """Every pair of a blank and a misread, at every window, by brute force: withheld, or right."""
    site = Site([1] * count, distance=distance)
    for opening, word in site.noted.items():
        for blank in range(len(word)):
            for place in range(len(word)):
                if place != blank:
                    noted = changed(changed(word, place, 1 - word[place]), blank, None)
                    _, at = site.seen(**{opening.replace("-", "_"): noted})
                    assert at[opening].result != "named" or at[opening].serials == site.serials(opening)
                    assert all(w.serials == site.serials(o) for o, w in at.items() if o != opening and w.serials)


def noted(*rows, windows=("W-1", "W-2"), rounds=2):
    """Read rows of an observer sheet: section, window, and what each round has."""
    raw = RawSheet(
        file="seen.csv",
        format="",
        site="",
        revision="",
        rows=tuple(
            RawRow(
                section=section,
                thing=thing,
                where=f"row {number}",
                cells={
                    f"round_{n}": RawCell(where=f"row {number}, round {n}", value=value)
                    for n, value in enumerate(cells, 1)
                    if value is not None
                },
            )
            for number, (section, thing, *cells) in enumerate(rows, 2)
        ),
    )
    parts = [Window(opening=w, actuators=(f"A-{w}",)) for w in windows]
    return reported(raw, form_of(rounds, 2), parts, 2)


def test_reports_are_taken_in_the_order_of_the_windows():
    """A row of another table is passed over, a blank stays one, and a window without a row is all blank."""
    assert noted(("sheet", "W-9"), ("windows", "W-2", "open", None)) == {"W-1": (None, None), "W-2": (1, None)}
    assert list(noted(("windows", "W-2", "closed", "open"), ("windows", "W-1", "open", "open"))) == ["W-1", "W-2"]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([("windows", "", "open")], "row 2: names no window"),
        ([("windows", "x" * 61, "open")], f"row 2: {'x' * 60} is no window of this sheet"),
        ([("windows", "W-1", "ajar")], "row 2, round 1: ajar is none of closed and open"),
        ([("windows", "W-7"), ("windows", "W-8")], "W-2 is the nearest known; 1 more fault: row 3; nothing"),
        ([("windows", "W-1"), ("windows", "W-1"), ("windows", "W-1")], "W-1 stands in row 2 already; 1 more fault"),
        ([("windows", "W-1", "ajar", "open"), ("windows", "W-7")], "closed and open; 1 more fault: row 3"),
    ],
)
def test_every_fault_of_a_sheet_is_counted(rows, words):
    with pytest.raises(UnreadableSheet) as told:
        noted(*rows)
    assert words in str(told.value)


def test_what_is_said_of_a_window():
    """Whole sentences: corrected, blank, doubled, dead, stuck, too far off, and not to be told from others."""
    site = Site([2, 1, 1], distance=3)
    pair, one = site.noted["W-1"], site.noted["W-2"]
    length, serials = site.coded.length, " + ".join(site.serials("W-1"))
    closed, opened = (0,) * length, (1,) * length

    def of(letters, opening="W-1", **more):
        _, at = site.seen(**{opening.replace("-", "_"): letters}, **more)
        return at[opening]

    labels = "the labels say which is which of A-1-1 and A-1-2"
    assert of(pair).because == labels
    assert of(one, "W-2").because == "its reports are the word of these serials"
    assert of(changed(pair, 1, 1 - pair[1])).because == f"round 2 misread, corrected; {labels}"
    assert of(changed(pair, 1, None)).because == f"round 2 blank; {labels}"
    others = [word for word in (*site.coded.words, closed, opened) if word != pair]
    for n in range(length - 1):
        letters = (*pair[:n], None, None, *pair[n + 2 :])
        sure = all(sum(a not in (None, b) for a, b in zip(letters, word, strict=True)) > 1 for word in others)
        ends = f"; {labels}" if sure else ": without them a misread would not show"
        assert of(letters).because == f"rounds {n + 1} and {n + 2} blank{ends}"
    dead = of(changed(closed, 2, 1))
    assert dead.because == (
        "closed in every round: its actuator is dead, has no power, or is not on the bus; round 3 misread, corrected"
    )
    assert (dead.misread, dead.seen) == ((3,), ("closed", "closed", "open", *["closed"] * (length - 3)))
    assert of(closed).because == "closed in every round: its actuator is dead, has no power, or is not on the bus"
    assert of(opened).because == "open in every round: it is stuck, or was opened by hand"
    assert of(changed(opened, 0, 0)).because.endswith("opened by hand; round 1 misread, corrected")
    both = of(pair, "W-2")
    assert both.because == f"W-1 and W-2 are both reported as {serials} moves"
    assert both.seen == of(pair).seen
    site = Site([1] * 7)
    word = site.noted["W-3"]
    far = of(changed(word, 0, 1 - word[0]), "W-3")
    assert far.because == "no serial has this word: a round is misread"
    assert far.seen == tuple(("closed", "open")[letter] for letter in changed(word, 0, 1 - word[0]))
    blank = of(changed(word, 0, None), "W-3")
    assert (blank.result, blank.because) == ("ambiguous", "round 1 blank: without it a misread would not show")
    assert of((None,) * len(word), "W-3").result == "ambiguous"


def test_two_misreads_beyond_correction():
    """Distance 3: a word two rounds away from every other is told as such, but with a blank as any misread."""
    site = Site([1] * 3, distance=3)
    words = [*site.coded.words, *((x,) * site.coded.length for x in (0, 1))]
    far = next(
        letters
        for letters in itertools.product((0, 1), repeat=site.coded.length)
        if min(sum(a != b for a, b in zip(letters, word, strict=True)) for word in words) > 1
    )
    _, at = site.seen(W_1=far)
    assert (at["W-1"].result, at["W-1"].because) == (
        "impossible",
        "no serial has this word, nor one that differs from it in a single round: two or more are misread",
    )
    for place in range(len(far)):
        letters = changed(far, place, None)
        if all(sum(a not in (None, b) for a, b in zip(letters, word, strict=True)) for word in words):
            _, at = site.seen(W_1=letters)
            assert (at["W-1"].result, at["W-1"].because) == (
                "impossible",
                "no serial has this word: a round is misread",
            )
            break
    else:
        pytest.fail("no blank leaves a misread")


@pytest.mark.parametrize(
    ("planned_types", "found_types", "expected"),
    [
        (("chain", "other"), ("other", "chain"), ["A-1-2", "A-1-1"]),
        (("chain", "other"), ("other", None), [None, None]),
        (("chain", "chain"), ("chain", "chain"), [None, None]),
        (("chain", "other"), ("other", "other"), [None, None]),
        (("chain", "chain", "other"), ("chain", "other", "chain"), [None, "A-1-3", None]),
        (("chain", "other"), ("chain",), [None]),
    ],
)
def test_which_serial_of_a_sash_is_which(planned_types, found_types, expected):
    """One of each, or one of each type; a type that is not told leaves all of them open."""
    data = plant([len(planned_types)])
    data["types"]["actuators"]["other"] = dict(data["types"]["actuators"]["chain"])
    names = [f"A-1-{n}" for n in range(1, len(planned_types) + 1)]
    for name, kind in zip(names, planned_types, strict=True):
        data["actuators"][name]["type"] = kind
    found = [OnBus(serial=str(n), row=n, type=kind) for n, kind in enumerate(found_types, 2)]
    assert [actuator for _, actuator in which(site_of(data), found, names)] == expected


def test_a_unit_found_on_another_controller_is_told():
    site = Site([1, 1], found=on_the_bus(plant([1, 1]), controller="C-1"))
    for homes, told in (("C-2", "was found on C-1, planned on C-2"), ("C-1", None), (None, None)):
        site.coded = msgspec.structs.replace(site.coded, controllers={"A-1-1": homes} if homes else {})
        _, at = site.seen()
        assert at["W-1"].differs == ((f"{site.serials('W-1')[0]} {told}",) if told else ())
