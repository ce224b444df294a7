"""Nothing is found that this accepts.

Why
    An acceptance that outlives its reason would hide the next fault of the
    kind. A fault of reading is never accepted: it is not known what the plan
    says there.
Wrong
    accepted:
      - check: group-spans-rooms
        at: /groups/studio-south      # which spans one room by now
        because: Open-plan floor.
Right
    Take it out.

        accepted: []
"""

from zonecfg.checks.registry import Check

CHECK = Check("acceptance-unused", "warning", source="common practice")
