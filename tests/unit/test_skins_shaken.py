"""Aeroelastics with metal skins flat and wrinkled: the check that is nearer to failing stands, and names the other."""

from __future__ import annotations

import math

import pytest

from sparwright.aeroelastic.told import worse
from sparwright.base.check import Check, check
from sparwright.base.source import UNKNOWN, Band


def speed(value: float, doubt: str = "") -> Check:
    band = Band.exact(value) if math.isfinite(value) else UNKNOWN
    return check("aeroelastic.flutter", "flutter", band, 60.0, ">=", "m/s", rule="r", outside_range=doubt)


@pytest.mark.parametrize(("flat", "wrinkled", "stands", "word"), [
    (speed(80.0), speed(70.0), 70.0, "metal skins wrinkled; flat it is 80.0 m/s"),
    (speed(64.0), speed(79.0), 64.0, "metal skins flat; wrinkled it is 79.0 m/s"),
    (speed(80.0), speed(80.0, "how soft is not known"), 80.0, "metal skins wrinkled; flat it is 80.0 m/s"),
    (speed(90.0, "not known"), speed(70.0), 90.0, "metal skins flat"),
    (speed(90.0, "not known"), speed(50.0), 50.0, "metal skins wrinkled"),
])  # fmt: skip
def test_the_worse_stands(flat: Check, wrinkled: Check, stands: float, word: str) -> None:
    told = worse(flat, wrinkled)
    assert told.value == stands and told.caveat.startswith(word)
    assert told.verdict == min((flat, wrinkled), key=lambda c: ["fail", "unknown", "pass"].index(c.verdict)).verdict
    assert told.steps[0].value == (wrinkled if told.value == flat.value else flat).value
