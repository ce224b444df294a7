"""Merged texts: what they say, what of ours stays byte for byte, and what is between markers."""

import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sites import as_yaml, site_data, site_text
from three_sides import chosen, commented, said, three
from yaml_styles import styled

from zonecfg.compare.merge import merged_data as merge_data
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
from zonecfg.workflow.check import check_state
from zonecfg.workflow.load import Loader
from zonecfg.workflow.merge import merge
from zonecfg.workflow.revisions import line_merge

TODAY = date(2026, 11, 25)


def merged(folder, base, ours, theirs, **options):
    files = []
    for name, text in (("base", base), ("ours", ours), ("theirs", theirs)):
        files.append(Path(folder, name))
        files[-1].write_text(text, "utf-8", newline="")
    return merge(*files, TODAY, path=Path(folder, "as-designed.yaml"), **options)


def data_of(text):
    document = read(text.encode(), "x", grammar().as_written)
    assert not [f for f in document.faults if f.severity == "error"], text
    return document.data


@settings(max_examples=80)
@given(three(), st.data())
def test_the_text_says_what_the_data_of_three_make(tmp_path_factory, sides, data):
    """In any style; with conflicts, each side chosen says all that this side changed."""
    texts = [data.draw(styled(side)) for side in sides]
    comments = data.draw(st.sampled_from(["none", "ours", "all"]))
    if comments != "none":
        texts[1] = commented(texts[1])
    if comments == "all":
        texts[0], texts[2] = commented(texts[0]), commented(texts[2])
    answer = merged(tmp_path_factory.mktemp("merge"), *texts)
    assert answer.by_line is None
    expected, text = merge_data(*sides), answer.raw.decode()
    first, second = (said(data_of(chosen(text, side))) for side in ("ours", "theirs"))
    joint = any(told.startswith("together they make") for told in answer.conflicts)  # more is left to decide then
    if not joint:
        assert (first, second) == (said(expected.ours), said(expected.theirs))
        assert answer.clean == (not expected.conflicts) == (first == second)
    was, here, there = map(said, sides)
    for fact in {**was, **here, **there}:
        if here.get(fact) != was.get(fact):
            assert first.get(fact) == here.get(fact), fact
        if there.get(fact) != was.get(fact):
            assert second.get(fact) == there.get(fact), fact
    if comments == "ours":
        _survive(texts[1], text, answer.left_behind)


def _survive(ours, text, left_behind):
    """Comments above things stay; those beside stay with their line, or are listed where it went."""
    for comment in re.findall(r"(?m)^ *# .*$", ours):
        assert comment in text
    after = text.splitlines()
    for line in ours.splitlines():
        _, sign, comment = line.partition("   # beside")
        if sign and line not in after:
            assert f"# beside{comment}" in text or f"ours: # beside{comment}" in left_behind


CLEAN = site_text(8)


@pytest.mark.needs("git")
def test_what_git_alone_cannot_merge(tmp_path):
    """Neighbouring lines and one line's two fields: git's line merge has conflicts, by id there are none."""
    line = next(line for line in CLEAN.splitlines() if line.startswith("  A-1-1-1"))
    actuator = line.split(":")[0].strip()
    ours = CLEAN.replace(line, line.replace("stroke_mm: 250", "stroke_mm: 240").replace("}", ", x-note: seen}"))
    theirs = CLEAN.replace(line, line.replace("}", ", controller: C-1}   # said by theirs"))
    answer = merged(tmp_path, CLEAN, ours, theirs)
    assert answer.clean
    fields = data_of(answer.raw.decode())["actuators"][actuator]
    assert fields["x-note"] == "seen"
    assert fields["controller"] == "C-1"
    assert answer.left_behind == ("theirs: # said by theirs",)
    _, conflicts = line_merge(tmp_path / "ours", tmp_path / "base", tmp_path / "theirs", 7)
    assert conflicts == 1


@pytest.mark.needs("git")
def test_what_git_alone_merges_wrongly(tmp_path):
    """Two people move one actuator into different groups: no line differs in two ways, and it stands in two groups."""
    base, ours, theirs = (site_data(24) for _ in range(3))
    first, member = "G-1-2", base["groups"]["G-1-2"]["actuators"][3]
    for side, group in ((ours, "G-1-1"), (theirs, "G-1-3")):
        side["groups"][first]["actuators"].remove(member)
        side["groups"][group]["actuators"].insert(4, member)
    answer = merged(tmp_path, *map(as_yaml, (base, ours, theirs)))
    assert not answer.clean
    assert f"{member}: in G-1-1 in ours, in G-1-3 in theirs (was in G-1-2)" in answer.conflicts
    by_line, conflicts = line_merge(tmp_path / "ours", tmp_path / "base", tmp_path / "theirs", 7)
    assert conflicts == 0
    assert by_line.decode().count(f"- {member}\n") == 2


