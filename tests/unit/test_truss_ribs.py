"""Built-up ribs: strips that fill no place twice, gussets that hold each of them, joints; and what cannot be."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from families import problems
from numpy.testing import assert_allclose
from shapely import Polygon, unary_union
from trusses import TRUSS, built, with_truss

from sparwright.base.problem import DesignProblem
from sparwright.data.loader import material
from sparwright.family.model import Bar, Sheet, Truss
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Plate
from sparwright.parts.ribs import rib_groups, trussed
from sparwright.parts.stations import rib_stations
from sparwright.shape.rib import Piece, Slot
from sparwright.shape.truss import built_up

PLY = Sheet(material="birch-ply", thickness=0.001)
STRIP = Truss(stick=Bar(material="spruce", width=0.008, depth=0.006), gusset=PLY, reach=0.02)


def block(length: float = 0.6, height: float = 0.2, spar: bool = True) -> tuple[Piece, list[Slot]]:
    """A rib with square ends, and a spar of 40 by 180 mm through its middle."""
    ring = np.array([[0.0, 0.0], [length, 0.0], [length, height], [0.0, height]])
    box = Slot("main", length / 2, height / 2, 0.04, height - 0.02, 0.0)
    holes = (np.array(box.polygon().exterior.coords)[:-1],) if spar else ()
    slots = (box,) if spar else ()
    return Piece("rib", ring, holes, slots, length * height), [box] if spar else []


def test_a_block_by_hand() -> None:
    """Two caps 600 by 6; posts at both ends and both sides of the spar, 188 high; two panels a bay by the rule."""
    piece, slots = block()
    found = built_up(piece, slots, STRIP, 0.0)
    areas = {n: Polygon(r).area * 1e6 for n, r in found.sticks.items()}
    assert_allclose([areas["UPPER"], areas["LOWER"]], 600 * 6, rtol=1e-3)
    for post in ("END-NOSE", "END-TAIL", "POST-MAIN-AHEAD", "POST-MAIN-BEHIND"):
        assert_allclose(areas[post], 188 * 6, rtol=1e-3)
    assert found.at_spars == {"main": ("POST-MAIN-AHEAD", "POST-MAIN-BEHIND")}
    bay = 300 - 20 - 2 * 6  # between the post at the end and the one at the spar
    diagonals = [n for n in areas if n.startswith("DIAGONAL")]
    assert len(diagonals) == 2 * max(1, round(bay / (1.2 * 188)))
    for n in diagonals:  # from corner to corner of the bay, less what the caps take off its ends
        assert areas[n] == pytest.approx(6 * np.hypot(bay - 6, 188), rel=0.02)


def test_strips_lie_inside_and_nowhere_twice_and_gussets_hold_each() -> None:
    wing = built().wings[0]
    model = built()
    for group in rib_groups(model, wing):
        if not trussed(wing, group):
            continue
        piece = group[0].piece
        parts = {p.number: p for p in lay_out(model).parts if p.purpose in ("rib stick", "rib gusset")}
        base = f"P1-wing-RIB-{round(group[0].where.buttline / 0.0254)}"
        mine = {
            n: Polygon(p.shape.outline)
            for n, p in parts.items()
            if n.startswith(f"{base}-") and isinstance(p.shape, Plate)
        }
        sticks = {n: s for n, s in mine.items() if "GUSSET" not in n}
        rib = Polygon(piece.outline, piece.holes)
        assert unary_union(list(mine.values())).difference(rib.buffer(2e-5)).area < 1e-8
        assert max(a.intersection(b).area for a, b in combinations(sticks.values(), 2)) < 2e-7
        plates = [s for n, s in mine.items() if "GUSSET" in n]
        assert max(a.intersection(b).area for a, b in combinations(plates, 2)) < 1e-9
        held = unary_union(plates)
        assert {n for n, s in sticks.items() if s.intersection(held).area < 1e-5} == set(), base
        return


@pytest.mark.parametrize("ailerons", [False, True])
def test_everything_touches_and_nothing_clashes(ailerons: bool) -> None:
    assembly = lay_out(built(ailerons))
    found = measure(assembly)
    mine = {p.number for p in assembly.parts if p.purpose in ("rib stick", "rib gusset")}
    assert len(mine) > 100 and not [c for c in found.clashes if c.drawn and {c.one, c.other} & mine]
    assert not [a for a in found.apart if {a.one, a.other} & mine]
    assert not [n for n in found.adrift if n.split(" at ")[0] in mine] and not set(found.loose) & mine
    assert not set(found.not_closed) & mine


def test_ribs_in_and_beside_ailerons_stay_of_sheet() -> None:
    model = built(True)
    wing = model.wings[0]
    a = wing.aileron
    assert a
    whole = {p.number for p in lay_out(model).parts if p.purpose == "rib"}
    sheet = {r.buttline for r in rib_stations(wing) if r.kind == "wing" and a.inboard <= r.buttline <= a.outboard}
    assert len(whole) >= len(sheet)
    for group in rib_groups(model, wing):
        inside = any(a.inboard - 1e-4 <= p.where.buttline <= a.outboard + 1e-4 for p in group)
        assert trussed(wing, group) != inside


def test_each_gusset_is_on_both_faces_and_its_glue_is_counted() -> None:
    assembly = lay_out(built())
    parts = {p.number: p for p in assembly.parts}
    joints = [j for j in assembly.joints if "GUSSET" in j.number]
    assert joints
    for j in joints:
        gusset = parts[j.parts[0]]
        assert gusset.count == 2 * j.count == 2 * parts[j.parts[1]].count
        plate = Polygon(gusset.shape.outline)  # type: ignore[union-attr]
        laps = sum(plate.intersection(Polygon(parts[n].shape.outline)).area for n in j.parts[1:])  # type: ignore[union-attr]
        assert_allclose(j.area, 2 * laps, rtol=1e-9)
        assert_allclose(gusset.mass, plate.area * 0.001 * material("birch-ply").density, rtol=1e-6)


def test_a_strip_that_does_not_pass_over_the_spar_is_told() -> None:
    piece, slots = block()
    thick = Truss(stick=Bar(material="spruce", width=0.008, depth=0.015), gusset=STRIP.gusset, reach=0.03)
    with pytest.raises(DesignProblem, match="does not pass over its spars"):
        built_up(piece, slots, thick, 0.0)


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('depth = "1/4 in"', 'depth = "1/2 in"', "models.P1.wings.wing.spars.front.land", "goes over the spar"),
        ('material = "spruce", width = "5/16', 'material = "6061-T6", width = "5/16',
         "models.P1.wings.wing.ribs.truss.stick.material", "is not a wood"),
        ('reach = "7/8 in"', 'reach = "1/8 in"', "models.P1.wings.wing.ribs.truss.reach", "beyond its strips"),
        ('material = "birch-ply", thickness = "1 mm"', 'material = "birchply", thickness = "1 mm"',
         "models.P1.wings.wing.ribs.truss.gusset.material", "is not a material"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_with_its_key(old: str, new: str, key: str, says: str) -> None:
    text = with_truss().replace(TRUSS, TRUSS.replace(old, new))
    found = [p for p in problems(text) if p.key == key]
    assert found and says in found[0].wanted, [str(p) for p in problems(text)]


def test_a_bent_flange_is_told() -> None:
    table = TRUSS.replace("P1.wings.wing", "P2.wings.upper")
    text = with_truss().replace(TRUSS, TRUSS + table)
    assert any(p.key == "models.P2.wings.upper.ribs.flange" for p in problems(text))
