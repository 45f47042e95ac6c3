"""Test pieces: of each kind of joint one more, from the same stock, made beside the real one and broken.

Joints that are glued, bonded or welded are told apart by the materials of their two sides, and welds by the thinner
side, which burns through; each laminate by its material and thickness. The two halves of a piece are cut from the stock
that most such joints have; of a weld, from the thickest that the thinner side is welded to, which is the hardest to
heat. A piece does not fly: it is in the cut list and not in the weight. How joints are told apart, and what a broken
piece must show, is common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.quantity import decimal_inches, inches
from sparwright.base.record import locked
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.loader import material, materials
from sparwright.family.model import Model
from sparwright.family.stock import Sheet
from sparwright.family.trials import Coupon
from sparwright.parts.number import part_number
from sparwright.parts.part import Assembly, Joint, Part, Plate, Skin, Straight, TestPiece
from sparwright.parts.wing import sheet_stock
from sparwright.shape.tube import Tube

GROUP = "test"
INCH = 0.0254  # m
KINDS = ("glue", "bond", "weld", "lay_up")
YIELDS = ("fabric", "rubber", "plastic")
MADE = {
    "glue": "glued with the same mix, hours and pressure as the joint beside it; split along the line when it is hard",
    "bond": "bonded with the same resin and sanding as the joint beside it; peeled when it is hard",
    "weld": "welded with the same rod and flame as the joint beside it; sawn through and bent over",
    "lay_up": "laid up on the board beside the part, of the same cloth and mix; weighed, bent until it breaks",
}
SHOWS = {
    "glue": "the wood must tear, not the line",
    "bond": "fibres or wood must tear, not the line",
    "weld": "the metal must bend beside the weld; no crack, no cold lap",
    "lay_up": "its mass against what the sums take for it, no dry cloth, no lift between layers",
}
_Sort = tuple[tuple[str, ...], float]  # materials of the sides; thickness of the thinner, m, where it matters
_Found = dict[_Sort, list[tuple[str, list[Part]]]]


def trial_pieces(model: Model, parts: Sequence[Part], joints: Sequence[Joint]) -> tuple[TestPiece, ...]:
    """The pieces of the kinds that the file gives a size for; none where it says nothing of them."""
    said = model.test_pieces
    if said is None:
        return ()
    found = _sorts(parts, joints)
    return tuple(
        _piece(model, kind, coupon, sort, stands)
        for kind in KINDS
        if (coupon := getattr(said, kind)) is not None
        for sort, stands in sorted(found[kind].items())
    )


def tried_check(model: Model, assembly: Assembly) -> Check:
    """Whether each kind of joint has its test piece; unknown where the file says nothing of them."""
    wanted = [(kind, sort) for kind, found in _sorts(assembly.parts, assembly.joints).items() for sort in found]
    said = model.test_pieces
    missing = [_named(k, s) for k, s in wanted if said is not None and getattr(said, k) is None]
    have = f"{len(assembly.test_pieces)} of {len(wanted)} sorts of joint and laminate have theirs"
    return check(
        "parts.tried", "sorts of joint and laminate without a test piece",
        UNKNOWN if said is None else Band.exact(len(missing)), 0, "<=", "1",
        rule="one for each sort, common practice, no source", method="counted",
        caveat=f"{have}; lacking: {', '.join(missing)}" if missing else have,
        outside_range="the file says nothing of test pieces; [test_pieces] would settle it" if said is None else "",
        steps=tuple(Step(f"{p.number}, {p.shows}", "joints it stands for", (), float(len(p.stands_for)), "1")
                    for p in assembly.test_pieces),
    )  # fmt: skip


def _sorts(parts: Sequence[Part], joints: Sequence[Joint]) -> Mapping[str, _Found]:
    """By kind and sort: (what it stands for, its one or two sides) of each joint, or laminate."""
    by_number = {p.number: p for p in parts}
    found: dict[str, _Found] = {kind: {} for kind in KINDS}
    for joint in joints:
        if joint.kind not in KINDS or not _tried(by_number[joint.parts[0]]):
            continue
        for other in filter(_tried, (by_number[n] for n in joint.parts[1:])):
            both = sorted((by_number[joint.parts[0]], other), key=lambda p: (p.material, _thickness(p)))
            thin = round(min(map(_thickness, both)), 6) if joint.kind == "weld" else 0.0
            found[joint.kind].setdefault((tuple(p.material for p in both), thin), []).append((joint.number, both))
    for part in filter(_tried, parts):
        if isinstance(part.shape, Skin) and material(part.material).kind == "glass":
            found["lay_up"].setdefault(((part.material,), round(part.shape.thickness, 6)), []).append(
                (part.number, [part])
            )
    return found


def _tried(part: Part) -> bool:
    """Whether it is cut from stock that a test piece can be cut from."""
    if part.material not in materials() or material(part.material).kind in YIELDS:
        return False
    return isinstance(part.shape, Plate | Straight | Tube) or (
        isinstance(part.shape, Skin) and part.shape.thickness > 0
    )


def _thickness(part: Part) -> float:
    """Of sheet, the narrow side of a bar, the wall of a tube or a rod's diameter, m."""
    match part.shape:
        case Tube():
            return part.shape.wall or part.shape.outside
        case Straight():
            return _across(part.shape)[1]
        case Plate() | Skin():
            return part.shape.thickness
    raise ValueError(f"{part.number} is not cut from stock")


