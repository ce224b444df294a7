"""Where a finding stands: on the field to look at where the thing says it itself, and what else belongs to it.

A finding is about the thing that its place begins with, where nothing else is said.
"""

import pytest
from plans import example, problems

PLACES = """
actuator-in-several-groups      /groups/studio-west/actuators/0 with /groups/studio-south/actuators/1 about actuators/A-02
actuator-repeated-in-group      /groups/studio-south/actuators/2 with /groups/studio-south/actuators/0 about actuators/A-01
actuator-without-group          /actuators/A-03
barrier-too-low                 /openings/W-21/sill_mm
battery-test-missing            /supplies/PS-1
battery-too-small               /supplies/PS-1/battery_ah
bus-branches                    /junctions/J-1 about controllers/C-1
bus-in-pieces                   /actuators/A-04
bus-in-pieces                   /cables/K-04 about actuators/A-02
bus-loop                        /cables/K-05/carries with /cables/K-02 /cables/K-03 /cables/K-04 about controllers/C-1
bus-overloaded                  /controllers/C-1/bus
bus-resistance-off              /record/buses/C-1/bus_ohm about controllers/C-1
bus-too-long                    /controllers/C-1/bus
bus-without-common              /cables/K-04/carries about controllers/C-1
bus-without-common/bad-through-a-box  /cables/K-04/carries with /cables/K-06/carries about controllers/C-1
cable-current-too-high          /cables/K-01/current_max_a
cable-current-too-high          /cables/K-02/current_max_a
cable-not-fire-rated            /cables/K-01
closing-time-off                /record/sensors/R-2/settled_after_s about sensors/R-2
controller-contradicts-cables   /actuators/A-01/controller
controller-overloaded           /controllers/C-1/output_a
controllers-share-a-bus         /controllers/C-1 with /controllers/C-2
count-mismatch                  /record/controllers/C-1/actuators_counted about controllers/C-1
edge-test-missing               /openings/W-01
escape-window-restricted        /openings/W-21/hand_release
escape-window-restricted        /openings/W-22/sill_mm
fall-limit-starves-room         /rooms/guest-1/floor_area_m2
finger-trap                     /openings/W-01 with /openings/W-02/protection /openings/W-03/protection about rooms/office
fire-test-missing               /record/controllers/C-1 about controllers/C-1
fire-test-missing/bad-no-record  /controllers/C-1
foothold-before-window          /openings/W-11/foothold_mm
friction-stay-fitted            /openings/W-01/stays
friction-stay-fitted            /openings/W-02/stays
fuse-over-cable                 /supplies/PS-1/fuse_a with /cables/K-04
fuse-under-load                 /supplies/PS-1/fuse_a
group-empty                     /groups/studio-west
group-over-limit                /groups/studio-south
group-spans-controllers         /groups/studio-south/actuators/2 about groups/studio-south
group-spans-rooms               /groups/guests
group-without-rain-closing      /groups/studio-south
guard-before-escape             /openings/W-21/screen
hand-lock-fitted                /openings/W-01/lock
hand-release-defeats-limit      /openings/W-11/hand_release
implausible-figure              /actuators/A-01/thrust_n
left-open-in-rain               /wet_weather/studio-south/open_percent about groups/studio-south
link-spans-controllers          /links/R-1/1 about links/R-1/annex
link-without-wet-action         /links/R-1/0 about links/R-1/studio-south
link-without-wet-action         /links/R-2/0 about links/R-2/studio-south
link-without-wet-action/bad-wind  /links/WS-1/0 about links/WS-1/studio-south
measured-voltage-too-low        /record/actuators/A-03/voltage_moving_v about actuators/A-03
measurement-contradicts-plan    /record/actuators/A-01/measured_stroke_mm about actuators/A-01
not-calibrated                  /record/actuators/A-02/calibrated about actuators/A-02
not-calibrated/bad-unsaid       /record/actuators/A-02 about actuators/A-02
open-sash-over-walkway          /openings/W-01/over_walkway
opening-angle-not-counted       /actuators/A-01/stroke_mm about openings/W-01
opening-over-fall-limit         /actuators/A-11/stroke_mm about openings/W-11
opening-without-actuator        /openings/W-04
output-contradicts              /supplies/PS-1/output_min_v
outside-extra-low-voltage       /supplies/PS-1/output_v
power-loop                      /cables/K-05/carries with /cables/K-01 /cables/K-02 /cables/K-03 /cables/K-04 about supplies/PS-1
power-missing                   /actuators/A-03
record-of-another-actuator      /record/actuators/A-02/serial with /actuators/A-02/serial about actuators/A-02
release-test-missing            /openings/W-01
restrictor-strength-unknown     /actuators/A-11/hold_n about openings/W-11
room-opening-area-small         /rooms/living/floor_area_m2
sash-actuators-split            /actuators/A-01a with /actuators/A-01b about openings/W-01
sash-actuators-unlike           /actuators/A-01b/stroke_mm with /actuators/A-01a/stroke_mm about openings/W-01
sash-actuators-unlike/bad-type  /actuators/A-01b/type with /actuators/A-01a/type about openings/W-01
sash-actuators-unsynchronised   /openings/W-02 with /actuators/A-02a /actuators/A-02b
sash-loose-in-storm             /openings/W-11/lock
sash-needs-more-actuators       /openings/W-01/width_mm
sash-needs-pivot-brackets       /openings/W-01/height_mm
sensor-faces-away               /sensors/R-2/facade_deg
sensor-loss-unseen/bad-own      /sensors/R-2/if_lost
sensor-over-limit               /links/R-1 about sensors/R-1
sensor-over-limit               /links/R-2 about sensors/R-2
sensor-unlinked                 /sensors/R-3
serial-missing                  /actuators/A-02
serial-missing/bad-sensor       /sensors/R-2
serial-repeated                 /actuators/A-03/serial with /actuators/A-01/serial
serial-repeated/bad-controllers  /controllers/C-2/serial with /controllers/C-1/serial
serial-unverified               /record/actuators/A-01 about actuators/A-01
single-sensor                   /sensors/R-1
smoke-stroke-not-reached        /actuators/A-31/stroke_mm about openings/SV-31
smoke-vent-overruled            /openings/W-30/smoke_vent
smoke-vent-slow                 /openings/SV-31/smoke_vent
smoke-vent-unproven             /openings/SV-31/smoke_vent
stroke-over-sash                /actuators/A-01/stroke_mm about openings/W-01
stroke-over-sash                /actuators/A-02/stroke_mm about openings/W-02
stroke-over-type                /actuators/A-01/stroke_mm
stub-too-long                   /cables/K-05/length_m about controllers/C-1
supplies-joined                 /supplies/PS-1 with /supplies/PS-2
supply-overloaded               /supplies/PS-1/output_a
terminator-misplaced            /terminators/1 about controllers/C-1
terminator-missing              /actuators/A-03 about controllers/C-1
test-failed                     /record/actuators/A-02/walk_test about actuators/A-02
test-failed                     /record/groups/studio-south/walk_test about groups/studio-south
test-failed/bad-fire            /record/controllers/C-1/fire_test about controllers/C-1
test-failed/bad-sensor          /record/sensors/R-2/wet_test about sensors/R-2
test-unsigned                   /record/actuators/A-01/calibrated about actuators/A-01
test-unsigned                   /record/sensors/R-1/wet_test about sensors/R-1
thrust-margin-small             /actuators/A-01/thrust_n about openings/W-01
thrust-too-small                /actuators/A-01/thrust_n about openings/W-01
thrust-too-small-in-snow        /actuators/A-31/thrust_n about openings/SV-31
too-many-actuators              /controllers/C-1
too-many-groups                 /controllers/C-1
too-many-sensors                /controllers/C-1
voltage-over-rating             /actuators/A-01/voltage_max_v with /supplies/PS-1
voltage-over-rating             /actuators/A-02/voltage_max_v with /supplies/PS-1
voltage-over-rating             /actuators/A-03/voltage_max_v with /supplies/PS-1
voltage-too-low                 /actuators/A-02
voltage-too-low                 /actuators/A-03
walk-test-missing               /groups/studio-south
walk-test-missing               /record/actuators/A-02 about actuators/A-02
walk-test-missing/bad-no-record  /actuators/A-02
wet-action-without-link         /wet_weather/studio-west
wet-action-without-link/bad-wind  /strong_wind/studio-south
wet-return-unattended           /wet_weather/studio-south/when_dry
wet-test-missing                /sensors/R-2
wet-test-missing/bad-timed-only  /record/sensors/R-2 about sensors/R-2
wind-limit-over-force           /sensors/WS-1/wind_above_m_s with /site/wind_m_s
wind-test-missing               /sensors/WS-1
"""


def _rows() -> dict[str, list[tuple[str, str, tuple[str, ...]]]]:
    rows: dict[str, list[tuple[str, str, tuple[str, ...]]]] = {}
    for row in PLACES.strip().splitlines():
        name, at = row.split(maxsplit=1)
        at, _, about = at.partition(" about ")
        at, _, related = at.partition(" with ")
        rows.setdefault(name, []).append((about or "/".join(at.split("/")[1:3]), at, tuple(related.split())))
    return rows


ROWS = _rows()


@pytest.mark.parametrize("name", ROWS)
def test_place(name):
    found = problems(example(name), name.partition("/")[0])
    assert sorted((p.about, p.at, p.related) for p in found) == sorted(ROWS[name])
