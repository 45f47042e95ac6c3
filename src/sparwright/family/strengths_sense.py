"""Whether what a file says of coupons, editions, knock-downs and read values makes sense."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import fields

from sparwright.data.loader import Material, cables, fasteners, material, materials
from sparwright.family.confirmed import is_day
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.strengths import LEAST, ConfirmedValues, CouponSeries, Strengths, alike

PROPERTIES = tuple(f.name for f in fields(Material) if f.metadata.get("unit") == "Pa")
OF_JOINT = ("shear", "tension", "bearing")
WIDE = 5.0  # greatest over least result of a series: more is a slip of the pen
UNIT = re.compile(r"[A-Za-z][A-Za-z0-9]*\s*$")


def check_strengths(strengths: Strengths | None, whole: Entry, faults: Faults) -> None:
    """Every row names what is on file, once, with results that can be used."""
    if strengths is None:
        return
    spot = whole["strengths"]
    many = Counter(alike(s) for s in strengths.coupons if s.use for _ in (*s.results, *s.forces))
    for i, series in enumerate(strengths.coupons):
        _series(series, spot.nearest("coupons", i), many[alike(series)], faults)
    _once(((alike(s), s.batch) for s in strengths.coupons), spot.nearest("coupons"), "batch", faults)
    for i, choice in enumerate(strengths.editions):
        here = spot.nearest("editions", i)
        known = {r.edition for rows in _rows(choice.material) for r in rows}
        if known and choice.edition not in known:
            faults.wrong(here.nearest("edition"), f"is no edition of {choice.material}{hint(choice.edition, known)}")
    _once((c.material for c in strengths.editions), spot.nearest("editions"), "material", faults)
    for i, down in enumerate(strengths.knock_downs):
        here = spot.nearest("knock_downs", i)
        _values(down.values, PROPERTIES, here, faults)
        if (down.temperature is None) == (down.moisture is None):
            faults.add(
                here, "says either the temperature or the moisture it holds for", example='temperature = "344 K"'
            )
    for i, one in enumerate(strengths.confirmed):
        _confirmed(one, spot.nearest("confirmed", i), faults)


def _rows(key: str) -> Iterable[tuple]:  # type: ignore[type-arg]
    return material(key).rows.values() if key in materials() else ()


def _series(series: CouponSeries, here: Entry, pooled: int, faults: Faults) -> None:
    """One series: what it is of, its results, its day."""
    if bool(series.material) == (series.joint != "none"):
        faults.add(here, "is of a material or of a joint, one of them", example='material = "birch-ply"')
        return
    _values((series.property,), PROPERTIES if series.material else OF_JOINT, here, faults, "property")
    _joint(series, here, faults)
    _results(series, here, faults)
    if series.use and pooled < LEAST and (series.results or series.forces):
        wanted = f"cannot be used with {pooled} results: at least {LEAST} of one test; break {LEAST - pooled} more"
        faults.add(here.nearest("use"), wanted, "true", "use = false")
    _day(series.when, here, faults)


def _joint(series: CouponSeries, here: Entry, faults: Faults) -> None:
    if series.joint in ("rivet", "bolt") and series.fastener not in fasteners():
        spot = here.nearest("fastener")
        faults.add(spot, f"is no bolt or rivet on file{hint(series.fastener, fasteners())}", series.fastener,
                   'fastener = "AN3"')  # fmt: skip
    if series.joint != "none" and not series.of:
        faults.add(here, "a joint says what it is of", example='of = ["spruce", "birch-ply"]')
    for j, key in enumerate(series.of):
        if key not in materials():
            faults.wrong(here.nearest("of", j), f"is not a material we know{hint(key, materials())}")


def _results(series: CouponSeries, here: Entry, faults: Faults) -> None:
    """Results in one unit, of one kind, near one another."""
    if bool(series.results) == bool(series.forces):
        faults.add(here, "gives its results as stresses or as forces, one of them",
                   example='results = ["61 MPa", "58 MPa"]')  # fmt: skip
        return
    key = "results" if series.results else "forces"
    spot, got = here.nearest(key), series.results or series.forces
    if series.material and key == "forces":
        faults.add(spot, "a material's results are stresses: force over area", example='results = ["61 MPa"]')
    if series.joint in ("rivet", "bolt") and key == "results":
        faults.add(spot, "a fastener's results are forces on one of them", example='forces = ["255 lbf"]')
    if len(got) < 2:
        faults.add(spot, "one result says nothing of the scatter; at least two are wanted, five to be used")
    units = {m[0].strip() for e in spot.value if isinstance(e.value, str) and (m := UNIT.search(e.value))}
    if len(units) > 1:
        faults.add(spot, f"mixes units ({', '.join(sorted(units))}); write a series in one")
    if max(got) > WIDE * min(got):
        faults.add(spot, f"has a greatest result more than {WIDE:.0f} times the least; is a point or a unit wrong?")


def _confirmed(one: ConfirmedValues, here: Entry, faults: Faults) -> None:
    """What was read is on file."""
    if sum(map(bool, (one.material, one.fastener, one.cable))) != 1:
        faults.add(here, "is of a material, a fastener or a cable, one of them", example='material = "4130N"')
        return
    if one.fastener and one.fastener not in fasteners():
        spot = here.nearest("fastener")
        faults.wrong(spot, f"is no bolt or rivet on file{hint(one.fastener, fasteners())}")
    sizes = [c.diameter for c in cables() if c.construction == one.cable]
    if one.cable and not any(one.diameter and abs(d - one.diameter) < 1e-5 for d in sizes):
        faults.add(here, "is no cable on file: construction and diameter", one.cable, 'cable = "1x19"')
    if one.material in materials():
        known: tuple[str, ...] = tuple(material(one.material).rows)
    else:
        known = ("shear", "tension") if one.fastener else ("carbon", "stainless")
    _values(one.values, known, here, faults)
    editions = {r.edition for rows in _rows(one.material) for r in rows}
    if one.edition and editions and one.edition not in editions:
        faults.wrong(here.nearest("edition"), f"is no edition of {one.material}{hint(one.edition, editions)}")
    _day(one.when, here, faults)


def _values(names: Iterable[str], known: Iterable[str], here: Entry, faults: Faults, key: str = "values") -> None:
    for j, name in enumerate(names):
        if name not in known:
            spot = here.nearest(key, j) if key == "values" else here.nearest(key)
            faults.add(spot, f"is no value we know here{hint(name, known)}", repr(name))


def _day(when: str, here: Entry, faults: Faults) -> None:
    if not is_day(when):
        faults.wrong(here.nearest("when"), "is a day, year-month-day", 'when = "2026-03-01"')


def _once(keys: Iterable[object], spot: Entry, name: str, faults: Faults) -> None:
    seen: set[object] = set()
    for i, key in enumerate(keys):
        if key in seen:
            faults.add(spot.nearest(i, name), "is there twice; put it together in one table")
        seen.add(key)
