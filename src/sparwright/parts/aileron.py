"""What an aileron and the wing ahead of it are made of: false spar, spar, nose, tail bar, skin, as parts and joints.

The nose sheet from the spar round the nose and back makes a closed box with the spar's web, which carries torsion; it
is open at the notches for hinges and horn, where a nose rib closes it on either side. Ribs are those of parts/ribs.py,
hinges and horn those of parts/aileron_fittings.py. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import Polygon

from sparwright.base.quantity import decimal_inches, inches, place_key
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.aileron import AileronFrame, EdgeSpar
from sparwright.family.model import Model, Panel, Place, Wing
from sparwright.family.model import Skin as SkinSpec
from sparwright.family.stock import Sheet
from sparwright.parts.edges import FABRIC, sheet_ring, skin_rings
from sparwright.parts.joints import SKIN_JOINT, bar_joint, both_sides, rivet_or_glue
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part, Skin, Straight
from sparwright.parts.ribs import AILERON_RIB, NOSE_RIB, RibGroup, RibPlace, hands, rib_number, rib_poses
from sparwright.parts.skins import sheets_at
from sparwright.parts.stations import SAME, notches
from sparwright.parts.wing import edge_bar, placed, sheet_stock
from sparwright.shape.frame import mirrored
from sparwright.shape.lifting import Station, cut, panel_at
from sparwright.shape.parted import Parting, aileron_inside, parted_skin, parting, spar_rings, wrapped
from sparwright.shape.rib import inside
from sparwright.shape.solid import as_place, between

ON = 1e-3  # m: a rib that ends nearer to a face than this stands on it


@dataclass(frozen=True)
class Hinged:
    """An aileron with a frame, as its parts are made from it."""

    model: Model
    wing: Wing
    frame: AileronFrame
    root: float = number("m", "buttline of its inner end rib")
    tip: float = number("m", "buttline of its outer end rib")

    def number(self, kind: str, key: str = "", hand: str = "") -> str:
        """Number of a part of the aileron."""
        return self.of_wing(f"AILERON-{kind}", key, hand)

    def of_wing(self, kind: str, key: str = "", hand: str = "") -> str:
        """Number of a part of the wing."""
        return part_number(self.model.name, self.wing.name, kind, key, hand)

    def at(self, buttline: float) -> tuple[Station, Parting]:
        """The wing cut there, and where it is parted."""
        station = cut(self.wing, self.model.sections, buttline)
        return station, parting(station, self.wing)

    @property
    def panel(self) -> Panel:
        """The stretch of its panel that it takes up."""
        return replace(panel_at(self.wing, self.tip)[0], root_buttline=self.root, tip_buttline=self.tip)


def ailerons(model: Model) -> tuple[Hinged, ...]:
    """Every aileron of a model that has a frame."""
    found = [(w, w.aileron) for w in model.wings if w.aileron]
    return tuple(Hinged(model, w, a.frame, a.inboard + a.gap, a.outboard - a.gap) for w, a in found if a.frame)


def bare_ailerons(model: Model) -> tuple[str, ...]:
    """What of ailerons without a frame is not drawn."""
    bare = [w.name for w in model.wings if w.aileron and w.aileron.frame is None]
    return (f"spar, hinges and false spar of the ailerons ({', '.join(bare)})",) if bare else ()


# ------------------------------------------------------------------ parts


def aileron_parts(h: Hinged) -> Iterator[Part]:
    """The wing's false spar with its corners; the aileron's spar, nose, tail bar and skin."""
    low, high = _bay(h)
    yield from _edge_spar(h, "FALSE-SPAR", h.frame.false_spar, (low, high), _false_ring)
    for corner in ("INNER", "OUTER"):
        yield _corner(h, corner)
    yield from _edge_spar(h, "AILERON-SPAR", h.frame.spar, (h.root, h.tip), _spar_ring)
    for start, end in noses(h):
        yield _nose(h, start, end)
    if h.wing.tail_bar is not None:
        yield edge_bar(h.model, h.wing, h.panel, h.number("TAIL-BAR"), h.wing.tail_bar, 1.0)
    yield from _covers(h)


def _bay(h: Hinged) -> tuple[float, float]:
    """Where the false spar begins and ends: at the faces of the whole ribs at the aileron's ends."""
    aileron = h.wing.aileron
    assert aileron is not None
    inner, outer = (h.wing.rib_thickness(y) / 2 for y in (aileron.inboard, aileron.outboard))
    return aileron.inboard + inner, aileron.outboard - outer


Rings = dict[str, np.ndarray]


