"""``zonecfg format``: canonical order, comments kept, nothing else touched."""

import io
import re
from collections import Counter
from pathlib import Path

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML
from sites import as_yaml
from three_sides import commented
from yaml_styles import styled

from zonecfg.document.arrange import arranged
from zonecfg.document.reader import read
from zonecfg.errors import CannotWrite
from zonecfg.model.grammar import grammar
from zonecfg.workflow.format import formatted as formatted_file
from zonecfg.workflow.paths import PlanFile

EXAMPLES = Path(__file__).parents[2] / "examples"
HEAD = "format: zonecfg-site/1\nstate: as-designed\nsite:\n  name: A\n"


def formatted(text):
    return formatted_file(read(text.encode(), "x", grammar().as_written), PlanFile(Path("x"), "x"))


def other_reader(text):
    """What ruamel.yaml makes of a text; it knows nothing of ours."""
    return YAML(typ="safe", pure=True).load(io.StringIO(text))


def comments(text):
    return Counter(re.findall(r"(?:^|\s)(#.*?)\s*$", text, re.MULTILINE))


@st.composite
def jumbled(draw):
    """A site with its keys in any order, in a style people write, with comments."""
    site = draw(strategies.shuffled(draw(strategies.sites())))
    text = draw(styled(site))
    return site, commented(text) if draw(st.booleans()) else text


@settings(max_examples=40)
@given(jumbled())
def test_laws(drawn):
    """Equal data for a reader of somebody else's, all comments, and a second time changes nothing."""
    site, text = drawn
    new = formatted(text)
    assert other_reader(new) == other_reader(text)
    assert comments(new) == comments(text)
    assert Counter(line.strip() for line in new.splitlines() if "{" not in line) == Counter(
        line.strip() for line in text.splitlines() if "{" not in line
    )
    assert formatted(new) == new
    data = read(new.encode(), "x", grammar().as_written).data
    assert data == site
    _in_order(data, (), site)


def _in_order(value, path, before):
    """Fields as the model has them; ids as people had them."""
    if not isinstance(value, dict) or (path and path[-1].startswith("x-")):
        return
    known = grammar().keys_at(path)
    if known:
        ranked = [known.index(key) for key in value if key in known]
        assert ranked == sorted(ranked), path
    else:
        assert list(value) == list(before), path
    for key, item in value.items():
        _in_order(item, (*path, key), before[key])


@pytest.mark.parametrize(
    ("text", "after"),
    [
        ("state: as-designed\nformat: zonecfg-site/1\nsite: {name: A}\n",
         "format: zonecfg-site/1\nstate: as-designed\nsite: {name: A}\n"),
        ("# head\n\n# of site\nsite: {date: 2026-01-01, name: A}   # beside\nstate: as-designed\nformat: zonecfg-site/1\n",
         "# head\n\nformat: zonecfg-site/1\nstate: as-designed\n# of site\nsite: {name: A, date: 2026-01-01}   # beside\n"),
        (HEAD + "rooms:\n  r:\n    # n\n    name: R   # b\n    storey: 1\n    x-a: 1\n    use: bath\n    # foot\n# end",
         HEAD + "rooms:\n  r:\n    # n\n    name: R   # b\n    storey: 1\n    use: bath\n    x-a: 1\n    # foot\n# end"),
        (HEAD + "accepted:\n  - at: /a   # here\n    # why\n    because: b\n    check: single-sensor\n  # next\n",
         HEAD + "accepted:\n  - check: single-sensor\n    at: /a   # here\n    # why\n    because: b\n  # next\n"),
        (HEAD + "groups:\n  H: {actuators: [b, a], name: H}\n  G: {actuators: []}\n",
         HEAD + "groups:\n  H: {name: H, actuators: [b, a]}\n  G: {actuators: []}\n"),
        (HEAD + "groups:\n  H: {actuators: [b], # members\n    name: H}\n",
         HEAD + "groups:\n  H: {actuators: [b], # members\n    name: H}\n"),
        ("{site: {name: A}, state: as-designed, format: zonecfg-site/1}\n",
         "{format: zonecfg-site/1, state: as-designed, site: {name: A}}\n"),
        ("site:\n  name: A\n\nstate: as-designed\nformat: zonecfg-site/1",
         "format: zonecfg-site/1\n\nstate: as-designed\nsite:\n  name: A"),
    ],
)  # fmt: skip
def test_by_hand(text, after):
    for newline in ("\n", "\r\n"):
        for mark in ("", "\ufeff"):
            assert formatted(mark + text.replace("\n", newline)) == mark + after.replace("\n", newline)


def test_the_examples_that_are_whole_sites_are_in_order(zonecfg):
    done = zonecfg("format", "--check", EXAMPLES / "larkenby-hall")
    assert (done.status, done.out) == (0, "")


def test_a_plan_of_new_is_in_order(zonecfg, tmp_path):
    zonecfg("new", tmp_path / "first")
    assert zonecfg("format", "--check", tmp_path / "first").status == 0


