"""Inspection openings of a wing: a ring under the skin, a cover over it, as parts and joints.

Both are flat, square to the skin at the middle of the hole; under sheet the ring lies in by what that curves away over
it. It reaches one rim beyond the hole and one into it, to stiffen its edge and seat the cover; the cover one rim
beyond. Holes are cut out of bodies of sheet and told in the
skin's note; fabric is cut when it is taut. What a hole weighs is not taken off. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from shapely import Point

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.inspection import Opening
from sparwright.family.model import Model, Skin, Wing
from sparwright.family.stock import Sheet
from sparwright.parts.edges import FABRIC
from sparwright.parts.joints import SKIN_JOINT
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part, Plate
from sparwright.parts.skins import sheets_at
from sparwright.parts.tail_frame import ring_of
from sparwright.parts.wing import sheet_stock
from sparwright.shape.lifting import cut
from sparwright.shape.section import sides
from sparwright.shape.solid import CORNERS, Pose, Solid, as_place, cylinder, round_radius

CUT = 4e-3  # m to either side of the surface a hole is cut
STEP = 1e-3  # m to either side, for directions along the surface


def inspection_parts(model: Model, wing: Wing) -> Iterator[Part]:
    """A ring and a cover for each opening, on both sides of the aeroplane."""
    made = wing.inspection
    for o in made.openings if made else ():
        assert made is not None
        deep = skin_at(wing, o).thickness
        fall = _fall(model, wing, o, o.diameter / 2 + made.rim) if deep else 0.0  # fabric lies on its ring
        for kind, sheet, low, over in (
            ("RING", made.ring, o.diameter / 2 - made.rim, -deep - fall - made.ring.thickness / 2),
            ("COVER", made.cover, 0.0, (0.0 if deep else FABRIC) + made.cover.thickness / 2),
        ):
            yield _disc(model, wing, o, kind, sheet, (low, o.diameter / 2 + made.rim), over)


def skin_at(wing: Wing, o: Opening) -> Skin:
    """The skin an opening is in; DesignProblem where there is none, or two."""
    found = [s for s in wing.skins if s.start < o.at < s.end]
    if len(found) != 1:
        raise DesignProblem(
            f"wing {wing.name}, inspection: an opening at {o.at:g} of the chord lies in {len(found)} skins; one is "
            "wanted"
        )
    return found[0]


def _number(model: Model, wing: Wing, o: Opening, kind: str) -> str:
    place = f"{place_key(o.buttline)}-{round(o.at * 100)}"
    return part_number(model.name, wing.name, f"INSPECTION-{kind}", place, "UP" if o.side == "upper" else "")


def _on(model: Model, wing: Wing, o: Opening, buttline: float, at: float) -> np.ndarray:
    """(3,) a point of the surface an opening is in."""
    s = cut(wing, model.sections, buttline)
    assert s.points is not None
    upper, lower = sides(s.points, np.array([at]))
    return np.array(s.place(at * s.chord, float((upper if o.side == "upper" else lower)[0]) * s.chord))


def _fall(model: Model, wing: Wing, o: Opening, radius: float) -> float:
    """How far the surface falls away from its tangent fore and aft within a radius, m."""
    pose, chord = opening_pose(model, wing, o, 0.0), cut(wing, model.sections, o.buttline).chord
    normal = np.cross(pose.x, pose.y)
    ends = (_on(model, wing, o, o.buttline, o.at + way * radius / chord) for way in (-1.0, 1.0))
    return max(0.0, *(-float((p - np.array(pose.origin)) @ normal) for p in ends))


def opening_pose(model: Model, wing: Wing, o: Opening, over: float) -> Pose:
    """Where a flat disc stands, right wing: square to the surface, its middle so far outside it, m."""

    def on(buttline: float, at: float) -> np.ndarray:
        return _on(model, wing, o, buttline, at)

    chord = cut(wing, model.sections, o.buttline).chord
    aft = on(o.buttline, o.at + STEP / chord) - on(o.buttline, o.at - STEP / chord)
    out = on(o.buttline + STEP, o.at) - on(o.buttline - STEP, o.at)
    aft = aft / np.linalg.norm(aft)
    out = out - (out @ aft) * aft
    out = out / np.linalg.norm(out) * (1.0 if o.side == "upper" else -1.0)
    origin = on(o.buttline, o.at) + over * np.cross(aft, out)
    return Pose(as_place(origin), as_place(aft), as_place(out))


def _disc(
    model: Model, wing: Wing, o: Opening, kind: str, sheet: Sheet, radii: tuple[float, float], over: float
) -> Part:
    low, high = radii
    whole = Point(0.0, 0.0).buffer(round_radius(high), quad_segs=CORNERS // 4)
    hole = ring_of(Point(0.0, 0.0).buffer(round_radius(low), quad_segs=CORNERS // 4))[::-1] if low > 0 else None
    shape = Plate(
        outline=locked(ring_of(whole)), holes=() if hole is None else (locked(hole),), thickness=sheet.thickness
    )
    pose, stuff, body = opening_pose(model, wing, o, over), material(sheet.material), shape.solid()
    poses = (pose, pose.across())
    return Part(
        number=_number(model, wing, o, kind), name=f"inspection {kind.lower()}, {wing.name}", form="plate",
        group=f"wing {wing.name}", purpose="inspection", material=sheet.material, stock=sheet_stock(sheet, stuff),
        places=tuple(p.place(0.0, 0.0) for p in poses), poses=poses, mass=body.volume * stuff.density, shape=shape,
        at=f"BL {inches(o.buttline, 10**6)}, {o.at:.0%} of the chord, {o.side}", note=o.reason,
    )  # fmt: skip


def holes(model: Model, wing: Wing) -> tuple[Solid, ...]:
    """What is cut out of the wing's sheets, right and left."""
    made = wing.inspection
    found = []
    for o in made.openings if made else ():
        pose = opening_pose(model, wing, o, 0.0)
        normal = np.cross(pose.x, pose.y)
        right = cylinder(pose.origin, as_place(normal), o.diameter / 2, 2 * CUT)
        found += [right, right.mirrored()]
    return tuple(found)


