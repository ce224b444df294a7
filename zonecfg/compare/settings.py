"""What changed of settings: who is in which group, which sensor acts on which group."""

from collections.abc import Iterator, Mapping
from typing import Any

from zonecfg.compare.consequence import of_membership
from zonecfg.compare.sides import Sides
from zonecfg.results.change import Change
from zonecfg.results.pointer import join
from zonecfg.results.words import listed


def of_members(sides: Sides) -> Iterator[Change]:
    """Tell the actuators that another group moves now."""
    before, after = _homes(sides.before.members), _homes(sides.after.members)
    for actuator in dict.fromkeys((*before, *after)):
        old, new = before.get(actuator, ()), after.get(actuator, ())
        if old == new or sides.one_sided("actuators", actuator):
            continue
        gone = [g for g in old if not sides.one_sided("groups", g)]
        come = [g for g in new if not sides.one_sided("groups", g)]
        if (not gone and not new) or (not come and not old):
            continue  # told with the group that came or went
        at_before = _member_at(sides, 0, old, actuator)
        at_after = _member_at(sides, 1, new, actuator)
        if old and new:
            text = f"{actuator} moved from {listed(old)} to {listed(new)}"
        elif new:
            text = f"{actuator}, in no group before, put into {listed(new)}"
        else:
            text = f"{actuator} taken out of {listed(old)}, now in no group"
        yield Change(
            kind="moved",
            section="actuators",
            id=actuator,
            field="group",
            before=_one_or_list(old),
            after=_one_or_list(new),
            consequence=of_membership(sides.ids(actuator), sides.sites),
            at_before=at_before,
            at_after=at_after,
            text=text,
        )


def _member_at(sides: Sides, side: int, groups: tuple[str, ...], actuator: str) -> str | None:
    if not groups:
        return None
    group, member = groups[-1], actuator
    if side == 0:
        group, member = sides.old_group(group), sides.old_id("actuators", actuator)
    return sides.sites[side].member_at(group, member)


def of_links(sides: Sides) -> Iterator[Change]:
    """Tell the links that were made or taken away."""
    before = {(s, g) for s, groups in sides.before.links.items() for g in groups}
    after = {(s, g) for s, groups in sides.after.links.items() for g in groups}
    for sensor, group in sorted(before ^ after):
        if sides.one_sided("sensors", sensor) or sides.one_sided("groups", group):
            continue
        gone = (sensor, group) in before
        side = 0 if gone else 1
        names = (sides.old_id("sensors", sensor), sides.old_group(group)) if gone else (sensor, group)
        at = join("links", names[0], sides.sites[side].links[names[0]].index(names[1]))
        yield Change(
            kind="unlinked" if gone else "linked",
            section="links",
            id=sensor,
            field="group",
            before=group if gone else None,
            after=None if gone else group,
            consequence="weather",
            at_before=at if gone else None,
            at_after=None if gone else at,
            text=f"{sensor} no longer acts on {group}" if gone else f"{sensor} now acts on {group}",
        )


def _homes(members: Mapping[str, frozenset[str]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for group in sorted(members):
        for actuator in members[group]:
            found.setdefault(actuator, []).append(group)
    return {actuator: tuple(groups) for actuator, groups in sorted(found.items())}


def _one_or_list(groups: tuple[str, ...]) -> Any:
    return None if not groups else groups[0] if len(groups) == 1 else list(groups)
