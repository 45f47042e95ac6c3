"""The tail as bars: every tube is there once, what is pinned, what it is held by; loads and masses on its own nodes.

Stiffness against one cantilever by hand, and no mechanism.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.family.model import Family, Model
from sparwright.loads.case import Pushes
from sparwright.maths.frame.record import Solved
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.parts.layout import lay_out
from sparwright.parts.tail_frame import surfaces
from sparwright.structure.bar import Bar, Skeleton
from sparwright.structure.laid import on_nodes, takers
from sparwright.structure.masses import Carriers, lumps
from sparwright.structure.tail import laced, tail_bars, tail_nodes
from sparwright.structure.whole import skeleton

INCH = 0.0254
TAIL = ("tailplane", "elevator", "fin", "rudder")


@pytest.fixture(scope="module")
def model(whinchat: Family) -> Model:
    return whinchat.models["W1"]


@pytest.fixture(scope="module")
def whole(model: Model) -> Skeleton:
    return skeleton(model)


def tail(whole: Skeleton) -> list[Bar]:
    return [b for b in whole.bars if any(e.split(".")[0] in TAIL for e in b.ends)]


def pulled(whole: Skeleton, *loads: tuple[str, tuple[float, float, float]]) -> Solved:
    """One case, first order. The axle is kept from rolling in its guides, which nothing here is about."""
    held = np.array(whole.frame.held)
    held[whole.node["AWR"], 4] = True
    forces = np.zeros((1, len(whole.names), 6))
    for name, force in loads:
        forces[0, whole.node[name], :3] += force
    return solve(prepare(replace(whole.frame, held=held)), forces, second_order=False)


def test_every_tube_runs_from_its_first_node_to_its_last_once(model: Model, whole: Skeleton) -> None:
    """The lengths of a tube's bars are its own between its outermost nodes."""
    for one in laced(model):
        for m, nodes in zip(one.f.members, one.on, strict=True):
            bars = [b for b in whole.bars if b.part == one.s.member(one.f, m)]
            assert len(bars) == len(nodes) - 1 and len(set(nodes)) == len(nodes)
            long = sum(float(np.linalg.norm(np.diff(whole.places(b.ends), axis=0))) for b in bars)
            points = [one.place(n) for n in nodes if "@" not in n or n in (nodes[0], nodes[-1])]
            assert_allclose(long, sum(np.linalg.norm(np.diff(points, axis=0), axis=1)), rtol=1e-9)
    assert len(set(whole.names)) == len(whole.names)


def test_right_and_left_are_mirrors(whole: Skeleton) -> None:
    at = {n: whole.frame.place[i] for n, i in whole.node.items()}
    pairs = [n for n in at if n.split(".")[0] in ("tailplane", "elevator") and n.endswith("R")]
    assert len(pairs) > 25
    for n in pairs:
        assert_allclose(at[n] * (1, -1, 1), at[f"{n[:-1]}L"], rtol=0, atol=1e-12)


def test_ribs_of_triangles_are_pinned_in_their_plane_and_ladders_are_stiff(model: Model, whole: Skeleton) -> None:
    for s in surfaces(model):
        assert s.frame.fixed.diagonal and not s.frame.movable.diagonal
    freed = {b.part: b.free for b in tail(whole) if b.what == "tail tube"}
    ribs = {p: f for p, f in freed.items() if "RIB" in p or "DIAGONAL" in p}
    assert ribs and all(f == (((5,), (5,)) if p.split("-")[1] in ("tailplane", "fin") else ((), ()))
                        for p, f in ribs.items())  # fmt: skip
    up = next(b.up for b in whole.bars if b.part == "W1-fin-SPAR")
    assert_allclose(np.abs(up), (0, 1, 0), rtol=0, atol=1e-12)  # so that 5 is about the fin's normal


def test_one_hinge_of_each_holds_it_along_the_line(model: Model, whole: Skeleton) -> None:
    hinges = [b for b in whole.bars if "HINGE-EYE" in b.part]
    count = Counter(b.ends[1].split(".")[0] + b.ends[1][-1] * ("elevator" in b.ends[1]) for b in hinges)
    assert count == {"elevatorR": 4, "elevatorL": 4, "rudder": 3}
    holding = [b for b in hinges if b.free[1] == (3, 4, 5)]
    assert sorted(b.ends[0] for b in holding) == ["fin.SP@10.000", "tailplane.SP@6.875L", "tailplane.SP@6.875R"]
    assert all(b.free[1] == (1, 3, 4, 5) for b in hinges if b not in holding)
    for b in hinges:  # both arms meet on the hinge line, half the gap behind the spar's face
        spar = whole.frame.place[whole.node[b.ends[0]]]
        at = whole.frame.place[whole.node[b.ends[1]]] + b.arms[1]
        assert_allclose(np.linalg.norm(at - spar), (0.25 + 0.5) * INCH, rtol=0, atol=0.02 * INCH)


