"""A file as facts: equal text for equal data, another for other data."""

import copy

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from sites import as_yaml
from three_sides import commented, said, three

from zonecfg.compare.facts import facts
from zonecfg.document.reader import read
from zonecfg.model.grammar import grammar
from zonecfg.workflow.textconv import textconv

HEAD = "format: zonecfg-site/1\nstate: as-designed\nsite: {name: A}\n"
LISTS_AS_SETS = {"carries", "protection", "saved_copy_keeps", "terminators"}


def in_other_order(draw, value, key=""):
    """The same data with keys, and lists of ids, in another order."""
    if isinstance(value, dict):
        return {k: in_other_order(draw, value[k], k) for k in draw(st.permutations(list(value)))}
    if isinstance(value, list) and (key in LISTS_AS_SETS or key == "actuators"):
        return draw(st.permutations(value))
    return value


@settings(max_examples=60)
@given(st.data())
def test_order_style_and_comments_have_no_influence(tmp_path_factory, data):
    site = data.draw(strategies.sites())
    other = in_other_order(data.draw, site)
    if "links" in other:
        other["links"] = {k: data.draw(st.permutations(v)) for k, v in other["links"].items()}
    paths = [tmp_path_factory.mktemp("a") / "f.yaml" for _ in range(2)]
    paths[0].write_text(as_yaml(site), "utf-8")
    paths[1].write_text(commented(as_yaml(other)), "utf-8")
    assert textconv(paths[0]) == textconv(paths[1])


@settings(max_examples=80)
@given(three())
def test_other_data_other_text(sides):
    for one in sides:
        for other in sides:
            assert (facts(one) == facts(other)) == (said(one) == said(other))


# Any mappings, of the plan's shape or not.
keys = st.sampled_from(
    ["actuators", "groups", "links", "sensors", "R-1", "acts on", "accepted", "check", "at", "x-a", "terminators",
     "terminator", "site", "name", "record", "in group", "types", "group", "actuator", "A: b", "{}", "", "openings", "a b"]
)  # fmt: skip
leaves = st.one_of(
    st.none(), st.booleans(), st.integers(-2, 99), st.floats(allow_nan=False, allow_infinity=False, width=16),
    st.sampled_from(["", "x", "G", "[]", "none", "1", "true", "null", "a, b", "a: b", '"', "\\", "\n", "\x1b", "<U+001B>",
                     "\u202e", "has members", "{}"]),
)  # fmt: skip
values = st.recursive(
    leaves, lambda v: st.one_of(st.lists(v, max_size=3), st.dictionaries(keys, v, max_size=3)), max_leaves=12
)
documents = st.dictionaries(keys, values, min_size=1, max_size=4)


def normal(value, path=()):
    """A second, plain way to say which data mean the same: lists of ids in any order, a whole number as it is."""
    if isinstance(value, dict):
        return tuple(sorted((k, normal(v, (*path, k))) for k, v in value.items()))
    if isinstance(value, list):
        items = [normal(item, (*path, "[]")) for item in value]
        own = any(step.startswith("x-") for step in path)
        texts = all(isinstance(item, str) for item in value)
        place = (
            path == ("accepted",)
            or (path in {("terminators",), ("catalogue",)} and texts)
            or (len(path) == 2 and path[0] == "links" and texts)
            or (path[-1] in {"actuators", *LISTS_AS_SETS} and texts and "[]" not in path)
        )
        return ("list", *(sorted(items, key=repr) if place and not own else items))
    return repr(int(value)) if isinstance(value, float) and value == int(value) else repr(value)


@settings(max_examples=800)
@given(documents, documents, st.data())
def test_any_data_at_all(one, other, data):
    """Equal exactly when they say the same, whatever odd shape they have."""
    near = copy.deepcopy(one)
    place = data.draw(st.sampled_from(sorted(near)))
    near[place] = data.draw(values)
    for second in (other, near):
        assert (facts(one) == facts(second)) == (normal(one) == normal(second))


def test_a_line_a_fact_in_the_formats_order():
    text = HEAD + (
        "groups:\n  G: {actuators: [A-10, A-2], name: South}\n  H: {actuators: []}\n  I: {actuators: [A-3]}\nrooms: {b: {}}\n"
        "actuators: {A-10: {type: t}, A-2: {}}\nlinks: {R-1: [G, H]}\nterminators: [C-1]\nx-own: {b: [2, 1]}\n"
        "wet_weather: {G: {open_percent: 10}}\naccepted: [{check: c, at: /groups/G, because: So.}]\n"
    )
    assert facts(read(text.encode(), "x", grammar().as_written).data) == [
        "format: zonecfg-site/1",
        "state: as-designed",
        "site name: A",
        "room b: {}",
        "actuator A-2: {}",
        "actuator A-2 in group: G",
        "actuator A-10 type: t",
        "actuator A-10 in group: G",
        "group G name: South",
        "group H actuators: []",
        "group I has members",
        "sensor R-1 acts on: G",
        "sensor R-1 acts on: H",
        "wet weather for G open_percent: 10",
        "terminator at: C-1",
        'accepted c at "/groups/G"',
        'accepted c at "/groups/G" because: So.',
        "x-own: {b: [2, 1]}",
        "actuator A-3 in group: I",
    ]


def test_words_do_not_steer_the_terminal(zonecfg, tmp_path):
    path = tmp_path / "f.yaml"
    for text in (HEAD + 'x-a: "\\e[31m\\u202e"\n', 'x: "\\e"\nx: \x1b[31m\n'):
        path.write_text(text, "utf-8")
        done = zonecfg("textconv", path)
        assert done.status == 0
        assert not {"\x1b", "\u202e"} & set(done.out)


def test_a_file_that_is_not_there(zonecfg, tmp_path):
    done = zonecfg("textconv", tmp_path / "no-such.yaml")
    assert (done.status, done.out, done.err.count("\n")) == (2, "", 1)
    assert zonecfg("textconv", tmp_path).status == 2


def test_a_huge_file_is_not_shown_but_known_from_another(zonecfg, tmp_path):
    path = tmp_path / "f.yaml"
    shown = []
    for sign in (b"a", b"b"):
        path.write_bytes(b"#" * 40_000_000 + sign)
        done = zonecfg("textconv", path)
        assert done.status == 0
        assert done.out.startswith("# more than the 40,000,000 bytes")
        shown.append(done.out)
    assert shown[0] != shown[1]


def test_what_is_no_plan_comes_as_its_text(zonecfg, tmp_path):
    path = tmp_path / "f.yaml"
    path.write_text("b: 1 # x\n", "utf-8")
    assert zonecfg("textconv", path).out == "# no site file or catalogue; its text\nb: 1 # x\n"


@pytest.mark.parametrize("text", ["{}\n", "[]\n", "1\n", "x-a: 1\n"])
def test_any_document(zonecfg, tmp_path, text):
    (tmp_path / "f.yaml").write_text(text, "utf-8")
    assert zonecfg("textconv", tmp_path / "f.yaml").status == 0
