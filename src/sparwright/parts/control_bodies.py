"""Bodies that controls are made of: flat plates round holes, brackets of two plates, shackles, pieces of tube."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import Point, Polygon
from shapely.affinity import rotate, scale, translate
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points, unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube, Sheet
from sparwright.parts.frame import tube_number, tube_section, tube_stock
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, JointKind, Mark, Part, Plate, Straight
from sparwright.parts.solids import exact, solids
from sparwright.parts.tail_fittings import strap
from sparwright.parts.tail_frame import ring_of
from sparwright.parts.wing import sheet_stock
from sparwright.shape.frame import Run, nodes, runs
from sparwright.shape.solid import Pose, Solid, as_place, between
from sparwright.shape.tube import Tube, directions

GROUP = "controls"
WIDE = 0.016  # m, half the width of a bracket's foot on a part of a wing (common practice, no source)
EDGE = 2.0  # diameters of a bolt from its middle to the edge of a plate (common practice, no source)
STEEP = 0.5  # least cosine between a bracket's axis and the tube it is welded to
QUARTER = 16  # corners of a quarter circle


def number(model: Model, kind: str, key: str = "", hand: str = "") -> str:
    """The number of a part of the controls; the key as it stands in the file."""
    return part_number(model.name, GROUP, kind, key.upper().replace("_", "-"), hand)


def in_plane(normal: np.ndarray, origin: np.ndarray, first: np.ndarray | None = None) -> Pose:
    """A pose in the plane square to a direction; its x lies along `first`, or aft, or up, and its y never down."""
    x = np.array([1.0, 0.0, 0.0]) if first is None else first
    x = x - (x @ normal) * normal
    if np.linalg.norm(x) < 0.1:
        x = np.array([0.0, 0.0, 1.0]) - normal[2] * normal
    x = x / np.linalg.norm(x)
    y = np.cross(normal, x)
    return Pose(as_place(origin), as_place(x), as_place(-y if y[2] < -1e-9 else y))


def flat(pose: Pose, point: np.ndarray) -> tuple[float, float]:
    """A point in the axes of a pose, in its plane."""
    out = point - np.array(pose.origin)
    return float(out @ np.array(pose.x)), float(out @ np.array(pose.y))


def disc(at: tuple[float, float], radius: float) -> Polygon:
    """A round of a radius."""
    return Point(at).buffer(radius, quad_segs=QUARTER)


def round_holes(places: Iterable[tuple[tuple[float, float], float]]) -> BaseGeometry:
    """Rounds of their radii, each joined to the first by their tangents."""
    first, *rest = (disc(at, r) for at, r in places)
    return unary_union([first, *(first.union(d).convex_hull for d in rest)])


def bolt(key: str) -> float:
    """Diameter of a bolt, m."""
    return fasteners()[key].diameter


def plate(
    model: Model,
    kind: str,
    key: str,
    name: str,
    purpose: str,
    shape: BaseGeometry,
    pose: Pose,
    sheet: Sheet,
    hand: Hand = "",
    bores: Sequence[tuple[tuple[float, float], str]] = (),
) -> Part:
    """A flat plate of a sheet; bores: its bolt holes, marked and not cut. DesignProblem where it is in pieces."""
    if not isinstance(shape, Polygon) or shape.is_empty:
        raise DesignProblem(f"{number(model, kind, key, hand)}: this plate comes out in pieces")
    stuff = material(sheet.material)
    holes = tuple(locked(np.array(h.coords)[:-1][:: 1 if not _left(h) else -1]) for h in shape.interiors)
    return Part(
        number=number(model, kind, key, hand),
        name=name,
        form="plate",
        group=GROUP,
        purpose=purpose,
        material=sheet.material,
        stock=sheet_stock(sheet, stuff),
        hand=hand,
        poses=(pose,),
        places=(pose.place(shape.centroid.x, shape.centroid.y),),
        mass=shape.area * sheet.thickness * stuff.density,
        shape=Plate(
            outline=locked(ring_of(Polygon(shape.exterior))),
            holes=holes,
            thickness=sheet.thickness,
            marks=tuple(Mark(label=label, points=(at,)) for at, label in bores),
        ),
    )


def _left(ring: BaseGeometry) -> bool:
    return bool(ring.is_ccw)


def tube(
    model: Model, kind: str, key: str, name: str, purpose: str, path: np.ndarray, stock: RoundTube, hand: Hand = ""
) -> Part:
    """A piece of tube along a path (k, 3), cut square."""
    shape = Tube(path=locked(path), outside=stock.outside, wall=stock.wall, section=tube_section(stock))
    body = shape.solid()
    return Part(
        number=number(model, kind, key, hand),
        name=name,
        form="tube",
        group=GROUP,
        purpose=purpose,
        material=stock.material,
        stock=tube_stock(stock),
        places=(as_place(body.centre),),
        hand=hand,
        mass=body.volume * material(stock.material).density,
        shape=shape,
    )


def bought_rod(
    model: Model,
    kind: str,
    key: str,
    name: str,
    path: np.ndarray,
    outside: float,
    mass: float,
    stock: str,
    hand: Hand = "",
    purpose: str = "control",
) -> Part:
    """Something bought and round about a line: a turnbuckle, a spring, a length of cable, a pin."""
    steps = np.linalg.norm(np.diff(path, axis=0), axis=1)
    middle = steps @ ((path[1:] + path[:-1]) / 2) / steps.sum()
    return Part(
        number=number(model, kind, key, hand),
        name=name,
        form="tube",
        group=GROUP,
        purpose=purpose,
        material="bought",
        stock=stock,
        places=(as_place(middle),),
        mass=mass,
        band=0.1,
        hand=hand,
        mark="designer",
        shape=Tube(path=locked(path), outside=outside, wall=0.0, section=f"{inches(outside)} round"),
    )


def bought_disc(
    model: Model,
    kind: str,
    key: str,
    name: str,
    pose: Pose,
    shape: Polygon,
    thickness: float,
    mass: float,
    hand: Hand = "",
) -> Part:
    """Something bought and flat: a pulley, a rod end."""
    return Part(
        number=number(model, kind, key, hand),
        name=name,
        form="plate",
        group=GROUP,
        purpose="control",
        material="bought",
        stock="bought",
        places=(pose.place(shape.centroid.x, shape.centroid.y),),
        mass=mass,
        band=0.1,
        hand=hand,
        mark="designer",
        poses=(pose,),
        shape=Plate(outline=locked(ring_of(shape)), holes=(), thickness=thickness),
    )


def shackle(
    model: Model,
    key: str,
    place: np.ndarray,
    normal: np.ndarray,
    towards: np.ndarray,
    thickness: float,
    hand: Hand = "",
) -> tuple[Part, np.ndarray]:
    """(the shackle over a plate's hole, (3,) where the cable leaves it): a strip bent round the thimble.

    place, normal: the hole and its plate's normal; towards: the cable's direction. DesignProblem where it is too short.
    """
    controls = model.controls
    assert controls is not None
    e = controls.cable_end
    along = towards - (towards @ normal) * normal
    along = along / np.linalg.norm(along)
    wide = np.cross(normal, along)
    try:
        ring = strap(e.length, thickness / 2, e.eye, e.shackle.thickness, EDGE * bolt(e.pin))
    except ValueError as fault:
        raise DesignProblem(f"{model.name} cable_end: {fault}; a longer shackle is wanted") from fault
    turn = place + e.length * along
    middle = turn - ring[:, :1] * along + ring[:, 1:] * normal
    rings = np.array([middle - e.width / 2 * wide, middle + e.width / 2 * wide])
    body, stuff = between(rings[0], rings[1]), material(e.shackle.material)
    long = float(np.linalg.norm(np.diff(ring, axis=0), axis=1).sum()) / 2
    part = Part(
        number=number(model, "SHACKLE", key, hand),
        name="cable shackle",
        form="bar",
        group=GROUP,
        purpose="control",
        material=e.shackle.material,
        hand=hand,
        places=(as_place(body.centre),),
        mass=body.volume * stuff.density,
        stock=f"{sheet_stock(e.shackle, stuff)}, {inches(e.width)} x {inches(long)}, bent",
        shape=Straight(
            start=as_place(rings[0].mean(axis=0)),
            end=as_place(rings[1].mean(axis=0)),
            section=f"{inches(e.width)} strip",
            rings=locked(rings),
        ),
    )
    return part, turn + (e.eye + e.shackle.thickness) * along


# ------------------------------------------------------------------ on the frame


def frame_tube(model: Model, on: str, hand: Hand = "") -> Run:
    """The frame tube between two nodes, on the side of a hand. DesignProblem where there is none."""
    wanted = on.split("-")
    swapped = [n[:-1] + "L" if n.endswith("R") else n for n in wanted] if hand == "L" else wanted
    for names in (swapped, wanted):
        for run in runs(model.fuselage):
            if [run.nodes[0], run.nodes[-1]] == names:
                return run
    raise DesignProblem(f"{model.name}: no tube of the fuselage runs from {' to '.join(wanted)}")


def tube_of(model: Model, run: Run) -> str:
    """Its part number."""
    return tube_number(model, run)


def meets(model: Model, run: Run, pose: Pose, near: tuple[float, float]) -> tuple[tuple[float, float], Polygon]:
    """(where a frame tube's middle crosses a plane, its section there), in the plane's axes, nearest to a point.

    Of a bent tube a stretch counts that the plane crosses, before one that would have to go on to meet it.
    DesignProblem where it runs along the plane.
    """
    normal = np.cross(pose.x, pose.y)
    known = nodes(model.fuselage)
    path = np.array([known[n] for n in run.nodes])
    found: list[tuple[bool, float, tuple[float, float], Polygon]] = []
    for a, b in zip(path, path[1:], strict=False):
        unit = (b - a) / np.linalg.norm(b - a)
        steep = float(unit @ normal)
        if abs(steep) < STEEP:
            continue
        along = float((np.array(pose.origin) - a) @ normal) / steep
        past = not -run.tube.outside <= along <= float(np.linalg.norm(b - a)) + run.tube.outside
        at = flat(pose, a + along * unit)
        lean = math.atan2(float(unit @ np.array(pose.y)), float(unit @ np.array(pose.x)))
        section = scale(disc((0.0, 0.0), run.tube.outside / 2), 1 / abs(steep), 1.0)
        section = translate(rotate(section, lean, origin=(0.0, 0.0), use_radians=True), *at)
        found.append((past, math.dist(at, near), at, section))
    if not found:
        name = "-".join((run.nodes[0], run.nodes[-1]))
        raise DesignProblem(
            f"{model.name}: a bracket's plates are to stand across the tube {name}, which runs along them"
        )
    _, _, at, section = min(found, key=lambda f: f[:2])
    return at, section


def crosses(model: Model, run: Run, pose: Pose) -> bool:
    """Whether a frame tube goes steeply enough through a plane for a plate to be saddled on it."""
    known, normal = nodes(model.fuselage), np.cross(pose.x, pose.y)
    path = np.array([known[n] for n in run.nodes])
    return bool(np.abs(directions(path) @ normal).max() >= STEEP)


def beside(model: Model, run: Run, point: np.ndarray) -> np.ndarray:
    """(3,) the place of a frame tube's middle line nearest to a point."""
    known = nodes(model.fuselage)
    path = np.array([known[n] for n in run.nodes])
    found = []
    for a, b in zip(path, path[1:], strict=False):
        share = float(np.clip((point - a) @ (b - a) / ((b - a) @ (b - a)), 0.0, 1.0))
        found.append(a + share * (b - a))
    return np.asarray(min(found, key=lambda q: float(np.linalg.norm(q - point))))


@dataclass(frozen=True)
class Footing:
    """What a bracket stands on: a tube of the frame, or a part of a wing by its body."""

    number: str
    kind: JointKind
    note: str
    run: Run | None = None
    body: Solid | None = None


def footing(
    model: Model, standing: Mapping[str, Part], on: str, hand: Hand = "", near: np.ndarray | None = None
) -> Footing:
    """The frame tube or the part of a wing that a key `on` names, on the side of a hand. DesignProblem for none.

    standing: by number, the parts there are, with their hands.
    """
    wing = next((w for w in model.wings if on.startswith(f"{w.name}-")), None)
    if wing is None:
        run = frame_tube(model, on, hand)
        return Footing(tube_number(model, run), "weld", "saddled on the tube, welded both faces", run)
    wanted = f"{model.name}-{on}"
    part = standing.get(wanted) or standing.get(f"{wanted}-{hand or 'R'}")
    if part is None or part.shape is None:
        bars = (n.split("-", 1)[1] for n, p in standing.items() if p.group == f"wing {wing.name}")
        known = dict.fromkeys(n.removesuffix("-R") for n in bars if not n.endswith("-L"))
        raise DesignProblem(
            f"{model.name}: a bracket stands on {on}, which no part is called; those of the {wing.name} are "
            f"{', '.join(known)}"
        )
    side = -1.0 if hand == "L" else 1.0
    bodies = [s for s in solids(part) if (side * s.points[:, 1]).max() > 0]  # one from tip to tip serves both sides
    body = min(bodies, key=lambda s: abs(s.centre[1] - near[1])) if near is not None else bodies[0]
    return Footing(part.number, "bolt", "by an angle riveted to the plate; two bolts, a plate behind", None, body)


def cut_at(model: Model, stand: Footing, pose: Pose) -> tuple[tuple[float, float], BaseGeometry, float]:
    """(the middle of its foot, the section of what it stands on, radius of the foot) in a plate's plane.

    DesignProblem where the plane does not cut it.
    """
    if stand.run is not None:
        at, section = meets(model, stand.run, pose, (0.0, 0.0))
        return at, section, stand.run.tube.outside / 2
    assert stand.body is not None
    axes = np.array([pose.x, pose.y, np.cross(pose.x, pose.y)])
    flat_body = Solid(locked((stand.body.points - np.array(pose.origin)) @ axes.T), stand.body.faces)
    rings = [Polygon(r) for r in exact(flat_body).slice(0.0).to_polygons() if len(r) > 2]
    if not rings:
        raise DesignProblem(f"{model.name}: the plates of a bracket on {stand.number} pass it by")
    whole = unary_union([r.buffer(0) for r in rings])
    near = nearest_points(whole, Point(0.0, 0.0))[0]
    return (float(near.x), float(near.y)), whole, WIDE


def _beyond(at: tuple[float, float]) -> Polygon:
    """Everything past the face of a wing's part, the nearest point of which is `at`."""
    far = math.hypot(*at)
    way = np.array(at) / far
    side, end = np.array([-way[1], way[0]]), np.array(at)
    return Polygon([end + side, end - side, end - side + way, end + side + way])


def bracket(
    model: Model,
    key: str,
    centre: np.ndarray,
    normal: np.ndarray,
    gap: float,
    sheet: Sheet,
    stand: Footing,
    boss: float,
    also: Sequence[tuple[np.ndarray, float]] = (),
    hand: Hand = "",
    bores: Sequence[tuple[np.ndarray, str]] = (),
) -> tuple[Part, Part]:
    """Two plates across an axle, saddled on what they stand on, either side of what turns between them.

    centre, normal: the axle; gap between the plates; boss: radius round the axle; also: (place, radius) of what
    else they hold; bores: (place, bolt) of their holes, marked and not cut.
    """
    found = []
    for side, word in ((-1.0, "first"), (1.0, "second")):
        pose = in_plane(normal, centre + side * (gap + sheet.thickness) / 2 * normal)
        at, section, wide = cut_at(model, stand, pose)
        foot = disc(at, wide)
        whole = unary_union(
            [disc((0.0, 0.0), boss).union(foot).convex_hull]
            + [disc((0.0, 0.0), boss).union(disc(flat(pose, p), r)).convex_hull for p, r in also]
        ).difference(section)
        if stand.body is not None:
            whole = whole.difference(_beyond(at))
        pieces = [p for p in getattr(whole, "geoms", [whole]) if p.contains(Point(0.0, 0.0))]
        if not pieces:
            raise DesignProblem(f"{model.name}: the bracket of {key} turns within what it stands on")
        found.append(
            plate(
                model,
                f"BRACKET-{word.upper()}",
                key,
                f"bracket of {key.replace('_', ' ')}, {word} plate",
                "control bracket",
                pieces[0],
                pose,
                sheet,
                hand,
                [(flat(pose, p), label) for p, label in bores],
            )
        )
    return found[0], found[1]