def test_struts_and_wires_end_on_the_spars(whole: Skeleton) -> None:
    ends = Counter(e for b in whole.bars if b.part in ("W1-struts-TAIL", "W1-wires-FIN") for e in b.ends)
    assert ends == {"S4": 2, "tailplane.SP@46.750R": 2, "tailplane.SP@46.750L": 2, "fin.SP@39.000": 2}
    strut = next(b for b in whole.bars if b.part == "W1-struts-TAIL")
    a, b = (whole.frame.place[whole.node[e]] + arm for e, arm in zip(strut.ends, strut.arms, strict=True))
    assert_allclose(np.cross(b - a, whole.places(strut.ends)[1] - whole.places(strut.ends)[0]), 0, rtol=0, atol=1e-9)


def test_a_spars_tip_gives_as_a_cantilever_from_the_strut(whole: Skeleton) -> None:
    """100 N down on both tips of the spar: F l^3/(3 E I) past the struts, l 18.8 in of 1 x 0.065 in 6061.

    The strut's own give and the slope it lets the spar have there add a little; leading edge and ribs take some off.
    """
    up, tips = (0.0, 0.0, -100.0), ("tailplane.SP65+32R", "tailplane.SP65+32L")
    found = pulled(whole, *((t, up) for t in tips))
    assert found.good.all(), found.why
    over = whole.places([tips[0]])[0, 1] - 46.75 * INCH
    inertia = math.pi / 64 * (1.0**4 - 0.87**4) * INCH**4
    cantilever = 100 * over**3 / (3 * 68.9e9 * inertia)
    assert_allclose(-found.moved[0, whole.node[tips[0]], 2], cantilever, rtol=0.25)
    assert_allclose(found.moved[0, whole.node[tips[0]], 2], found.moved[0, whole.node[tips[1]], 2], rtol=1e-2)


def test_a_load_on_the_tailplane_is_carried_by_the_strut_and_the_wire_there(whole: Skeleton) -> None:
    """Up 100 N at the right strut's place: the strut pulls more and the wire less, together 100 N.

    The fin leans away as its right wire gives, so the left wire and strut get a little.
    """
    found, rest = pulled(whole, ("tailplane.SP@46.750R", (0.0, 0.0, 100.0))), pulled(whole)
    assert found.good.all(), found.why
    more = (found.pull - rest.pull)[0]
    carried = {}
    for i, b in enumerate(whole.bars):
        if b.part in ("W1-struts-TAIL", "W1-wires-FIN"):
            step = np.diff(whole.places(b.ends), axis=0)[0]
            carried[b.part, b.at[2]] = float(more[i]) * abs(step[2]) / float(np.linalg.norm(step))
    strut, wire = carried["W1-struts-TAIL", "R"], -carried["W1-wires-FIN", "R"]
    assert strut > 60 and wire > 10
    assert_allclose(strut + wire, 100.0, rtol=0.06)  # the rest by the spar's bending
    assert abs(carried["W1-struts-TAIL", "L"]) < strut / 3


def test_no_part_of_the_tail_is_a_mechanism(whole: Skeleton) -> None:
    for name, force in (("fin.SP51+32", (0, 50, 0)), ("rudder.TE51+40", (0, 50, 0)), ("elevator.TE65+32L", (0, 0, 50)),
                        ("elevator.TE65+32R", (0, 50, 0)), ("tailplane.LE65+32R", (50, 0, 0))):  # fmt: skip
        found = pulled(whole, (name, force))
        assert found.good.all(), (name, found.why)
        assert np.abs(found.moved[0, whole.node[name], :3]).max() < 0.5


