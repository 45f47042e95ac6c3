"""Pictures of the controls: every rod and cable is drawn and named, and without controls the picture says so."""

from __future__ import annotations

from dataclasses import replace

from steered import steered

from sparwright.charts.control_runs import control_pictures
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


def test_without_controls_the_picture_says_so() -> None:
    found = control_pictures(replace(steered(), controls=None), "origin")
    assert list(found) == ["controls"] and "unknown" in found["controls"].words
