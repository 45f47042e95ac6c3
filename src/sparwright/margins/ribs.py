"""Whole ribs of a wing: the worst place of nose, middle between the spars, and tail, in the case that decides.

The air of a rib's bay along its chord and the frame's own moments between the spars (rib_loads.py), held against the
rib as it is cut: whole where the sheet is whole, as two chords where a hole is, the poorer chord standing for both (a
cable's opening in a chord takes its height off it). Of sheet of wood by wood_rib, with bent flanges of metal by
metal_rib. Right and left are one check, the worse; stouter ribs have checks of their own, of two back to back each
bears half. Built-up ribs are not worked out. Sources: strength/members wood_rib, metal_rib.

The frame holds a rib stiffly to both spars. Where a spar is stiff in torsion (a closed nose, a box) and is held by pins
that do not take its torque, that torque goes over the ribs as a couple: M/h pulls and presses in the rib's two edges
at the spar, and M over the distance of the spars as shear. So what joins the rib's edges to the spar must pass M/h:
rivets in the end flange alone are pulled off the web. It is told as a step; rivets that nobody has said have no check.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

import numpy as np
import shapely
from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model, Ribs, StouterRib, Wing
from sparwright.margins.rib_loads import ON_THE_GROUND, Beam, Spans, amounts, carried
from sparwright.margins.rib_torque import cells_part, handed_over
from sparwright.margins.spar_run import Strengths
from sparwright.margins.taken import USED, Taken
from sparwright.margins.worst import Worst, ends_of, told
from sparwright.parts.passages import opened, passings
from sparwright.parts.ribs import RibGroup, RibPlace, hands, rib_groups, rib_number, trussed
from sparwright.parts.stations import SAME, rib_stations
from sparwright.shape.parted import parting
from sparwright.shape.rib import TAIL, slot
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members import metal_rib, wood_rib
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.wings import INCH, SIDES

STEP = 4e-3  # m along the rib from place to place
OF_WING = ("rib", "nose rib", "middle rib", "tail rib")
PARTS = (("rib_nose", "ribs ahead of the front spar"), ("rib_middle", "ribs between the spars"),
         ("rib_tail", "ribs behind the rear spar"))  # fmt: skip
METHOD = "air of the bay as two loads of the thin aerofoil, frame's moments added without sign"
CAVEAT = "joints of ribs on spars, what skins hold and buckling of flat sheet ribs are not in it"


@dataclass(frozen=True)
class Cut:
    """A rib at k places along it; depth 0: nothing there, or a spar's box."""

    x: np.ndarray = number("m", "(k,) from the nose aft")
    depth: np.ndarray = number("m", "(k,) from edge to edge")
    chord: np.ndarray = number("m", "(k,) the shallower of what is left over and under a hole; half the depth without")
    hole: np.ndarray = number("m", "(k,) length of the hole there; nought without")

    def where(self, there: np.ndarray) -> Cut:
        """Some of its places."""
        return Cut(self.x[there], self.depth[there], self.chord[there], self.hole[there])


@dataclass(frozen=True)
class WholeRib:
    """One whole rib of the right wing."""

    numbers: tuple[tuple[float, str], ...]  # where each of its pieces begins, m, and its number; nose to tail
    hinged: bool
    beam: Beam
    cut: Cut
    made: tuple[Ribs, Ribs]  # up to the rear spar, and behind it
    names: tuple[str, str]  # of the stouter ribs that it is of, up to the rear spar and behind it; empty for the others
    sheets: tuple[int, int] = number("1", "one, or two back to back; up to the rear spar and behind it")
    y: float = number("m", "buttline")
    width: float = number("m", "of wing whose air it takes")


