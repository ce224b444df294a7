"""The event simulation against a simple fixed-step one that knows nothing of it."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.document.places import Places
from zonecfg.document.reader import Document
from zonecfg.engineering.motion import queue
from zonecfg.figures import Figures
from zonecfg.rehearsal.simulate import played
from zonecfg.rehearsal.weather import weather
from zonecfg.results.rehearsal import position_at
from zonecfg.workflow.load import Loader

STEP = 0.25


def site_of(data):
    return Loader().state_of(Document("s.yaml", data, Places(data), ()), Path("s.yaml")).site


@st.composite
def plants(draw):
    """One controller, two groups of single and paired sashes, two rain sensors."""
    groups, openings, actuators = {}, {}, {}
    for group in ("east", "west"):
        members = []
        for number in range(draw(st.integers(1, 3))):
            sash = f"W-{group}-{number}"
            openings[sash] = {"room": "hall"}
            for part in "ab"[: draw(st.integers(1, 2))]:
                name = f"A-{group}-{number}{part}"
                actuators[name] = {
                    "type": "chain",
                    "opening": sash,
                    "stroke_mm": draw(st.sampled_from((120, 240, 360))),
                }
                members.append(name)
        groups[group] = {"actuators": members}
    data = {
        "format": "zonecfg-site/1",
        "state": "as-designed",
        "site": {"name": "Mill Lane Pavilion"},
        "types": {
            "actuators": {"chain": {"speed_mm_s": 6}},
            "controllers": {"panel": {"moves_at_once": draw(st.integers(1, 4))}},
            "sensors": {"plate": {"measures": "rain", "responds_s": draw(st.sampled_from((0, 3)))}},
        },
        "rooms": {"hall": {}},
        "openings": openings,
        "controllers": {"C-1": {"type": "panel"}},
        "actuators": actuators,
        "groups": groups,
        "sensors": {"R-1": {"type": "plate"}, "R-2": {"type": "plate"}},
        "links": {"R-1": ["east", "west"], "R-2": ["west"]},
        "wet_weather": {
            group: {
                "open_percent": draw(st.sampled_from((0, 10, 50))),
                "when_dry": draw(st.sampled_from(("stay", "return"))),
                "dry_minutes": draw(st.sampled_from((0, 1, 2))),
            }
            for group in groups
        },
    }
    spells = []
    for sensor in ("R-1", "R-2"):
        at = 0.0
        for _ in range(draw(st.integers(0, 2))):
            start = at + draw(st.sampled_from((0.5, 1, 2, 3)))
            at = start + draw(st.sampled_from((0.5, 1, 3)))
            spells.append(f"{sensor}@{start:g}..{at:g}")
    return data, spells


def stepped(data, spells, until):
    """Positions of each group by a fixed step: sensors, waits, limits, then each sash a little on its way."""
    respond = data["types"]["sensors"]["plate"]["responds_s"]
    at_once = data["types"]["controllers"]["panel"]["moves_at_once"]
    wet_times = {"R-1": [], "R-2": []}
    for spell in spells:
        sensor, times = spell.split("@")
        start, end = (60 * float(minute) for minute in times.split(".."))
        if start + respond < end:
            wet_times[sensor].append((start + respond, end))
    sashes = {}
    for group, fields in data["groups"].items():
        for actuator in fields["actuators"]:
            sash = data["actuators"][actuator]["opening"]
            took = data["actuators"][actuator]["stroke_mm"] / 6
            sashes[sash] = (group, max(took, sashes.get(sash, ("", 0.0))[1]))
    at = dict.fromkeys(sashes, 100.0)
    wanted = dict.fromkeys(data["groups"], 100.0)
    dry_since = dict.fromkeys(data["groups"])
    limited = dict.fromkeys(data["groups"], False)
    moving = []
    now, trace = 0.0, []
    while now <= until:
        for group, action in data["wet_weather"].items():
            linked = [s for s, groups in data["links"].items() if group in groups]
            wet = any(a <= now < b for s in linked for a, b in wet_times[s])
            if wet:
                limited[group], dry_since[group] = True, None
            elif limited[group]:
                dry_since[group] = now if dry_since[group] is None else dry_since[group]
                if now - dry_since[group] >= 60 * action["dry_minutes"] - 1e-9:
                    limited[group] = False
                    if action["when_dry"] == "stay":
                        wanted[group] = min(wanted[group], action["open_percent"])
        target = {
            group: min(wanted[group], action["open_percent"]) if limited[group] else wanted[group]
            for group, action in data["wet_weather"].items()
        }
        moving = [sash for sash in moving if abs(at[sash] - target[sashes[sash][0]]) > 1e-6]
        for sash in sashes:
            if len(moving) < at_once and sash not in moving and abs(at[sash] - target[sashes[sash][0]]) > 1e-6:
                moving.append(sash)
        trace.append((now, {g: max(at[s] for s in sashes if sashes[s][0] == g) for g in data["groups"]}))
        for sash in moving:
            group, full = sashes[sash]
            way = target[group] - at[sash]
            step = min(abs(way), 100 * STEP / full)
            at[sash] += step if way > 0 else -step
        now += STEP
    return trace


@given(plants())
def test_positions_follow_the_fixed_step(plant):
    data, spells = plant
    site = site_of(data)
    answer = played(Figures(site), weather(site, wet=spells), "s.yaml")
    for now, stands in stepped(data, spells, answer.ends_s + 30):
        for group, percent in stands.items():
            marks = answer.positions[group]
            if not any(abs(mark.at_s - now) < 1e-9 for mark in marks):
                continue  # between marks a group is drawn by its ends; sashes of different speed may cross there
            # A step of 0.25 s moves the fastest sash by 1.25 %; queues add one such step a sash before it.
            assert position_at(marks, now) == pytest.approx(percent, abs=1.25 * 8)


@given(plants())
def test_last_sash_stops_when_the_queue_says(plant):
    """One spell long enough for all: the closing time is that of list scheduling over the same travels."""
    data, _ = plant
    site = site_of(data)
    answer = played(Figures(site), weather(site, wet=["R-1@1..60"]), "s.yaml")
    times = {}
    for group, fields in data["groups"].items():
        for actuator in fields["actuators"]:
            sash = data["actuators"][actuator]["opening"]
            share = 1 - data["wet_weather"][group]["open_percent"] / 100
            times[sash] = max(times.get(sash, 0.0), data["actuators"][actuator]["stroke_mm"] / 6 * share)
    at_once = data["types"]["controllers"]["panel"]["moves_at_once"]
    begins = 60 + data["types"]["sensors"]["plate"]["responds_s"]
    last = queue(list(times.values()), at_once).last_s
    assert answer.settled_s == pytest.approx(begins + last)
