"""Measured on the bodies of the parts: what runs into what, what a joint should hold and does not touch, what is loose.

Two bodies share some space where they meet, by the corners of round things and the thinning of curves. It is measured
as a mean depth

    depth = 2 V/A        V volume and A surface of what they share

and is a clash past DEPTH, common practice for fitting by hand and no source. Two parts of a joint touch where the gap
between them is TOUCH at most, a weld's WELD (a rod's thickness; common practice, no source): in a joint at one place at
least, and each piece of a part with a piece of some part that it is joined to. Fabric, webbing and foam yield and are
left out. Where a fitting is not drawn, the end of a strut or wire stands where its fitting will: what it shares with
others within REACH of there is not known, and is told so. What goes through an opening that is cut to fit (`passes`) is
not measured against it. Two bodies that both have their mirror on the right are measured there. What two bodies share
is kept for the process by their shapes, so that a change to one part measures again only what touches it. The solids
are those of a general-purpose library (manifold3d).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from manifold3d import Manifold

from sparwright.base.record import number
from sparwright.base.remembered import remembered
from sparwright.parts.beside import boxes
from sparwright.parts.part import Assembly, Joint, Part, Place, Skin
from sparwright.parts.solids import closed, exact, gap, solids
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import Solid, as_place
from sparwright.shape.tube import Tube

DEPTH = 0.2e-3  # m
TOUCH = 0.5e-3  # m
WELD = 1.6e-3  # m
REACH = 0.25  # m
LEAST = 2e-9  # m3: less than this shared is the rounding of corners
UNKNOWN = "unknown"


@dataclass(frozen=True)
class Clash:
    """Two parts in one place."""

    one: str
    other: str
    depth: float = number("m", "mean depth of what they share")
    volume: float = number("m3", "volume of what they share")
    place: Place = number("m", "its middle")
    drawn: bool = True  # False where a fitting that is not drawn yet will part them


@dataclass(frozen=True)
class Apart:
    """Two parts of a joint that do not touch."""

    joint: str
    one: str
    other: str
    gap: float = number("m", "between them where they are nearest; infinite past the length looked at")


@dataclass(frozen=True)
class Measured:
    """What was measured of one model."""

    clashes: tuple[Clash, ...]
    apart: tuple[Apart, ...]
    loose: tuple[str, ...]  # numbers of parts that no joint holds
    bodies: int = number("1", "bodies measured", 0)
    joints: int = number("1", "joints of which two parts at least have bodies to be measured", 0)
    waiting: tuple[str, ...] = ()  # numbers of joints whose fitting, or one of whose parts, is not drawn
    adrift: tuple[str, ...] = ()  # pieces that touch nothing of what their part is joined to: number and place
    not_closed: tuple[str, ...] = ()  # numbers of parts whose body is not closed: nothing measured of them counts


@dataclass(frozen=True)
class _Body:
    """One body of a part."""

    part: Part
    solid: Solid
    mirrored: bool = False  # whether it is on the left and its mirror on the right
    near: set[int] = field(default_factory=set)  # ids of the bodies it shares some space with

    @cached_property
    def exact(self) -> Manifold:
        """The same in the library of solids."""
        return exact(self.solid)

    @property
    def box(self) -> np.ndarray:
        """(2, 3) least and greatest of x, y, z."""
        return self.solid.box


@dataclass(frozen=True)
class _Common:
    """What two bodies share."""

    volume: float
    surface: float
    middle: Place


def measure(assembly: Assembly) -> Measured:
    """Clashes, joints that do not touch, and parts without a joint."""
    bodies = _bodies(assembly)
    by_part: dict[str, list[_Body]] = {}
    for body in bodies:
        by_part.setdefault(body.part.number, []).append(body)
    open_ends = _open_ends(assembly, by_part)
    held = {n for j in assembly.joints for n in j.parts}
    loose = tuple(p.number for p in assembly.parts if p.number not in held)
    fabric = {p.number for p in assembly.parts if _yields(p)}
    drawn = [j for j in assembly.joints if j.through != UNKNOWN and len(_with_bodies(j, by_part)) > 1]
    measurable = {j.number for j in drawn}
    waiting = tuple(j.number for j in assembly.joints if j.number not in measurable and not fabric & set(j.parts))
    clashes = _worst(_clashes(bodies, open_ends))
    apart = tuple(a for j in drawn for a in _apart(j, by_part))
    adrift = tuple(_adrift(assembly, drawn, by_part))
    not_closed = tuple(dict.fromkeys(b.part.number for b in bodies if not closed(b.exact)))
    return Measured(clashes, apart, loose, len(bodies), len(drawn), waiting, adrift, not_closed)


def _bodies(assembly: Assembly) -> list[_Body]:
    """Every body that can be measured, each told whether it is the mirror of one on the right."""
    every = [(p, s) for p in assembly.parts if not _yields(p) for s in solids(p)]
    there = {_where(s.box) for _, s in every}
    return [_Body(p, s, bool(s.box[1, 1] < -ON_CENTRE and _where(_across(s.box)) in there)) for p, s in every]


def _where(box: np.ndarray) -> tuple[int, ...]:
    """A box in tenths of a millimetre."""
    return tuple(np.rint(box * 1e4).astype(int).ravel().tolist())


def _across(box: np.ndarray) -> np.ndarray:
    """A box's mirror: its least buttline is that of the greatest, the other way."""
    (x, y, z), (a, b, c) = box
    return np.array([[x, -b, z], [a, -y, c]])