def test_a_last_block_of_text_without_a_line_end_is_left_alone():
    """A new line behind it would be part of its text."""
    text = "site: {name: A}\nstate: as-designed\nformat: zonecfg-site/1\nx-b: 1\nx-a: |\n  two\n  lines"
    try:
        assert (
            read(formatted(text).encode(), "x", grammar().as_written).data
            == read(text.encode(), "x", grammar().as_written).data
        )
    except CannotWrite as refused:
        assert "order" in str(refused)  # noqa: PT017  (either is right)


class TestCommand:
    @pytest.fixture
    def plan(self, tmp_path, monkeypatch):
        monkeypatch.chdir(tmp_path)
        path = Path("as-designed.yaml")
        path.write_text("state: as-designed\nformat: zonecfg-site/1\nsite: {name: A}\n", "utf-8")
        path.chmod(0o640)
        return path

    def test_check_writes_nothing(self, zonecfg, plan):
        before = plan.read_bytes()
        done = zonecfg("format", "--check", plan)
        assert (done.status, done.out, done.err) == (1, "as-designed.yaml\n", "1 file of 1 not in order\n")
        assert plan.read_bytes() == before

    def test_in_place(self, zonecfg, plan):
        done = zonecfg("format", ".")
        assert (done.status, done.out, done.err) == (0, "as-designed.yaml\n", "1 file of 1 put in order\n")
        assert plan.read_text("utf-8").startswith("format")
        assert plan.stat().st_mode & 0o777 == 0o640
        assert list(Path().iterdir()) == [plan]
        assert zonecfg("format", "--check", plan).status == 0
        assert zonecfg("format", plan).err == "0 files of 1 put in order\n"

    def test_a_link_stays_a_link(self, zonecfg, plan):
        link = Path("as-commissioned.yaml")
        link.symlink_to(plan)
        assert zonecfg("format", link).status == 0
        assert link.is_symlink()
        assert plan.read_text("utf-8").startswith("format")

    @pytest.mark.parametrize(
        "broken", [b"rooms: [\n", b"site: {name: B}\n", b"rooms: {r: {sue: bath}}\n", b"\xff", b"x: &a 1\n", b"\0"]
    )
    def test_one_file_with_faults_of_reading_and_none_is_written(self, zonecfg, plan, broken):
        other = Path("saved")
        other.mkdir()
        path = other / "2026-01-01.yaml"
        path.write_bytes(b"site: {name: A}\n" + broken)
        before = plan.read_bytes(), path.read_bytes()
        done = zonecfg("format", ".")
        assert done.status == 2
        assert done.err.count("\n") == 1
        assert "saved/2026-01-01.yaml:" in done.err
        assert (plan.read_bytes(), path.read_bytes()) == before

    @pytest.mark.parametrize("where", ["no-such", "empty"])
    def test_nothing_there(self, zonecfg, plan, where):
        Path("empty").mkdir()
        done = zonecfg("format", where)
        assert (done.status, done.err.count("\n")) == (2, 1)

    def test_somebody_else_writes_meanwhile(self, zonecfg, plan, monkeypatch):
        from zonecfg.workflow import rewriting

        def slow(*arguments, **options):
            plan.write_text("# saved in an editor\n", "utf-8")
            write(*arguments, **options)

        write = rewriting.write_bytes
        monkeypatch.setattr(rewriting, "write_bytes", slow)
        done = zonecfg("format", plan)
        assert done.status == 2
        assert "meanwhile" in done.err
        assert plan.read_text("utf-8") == "# saved in an editor\n"


@settings(max_examples=40)
@given(st.data())
def test_own_data_keeps_its_order(data):
    site = data.draw(strategies.sites()) | {"x-own": {"b": {"name": 1, "actuators": 2}, "a": [{"check": 1}, {"at": 2}]}}
    document = read(as_yaml(site).encode(), "x", grammar().as_written)
    new = read(arranged(document, grammar().keys_at).encode(), "x", grammar().as_written).data
    assert list(new["x-own"]) == ["b", "a"]
    assert list(new["x-own"]["b"]) == ["name", "actuators"]


@pytest.mark.parametrize("head", ["---\n", "# head\n---\n", "--- # a plan\n# of state\n"])
def test_the_sign_that_begins_a_document_stays_on_top(zonecfg, tmp_path, head):
    path = tmp_path / "as-designed.yaml"
    path.write_text(head + "state: as-designed\nformat: zonecfg-site/1\nsite: {revision: B, name: x}\n", "utf-8")
    assert zonecfg("format", path).status == 0
    marker = head[: head.index("---")] + head[head.index("---") :].split("\n")[0] + "\n"
    assert path.read_text("utf-8").startswith(marker)
    assert path.read_text("utf-8").endswith(
        "format: zonecfg-site/1\nstate: as-designed\nsite: {name: x, revision: B}\n"
    )
    assert zonecfg("format", "--check", path).status == 0
