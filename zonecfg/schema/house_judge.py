"""Judges data by somebody's own JSON Schema: run as a process of its own, since a pattern may backtrack for ever.

Reads one JSON object, ``{data, schema, root, base}``, from standard input; says ``ready`` before it judges, and writes
a JSON list of faults. ``$ref`` is followed within the schema, and to files inside the repository; nothing is fetched.
"""

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from jsonschema import ValidationError
from jsonschema.exceptions import SchemaError
from jsonschema.validators import Draft202012Validator, validator_for
from referencing import Registry, Resource
from referencing.exceptions import NoSuchResource, Unresolvable
from referencing.jsonschema import DRAFT202012

MOST = 500
"""Faults told of one schema."""


class Outside(Exception):
    """A reference leaves the repository."""


def retrieving(root: Path) -> Any:
    """Give what reads a referred file, as long as it lies in the repository."""

    def retrieve(uri: str) -> Resource[Any]:
        parts = urlsplit(uri)
        if parts.scheme != "file" or parts.netloc:
            raise Outside(f"$ref {uri} leads outside of the repository; nothing is fetched")
        path = Path(unquote(parts.path)).resolve()
        if not path.is_relative_to(root):
            raise Outside(f"$ref to {path.name} leads outside of the repository")
        if not path.is_file():
            raise NoSuchResource(uri)
        return Resource.from_contents(json.loads(path.read_bytes()), default_specification=DRAFT202012)

    return retrieve


def judged(data: Any, schema: Any, base: Path, root: Path) -> Iterator[dict[str, Any]]:
    """Give every fault: where in the data, by which keyword, in which words, and how grave.

    Raises
    ------
    SchemaError
        It is no schema.
    """
    kind = validator_for(schema, default=Draft202012Validator)
    kind.check_schema(schema)
    registry: Any = Registry(retrieve=retrieving(root))  # type: ignore[call-arg]
    located = {**schema, "$id": schema.get("$id", base.as_uri())} if isinstance(schema, dict) else schema
    validator = kind(located, registry=registry, format_checker=kind.FORMAT_CHECKER)
    for error in validator.iter_errors(data):
        yield {
            "path": [str(step) for step in error.absolute_path],
            "keyword": [str(step) for step in error.absolute_schema_path],
            "message": error.message[:300],
            "says": _annotated(schema, error, "x-message"),
            "severity": _annotated(schema, error, "x-severity"),
        }


def _annotated(schema: Any, error: ValidationError, name: str) -> str | None:
    """Read what the nearest subschema around a fault says of it, from the whole schema down to the fault's own."""
    around = [schema]
    for step in error.absolute_schema_path:
        try:
            around.append(around[-1][step])
        except (KeyError, IndexError, TypeError):  # behind a reference: what is nearer stands with the fault itself
            break
    parts = [part for part in (*around, error.schema) if isinstance(part, dict)]
    said = [part[name] for part in parts if isinstance(part.get(name), str)]
    return str(said[-1]) if said else None


def main() -> None:
    """Judge what standard input holds."""
    asked = json.loads(sys.stdin.buffer.read())
    sys.stdout.write("ready\n")
    sys.stdout.flush()
    answer: dict[str, Any] = {"faults": []}
    try:
        found = judged(asked["data"], asked["schema"], Path(asked["base"]), Path(asked["root"]))
        for number, fault in enumerate(found):
            if number == MOST:
                answer["more"] = True
                break
            answer["faults"].append(fault)
    except SchemaError as error:
        answer = {"bad": f"is no schema: {error.message[:300]}", "at": [str(step) for step in error.absolute_path]}
    except (Outside, Unresolvable, NoSuchResource) as error:
        answer = {"bad": str(error.__cause__ if isinstance(error.__cause__, Outside) else error)[:300], "at": []}
    except RecursionError:
        answer = {"bad": "refers to itself without end", "at": []}
    except Exception as error:
        answer = {"bad": f"cannot be applied: {str(error)[:300]}", "at": []}
    json.dump(answer, sys.stdout)


if __name__ == "__main__":
    main()
