"""What must be tested again after a way was gone."""

from collections.abc import Iterator, Sequence

from zonecfg.model.site import Site
from zonecfg.results.change import Change
from zonecfg.results.way import Retest
from zonecfg.results.words import listed


def retests(now: Site, then: Site, changes: Sequence[Change]) -> Iterator[Retest]:
    """List what must be tested again, each thing once: actuators and their gaps, groups, then sensors."""
    replaced = set()
    for actuator in now.actuators.values():
        record = now.record.actuators.get(actuator.id)
        if actuator.serial and record and record.serial and record.serial != actuator.serial:
            replaced.add(actuator.id)
            because = f"its record is of {record.serial}"
            yield Retest(test="calibrate", section="actuators", id=actuator.id, because=because)
            yield Retest(test="measure-gap", section="actuators", id=actuator.id, because=because)
            yield Retest(test="walk-test", section="actuators", id=actuator.id, because=because)
    groups: dict[str, str] = {}
    told = set(replaced)
    for change in changes:
        if change.field == "group" and change.section == "actuators":
            if change.id not in told:
                told.add(change.id)
                yield Retest(test="walk-test", section="actuators", id=change.id, because=change.text)
            for side in (change.before, change.after):
                for group in [side] if isinstance(side, str) else side or ():
                    groups.setdefault(group, change.text)
        elif change.section in {"groups", "wet_weather", "strong_wind"}:
            groups.setdefault(change.id, change.text)
        elif change.section == "links":
            groups.setdefault(str(change.before or change.after), change.text)
    for group, because in groups.items():
        if group in then.groups:
            yield Retest(test="walk-test", section="groups", id=group, because=because)
    touched = set(groups)
    for sensor in then.sensors:
        acted = set(now.links.get(sensor, ())) | set(then.links.get(sensor, ()))
        if acted & touched:
            because = f"it acts, or acted, on {listed(sorted(acted & touched))}"
            yield Retest(test="wet-test", section="sensors", id=sensor, because=because)
