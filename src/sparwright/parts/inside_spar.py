"""What a spar's bolts bear on inside it, and the bolts: a block between caps and webs, or a tube on each bolt.

A block of wood fills a box spar from cap to cap under all four bolts and an edge distance past them; in a spar of
metal a tube on each bolt keeps the webs apart, or web and plate. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked
from sparwright.data.loader import fasteners, material
from sparwright.family.drag_bracing import DragBracing
from sparwright.family.fittings import Fitting, Root
from sparwright.family.model import Model, Spar, Wing
from sparwright.parts.bolts import bolt_for, bolt_mass
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.lugs import GROUP, mirrored_places
from sparwright.parts.part import Joint, Part, Straight
from sparwright.parts.wing import cap_number, web_number
from sparwright.shape.solid import as_place
from sparwright.shape.spar import SparAxes, panel_of, spar_axes
from sparwright.shape.tube import Tube

Held = Fitting | Root | DragBracing  # what four bolts hold
PAST = 2.5  # diameters of a bolt from its middle to the block's end (common practice, no source)


def spar_bolts(pitch: float) -> tuple[tuple[float, float], ...]:
    """(along, up) of four bolts in a square about the spar's middle, m."""
    half = pitch / 2
    return ((-half, half), (half, half), (-half, -half), (half, -half))


def between_caps(f: Held, spar: Spar, axes: SparAxes, what: str) -> None:
    """DesignProblem where the square of bolts, a diameter past their middles, reaches into the caps."""
    pitch, room = f.pitch or 0.0, axes.depth - 2 * spar.cap.depth - 2 * fasteners()[f.bolt].diameter
    if pitch > room:
        told = f"between them there is room for {inches(room)}"
        raise DesignProblem(f"{what}.pitch of {inches(pitch)} puts its bolts into the caps; {told}")


def inside_parts(model: Model, wing: Wing, spar: Spar, axes: SparAxes, f: Held,
                 number: str, grip: float) -> Iterator[Part]:  # fmt: skip
    """The block or the tubes, and the bolts. number: of the fitting; axes: where the square of bolts is."""
    if f.block:
        yield _block(model, wing, spar, axes, f, f"{number}-BLOCK")
    for name, (along, up) in zip(inside_names(number, f), spar_bolts(f.pitch or 0.0), strict=False):
        if f.spacer is not None:
            a, b = _between(spar)
            path = locked([axes.at(a, along, up), axes.at(b, along, up)])
            shape = Tube(path=path, outside=f.spacer.outside, wall=f.spacer.wall, section=tube_section(f.spacer))
            body = shape.solid()
            yield Part(number=name, name="spacer on a bolt in the spar", form="tube", group=GROUP, purpose="fitting",
                       material=f.spacer.material, stock=tube_stock(f.spacer), places=mirrored_places(body.centre),
                       mass=body.volume * material(f.spacer.material).density, shape=shape)  # fmt: skip
    bolt = bolt_for(f.bolt, [("through", grip)], "forward")
    yield Part(number=f"{number}-BOLTS", name="four bolts through the spar, nuts and washers", form="item", group=GROUP,
               purpose="bought", material="bought", stock=f"4 {bolt.stock}, {bolt.nut}", band=0.2,
               places=mirrored_places(axes.middle), mass=4 * bolt_mass(f.bolt, grip))  # fmt: skip


def inside_names(number: str, f: Held) -> tuple[str, ...]:
    """Numbers of the tubes on the bolts, or of the block."""
    if f.spacer is not None:
        return tuple(f"{number}-SPACER-{k}" for k in ("UPPER-IN", "UPPER-OUT", "LOWER-IN", "LOWER-OUT"))
    return (f"{number}-BLOCK",) if f.block else ()


def _between(spar: Spar) -> tuple[float, float]:
    """Where the tubes begin and end aft of the spar's middle: web to web, or the one web to the aft plate."""
    half = (spar.cap.width + spar.webs * spar.web.thickness) / 2
    return -half + spar.web.thickness, half - (spar.web.thickness if spar.webs == 2 else 0.0)


