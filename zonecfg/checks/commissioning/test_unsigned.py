"""A test has no day or no name.

Why
    A test that nobody signed proves nothing later: not who saw it, not whether it was before or
    after the last change.
Wrong
    record:
      actuators:
        A-01: {walk_test: pass}
Right
    Say when and by whom, for all that was seen of a thing, or test by test.

        record:
          actuators:
            A-01: {walk_test: pass, date: 2026-05-14, by: installer}
"""

from collections.abc import Iterator, Mapping

from zonecfg.checks.registry import Check
from zonecfg.figures import Figures
from zonecfg.figures.unread import unread
from zonecfg.model.evidence import signature
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown
from zonecfg.results.pointer import join
from zonecfg.results.words import listed

CHECK = Check("test-unsigned", "note", source="common practice", needs=("record",), over="actuators")


def problems(site: Site, figures: Figures) -> Iterator[Problem | Unknown]:
    """Yield what is wrong."""
    record = site.own.get("record")
    if not isinstance(record, Mapping):
        return
    for part, node in grammar().root.keys["record"].keys.items():
        held = record.get(part)
        tests = [name for name, key in node.each.keys.items() if key.said.signed] if node.each is not None else []
        for thing, fields in held.items() if isinstance(held, Mapping) else ():
            if lost := unread(site, f"record/{part}", thing, "date", "by", *tests):
                yield lost
                continue
            signs = {name: signature(fields, name) for name in tests if name in fields}
            lacking = {name: sign for name, sign in signs.items() if sign.date is None or sign.by is None}
            if not lacking:
                continue
            lacks = [
                w
                for w, has in (("day", "date"), ("name", "by"))
                if any(getattr(s, has) is None for s in lacking.values())
            ]
            section = node.section or part
            yield Problem(
                f"{section}/{thing}",
                join("record", part, thing, next(iter(lacking))),
                f"{listed(lacking)} of {thing} {'has' if len(lacking) == 1 else 'have'} no {' and no '.join(lacks)}",
            )
