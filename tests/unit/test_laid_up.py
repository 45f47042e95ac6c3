"""Skins laid up flat: sheets by hand, cut from rib to rib, notched and taped at the nose; and what cannot be."""

from __future__ import annotations

import numpy as np
import pytest
from ailerons import HINGED
from families import PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.parts.edges import girth, nose_line
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Part, Skin
from sparwright.parts.stations import rib_stations
from sparwright.shape.lifting import cut

INCH = 0.0254
GLASS = 'glass = { start = 0.0, end = 1.0, material = "glass-epoxy", thickness = "0.015 in" }'
LAID = 'laid = { longest = "4 ft", trim = "1 in", notch = "2 in", depth = "3/4 in", tape = "2 in" }'


def made(text: str = PROBE, laid: str = LAID) -> str:
    """P3's upper wing with sheets that are laid up flat."""
    return text.replace(GLASS, GLASS.replace(" }", f", {laid} }}"), 1)


def skins(model: Model) -> dict[str, Part]:
    return {p.number: p for p in lay_out(model).parts if "P3-upper-SKIN" in p.number}


def test_the_same_skin_in_one_and_in_sheets_weighs_the_same_but_for_the_tape() -> None:
    one, flat = (skins(reading(t).models["P3"]) for t in (PROBE, made()))
    tape = sum(p.mass * p.count for n, p in flat.items() if "TAPE" in n)
    weigh = [sum(p.mass * p.count for p in these.values()) for these in (one, flat)]
    assert_allclose(weigh[1] - tape, weigh[0], rtol=2e-4)
    assert_allclose(tape, 252 * 2 * 0.015 * INCH**3 * material("glass-epoxy").density, rtol=1e-3)


def test_sheets_go_from_rib_to_rib_and_fit_on_the_table() -> None:
    model = reading(made()).models["P3"]
    ribs = [r.buttline for r in rib_stations(model.wings[0]) if r.kind == "wing"]
    lengths = set()
    for number, p in skins(model).items():
        assert isinstance(p.shape, Skin)
        assert p.shape.length <= 48 * INCH + 1e-4, number  # the twist makes it longer than its ribs are apart
        y = np.abs(p.shape.rings[0][:, :, 1])
        ends = [0.0, y.max()] if p.count == 1 else [y.min(), y.max()]
        assert all(min(abs(e - r) for r in ribs) < 1e-3 for e in ends), number
        lengths.add(round(p.shape.length / INCH))
    assert lengths == {36, 48, 42, 18}  # the centre in one, then ribs at buttlines 66, 108 and 126


def test_size_as_laid_up_notches_and_trim_are_told() -> None:
    """Upper sheet of 48 in: half the girth wide, an inch more all round; a notch every 2 in."""
    model = reading(made()).models["P3"]
    p = skins(model)["P3-upper-SKIN-GLASS-outer-UPPER-18-R"]
    assert "laid up flat 4′ 2″ x" in p.stock
    assert p.note == "trimmed by 1″ all round; 24 notches 3/4″ deep along the nose, 2″ apart"
    assert isinstance(p.shape, Skin)
    other = skins(model)["P3-upper-SKIN-GLASS-outer-LOWER-18-R"].shape
    assert isinstance(other, Skin)
    station = cut(model.wings[0], model.sections, 1.0)
    assert_allclose(p.shape.width + other.width, girth(station, 0.0, 1.0), rtol=1e-3)


def test_tape_lies_round_the_nose() -> None:
    model = reading(made()).models["P3"]
    station = cut(model.wings[0], model.sections, 1.0)
    line = nose_line(station, 0.05)
    assert_allclose(np.linalg.norm(np.diff(line, axis=0), axis=1).sum(), 0.05, rtol=1e-3)
    assert line[:, 0].min() < 1e-3 and line[0, 1] > 0 > line[-1, 1]


@pytest.mark.parametrize("text", [PROBE, HINGED], ids=["plain", "with an aileron"])
def test_they_touch_and_clash_with_nothing(text: str) -> None:
    assembly = lay_out(reading(made(text)).models["P3"])
    mine = {p.number for p in assembly.parts if "P3-upper-SKIN" in p.number}
    found = measure(assembly)
    assert len(mine) > 8 and not [c for c in found.clashes if c.drawn and {c.one, c.other} & mine]
    assert not [a for a in found.apart if {a.one, a.other} & mine] and not set(found.loose) & mine
    assert not [n for n in found.adrift if n.split(" at ")[0] in mine] and not set(found.not_closed) & mine


def test_no_rib_within_a_sheet_is_told() -> None:
    with pytest.raises(DesignProblem, match="no rib within 4″ of buttline 0″"):
        lay_out(reading(made(laid=LAID.replace("4 ft", "8 in"))).models["P3"])


@pytest.mark.parametrize(
    ("text", "key", "says"),
    [
        (made(laid=LAID.replace('depth = "3/4 in"', 'depth = "1-1/2 in"')), "depth", "at most half"),
        (made(laid=LAID.replace('longest = "4 ft"', 'longest = "0 ft"')), "longest", "positive"),
        (made(laid=LAID.replace(', tape = "2 in"', "")), "tape", "is missing"),
    ],
)
def test_what_cannot_be_is_told_with_its_key(text: str, key: str, says: str) -> None:
    full = f"models.P3.wings.upper.skins.glass.laid.{key}"
    assert any(p.key == full and says in p.wanted for p in problems(text)), [str(p) for p in problems(text)]


def test_fabric_is_not_laid_up() -> None:
    old = 'cover = { start = 0.2, end = 1.0, material = "fabric", areal = "0.07 lb/ft2" }'
    text = PROBE.replace(old, old.replace(" }", f", {LAID} }}"), 1)
    assert any(p.key == "models.P1.wings.wing.skins.cover.laid" and "is of sheet" in p.wanted for p in problems(text))