def test_the_elevators_hinge_moment_is_held_by_its_rod(whole: Skeleton) -> None:
    """20 N on the trailing edge at both tips: their arm about the hinge line over that of the rod about it."""
    tips = ("elevator.TE65+32R", "elevator.TE65+32L")
    found, rest = pulled(whole, *((t, (0.0, 0.0, 20.0)) for t in tips)), pulled(whole)
    rod = next(i for i, b in enumerate(whole.bars) if b.part == "W1-elevator-ROD")
    a, b = whole.places(whole.bars[rod].ends)
    hinge = whole.places(["elevator.JOIN"])[0] - [0.75 * INCH, 0, 0]
    way = (b - a) / np.linalg.norm(b - a)
    arm = np.cross(b - hinge, way)[1]
    moment = 2 * 20.0 * (whole.places([tips[0]])[0, 0] - hinge[0])
    assert_allclose(abs((found.pull - rest.pull)[0, rod]), moment / abs(arm), rtol=0.03)


def test_forces_on_the_tail_go_to_its_own_nodes_beside_them_with_nothing_lost(model: Model, whole: Skeleton) -> None:
    carriers = Carriers(model, whole)
    place = np.array([[4.3, 0.9, 0.2], [4.7, -0.9, 0.2], [4.3, 0.0, 0.9], [4.8, 0.0, 0.7]])
    on = ("tailplane:R", "elevator:L", "fin", "rudder")
    for p, word in zip(place, on, strict=True):
        names = [whole.names[i] for i in takers(whole, carriers, word, p)]
        surface, _, side = word.partition(":")
        assert len(names) == 4 and all(n.startswith(f"{surface}.") for n in names)
        assert all(n.endswith(side) for n in names)
        v = whole.places(names)[:, 1 if side else 2]
        assert v.min() <= p[1 if side else 2] <= v.max()
    force, moment = np.array([[1.0, 2, 3], [4, 5, -6], [0, 7, 1], [2, -8, 0]]), np.ones((4, 3))
    loads = on_nodes(whole, carriers, Pushes(place=place, force=force, moment=moment, on=on))
    assert_allclose(loads[:, :3].sum(axis=0), force.sum(axis=0), rtol=1e-12)
    whole_moment = (np.cross(whole.frame.place, loads[:, :3]) + loads[:, 3:]).sum(axis=0)
    assert_allclose(whole_moment, (np.cross(place, force) + moment).sum(axis=0), rtol=1e-9)


def test_what_a_horn_takes_comes_in_where_it_is_welded_on(model: Model, whole: Skeleton) -> None:
    """So the surface's tubes have nothing of it; without a frame the surface takes it."""
    carriers, place = Carriers(model, whole), np.array([4.4, 0.8, 0.1])
    for word in ("elevator", "rudder"):
        assert [whole.names[i] for i in takers(whole, carriers, f"horn:{word}", place)] == [f"{word}.JOIN"]
    turn = Pushes(place=place[None], force=np.zeros((1, 3)), moment=np.array([[0.0, 50, 0]]), on=("horn:elevator",))
    loads = on_nodes(whole, carriers, turn)
    assert_allclose(loads[whole.names.index("elevator.JOIN")], [0, 0, 0, 0, 50, 0], atol=1e-9)
    assert np.count_nonzero(np.abs(loads).sum(axis=1)) == 1


def test_the_tails_masses_lie_on_the_tail(model: Model, whole: Skeleton) -> None:
    assembly = lay_out(model)
    found = lumps(model, assembly, whole)
    assert found.laid is not None
    for row, name in enumerate(found.names):
        word = name.removeprefix("W1-").split("-")[0]
        if word in TAIL:
            column = found.laid[:, 6 * row + 2].tocoo()
            some = column.row[np.abs(column.data) > 1e-9]
            on = {whole.names[i // 6].split(".")[0] for i in some}
            both = {"tailplane", "elevator"} if word in ("tailplane", "elevator") else {"fin", "rudder"}
            assert on <= (both if "HINGE" in name else {word}), (name, on)


def test_a_tail_known_by_area_has_no_bars(model: Model) -> None:
    bare = replace(model, tailplane=replace(model.tailplane, frame=None), fin=replace(model.fin, frame=None),
                   struts=tuple(s for s in model.struts if s.name not in ("tail", "tail_front")),
                   wires=tuple(w for w in model.wires if w.name not in ("fin", "fin_front")))  # fmt: skip
    assert not tail_nodes(bare) and not list(tail_bars(bare, {}))
    made = skeleton(bare)
    assert len(made.unknowns) == 2 and "tailplane" in made.unknowns[0]
    carriers = Carriers(bare, made)
    assert len(takers(made, carriers, "tailplane:R", np.array([4.3, 0.9, 0.2]))) == 4  # the nearest of the fuselage
    assert len(takers(made, carriers, "horn:elevator", np.array([4.3, 0.9, 0.2]))) == 4
