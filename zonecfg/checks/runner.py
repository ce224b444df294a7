"""Runs every check over a site, gives each problem its place, and lays accepted findings aside."""

from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from datetime import date

from msgspec import Struct, structs

from zonecfg.checks.cures import without_judgement
from zonecfg.checks.registry import Check, Enrolled, entries
from zonecfg.checks.verdicts import Verdict, verdicts
from zonecfg.document.places import Place, Places
from zonecfg.figures import Figures
from zonecfg.model.evidence import Acceptance
from zonecfg.model.site import Site
from zonecfg.results.finding import Finding, NotChecked, Problem, Related, Unknown
from zonecfg.results.pointer import covers


class Judged(Struct, frozen=True):
    """What the checks found of one site."""

    findings: list[Finding]
    not_checked: list[NotChecked]
    verdicts: Mapping[str, Verdict] = {}


def judge(
    figures: Figures,
    *,
    file: str | None,
    places: Places | None,
    today: date,
    reading: Iterable[Finding] = (),
) -> Judged:
    """Run every check that applies to the state of a site.

    Parameters
    ----------
    figures
        The site with everything computed about it.
    file, places
        Where the site stands; both None for a state that is only predicted.
    today
        The day that acceptances are judged by.
    reading
        Findings of reading this file; no acceptance silences them.

    Returns
    -------
    Judged
        Findings in order, accepted ones marked; and what could not be judged.
    """
    site = figures.site
    findings, not_checked = list(reading), []
    refused = {place.split("/")[1] for place in site.unknown if "/" in place}
    for entry in entries().values():
        if site.state is None and entry.problems is not None:
            because = "it is not known whether this is a plan, a plant or a copy"
            not_checked.append(NotChecked(check=entry.check.id, file=file, because=because))
        if not entry.judges(site.state):
            continue
        for result in _results(entry, figures):
            if isinstance(result, Unknown):
                because = _because(result, refused)
                not_checked.append(NotChecked(check=entry.check.id, file=file, because=because, ids=result.ids))
            else:
                findings.append(placed(entry.check, result, file, places))
    findings, used = _accept(findings, site, today)
    for check, result in _of_acceptances(site, used, not_checked, today):
        if isinstance(result, Unknown):
            not_checked.append(NotChecked(check=check.id, file=file, because=result.because, ids=result.ids))
        else:
            findings.append(placed(check, result, file, places))
    findings.sort(key=lambda f: f.order)
    return Judged(findings, _merged(not_checked), verdicts(figures, findings, not_checked))


def _because(unknown: Unknown, refused: AbstractSet[str]) -> str:
    """Say why: what is not there of a thing that was refused in part may be given, and wrongly."""
    if refused and (not refused.isdisjoint(unknown.ids) or any(f"site.{name}" in unknown.because for name in refused)):
        return unknown.because.replace(" not given", " not known")
    return unknown.because


def _results(entry: Enrolled, figures: Figures) -> Iterator[Problem | Unknown]:
    site = figures.site
    assert entry.problems is not None  # noqa: S101  (what judges a state has a function)
    lost = [section for section in entry.check.needs if section in site.unknown]
    if lost:
        yield Unknown(f"{' and '.join(lost)} could not be read")
        return
    yield from entry.problems(site, figures)


def placed(check: Check, problem: Problem, file: str | None, places: Places | None) -> Finding:
    """Give a problem its place; with one other place in the same file the message names that line."""
    place = places.of(problem.at) if places is not None else None
    line, column, end_column = place or (None, None, None)
    related = tuple(_related(pointer, file, places) for pointer in problem.related)
    lines = [other.line for other in related if other.line is not None]
    where = f" (line{'s' * (len(lines) > 1)} {', '.join(map(str, lines))})" if lines else ""
    return Finding(
        check=check.id,
        severity=problem.severity or check.severity,
        about=problem.about,
        file=file,
        at=problem.at,
        line=line,
        column=column,
        end_column=end_column,
        message=problem.message + where,
        related=related,
        subjects=tuple(sorted(set(problem.subjects))) or (problem.about,),
        figure=_rounded(problem.size.figure) if problem.size else None,
        limit=_rounded(problem.size.limit) if problem.size else None,
        unit=problem.size.unit if problem.size else None,
        cures=without_judgement(problem.cures),
    )


def _rounded(figure: float) -> float:
    """Leave out digits that no tape and no meter shows."""
    return float(f"{figure:.6g}")


def _related(pointer: str, file: str | None, places: Places | None) -> Related:
    place: Place | None = places.of(pointer) if places is not None else None
    return Related(file, pointer, place.line if place else None, place.column if place else None)


