"""The laws of the differ, over generated pairs of sites."""

from collections import Counter
from copy import deepcopy
from pathlib import Path

import jsonpatch
from deepdiff import DeepDiff
from hypothesis import given
from hypothesis import strategies as st
from strategies import shuffled, site_pairs, sites

from zonecfg.compare.differences import differences
from zonecfg.compare.patch import json_equal, patch
from zonecfg.document.places import Places
from zonecfg.document.reader import Document
from zonecfg.results.change import CONSEQUENCES, KINDS
from zonecfg.workflow.load import Loader

SWAPPED = {"added": "removed", "removed": "added", "linked": "unlinked", "unlinked": "linked"}
JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 5) | st.text("ab~/", max_size=3),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text("ab~/", max_size=3), inner, max_size=4),
    max_leaves=20,
)


def site_of(data):
    return Loader().state_of(Document("s.yaml", data, Places(data), ()), Path("s.yaml")).site


def plainly(data):
    """A site's data with lists of ids as sets and nothing that the comparison leaves aside: what DeepDiff looks at."""
    data = deepcopy(data)
    for name in ("format", "state", "catalogue"):
        data.pop(name, None)
    for fields in data.get("groups", {}).values():
        fields["actuators"] = sorted(set(fields["actuators"]))
    data["links"] = {s: sorted(set(groups)) for s, groups in data.get("links", {}).items() if groups}
    data["terminators"] = sorted(set(data.get("terminators", [])))
    for things in (*data.get("types", {}).values(), *(data.get(n, {}) for n in ("openings", "cables", "controllers"))):
        for fields in things.values():
            for name in ("protection", "carries", "saved_copy_keeps", "copy_also_holds"):
                if name in fields:
                    fields[name] = sorted(set(fields[name]))
    return {section: value for section, value in data.items() if value}


@given(site_pairs())
def test_empty_exactly_when_equal_as_deepdiff_sees_it(pair):
    """DeepDiff is the oracle that nothing is missed and nothing is made up."""
    before, after = pair
    changes, _ = differences(site_of(before), site_of(after))
    assert bool(changes) == bool(DeepDiff(plainly(before), plainly(after)))


@given(site_pairs())
def test_swapping_the_sides_swaps_the_kinds(pair):
    before, after = (site_of(data) for data in pair)
    there, back = differences(before, after)[0], differences(after, before)[0]
    assert Counter((SWAPPED.get(c.kind, c.kind), c.section) for c in there) == Counter(
        (c.kind, c.section) for c in back
    )


@given(sites(), st.data())
def test_order_never_matters(data, draw):
    mixed = draw.draw(shuffled(data))
    assert differences(site_of(data), site_of(mixed))[0] == []


@given(site_pairs())
def test_the_patch_applied_to_the_first_gives_the_second(pair):
    """Applied with the jsonpatch library."""
    before, after = pair
    assert jsonpatch.apply_patch(deepcopy(before), patch(before, after)) == after


@given(JSON, JSON)
def test_the_patch_of_any_json(before, after):
    operations = patch(before, after)
    result = jsonpatch.apply_patch(deepcopy(before), operations)
    assert json_equal(result, after)
    assert bool(operations) != json_equal(before, after)


@given(site_pairs())
def test_every_change_is_told_in_the_known_words(pair):
    for change in differences(*(site_of(data) for data in pair))[0]:
        assert change.kind in KINDS
        assert change.consequence in CONSEQUENCES
        assert change.text
        assert (change.at_before or change.at_after) is not None


@given(site_pairs())
def test_pointers_lead_to_what_they_name(pair):
    """Each pointer is looked up in the data by jsonpatch's own RFC 6901 reader."""
    before, after = pair
    for change in differences(site_of(before), site_of(after))[0]:
        for at, data in ((change.at_before, before), (change.at_after, after)):
            if at is not None:
                jsonpatch.JsonPointer(at).resolve(data)
