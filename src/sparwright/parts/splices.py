"""Where panels meet: blocks in the box of each spar, one under each cap across the meeting; edge bars end to end.

A block is as wide as the cap and bent where the spar is. Glued faces of one block, to both sides of the meeting

    A = 2 reach (width + 2 depth)      to the cap and to both webs

Caps and webs end square on each other in the plane of the rib there. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.data.loader import material
from sparwright.family.model import Model, Panel, Spar, Wing
from sparwright.parts.joints import rivet_or_glue
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part, Straight
from sparwright.parts.wing import cap_number, edge_number, placed, spar_runs, stretches, web_number
from sparwright.shape.frame import mirrored
from sparwright.shape.lifting import cut
from sparwright.shape.rib import slot
from sparwright.shape.solid import as_place


def meetings(wing: Wing) -> tuple[tuple[Panel, Panel], ...]:
    """Runs of spars that meet, inner and outer."""
    return tuple(pairwise(spar_runs(wing)))


def unspliced(model: Model) -> tuple[str, ...]:
    """What of meetings is not drawn."""
    bare = [w.name for w in model.wings if meetings(w) and w.splice is None]
    return (f"splices of spars where panels meet ({', '.join(bare)})",) if bare else ()


def splice_parts(model: Model, wing: Wing) -> Iterator[Part]:
    """Two blocks in each box spar at each meeting."""
    for _, outer in meetings(wing) if wing.splice else ():
        for spar in wing.spars:
            for side, sign in (("upper", 1.0), ("lower", -1.0)):
                yield _block(model, wing, spar, outer.root_buttline, side, sign)


def block_number(model: Model, wing: Wing, spar: Spar, side: str, buttline: float) -> str:
    """Number of a splice's block."""
    return part_number(model.name, wing.name, f"{spar.name}-{side}-SPLICE".upper(), place_key(buttline))


def _block(model: Model, wing: Wing, spar: Spar, y: float, side: str, sign: float) -> Part:
    splice = wing.splice
    assert splice is not None
    half, rings = spar.cap.width / 2, []
    for at in (y - splice.reach, y, y + splice.reach):
        station = cut(wing, model.sections, at)
        box = slot(station, wing, spar)
        top = box.height / 2 - spar.cap.depth
        if splice.depth > top:
            raise DesignProblem(
                f"wing {wing.name}, splice.depth: two blocks of {inches(splice.depth)} do not go between the caps of "
                f"spar {spar.name} at buttline {inches(at)}, where {inches(2 * top)} is left"
            )
        corners = [(x, sign * v) for x, v in ((-half, top - splice.depth), (half, top - splice.depth), (half, top),
                                              (-half, top))]  # fmt: skip
        rings.append(placed(station, [box.corner(x, v) for x, v in corners]))
    stuff = material(splice.material)
    section = f"{inches(spar.cap.width)} x {inches(splice.depth)}"
    shape = Straight(start=as_place(rings[0].mean(axis=0)), end=as_place(rings[2].mean(axis=0)), section=section,
                     rings=np.array(rings))  # fmt: skip
    body = shape.solid()
    centre = as_place(body.centre)
    return Part(
        number=block_number(model, wing, spar, side, y), form="bar", name=f"{spar.name} {side} splice, {wing.name}",
        group=f"wing {wing.name}", purpose="spar splice", material=splice.material, stock=f"{stuff.title}, {section}",
        places=(centre, mirrored(centre)), mass=body.volume * stuff.density, shape=shape, at=f"BL {inches(y, 10**6)}",
        note="laminated to the bend where the spar is bent",
    )  # fmt: skip


def splice_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Each block to both caps and all webs; edge bars of wood end to end."""
    for inner, outer in meetings(wing):
        y, splice = outer.root_buttline, wing.splice
        station = cut(wing, model.sections, y)
        for spar in wing.spars if splice else ():
            assert splice is not None
            box = slot(station, wing, spar)
            for side in ("upper", "lower"):
                number = block_number(model, wing, spar, side, y)
                caps = [cap_number(model, wing, p, spar, side) for p in (inner, outer)]
                webs = [web_number(model, wing, p, spar) for p in (inner, outer)]
                yield Joint(
                    number=f"{number}-JOINT", kind="glue", parts=(number, *caps, *webs), primary=True,
                    place=station.place(*box.point(0)), length=2 * splice.reach, count=2,
                    area=2 * splice.reach * (spar.cap.width + 2 * splice.depth),
                )  # fmt: skip
        yield from _edges(model, wing, inner, outer)


def _edges(model: Model, wing: Wing, inner: Panel, outer: Panel) -> Iterator[Joint]:
    station = cut(wing, model.sections, outer.root_buttline)
    last, first = stretches(wing, inner)[-1][0], stretches(wing, outer)[0][0]
    for at, bar, x in ((0, wing.nose_bar, 0.0), (1, wing.tail_bar, station.chord)):
        if bar is not None and wing.splice is not None:
            one = edge_number(model, wing, inner, at, last if at else None)
            other = edge_number(model, wing, outer, at, first if at else None)
            kind = rivet_or_glue(bar.material)
            yield Joint(
                number=f"{other}-END-JOINT", kind=kind, parts=(one, other), place=station.place(x, 0.0), primary=False,
                area=bar.width * bar.depth if kind == "glue" else 0.0, count=2,
                fastener="" if kind == "glue" else "unknown", note="mitred end to end on the rib there",
            )  # fmt: skip
