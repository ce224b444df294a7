"""A file, or a part of it, cannot be read.

Why
    What cannot be read cannot be judged, so the whole file counts as unknown.
Wrong
    openings:
      W-01: &base {width_mm: 900}
      W-02: *base
Right
    Mend the text at this place. Anchors and tags let one line mean different
    things to different readers: what things have in common, a type says.

        types:
          openings:
            base: {width_mm: 900}
        openings:
          W-01: {type: base, room: studio}
"""

from zonecfg.checks.registry import Check

CHECK = Check(
    "unreadable-file",
    "error",
    source="YAML 1.2.2; the plan's own format, which leaves out anchors, aliases, merge keys, tags and directives",
)
