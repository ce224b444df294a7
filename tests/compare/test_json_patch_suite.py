"""Patches against the public json-patch-tests, 95 cases, Apache-2.0, and two libraries that apply them.

The suite first shows that both libraries read a patch as RFC 6902 means it; then they are the judges of ours.
"""

import json
from copy import deepcopy
from pathlib import Path

import jsonpatch
import jsonpath
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from zonecfg.compare.patch import identical, patch

CASES = json.loads((Path(__file__).parent / "data" / "json-patch-tests.json").read_text("utf-8"))["cases"]
MEMBERS = {"remove": {"op", "path"}, "add": {"op", "path", "value"}, "replace": {"op", "path", "value"}}
"""RFC 6902, sections 4.1 to 4.3; the operations that ours are made of."""
REPEATED_MEMBER = "patch has two 'op' members"
"""What Python's JSON readers do not see: the later of two members of one name has replaced the earlier."""

APPLIERS = {
    "jsonpatch": jsonpatch.apply_patch,
    "python-jsonpath": lambda data, operations: jsonpath.patch.apply(operations, data, unicode_escape=False),
}


def as_json(value):
    return json.dumps(value, sort_keys=True)


def named(cases):
    return [pytest.param(case, id=f"{place}-{case.get('comment', 'no comment')}") for place, case in cases]


@pytest.mark.parametrize("apply", APPLIERS.values(), ids=APPLIERS)
@pytest.mark.parametrize("case", named((n, c) for n, c in enumerate(CASES) if "patch" in c))
def test_the_judges_apply_patches_as_the_suite_says(case, apply):
    if case.get("error") == REPEATED_MEMBER:
        pytest.skip(REPEATED_MEMBER)
    if "error" in case:
        with pytest.raises((jsonpatch.JsonPatchException, jsonpatch.JsonPointerException, jsonpath.JSONPatchError,
                            jsonpath.JSONPointerError)):  # fmt: skip
            apply(deepcopy(case["doc"]), case["patch"])
        return
    after = apply(deepcopy(case["doc"]), case["patch"])
    assert as_json(after) == as_json(case.get("expected", after))


@pytest.mark.parametrize("apply", APPLIERS.values(), ids=APPLIERS)
@pytest.mark.parametrize("case", named((n, c) for n, c in enumerate(CASES) if "expected" in c))
def test_our_patch_leads_where_the_suite_s_leads(case, apply):
    operations = patch(case["doc"], case["expected"])
    assert all(set(operation) == MEMBERS[operation["op"]] for operation in operations)
    assert as_json(apply(deepcopy(case["doc"]), operations)) == as_json(case["expected"])
    assert (operations == []) == (as_json(case["doc"]) == as_json(case["expected"]))


@pytest.mark.parametrize(
    ("before", "after", "equal"),
    [
        (1, 1.0, True), (0, False, False), (1, True, False), (1.0, True, False), ([1], [1.0], True),
        ([0], [False], False), ({"b": [1]}, {"b": [1.0]}, True), ({"b": [1]}, {"b": [True]}, False),
        ({"b": 1, "c": 0}, {"b": 1.0, "c": 0}, True), ({"b": 1, "c": 0}, {"b": 1.0, "c": False}, False),
    ],
)  # fmt: skip
def test_numbers_are_equal_by_value_and_literals_only_to_themselves(before, after, equal):
    """RFC 6902, section 4.6."""
    for wrap in (lambda value: value, lambda value: {"a": value}):
        assert (patch(wrap(before), wrap(after)) == []) == equal
        assert identical(wrap(before), wrap(after)) == equal


values = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 3) | st.sampled_from(["", "a", "/", "~", "~1", "0", "-", "ä"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["", "a/b", "m~n", "0", "-"]), inner),
    max_leaves=12,
)


@settings(max_examples=300)
@given(values, values)
@example([None], [1])
@example([1, None], [1, 2])
def test_both_judges_reach_the_same(before, after):
    operations = patch(before, after)
    for apply in APPLIERS.values():
        assert as_json(apply(deepcopy(before), operations)) == as_json(after)
