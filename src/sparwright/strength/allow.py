"""The strength that may be counted on, with its pedigree: the row taken, the designer's choice, tests, knock-downs.

A row from memory decides nothing silently: `open` says so until the designer has read it ([[strengths.confirmed]]),
tested it ([[strengths.coupons]] with use = true) or chosen an edition that was seen. What nobody prints stays NaN.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.loader import Material, cables, fasteners, material
from sparwright.data.printed import Printed, taken
from sparwright.family.model import Model
from sparwright.family.strengths import CouponSeries, KnockDown
from sparwright.strength import coupons
from sparwright.strength.allowable import Allowable

ROOM = 294.0  # K, about 21 C: what is printed is of this temperature, common practice
SINGLE = (
    1.5  # special factor on a laminate tested in one condition only; custom of sailplane and VLA rules (memory, low)
)
PROPERTIES = frozenset(f.name for f in fields(Material) if f.metadata.get("unit"))
GRAINED = ("wood", "plywood")
UNSEEN = ("memory", "common practice")
CLOSES = "read it and say so in [[strengths.confirmed]], or break coupons"


@dataclass(frozen=True)
class State:
    """How hot and how wet the material is; NaN: the worst that was tested or said."""

    temperature: float = number("K", "temperature", math.nan)
    moisture: float = number("1", "water by dry mass", math.nan)


WORST = State()


def allowable(
    model: Model,
    material_key: str,
    property: str,
    thickness: float | None = None,
    state: State = WORST,
    *,
    grain: float = 0.0,
    form: str = "",
) -> Allowable:
    """What a material can do in one way.

    property: a field of Material ("tension", "youngs"). thickness: m; None where it does not matter. state: heat and
    moisture; left out, the worst that the designer tested or said. grain: rad, load to the grain, face grain or warp.
    form: "sheet" or "tube" where the handbook tells them apart. Value NaN where nothing is printed or tested; KeyError
    for a material not on file or a name that is no field of Material.
    """
    stuff = material(material_key)
    if property not in PROPERTIES:
        raise KeyError(property)
    book = _from_book(model, stuff, property, thickness, grain, form)
    series = coupons.series_of(model, property=property, material=material_key, grain=grain, thickness=thickness)
    downs = [
        d
        for d in (model.strengths.knock_downs if model.strengths else ())
        if d.material == material_key and property in d.values
    ]
    tested = _from_coupons(book, series, state, laminate=stuff.kind == "glass" and not downs)
    if tested is None:
        return _knocked(_beside(book, series), downs, state)
    used = [s for s in series if s.use]
    hot = len({s.temperature for s in used}) > 1
    wet = len({s.moisture for s in used if s.moisture is not None}) > 1
    return _knocked(tested, [d for d in downs if not (wet if d.temperature is None else hot)], state)


def joint_allowable(
    model: Model,
    joint: str,
    property: str = "shear",
    *,
    of: Iterable[str] = (),
    fastener: str = "",
    grain: float = 0.0,
    thickness: float | None = None,
    state: State = WORST,
) -> Allowable:
    """What a joint can do by the designer's tests, or a bolt or rivet by what is printed of it.

    joint: glue, rivet, bolt, lug, weld, wood. of: keys of the materials joined. N for fasteners, else the unit of the
    results; left out, the weakest of those that were tested. Value NaN, with the reason, where nobody has tested it.
    """
    partners = tuple(of) or _weakest(model, joint, property, fastener, grain, thickness)
    name = f"{property} of {fastener or joint}"
    book = (
        _fastener(model, fastener, property)
        if fastener in fasteners()
        else Allowable(
            name=name,
            material="+".join(sorted(partners)),
            value=math.nan,
            source=Source("common practice", "", "common practice"),
            open=f"no test of this {joint} joint: break coupons",
        )
    )
    series = coupons.series_of(
        model, property=property, joint=joint, fastener=fastener, of=partners, grain=grain, thickness=thickness
    )
    book = replace(book, name=name)
    return _from_coupons(book, series, state) or _beside(book, series)


def _weakest(
    model: Model, joint: str, property: str, fastener: str, grain: float, thickness: float | None
) -> tuple[str, ...]:
    """The materials of the weakest of joints that were tested, by the mean; none where none was."""
    found = coupons.series_of(
        model, property=property, joint=joint, fastener=fastener, grain=grain, thickness=thickness
    )
    means = {tuple(sorted(s.of)): coupons.basis_of([s]).mean for s in found if s.use}
    return min(means, key=lambda key: means[key]) if means else ()


def cable_allowable(model: Model, construction: str, diameter: float, steel: str = "carbon") -> Allowable:
    """Least breaking strength, N, of a cable ("carbon" or "stainless"), without its ends; NaN when not on file."""
    name = f"{construction} cable, {steel}"
    for c in cables():
        if c.construction == construction and abs(c.diameter - diameter) < 1e-5:
            said = _read(model, (steel,), cable=construction, diameter=diameter)
            value, source = (c.carbon, c.source) if steel == "carbon" else (c.stainless, c.stainless_source)
            return _as_read(name, f"{construction} cable", value, "N", source, "minimum of spec", said)
    return Allowable(
        name=name,
        material=f"{construction} cable",
        value=math.nan,
        unit="N",
        open="no such cable is on file",
        source=Source("common practice", "", "common practice"),
    )


def _fastener(model: Model, key: str, property: str) -> Allowable:
    row = fasteners()[key]
    source = row.tension_source if property == "tension" else row.source
    value = {"shear": row.shear, "tension": row.tension}.get(property, math.nan)
    said = _read(model, (property,), fastener=key)
    return _as_read(f"{property} of {key}", key, value, "N", source, "minimum of spec", said)


def _as_read(name: str, what: str, value: float, unit: str, source: Source, basis: str, said: str) -> Allowable:
    """A printed value, open while nobody has read it."""
    why = "" if source.mark not in UNSEEN or said else f"{what}: {source}: recalled, not read: {CLOSES}"
    if math.isnan(value):
        why = f"{name}: nothing is printed of it on file: break coupons"
    printed = Step(f"{name} as printed", "printed value", (), value, unit, str(source) + (f"; {said}" if said else ""))
    return Allowable(
        name=name, material=what, value=value, unit=unit, source=source, basis=basis, open=why, steps=(printed,)
    )


def _from_book(model: Model, stuff: Material, name: str, thickness: float | None, grain: float, form: str) -> Allowable:
    """The printed row: of the designer's edition, else the lower; its fellows are told beside it."""
    rows = tuple(r for r in stuff.rows.get(name, ()) if not (form and r.form) or r.form == form)
    fit = _of_thickness(stuff, rows, thickness)
    turned = (
        grain > coupons.ANGLE
        and stuff.kind in GRAINED
        and not (
            stuff.kind == "plywood" and name in ("shear", "shear_modulus") and abs(grain - math.pi / 2) < coupons.ANGLE
        )
    )
    row = None if turned else taken(_chosen(model, stuff.key, fit))
    if row is None:
        return _nothing(stuff, name, rows, thickness, grain if turned else 0.0)
    said = _read(model, (name,), material=stuff.key, edition=row.edition)
    found = _as_read(name, stuff.key, row.value, row.unit, row.source, row.basis, said)
    others = tuple(
        Step(f"{name} of {stuff.key} in another edition, not used", "printed value", (), r.value, r.unit, str(r.source))
        for r in fit
        if r is not row
    )
    return replace(found, steps=(*found.steps, *others))