def rib_checks(model: Model, answer: Answered, wing: Wing, spans: Spans, strengths: Strengths, taken: Taken = USED
               ) -> Iterator[Check]:  # fmt: skip
    """The worst nose, middle and tail of the whole ribs of a wing. spans: the air along the span, by key of a case."""
    if wing.ribs.truss is not None:
        yield _built_up(model, answer, wing)
    ribs = whole_ribs(model, wing)
    uses = [_used(model, answer, wing, rib, spans, strengths, taken) for rib in ribs]
    for (kind, words), name in product(PARTS, ("", *(s.name for s in wing.stouter_ribs))):
        mine = [(r, u) for r, u in zip(ribs, uses, strict=True) if r.names[behind(kind)] == name]
        found = [(r, u) for r, u in mine if zone(r, kind).any()]
        if found:
            hinged = kind != "rib_nose" and any(r.hinged for r, _ in found)
            yield _told(answer, wing, kind, words, found, strengths, on_the_ground(answer, spans) if hinged else ())


def on_the_ground(answer: Answered, spans: Spans) -> tuple[Allowable, ...]:
    """Why ribs that hold an aileron may not pass: what wind and hand put on its hinges has no air along the span."""
    cases = [x.case for x in answer.laid if x.case.kind == "control" and "aileron" in x.case.key]
    if all(spans.get(c.key) for c in cases):
        return ()
    return (not_known("hinge of the aileron", "its ribs", ON_THE_GROUND),)


def _built_up(model: Model, answer: Answered, wing: Wing) -> Check:
    why = not_known("ribs built up of strip", wing.ribs.sheet.material, "not worked out yet")
    return told(f"strength.{wing.name}.rib_truss", f"{_name(wing)}: ribs built up of strip", Worst(np.nan), answer,
                "", [why], (), method=METHOD)  # fmt: skip


def _name(wing: Wing) -> str:
    return wing.name if "wing" in wing.name else f"{wing.name} wing"


# ------------------------------------------------------------------ ribs as they are cut


def whole_ribs(model: Model, wing: Wing, shapes: Sequence[RibGroup] | None = None) -> list[WholeRib]:
    """Every whole rib of sheet of the right wing, with its openings. shapes: those of its ribs where they are known."""
    groups = shapes or opened(wing, rib_groups(model, wing), passings(model))
    at: dict[float, list[tuple[RibGroup, RibPlace]]] = {}
    for g in groups:
        for p in g:
            if p.where.kind == "wing" and p.piece.name in OF_WING and not trussed(wing, g) and not p.back:
                at.setdefault(p.where.buttline, []).append((g, p))
    lines = [r.buttline for r in rib_stations(wing) if r.kind == "wing"]
    return [_whole(model, wing, y, at[y], lines) for y in sorted(at)]


def _whole(model: Model, wing: Wing, y: float, pieces: Sequence[tuple[RibGroup, RibPlace]], lines: Sequence[float]
           ) -> WholeRib:  # fmt: skip
    _, place = pieces[0]
    station, hinged = place.station, place.where.hinged
    boxes = sorted((slot(station, wing, s) for s in wing.spars), key=lambda b: b.x)
    end = parting(station, wing).wing_end if hinged else station.chord
    cut = joined([cut_of(p, [(b.x - b.width / 2 - SAME, b.x + b.width / 2 + SAME) for b in boxes])
                  for _, p in pieces])  # fmt: skip
    beam = Beam(cut.x, station.chord, end, tuple(b.x for b in boxes))
    before = [v for v in lines if v < y - SAME]
    after = [v for v in lines if v > y + SAME]
    inner = (y - before[-1]) / 2 if before else 0.0
    outer = (after[0] - y) / 2 if after else 0.0
    width = inner + outer if before or y > SAME else 2 * outer  # one on the centreline has the left half's too
    numbers = sorted((float(p.piece.outline[:, 0].min()), rib_number(model, wing, g, hands(wing)[0]))
                     for g, p in pieces)  # fmt: skip
    parted = any(p.piece.name == TAIL for _, p in pieces)
    stout = [wing.stouter(y, tail) for tail in (False, parted)]
    return WholeRib(tuple(numbers), hinged, beam, cut, (wing.rib_at(y), wing.rib_at(y, parted)),
                    (_called(stout[0]), _called(stout[1])), (_count(stout[0]), _count(stout[1])), y, width)  # fmt: skip


