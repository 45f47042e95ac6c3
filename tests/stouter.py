"""The probe's wings with stouter ribs, for tests of those alone."""

from __future__ import annotations

from families import PROBE, reading

from sparwright.family.model import Model

WEB = {"P1": 'material = "okoume-ply", thickness = "6 mm"', "P2": 'material = "6061-T6", thickness = "0.050 in"'}
WING = {"P1": "wing", "P2": "lower"}


def text_of(rows: str, model: str = "P1") -> str:
    """The probe's text with the rows of a table of stouter ribs; SHEET stands for a thicker sheet of the same stuff."""
    head = f"\n[models.{model}.wings.{WING[model]}.aileron]"
    at = PROBE.index(head)
    table = f"\n[models.{model}.wings.{WING[model]}.stouter_ribs]\n{rows.replace('SHEET', '{ ' + WEB[model] + ' }')}\n"
    return PROBE[:at] + table + PROBE[at:]


def stouter(rows: str, model: str = "P1") -> Model:
    """A model of it."""
    return reading(text_of(rows, model)).models[model]