def with_holes(model: Model, wing: Wing, part: Part) -> Part:
    """A skin with its holes told; any other part as it is."""
    for o in wing.inspection.openings if wing.inspection else ():
        if part.number == _sheet_of(model, wing, o):
            said = f"hole of {inches(o.diameter)} at BL {inches(o.buttline, 10**6)}, {o.at:.0%} of the chord, {o.side}"
            part = replace(part, note="; ".join(x for x in (part.note, said) if x))
    return part


def _sheet_of(model: Model, wing: Wing, o: Opening) -> str:
    """Number of the sheet an opening's middle is in."""
    return sheets_at(model, wing, skin_at(wing, o), (o.buttline - STEP, o.buttline + STEP), o.side)[0].number


def inspection_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Each ring to the skin, each cover to ring and skin."""
    for o in wing.inspection.openings if wing.inspection else ():
        assert wing.inspection is not None
        skin = skin_at(wing, o)
        number = _sheet_of(model, wing, o)
        ring, cover = (_number(model, wing, o, kind) for kind in ("RING", "COVER"))
        place = opening_pose(model, wing, o, 0.0).origin
        kind = SKIN_JOINT.get(material(skin.material).kind, "glue")
        rim = wing.inspection.rim
        yield Joint(
            number=f"{ring}-JOINT", kind="glue" if kind == "lacing" else kind, parts=(number, ring), count=2,
            primary=False, place=place, area=np.pi * rim * (o.diameter + rim), length=np.pi * o.diameter,
            fastener="unknown" if kind == "rivet" else "",
        )  # fmt: skip
        yield Joint(
            number=f"{cover}-JOINT", kind="bolt", place=place, count=2, primary=False, fastener="unknown",
            parts=(number, cover, ring) if skin.thickness else (ring, cover), note="to be opened: screws or clips",
        )  # fmt: skip