def _called(s: StouterRib | None) -> str:
    return s.name if s else ""


def _count(s: StouterRib | None) -> int:
    return 2 if s and s.back_to_back else 1


def behind(kind: str) -> int:
    """Which of a whole rib's two makes is that of a part of PARTS."""
    return int(kind == "rib_tail")


def joined(cuts: Sequence[Cut]) -> Cut:
    """All pieces of a rib as one, from the nose aft."""
    order = np.argsort(np.concatenate([c.x for c in cuts]))
    return Cut(*(np.concatenate([getattr(c, n) for c in cuts])[order] for n in ("x", "depth", "chord", "hole")))


def cut_of(place: RibPlace, boxes: Sequence[tuple[float, float]]) -> Cut:
    """A piece of a rib with its openings, at places STEP apart; boxes: from and to of each spar's box, m."""
    piece = place.piece
    body = Polygon(piece.outline, piece.holes)
    for o in place.openings:
        body = body.difference(Point(o.at).buffer(o.diameter / 2))
    body = body.simplify(SAME)  # its curves have far more corners than are looked at
    low, _, high, _ = body.bounds
    x = np.arange(low + STEP / 2, high, STEP)
    ends = np.array([[(v, -1.0), (v, 1.0)] for v in x])
    cut = shapely.intersection(body, shapely.linestrings(ends))
    in_box = np.any([(a < x) & (x < b) for a, b in boxes], axis=0)
    rows = np.array([(0.0, 0.0, 0) if gone else _at(line) for line, gone in zip(cut, in_box, strict=True)])
    holed = rows[:, 2] > 1
    return Cut(x, rows[:, 0], rows[:, 1], _runs(holed) * STEP)


def _at(line: BaseGeometry) -> tuple[float, float, int]:
    """(depth from edge to edge, sheet on the poorer side of the widest hole or half the depth, pieces) of a cut."""
    parts = sorted(g.bounds for g in getattr(line, "geoms", [line]) if g.length > 1e-6)
    if not parts:
        return 0.0, 0.0, 0
    deep = parts[-1][3] - parts[0][1]
    if len(parts) == 1:
        return deep, deep / 2, 1
    gaps = [b[1] - a[3] for a, b in pairwise(parts)]
    k = int(np.argmax(gaps)) + 1  # what lies under and over the widest hole
    under, over = (sum(p[3] - p[1] for p in side) for side in (parts[:k], parts[k:]))
    return deep, min(under, over), len(parts)


def _runs(holed: np.ndarray) -> np.ndarray:
    """(k,) how many places in a row have a hole, at each of them; nought elsewhere."""
    found = np.zeros(len(holed))
    edges = np.flatnonzero(np.diff(np.concatenate([[0], holed.astype(int), [0]])))
    for a, b in zip(edges[::2], edges[1::2], strict=True):
        found[a:b] = b - a
    return found


def zone(rib: WholeRib, kind: str) -> np.ndarray:
    """(k,) the places of a rib that lie ahead of, between or behind its spars and are of sheet."""
    x, first, last = rib.cut.x, rib.beam.spars[0], rib.beam.spars[-1]
    where = {"rib_nose": x < first, "rib_middle": (x > first) & (x < last), "rib_tail": x > last}[kind]
    return np.asarray(where & (rib.cut.depth > 0))


# ------------------------------------------------------------------ loads and uses


@dataclass(frozen=True)
class Loaded:
    """What a rib bears: v variants, c cases, 2 sides, k places."""

    shear: np.ndarray = number("N", "(v, c, 2, k) without sign")
    moment: np.ndarray = number("N m", "(v, c, 2, k) without sign")
    air: np.ndarray = number("N", "(2, 3, c) the three loads of the air on each side")
    ends: np.ndarray = number("N m", "(v, c, 2, 2) the frame's moment at the front and the rear spar, without sign")
    bars: tuple[int, int] = (0, 0)  # places of the frame's ribs, right and left; the first bar where there is none


@dataclass(frozen=True)
class Used(Loaded):
    """With its uses."""

    use: np.ndarray = number("1", "(v, c, 2, k)", None)


