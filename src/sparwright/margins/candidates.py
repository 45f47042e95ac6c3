"""What else a member could be made of, out of the stock on file, each with its least margin at the loads there are now.

Tubes of the same metal, cables of the same construction, sheets of the same stock, bolts; caps sawn to sixteenths of an
inch. Margins by the same functions as the proof, in every case: tubes.use_of, the spars' checks, lug, pin, cable.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check
from sparwright.base.quantity import gauge, stock_size
from sparwright.base.record import number
from sparwright.data.loader import cables, fasteners, material, sheets_of, tubes_of
from sparwright.family.model import Model, RoundTube, Spar, Wing
from sparwright.margins import braces
from sparwright.margins.metal_spars import metal_spar_checks
from sparwright.margins.sources import grained, strengths
from sparwright.margins.taken import USED
from sparwright.margins.tubes import WELDED, groups, lengths, right_of, stuff_of, use_of
from sparwright.margins.wood_spars import wood_spar_checks
from sparwright.margins.worst import ends_of, known_margin
from sparwright.parts.ends import spots
from sparwright.parts.frame import cable_mass, tube_area
from sparwright.parts.part import Assembly, Part
from sparwright.parts.struts import Pinned, pinned
from sparwright.strength.members import cable
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Cable

SIXTEENTH = 0.0254 / 16
CAPS = range(4, 33)  # sixteenths of an inch: caps from 1/4 to 2 in deep
SAME = 1e-6  # m: sizes nearer than this are one


@dataclass(frozen=True)
class Candidate:
    """One size."""

    stock: str
    margin: float = number("1", "least margin; NaN where it is not known in some case or place")
    heavier: float = number("1", "mass of the part with it over what it is; NaN where not worked out")
    thick: float = number("m", "wall or sheet; infinite where there is none")
    note: str = ""
    outside: float = number("m", "outside of a tube; NaN of everything else", math.nan)


@dataclass(frozen=True)
class Offered:
    """What is on file for a member."""

    stock: str  # what it is made of now
    parts: tuple[Part, ...] = ()  # that would change
    found: tuple[Candidate, ...] = ()
    why: str = ""  # why nothing is offered


OF_SPAR = ("caps", "caps_at_limit", "glue", "webs", "buckling")
NOT_YET = ("sizes are offered of tubes, wires, lugs, pins, bolts of fittings, caps, webs, ribs, skins, hinges, cables"
           " and rods of the controls alone")  # fmt: skip


def candidates(model: Model, answer: Answered, ids: Sequence[str], assembly: Assembly) -> Offered:
    """All sizes on file for the member that the checks of these ids are of, what it is made of now left out."""
    kind, *rest = ids[0].split(".")[1:]
    find: dict[str, Callable[[Model, Answered, list[str], Assembly], Offered]] = {
        "tube": _tubes, "wire": _wires, "lug": _lugs, "pin": _pins, "bolts": _bolts,
    }  # fmt: skip
    if kind in find:
        return find[kind](model, answer, rest, assembly)
    spar = (kind, *rest)
    if len(spar) == 3 and spar[2] in OF_SPAR and any(w.name == kind for w in model.wings):
        return _spars(model, answer, list(spar), assembly)
    return Offered("", (), (), NOT_YET)


# ------------------------------------------------------------------ tubes


def _tubes(model: Model, answer: Answered, rest: list[str], assembly: Assembly) -> Offered:
    name, bars = next((n, np.array(b)) for n, b in groups(answer).items() if _as_in_id(n) == ".".join(rest))
    bar = answer.skeleton.bars[int(bars[0])]
    made = bar.made
    assert isinstance(made, RoundTube)
    loads, long = ends_of(answer.force[:, :, bars]), lengths(answer, bars)[:, None]
    of = strengths(model).material
    found = []
    for size in tubes_of(made.material, model.sold_in):
        other = RoundTube(material=made.material, outside=size.outside, wall=size.wall)
        if not _like(made, other):
            use = use_of(other, bar, stuff_of(other, bar.what in WELDED, of), loads, long, USED)
            found.append(Candidate(stock_of(other), _margin(use), tube_area(other) / tube_area(made), size.wall,
                                   _outside(made, other), size.outside))  # fmt: skip
    parts = tuple(p for p in assembly.parts if right_of(p.number) == name and p.form == "tube")
    return Offered(stock_of(made), parts, tuple(found))


def _as_in_id(part: str) -> str:
    """A part's number as it ends the id of its check."""
    return part.split("-", 1)[-1].replace("+", "_")


