"""A JSON Schema of the family file, so that editors complete and check it. Made from the records, never written.

Models say only what differs, so tables that can be inherited require nothing here; the reader does.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from typing import Any

from sparwright.base.quantity import EXAMPLES, pattern
from sparwright.base.source import MARKS
from sparwright.data.categories import categories
from sparwright.data.loader import materials
from sparwright.family.model import BladeStation, CurvePoint, Family, Measured, Model, PartPoint, records
from sparwright.family.schema import DIMENSION_OF, Head, Key, keys, own, top

Node = dict[str, Any]
WHOLE = (Head, CurvePoint, PartPoint, BladeStation, Measured)  # never laid over another, so complete where they stand
NAME = "^[A-Za-z][A-Za-z0-9_]*$"


def schema() -> Node:
    """The JSON Schema (draft 2020-12) of a family file."""
    shared = {k.name: _node(k) for k in top()}
    mine = {k.name: _node(k) for k in own()}
    less = "what it does not take from the family, as dotted keys"
    mine["without"] = {"type": "array", "items": {"type": "string"}, "description": less}
    mine["like"] = {"type": "string", "description": "the model whose tables it takes in place of the family's"}
    model = _closed(mine | shared)
    found = _by_name(model, "the models, by name")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Sparwright family file",
        **_closed({"family": _record(Head) | {"description": "the head of the file"}, "models": found} | shared),
        "required": ["family", "models"],
        "$defs": {r.__name__: _record(r) for r in records() if r not in (Model, Family)} | _quantities(),
    }


def _quantities() -> Node:
    """Text with a unit, for each dimension, with and without a sign."""
    return {
        _quantity_name(d, signed): {"type": "string", "pattern": pattern(d, signed=signed), "examples": [plain]}
        for d in DIMENSION_OF.values()
        for signed in (True, False)
        if (plain := EXAMPLES[d].split(" or ")[0].strip('"'))
    }


def _quantity_name(dimension: str, signed: bool) -> str:
    return dimension if signed else f"{dimension}_not_negative"


def text() -> str:
    """The schema as it is written to disk."""
    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"


def _closed(properties: Node) -> Node:
    return {"type": "object", "properties": properties, "additionalProperties": False}


def _by_name(node: Node, meaning: str = "") -> Node:
    named: Node = {"type": "object", "propertyNames": {"pattern": NAME}, "additionalProperties": node}
    return named | ({"description": meaning} if meaning else {})


def _record(kind: type) -> Node:
    node = _closed({k.name: _node(k) for k in keys(kind)})
    return node | ({"required": [k.name for k in keys(kind) if k.required]} if kind in WHOLE else {})


def _node(key: Key) -> Node:
    """The schema of one key."""
    return _FORMS[key.form](key) | {"description": key.meaning}


def _quantity(key: Key) -> Node:
    return {"$ref": f"#/$defs/{_quantity_name(key.dimension, key.bounds.low < 0)}"}


def _number(key: Key, kind: str) -> Node:
    b = key.bounds
    node: Node = {"type": kind}
    if math.isfinite(b.low):
        node["exclusiveMinimum" if b.open_low else "minimum"] = b.low
    if math.isfinite(b.high):
        node["exclusiveMaximum" if b.open_high else "maximum"] = b.high
    return node


def _words(key: Key) -> Node:
    if key.name == "material":
        return {"type": "string", "enum": sorted(materials())}
    return {"type": "string", "enum": list(MARKS)} if key.name == "mark" else {"type": "string"}


def _names(key: Key) -> Node:
    lists = {"categories": categories, "cut_outside": materials}
    known = {"enum": sorted(lists[key.name]())} if key.name in lists else {}
    return {"type": "array", "items": {"type": "string", **known}}


def _place(key: Key) -> Node:
    return {"type": "array", "items": _quantity(key), "minItems": 3, "maxItems": 3}


def _run(key: Key) -> Node:
    one = {"type": "array", "items": {"type": "string"}, "minItems": 2}
    return {"anyOf": [one, {"type": "array", "items": one, "minItems": 1}]}


def _points(key: Key) -> Node:
    pair = {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}
    return {"type": "array", "items": pair, "minItems": 20}


def _list(key: Key) -> Node:
    assert key.record
    return {"type": "array", "items": _table(key)} | ({"minItems": 2, "maxItems": 2} if key.size else {})


def _table(key: Key) -> Node:
    assert key.record
    return {"$ref": f"#/$defs/{key.record.__name__}"}


_FORMS: dict[str, Callable[[Key], Node]] = {
    "quantity": _quantity,
    "ratio": lambda k: _number(k, "number"),
    "count": lambda k: _number(k, "integer"),
    "flag": lambda k: {"type": "boolean"},
    "words": _words,
    "choice": lambda k: {"enum": list(k.choices)},
    "place": _place,
    "quantities": lambda k: {"type": "array", "items": _quantity(k)},
    "ratios": lambda k: {"type": "array", "items": _number(k, "number")},
    "names": _names,
    "points": _points,
    "run": _run,
    "table": _table,
    "tables": lambda k: _by_name(_table(k)),
    "list": _list,
    "places": lambda k: _by_name(_place(k)),
}