def loaded(model: Model, answer: Answered, wing: Wing, rib: WholeRib, spans: Spans, taken: Taken = USED) -> Loaded:
    """Shear and moment of a whole rib: the air of its bay, the frame's own, the torque of the nose's cell."""
    V1, M1 = carried(rib.beam)
    air = np.array([amounts(wing, rib.beam, rib.y, rib.width, rib.hinged, answer, spans, s) for s in SIDES])
    air[:, 2] *= taken.rib_hinge
    if rib.y < SAME:  # one on the centreline bears the mean of both halves
        air = np.repeat(air.mean(axis=0, keepdims=True), 2, axis=0)
    V, M = np.abs(np.einsum("sac,ak->csk", air, V1)), np.abs(np.einsum("sac,ak->csk", air, M1))
    frame = [_of_frame(answer, wing, rib, s) for s in SIDES]
    ends = np.stack([f[3] for f in frame], axis=2)
    V2, M2 = handed_over(rib.cut.x, rib.cut.depth, rib.beam.spars[0])
    torque = (
        cells_part(model, wing, min(wing.spars, key=lambda s: s.at), rib.y, taken.skin) * taken.rib_cell * ends[..., :1]
    )
    V = np.abs(V[None] + taken.rib_sign * (np.stack([f[0] for f in frame], axis=2) + torque * V2))
    M = np.abs(M[None] + taken.rib_sign * (np.stack([f[1] for f in frame], axis=2) + torque * M2))
    return Loaded(V, M, air, ends, (frame[0][2], frame[1][2]))


def uses_of(rib: WholeRib, of: Loaded, strengths: Strengths, taken: Taken = USED) -> np.ndarray:
    """(v, c, 2, k) use of a whole rib's sheet; of two back to back that of the one which bears more."""
    share = [taken.rib_pair if n == 2 else 1.0 for n in rib.sheets]
    halves = [use_of(made, rib.cut, of.shear * part, of.moment * part, strengths)
              for made, part in zip(rib.made, share, strict=True)]  # fmt: skip
    return np.where(rib.cut.x > rib.beam.spars[-1], halves[1], halves[0])


def _used(model: Model, answer: Answered, wing: Wing, rib: WholeRib, spans: Spans, strengths: Strengths,
          taken: Taken = USED) -> Used:  # fmt: skip
    of = loaded(model, answer, wing, rib, spans, taken)
    return Used(of.shear, of.moment, of.air, of.ends, of.bars, uses_of(rib, of, strengths, taken))


def _of_frame(answer: Answered, wing: Wing, rib: WholeRib, side: str
              ) -> tuple[np.ndarray, np.ndarray, int, np.ndarray]:  # fmt: skip
    """((v, c, k) N, (v, c, k) N m, its bar, (v, c, 2) N m at its ends) of the frame's own rib, without sign."""
    bars = answer.skeleton.which(lambda b: b.what == "rib" and b.at[0] == wing.name and abs(b.at[3] - rib.y) < SAME
                                 and (b.at[2] == side or rib.y < SAME))  # fmt: skip
    none = np.zeros((len(answer.variants), len(answer.laid), len(rib.cut.x)))
    if not bars.size:
        return none, none, 0, none[:, :, [0, 0]]
    inner = np.abs(ends_of(np.array([s.force[:, int(bars[0])] for s in answer.ultimate])))  # (v, c, 2, 6)
    first, last = rib.beam.spars[0], rib.beam.spars[-1]
    part = (rib.cut.x - first) / (last - first)
    between = (part > 0) & (part < 1)
    moment = inner[:, :, 0, 4, None] * (1 - part) + inner[:, :, 1, 4, None] * part
    return (np.where(between, inner[:, :, :, 2].max(axis=2)[..., None], 0.0), np.where(between, moment, 0.0),
            int(bars[0]), inner[:, :, :, 4])  # fmt: skip


