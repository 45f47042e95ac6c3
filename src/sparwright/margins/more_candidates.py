"""What else skins, hinges, control cables and rods could be made of, by their own checks at the loads as they are."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sparwright.base.check import Check
from sparwright.controls.motion import Motion
from sparwright.data.loader import cables, tubes_of
from sparwright.family.controls import ControlCable, Rod
from sparwright.family.model import Model, RoundTube, Skin, Spar, Wing
from sparwright.margins.candidates import (
    Candidate,
    Offered,
    bolts_but,
    candidates,
    gauge_of,
    inch,
    least_of,
    sheets_like,
    stock_of,
)
from sparwright.margins.controls import link_checks
from sparwright.margins.hinges import Hinge, hinge_checks
from sparwright.margins.rib_candidates import WingRibs, rib_candidates, rib_group, wing_ribs
from sparwright.margins.rib_loads import Spans
from sparwright.margins.skins import skin_checks
from sparwright.margins.sources import grained, strengths
from sparwright.margins.worst import known_margin
from sparwright.parts.control_bodies import number
from sparwright.parts.frame import cable_mass, tube_area
from sparwright.parts.part import Assembly, Part
from sparwright.parts.tail_frame import surfaces
from sparwright.structure.answered import Answered

SAME = 1e-6  # m: sizes nearer than this are one
SKIN = ("skin_shear", "skin_flat", "skin_pressed", "skin_yield", "skin_ribs", "skin_bar")
ALIKE = "all hinges of the surface are of one sheet"
EDGE = "its edge is held by glue or rivets: its sheet makes no difference to it"
DEEPER = "ribs and spars are as much shallower; it draws more torque: run the frame again"


@dataclass(frozen=True)
class Besides:
    """What ribs, ailerons' hinges and controls are loaded by besides the frame."""

    spans: Spans
    motions: tuple[Motion, ...] = ()
    ribs: Mapping[str, WingRibs] = field(default_factory=dict)  # by name of a wing


def besides(model: Model, answer: Answered, ids: Iterable[str], spans: Spans, motions: tuple[Motion, ...]) -> Besides:
    """What members of those checks want."""
    named = {g[0] for i in ids if (g := rib_group(model, (i,)))}
    return Besides(spans, motions, {w.name: wing_ribs(model, answer, w, spans) for w in model.wings if w.name in named})


def every_candidate(model: Model, answer: Answered, ids: Sequence[str], assembly: Assembly, also: Besides) -> Offered:
    """All sizes on file for the member that the checks of these ids are of."""
    group = rib_group(model, ids)
    if group:
        wing, name, kinds = group
        return rib_candidates(model, also.ribs[wing], name, kinds, assembly)
    skin = _skin_of(model, ids)
    if skin and ".skin_edge." in ids[0]:
        return Offered(gauge_of(skin[2].thickness), (), (), EDGE)
    if skin:
        return _skins(model, answer, *skin, assembly)
    _, kind, *rest = ids[0].split(".")
    if kind == "hinge":
        return _hinges(model, answer, ids, also.spans, assembly)
    if kind == "control" and rest[0] in ("cable", "rod"):
        return _links(model, answer, rest, also.motions, assembly)
    return candidates(model, answer, ids, assembly)


# ------------------------------------------------------------------ skins


def _skin_of(model: Model, ids: Sequence[str]) -> tuple[Wing, Spar, Skin] | None:
    _, name, spar, *rest = ids[0].split(".")
    wing = next((w for w in model.wings if w.name == name), None)
    if wing is None or len(rest) != 2 or not rest[0].startswith("skin_"):
        return None
    skin = next(s for s in wing.skins if s.name == rest[1])
    return wing, next(s for s in wing.spars if s.name == spar), skin


def _skins(model: Model, answer: Answered, wing: Wing, spar: Spar, skin: Skin, assembly: Assembly) -> Offered:
    """Sheets of its material; its edge is not in it: rivets nobody has said keep no sheet from being thick enough."""
    found = []
    for thick in sheets_like(model, skin.material, skin.thickness):
        other = tuple(replace(s, thickness=thick) if s is skin else s for s in wing.skins)
        changed = replace(wing, skins=other)
        whole = replace(model, wings=tuple(changed if w is wing else w for w in model.wings))
        held = skin_checks(whole, answer, changed, spar, grained(model))
        mine = [c for c in held if c.id.rpartition(".")[2] == skin.name and c.id.split(".")[3] in SKIN]
        margin = least_of(map(known_margin, mine))
        found.append(Candidate(gauge_of(thick), margin, thick / skin.thickness, thick, DEEPER))
    word = f"{model.name}-{wing.name}-SKIN-{skin.name.upper()}-"
    parts = tuple(p for p in assembly.parts if p.number.startswith(word))
    return Offered(gauge_of(skin.thickness), parts, tuple(found), "" if found else "no sheet of it is on file as stock")


