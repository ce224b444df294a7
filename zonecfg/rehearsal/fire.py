"""How far smoke vents really open on a fire command, against what the fire strategy asks."""

from collections.abc import Collection, Iterator

from zonecfg.model.site import Site


def short_of_smoke_stroke(site: Site, groups: Collection[str]) -> Iterator[str]:
    """Say which smoke vents stop short of their smoke stroke, or that it is not known.

    The rehearsal opens a vent by the stroke its actuators are set to; whether a fire command goes beyond that is for
    the equipment and the fire strategy to say, and is not assumed.

    Parameters
    ----------
    site
        The site.
    groups
        Groups that the fire command opens.
    """
    for group in groups:
        for opening_id in site.openings_of_group[group]:
            opening = site.openings[opening_id]
            if not opening.smoke_vent:
                continue
            fitted = [site.actuators[a] for a in site.actuators_of.get(opening_id, ())]
            known = [actuator.stroke_mm for actuator in fitted if actuator.stroke_mm is not None]
            reach = [actuator.stroke_max_mm for actuator in fitted if actuator.stroke_max_mm is not None]
            if opening.smoke_stroke_mm is None:
                yield f"{opening_id} is a smoke vent without smoke_stroke_mm: whether it opens far enough is not known"
            elif reach and min(reach) < opening.smoke_stroke_mm:
                yield (
                    f"{opening_id} cannot open the {opening.smoke_stroke_mm:g} mm that the fire strategy asks for: "
                    f"its actuators have {min(reach):g} mm"
                )
            elif known and min(known) < opening.smoke_stroke_mm:
                short = opening.smoke_stroke_mm - min(known)
                yield (
                    f"{opening_id} is rehearsed to its set stroke of {min(known):g} mm; the fire strategy asks for "
                    f"{opening.smoke_stroke_mm:g} mm, {short:g} mm more, which takes longer: "
                    "prove by test that a fire command opens it that far"
                )