def _merged(entries: Iterable[NotChecked]) -> list[NotChecked]:
    """One entry a check and reason of the file, its ids gathered in the order they came."""
    ids: dict[tuple[str, str | None, str], dict[str, None]] = {}
    for entry in entries:
        ids.setdefault((entry.check, entry.file, entry.because), {}).update(dict.fromkeys(entry.ids))
    merged = [NotChecked(check=c, file=f, because=b, ids=tuple(names)) for (c, f, b), names in ids.items()]
    return sorted(merged, key=lambda e: (e.check, e.because))


def accepts(acceptance: Acceptance, found: Finding) -> bool:
    """Whether an acceptance speaks of a finding: by check, and by pointer, a prefix of it, or the thing as printed.

    What cannot be read cannot be lived with: it is not known what the plan says there.
    """
    if acceptance.check != found.check or acceptance.at is None or _of_reading(found.check):
        return False
    at = acceptance.at.rstrip("/") or "/"
    at = at if at.startswith("/") else f"/{at}"
    return covers(at, found.at) or at == "/" + found.about


def _of_reading(check: str) -> bool:
    return check in entries() and entries()[check].family == "reading"


def expired(acceptance: Acceptance, today: date) -> bool:
    """Whether the last day of an acceptance is over."""
    return acceptance.until is not None and date.fromisoformat(acceptance.until) < today


def _accept(findings: list[Finding], site: Site, today: date) -> tuple[list[Finding], dict[int, list[Finding]]]:
    """Mark the findings that are accepted; one whose last day could not be read accepts nothing."""
    used: dict[int, list[Finding]] = {}
    if not site.accepted:
        return findings, used
    marked = []
    for found in findings:
        by: Acceptance | None = None
        for index, acceptance in enumerate(site.accepted):
            if accepts(acceptance, found):
                used.setdefault(index, []).append(found)
                over = expired(acceptance, today) or f"accepted/{index}/until" in site.unknown
                if by is None and not over:
                    by = acceptance
        marked.append(found if by is None else _marked(found, by))
    return marked, used


def _marked(found: Finding, by: Acceptance) -> Finding:
    reason = by.because or "no reason given"
    return structs.replace(found, accepted=reason, accepted_by=by.by, accepted_until=by.until)


def _of_acceptances(
    site: Site, used: Mapping[int, list[Finding]], unchecked: Iterable[NotChecked], today: date
) -> Iterator[tuple[Check, Problem | Unknown]]:
    """What is wrong with the acceptances themselves."""
    known = entries()
    if site.state == "saved" or not site.accepted:
        return
    for index, acceptance in enumerate(site.accepted):
        if acceptance.check is None or acceptance.at is None:
            continue
        at = f"/accepted/{index}"
        place = acceptance.at if acceptance.at.startswith("/") else f"/{acceptance.at}"
        about = f"accepted/{acceptance.check}{place}"
        found = used.get(index, [])
        what = f"{acceptance.check} at {acceptance.at}"
        if _of_reading(acceptance.check):
            message = f"{acceptance.check} is a fault of reading; none can be accepted: mend it where it stands"
            yield known["acceptance-unused"].check, Problem(about, at, message)
        elif not found and _may_be_hidden(site, acceptance, unchecked):
            because = f"{acceptance.check} could not be checked there"
            yield known["acceptance-unused"].check, Unknown(because)
        elif not found:
            message = f"nothing is found any more that this accepts: {what}; take it out"
            yield known["acceptance-unused"].check, Problem(about, at, message)
        elif expired(acceptance, today):
            message = f"accepted until {acceptance.until}, which is over: {what} is open again"
            yield known["acceptance-expired"].check, Problem(about, at, message)
        errors = [f for f in found if f.severity == "error"]
        lacks = [name for name in ("by", "until") if getattr(acceptance, name) is None]
        if errors and lacks:
            message = f"an error is accepted here without saying {' and '.join(_LACKS[name] for name in lacks)}"
            yield known["acceptance-unexplained"].check, Problem(about, at, message)


def _may_be_hidden(site: Site, acceptance: Acceptance, unchecked: Iterable[NotChecked]) -> bool:
    """Whether the finding that is accepted may be there, and its check could not run."""
    named = set((acceptance.at or "").split("/"))
    return any(
        entry.check == acceptance.check
        and (site.unknown or not entry.ids or any(named.intersection(name.split("/")) for name in entry.ids))
        for entry in unchecked
    )


_LACKS: dict[str, str] = {"by": "by whom", "until": "until when"}