@pytest.mark.needs("git")
def test_both_sides_put_one_actuator_into_one_group(tmp_path):
    """At different lines of the list: git's own merge puts it in twice."""
    base, ours, theirs = (site_data(24) for _ in range(3))
    for data, place in ((ours, 1), (theirs, 6)):
        data["groups"]["G-1-1"]["actuators"].insert(place, "A-new")
    answer = merged(tmp_path, *map(as_yaml, (base, ours, theirs)))
    assert answer.raw.decode() == as_yaml(ours)
    by_line, conflicts = line_merge(tmp_path / "ours", tmp_path / "base", tmp_path / "theirs", 7)
    assert (conflicts, by_line.decode().count("- A-new")) == (0, 2)


def test_new_things_come_with_their_comments(tmp_path):
    head = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: Mill Lane}\n"
    base = head + "rooms:\n    hall: {use: other}   # one\n    loft: {use: other}\n"
    ours = base.replace("other}   # one", "office}   # one")
    theirs = head + (
        "rooms:\n  hall: {use: other}   # one\n  # the attic\n  # is new\n  attic:\n    use: other   # so far\n"
        "    name: Attic\n  loft: {use: office}\n\n# supplies of both\nsupplies:\n  PS-1: {type: x}\n"
    )
    answer = merged(tmp_path, base, ours, theirs)
    assert answer.raw.decode() == head + (
        "rooms:\n    hall: {use: office}   # one\n    # the attic\n    # is new\n    attic:\n      use: other   # so far\n"
        "      name: Attic\n    loft: {use: office}\n\n# supplies of both\nsupplies:\n  PS-1: {type: x}\n"
    )
    assert answer.left_behind == ()


def test_a_thing_that_goes_takes_the_comment_that_theirs_took_and_no_other(tmp_path):
    head = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: Mill Lane}\nrooms:\n"
    base = head + "  # north\n  # of the hall\n  hall: {use: other}\n  loft: {use: other}\n"
    ours = base.replace("loft: {use: other}", "loft: {use: office}")
    theirs = head + "  # north\n  loft: {use: other, name: Loft}\n"
    answer = merged(tmp_path, base, ours, theirs)
    assert answer.raw.decode() == head + "  # north\n  loft: {use: office, name: Loft}\n"


HEAD = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: Mill Lane}\n"


@pytest.mark.parametrize(
    ("base", "ours", "theirs", "after"),
    [
        ("x-a: 1\n", "x-a: 2\n", "x-a: 3\n", "<<<<<<< ours\nx-a: 2\n=======\nx-a: 3\n>>>>>>> theirs\n"),
        ("x-a: 1", "x-a: 2", "x-a: 3", "<<<<<<< ours\nx-a: 2\n=======\nx-a: 3\n>>>>>>> theirs\n"),
        ("rooms:\n  r: {use: bath}\n  s: {}\n", "rooms:\n  s: {}\n", "rooms:\n  r: {use: care}\n  s: {}\n",
         "rooms:\n<<<<<<< ours\n=======\n  r: {use: care}\n>>>>>>> theirs\n  s: {}\n"),
        ("rooms:\n  r: {use: bath}\n  s: {}\n", "rooms:\n  r: {use: care}\n  s: {}\n", "rooms:\n  s: {}\n",
         "rooms:\n<<<<<<< ours\n  r: {use: care}\n=======\n>>>>>>> theirs\n  s: {}\n"),
        ("rooms: {r: {use: bath, name: R}}   # all\n", "rooms: {r: {use: care, name: R}}   # all\n",
         "rooms:\n  r:\n    use: office\n    name: Q\n",
         ("<<<<<<< ours\nrooms: {r: {use: care, name: Q}}   # all\n=======\n"
         "rooms: {r: {use: office, name: Q}}   # all\n>>>>>>> theirs\n")),
    ],
)  # fmt: skip
def test_markers_stand_around_the_lines_concerned(tmp_path, base, ours, theirs, after):
    answer = merged(tmp_path, HEAD + base, HEAD + ours, HEAD + theirs)
    assert answer.raw.decode() == HEAD + after
    assert len(answer.conflicts) == 1


def test_marker_size(tmp_path):
    answer = merged(tmp_path, HEAD + "x-a: 1\n", HEAD + "x-a: 2\n", HEAD + "x-a: 3\n", marker_size=11)
    assert answer.raw.decode() == HEAD + f"{'<' * 11} ours\nx-a: 2\n{'=' * 11}\nx-a: 3\n{'>' * 11} theirs\n"


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_mark_of_ours_stay(tmp_path, newline, mark):
    base = HEAD + "rooms:\n  r: {use: bath}\n"
    ours = mark + base.replace("bath", "care").replace("\n", newline)
    theirs = base + "  s:\n    use: office\n"
    answer = merged(tmp_path, base, ours, theirs)
    text = mark + (base.replace("bath", "care") + "  s:\n    use: office\n").replace("\n", newline)
    assert answer.raw.decode() == text


