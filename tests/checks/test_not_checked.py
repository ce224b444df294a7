"""What is not given, or was refused in reading, is told with its name and for whom; silence is never a pass.

Each row takes a field out of a check's bad example, or puts in what leaves something open: the check, the change, for
whom it says so, and its words.
What was refused is also known to have stood there, where nothing and not known differ.
"""

import pytest
from plans import changed, example, problems, unknowns
from wings import joined, wing

from zonecfg.results.finding import Unknown

NOT_GIVEN = """
barrier-too-low             openings/W-21/sill_mm       W-21  sill_mm is not given, and no barrier_mm is enough
bus-branches                cables/K-05/length_m        K-05  three bus cables meet, and length_m of the cable is not given to tell a stub from a branch
bus-branches                controllers/C-1/bus/stub_m  K-05  three bus cables meet, and bus.stub_m is not given to tell a stub from a branch
bus-branches                cables/K-09: {from: A-03, to: C-1, length_m: 9, carries: [bus]}  C-1  the bus has a loop
bus-overloaded              controllers/C-1/bus/unit_loads  C-1  bus.unit_loads of the controller type is not given
bus-resistance-off          record/buses/C-1/bus_ohm    C-1  no bus_ohm is recorded
bus-resistance-off          actuators/A-04: {opening: W-01} | cables/K-05: {from: C-1, to: A-04, carries: [bus], line: "2"}  C-1  the controller has several bus lines, and it is not known which was measured
bus-too-long                controllers/C-1/bus/length_m  C-1  bus.length_m of the controller type is not given
bus-without-common          supplies/PS-2               A-03  it is not known which supply feeds it
cable-current-too-high      cables/K-01/current_max_a   K-01  current_max_a of the cable is not given
cable-current-too-high      supplies/PS-1/output_v: 125  PS-1  output_v is over 120 V DC
cable-current-too-high      actuators/A-01/idle_a       A-01  idle_a of the actuator is not given
controller-overloaded       controllers/C-1/output_a    C-1  output_a of the controller is not given
controller-overloaded       supplies/PS-1/output_v: 125  PS-1  output_v is over 120 V DC
controller-overloaded       actuators/A-01/idle_a       A-01  idle_a of the actuator is not given
count-mismatch              record/controllers/C-1/actuators_counted  C-1  record.controllers has no actuators_counted
count-mismatch              controllers/C-2: {}         C-1  it is not known which controller some actuators belong to
escape-window-restricted    openings/W-22/width_mm      W-22  width_mm of the sash is not given
escape-window-restricted    openings/W-22/height_mm     W-22  height_mm of the sash is not given
escape-window-restricted    openings/W-22/sill_mm       W-22  sill_mm is not given
escape-window-restricted    openings/W-22/hand_release  W-22  hand_release is not given
escape-window-restricted    site/rules/escape           W-22  site.rules.escape names no rule set
fall-limit-starves-room     rooms/guest-1/floor_area_m2  guest-1  floor_area_m2 is not given
finger-trap                 openings/W-01/room          W-01  room is not given
finger-trap                 openings/W-01/sill_mm       W-01  sill_mm is not given
fire-test-missing           controllers                 A-30  it is not known which controller commands it
friction-stay-fitted        openings/W-01/stays         W-01  stays of the sash is not given
fuse-over-cable             supplies/PS-1/fuse_a        PS-1  fuse_a of the supply is not given
fuse-over-cable             cables/K-04/current_max_a   K-04  current_max_a of the cable is not given
fuse-over-cable             supplies/PS-1/output_v: 125  PS-1  output_v is over 120 V DC
group-over-limit            controllers                 studio-south  the group's controller is not known; name it with groups.controller
group-over-limit            controllers/C-1/limits      studio-south  limits.actuators_per_group of the controller is not given
group-over-limit            groups/studio-south/actuators  studio-south  the members of a group could not be read
group-spans-controllers     groups/studio-south/controller  studio-south  the group's controller is not known; name it with groups.controller
group-spans-rooms           openings/W-11/room          guests  it is not known which room W-11 is of
group-without-rain-closing/bad-wind-only  sensors/WS-1/measures  studio-south  it is not known which rain sensors act on it
hand-lock-fitted            openings/W-01/lock          W-01  lock of the sash is not given
left-open-in-rain           wet_weather/studio-south/open_percent  studio-south  open_percent is not known
left-open-in-rain/bad-side-hung  openings/W-01/hinge    W-01  hinge or opens is not given
link-spans-controllers      groups/studio-south/controller  R-1/studio-south  the controller of the sensor or of the group is not known
link-spans-controllers      sensors/R-1/controller      R-1/studio-south  the controller of the sensor or of the group is not known
link-without-wet-action     sensors/R-1/measures        R-1  it is not known what the sensor measures
measured-voltage-too-low    actuators/A-03/voltage_min_v  A-03  voltage_min_v of the actuator is not given
measured-voltage-too-low    record/actuators/A-03/voltage_moving_v  A-03  no voltage_moving_v is recorded
measured-voltage-too-low    supplies/PS-1/output_v: 125  PS-1  output_v is over 120 V DC
opening-angle-not-counted   actuators/A-01/stroke_mm    A-01  stroke_mm is not given
opening-angle-not-counted   rooms/living/mechanical_air: true  living  machines supply the air (mechanical_air)
opening-without-actuator    actuators/A-01/opening      W-01 W-04  it is not known which opening A-01 moves
outside-extra-low-voltage   supplies/PS-1/output_v      PS-1  output_v of the supply is not given
power-loop                  supplies/PS-1/output_v: 125  PS-1  output_v is over 120 V DC
power-missing               actuators/A-03/running_a | actuators/A-03/peak_a | actuators/A-03/idle_a  A-03  what it draws is not given, and no power cable reaches it
record-of-another-actuator  actuators/A-02/serial       A-02  the serial of the actuator tested or of the one fitted is not given
record-of-another-actuator  record/actuators/A-02/serial  A-02  the serial of the actuator tested or of the one fitted is not given
room-opening-area-small     rooms/living/floor_area_m2  living  floor_area_m2 is not given
room-opening-area-small     rooms/living/mechanical_air: true  living  machines supply the air (mechanical_air)
sash-actuators-unlike       actuators/A-01b/stroke_mm   A-01b  stroke_mm is not given
sash-actuators-unlike/bad-type  actuators/A-01b/type    A-01b  type is not given
sash-actuators-unsynchronised  actuators/A-02a/sync     W-02  sync of the actuator type is not given, and no cable carries it
sash-actuators-unsynchronised  cables                   W-02  the plan has no cables
sensor-faces-away           openings/W-01/facade_deg    W-01  facade_deg is not given
sensor-faces-away           sensors/R-2/facade_deg      R-2  facade_deg of the sensor is not given
sensor-loss-unseen          sensors/R-1/if_lost         R-1  if_lost of the sensor is not given
sensor-over-limit           controllers                 R-1  it is not known which controller the sensor reports to
sensor-over-limit           controllers/C-1/limits      R-1  limits.groups_per_sensor of the controller is not given
single-sensor               sensors/R-1/measures        R-1  it is not known what the sensor measures
smoke-vent-overruled        controllers                 W-30  the group's controller is not known; name it with groups.controller
smoke-vent-unproven         supplies/PS-2: {battery: true}  SV-31  it is not known which supply feeds it
stroke-over-type            actuators/A-01/stroke_max_mm  A-01  stroke_max_mm of the actuator type is not given
stroke-over-type            actuators/A-01/stroke_mm    A-01  stroke_mm is not given
stub-too-long               cables/K-05/length_m        K-05  length_m of the cable is not given
stub-too-long               controllers/C-1/bus/stub_m  C-1  bus.stub_m of the controller type is not given
supply-overloaded           supplies/PS-1/output_a      PS-1  output_a of the supply is not given
supply-overloaded           actuators/A-01/idle_a       A-01  idle_a of the actuator is not given
terminator-missing          cables/K-09: {from: A-03, to: C-1, length_m: 9, carries: [bus]}  C-1  the bus has a loop
too-many-actuators          controllers/C-1/limits      C-1  limits.actuators of the controller is not given
too-many-actuators          controllers/C-2: {}         A-01 A-02 A-03  it is not known which controller they belong to
too-many-groups             controllers/C-1/limits      C-1  limits.groups of the controller is not given
too-many-groups             controllers/C-2: {}         studio-south studio-middle studio-west  it is not known which controller they belong to
too-many-sensors            controllers/C-1/limits      C-1  limits.rain_sensors of the controller is not given
too-many-sensors            sensors/R-1/measures        R-1  it is not known what the sensor measures
too-many-sensors            controllers/C-2: {}         R-1 R-2 R-3  it is not known which controller they belong to
voltage-too-low             actuators/A-02/voltage_min_v  A-02  voltage_min_v of the actuator is not given
voltage-too-low             actuators/A-01/idle_a       A-01  idle_a of the actuator is not given
wet-action-without-link/bad-other-weather  sensors/R-1/measures  studio-south  it is not known which wind sensors act on it
wet-return-unattended       openings/W-01/sill_mm       W-01  sill_mm is not given
wet-test-missing            sensors/R-1/measures        R-1  it is not known what the sensor measures
"""

