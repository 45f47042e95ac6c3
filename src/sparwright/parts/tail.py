"""The tail surfaces of a model as parts and joints, and which of them turn."""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.family.model import Model, Strut, Wire
from sparwright.parts.part import Joint, Part
from sparwright.parts.tail_bracing import clamp_joints, clamp_parts
from sparwright.parts.tail_fittings import fitting_joints, fitting_parts
from sparwright.parts.tail_frame import frame_joints, frame_parts, surfaces


def tail_not_drawn(model: Model) -> tuple[str, ...]:
    """What of the tail is not drawn: surfaces without a frame; of frames, trim tab and bolt holes, and no bracing."""
    bare = [n for n, tail in (("tailplane", model.tailplane), ("fin", model.fin)) if tail.frame is None]
    by_area = tuple(f"{n} as a frame of tubes: weight by area until then" for n in bare)
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    held = any(e.tail for t in things for e in t.ends)
    rest = f"tail: {'' if held else 'bracing wires, '}trim tab, stops, and the bolts across its tabs and joints"
    return by_area if len(bare) == 2 else (*by_area, rest)


def tail_parts(model: Model) -> Iterator[Part]:
    """Every part of the tail surfaces that have a frame; none of those that are known by area."""
    for s in surfaces(model):
        yield from frame_parts(s)
    yield from fitting_parts(model)
    yield from clamp_parts(model)


def tail_joints(model: Model) -> Iterator[Joint]:
    """Every joint of the tail surfaces that have a frame."""
    for s in surfaces(model):
        yield from frame_joints(s)
    yield from fitting_joints(model)
    yield from clamp_joints(model)
