"""Inspection openings: where they lie, what they weigh, what holds them, and what cannot be."""

from __future__ import annotations

import numpy as np
import pytest
from families import PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.parts.inspection import opening_pose
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.solids import exact, solids
from sparwright.plans.cutlist import cut_list
from sparwright.shape.lifting import cut

RING = 'ring = { material = "birch-ply", thickness = "1.5 mm" }'
LOW = '{ buttline = "99 in", at = 0.3, diameter = "4 in", reason = "strut" }'
UP = '{ buttline = "63 in", at = 0.65, side = "upper", diameter = "80 mm", reason = "cable" }'
AREA = np.pi / 4 * 0.0254**2  # of a disc of one inch


def made(openings: str = f"[{LOW}, {UP}]", name: str = "P1", wing: str = "wing") -> str:
    cover = 'cover = { material = "6061-T6", thickness = "0.025 in" }'
    table = f'\n[models.{name}.wings.{wing}.inspection]\n{RING}\n{cover}\nrim = "1/2 in"\nopenings = {openings}\n'
    at = PROBE.index(f"\n[models.{name}.wings.{wing}.aileron]")
    return PROBE[:at] + table + PROBE[at:]


def opened(name: str = "P1", wing: str = "wing") -> Model:
    return reading(made(name=name, wing=wing)).models[name]


def test_a_ring_and_a_cover_on_both_sides_by_hand() -> None:
    """4 in hole, 1/2 in rim: ring from 3 to 5 in across, cover 5 in."""
    parts = {p.number: p for p in lay_out(opened()).parts}
    ring, cover = parts["P1-wing-INSPECTION-RING-99-30"], parts["P1-wing-INSPECTION-COVER-99-30"]
    assert_allclose(ring.mass, (25 - 9) * AREA * 0.0015 * material("birch-ply").density, rtol=1e-6)
    assert_allclose(cover.mass, 25 * AREA * 0.025 * 0.0254 * material("6061-T6").density, rtol=1e-6)
    assert ring.count == cover.count == 2 and ring.note == cover.note == "strut"
    (x, y, z), (a, b, c) = ring.places
    assert (x, y, z) == pytest.approx((a, -b, c)) and y > 0
    assert "P1-wing-INSPECTION-RING-63-65-UP" in parts


@pytest.mark.parametrize("side", ["lower", "upper"])
def test_it_lies_on_the_surface_square_to_it(side: str) -> None:
    model = opened()
    wing = model.wings[0]
    o = next(q for q in wing.inspection.openings if q.side == side)  # type: ignore[union-attr]
    pose, station = opening_pose(model, wing, o, 0.0), cut(wing, model.sections, o.buttline)
    normal = np.cross(pose.x, pose.y)
    assert (normal[2] > 0.9) == (side == "upper") and abs(normal[2]) > 0.9
    assert station.points is not None
    line = np.array([station.place(*(p * station.chord)) for p in station.points.T])
    off = line - np.array(pose.origin)
    near = np.linalg.norm(off, axis=1) < 0.02
    assert near.any() and np.abs(off[near] @ normal).max() < 2e-4  # the surface leaves its tangent by that in 20 mm
    out = opening_pose(model, wing, o, 0.01)
    assert_allclose(np.array(out.origin) - pose.origin, 0.01 * normal, rtol=0, atol=1e-12)


@pytest.mark.parametrize(("name", "wing"), [("P1", "wing"), ("P3", "upper")])
def test_they_touch_and_clash_with_nothing(name: str, wing: str) -> None:
    assembly = lay_out(opened(name, wing))
    mine = {p.number for p in assembly.parts if "INSPECTION" in p.number}
    found = measure(assembly)
    assert len(mine) == 4 and not [c for c in found.clashes if {c.one, c.other} & mine]
    assert not [a for a in found.apart if "INSPECTION" in a.joint] and not set(found.loose) & mine
    assert not [n for n in found.adrift if n.split(" at ")[0] in mine]


def test_the_hole_is_cut_out_of_sheet() -> None:
    """A point in the middle of the skin under the cover is in the body without the opening and not in it with one."""
    number, model = "P3-upper-SKIN-GLASS-outer-R", opened("P3", "upper")
    wing = model.wings[0]
    o = wing.inspection.openings[0]  # type: ignore[union-attr]
    bodies = [exact(solids(lay_out(m).part(number))[0]) for m in (reading(PROBE).models["P3"], model)]
    lost = bodies[0].volume() - bodies[1].volume()
    both = sum(np.pi / 4 * q.diameter**2 for q in wing.inspection.openings) * 0.015 * 0.0254  # type: ignore[union-attr]
    assert_allclose(lost, both, rtol=0.02)
    assert o.reason == "strut"


def test_the_skin_tells_its_holes() -> None:
    rows = {r.number: r for r in cut_list(lay_out(opened()).parts)}
    note = rows["P1-wing-SKIN-COVER-outer"].note
    assert "hole of 4″ at BL 99″, 30% of the chord, lower" in note and "upper" in note
    assert rows["P1-wing-SKIN-COVER-centre"].note == ""


@pytest.mark.parametrize(
    ("openings", "key", "says"),
    [
        (LOW.replace("99 in", "180 in"), "buttline", "must lie on the wing"),
        (LOW.replace("at = 0.3", "at = 0.2"), "at", "in one of the skins"),
        (LOW.replace("99 in", "130 in").replace("at = 0.3", "at = 0.9"), "at", "ahead of the aileron"),
        (LOW.replace("4 in", "1 in"), "diameter", "two rims"),
        (LOW.replace(', reason = "strut"', ""), "reason", "is missing"),
        (LOW.replace("at = 0.3", 'at = 0.3, side = "left"'), "side", "lower"),
    ],
)
def test_what_cannot_be_is_told_with_its_key(openings: str, key: str, says: str) -> None:
    told = problems(made(f"[{openings}]"))
    full = f"models.P1.wings.wing.inspection.openings.0.{key}"
    assert any(p.key == full and says in p.wanted for p in told), [str(p) for p in told]
