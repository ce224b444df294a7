"""The first thing seen of a pull request: what is new, worse and cleared, safety first; then what it asks."""

import json

import pytest
from repositories import commit, git, repository
from sites import as_yaml, site_data

pytestmark = pytest.mark.needs("git")


@pytest.fixture
def changed(tmp_path):
    """A building with standing notes, in which one window now opens over the limit and one warning got worse."""
    repository(tmp_path, drivers=False)
    data = site_data(24)
    commit(tmp_path, "before", as__designed_yaml=as_yaml(data))
    actuator = next(iter(data["actuators"].values()))
    actuator["stroke_mm"] = 900
    commit(tmp_path, "after", as__designed_yaml=as_yaml(data))
    return tmp_path


def test_new_errors_come_first(zonecfg, changed):
    page = zonecfg("review", changed, "--against", "HEAD^", "--format", "comment").out
    lines = [line for line in page.splitlines() if line]
    assert lines[0] == "<!-- zonecfg -->"
    assert lines[2].startswith("## Since HEAD^: ")
    assert lines[3].startswith("- **error** new: ")
    assert "As it stands: " in page


def test_nothing_changed_says_so(zonecfg, changed):
    git(changed, "commit", "-q", "--allow-empty", "-m", "nothing")
    page = zonecfg("review", changed, "--against", "HEAD^", "--format", "comment").out
    assert "Since HEAD^: 0 new, 0 worse, 0 cleared" in page.replace("\\", "")


def test_a_site_that_was_removed_is_no_success(zonecfg, changed):
    """Its notes are not told as cleared."""
    (changed / "other").mkdir()
    commit(changed, "two", **{"other/as__designed_yaml": as_yaml(site_data(8))})
    git(changed, "rm", "-q", "other/as-designed.yaml")
    git(changed, "commit", "-qm", "one")
    told = zonecfg("review", changed, "--against", "HEAD^", "--format", "markdown").out
    assert "removed" in told
    assert "cleared:" not in told


def test_what_grew_counts_as_new(zonecfg, changed):
    """A group that rain does not close gets one window more: nothing is introduced, and the review fails."""
    data = site_data(24)
    group, other, *_ = data["groups"]
    for sensor in data["links"]:
        data["links"][sensor] = [g for g in data["links"][sensor] if g != group]
    data["wet_weather"].pop(group, None)
    commit(changed, "dry", as__designed_yaml=as_yaml(data))
    member = data["groups"][other]["actuators"].pop()
    mates = [a for a, own in data["actuators"].items() if own["opening"] == data["actuators"][member]["opening"]]
    data["groups"][other]["actuators"] = [a for a in data["groups"][other]["actuators"] if a not in mates]
    data["groups"][group]["actuators"] += mates
    commit(changed, "one more", as__designed_yaml=as_yaml(data))
    done = zonecfg("review", changed, "--against", "HEAD^", "--fail-on", "warning", "--fail-on-new", "--format", "json")
    worse = [w for file in json.loads(done.out)["against"]["files"] for w in file["worse"]]
    assert "group-without-rain-closing" in {w["check"] for w in worse}
    assert done.status == 1
    sarif = json.loads(zonecfg("review", changed, "--against", "HEAD^", "--format", "sarif").out)
    states = {r["baselineState"] for r in sarif["runs"][0]["results"] if r["ruleId"] == "group-without-rain-closing"}
    assert "updated" in states
