"""What the wind sees of struts, wires and push-pull tubes outside, taken from the parts themselves."""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.air.drag import Shape as Outside
from sparwright.air.drag import StrutForDrag
from sparwright.family.controls import Rod
from sparwright.family.model import Model, Strut, Wire
from sparwright.parts.control_bodies import number as control_number
from sparwright.parts.part import Assembly, Part
from sparwright.parts.struts import strut_number, wire_number
from sparwright.shape.tube import Tube


def in_the_wind(model: Model, assembly: Assembly) -> tuple[StrutForDrag, ...]:
    """What the wind sees of struts, wires and links: length, width across the wind, shape, how many, where they end."""
    struts = [_in_the_wind(s, assembly.part(strut_number(model, s)), _across(s), s.fairing) for s in model.struts]
    wires = [_in_the_wind(w, assembly.part(wire_number(model, w)), w.diameter, "wire") for w in model.wires]
    return (*struts, *wires, *_links(model, assembly))


def _links(model: Model, assembly: Assembly) -> Iterator[StrutForDrag]:
    """The push-pull tubes from aileron to aileron: what another wing on their way hides of them is not taken off."""
    for rod in model.controls.rods if model.controls else ():
        if all(end.startswith("lug.") for end in rod.ends):
            line = assembly.part(control_number(model, "ROD", rod.name, "R" if rod.pair else "")).shape
            assert isinstance(line, Tube)
            ends, count = (line.start, line.end), 2 if rod.pair else 1
            yield StrutForDrag(rod.name, line.length, _across(rod), rod.fairing, count, ends, len(ends))


def _across(strut: Strut | Rod) -> float:
    return strut.faired_width if strut.fairing == "streamline" else strut.tube.outside


def _in_the_wind(thing: Strut | Wire, part: Part, width: float, shape: Outside) -> StrutForDrag:
    line = part.shape
    assert isinstance(line, Tube)
    on_wings = sum(1 for end in thing.ends if end.wing or end.tail)
    return StrutForDrag(thing.name, line.length, width, shape, part.count, (line.start, line.end), on_wings)
