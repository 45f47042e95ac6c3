"""The jigs of the frame: laid flat, every tube of a side keeps its length; printed figures are those of the frame."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

import sparwright as sw
from sparwright.base.quantity import parse
from sparwright.family.model import Family, Model
from sparwright.parts.layout import lay_out
from sparwright.plans.drawing import Text
from sparwright.plans.drawings.fuselage_jig import CLEAR, diagonal_table, fuselage_jigs, joined_table, node_table
from sparwright.plans.side_frame import LEVEL, side_frame, stood
from sparwright.shape.frame import nodes

NAMES = ("W1", "W2", "W3")
HALF = 0.0254 / 128 + 1e-9  # half of 1/64 in


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


def length(words: str) -> float:
    return parse(words.replace("−", "-").replace("′", " ft").replace("″", " in"), "length")


def places(model: Model) -> dict[str, np.ndarray]:
    return {n: np.array(p) for n, p in nodes(model.fuselage).items()}


@pytest.mark.parametrize("name", NAMES)
def test_laid_flat_every_tube_keeps_its_length(family: Family, name: str) -> None:
    """To a hundredth of a millimetre a metre: bays are plane, and the side turns at uprights alone."""
    model = family.models[name]
    side, known = side_frame(model), places(model)
    for r in side.tubes:
        for a, b in pairwise(r.nodes):
            assert abs(side.apart(a, b) - np.linalg.norm(known[a] - known[b])) < 1e-5, (r.name, a, b)
    assert len(side.tubes) > 15 and len(side.turns) >= 4


@pytest.mark.parametrize("name", NAMES)
def test_the_printed_jig_is_the_frame(family: Family, name: str) -> None:
    """Running figures along the base line with heights of the table give every tube's length again, to 1/32 in."""
    model = family.models[name]
    tubes = [p for p in lay_out(model).parts if p.form == "tube"]
    flat, both = fuselage_jigs(model, tubes, "inch")
    side, known = side_frame(model), places(model)
    printed = sorted({length(s.content) for s in flat.strokes if isinstance(s, Text) and s.layer == "measure"})
    up = {row[0]: length(row[1]) for row in node_table(side, "inch").rows}
    for r in side.tubes:
        for a, b in pairwise(r.nodes):
            p, q = (
                (min(printed, key=lambda v, n=n: abs(v - side.spot(n).along)), up[n.removesuffix("R")]) for n in (a, b)
            )
            assert abs(np.hypot(p[0] - q[0], p[1] - q[1]) - np.linalg.norm(known[a] - known[b])) < 0.0254 / 32
    stations = {length(s.content) for s in both.strokes if isinstance(s, Text) and s.layer == "measure"}
    for u, _ in side.uprights:
        assert min(abs(x - (known[u][0] - known[side.uprights[0][0]][0])) for x in stations) <= HALF


@pytest.mark.parametrize("name", NAMES)
def test_packing_brings_every_middle_line_into_one_plane(family: Family, name: str) -> None:
    side = side_frame(family.models[name])
    high = {side.packing(r.tube.outside) + r.tube.outside / 2 for r in side.tubes}
    assert max(high) - min(high) < 1e-12 and min(side.packing(r.tube.outside) for r in side.tubes) >= 0.0


def test_a_side_that_leans_is_told_node_by_node(family: Family) -> None:
    """Upper nodes an eighth of an inch further out: half of it each way off the plane, and the lowest still clear."""
    model = family.models["W1"]
    out = 0.003175
    moved = {
        n: (x, y + out if n[1] == "1" and y > 1 * 0.0254 else y, z) for n, (x, y, z) in model.fuselage.nodes.items()
    }
    side = side_frame(replace(model, fuselage=replace(model.fuselage, nodes=moved)))
    assert abs(side.spot("D1R").off - out / 2) < 1e-9 and abs(side.spot("D2R").off + out / 2) < 1e-9
    assert side.plane > side.largest / 2 + LEVEL
    assert all(side.packing(r.tube.outside, side.spot(n).off) > -1e-9 for r in side.tubes for n in r.nodes)
    assert "Off the plane" in node_table(side, "inch").heads


@pytest.mark.parametrize("name", NAMES)
def test_both_sides_on_the_bench(family: Family, name: str) -> None:
    model = family.models[name]
    side, known = side_frame(model), places(model)
    frames = stood(model, side, CLEAR)
    bench = min(known[s.node][2] for s in side.spots) - CLEAR
    flip = np.array([1.0, -1.0, 1.0])
    for f, row in zip(frames, joined_table(frames, "inch").rows, strict=True):
        p, q = known[f.upper], known[f.lower]
        wanted = (p[1], q[1], p[2] - bench, q[2] - bench)
        assert max(abs(length(w) - v) for w, v in zip(row[1:5], wanted, strict=True)) <= HALF
        if row[5]:
            assert abs(length(row[5].split(": ")[1]) - np.linalg.norm(p - flip * q)) <= HALF
        for words in row[6:8]:
            if words:
                a, b = words.split(": ")[0].split("–")
                assert abs(length(words.split(": ")[1]) - np.linalg.norm(known[a] - known[b])) <= HALF


@pytest.mark.parametrize("name", NAMES)
def test_diagonals_on_the_table(family: Family, name: str) -> None:
    """Within a bay they are the frame's own, upright to upright."""
    model = family.models[name]
    side, known = side_frame(model), places(model)
    rows = diagonal_table(side, "inch").rows
    assert len(rows) == 2 * (len(side.uprights) - 1) + 2
    for words, long in rows[:-2]:
        a, b = (n if n in known else f"{n}R" for n in words.split("–"))
        assert abs(length(long) - np.linalg.norm(known[a] - known[b])) <= HALF