def _block(model: Model, wing: Wing, spar: Spar, axes: SparAxes, f: Held, number: str) -> Part:
    half = (f.pitch or 0.0) / 2 + PAST * fasteners()[f.bolt].diameter
    step = half * float(axes.along[1])
    low, high = _between(spar)
    panel = panel_of(wing, float(axes.middle[1]))
    rings = []
    for y in (axes.middle[1] - step, axes.middle[1] + step):
        there = spar_axes(model, wing, panel, spar, float(y))
        deep = there.depth / 2 - spar.cap.depth
        rings.append([there.at(x, 0.0, u) for x, u in ((low, -deep), (high, -deep), (high, deep), (low, deep))])
    ring = np.array(rings)
    stuff = material(f.block)
    start, end = (as_place(r.mean(axis=0)) for r in ring)
    size = f"{inches(high - low)} x {inches(axes.depth - 2 * spar.cap.depth)}"
    shape = Straight(start=start, end=end, section=size, rings=locked(ring))
    body = shape.solid()
    return Part(number=number, name="block in the spar under a fitting's bolts", form="bar", group=GROUP,
                purpose="fitting", material=f.block, stock=f"{stuff.title}, {size} x {inches(2 * half)}",
                places=mirrored_places(body.centre), mass=body.volume * stuff.density, shape=shape)  # fmt: skip


def through_joints(model: Model, wing: Wing, spar: Spar, axes: SparAxes, f: Held,
                   number: str, plates: Sequence[str], sheet: float) -> Iterator[Joint]:  # fmt: skip
    """The four bolts through spar and plates; the block's glue."""
    panel = panel_of(wing, float(axes.middle[1]))
    web, place, count = web_number(model, wing, panel, spar), as_place(axes.middle), len(mirrored_places(axes.middle))
    inside = inside_names(number, f)
    wood = material(spar.cap.material).kind == "wood"
    layers = [("plate", sheet), ("spar", axes.width), ("plate", sheet)]
    limit = "large washers; no tighter than the wood's crushing across the grain allows"
    if f.block or not wood:
        limit = f"{'the block takes' if f.block else 'the tubes on the bolts take'} the clamping, not the webs"
    bolt = bolt_for(f.bolt, layers, "forward", limit=limit)
    touching = plates if spar.webs == 2 else plates[:1]
    yield Joint(number=f"{number}-BOLTS-JOINT", kind="bolt", parts=(web, *touching, *inside, f"{number}-BOLTS"),
                place=place, primary=True, fastener=f.bolt, fasteners=4, count=count, bolt=bolt,
                note="between the caps")  # fmt: skip
    if spar.webs == 1 and inside:
        yield Joint(number=f"{number}-AFT-JOINT", kind="bolt", parts=(plates[1], *inside), place=place, primary=True,
                    fastener=f.bolt, count=count, note="the same bolts", bolt=bolt)  # fmt: skip
    if f.block:
        yield block_joint(model, wing, spar, axes, f, number)


def block_joint(model: Model, wing: Wing, spar: Spar, axes: SparAxes, f: Held, number: str) -> Joint:
    """The glue of the block in the box."""
    panel, place = panel_of(wing, float(axes.middle[1])), as_place(axes.middle)
    length = (f.pitch or 0.0) + 2 * PAST * fasteners()[f.bolt].diameter
    caps = [cap_number(model, wing, panel, spar, side) for side in ("upper", "lower")]
    area = 2 * length * ((axes.depth - 2 * spar.cap.depth) + spar.cap.width)
    return Joint(number=f"{number}-BLOCK-JOINT", kind="glue", place=place, primary=True, area=area, length=length,
                 parts=(f"{number}-BLOCK", web_number(model, wing, panel, spar), *caps),
                 count=len(mirrored_places(axes.middle)))  # fmt: skip
