"""Ribs: inside the section by the skin's thickness, no more stuff than there is, every spar in its slot."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from shapely import LineString, Point, Polygon

from sparwright.family.model import Bar, Panel, Ribs, Section, Sheet, Skin, Spar, Wing
from sparwright.shape.lifting import Station, cut
from sparwright.shape.rib import Piece, inside, pieces, slot
from sparwright.shape.section import curve

SECTIONS = {n: Section(name=n, naca=n) for n in ("4412", "23015", "2418", "0012")}
PLY = Sheet(material="birch-ply", thickness=0.0015)


def wing(
    *, tip_chord: float = 1.4, twist: float = 0.0, tip: str = "4412", land: float = 0.008, skin: float = 0.0015
) -> Wing:
    """A wing of one panel with two spars and a skinned nose."""
    panel = Panel(
        name="only", root_buttline=0.0, tip_buttline=4.0, root_chord=1.4, tip_chord=tip_chord, root_section="4412",
        tip_section=tip, twist=twist, sweep=0.05, dihedral=0.03,
    )  # fmt: skip
    spars = tuple(
        Spar(name=n, at=at, land=land, cap=Bar(material="spruce", width=0.02, depth=0.01), web=PLY)
        for n, at in (("front", 0.2), ("rear", 0.65))
    )
    ribs = Ribs(pitch=0.3, sheet=Sheet(material="okoume-ply", thickness=0.004), nose_cut=0.015, tail_cut=0.03,
                fit=0.0004, web_left=0.02, hole_radius=0.01)  # fmt: skip
    skins = (Skin(name="nose", start=0.0, end=0.2, material="birch-ply", thickness=skin),)
    return Wing(
        name="w", leading_edge=(0.5, 0.0, 0.8), incidence=0.03, panels=(panel,), spars=spars, skins=skins, ribs=ribs
    )


def whole(station: Station) -> Polygon:
    """The section itself at a station, every stored point."""
    assert station.points is not None
    return Polygon(station.points.T * station.chord)


SHAPES = st.fixed_dictionaries(
    {
        "tip_chord": st.floats(0.8, 1.4),
        "twist": st.floats(-0.06, 0.0),
        "tip": st.sampled_from(["4412", "23015", "2418"]),
        "land": st.sampled_from([0.0, 0.008]),
        "skin": st.sampled_from([0.0, 0.0008, 0.002]),
    }
)


@settings(max_examples=15, deadline=None)
@given(shape=SHAPES, at=st.floats(0.0, 4.0))
def test_pieces_lie_inside_and_do_not_outweigh_the_section(shape: dict[str, float], at: float) -> None:
    made = wing(**shape)  # type: ignore[arg-type]
    station = cut(made, SECTIONS, at)
    found, section = pieces(station, made, False), whole(station)
    slots = sum(slot(station, made, s).width * slot(station, made, s).height for s in made.spars)
    net = 0.0
    for piece in found:
        outline = Polygon(piece.outline, piece.holes)
        assert outline.is_valid and outline.exterior.is_ccw
        assert section.buffer(2e-5).contains(outline)
        assert_allclose(outline.area, piece.area, rtol=1e-9)
        net += outline.area
    assert net + slots <= section.area
    assert len(found) == (3 if shape["land"] == 0 else 1)


@settings(max_examples=15, deadline=None)
@given(shape=SHAPES, at=st.floats(0.0, 4.0))
def test_every_slot_holds_its_straight_spar(shape: dict[str, float], at: float) -> None:
    """The spar runs straight from root to tip, as deep as its ends say; the slot at any rib holds it within the fit.

    Of the 0.4 mm here a taper between unlike sections takes up to 0.35, twist of 3.4 degrees alone 0.05.
    """
    made = wing(**shape)  # type: ignore[arg-type]
    here, fraction = cut(made, SECTIONS, at), at / 4.0
    for spar in made.spars:
        a, b = (slot(s, made, spar) for s in ends_of(made))
        straight = (1 - fraction) * np.array(ends_of(made)[0].place(a.x, a.y))
        straight += fraction * np.array(ends_of(made)[1].place(b.x, b.y))
        mine = slot(here, made, spar)
        off = straight - np.array(here.place(mine.x, mine.y))
        bowed = 0.65 * 1.4 * shape["twist"] ** 2 / 8  # a panel of one chord, see cut
        deeper = ((1 - fraction) * a.height + fraction * b.height - mine.height) / 2
        assert abs(off[0]) <= made.ribs.fit + bowed
        assert abs(off[2]) + deeper <= made.ribs.fit


def ends_of(made: Wing) -> tuple[Station, Station]:
    return cut(made, SECTIONS, 0.0), cut(made, SECTIONS, 4.0)


@pytest.mark.parametrize("thickness", [0.0008, 0.0015, 0.003])
def test_outline_is_the_section_less_the_skin(thickness: float) -> None:
    """Under the skin each point of the rib's edge lies the thickness inside the section, elsewhere on it: 0.01 mm."""
    made = wing(skin=thickness)
    station = cut(made, SECTIONS, 1.0)
    rib, section = inside(station, made.skins), whole(station).exterior
    edge = 0.2 * station.chord
    away = {True: [], False: []}
    for x, y in rib.segmentize(0.002).exterior.coords:
        if abs(x - edge) > 1e-4 and x < 0.99 * station.chord:
            away[x < edge].append(section.distance(Point(x, y)))
    assert len(away[True]) > 50 and len(away[False]) > 50
    assert_allclose(away[True], thickness, rtol=0, atol=1e-5)
    assert_allclose(away[False], 0, rtol=0, atol=1e-5)