def test_an_error_that_neither_side_has_is_a_conflict(tmp_path):
    """One side takes a room away that nothing is in; the other puts a window into it."""
    base = CLEAN.replace("\nopenings:", "  attic: {use: other}\n\nopenings:", 1)
    ours = base.replace("\nopenings:", "\nopenings:\n  W-9: {type: plain-900, room: attic, sill_mm: 2700}", 1)
    answer = merged(tmp_path, base, ours, CLEAN)
    assert not answer.clean
    assert any("unknown-reference" in c for c in answer.conflicts)
    text = answer.raw.decode()
    assert "attic" in chosen(text, "ours")
    assert "attic" not in chosen(text, "theirs")
    assert said(data_of(chosen(text, "ours"))) == said(data_of(ours))
    assert said(data_of(chosen(text, "theirs"))) == said(data_of(CLEAN))


def test_a_warning_that_neither_side_has_is_a_conflict(tmp_path):
    """Each side unlinks one of two rain sensors; together nothing would close the group in rain."""
    sides = [CLEAN.replace(f"  {sensor}:\n    - G-1-1\n", "") for sensor in ("R-1-1", "R-1-2")]
    assert CLEAN not in sides
    answer = merged(tmp_path, CLEAN, *sides)
    assert not answer.clean
    assert any("wet-action-without-link" in c for c in answer.conflicts)
    for name, side in zip(("ours", "theirs"), sides, strict=True):
        assert said(data_of(chosen(answer.raw.decode(), name))) == said(data_of(side))


def test_a_warning_of_one_side_that_stands_at_another_place_in_a_list_is_no_conflict(tmp_path):
    """Theirs accepts something with a word that YAML 1.1 reads otherwise; ours puts another acceptance before it."""
    base = site_text(60)
    item = "  - check: {}\n    at: /rooms/block-1\n    because: {}\n"
    theirs = base + "accepted:\n" + item.format("finger-trap", "no")
    ours = base + "accepted:\n" + item.format("group-spans-rooms", "one hall")
    answer = merged(tmp_path, base, ours, theirs)
    assert answer.clean
    assert [found.check for found in answer.introduced if found.check == "ambiguous-word"] == ["ambiguous-word"]


def test_findings_that_ours_had_not_are_told(tmp_path):
    theirs = CLEAN.replace("wind_m_s: 12", "wind_m_s: 60", 1)
    answer = merged(tmp_path, CLEAN, CLEAN + "x-note: 1\n", theirs)
    assert answer.clean
    assert {f.check for f in answer.introduced} >= {"thrust-too-small"}


@pytest.mark.needs("git")
@pytest.mark.parametrize("broken", ["rooms: [", "a: 1\na: 2\n", "a: &b 1\n"])
@pytest.mark.parametrize("side", [0, 1, 2])
def test_what_cannot_be_read_is_merged_by_line(tmp_path, broken, side):
    texts = [HEAD, HEAD + "x-ours: 1\n", "# theirs\n" + HEAD]
    texts[side] = texts[side] + broken
    answer = merged(tmp_path, *texts)
    assert answer.by_line is not None
    assert ("base", "ours", "theirs")[side] in answer.by_line
    for edit in ("x-ours: 1", "# theirs"):
        assert edit in answer.raw.decode()


def test_catalogues_too(tmp_path):
    head = "format: zonecfg-catalogue/1\ntypes:\n  sensors:\n"
    base = head + "    plate: {measures: rain, responds_s: 2}\n"
    ours, theirs = base.replace("responds_s: 2", "responds_s: 3"), base.replace("rain,", "rain, if_lost: wet,")
    answer = merged(tmp_path, base, ours, theirs)
    assert answer.raw.decode() == head + "    plate: {measures: rain, if_lost: wet, responds_s: 3}\n"
    assert answer.clean


def test_an_acceptance_taken_back_opens_its_finding_again(tmp_path):
    from marked_examples import ROOT

    text = (ROOT / "single-sensor" / "bad.yaml").read_text("utf-8")
    at = next(f.at for f in check_state(Loader().state_of(read(text.encode(), "x", grammar().as_written), tmp_path / "x"), TODAY).findings
              if f.check == "single-sensor")  # fmt: skip
    accepted = text + f"\naccepted:\n  - {{check: single-sensor, at: {at}, because: So.}}\n"
    answer = merged(tmp_path, accepted, accepted + "x-a: 1\n", text)
    assert {f.check for f in answer.introduced} == {"single-sensor"}


