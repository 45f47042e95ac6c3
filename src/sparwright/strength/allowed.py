"""The allowables a model rests on: every material, fastener, cable and tested joint in it, with its pedigree."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from sparwright.base.check import Result
from sparwright.base.record import number
from sparwright.data.loader import fasteners, material, materials
from sparwright.family.model import Model
from sparwright.strength.allow import allowable, cable_allowable, joint_allowable
from sparwright.strength.allowable import Allowable

HELD = ("fastener", "rivet", "bolt", "pin")  # keys of the family file that name a fastener
SKIPPED = ("strengths",)
SPOKEN = {
    "youngs": "Young's modulus",
    "breaking": "breaking load",
    "bearing_close": "bearing, hole close to the edge",
    "bending_limit": "bending, proportional limit",
    "compression_limit": "compression, proportional limit",
    "compression_across": "compression across the grain",
}
Use = tuple[float | None, float, str]  # thickness, m, grain, rad, and form of stock


@dataclass(frozen=True, kw_only=True)
class Allowed:
    """One line of the list."""

    id: str
    what: str  # material, fastener, cable or joint
    property: str
    where: str  # thicknesses and grain it is for; empty: all
    value: float = number("SI", "what is used, in `unit`; NaN when unknown")
    unit: str
    basis: str
    source: str
    mark: str
    open: str  # why it decides nothing
    allowable: Allowable


def allowed(model: Model) -> tuple[Allowed, ...]:
    """Every strength and stiffness the model's parts could be held against, materials first."""
    found = [row for key, uses in sorted(uses_of(model).items()) for row in _material(model, key, uses)]
    for key in sorted({v for _, name, v in _leaves(model) if name in HELD and v in fasteners()}):
        joint = "bolt" if fasteners()[key].kind == "bolt" else "rivet"
        found += [_line(key, p, "", joint_allowable(model, joint, p, fastener=key)) for p in ("shear", "tension")]
    for made, size in sorted(_cables(model)):
        one = cable_allowable(model, made, size)
        found.append(_line(f"{made}-cable-{size * 1000:.1f}mm".replace(".", "_"), "breaking", "", one))
    return (*found, *_joints(model))


def results(model: Model) -> tuple[Result, ...]:
    """The same as results `allowable.*`: caveat and range say why one decides nothing."""
    return tuple(
        Result(
            r.id,
            f"{property_words(r.property)} of {r.what}{', ' + r.where if r.where else ''}",
            r.value,
            r.unit,
            source=r.source,
            caveat=r.basis or r.open,
            steps=r.allowable.steps,
            outside_range=r.open,
        )
        for r in allowed(model)
    )


def property_words(name: str) -> str:
    """What a property is called in a sentence.

    >>> property_words("youngs"), property_words("shear_modulus")
    ("Young's modulus", 'shear modulus')
    """
    return SPOKEN.get(name, name.replace("_", " "))


def uses_of(model: Model) -> Mapping[str, frozenset[Use]]:
    """Materials of the model by key, with the thickness, grain and form of each use."""
    found: dict[str, set[Use]] = {}
    for record, name, value in _leaves(model):
        if name == "material" and value in materials():
            wall = getattr(record, "wall", None)
            thickness = getattr(record, "thickness", None) or wall
            form = "tube" if wall else "sheet" if thickness else ""
            found.setdefault(value, set()).add((thickness, getattr(record, "grain", 0.0), form))
    return {key: frozenset(uses) for key, uses in found.items()}


def _leaves(value: Any) -> Iterator[tuple[Any, str, Any]]:
    """(record, field, text or number) of everything within a record."""
    if is_dataclass(value) and not isinstance(value, type):
        for f in fields(value):
            inner = getattr(value, f.name)
            if f.name in SKIPPED:
                continue
            if isinstance(inner, (str, int, float)):
                yield value, f.name, inner
            else:
                yield from _leaves(inner)
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _leaves(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _leaves(inner)


def _cables(model: Model) -> set[tuple[str, float]]:
    return {
        (value, float(record.diameter))
        for record, name, value in _leaves(model)
        if name == "construction" and isinstance(getattr(record, "diameter", None), float)
    }


def _material(model: Model, key: str, uses: frozenset[Use]) -> Iterator[Allowed]:
    """A line for each value and for each group of uses that share it."""
    tested = {c.property for c in model.strengths.coupons if c.material == key} if model.strengths else set()
    for name in dict.fromkeys((*material(key).rows, *sorted(tested))):
        if name in ("density", "poisson"):
            continue
        groups: dict[tuple[str, str, str], tuple[Allowable, list[Use]]] = {}
        for use in sorted(uses, key=lambda u: (u[2], u[1], u[0] or 0.0)):
            one = allowable(model, key, name, use[0], grain=use[1], form=use[2])
            groups.setdefault((repr(one.value), one.basis, str(one.source)), (one, []))[1].append(use)
        many = len(groups) > 1
        for one, these in groups.values():
            yield _line(key, name, _where(these) if many else "", one)


def _where(uses: list[Use]) -> str:
    thick = sorted({u[0] for u in uses if u[0] is not None})
    turned = sorted({u[1] for u in uses if u[1]})
    said = [f"{thick[0] * 1000:.2f} mm" + (f" to {thick[-1] * 1000:.2f} mm" if len(thick) > 1 else "")] if thick else []
    return ", ".join([*sorted({u[2] for u in uses if u[2]}), *said, *(f"{math.degrees(g):.0f} deg" for g in turned)])


def _joints(model: Model) -> Iterator[Allowed]:
    """Joints that were tested and are no fastener of the model's own list."""
    seen: set[tuple[object, ...]] = set()
    for c in model.strengths.coupons if model.strengths else ():
        key = (c.joint, c.property, tuple(sorted(c.of)), round(c.grain, 3), c.thickness)
        if c.joint == "none" or c.fastener or key in seen:
            continue
        seen.add(key)
        one = joint_allowable(model, c.joint, c.property, of=c.of, grain=c.grain, thickness=c.thickness)
        yield _line(f"{c.joint}-{'-'.join(sorted(c.of))}", c.property, _where([(c.thickness, c.grain, "")]), one)


def _line(what: str, name: str, where: str, one: Allowable) -> Allowed:
    own = "." + where.replace(" ", "-").replace(",", "").replace(".", "_") if where else ""
    return Allowed(
        id=f"allowable.{what.replace('/', '-')}.{name}{own}",
        what=what,
        property=name,
        where=where,
        value=one.value,
        unit=one.unit,
        basis=one.basis,
        source=_pedigree(one),
        mark=one.source.mark,
        open=one.open,
        allowable=one,
    )


def _pedigree(one: Allowable) -> str:
    """Where it is from and who has read it."""
    read = next((s.source.split("; ", 1)[1] for s in one.steps[:1] if "; read by " in s.source), "")
    return str(one.source) + (f"; {read}" if read else "")
