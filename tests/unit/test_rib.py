"""Rib pieces by name, and designs that cannot be cut said in a sentence."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely import LineString, Polygon

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Aileron, Bar, Panel, Ribs, Section, Sheet, Skin, Spar, Wing
from sparwright.shape.lifting import cut
from sparwright.shape.rib import Piece, pieces, slot, spar_width

SECTIONS = {"even": Section(name="even", naca="0012"), "lifting": Section(name="lifting", naca="4412")}


def wing(section: str = "lifting", land: float = 0.0, **ribs: float) -> Wing:
    """A plain wing of chord 1 m with two spars, aileron from 0.7 of the chord."""
    panel = Panel(
        name="only", root_buttline=0.0, tip_buttline=3.0, root_chord=1.0, tip_chord=1.0, root_section=section,
        tip_section=section,
    )  # fmt: skip
    sheet = Sheet(material="birch-ply", thickness=0.0015)
    spars = tuple(
        Spar(name=n, at=at, land=land, cap=Bar(material="spruce", width=0.02, depth=0.01), web=sheet)
        for n, at in (("front", 0.2), ("rear", 0.65))
    )
    made = Ribs(pitch=0.3, sheet=Sheet(material="okoume-ply", thickness=0.004), **ribs)
    aileron = Aileron(inboard=1.0, outboard=2.0, hinge=0.7, gap=0.01, up=0.3, down=0.3)
    return Wing(name="w", leading_edge=(0, 0, 0), panels=(panel,), spars=spars, ribs=made, aileron=aileron)


def found(made: Wing, hinged: bool = False) -> dict[str, Piece]:
    return {p.name: p for p in pieces(cut(made, SECTIONS, 1.5), made, hinged)}


def test_pieces_by_name() -> None:
    assert list(found(wing())) == ["nose rib", "middle rib", "tail rib"]
    assert list(found(wing(), True)) == ["nose rib", "middle rib", "tail rib", "aileron rib"]
    assert list(found(wing(land=0.005))) == ["rib"]
    assert list(found(wing(land=0.005), True)) == ["rib", "aileron rib"]


def test_pieces_stop_where_the_spars_faces_are() -> None:
    """Nose rib to the front face less the fit, wing and aileron rib half a gap off the hinge line."""
    made = wing(fit=0.0005, nose_cut=0.02, tail_cut=0.03)
    by_name, half = found(made, True), spar_width(made.spars[0]) / 2
    reach = {n: (p.outline[:, 0].min(), p.outline[:, 0].max()) for n, p in by_name.items()}
    assert_allclose(reach["nose rib"], (0.02, 0.2 - half - 0.0005), rtol=0, atol=1e-9)
    assert_allclose(reach["middle rib"], (0.2 + half + 0.0005, 0.65 - half - 0.0005), rtol=0, atol=1e-9)
    assert_allclose(reach["tail rib"], (0.65 + half + 0.0005, 0.695), rtol=0, atol=1e-9)
    assert_allclose(reach["aileron rib"], (0.705, 0.97), rtol=0, atol=1e-9)


def test_no_cut_leaves_the_nose_whole() -> None:
    """Without a nose cut the rib reaches as far forward as the section, which bulges ahead of x = 0."""
    nose = found(wing(land=0.005))["rib"].outline[:, 0].min()
    section = cut(wing(), SECTIONS, 1.5).points
    assert section is not None
    assert nose == pytest.approx(section[0].min(), abs=2e-5) and nose < 0


def test_land_is_left_above_and_below() -> None:
    made = wing("even", land=0.006)
    here = cut(made, SECTIONS, 1.5)
    rib, box = found(made)["rib"], slot(here, made, made.spars[0])
    whole = Polygon(rib.outline)
    spar = box.polygon()
    top, bottom = (
        LineString([(x, spar.bounds[3]) for x in spar.bounds[::2]]),
        LineString([(x, spar.bounds[1]) for x in spar.bounds[::2]]),
    )
    assert_allclose([whole.exterior.distance(side) for side in (top, bottom)], 0.006, rtol=0, atol=3e-5)
    assert len(rib.holes) == 2 and len(rib.slots) == 2


def test_lightening_holes_leave_the_web() -> None:
    made = wing(land=0.006, web_left=0.012, hole_radius=0.005)
    rib = found(made)["rib"]
    shell = Polygon(rib.outline)
    boxes = [s.polygon() for s in rib.slots]
    holes = [Polygon(h) for h in rib.holes if not any(Polygon(h).buffer(1e-6).contains(b) for b in boxes)]
    assert holes
    for hole in holes:
        assert shell.exterior.distance(hole) > 0.012 - 2e-5
        assert min(b.distance(hole) for b in boxes) > 0.012 - 2e-5


def test_flanged_blank_reaches_beyond_the_mould_line() -> None:
    made = wing(flange=0.015, bend_radius=0.003)
    for piece in found(made).values():
        assert piece.blank is not None
        assert Polygon(piece.blank).buffer(1e-9).contains(Polygon(piece.outline))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"at": 0.685}, "reaches into the aileron"),
        ({"cap": Bar(material="spruce", width=0.02, depth=0.06)}, "is left for two caps"),
        ({"at": 1.2}, "outside the rib"),
    ],
)
def test_spars_that_do_not_fit(change: dict[str, object], words: str) -> None:
    made = wing()
    with pytest.raises(DesignProblem, match=words):
        found(replace(made, spars=(made.spars[0], replace(made.spars[1], **change))), True)  # type: ignore[arg-type]


@pytest.mark.parametrize("left", [0.0, 0.0004])
def test_a_sliver_is_refused(left: float) -> None:
    """Between the rear spar and the aileron's gap a fraction of a millimetre is left: a sentence, not a lost piece."""
    made = wing()
    rear = replace(made.spars[1], at=0.695 - spar_width(made.spars[1]) / 2 - left)
    with pytest.raises(DesignProblem, match="one tail rib is wanted, the cuts leave"):
        found(replace(made, spars=(made.spars[0], rear)), True)


def test_edge_cuts_that_leave_nothing() -> None:
    with pytest.raises(DesignProblem, match="edge bars"):
        found(wing(nose_cut=0.6, tail_cut=0.6))


def test_skin_thicker_than_the_wing() -> None:
    made = replace(wing(), skins=(Skin(name="s", start=0.0, end=1.0, material="birch-ply", thickness=0.2),))
    with pytest.raises(DesignProblem, match="skin"):
        found(made)


def test_outlines_are_locked_and_closed_once() -> None:
    for piece in found(wing()).values():
        assert not piece.outline.flags.writeable
        assert not np.allclose(piece.outline[0], piece.outline[-1])