# ------------------------------------------------------------------ hinges


def _hinges(model: Model, answer: Answered, ids: Sequence[str], spans: Spans, assembly: Assembly) -> Offered:
    """Bolts for a hinge's pin; sheets for its straps or plates, with what bears and what holds them."""
    name = ids[0].removeprefix("strength.hinge.").rpartition(".")[0]
    first: list[Hinge] = []

    def held(changed: Callable[[Hinge], Hinge]) -> list[Check]:
        return [c for c in hinge_checks(model, answer, spans, strengths(model), changed) if c.id in ids]

    def look(h: Hinge) -> Hinge:
        first.extend([h] if h.name == name else [])
        return h

    held(look)
    (now,) = first
    found = []
    if ids[0].endswith(".pin"):
        for key in bolts_but(now.pin):
            margin = least_of(map(known_margin, held(lambda h, key=key: replace(h, pin=key))))  # type: ignore[misc]
            found.append(Candidate(key, margin, math.nan, math.inf, "bush and straps change with it"))
        return Offered(now.pin, (), tuple(found))
    for thick in sheets_like(model, now.sheet.material, now.sheet.thickness):
        margin = least_of(map(known_margin, held(lambda h, t=thick: thicker(h, t))))  # type: ignore[misc]
        found.append(Candidate(gauge_of(thick), margin, thick / now.sheet.thickness, thick, ALIKE))
    return Offered(gauge_of(now.sheet.thickness), _plates(model, name, assembly), tuple(found))


def _plates(model: Model, name: str, assembly: Assembly) -> tuple[Part, ...]:
    """Every strap or plate of a surface's hinges, on both sides of the hinge line."""
    wing, _, flap = name.rpartition(".")
    groups = [wing] if wing else [n for s in surfaces(model) if s.name("movable") == flap
                                  for n in (s.name("fixed"), flap)]  # fmt: skip
    kinds = ("HINGE-PLATE", "AILERON-HINGE-PLATE") if wing else ("HINGE-EYE", "HINGE-INNER", "HINGE-OUTER")
    starts = tuple(f"{model.name}-{g}-{k}-" for g in groups for k in kinds)
    return tuple(p for p in assembly.parts if p.number.startswith(starts))


def thicker(h: Hinge, thick: float) -> Hinge:
    """A hinge of another sheet: an aileron's plates turn on the bush with both thicknesses, a tail's strap does not."""
    plates = h.name.endswith(".aileron")
    return replace(h, sheet=replace(h.sheet, thickness=thick), turns=2 * thick if plates else h.turns)


# ------------------------------------------------------------------ controls


def _links(model: Model, answer: Answered, rest: list[str], motions: Sequence[Motion], assembly: Assembly) -> Offered:
    """Cables of the same construction, or tubes of the same metal, each under the pilot's force."""
    _, name = rest
    m, link = next((m, k) for m in motions for k in m.run.links if k.name == name and k.hand != "L")
    sizes = _cables(link.made) if isinstance(link.made, ControlCable) else _rods(model, link.made)
    words = ("CABLE-FIRST", "CABLE-LAST") if isinstance(link.made, ControlCable) else ("ROD",)
    found = []
    for size, other in sizes:
        check = next(iter(link_checks(model, answer, m, replace(link, made=other), strengths(model))))
        found.append(replace(size, margin=known_margin(check)))
    starts = tuple(number(model, w, name) for w in words)
    parts = tuple(p for p in assembly.parts if p.number in starts or p.number.rpartition("-")[0] in starts)
    return Offered(_made_of(link.made), parts, tuple(found))


def _made_of(made: ControlCable | Rod) -> str:
    return f"{made.construction} {inch(made.diameter)}" if isinstance(made, ControlCable) else stock_of(made.tube)


def _cables(made: ControlCable) -> Iterator[tuple[Candidate, ControlCable]]:
    now = cable_mass(made.construction, made.diameter)
    for row in cables():
        if row.construction == made.construction and abs(row.diameter - made.diameter) > SAME:
            other = replace(made, diameter=row.diameter)
            yield Candidate(_made_of(other), math.nan, cable_mass(row.construction, row.diameter) / now, math.inf,
                            "its pulleys, pins and ends change with it"), other  # fmt: skip


def _rods(model: Model, made: Rod) -> Iterator[tuple[Candidate, Rod]]:
    for size in tubes_of(made.tube.material, model.sold_in):
        tube = RoundTube(material=made.tube.material, outside=size.outside, wall=size.wall)
        same = abs(size.outside - made.tube.outside) < SAME
        if not (same and abs(size.wall - made.tube.wall) < SAME):
            yield (
                Candidate(
                    stock_of(tube),
                    math.nan,
                    tube_area(tube) / tube_area(made.tube),
                    size.wall,
                    "" if same else "another outside: its ends and openings change",
                    size.outside,
                ),
                replace(made, tube=tube),
            )