REFUSED = """
barrier-too-low             openings/W-21/sill_mm      W-21
barrier-too-low/good        openings/W-21/barrier_mm   W-21
bus-in-pieces               actuators/A-04/bus_unit_load  A-04
closing-time-off            record/sensors/R-2/settled_after_s  R-2
closing-time-off            controllers/C-1/moves_at_once  R-2
escape-window-restricted    openings/W-22/escape       W-22
escape-window-restricted    openings/W-22/hand_release  W-22
escape-window-restricted    openings/W-22/limit_by     W-22
fall-limit-starves-room     rooms/guest-1/mechanical_air  guest-1
fall-limit-starves-room     rooms/guest-1/other_openings_m2  guest-1
finger-trap                 openings/W-02/protection   W-02
finger-trap                 openings/W-02/access_outside  W-02
fire-test-missing           openings/W-30/smoke_vent   W-30
fire-test-missing/good      record/controllers/C-1/fire_test  C-1
group-without-rain-closing  openings/W-01/sheltered    W-01
left-open-in-rain           openings/W-01/sheltered    W-01
left-open-in-rain           openings/W-01/pitch_deg    W-01
link-spans-controllers      controllers/C-1/shares_sensors  C-1
link-without-wet-action     wet_weather                R-1
link-without-wet-action/bad-wind  strong_wind          WS-1
not-calibrated              record/actuators/A-02/calibrated  A-02
opening-angle-not-counted   rooms/living/mechanical_air  living
restrictor-strength-unknown  actuators/A-11/hold_n     A-11
room-opening-area-small     rooms/living/mechanical_air  living
sash-needs-more-actuators   actuators/A-01/along_hinge_max_mm  A-01
sash-needs-pivot-brackets   actuators/A-01/hinge_to_edge_min_mm  A-01
sash-needs-pivot-brackets   openings/W-01/pivot_brackets  W-01
sensor-faces-away           openings/W-01/pitch_deg    W-01
serial-missing              actuators/A-02/serial      A-02
serial-repeated             actuators/A-03/serial      A-03
smoke-vent-overruled        openings/W-30/smoke_vent   W-30
smoke-vent-overruled        controllers/C-1/fire_command_outranks  C-1
smoke-vent-unproven         openings/SV-31/smoke_vent  SV-31
smoke-vent-unproven         supplies/PS-1/battery      PS-1
smoke-vent-unproven/good    openings/SV-31/smoke_stroke_mm  SV-31
supply-overloaded           controllers/C-1/moves_at_once  C-1
terminator-missing/good     controllers/C-1/bus_end_resistor  C-1
test-failed                 record/actuators/A-02/walk_test  A-02
test-failed                 record/groups/studio-south/walk_test  studio-south
test-failed/bad-fire        record/controllers/C-1/fire_test  C-1
test-failed/bad-sensor      record/sensors/R-2/wet_test  R-2
thrust-margin-small         actuators/A-01/push_n      A-01
thrust-too-small            actuators/A-01/pull_n      A-01
voltage-too-low             cables/K-01/conductor_c    K-01
voltage-too-low             controllers/C-1/moves_at_once  C-1
voltage-too-low             supplies/PS-1/output_min_v  PS-1
walk-test-missing           record/actuators/A-02/walk_test  A-02
walk-test-missing           record/groups/studio-south/walk_test  studio-south
wet-return-unattended       wet_weather/studio-south/when_dry  studio-south
wet-return-unattended       wet_weather/studio-south/dry_minutes  studio-south
wet-return-unattended       openings/W-01/drop_mm      W-01
wet-return-unattended       openings/W-01/sill_mm      W-01
wet-return-unattended       openings/W-01/screen       W-01
wet-test-missing            record/sensors/R-2/wet_test  R-2
"""

