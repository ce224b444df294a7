"""A key is not part of the format.

Why
    A misspelt key would be read past, and what it says would count as not known.
Wrong
    openings:
      W-01: {room: studio, widht_mm: 900}
Right
    Spell it as the format does; a key of your own begins with x-.

        openings:
          W-01: {room: studio, width_mm: 900, x-frame: oak}
"""

from zonecfg.checks.registry import Check

CHECK = Check("unknown-key", "error", source="the plan's own format")
