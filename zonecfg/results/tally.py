"""Findings of many sites, counted: each site with what is open in it, and which checks find most."""

from collections.abc import Iterable
from pathlib import PurePosixPath

from msgspec import Struct

from zonecfg.results.finding import FileSummary, Finding, Summary, summarise


class SiteTally(Struct, frozen=True, kw_only=True):
    """What is open in one site: its folder, its files, how many of them could not be read, its findings."""

    site: str
    files: int
    unread: int
    findings: Summary


class CheckTally(Struct, frozen=True, kw_only=True):
    """How often a check found something, and in how many sites."""

    check: str
    findings: int
    sites: int


def site_of(file: str) -> str:
    """Folder of the site that a file belongs to; saved copies lie one level below it."""
    folder = PurePosixPath(file).parent
    return str(folder.parent if folder.name == "saved" else folder)


def tallied(files: Iterable[FileSummary], findings: Iterable[Finding]) -> tuple[SiteTally, ...]:
    """Count by site, those with the worst findings first.

    What stands in a catalogue that lies outside all sites is counted under its own folder.
    """
    files_of: dict[str, list[FileSummary]] = {}
    found_in: dict[str, list[Finding]] = {}
    for file in files:
        files_of.setdefault(site_of(file.path), []).append(file)
    for found in findings:
        if found.file is not None:
            found_in.setdefault(site_of(found.file), []).append(found)
    sites = [
        SiteTally(
            site=site,
            files=len(files_of.get(site, ())),
            unread=sum(file.actuators is None for file in files_of.get(site, ())),
            findings=summarise(found_in.get(site, ())),
        )
        for site in dict.fromkeys((*files_of, *found_in))
    ]
    return tuple(sorted(sites, key=lambda s: (-s.findings.error, -s.findings.warning, -s.findings.note, s.site)))


def most_frequent(findings: Iterable[Finding]) -> tuple[CheckTally, ...]:
    """Count open findings by check, those that find most first."""
    sites: dict[str, list[str]] = {}
    for found in findings:
        if found.accepted is None and found.file is not None:
            sites.setdefault(found.check, []).append(site_of(found.file))
    tallies = [CheckTally(check=c, findings=len(where), sites=len(set(where))) for c, where in sites.items()]
    return tuple(sorted(tallies, key=lambda t: (-t.findings, -t.sites, t.check)))
