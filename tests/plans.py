"""Small plans as data, and what checks say of them, without files.

``moving_sets`` is a plain reading of what may move together; it knows nothing of the program's own.
"""

from __future__ import annotations

import copy
from itertools import combinations, pairwise, product
from typing import TYPE_CHECKING, Any

import yaml
from marked_examples import ROOT

from zonecfg.checks.registry import entry
from zonecfg.document.reader import read
from zonecfg.figures import Figures
from zonecfg.model.build import build
from zonecfg.model.grammar import grammar
from zonecfg.model.site import Site
from zonecfg.results.finding import Problem, Unknown

if TYPE_CHECKING:
    from collections.abc import Iterator

Data = dict[str, Any]

SASH: Data = {
    "hinge": "top-hung", "opens": "outward", "width_mm": 900, "height_mm": 1000, "sash_mass_kg": 25, "stays": "none",
    "lock": "none", "seal_n_per_m": 5, "sheltered": True,
}  # fmt: skip
ACTUATOR: Data = {
    "kind": "chain", "stroke_max_mm": 1000, "thrust_n": 500, "hold_n": 300, "voltage_min_v": 20.4, "running_a": 0.8,
    "peak_a": 1.0, "idle_a": 0.02, "bus_unit_load": 0.25, "along_hinge_max_mm": 1000, "hinge_to_edge_min_mm": 450,
}  # fmt: skip
CONTROLLER: Data = {
    "moves_at_once": 8, "bus": {"unit_loads": 32, "length_m": 1200, "stub_m": 1.5}, "bus_unit_load": 1, "idle_a": 0.15,
    "output_a": 10,
}  # fmt: skip
PAIR: Data = {"conductor_mm2": 2.5, "conductor_class": 5, "current_max_a": 18}


def plan(**sections: Any) -> Data:
    """Make a plan with one window: types ``sash``, ``chain``, ``hall``, ``psu``, ``plate`` and ``pair`` to begin with.

    A section given is put over what stands there, thing by thing; ``types_<section>`` reaches into the types.
    """
    data: Data = {
        "format": "zonecfg-site/1",
        "state": "as-designed",
        "site": {"name": "Larkenby Hall", "wind_m_s": 12},
        "types": {
            "openings": {"sash": dict(SASH)},
            "actuators": {"chain": dict(ACTUATOR)},
            "controllers": {"hall": copy.deepcopy(CONTROLLER)},
            "sensors": {"plate": {"measures": "rain", "connects": "bus", "running_a": 0.05, "bus_unit_load": 0.25}},
            "supplies": {"psu": {"output_v": 24, "output_a": 10, "fuse_a": 10}},
            "cables": {"pair": dict(PAIR)},
        },
        "rooms": {"room": {"use": "office"}},
        "openings": {"W-1": {"type": "sash", "room": "room", "sill_mm": 2600, "drop_mm": 300}},
        "actuators": {"A-1": {"type": "chain", "opening": "W-1", "stroke_mm": 250}},
        "groups": {"G": {"actuators": ["A-1"]}},
    }
    for name, value in sections.items():
        if name.startswith("types_"):
            types = data["types"][name.removeprefix("types_")]
            for key, fields in value.items():
                types[key] = {**types.get(key, {}), **fields}
        elif isinstance(value, dict):
            merged = {**data.get(name, {})}
            for key, fields in value.items():
                old = merged.get(key)
                merged[key] = {**old, **fields} if isinstance(old, dict) and isinstance(fields, dict) else fields
            data[name] = merged
        else:
            data[name] = value
    return data


def site_of(data: Data, unknown: frozenset[str] = frozenset()) -> Site:
    """Give the model of clean data."""
    return build(data, data["types"], unknown)


def problems(data: Data, check: str, unknown: frozenset[str] = frozenset()) -> list[Problem]:
    """Give what a check finds."""
    return [result for result in _results(data, check, unknown) if isinstance(result, Problem)]


def unknowns(data: Data, check: str, unknown: frozenset[str] = frozenset()) -> list[Unknown]:
    """Give what a check cannot judge."""
    return [result for result in _results(data, check, unknown) if isinstance(result, Unknown)]


def _results(data: Data, check: str, unknown: frozenset[str]) -> list[Problem | Unknown]:
    site, function = site_of(data, unknown), entry(check).problems
    assert function is not None
    return list(function(site, Figures(site)))


def line(*nodes: str, carries: list[str] | None = None, length_m: float = 5) -> Data:
    """Give the cables of one line through nodes."""
    return {
        f"K-{number}-{one}-{other}": {
            "from": one, "to": other, "length_m": length_m, "type": "pair", "carries": carries or ["power", "bus"],
        }
        for number, (one, other) in enumerate(pairwise(nodes))
    }  # fmt: skip


def fields(data: Data, section: str, thing: str) -> Data:
    """Give a thing's fields, those of its type below its own."""
    own = data[section][thing]
    return {**data["types"][section].get(own.get("type"), {}), **own}


def example(name: str) -> Data:
    """Give the data of an example, ``check`` its bad one or ``check/stem``; things say themselves what their types say.

    The types have nothing left to say, so that a finding stands on a thing's own field, and a field that is taken out
    is nowhere.
    """
    check, _, stem = name.partition("/")
    data: Any = read((ROOT / check / f"{stem or 'bad'}.yaml").read_bytes(), name, grammar().as_written).data
    for section in grammar().typed:
        kinds = data.get("types", {}).get(section, {})
        for thing, own in data.get(section, {}).items():
            data[section][thing] = {**copy.deepcopy(kinds.get(own.get("type"), {})), **own}
    data["types"] = {section: {kind: {} for kind in kinds} for section, kinds in data.get("types", {}).items()}
    return data  # type: ignore[no-any-return]


def changed(data: Data, changes: list[str]) -> Data:
    """Change data by words such as ``openings/W-01/lock: hand``; what has no value is taken out."""
    for change in changes:
        path, _, value = change.partition(":")
        *steps, field = path.split("/")
        holder = data
        for step in steps:
            holder = holder.setdefault(step, {})
        if value:
            holder[field] = yaml.safe_load(value)
        else:
            holder.pop(field, None)
    return data


def moving_sets(data: Data) -> Iterator[frozenset[str]]:
    """Give every set of actuators that may move together: of each controller any sashes, as many as it moves at once.

    Every actuator names its controller. Grows as two to the number of sashes: for small sites.
    """
    choices = []
    for controller in data["controllers"]:
        sashes: dict[str, list[str]] = {}
        for actuator, own in data["actuators"].items():
            if own["controller"] == controller:
                sashes.setdefault(own["opening"], []).append(actuator)
        most = fields(data, "controllers", controller).get("moves_at_once", len(sashes))
        choices.append([c for n in range(min(most, len(sashes)) + 1) for c in combinations(sashes.values(), n)])
    for chosen in product(*choices):
        yield frozenset(actuator for sashes in chosen for sash in sashes for actuator in sash)


def drawn(data: Data, moving: frozenset[str]) -> dict[str, float]:
    """Give what everything draws while some actuators move [A]."""
    loads = {c: fields(data, "controllers", c)["idle_a"] for c in data["controllers"]}
    loads |= {s: fields(data, "sensors", s)["running_a"] for s in data.get("sensors", {})}
    return loads | {
        a: moving_a(data, a) if a in moving else fields(data, "actuators", a)["idle_a"] for a in data["actuators"]
    }


def moving_a(data: Data, actuator: str) -> float:
    """Give the larger of peak and running current [A]."""
    kind = fields(data, "actuators", actuator)
    return max((kind[name] for name in ("peak_a", "running_a") if name in kind), default=None)
