"""Where in a record something stands, or would stand."""

from zonecfg.model.site import Site
from zonecfg.results.pointer import join


def record_at(site: Site, section: str, thing: str, field: str) -> str:
    """Pointer to a recorded field; to the thing's record, else to the thing itself, where it is not recorded."""
    record = getattr(site.record, section).get(thing)
    if record is None:
        return site.at(section, thing)
    if getattr(record, field) is None:
        return join("record", section, thing)
    return join("record", section, thing, field)
