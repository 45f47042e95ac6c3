"""Pictures of the controls: every rod and cable is drawn and named, and without controls the picture says so."""

from __future__ import annotations

from dataclasses import replace

import pytest
from steered import steered

from sparwright.charts.control_runs import control_pictures
from sparwright.controls.chain import moving
from sparwright.plans.drawing import Polyline, Text


def test_every_rod_and_cable_is_drawn_and_named() -> None:
    found = control_pictures(steered(), "origin")
    assert set(found) == {"controls", "gearing"}
    said = " ".join(s.content for s in found["controls"].strokes if isinstance(s, Text))
    controls = steered().controls
    assert controls is not None
    for name in (*(r.name for r in controls.rods), *(c.name for c in controls.cables)):
        assert name.replace("_", " ") in said
    thick = [s for s in found["controls"].strokes if isinstance(s, Polyline) and s.weight == "thick"]
    assert len(thick) >= 2 * (len(controls.rods) + 2)
    heads = " ".join(s.content for s in found["gearing"].strokes if isinstance(s, Text))
    assert "Elevator, up 25, down 20 deg" in heads and "Rudder, left 25, right 25 deg" in heads


@pytest.mark.parametrize(("units", "name", "factor"), [("inch", "in", 39.3701), ("millimetre", "cm", 100.0)])
def test_the_way_of_the_hand_is_in_the_units_asked_for(units: str, name: str, factor: float) -> None:
    """Ticks of the elevator's chart reach to the way between its stops, and not a step further."""
    picture = control_pictures(steered(), "origin", units)["gearing"]
    said = [s.content for s in picture.strokes if isinstance(s, Text)]
    assert sum(f"(stick), {name}" in s for s in said) >= 1
    controls = steered().controls
    assert controls is not None
    elevator = next(m for m in moving(steered(), controls)[1] if m.name == "elevator")
    least, most = (f(s.angles[elevator.lever] for s in elevator.stances) * elevator.arm * factor for f in (min, max))
    first = said[said.index(next(s for s in said if s.startswith("Elevator"))) :]
    ticks = [
        float(s.replace("−", "-"))
        for s in first[: first.index(next(s for s in first if "(stick)" in s))]
        if s.replace("−", "").replace(".", "").isdigit()
    ]
    assert any(0.4 * most < t <= most + 1e-9 for t in ticks) and any(least - 1e-9 <= t < 0.4 * least for t in ticks)


def test_without_controls_the_picture_says_so() -> None:
    found = control_pictures(replace(steered(), controls=None), "origin")
    assert list(found) == ["controls"] and "unknown" in found["controls"].words
