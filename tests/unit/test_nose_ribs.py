"""Ribs from the nose to the first spar, where the file asks for them."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from families import PROBE, problems, reading

from sparwright.family.model import Model
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.stations import rib_stations
from sparwright.shape.lifting import cut
from sparwright.shape.rib import nose_piece, slot


def with_noses(name: str, count: int = 1) -> Model:
    text = PROBE.replace("[models.P1.wings.wing.ribs]\n", f"[models.P1.wings.wing.ribs]\nnose_ribs = {count}\n")
    text = text.replace("[models.P2.wings.lower.ribs]\n", f"[models.P2.wings.lower.ribs]\nnose_ribs = {count}\n")
    return reading(text).models[name]


@pytest.mark.parametrize("count", [1, 3])
def test_they_stand_evenly_between_whole_ribs(count: int) -> None:
    wing = with_noses("P1", count).wings[0]
    stations = rib_stations(wing)
    whole = [r.buttline for r in stations if r.kind == "wing"]
    noses = [r.buttline for r in stations if r.kind == "nose"]
    assert len(noses) == count * (len(whole) - 1)
    for a, b in pairwise(whole):
        here = [y for y in noses if a < y < b]
        assert np.allclose(np.diff([a, *here, b]), (b - a) / (count + 1))


def test_they_end_on_the_spar_s_front_face() -> None:
    model = with_noses("P1")
    wing = model.wings[0]
    station = cut(wing, model.sections, 1.0)
    piece, box = nose_piece(station, wing), slot(station, wing, wing.spars[0])
    x = piece.outline[:, 0]
    assert x.max() == pytest.approx(box.x - box.width / 2 - wing.ribs.fit, abs=1e-3)  # the box leans with the twist
    assert x.min() == pytest.approx(wing.ribs.nose_cut)


@pytest.mark.parametrize("name", ["P1", "P2"])
def test_they_touch_spar_bar_and_skin_and_clash_with_nothing(name: str) -> None:
    assembly = lay_out(with_noses(name))
    wing = "wing" if name == "P1" else "lower"
    mine = {p.number for p in assembly.parts if p.number.startswith(f"{name}-{wing}-NOSE-RIB")}
    assert mine
    found = measure(assembly)
    own = f"{name}-{wing}-"
    assert not [
        c for c in found.clashes if {c.one, c.other} & mine and c.one.startswith(own) and c.other.startswith(own)
    ]
    assert not [a for a in found.apart if {a.one, a.other} & mine]
    assert not [n for n in found.adrift if any(n.startswith(m) for m in mine)] and not set(found.loose) & mine
    for number in mine:
        assert {j.parts[0].split("-")[2] for j in assembly.joints if number in j.parts} >= {"FRONT", "NOSE", "SKIN"}


def test_too_many_are_told() -> None:
    text = PROBE.replace("[models.P1.wings.wing.ribs]\n", "[models.P1.wings.wing.ribs]\nnose_ribs = 9\n")
    assert [p.key for p in problems(text)] == ["models.P1.wings.wing.ribs.nose_ribs"]