def _stock(part: Part) -> str:
    """How the stock is asked for, whatever its length."""
    stuff, shape = material(part.material), part.shape
    if isinstance(shape, Plate | Skin) or stuff.kind == "plywood":
        return sheet_stock(Sheet(material=part.material, thickness=_thickness(part)), stuff)
    assert isinstance(shape, Tube | Straight)
    hollow = isinstance(shape, Tube) and shape.wall and "tube" not in stuff.title
    return f"{stuff.title}{' tube' if hollow else ''}, {shape.section}"


def _across(bar: Straight) -> tuple[float, float]:
    """Wide and narrow side of a bar at its start, m: its longest edge, and its section's area over that."""
    ring = bar.rings[0]
    wide = float(np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1).max())
    out = ring - ring[0]
    area = float(np.linalg.norm(np.cross(out[1:-1], out[2:]).sum(axis=0))) / 2
    return wide, area / wide


def _piece(model: Model, kind: str, coupon: Coupon, sort: _Sort, stands: Sequence[tuple[str, list[Part]]]) -> TestPiece:
    most = Counter(tuple(map(_stock, sides)) for _, sides in stands)
    thick = {tuple(map(_stock, sides)): max(map(_thickness, sides)) if kind == "weld" else 0.0 for _, sides in stands}
    stock = min(most, key=lambda s: (-thick[s], -most[s], s))
    sides = next(sides for _, sides in stands if tuple(map(_stock, sides)) == stock)
    names, thin = sort
    key = "-".join((*dict.fromkeys(names), *([f"{thin / INCH * 1000:03.0f}"] if thin else []))).upper()
    number = part_number(model.name, GROUP, kind.upper().replace("_", "-"), key)
    halves = tuple(_half(f"{number}-{'AB'[i]}", p, kind, coupon) for i, p in enumerate(sides))
    return TestPiece(number=number, kind=kind, halves=halves, made=MADE[kind], shows=SHOWS[kind],
                     stands_for=tuple(dict.fromkeys(n for n, _ in stands)))  # fmt: skip


def _half(number: str, like: Part, kind: str, coupon: Coupon) -> Part:
    """One half, cut from the same stock as a part, lying along the aeroplane's axes at the datum."""
    long, shape = coupon.length, like.shape
    made: Tube | Plate | Straight
    match shape:
        case Tube():
            made = Tube(path=locked([(0.0, 0.0, 0.0), (long, 0.0, 0.0)]), outside=shape.outside, wall=shape.wall,
                        section=shape.section)  # fmt: skip
        case Straight() if material(like.material).kind == "wood":
            wide, narrow = _across(shape)
            ring = (
                np.array([(0.0, -wide, -narrow), (0.0, wide, -narrow), (0.0, wide, narrow), (0.0, -wide, narrow)]) / 2
            )
            made = Straight(start=(0.0, 0.0, 0.0), end=(long, 0.0, 0.0), section=f"{inches(wide)} x {inches(narrow)}",
                            rings=locked([ring, ring + (long, 0.0, 0.0)]))  # fmt: skip
        case _:
            corners = [(0.0, 0.0), (long, 0.0), (long, coupon.width), (0.0, coupon.width)]
            made = Plate(outline=locked(corners), holes=(), thickness=_thickness(like))
    body = made.solid()
    return Part(
        number=number, name=f"test piece, {kind.replace('_', '-')}", form="tube" if isinstance(made, Tube) else
        "bar" if isinstance(made, Straight) else "plate", group=GROUP, purpose="test piece", material=like.material,
        stock=_stock(like), places=((0.0, 0.0, 0.0),) * coupon.count, shape=made, note=f"{MADE[kind]}; {SHOWS[kind]}",
        mass=body.volume * material(like.material).density,
    )  # fmt: skip


def _named(kind: str, sort: _Sort) -> str:
    names, thin = sort
    return f"{kind.replace('_', '-')} of {' to '.join(names)}{f', {decimal_inches(thin)}' if thin else ''}"
