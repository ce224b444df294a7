"""An error is accepted without saying by whom and until when.

Why
    An error can hurt somebody. Whoever lives with one stands for it by name, for a time.
Wrong
    accepted:
      - check: hand-lock-fitted
        at: /openings/W-05
        because: Kept unlocked.
Right
    Say by whom and until when.

        accepted:
          - check: hand-lock-fitted
            at: /openings/W-05
            because: Kept unlocked; the key is with the caretaker.
            by: facility manager
            until: 2027-03-01
"""

from zonecfg.checks.registry import Check

CHECK = Check("acceptance-unexplained", "error", source="common practice")
