"""The jig of a wing: printed heights are where the spars' caps are, washout and dihedral are in them, lengths close."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

import sparwright as sw
from sparwright.base.quantity import parse, to
from sparwright.family.model import Family, Model
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Part, Straight
from sparwright.plans.drawing import Text
from sparwright.plans.drawings.wing_jig import check_table, stand_table, wing_jig_drawing
from sparwright.plans.wing_jig import Jig, wing_jigs
from sparwright.shape.lifting import breaks, cut

NAMES = ("W1", "W2", "W3")
HALF = 0.0254 / 128 + 1e-9  # half of 1/64 in


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


@cache
def parts(name: str) -> tuple[Part, ...]:
    return lay_out(sw.load("examples/whinchat/whinchat.toml").models[name]).parts


def jigs(model: Model) -> list[Jig]:
    return [j for w in model.wings for j in wing_jigs(model, w, parts(model.name))]


def length(words: str) -> float:
    return parse(words.replace("−", "-").replace("′", " ft").replace("″", " in"), "length")


@pytest.mark.parametrize("name", NAMES)
def test_printed_heights_are_the_lower_caps(family: Family, name: str) -> None:
    """From the corners of the caps as parts, interpolated to the stand's line; half a millimetre for their bevel."""
    model = family.models[name]
    for j in jigs(model):
        for s, row in zip(j.stands, stand_table(j, "inch").rows, strict=True):
            for i, spar in enumerate(j.wing.spars):
                caps = [p.shape for p in parts(name) if f"-{j.wing.name}-{spar.name.upper()}-LOWER-CAP" in p.number
                        and p.hand != "L" and isinstance(p.shape, Straight)]  # fmt: skip
                found = [z for c in caps if (z := _underside(j, c, s.along)) is not None]
                assert found, (j.wing.name, s.name)
                assert min(abs(z - length(row[1 + i])) for z in found) < 5e-4 + HALF


def _underside(j: Jig, cap: Straight, along: float) -> float | None:
    """Middle of the lowest edge of a bar over a line of the bench; None where the bar does not reach it."""
    ends = j.on_bench(np.asarray(cap.rings))  # (k, n, 3)
    for a, b in zip(ends[:-1], ends[1:], strict=True):
        if min(a[:, 1].mean(), b[:, 1].mean()) - 1e-3 <= along <= max(a[:, 1].mean(), b[:, 1].mean()) + 1e-3:
            f = (along - a[:, 1]) / (b[:, 1] - a[:, 1])
            z = np.sort(a[:, 2] + f * (b[:, 2] - a[:, 2]))
            return float(z[:2].mean())
    return None


@pytest.mark.parametrize("name", NAMES)
def test_washout_is_in_the_heights(family: Family, name: str) -> None:
    """The second spar's rise against the first over their distance is the tangent of the twist, to 1/10 degree."""
    model = family.models[name]
    for j in jigs(model):
        first = j.stands[0]
        for s, row in zip(j.stands, stand_table(j, "inch").rows, strict=True):
            rise = (s.heights[-1] - s.heights[0]) - (first.heights[-1] - first.heights[0])
            turned = -np.degrees(np.arctan(rise / (s.aft[-1] - s.aft[0])))
            assert abs(turned - to(s.twist - first.twist, "deg")) < 0.1
            assert abs(float(row[-1].rstrip("°").replace("−", "-")) - to(s.twist, "deg")) <= 0.00501


@pytest.mark.parametrize("name", NAMES)
def test_dihedral_is_in_the_points(family: Family, name: str) -> None:
    """The first spar's ends rise on the bench as the leading edge does against the first panel, to 2 mm."""
    model = family.models[name]
    for j in jigs(model):
        p, q = j.points[:2]
        edge = breaks(j.wing)[0]
        first = j.panels[0]
        slope = np.tan(first.dihedral)
        k = [w.name for w in j.wing.panels].index(j.panels[-1].name) + 1
        i = [w.name for w in j.wing.panels].index(first.name)
        wanted = (edge[2, k] - edge[2, i]) - slope * (edge[1, k] - edge[1, i])
        turned = cut(j.wing, model.sections, q.buttline).angle - cut(j.wing, model.sections, p.buttline).angle
        drop = j.wing.spars[0].at * j.panels[-1].tip_chord * np.sin(turned)  # the spar lies aft of the edge
        taper = (q.place[2] - j.stands[-1].heights[0]) - (p.place[2] - j.stands[0].heights[0])
        assert abs((q.place[2] - p.place[2]) - (wanted - drop)) < 2e-3 + abs(taper)


@pytest.mark.parametrize("name", NAMES)
def test_printed_lengths_are_between_the_points_in_the_aeroplane(family: Family, name: str) -> None:
    model = family.models[name]
    for j in jigs(model):
        own = np.column_stack([j.axes.aft, j.axes.along, j.axes.up])
        at = {p.name: own @ np.array(p.place) for p in j.points}
        assert len(at) == (4 if len(j.wing.spars) > 1 else 2)
        for p in j.points:  # a point is on its rib's buttline
            y = (own @ (np.array(p.place) - [0.0, 0.0, j.base + j.axes.depth / 2]) + j.axes.middle)[1]
            assert abs(y - p.buttline) < 1e-9
        for words, _, long in check_table(j, "inch").rows:
            a, b = words.split("–")
            assert abs(length(long) - np.linalg.norm(at[a] - at[b])) <= HALF


@pytest.mark.parametrize("name", NAMES)
def test_stands_are_printed_where_they_are_and_nothing_touches_the_bench(family: Family, name: str) -> None:
    model = family.models[name]
    for wing in model.wings:
        drawn = wing_jig_drawing(model, wing, parts(name), "inch")
        printed = [length(s.content) for s in drawn.strokes if isinstance(s, Text) and s.layer == "measure" and s.turn]
        for j in wing_jigs(model, wing, parts(name)):
            assert all(min(abs(x - s.along) for x in printed) <= HALF for s in j.stands)
            assert min(h for s in j.stands for h in s.heights) > 0.02 and len(j.stands) >= 2


def test_more_washout_raises_the_rear_blocks(family: Family) -> None:
    model = family.models["W1"]
    (wing,) = model.wings
    panels = (*wing.panels[:-1], replace(wing.panels[-1], twist=wing.panels[-1].twist - np.radians(1.0)))
    (more,), (now,) = (
        wing_jigs(replace(model, wings=(w,)), w, parts("W1")) for w in (replace(wing, panels=panels), wing)
    )
    up = [(j.stands[-1].heights[-1] - j.stands[-1].heights[0]) for j in (more, now)]
    apart = now.stands[-1].aft[-1] - now.stands[-1].aft[0]
    share = now.stands[-1].buttline / wing.panels[-1].tip_buttline
    assert up[0] - up[1] == pytest.approx(apart * np.radians(1.0) * share, rel=0.1)