def _like(a: RoundTube, b: RoundTube) -> bool:
    return abs(a.outside - b.outside) < SAME and abs(a.wall - b.wall) < SAME


def _outside(a: RoundTube, b: RoundTube) -> str:
    return "" if abs(a.outside - b.outside) < SAME else "another outside: its fittings and neighbours change"


def _margin(use: np.ndarray) -> float:
    """1 less the greatest use; NaN where one is not known: it may be the greatest."""
    return 1 - float(np.max(use)) if use.size else math.nan


def stock_of(tube: RoundTube) -> str:
    """A tube as it is asked for.

    >>> stock_of(RoundTube(material="4130N", outside=0.0254 * 0.625, wall=0.0254 * 0.035))
    '5/8 in x 0.035 in'
    """
    return f"{inch(tube.outside)} x {gauge(tube.wall)}"


def inch(size: float) -> str:
    """A size as it is asked for."""
    return stock_size(size).replace("″", " in").replace("′", " ft")


# ------------------------------------------------------------------ wires


def _wires(model: Model, answer: Answered, rest: list[str], assembly: Assembly) -> Offered:
    bars = answer.skeleton.which(lambda b: _as_in_id(b.part) == ".".join(rest))
    first = answer.skeleton.bars[int(bars[0])]
    made = first.made
    assert isinstance(made, Cable)
    pull = np.array([s.pull[:, bars] for s in answer.ultimate])
    found = []
    for row in cables():
        if row.construction == made.construction and abs(row.diameter - made.diameter) > SAME:
            breaking = strengths(model).cable(row.construction, row.diameter)
            heavier = cable_mass(row.construction, row.diameter) / cable_mass(made.construction, made.diameter)
            found.append(Candidate(f"{row.construction} {inch(row.diameter)}",
                                   _margin(cable.use(pull, breaking.value, USED.wire_end)),
                                   heavier, math.inf,
                                   "its ends, pins and lugs change with it"))  # fmt: skip
    parts = tuple(p for p in assembly.parts if p.number == first.part)
    return Offered(f"{made.construction} {inch(made.diameter)}", parts, tuple(found))


# ------------------------------------------------------------------ lugs, pins, bolts


def _lugs(model: Model, answer: Answered, rest: list[str], assembly: Assembly) -> Offered:
    """Sheets of the fitting's metal, the lug's outline as it is."""
    name, which, end = _end_of(model, rest)
    pulls, of = braces.pulls_of(model, answer)[name], strengths(model)
    key = braces.lug_material(model, end)
    found = []
    for sheet in sheets_like(model, key, end.thick):
        check = braces.lug_check(model, name, which, replace(end, thick=sheet), pulls, answer, of, USED)
        found.append(
            Candidate(gauge_of(sheet), known_margin(check), sheet / end.thick, sheet, "the bush is as wide as it was")
        )
    parts = tuple(p for p in assembly.parts if p.number in end.plates)
    return Offered(gauge_of(end.thick), parts, tuple(found))


def _pins(model: Model, answer: Answered, rest: list[str], assembly: Assembly) -> Offered:
    """Bolts, each with the lug it goes through: a larger hole takes from the lug."""
    name, which, end = _end_of(model, rest)
    pulls, of = braces.pulls_of(model, answer)[name], strengths(model)
    found = []
    for key in bolts_but(end.held.pin):
        other = replace(end, held=replace(end.held, piece=replace(end.held.piece, pin=key)))
        both = (f(model, name, which, other, pulls, answer, of, USED) for f in (braces.pin_check, braces.lug_check))
        found.append(Candidate(key, least_of(map(known_margin, both)), math.nan, math.inf,
                               "margin of pin and lug together; bush or fork change with it"))  # fmt: skip
    return Offered(end.held.pin, (), tuple(found))