def test_skins_over_one_another_add_up() -> None:
    made = wing(skin=0.001)
    twice = replace(made, skins=(*made.skins, replace(made.skins[0], name="second", end=0.1, thickness=0.0005)))
    station = cut(made, SECTIONS, 1.0)
    section = whole(station).exterior
    for x, thick in ((0.05, 0.0015), (0.15, 0.001), (0.4, 0.0)):
        line = LineString([(x * station.chord, 0), (x * station.chord, 1)])
        top = inside(station, twice.skins).exterior.intersection(line)
        assert_allclose(section.distance(top), thick, rtol=0, atol=1e-5)


@settings(max_examples=20, deadline=None)
@given(tip_chord=st.floats(0.7, 1.4), twist=st.floats(-0.08, 0.05), at=st.floats(0.0, 4.0), n=st.integers(0, 800))
def test_panels_are_ruled(tip_chord: float, twist: float, at: float, n: int) -> None:
    """Any point of the skin lies on the straight line between the same points of root and tip."""
    made = wing(tip_chord=tip_chord, twist=twist, tip="2418")
    stations = [cut(made, SECTIONS, y) for y in (0.0, at, 4.0)]
    assert_allclose([stations[0].chord, stations[2].chord], [1.4, tip_chord], rtol=1e-12)
    assert_allclose([stations[0].angle, stations[2].angle], [0.03, 0.03 + twist], rtol=0, atol=1e-12)
    root, mine, tip = (np.array(s.place(*(s.points[:, n] * s.chord))) for s in stations)  # type: ignore[index]
    assert_allclose(mine, root + (tip - root) * at / 4.0, rtol=0, atol=1e-9)


def test_like_ribs_stay_alike_in_a_twisted_panel() -> None:
    """One chord and one section: every rib has the root's shape, and the edges stay within c twist^2/8 of straight."""
    made = wing(twist=-0.05)
    middle = cut(made, SECTIONS, 2.0)
    assert_allclose(middle.points, curve(SECTIONS["4412"]), rtol=0, atol=0)
    straight = np.mean([s.place(s.chord, 0.0) for s in ends_of(made)], axis=0)
    assert np.linalg.norm(straight - middle.place(middle.chord, 0.0)) <= 1.4 * 0.05**2 / 8 * 1.001


def lean_of(piece: Piece) -> float:
    return piece.slots[0].lean


def test_slots_lean_with_the_twist() -> None:
    made = wing(twist=-0.05)
    leans = [lean_of(pieces(cut(made, SECTIONS, y), made, False)[0]) for y in (0.0, 2.0, 4.0)]
    assert_allclose(leans, [0, -0.025, -0.05], rtol=0, atol=1e-12)
