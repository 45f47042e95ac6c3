"""The exhaust as parts: pipes cut from tube, silencers as bought, flanges and slip joints between them.

A pipe's end is cut square where the file says: at a face of the engine or of a silencer. A silencer's size is what it
takes up; its mass is the file's.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.data.loader import material
from sparwright.family.exhaust import ENGINE, Exhaust, ExhaustPipe
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube
from sparwright.parts.bought import both_sides, lump
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.number import part_number
from sparwright.parts.part import Formed, Hand, Joint, Part
from sparwright.shape.solid import as_place
from sparwright.shape.tube import Tube

GROUP = "power"
FLANGE = "flange and gasket on the engine's studs, nuts by the engine's maker"
SLIP = "slip joint, held by two springs and wired; it must be free to move"


def exhaust_parts(model: Model) -> Iterator[Part]:
    """Pipes, the left ones after the right, and silencers; none where the file has none."""
    exhaust = model.exhaust
    for pipe in exhaust.pipes if exhaust else ():
        for hand in _hands(pipe):
            yield _pipe(model, pipe, hand)
    for silencer in exhaust.silencers if exhaust else ():
        body = Formed(body=lump(silencer.place, silencer.size, silencer.form), length=max(silencer.size))
        yield Part(number=_silencer_number(model, silencer.name), name=f"silencer, {silencer.name.replace('_', ' ')}",
                   form="item", group=GROUP, purpose="exhaust", material="bought", stock="bought",
                   places=(silencer.place,), mass=silencer.mass, band=0.2, mark="designer", shape=body)  # fmt: skip


def outlets(exhaust: Exhaust) -> tuple[tuple[str, np.ndarray], ...]:
    """(pipe, (3,) its open end in m) of each pipe that ends open, both of a pair."""
    ends = ((p.name, list(p.run.values())[-1], p.pair) for p in exhaust.pipes if p.ends not in _names(exhaust))
    return tuple((n, np.array(e)) for n, end, pair in ends for e in (both_sides(end) if pair else (end,)))


def _names(exhaust: Exhaust) -> tuple[str, ...]:
    return tuple(s.name for s in exhaust.silencers)


def _hands(pipe: ExhaustPipe) -> tuple[Hand, ...]:
    return ("R", "L") if pipe.pair else ("",)


def _key(name: str) -> str:
    return name.upper().replace("_", "-")


def _pipe_number(model: Model, pipe: ExhaustPipe, hand: Hand) -> str:
    return part_number(model.name, GROUP, "EXHAUST-PIPE", _key(pipe.name), hand)


def _silencer_number(model: Model, name: str) -> str:
    return part_number(model.name, GROUP, "SILENCER", _key(name))


def _places(pipe: ExhaustPipe, hand: Hand) -> np.ndarray:
    """(n, 3) m where it goes, on the side of its hand."""
    return np.array(list(pipe.run.values())) * (1.0, -1.0 if hand == "L" else 1.0, 1.0)


def _pipe(model: Model, pipe: ExhaustPipe, hand: Hand) -> Part:
    stock = RoundTube(material=pipe.material, outside=pipe.outside, wall=pipe.wall)
    shape = Tube(path=_places(pipe, hand), outside=pipe.outside, wall=pipe.wall, section=tube_section(stock))
    body = shape.solid()
    return Part(
        number=_pipe_number(model, pipe, hand), name=f"exhaust pipe, {pipe.name.replace('_', ' ')}", form="tube",
        group=GROUP, purpose="exhaust", material=pipe.material, stock=tube_stock(stock),
        places=(as_place(body.centre),), mass=body.volume * material(pipe.material).density, band=0.1, hand=hand,
        shape=shape, at=f"{pipe.begins} to {pipe.ends}", note="bent or built up of bends and straights, welded",
    )  # fmt: skip


def exhaust_joints(model: Model) -> Iterator[Joint]:
    """Each pipe to what it begins at, and to the silencer it ends in."""
    exhaust = model.exhaust
    for pipe in exhaust.pipes if exhaust else ():
        for hand in _hands(pipe):
            places = _places(pipe, hand)
            for said, at, word in ((pipe.begins, places[0], "START"), (pipe.ends, places[-1], "END")):
                if said == ENGINE or (exhaust and said in _names(exhaust)):
                    yield _joint(model, _pipe_number(model, pipe, hand), said, at, word)


def _joint(model: Model, number: str, said: str, at: np.ndarray, word: str) -> Joint:
    other = part_number(model.name, GROUP, "ENGINE") if said == ENGINE else _silencer_number(model, said)
    return Joint(
        number=f"{number}-{word}-JOINT", kind="bolt", parts=(other, number), place=as_place(at), primary=False,
        fastener="unknown", note=FLANGE if said == ENGINE else SLIP,
    )  # fmt: skip