def sheet_of(ribs: Ribs, strengths: Strengths) -> tuple[wood_rib.SheetStrength, list[Allowable]]:
    """What the sheet of a flat rib can do along it; bending where nothing is on file as the lower of pull and press."""
    s = ribs.sheet
    found = [strengths(s.material, n, s.thickness, s.grain) for n in ("tension", "compression", "shear")]
    along = float(np.minimum(found[0].value, found[1].value))
    return wood_rib.SheetStrength(bending=along, along=along, shear=found[2].value), found


def metal_of(ribs: Ribs, strengths: Strengths) -> tuple[metal_rib.RibMetal, list[Allowable]]:
    """What the sheet of a bent rib can do."""
    s = ribs.sheet
    found = [strengths(s.material, n, s.thickness, 0.0) for n in ("tension", "yield_compression", "shear", "youngs")]
    pull, crush, shear, youngs = (a.value for a in found)
    return metal_rib.RibMetal(tension=pull, yield_compression=crush, shear=shear, youngs=youngs), found


def use_of(ribs: Ribs, c: Cut, shear: np.ndarray, moment: np.ndarray, strengths: Strengths) -> np.ndarray:
    """(..., k) use of the sheet; nought where there is none."""
    there, t = c.depth > 0, ribs.sheet.thickness
    h = np.where(there, c.depth, 1.0)
    if _bent_metal(ribs):
        metal, _ = metal_of(ribs, strengths)
        left, long = np.where(c.hole > 0, c.chord, h / 4), np.where(c.hole > 0, c.hole, 1.0)
        whole = metal_rib.use(shear, moment, _bent(ribs, h, 0.0, 0.0), metal).max(axis=0)
        with np.errstate(invalid="ignore"):  # posts of a pitch without end
            holed = metal_rib.use_at_hole(shear, moment, _bent(ribs, h, left, long), metal).max(axis=0)
    else:
        sheet, _ = sheet_of(ribs, strengths)
        whole = wood_rib.whole_use(moment, shear, h, t, sheet)
        holed = wood_rib.hole_use(moment, shear, h, h - 2 * np.where(there, c.chord, 0.4), c.hole, t, sheet)
    return np.where(there, np.where(c.hole > 0, holed, whole), 0.0)


def _bent_metal(ribs: Ribs) -> bool:
    return ribs.flange > 0 and material(ribs.sheet.material).kind in ("aluminium", "steel")


def _bent(ribs: Ribs, depth: np.ndarray | float, left: np.ndarray | float, hole: np.ndarray | float
          ) -> metal_rib.SheetRib:  # fmt: skip
    return metal_rib.SheetRib(depth=depth, thickness=ribs.sheet.thickness, flange=ribs.flange, left=left, hole=hole)


# ------------------------------------------------------------------ told


def _worst(wing: Wing, kind: str, found: Sequence[tuple[WholeRib, Used]]
           ) -> tuple[tuple[float, WholeRib, Used, tuple[int, int, int, int]], bool]:  # fmt: skip
    """(the greatest use and where, whether any is lost); where none is known, where the moment is greatest."""
    rows, lost, known = [], False, False
    for rib, used in found:
        here = zone(rib, kind)
        use = np.where(here, used.use, -1.0)
        lost, known = lost or bool(np.isnan(use).any()), known or bool((use >= 0).any())
        rows.append((rib, used, use, np.where(here, used.moment, -1.0)))
    picked = []
    for rib, used, use, moment in rows:
        size = use if known else moment
        at = np.unravel_index(int(np.nanargmax(np.where(np.isnan(size), -1.0, size))), size.shape)
        picked.append((float(size[at]), rib, used, tuple(int(i) for i in at)))
    most, rib, used, (v, c, s, k) = max(picked, key=lambda p: p[0])
    return (most if known else math.nan, rib, used, (v, c, s, k)), lost


