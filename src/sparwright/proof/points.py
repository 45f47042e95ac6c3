"""Where the builder measures: tips, heads of struts, the middles between them; on the tail its corners. Right side."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from sparwright.family.model import Model, Spar, Strut, Wing, Wire, spoken
from sparwright.proof.plan import Plan
from sparwright.structure.bar import Skeleton
from sparwright.structure.wings import spar_node, stations

LONG = 0.6  # m: a bay between supports shorter than this has no point of its own
CORNERS = {"tailplane": (("tailplane.SP", "tailplane's spar"), ("elevator.TE", "elevator's trailing edge")),
           "fin": (("fin.SP", "fin's post"), ("rudder.TE", "rudder's trailing edge"))}  # fmt: skip


def surface_words(name: str) -> str:
    """What a surface with bags is called.

    >>> surface_words("upper"), surface_words("tailplane"), surface_words("fin")
    ('upper wing', 'tailplane', 'fin')
    """
    return name if name in CORNERS else spoken(name)


def line_words(name: str) -> str:
    """What a spar is called whose inner forces are compared, or a surface of the tail.

    >>> line_words("upper.front"), line_words("fin")
    ('upper wing, front spar', 'fin')
    """
    surface, _, spar = name.partition(".")
    return surface_words(surface) + (f", {spar.replace('_', ' ')} spar" if spar else "")


def measured_at(model: Model, skeleton: Skeleton, plan: Plan) -> Iterator[tuple[str, str, str]]:
    """(key, title, node) of each place."""
    for surface in plan.surfaces:
        if surface in CORNERS:
            yield from _corners(skeleton, surface)
            continue
        wing = model.wing(surface)
        for spar in sorted(wing.spars, key=lambda s: s.at):
            yield from _on_spar(model, wing, spar)


def _on_spar(model: Model, wing: Wing, spar: Spar) -> Iterator[tuple[str, str, str]]:
    at = np.array(stations(model, wing, spar))
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    heads = sorted({e.buttline for t in things for e in t.ends if (e.wing, e.spar) == (wing.name, spar.name)})
    held = [float(at[0]), *heads, float(at[-1])]
    name = f"{wing.name}.{spar.name}"
    words = line_words(name)
    for i, (a, b) in enumerate(pairwise(held), 1):
        if b - a > LONG and b < held[-1] - 1e-6:
            near = float(at[np.argmin(np.abs(at - (a + b) / 2))])
            yield f"{name}.middle_{i}", f"{words}, middle of bay {i}", spar_node(wing.name, spar.name, "R", near)
        if b in heads and b > LONG:
            near = float(at[np.argmin(np.abs(at - b))])
            yield f"{name}.head_{i}", f"{words}, over the strut or wire", spar_node(wing.name, spar.name, "R", near)
    yield f"{name}.tip", f"{words}, tip", spar_node(wing.name, spar.name, "R", float(at[-1]))


def _corners(skeleton: Skeleton, surface: str) -> Iterator[tuple[str, str, str]]:
    across = 1 if surface == "tailplane" else 2
    for start, words in CORNERS[surface]:
        mine = [n for n in skeleton.names if n.startswith(start)]
        if mine:
            tip = max(mine, key=lambda n: float(skeleton.frame.place[skeleton.node[n], across]))
            yield f"{start.split('.')[0]}.tip", f"{words}, tip", tip
