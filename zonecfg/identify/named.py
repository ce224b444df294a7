"""The worksheet with the serials that were named, for ``record``."""

import msgspec

from zonecfg.figures import Figures
from zonecfg.results.identified import Identified
from zonecfg.sheets.sheet import Sheet, sheet_of


def sheet_of_serials(figures: Figures, answer: Identified, *, notes: bool) -> Sheet:
    """Fill in every serial of which it is certain whose it is.

    Parameters
    ----------
    figures
        Figures of the plan.
    answer
        A decoded sheet.
    notes
        Whether the form has room to say between which serials the labels decide.
    """
    serials, undecided = _serials(answer)
    sheet = sheet_of(figures)
    rows = []
    for row in sheet.tables["actuators"]:
        actuator = str(row["id"])
        more = {"serial": serials[actuator]} if actuator in serials else {}
        more |= {"note": undecided[actuator]} if notes and actuator in undecided else {}
        rows.append({**row, **more})
    return msgspec.structs.replace(sheet, tables={**sheet.tables, "actuators": tuple(rows)})


def _serials(answer: Identified) -> tuple[dict[str, str], dict[str, str]]:
    """Serials that are certain by actuator, and of the others of a named window what the labels have to say."""
    serials = {p.actuator: p.serial for p in answer.by_set if p.actuator is not None}
    notes: dict[str, str] = {}
    members = {window.opening: window.actuators for window in answer.windows}
    for window in answer.seen.windows if answer.seen else ():
        if window.result == "named" and window.differs:
            notes |= dict.fromkeys(members[window.opening], f"not filled in: {'; '.join(window.differs)}")
        elif window.result == "named":
            serials |= window.actuators
            for actuator in members[window.opening]:
                if actuator not in window.actuators:
                    notes[actuator] = f"one of {' and '.join(window.serials)}; the label says which"
    return serials, notes