def _bolts(model: Model, answer: Answered, rest: list[str], assembly: Assembly) -> Offered:
    wing, spar, at = rest
    spot = next(s for s in spots(model)[0] if (s.wing.name, s.spar.name) == (wing, spar)
                and f"{s.buttline / 0.0254:.0f}" == at)  # fmt: skip
    pulls, of = braces.pulls_of(model, answer), strengths(model)
    found = []
    for key in bolts_but(spot.fitting.bolt):
        other = replace(spot, fitting=replace(spot.fitting, bolt=key))
        check = braces.bolts_check(model, other, pulls, answer, of, USED)
        words = "the holes take from the caps; edges are not looked at"
        found.append(Candidate(key, known_margin(check), math.nan, math.inf, words))
    return Offered(spot.fitting.bolt, (), tuple(found))


def _end_of(model: Model, rest: list[str]) -> tuple[str, int, Pinned]:
    name, where = rest[0], ".".join(rest[1:])
    return next((n, w, e) for (n, w), e in pinned(model).items() if n == name and braces.where_of(e) == where)


def bolts_but(now: str) -> list[str]:
    """Bolts on file but the one there is."""
    return [k for k, f in fasteners().items() if f.kind == "bolt" and k != now]


def sheets_like(model: Model, key: str, now: float) -> list[float]:
    """Thicknesses of that stock on file, as the model's market has it, but the one there is, m, thinnest first."""
    return [t for t in sheets_of(key, model.sold_in) if abs(t - now) > SAME]


def gauge_of(thick: float) -> str:
    """A sheet as it is asked for: thousandths of an inch, or millimetres.

    >>> gauge_of(0.002), gauge_of(0.0254 * 0.09)
    ('2 mm', '0.090 in')
    """
    return gauge(thick)


def least_of(margins: Iterable[float]) -> float:
    """The least; NaN where one is not known."""
    known = list(margins)
    return math.nan if any(math.isnan(m) for m in known) else min(known)


# ------------------------------------------------------------------ spars


def _spars(model: Model, answer: Answered, rest: list[str], assembly: Assembly) -> Offered:
    """Deeper or shallower caps of the same width, or thicker or thinner webs; all the spar's checks with each."""
    wing = next(w for w in model.wings if w.name == rest[0])
    spar = next(s for s in wing.spars if s.name == rest[1])
    caps = rest[-1] in ("caps", "caps_at_limit", "glue")
    word = f"-{spar.name}-".upper()
    parts = tuple(p for p in assembly.parts if p.number.startswith(f"{model.name}-{wing.name}{word}")
                  and ("-CAP-" if caps else "-WEB-") in f"{p.number}-")  # fmt: skip
    return (_caps if caps else _webs)(model, answer, wing, spar, parts)


def _caps(model: Model, answer: Answered, wing: Wing, spar: Spar, parts: tuple[Part, ...]) -> Offered:
    if material(spar.cap.material).kind != "wood":
        return Offered(_bar(spar), parts, (), "bars of metal are not on file as stock")
    found = []
    for n in CAPS:
        depth = n * SIXTEENTH
        if abs(depth - spar.cap.depth) > SAME:
            other = replace(spar, cap=replace(spar.cap, depth=depth))
            margin = least_of(map(known_margin, _of_spar(model, answer, wing, other)))
            found.append(Candidate(_bar(other), margin, depth / spar.cap.depth, math.inf,
                                   "least margin of caps, webs and glue; sawn to size"))  # fmt: skip
    return Offered(_bar(spar), parts, tuple(found))


def _bar(spar: Spar) -> str:
    return f"{inch(spar.cap.width)} x {inch(spar.cap.depth)}"


def _webs(model: Model, answer: Answered, wing: Wing, spar: Spar, parts: tuple[Part, ...]) -> Offered:
    found = []
    for thick in sheets_like(model, spar.web.material, spar.web.thickness):
        other = replace(spar, web=replace(spar.web, thickness=thick))
        webs = [c for c in _of_spar(model, answer, wing, other) if c.id.endswith((".webs", ".buckling"))]
        found.append(Candidate(gauge_of(thick), least_of(map(known_margin, webs)), thick / spar.web.thickness, thick))
    return Offered(gauge_of(spar.web.thickness), parts, tuple(found))


def _of_spar(model: Model, answer: Answered, wing: Wing, spar: Spar) -> Iterable[Check]:
    wooden = material(spar.cap.material).kind == "wood"
    held = wood_spar_checks if wooden else metal_spar_checks
    return held(model, answer, wing, spar, grained(model), USED)
