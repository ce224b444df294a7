"""Data against the schemas: what does not fit, and what is left without it."""

from zonecfg.schema.fault import Fault
from zonecfg.schema.files import folder, load
from zonecfg.schema.gate import faults
from zonecfg.schema.pruning import pruned
from zonecfg.schema.secrets import names_a_secret

__all__ = ["Fault", "faults", "folder", "load", "names_a_secret", "pruned"]
