"""What holds elevator and rudder against turning: the rod or the cables at their horns, as pinned bars."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from sparwright.family.controls import ControlCable
from sparwright.family.model import Model
from sparwright.parts.frame import FILL
from sparwright.parts.tail_frame import Surface
from sparwright.structure.bar import BALL, PIN, Bar, Section
from sparwright.structure.fuselage import upwards
from sparwright.structure.sections import round_section, tube_section

TURNS = (BALL, PIN)
STAND_IN = 0.0125  # m: a round rod of steel where the file has no rod or cable (stiff: it only keeps the surface still)


def held_by(model: Model, s: Surface, horns: Mapping[str, np.ndarray], places: Mapping[str, np.ndarray]
            ) -> Iterator[Bar]:  # fmt: skip
    """A bar from each hole of a surface's horn that something pulls at; one stand-in where nothing does.

    horns: its holes by node, the lower or left one first. places: the fuselage's nodes.
    """
    word = s.name("movable")
    bars = [*_rods(model, word, horns, places), *_cables(model, word, horns, places)]
    if not bars:
        node, at = next(iter(horns.items()))
        bars = [_bar(f"{model.name}-{word}-HELD", node, at, _nearest(places, at), places, round_section(STAND_IN))]
    yield from bars


def _rods(model: Model, word: str, horns: Mapping[str, np.ndarray], places: Mapping[str, np.ndarray]) -> Iterator[Bar]:
    for rod in model.controls.rods if model.controls else ():
        if rod.ends[1].split(".")[0] == word:
            node, at = next(iter(horns.items()))
            to = _to(model, rod.ends[0].split(".")[0], at, places)
            yield _bar(f"{model.name}-{word}-ROD", node, at, to, places, tube_section(rod.tube))


def _cables(model: Model, word: str, horns: Mapping[str, np.ndarray], places: Mapping[str, np.ndarray]
            ) -> Iterator[Bar]:  # fmt: skip
    for cable in model.controls.cables if model.controls else ():
        if cable.ends[1].split(".")[0] == word:
            for node, at in horns.items():
                to = _to(model, cable.over[-1] if cable.over else "", at, places)
                yield _bar(f"{model.name}-{word}-CABLE", node, at, to, places, _cable(cable))


def _to(model: Model, name: str, at: np.ndarray, places: Mapping[str, np.ndarray]) -> str:
    """The nearer end of the tube that a crank or pulley stands on, on the horn's side of the plane of symmetry."""
    controls = model.controls
    stands = {x.name: x.on for x in controls.cranks} | {x.name: x.on for x in controls.pulleys} if controls else {}
    ends = [n for n in stands.get(name, "").split("-") if n in places]
    return _nearest({n: places[n] for n in ends} or places, at)


def _nearest(places: Mapping[str, np.ndarray], at: np.ndarray) -> str:
    return min(places, key=lambda n: float(np.linalg.norm(places[n] - at)))


def _bar(part: str, node: str, at: np.ndarray, to: str, places: Mapping[str, np.ndarray], section: Section) -> Bar:
    return Bar(part, "link", (to, node), section, upwards(at - places[to]), free=TURNS)


def _cable(cable: ControlCable) -> Section:
    return round_section(cable.diameter * math.sqrt(FILL[cable.construction]))
