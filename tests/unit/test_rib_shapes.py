"""One template for ribs that are alike: every part once, its own holes told whole, nothing else joined."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from sparwright.family.model import Family
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Length, Mark, Part, Plate
from sparwright.parts.ribs import OPENING
from sparwright.plans.corner import free_corner
from sparwright.plans.drawing import Polyline, Text
from sparwright.plans.paper import TitleBlock
from sparwright.plans.rib_shapes import grouped
from sparwright.plans.templates import templates

OUTLINE = np.array([(0.0, 0.0), (0.6, 0.0), (0.6, 0.1), (0.0, 0.15)])
SLOT = np.array([(0.1, 0.03), (0.13, 0.03), (0.13, 0.1), (0.1, 0.1)])
TITLE = TitleBlock("Fam", "M1", "p", "0" * 64)


def ring(x: float, y: float, r: float) -> np.ndarray:
    angles = np.linspace(0, 2 * np.pi, 40, endpoint=False)
    return np.column_stack([x + r * np.cos(angles), y + r * np.sin(angles)])


def rib(key: str, openings: dict[str, tuple[float, float]], slot: np.ndarray = SLOT) -> Part:
    holes = (slot, *(ring(x, y, 0.006) for x, y in openings.values()))
    marks = (Mark(label="chord line", points=((0.0, 0.02), (0.6, 0.02))),
             *(Mark(label=f"{OPENING}{name}, 1/2″ round", points=(at,)) for name, at in openings.items()))  # fmt: skip
    plate = Plate(outline=OUTLINE, holes=holes, thickness=0.004, marks=marks, grain="along the chord",
                  lengths=(Length(label="overall", start=(0.0, 0.0), end=(0.6, 0.0)),))  # fmt: skip
    return Part(number=f"M1-wing-RIB-{key}", name="rib, wing", purpose="rib", group="wing", form="plate",
                material="okoume-ply", stock="Okoume plywood, 4 mm", shape=plate, mass=0.1,
                places=((0.0, 0.0, 0.0), (0.0, 1.0, 0.0)), at=f"BL {key}″")  # fmt: skip


def pairs(*parts: Part) -> list[tuple[Part, Plate]]:
    return [(p, p.shape) for p in parts if isinstance(p.shape, Plate)]


def test_openings_that_not_all_have_are_told_apart() -> None:
    one, two, three = (
        rib("10", {"balance": (0.3, 0.05)}),
        rib("20", {"balance": (0.3, 0.05), "pitot": (0.4, 0.05)}),
        rib("30", {}),
    )
    (a,) = grouped(pairs(one, two, three))
    assert a.name == "M1-wing-RIB-10 and 2 alike" and len(a.plate.holes) == 1 and len(a.plate.marks) == 1
    assert [(o.letter, o.what, o.numbers) for o in a.openings] == [
        ("a", "opening for balance, 1/2″ round", (one.number, two.number)),
        ("b", "opening for pitot, 1/2″ round", (two.number,)),
    ]


def test_an_opening_that_all_have_stays_a_hole() -> None:
    (a,) = grouped(pairs(rib("10", {"balance": (0.3, 0.05)}), rib("20", {"balance": (0.3, 0.05)})))
    assert not a.openings and len(a.plate.holes) == 2 and len(a.plate.marks) == 2


def test_a_slot_a_tenth_of_a_millimetre_off_is_another_template() -> None:
    assert len(grouped(pairs(rib("10", {}), rib("20", {}, SLOT + (1e-4, 0.0))))) == 2
    assert len(grouped(pairs(rib("10", {}), replace(rib("20", {}), stock="Birch plywood, 4 mm")))) == 2


def test_the_sheet_says_which_part_has_what_and_counts_them_all() -> None:
    (sheet,) = templates([rib("10", {"balance": (0.3, 0.05)}), rib("20", {})], "24x36", TITLE)
    assert set(sheet.shows) == {"M1-wing-RIB-10", "M1-wing-RIB-20"}
    said = " ".join(s.content for s in sheet.drawn if isinstance(s, Text))
    assert "make 4 in all" in said and "M1-wing-RIB-10: make 2, BL 10″" in said
    assert "Opening a, dashed, for balance, 1/2″ round: only in M1-wing-RIB-10" in said
    dashed = [s for s in sheet.drawn if isinstance(s, Polyline) and s.layer == "cut" and s.dash == "dash"]
    assert len(dashed) == 1


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_every_rib_is_on_one_template_with_its_own_holes(whinchat: Family, name: str) -> None:
    ribs = [p for p in lay_out(whinchat.models[name]).parts if p.purpose == "rib"]
    found = grouped(pairs(*ribs))
    assert sorted(p.number for a in found for p in a.parts) == sorted(p.number for p in ribs)
    assert len(found) < len(ribs) or name == "W3"  # whose every rib is twisted by itself
    for a in found:
        for p in a.parts:
            own = [*a.plate.holes, *(o.ring for o in a.openings if p.number in o.numbers)]
            assert isinstance(p.shape, Plate)
            assert sorted(map(area, own)) == pytest.approx(sorted(map(area, p.shape.holes)), abs=1e-12)


def area(hole: np.ndarray) -> float:
    return float(shapely.Polygon(hole).area)


def test_a_free_corner_is_clear_and_inside() -> None:
    triangle = shapely.Polygon([(0, 0), (400, 0), (0, 150)])
    at = free_corner((150.0, 40.0), [triangle], 5.0)
    assert at is not None
    spot = shapely.box(at[0], at[1] - 40, at[0] + 150, at[1])
    assert spot.distance(triangle) >= 5.0 - 1e-9 and shapely.box(0, 0, 400, 150).covers(spot)
    assert at == (250.0, 150.0)  # the highest, farthest right
    assert free_corner((390.0, 60.0), [triangle], 5.0) is None and free_corner((500.0, 10.0), [triangle], 5.0) is None