# Whatever a whole family asks first: of whom it is said, by check; each plan is the check's bad example.
SHARED = """
it is not known which opening they move: actuators/{}/opening
    fire-test-missing A-30, friction-stay-fitted A-01, group-spans-rooms A-11, group-without-rain-closing A-01,
    hand-lock-fitted A-01, left-open-in-rain A-01, opening-angle-not-counted A-01, sash-actuators-split A-01a,
    sash-actuators-unlike A-01a, sash-actuators-unsynchronised A-01a, sash-needs-more-actuators A-01,
    sash-needs-pivot-brackets A-01, sensor-faces-away A-01, smoke-vent-overruled A-30, stroke-over-sash A-01,
    thrust-margin-small A-01, thrust-too-small A-01, wet-return-unattended A-01

the members of a group could not be read: groups/{}/actuators
    actuator-in-several-groups studio-south, actuator-repeated-in-group studio-south, group-empty studio-south,
    group-spans-controllers studio-south, group-spans-rooms guests, group-without-rain-closing studio-south,
    left-open-in-rain studio-south, sensor-faces-away studio-south, smoke-vent-overruled stair-top,
    wet-return-unattended studio-south

the groups that a sensor acts on could not be read: links/{}
    link-spans-controllers R-1, link-without-wet-action R-1, sensor-faces-away R-1, sensor-over-limit R-1,
    single-sensor R-1, smoke-vent-overruled R-1

it is not known what a cable joins or carries: cables/{}/from
    count-mismatch K-01, group-spans-controllers/bad-by-bus K-01, link-spans-controllers K-01,
    sash-actuators-unsynchronised K-01, sensor-over-limit K-01, too-many-actuators K-01, too-many-sensors K-01

it is not known which controller they belong to: {}/controller
    count-mismatch actuators/A-01, group-spans-controllers actuators/A-01, link-spans-controllers sensors/R-1,
    sensor-over-limit sensors/R-1, too-many-actuators actuators/A-01, too-many-sensors sensors/R-1
"""


