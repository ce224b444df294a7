"""How much a file may ask of us. Every bound of reading stands here and nowhere else."""

MAX_BYTES = 40_000_000
"""Size of one file: twice what 50,000 actuators with their cables and records take."""

MAX_DEPTH = 50
"""Nesting of mappings and lists; a plan needs seven."""

MAX_SCALAR = 64 * 1024
"""Characters in one key or value."""

MAX_REFUSALS = 20
"""Faults of reading told of one file before reading stops."""
