"""Data against the schemas: what does not fit, and what is left without it."""

from zonecfg.schema.fault import SchemaFault
from zonecfg.schema.files import folder, schema_of
from zonecfg.schema.gate import faults
from zonecfg.schema.pruning import pruned
from zonecfg.schema.secrets import names_a_secret

__all__ = ["SchemaFault", "faults", "folder", "names_a_secret", "pruned", "schema_of"]