def _of_thickness(stuff: Material, rows: Sequence[Printed], thickness: float | None) -> list[Printed]:
    if thickness is not None:
        return [r for r in rows if r.holds(thickness)]
    used = stuff.sources.get(rows[0].name) if rows else None
    most = max((r.most for r in rows if r.source == used), default=math.inf)
    return [r for r in rows if r.least < most]


def _chosen(model: Model, key: str, rows: Sequence[Printed]) -> Sequence[Printed]:
    """Rows of the edition the designer works by; all where he has chosen none, or it does not print this value."""
    choice = next((c.edition for c in (model.strengths.editions if model.strengths else ()) if c.material == key), "")
    return [r for r in rows if r.edition == choice] or rows


def _nothing(stuff: Material, name: str, rows: Sequence[Printed], thickness: float | None, grain: float) -> Allowable:
    """Why no printed row is taken."""
    why = f"{name} of {stuff.key}: nothing is printed on file; break coupons"
    if rows and grain:
        turned = f"at {math.degrees(grain):.0f} deg to the grain"
        why = f"{name} of {stuff.key} {turned}: nothing is printed on file; break coupons"
    elif rows and thickness is not None:
        low, high = min(r.least for r in rows), max(r.most for r in rows)
        why = (
            f"{name} of {stuff.key} is printed from {low * 1000:.2f} to {high * 1000:.2f} mm, this is "
            f"{thickness * 1000:.2f} mm"
        )
    unit = rows[0].unit if rows else "Pa"
    source = rows[0].source if rows else stuff.source
    return Allowable(name=name, material=stuff.key, value=math.nan, unit=unit, source=source, open=why)


def _read(
    model: Model,
    names: Iterable[str],
    *,
    material: str = "",
    fastener: str = "",
    cable: str = "",
    diameter: float | None = None,
    edition: str = "",
) -> str:
    """Who has read those values, when and what; empty where nobody has."""
    for c in model.strengths.confirmed if model.strengths else ():
        if (c.material, c.fastener, c.cable) == (material, fastener, cable) and set(names) <= set(c.values):
            same = diameter is None or (c.diameter is not None and abs(c.diameter - diameter) < 1e-5)
            if same and (not c.edition or c.edition == edition):
                return c.said
    return ""


def _beside(book: Allowable, series: Sequence[CouponSeries]) -> Allowable:
    """What is printed, with tests that are told beside it but not used."""
    groups = coupons.by_condition(series)
    if not groups:
        return book
    lines = (replace(s, title=f"{s.title}, not used") for s in coupons.steps(coupons.basis_of(groups[0])))
    return replace(book, steps=(*book.steps, *lines))


