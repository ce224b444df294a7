"""The last day of an acceptance is over.

Why
    What was good until a day has to be decided again after it.
Wrong
    accepted:
      - check: group-spans-rooms
        at: /groups/studio-south
        because: Until the wall is built.
        until: 2025-03-01
Right
    Decide again: mend it, or give a new day with who decided.

        accepted:
          - check: group-spans-rooms
            at: /groups/studio-south
            because: The wall comes next year.
            by: architect
            until: 2027-03-01
"""

from zonecfg.checks.registry import Check

CHECK = Check("acceptance-expired", "warning", source="common practice")