def test_both_sides_made_the_file(tmp_path):
    answer = merged(tmp_path, "", HEAD + "rooms:\n  r: {use: bath}\n", HEAD + "rooms:\n  s: {use: care}\n")
    assert answer.clean
    assert list(data_of(answer.raw.decode())["rooms"]) == ["r", "s"]


@pytest.mark.needs("git")
@pytest.mark.parametrize(
    "ours",
    [
        "rooms: {r: {use: care, # why\n  name: R}, s: {}}\n",
        "rooms:\n  ? r\n  : {use: care, name: R}\n  s: {}\n",
        "rooms:\n  r: {use: care,\n    name: |-\n     R}\n",
    ],
)
def test_odd_styles_lose_nothing(tmp_path, ours):
    """Where a place cannot be changed the file is merged by line, or left to decide whole."""
    base = HEAD + "rooms: {r: {use: bath, name: R}, s: {}}\n"
    theirs = HEAD + "rooms: {r: {use: bath}, t: {use: other}}\n"
    answer = merged(tmp_path, base, HEAD + ours, theirs)
    text = answer.raw.decode()
    if answer.clean:
        assert data_of(text)["rooms"] == {"r": {"use": "care"}, "t": {"use": "other"}}
    else:
        assert "care" in text
        assert "t: {use: other}" in text


def test_git_is_not_needed_for_a_merge_by_place(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    answer = merged(tmp_path, HEAD + "x-a: 1\nx-b: 1\n", HEAD + "x-a: 2\nx-b: 1\n", HEAD + "x-a: 1\nx-b: 2\n")
    assert answer.raw.decode() == HEAD + "x-a: 2\nx-b: 2\n"


class TestCommand:
    @pytest.fixture
    def files(self, tmp_path, monkeypatch):
        monkeypatch.chdir(tmp_path)
        for name, text in (("base", "x-a: 1\n"), ("ours", "x-a: 2\n"), ("theirs", "x-a: 1\nx-b: 1\n")):
            Path(name).write_text(HEAD + text, "utf-8")
        return ["base", "ours", "theirs"]

    def test_clean(self, zonecfg, files):
        done = zonecfg("merge", *files, "-o", "new.yaml")
        assert (done.status, done.out, done.err) == (0, "", "")
        assert Path("new.yaml").read_text("utf-8") == HEAD + "x-a: 2\nx-b: 1\n"
        assert zonecfg("merge", *files, "-o", "new.yaml").status == 2
        assert zonecfg("merge", *files, "-o", "new.yaml", "--force").status == 0
        assert zonecfg("merge", *files, "-o", "ours").status == 0

    def test_conflict(self, zonecfg, files):
        Path("theirs").write_text(HEAD + "x-a: 3\n", "utf-8")
        done = zonecfg("merge", *files, "-o", "ours", "--path", "house/as-designed.yaml")
        assert done.status == 1
        assert done.err == ("house/as-designed.yaml: 1 conflict to decide\n  x-a: 2 in ours, 3 in theirs (was 1)\n")

    @pytest.mark.parametrize("missing", [0, 1, 2])
    def test_a_side_that_is_not_there(self, zonecfg, files, missing):
        files[missing] = "no-such"
        done = zonecfg("merge", *files, "-o", "new.yaml")
        assert done.status == 2
        assert done.err.count("\n") == 1
        assert not Path("new.yaml").exists()

    def test_a_side_that_is_no_text(self, zonecfg, files):
        Path("theirs").write_bytes(b"\0\xff" * 100)
        before = Path("ours").read_bytes()
        done = zonecfg("merge", *files, "-o", "ours")
        assert (done.status, done.err.count("\n")) == (2, 1)
        assert Path("ours").read_bytes() == before

    def test_words_do_not_steer_the_terminal(self, zonecfg, files):
        for name, value in (("ours", "\\e[31mA"), ("theirs", "\\e[32mB\\u202e")):
            Path(name).write_text(HEAD + f'x-a: "{value}"\n', "utf-8")
        done = zonecfg("merge", *files, "-o", "ours")
        assert done.status == 1
        assert not {"\x1b", "\u202e"} & set(done.out + done.err)


@pytest.mark.needs("git")
@pytest.mark.parametrize("theirs", ["", "rooms\n", "a: 1\na: 2\n"])
def test_a_readable_plan_does_not_become_an_unreadable_one_in_silence(tmp_path, theirs):
    """Merged by line without a conflict, a plan that nobody can read would be committed as if all were well."""
    broken = HEAD + theirs if theirs else ""
    answer = merged(tmp_path, HEAD, HEAD, broken)
    assert not answer.clean
    assert any("the merged file" in words for words in answer.conflicts)
    assert merged(
        tmp_path, broken or "a: [", broken or "a: [", (broken or "a: [") + "# more\n"
    ).clean  # as it was before
