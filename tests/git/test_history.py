"""What became of a thing, in real repositories; git's own log says which commits there are."""

import json

import pytest
from repositories import commit, git, repository
from sites import as_yaml, site_data

pytestmark = pytest.mark.needs("git")


def made(folder, *edits):
    """Commit a site, then one edit after the other."""
    repository(folder, drivers=False)
    data = site_data(8)
    for number, fields in enumerate(data["actuators"].values()):
        fields["serial"] = f"7004{number:04}"
    commit(folder, "the plan", as__designed_yaml=as_yaml(data))
    for number, edit in enumerate(edits, 1):
        edit(data)
        commit(folder, f"edit {number}", as__designed_yaml=as_yaml(data))
    return folder / "as-designed.yaml", data


def told(zonecfg, *arguments):
    done = zonecfg("history", *arguments, "--format", "json")
    assert done.status == 0, done.err
    return json.loads(done.out)


def stroke(name, value):
    return lambda data: data["actuators"][name].update(stroke_mm=value)


def called(old, new):
    def edit(data):
        data["actuators"] = {new if key == old else key: fields for key, fields in data["actuators"].items()}
        for fields in data["groups"].values():
            fields["actuators"] = [new if member == old else member for member in fields["actuators"]]
        for fields in data["cables"].values():
            fields.update({end: new for end in ("from", "to") if fields[end] == old})

    return edit


def test_a_thing_is_followed_through_its_names(zonecfg, tmp_path):
    """Set, given another name, set again: by either name the same four commits, git's own, the latest first."""
    first = next(iter(site_data(8)["actuators"]))
    path, _ = made(tmp_path, stroke(first, 210), called(first, "A-new"), stroke("A-new", 220))
    log = git(tmp_path, "log", "--format=%H").split()
    for name in ("A-new", first, "actuators/A-new"):
        answer = told(zonecfg, path, name)
        assert answer["names"] == sorted({first, "A-new"})
        assert [event["commit"]["id"] for event in answer["events"]] == log
    answer = told(zonecfg, path, "A-new")
    changed = [
        (c["field"], c["before"], c["after"])
        for event in answer["events"]
        for c in event["changes"]
        if c["field"] == "stroke_mm"
    ]
    assert [after for _, _, after in changed] == [220, 210]


def test_a_file_that_was_called_otherwise_is_followed(zonecfg, tmp_path):
    first = next(iter(site_data(8)["actuators"]))
    made(tmp_path, stroke(first, 210))
    (tmp_path / "hall").mkdir()
    git(tmp_path, "mv", "as-designed.yaml", "hall/as-designed.yaml")
    git(tmp_path, "commit", "-qm", "moved")
    answer = told(zonecfg, tmp_path / "hall" / "as-designed.yaml", first)
    assert [event["commit"]["subject"] for event in answer["events"]] == ["edit 1", "the plan"]
    assert answer["commits"] == 3


def test_a_field_a_day_and_all(zonecfg, tmp_path):
    first, second, *_ = site_data(8)["actuators"]
    path, _ = made(tmp_path, stroke(first, 210), stroke(second, 220), lambda data: data["site"].update(name="Other"))
    strokes = told(zonecfg, path, "stroke_mm")["events"]
    assert [[c["id"] for c in event["changes"]] for event in strokes] == [[second], [first]]
    everything = told(zonecfg, path)["events"]
    assert [event["commit"]["subject"] for event in everything] == ["edit 3", "edit 2", "edit 1", "the plan"]
    assert told(zonecfg, path, "--until", "2001-01-01")["events"] == []
    assert len(told(zonecfg, path, "--since", "2001-01-01")["events"]) == 4


def test_what_is_not_there_is_refused(zonecfg, tmp_path):
    path, _ = made(tmp_path)
    assert zonecfg("history", path, "A-nowhere").status == 2
    (tmp_path / "new.yaml").write_text("format: zonecfg-site/1\n", "utf-8")
    assert zonecfg("history", tmp_path / "new.yaml").status == 2


def test_a_version_that_could_not_be_read_is_told(zonecfg, tmp_path):
    path, data = made(tmp_path)
    commit(tmp_path, "broken", as__designed_yaml="a: [")
    commit(tmp_path, "mended", as__designed_yaml=as_yaml(data))
    events = told(zonecfg, path)["events"]
    assert [bool(event["because"]) for event in events] == [True, False]
    assert zonecfg("history", path, "--format", "markdown").status == 0