def _adrift(assembly: Assembly, drawn: Sequence[Joint], by_part: Mapping[str, Sequence[_Body]]) -> Iterator[str]:
    """Pieces of parts in joints that were drawn that touch no piece of a partner; a joint that waits may hold them."""
    partners: dict[str, dict[str, float]] = {}
    for joint in drawn:
        most = WELD if joint.kind == "weld" else TOUCH
        for name in joint.parts:
            own = partners.setdefault(name, {})
            own.update({n: max(most, own.get(n, 0.0)) for n in joint.parts if n != name})
    known = {j.number for j in drawn}
    rest = (j for j in assembly.joints if j.number not in known)
    waits = {n for j in rest for n in (j.parts[-1:] if j.through == UNKNOWN else j.parts)}
    for name, others in partners.items():
        for body in by_part.get(name, ()) if name not in waits else ():
            if not body.mirrored and not _held(body, others, by_part):
                yield f"{name} at {', '.join(f'{v:.3f}' for v in body.solid.centre)} m"


def _held(body: _Body, others: Mapping[str, float], by_part: Mapping[str, Sequence[_Body]]) -> bool:
    beside = [(b, most) for n, most in others.items() for b in by_part.get(n, ())]
    return any(id(b) in body.near or id(body) in b.near for b, _ in beside) or any(
        _boxes_meet(body, b, most) and gap(body.solid, b.solid, 4 * most) <= most for b, most in beside
    )


def _boxes_meet(one: _Body, other: _Body, within: float) -> bool:
    return bool(np.all(one.box[0] - within <= other.box[1]) and np.all(other.box[0] - within <= one.box[1]))


def _with_bodies(joint: Joint, by_part: Mapping[str, Sequence[_Body]]) -> list[str]:
    """The parts of a joint that can be measured; none where the one they are joined to cannot."""
    return [n for n in joint.parts if by_part.get(n)] if by_part.get(joint.parts[0]) else []


def _yields(part: Part) -> bool:
    return part.form == "soft" or (isinstance(part.shape, Skin) and part.shape.thickness == 0)


def _open_ends(assembly: Assembly, by_part: Mapping[str, Sequence[_Body]]) -> dict[str, list[np.ndarray]]:
    """Places, by part number, where a fitting that is not drawn ends a strut or wire."""
    found: dict[str, list[np.ndarray]] = {}
    for joint in assembly.joints:
        if joint.through == UNKNOWN:
            own = joint.parts[-1]
            for body in by_part.get(own, ()):
                side = 1.0 if body.solid.centre[1] * joint.place[1] >= 0 else -1.0
                found.setdefault(own, []).append(np.array(joint.place) * (1.0, side, 1.0))
    return found


def _clashes(bodies: Sequence[_Body], open_ends: Mapping[str, Sequence[np.ndarray]]) -> Iterator[Clash]:
    every = boxes([b.solid for b in bodies])
    pairs = ((one, bodies[j]) for i, one in enumerate(bodies) for j, _ in every.near(one.solid, 0.0) if j > i)
    for one, other in pairs:
        if (one.mirrored and other.mirrored) or _clear(one.part, other.part) or passes(one.part, other.part):
            continue
        common = _shared(one, other)
        if common.volume > 0:
            one.near.add(id(other))
        if common.volume < LEAST:
            continue
        depth = 2 * common.volume / common.surface
        if depth > DEPTH:
            middle = np.array(common.middle)
            ends = [e for p in (one.part, other.part) for e in open_ends.get(p.number, ())]
            drawn = not any(np.linalg.norm(middle - e) < REACH for e in ends)
            yield Clash(one.part.number, other.part.number, depth, common.volume, common.middle, drawn)