def _from_coupons(
    book: Allowable, series: Sequence[CouponSeries], state: State, laminate: bool = False
) -> Allowable | None:
    """The designer's tests in place of what is printed; None where he does not use any. laminate: SINGLE is asked."""
    groups = coupons.by_condition(s for s in series if s.use)
    if not groups:
        return None
    base, others = coupons.basis_of(groups[0]), [coupons.basis_of(g) for g in groups[1:]]
    taken_off = [_ratio(base, other, state) for other in others]
    steps = [*book.steps, *coupons.steps(base), *(s for _, s, _ in taken_off)]
    left = min([1.0, *(f for f, _, _ in taken_off)])
    why = [base.open, *(w for _, _, w in taken_off), _beyond(groups, state)]
    if laminate and not others and base.basis != "mean":
        left /= SINGLE
        steps.append(
            Step(
                "tested in one condition only",
                "1/special factor",
                (("special factor", SINGLE, "1"),),
                left,
                "1",
                "common practice: custom of sailplane rules, recalled with low confidence",
            )
        )
    value = base.value * left
    first = groups[0][0]
    mark = "invented" if base.invented or any(o.invented for o in others) else "designer"
    place = f"coupons by {first.who}, {first.when}: {base.note}"
    if left < 1:
        steps.append(
            Step(
                f"{book.name} as used",
                "value times what is left",
                (("value", base.value, base.unit), ("left", left, "1")),
                value,
                base.unit,
            )
        )
    told = f"coupons of the designer, {base.basis}" + (", invented" if mark == "invented" else "")
    return Allowable(
        name=book.name,
        material=book.material,
        value=value,
        unit=base.unit,
        steps=tuple(steps),
        basis=told,
        source=Source(mark, place, mark),
        open="; ".join(x for x in why if x),
    )


def _ratio(base: coupons.Basis, other: coupons.Basis, state: State) -> tuple[float, Step, str]:
    """What is left in another tested condition: means over means, in a straight line from the first."""
    a, b = base.series[0], other.series[0]
    full = other.mean / base.mean
    share = _share(a.temperature, b.temperature, state.temperature)
    if b.moisture is not None and a.moisture is not None and b.moisture != a.moisture:
        share = max(share if b.temperature != a.temperature else 0.0, _share(a.moisture, b.moisture, state.moisture))
    left = 1 - (1 - full) * share
    why = (
        ""
        if len(other.results) >= 3
        else f"{len(other.results)} coupons tested at {b.temperature:.0f} K: three are wanted"
    )
    told = Step(
        f"what is left at {b.temperature:.0f} K{_wet(b)}",
        "1 - (1 - mean/mean) share",
        (("mean there", other.mean, other.unit), ("mean", base.mean, base.unit), ("share", share, "1")),
        left,
        "1",
        coupons.SOURCE,
    )
    return left, told, why


def _wet(series: CouponSeries) -> str:
    return "" if series.moisture is None else f", {series.moisture * 100:.0f} % water"


def _share(start: float, end: float, here: float) -> float:
    """How far along from start to end; all of it where nothing is said."""
    if math.isnan(here) or end == start:
        return 1.0
    return min(1.0, max(0.0, (here - start) / (end - start)))


def _beyond(groups: Sequence[Sequence[CouponSeries]], state: State) -> str:
    """Whether the state asked for lies beyond all that was tested."""
    hottest = max(g[0].temperature for g in groups)
    if state.temperature > max(hottest, ROOM) + 5:
        return f"tested up to {hottest:.0f} K, asked at {state.temperature:.0f} K"
    wettest = [g[0].moisture for g in groups if g[0].moisture is not None]
    if not math.isnan(state.moisture) and (not wettest or state.moisture > max(wettest) + 0.01):
        return f"not tested at {state.moisture * 100:.0f} % water"
    return ""


def _knocked(found: Allowable, downs: Iterable[KnockDown], state: State) -> Allowable:
    """With the designer's factors for heat and moisture."""
    for down in downs:
        found = _less(found, down, state)
    return found


def _less(found: Allowable, down: KnockDown, state: State) -> Allowable:
    share = 1.0 if down.temperature is None else _share(ROOM, down.temperature, state.temperature)
    left = 1 - (1 - down.factor) * share
    given = (("printed or tested", found.value, found.unit), ("factor", down.factor, "1"), ("share", share, "1"))
    step = Step(
        f"{found.name} as used, heat and moisture",
        "value (1 - (1 - factor) share)",
        given,
        found.value * left,
        found.unit,
        down.source,
    )
    too_hot = down.temperature is not None and state.temperature > down.temperature + 5
    why = f"the knock-down is said up to {down.temperature:.0f} K" if too_hot else ""
    return replace(
        found, value=found.value * left, steps=(*found.steps, step), open="; ".join(x for x in (found.open, why) if x)
    )