def _where(h: Hinged, s: Station, what: str) -> str:
    return f"wing {h.wing.name}, {what} of the aileron at buttline {inches(s.buttline)}"


def _false_ring(h: Hinged, s: Station, p: Parting) -> Rings:
    return spar_rings(inside(s, h.wing.skins), p.wing_end, h.frame.false_spar, _where(h, s, "false spar"))


def _spar_ring(h: Hinged, s: Station, p: Parting) -> Rings:
    return spar_rings(aileron_inside(s, h.wing, p), p.face, h.frame.spar, _where(h, s, "spar"))


def _edge_spar(h: Hinged, kind: str, spar: EdgeSpar, reach: tuple[float, float],
               rings_of: Callable[[Hinged, Station, Parting], Rings]) -> Iterator[Part]:  # fmt: skip
    """Plank, channel or web, and its strips."""
    cuts = [h.at(y) for y in reach]
    rings = [rings_of(h, s, p) for s, p in cuts]
    name = kind.lower().replace("-", " ")
    for piece in rings[0]:
        pair = [placed(s, map(tuple, r[piece])) for (s, _), r in zip(cuts, rings, strict=True)]
        deep = max(float(np.ptp(r[piece][:, 1])) for r in rings)
        if piece and spar.strip is not None:
            key, section = spar.strip.material, f"{inches(spar.strip.width)} x {inches(spar.strip.depth)}"
            stock = f"{material(key).title}, {section}"
            yield _straight(h, f"{kind}-{piece.upper()}-STRIP", f"{name} {piece} strip", key, stock, section, pair)
        elif spar.flange > 0:
            stuff, section = material(spar.material), f"{inches(deep)} x {inches(spar.flange)}"
            stock = (
                f"{stuff.title}, {decimal_inches(spar.thickness)}, bent to {section}, radius {inches(spar.bend_radius)}"
            )
            yield _straight(h, kind, name, spar.material, stock, section, pair)
        else:
            stuff, section = material(spar.material), f"{inches(deep)} x {inches(spar.thickness)}"
            sheet = Sheet(material=spar.material, thickness=spar.thickness)
            stock = sheet_stock(sheet, stuff) if stuff.kind == "plywood" else f"{stuff.title}, {section}"
            yield _straight(h, kind, name, spar.material, stock, section, pair)


def run(h: Hinged, number: str, name: str, purpose: str, key: str, stock: str, section: str,
        pair: Sequence[np.ndarray]) -> Part:  # fmt: skip
    """A part between two rings (n, 3), on both sides; key: its material."""
    body, (a, b) = between(pair[0], pair[1]), (as_place(r.mean(axis=0)) for r in pair)
    centre = as_place(body.centre)
    return Part(
        number=number, name=f"{name}, {h.wing.name}", form="bar", group=f"wing {h.wing.name}",
        purpose=purpose, material=key, stock=stock, places=(centre, mirrored(centre)),
        mass=body.volume * material(key).density, at=f"BL {inches(a[1], 10**6)} to {inches(b[1], 10**6)}",
        shape=Straight(start=a, end=b, section=section, rings=np.array(pair)),
    )  # fmt: skip


def _straight(h: Hinged, kind: str, name: str, key: str, stock: str, section: str, pair: Sequence[np.ndarray]) -> Part:
    return run(h, h.of_wing(kind), name, "edge spar", key, stock, section, pair)


def _corner(h: Hinged, end: str) -> Part:
    """An angle of the false spar's sheet, or a block, ahead of it in the corner with a whole rib."""
    spar, (low, high) = h.frame.false_spar, _bay(h)
    at, side = (low, 1.0) if end == "INNER" else (high, -1.0)
    s, p = h.at(at)
    away, _ = h.at(at + side * 0.1)
    step = (np.array(away.leading_edge) - np.array(s.leading_edge)) / 0.1
    size = spar.flange or (spar.strip.width if spar.strip else spar.thickness)
    t, x = (spar.thickness if spar.flange else size), p.wing_end
    plan = [(x, 0.0), (x, size), (x - t, size), (x - t, t), (x - size, t), (x - size, 0.0)] if t < size else [
        (x, 0.0), (x, size), (x - size, size), (x - size, 0.0)]  # fmt: skip
    body = inside(s, h.wing.skins)
    rings = []
    for which in (0, 1):
        depth = [_depth_at(body, q, which) for q, _ in plan]
        rings.append(np.array([np.array(s.place(q, y)) + o * step for (q, o), y in zip(plan, depth, strict=True)]))
    key = spar.strip.material if spar.strip and not spar.flange else spar.material
    section = f"{inches(size)} x {inches(size)}"
    stock = f"{material(key).title}, {decimal_inches(spar.thickness)}, angle {section}" if spar.flange else (
        f"{material(key).title}, {section}")  # fmt: skip
    found = _straight(h, f"FALSE-SPAR-CORNER-{end}", f"corner of false spar, {end.lower()}", key, stock, section, rings)
    return replace(found, at=f"BL {inches(at, 10**6)}")


