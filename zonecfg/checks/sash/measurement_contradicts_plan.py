"""What was measured on site and what the plan sets are apart.

Why
    A stroke or a gap that is not the one planned was set wrong, read wrong or put down wrong. What
    rests on the plan, falls and air among it, then rests on a figure that is not there.
Wrong
    actuators:
      A-01: {type: chain-350, opening: W-01, stroke_mm: 300, serial: "70041832"}
    record:
      actuators:
        A-01: {serial: "70041832", measured_stroke_mm: 250}
Right
    Measure again; then set the stroke, or change the plan.

        record:
          actuators:
            A-01: {serial: "70041832", measured_stroke_mm: 301}
"""

from collections.abc import Iterator

from zonecfg.checks.registry import Check
from zonecfg.checks.scope import measured
from zonecfg.figures import Figures
from zonecfg.figures.openings import opened_to
from zonecfg.figures.unread import unread
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.pointer import join

SLACK_MM = 10.0
SLACK_SHARE = 0.05

CHECK = Check(
    "measurement-contradicts-plan",
    "warning",
    source="common practice: 10 mm or a twentieth, whichever is more",
    needs=("actuators", "openings", "record"),
    states=("as-commissioned",),
    over="actuators",
    scope=measured,
)


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    for key, record in site.record.actuators.items():
        if lost := unread(site, "record/actuators", key, "measured_stroke_mm", "measured_gap_mm"):
            yield lost
        actuator = site.actuators.get(key)
        if actuator is None or (record.measured_stroke_mm is None and record.measured_gap_mm is None):
            continue
        if actuator.stroke_mm is None:
            yield Unknown("stroke_mm is not given, so what was measured contradicts nothing", (key,))
            continue
        faults = []
        if _apart(record.measured_stroke_mm, actuator.stroke_mm):
            said = f"a stroke of {record.measured_stroke_mm:g} mm was measured, {actuator.stroke_mm:g} mm is set"
            faults.append(("measured_stroke_mm", said))
        opening = site.openings.get(actuator.opening or "")
        opened = None if opening is None else opened_to(opening, actuator.stroke_mm)
        if record.measured_gap_mm is not None and opened is None:
            yield Unknown("the gap at the set stroke is not known", (key,))
        elif opened is not None and _apart(record.measured_gap_mm, opened.gap_mm):
            said = f"a gap of {record.measured_gap_mm:g} mm was measured, the set stroke opens {opened.gap_mm:.4g} mm"
            faults.append(("measured_gap_mm", said))
        if faults:
            at, *others = (join("record", "actuators", key, field) for field, _ in faults)
            words = "; ".join(said for _, said in faults)
            cure = "measure again, then mend the plan or the stroke"
            yield Problem(f"actuators/{key}", at, f"{key}: {words}; {cure}", tuple(others))


def _apart(measured: float | None, planned: float) -> bool:
    return measured is not None and abs(measured - planned) > max(SLACK_MM, SLACK_SHARE * planned) * (1 + 1e-9)