def _rows(text):
    return [tuple(part.strip() for part in row.split("  ") if part.strip()) for row in text.strip().splitlines()]


def _shared():
    found = []
    for block in SHARED.strip().split("\n\n"):
        head, _, rows = block.partition("\n")
        because, path = head.split(": ")
        for name, thing in (row.split() for row in rows.split(",")):
            found.append((name, path.format(thing), thing.split("/")[-1], because))
    return found


@pytest.mark.parametrize(("name", "taken", "ids", "because"), _rows(NOT_GIVEN))
def test_not_given(name, taken, ids, because):
    data = changed(example(name), taken.split(" | "))
    assert Unknown(because, tuple(ids.split())) in unknowns(data, name.partition("/")[0])


@pytest.mark.parametrize(("name", "taken", "thing"), _rows(REFUSED))
def test_refused(name, taken, thing):
    """The field is named, and nothing is said against the thing meanwhile."""
    data, check, lost = changed(example(name), [taken]), name.partition("/")[0], frozenset([taken])
    assert Unknown(f"{taken.split('/')[-1]} could not be read", (thing,)) in unknowns(data, check, lost)
    assert thing not in {found.about.split("/")[1] for found in problems(data, check, lost)}


@pytest.mark.parametrize(("name", "taken", "thing", "because"), _shared())
def test_what_a_family_asks_first(name, taken, thing, because):
    data, check, lost = changed(example(name), [taken]), name.partition("/")[0], frozenset([taken])
    if taken.startswith("cables/"):
        data.setdefault("cables", {}).setdefault(thing, {"carries": ["bus"]})
    assert Unknown(because, (thing,)) in unknowns(data, check, lost)


ONE_WING = [
    (name, taken)
    for name, taken, *_ in (*_rows(NOT_GIVEN), *_rows(REFUSED))
    if "/" in taken
    and name != "opening-without-actuator"  # an actuator of no known opening may move any
    and "controllers/C-2" not in taken  # a plan's only controller commands all
]


@pytest.mark.parametrize(("name", "taken"), ONE_WING)
def test_what_one_wing_lacks_silences_no_other(name, taken):
    check = name.partition("/")[0]
    bad = example(check)
    east, west = wing(bad, "-east"), wing(changed(example(name), taken.split(" | ")), "-west")
    steps = taken.split(" | ")[-1].split("/")
    steps[2 if steps[0] == "record" else 1] += "-west"
    lost = frozenset(["/".join(steps)])
    found = problems(joined(bad, east), check)
    for both in (joined(bad, west, east), joined(bad, east, west)):
        assert {problem.about for problem in found} <= {problem.about for problem in problems(both, check, lost)}


def test_actions_of_one_kind_that_could_not_be_read_silence_no_other():
    """R-1 sees wind, and what that does is not known; R-2 sees rain, which nothing answers."""
    data = changed(example("link-without-wet-action"), ["sensors/R-1/measures: wind"])
    lost = frozenset({"strong_wind"})
    assert unknowns(data, "link-without-wet-action", lost) == [Unknown("strong_wind could not be read", ("R-1",))]
    assert [found.about for found in problems(data, "link-without-wet-action", lost)] == ["links/R-2/studio-south"]