def _depth_at(body: Polygon, x: float, which: int) -> float:
    x0, _, x1, _ = body.bounds
    column = body.intersection(Polygon([(x - 1e-6, -9), (x + 1e-6, -9), (x + 1e-6, 9), (x - 1e-6, 9)]))
    assert x0 < x < x1
    return float(column.bounds[3 if which else 1])


def noses(h: Hinged) -> tuple[tuple[float, float], ...]:
    """Buttlines between which the nose is closed: between the notches' ribs; none of a plain nose."""
    if h.frame.nose is None:
        return ()
    marks = [h.root, *(y for n in notches(h.wing) for y in n.ribs), h.tip]
    return tuple((a, b) for a, b in zip(marks[::2], marks[1::2], strict=True))


def nose_number(h: Hinged, start: float) -> str:
    """Number of the nose sheet that begins at a buttline."""
    return h.number("NOSE", place_key(start))


def _nose(h: Hinged, start: float, end: float) -> Part:
    nose = h.frame.nose
    assert nose is not None
    cuts = [h.at(y) for y in (start, end)]
    lines = [wrapped(s, p, p.seam) for s, p in cuts]
    purpose = "nose" if _fabric_over(h) else "skin"
    return _sheet(h, nose_number(h, start), "aileron nose", nose, purpose, cuts, [lines], nose.thickness, 0.0, 0.08)


def _fabric_over(h: Hinged) -> bool:
    """Whether fabric goes round the nose."""
    s, p = h.at(h.root)
    return any(k.thickness == 0 and k.start * s.chord <= p.seam < k.end * s.chord for k in h.wing.skins)


def _sheet(h: Hinged, name: str, words: str, sheet: Sheet, purpose: str, cuts: Sequence[tuple[Station, Parting]],
           lines: Sequence[Sequence[np.ndarray]], thickness: float, areal: float, band: float) -> Part:  # fmt: skip
    """A covering of one or two sheets; lines: of each, the outside line (n, 2) at both ends."""
    stuff = material(sheet.material)
    rings, area, moment = [], 0.0, np.zeros(3)
    for pair in lines:
        made = np.array([placed(s, map(tuple, sheet_ring(line, thickness or -FABRIC)))
                         for (s, _), line in zip(cuts, pair, strict=True)])  # fmt: skip
        long = abs(cuts[1][0].buttline - cuts[0][0].buttline) / _upright(cuts)
        width = sum(float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum()) for line in pair) / 2
        rings.append(made)
        area += long * width
        moment += long * width * between(made[0], made[1]).centre
    middle = as_place(moment / area)
    return Part(
        number=name, name=f"{words}, {h.wing.name}", form="skin", group=f"wing {h.wing.name}", purpose=purpose,
        material=sheet.material, stock=sheet_stock(sheet, stuff) if thickness else stuff.title, band=band,
        places=(middle, mirrored(middle)), mass=area * (areal or thickness * stuff.density),
        shape=Skin(length=long, width=area / long, thickness=thickness, rings=tuple(rings)),
        at=f"BL {inches(cuts[0][0].buttline, 10**6)} to {inches(cuts[1][0].buttline, 10**6)}",
    )  # fmt: skip


def _upright(cuts: Sequence[tuple[Station, Parting]]) -> float:
    """Cosine between the leading edge and the buttline's direction."""
    a, b = (np.array(s.leading_edge) for s, _ in cuts)
    return float(abs(b - a)[1] / np.linalg.norm(b - a))


def cover_number(h: Hinged, skin: SkinSpec) -> str:
    """Number of an aileron's skin."""
    return h.number(f"SKIN-{skin.name}".upper())


def _covers(h: Hinged) -> Iterator[Part]:
    """Skins of the wing that reach over the aileron: sheet from the seam aft, fabric round the nose."""
    cuts = [h.at(y) for y in (h.root, h.tip)]
    for skin in covers(h):
        if skin.thickness == 0 and all(skin.start * s.chord <= p.seam for s, p in cuts):
            lines = [[wrapped(s, p, skin.end * s.chord) for s, p in cuts]]
        else:
            lines = [list(pair) for pair in zip(*(_behind(s, p, skin) for s, p in cuts), strict=True)]
        sheet = Sheet(material=skin.material, thickness=skin.thickness)
        yield _sheet(h, cover_number(h, skin), f"aileron {skin.name}", sheet, "skin", cuts, lines, skin.thickness,
                     skin.areal, 0.15 if skin.areal > 0 else 0.08)  # fmt: skip


