"""A key is named like a secret.

Why
    A plan is read by many and its history is kept for ever. A PIN in it is
    no PIN any more.
Wrong
    controllers:
      C-1: {type: hall-controller, x-panel-pin: 1234}
Right
    Take it out, change the secret, and keep it where secrets are kept.

        controllers:
          C-1: {type: hall-controller, panel_locked: true}
"""

from zonecfg.checks.registry import Check

CHECK = Check("secret-in-plan", "error", source="common practice")
