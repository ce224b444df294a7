"""Filled observer sheets: what is named, what must be seen again, and what is never named as another."""

import pytest
from plans import site_of
from plants import on_the_bus, parted, planned, plant, serials_of

from zonecfg.commissioning.seen import Coded, decoded

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
    from zonecfg.commissioning.units import which

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