def covers(h: Hinged) -> tuple[SkinSpec, ...]:
    """Skins of the wing that lie on the aileron."""
    cuts = [h.at(y) for y in (h.root, h.tip)]
    return tuple(k for k in h.wing.skins if all(k.end * s.chord > p.seam for s, p in cuts))


def _behind(s: Station, p: Parting, skin: SkinSpec) -> list[np.ndarray]:
    """The lines under a skin behind the seam, upper and lower."""
    rest = replace(skin, start=max(skin.start, p.seam / s.chord), thickness=0.0)
    return [ring[: len(ring) // 2] for ring in skin_rings(s, rest)]


# ------------------------------------------------------------------ joints


def aileron_joints(h: Hinged, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """How they are held to one another and to the ribs; groups: the shapes of the wing's ribs."""
    yield from _on_spar(h, groups, "FALSE-SPAR", h.frame.false_spar, _ends_at_false_spar(h))
    yield from _on_spar(h, groups, "AILERON-SPAR", h.frame.spar, _on_open_spar(h))
    yield from _corners(h, groups)
    yield from _nose_joints(h, groups)
    if h.wing.tail_bar is not None:
        yield from bar_joint(h.model, h.wing, groups, h.number("TAIL-BAR"), h.wing.tail_bar, h.panel, 1)
    yield from _cover_joints(h, groups)


def _on_open_spar(h: Hinged) -> Callable[[RibPlace], bool]:
    """Ribs that stand on its web: those behind a closed stretch stand on what closes it."""
    return lambda q: (
        q.piece.name == NOSE_RIB or (q.piece.name == AILERON_RIB and not h.frame.closed_at(q.where.buttline))
    )


def _ends_at_false_spar(h: Hinged) -> Callable[[RibPlace], bool]:
    def ends(q: RibPlace) -> bool:
        if not (q.where.hinged and q.where.kind == "wing") or q.piece.name in (AILERON_RIB, NOSE_RIB):
            return False
        return bool(abs(q.piece.outline[:, 0].max() - parting(q.station, h.wing).wing_end) < ON)

    return ends


def met(h: Hinged, groups: Iterable[RibGroup], test: Callable[[RibPlace], bool]) -> tuple[list[str], list[RibPlace]]:
    """Numbers of the ribs a test picks, and their places on the right."""
    found = [(g, [q for q in g if test(q)]) for g in groups]
    numbers = [
        rib_number(h.model, h.wing, g, d) for g, here in found for d in hands(h.wing) if here and rib_poses(here, d)
    ]
    return numbers, [q for _, here in found for q in here]


def _on_spar(h: Hinged, groups: Sequence[RibGroup], kind: str, spar: EdgeSpar,
             test: Callable[[RibPlace], bool]) -> Iterator[Joint]:  # fmt: skip
    """Ribs on an edge spar, once for each rib, and its strips along it."""
    number, how = h.of_wing(kind), rivet_or_glue(spar.material)
    ribs, places = met(h, groups, test)
    first = places[0]
    _, p = h.at(first.where.buttline)
    x = p.face if "AILERON" in kind else p.wing_end
    deep = float(np.ptp(first.piece.outline[np.abs(first.piece.outline[:, 0] - x) < spar.width + ON, 1]))
    yield Joint(
        number=f"{number}-JOINT", kind=how, parts=(number, *ribs), place=first.station.place(x, p.hinge[1]),
        primary=True, length=deep, area=deep * h.wing.ribs.sheet.thickness if how == "glue" else 0.0,
        fastener="unknown" if how == "rivet" else "", count=both_sides(places),
        note="length and area are for one rib",
    )  # fmt: skip
    for side in ("UPPER", "LOWER") if spar.strip and not spar.flange else ():
        assert spar.strip is not None
        long = h.tip - h.root
        yield Joint(
            number=f"{number}-{side}-STRIP-JOINT", kind="glue", parts=(number, f"{number}-{side}-STRIP"), count=2,
            place=first.station.place(x, p.hinge[1]), primary=True, length=long, area=long * spar.strip.depth,
        )  # fmt: skip


def _corners(h: Hinged, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each corner to the false spar and to the whole rib beside it."""
    aileron, how = h.wing.aileron, rivet_or_glue(h.frame.false_spar.material)
    assert aileron is not None
    for end, y in (("INNER", aileron.inboard), ("OUTER", aileron.outboard)):
        s, p = h.at(y)
        ribs, _ = met(h, groups, lambda q, y=y, x=p.wing_end: (  # type: ignore[misc]
            abs(q.where.buttline - y) < SAME and q.where.kind == "wing"
            and q.piece.outline[:, 0].min() < x < q.piece.outline[:, 0].max()))  # fmt: skip
        number = h.of_wing(f"FALSE-SPAR-CORNER-{end}")
        yield Joint(
            number=f"{number}-JOINT", kind=how, parts=(number, h.of_wing("FALSE-SPAR"), *ribs), count=2, primary=True,
            place=s.place(p.wing_end, p.hinge[1]), fastener="unknown" if how == "rivet" else "",
        )  # fmt: skip


def _nose_joints(h: Hinged, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each nose sheet to the spar along both edges, and round each nose rib."""
    nose = h.frame.nose
    for start, end in noses(h):
        assert nose is not None
        s, p = h.at(start)
        kind = SKIN_JOINT.get(material(nose.material).kind, "glue")
        glued, rivet = kind in ("glue", "bond"), "unknown" if kind == "rivet" else ""
        number, long = nose_number(h, start), 2 * (end - start)
        yield Joint(
            number=f"{number}-JOINT", kind=kind, primary=True, count=2, length=long, fastener=rivet,
            parts=(number, h.number("SPAR")), place=s.place(p.face, p.hinge[1] + p.radius),
            area=long * (p.seam - p.face) if glued else 0.0,
        )  # fmt: skip
        round_ = float(np.linalg.norm(np.diff(wrapped(s, p, p.face), axis=0), axis=1).sum())
        for y in sorted({q.where.buttline for g in groups for q in g if q.piece.name == NOSE_RIB}):
            if start - SAME <= y <= end + SAME:
                ribs, (q, *_) = met(h, groups, lambda q, y=y: (  # type: ignore[misc]
                    q.piece.name == NOSE_RIB and q.where.buttline == y))  # fmt: skip
                yield Joint(
                    number=f"{number}-JOINT-{place_key(y)}", kind=kind, primary=True, count=2, length=round_,
                    parts=(number, *ribs), place=q.station.place(p.hinge[0] - p.radius, p.hinge[1]), fastener=rivet,
                    area=round_ * h.wing.ribs.sheet.thickness if glued else 0.0,
                )  # fmt: skip


def _cover_joints(h: Hinged, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """The aileron's skin to its ribs, spar and tail bar; the wing's to the false spar that it ends on."""
    ribs, places = met(h, groups, lambda q: q.piece.name == AILERON_RIB)
    s, p = h.at(h.root)
    bar = [h.number("TAIL-BAR")] if h.wing.tail_bar else []
    for skin in covers(h):
        kind = SKIN_JOINT.get(material(skin.material).kind, "glue")
        edge = 2 * (min(skin.end, 1.0) * s.chord - p.seam)
        spar = _under_cover(h) if skin.thickness or not h.frame.nose else []
        yield Joint(
            number=f"{cover_number(h, skin)}-JOINT", kind=kind, parts=(cover_number(h, skin), *spar, *ribs, *bar),
            place=_mid(s, p), primary=False, length=edge, count=both_sides(places),
            fastener="unknown" if kind == "rivet" else "",
            area=edge * h.wing.ribs.sheet.thickness if kind in ("glue", "bond") else 0.0,
            note="length and area are for one rib",
        )  # fmt: skip
    for skin in h.wing.skins:
        left = parted_skin(skin, s, p)
        if left is not None and left.end < skin.end:
            kind = SKIN_JOINT.get(material(skin.material).kind, "glue")
            for sheet in sheets_at(h.model, h.wing, skin, (h.root, h.tip)):
                low, high = max(h.root, sheet.reach.root_buttline), min(h.tip, sheet.reach.tip_buttline)
                q, r = h.at((low + high) / 2)
                yield Joint(number=f"{sheet.number}-JOINT-FALSE-SPAR", kind=kind, count=2, primary=False,
                            parts=(sheet.number, h.of_wing("FALSE-SPAR")), place=_mid(q, r),
                            length=(1 if sheet.side else 2) * (high - low),
                            fastener="unknown" if kind == "rivet" else "")  # fmt: skip


def _under_cover(h: Hinged) -> list[str]:
    """What of the aileron's spar its skin lies on: the strips, where it has them."""
    strips = [h.number(f"SPAR-{side}-STRIP") for side in ("UPPER", "LOWER")]
    return strips if h.frame.spar.strip and h.frame.nose else [h.number("SPAR")]


def _mid(s: Station, p: Parting) -> Place:
    return s.place(p.seam, p.hinge[1])