def _told(answer: Answered, wing: Wing, kind: str, words: str, found: Sequence[tuple[WholeRib, Used]],
          strengths: Strengths, doubts: Sequence[Allowable]) -> Check:  # fmt: skip
    best, lost = _worst(wing, kind, found)
    value, rib, used, (v, c, s, k) = best
    i = behind(kind)
    made, name, n = rib.made[i], rib.names[i], rib.sheets[i]
    stuff = (metal_of if _bent_metal(made) else sheet_of)(made, strengths)
    id = f"strength.{wing.name}.{kind}" + (f".{name}" if name else "")
    title = f"{_name(wing)}: {f'stouter ribs {name}, ' if name else ''}{words}"
    at = Worst(value, v, c, used.bars[s], 0, lost)
    V, M = float(used.shear[v, c, s, k]), float(used.moment[v, c, s, k])
    x, side = float(rib.cut.x[k]), SIDES[s]
    air = used.air[s, :, c]
    steps = (
        *(Step(f"air on the rib at BL {rib.y / INCH:.1f} in, {side}: {w}", "two loads with n and t of the bay",
               (("bay", rib.width, "m"), ("chord", rib.beam.chord, "m")), float(a), "N", "glauert-1926")
          for w, a in zip(("ahead", "in the middle", "hinge"), air, strict=True)),
        Step(f"shear {x / INCH:.1f} in behind the nose, with the frame's", "|P - sum R| + |V_frame|", (), V, "N",
             "statics"),
        Step("moment there, with the frame's", "|int V dx| + |M_frame|", (), M, "N m", "statics"),
        *(_couple(rib, used.ends[v, c, s]) if kind == "rib_middle" else ()),
        *_shared(n),
        *rib_working(made, rib.cut, k, V / n, M / n, stuff[0], value),
    )  # fmt: skip
    number = [n for begins, n in rib.numbers if begins <= x][-1]
    return told(id, title, at, answer, number, [*stuff[1], *doubts], steps, method=METHOD, caveat=CAVEAT)


def _couple(rib: WholeRib, ends: np.ndarray) -> Iterator[Step]:
    """What its joint on each spar must pass of the frame's moment: M/h, pulled on one edge, pressed on the other."""
    sheet = np.flatnonzero(rib.cut.depth > 0)
    for name, x, M in zip(("front", "rear"), (rib.beam.spars[0], rib.beam.spars[-1]), ends, strict=True):
        h = float(rib.cut.depth[sheet[np.argmin(np.abs(rib.cut.x[sheet] - x))]])
        yield Step(f"pull and press that its joint on the {name} spar must pass", "|M_frame|/h",
                   (("M_frame", float(M), "N m"), ("h", h, "m")), float(M) / h, "N", "statics")  # fmt: skip


def _shared(sheets: int) -> tuple[Step, ...]:
    if sheets == 1:
        return ()
    return (Step("each of two back to back bears", "1/n", (("n", sheets, "1"),), 1 / sheets, "1", "statics"),)


def rib_working(ribs: Ribs, c: Cut, k: int, V: float, M: float, stuff: object, value: float) -> tuple[Step, ...]:
    """One place of a rib, line by line: forces V N and M N m, its use as `use_of` gives it."""
    h, a, long, t = float(c.depth[k]), float(c.chord[k]), float(c.hole[k]), ribs.sheet.thickness
    if isinstance(stuff, metal_rib.RibMetal):
        return metal_rib.working(V, M, _bent(ribs, h, a if long else 0.0, long), stuff)
    assert isinstance(stuff, wood_rib.SheetStrength)
    if long:
        return wood_rib.working(M, V, h, h - 2 * a, long, t, stuff)
    size = (("h", h, "m"), ("t", t, "m"))
    bent, cut = 6 * M / (t * h**2) / float(stuff.bending), 1.5 * V / (t * h) / float(stuff.shear)
    return (
        Step("bent", "6 M/(t h^2 F_b)", (("M", M, "N m"), *size, ("F_b", float(stuff.bending), "Pa")), bent, "1",
             "timoshenko-gere"),
        Step("sheared", "1.5 V/(t h F_s)", (("V", V, "N"), *size, ("F_s", float(stuff.shear), "Pa")), cut, "1",
             "timoshenko-gere"),
        *verdict(value, "the worse of both", (("bent", bent, "1"), ("sheared", cut, "1"))),
    )  # fmt: skip
