"""The reader against the public yaml-test-suite: https://github.com/yaml/yaml-test-suite, 402 cases, MIT.

Every valid case is read as the suite's own JSON says, or refused by name for a construct that is not part of the format;
every invalid case is refused. Where libyaml itself parts ways with YAML 1.2 is listed below, with the reason.
"""

import json
from pathlib import Path

import pytest

from zonecfg.document.reader import read

CASES = json.loads((Path(__file__).parent / "data" / "yaml-test-suite.json").read_text("utf-8"))["cases"]

NAMED = ("alias", "anchor", "tag", "directive", "merge key", "a second document begins here",
         "a list or mapping cannot be a key", "the file is empty")  # fmt: skip
"""Constructs that the format leaves out; each message names its own."""

REFUSED_BY_LIBYAML = {
    "an empty key": "2JQS CFD4 FRK4 NHX8 NKF9 S3PD SM9W-1 UKK6-0",
    "a key of a mapping in braces that is broken over lines, or whose colon stands on the next one":
        "4MUZ-0 4MUZ-1 4MUZ-2 5MUD 9SA2 K3WX NJ66 UT92 VJP3-1",
    "a colon at the beginning of a value, or within one in braces": "4ABK 58MP 5T43 DBG4 HM87-0",
    "a tab beside an indentation": "6BCT 6CA3 96NN-0 96NN-1 A2M4 DK95-0 DK95-3 DK95-4 Q5MG R4YG Y79Y-1 Y79Y-10",
    "a directive it does not know (directives are refused anyway)": "2LFX 6LVF BEC7 MUS6-5 MUS6-6",
    "an anchor with signs other than letters (anchors are refused anyway)": "8XYN W5VH",
    "an end marker without a document": "HWV9 QT73",
}  # fmt: skip
TAKEN_BY_LIBYAML = {
    "no space before the sign of a comment": "9JBA CVW2 SU5Z X4QW",
    "a continued line that is not indented, within quotes or brackets": "9C9N QB6E",
    "a tab that indents a continued line, within quotes or brackets": "DK95-1 Y79Y-3",
    "a dash alone as an item in brackets": "G5U8 YJV2",
    "blank lines of a block text that are indented deeper than its first line": "S98Z",
}
READ_OTHERWISE_BY_LIBYAML = {
    "a question mark next to a word in braces or brackets marks a key": "652Z HM87-1",
    "a last line of spaces, without a new line, gets none": "L24T-1",
}


def listed(reasons):
    return {case: reason for reason, cases in reasons.items() for case in cases.split()}


def documents(text):
    """The suite's JSON: one value a document."""
    decoder, values, text = json.JSONDecoder(), [], text.strip()
    while text:
        value, end = decoder.raw_decode(text)
        values.append(value)
        text = text[end:].strip()
    return values


def items_as_written(value, *, item=False):
    """Plain items of lists are ids in a plan, and stay as they are written."""
    if isinstance(value, dict):
        return {key: items_as_written(held) for key, held in value.items()}
    if isinstance(value, list):
        return [items_as_written(held, item=True) for held in value]
    return str(value) if item and isinstance(value, int | float) and not isinstance(value, bool) else value


def refusal(document):
    return next((fault.message for fault in document.faults if fault.check == "unreadable-file"), None)


def outcome(case):
    """Say how the reader takes a case."""
    document = read(case["yaml"].encode(), "case.yaml")
    message = refusal(document)
    if case.get("fail"):
        return "refused" if message else "taken"
    if message is not None:
        return "refused by name" if any(name in message for name in NAMED) else "refused"
    if "json" not in case:
        return "read, and the suite has no JSON of it"
    return "read" if items_as_written(documents(case["json"])) == [document.data] else "read otherwise"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_case(case):
    found = outcome(case)
    if case.get("fail"):
        assert found == ("taken" if case["id"] in listed(TAKEN_BY_LIBYAML) else "refused"), case["name"]
    elif case["id"] in listed(REFUSED_BY_LIBYAML):
        assert found == "refused", case["name"]
    elif case["id"] in listed(READ_OTHERWISE_BY_LIBYAML):
        assert found == "read otherwise", case["name"]
    else:
        assert found in {"read", "refused by name", "read, and the suite has no JSON of it"}, case["name"]


def test_the_suite_is_all_there_and_most_of_it_is_read():
    """As libyaml's own counts have it: 51 valid cases refused, 15 invalid ones taken of 402, constructs aside."""
    assert len(CASES) == 402
    assert sum(bool(case.get("fail")) for case in CASES) == 94
    found = [outcome(case) for case in CASES if not case.get("fail")]
    assert found.count("read") >= 160
    ids = {case["id"] for case in CASES}
    for reasons in (REFUSED_BY_LIBYAML, TAKEN_BY_LIBYAML, READ_OTHERWISE_BY_LIBYAML):
        assert listed(reasons).keys() <= ids