def _shared(one: _Body, other: _Body) -> _Common:
    """What two bodies have in common."""
    return _common(one.solid, other.solid)


@remembered(50_000)
def _common(one: Solid, other: Solid) -> _Common:
    common = exact(one) ^ exact(other)
    box = np.array(common.bounding_box()).reshape(2, 3)
    middle = as_place(box.mean(axis=0)) if common.volume() > 0 else (0.0, 0.0, 0.0)
    return _Common(common.volume(), common.surface_area(), middle)


def passes(one: Part, other: Part) -> bool:
    """Whether one of two parts goes through the other by an opening that is cut for it."""
    return other.number.startswith(one.passes) or one.number.startswith(other.passes)


def _clear(one: Part, other: Part) -> bool:
    """Whether two straight tubes, on their own sides, pass one another at more than their radii."""
    a, b = one.shape, other.shape
    if not (isinstance(a, Tube) and isinstance(b, Tube)) or max(one.count, other.count) > 1:
        return False
    if len(a.path) > 2 or len(b.path) > 2:
        return False
    return _between(a.path, b.path) > (a.outside + b.outside) / 2


def _between(a: np.ndarray, b: np.ndarray) -> float:
    """Least distance of two stretches (2, 3), m, by their lines and ends."""
    u, v, w = a[1] - a[0], b[1] - b[0], a[0] - b[0]
    uu, uv, vv, uw, vw = u @ u, u @ v, v @ v, u @ w, v @ w
    square = uu * vv - uv * uv
    tries = [(0.0, vw / vv), (1.0, (vw + uv) / vv), (-uw / uu, 0.0), ((uv - uw) / uu, 1.0)]
    if square > 1e-12 * uu * vv:
        tries.append(((uv * vw - vv * uw) / square, (uu * vw - uv * uw) / square))
    at = np.clip(np.array(tries), 0, 1)
    return float(np.linalg.norm(w + at[:, :1] * u - at[:, 1:] * v, axis=1).min())


def _worst(clashes: Iterator[Clash]) -> tuple[Clash, ...]:
    """One for each pair of part numbers, the deepest; deepest first."""
    found: dict[tuple[str, str], Clash] = {}
    for c in clashes:
        key = (c.one, c.other)
        if key not in found or (c.drawn, c.depth) > (found[key].drawn, found[key].depth):
            found[key] = c
    return tuple(sorted(found.values(), key=lambda c: (not c.drawn, -c.depth, c.one, c.other)))


def _apart(joint: Joint, by_part: Mapping[str, Sequence[_Body]]) -> Iterator[Apart]:
    """Each part of a joint must touch the first, and in a weld any of those before it."""
    most = WELD if joint.kind == "weld" else TOUCH
    drawn = _with_bodies(joint, by_part)
    for i, name in enumerate(drawn[1:], 1):
        least = np.inf
        for before in drawn[:i] if joint.kind == "weld" else drawn[:1]:
            least = min(least, _gap(by_part[name], by_part[before], joint, most))
            if least <= most:
                break
        if least > most:
            yield Apart(joint.number, drawn[0], name, least)


def _gap(some: Sequence[_Body], others: Sequence[_Body], joint: Joint, most: float) -> float:
    """The gap between bodies of two parts, those nearest to the joint's place, m; infinite past four times `most`."""
    if any(id(b) in a.near or id(a) in b.near for a in some for b in others):
        return 0.0
    place = np.array(joint.place)

    def off(body: _Body) -> float:
        return float(np.linalg.norm(np.clip(place, *body.box) - place))

    least = np.inf
    for one in sorted(some, key=off)[:2]:
        for other in sorted(others, key=off)[:2]:
            if _boxes_meet(one, other, 4 * most):
                least = min(least, gap(one.solid, other.solid, 4 * most))
            if least <= most:
                return float(least)
    return float(least) if least < 4 * most else np.inf
