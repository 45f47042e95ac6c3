"""A propeller's blade by radius: out of the file's table, or the standard blade where the file has none.

Angles are measured in the file on the flat of the under side, as a protractor lies on a blade, or on the chord from
nose to tail; here they are of the chord. A relative thickness means the Clark Y with its ordinates stretched to it, its
under side flat still.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sparwright.base.record import locked, number
from sparwright.data.blades import clark_y_sides, planform
from sparwright.family.engine import Propeller
from sparwright.family.model import Section
from sparwright.shape.section import curve, sides

CLARK_Y = 0.117  # chords, its own thickness as printed
THICK = (0.08, CLARK_Y, 0.16, 0.21)  # chords: what is worked out; between two of them data go straight
ELEMENTS = 32
REAR = np.linspace(0.6, 0.95, 8)  # chords: where the under side of a blade is flat
DIGITS = 7  # of an ordinate, as printed
STANDARD = "5868-9"


@dataclass(frozen=True)
class Blade:
    """A blade by radius, from its innermost working radius to the tip."""

    r: np.ndarray  # (k,), m
    chord: np.ndarray  # (k,), m
    angle: np.ndarray  # (k,), rad, of the chord from nose to tail
    blades: int
    diameter: float = number("m", "diameter")
    sections: tuple[Section, ...] = ()  # s of them
    shares: np.ndarray | None = None  # (k, s) part of each section at each radius

    def elements(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        """(r, dr, chord, angle), each (ELEMENTS,): equal widths, values in their middles."""
        ends = np.linspace(self.r[0], self.r[-1], ELEMENTS + 1)
        r = (ends[1:] + ends[:-1]) / 2
        return r, np.diff(ends), np.interp(r, self.r, self.chord), np.interp(r, self.r, self.angle)

    def turned(self, by: float) -> Blade:
        """The same with every angle greater by some rad."""
        return Blade(self.r, self.chord, locked(self.angle + by), self.blades, self.diameter, self.sections,
                     self.shares)  # fmt: skip


@lru_cache(maxsize=32)
def clark_y(thickness: float = CLARK_Y, surface: str = "smooth") -> Section:
    """The Clark Y with its ordinates stretched to a thickness, chords. Source: data/clark_y.csv."""
    x, upper, lower = clark_y_sides()
    y = np.round(np.concatenate([upper[::-1], lower[1:]]) * thickness / CLARK_Y, DIGITS)
    around = zip(np.concatenate([x[::-1], x[1:]]).tolist(), y.tolist(), strict=True)
    name = f"Clark Y, {thickness * 100:.3g} % thick"
    return Section(name=name, points=tuple(around), surface=surface)  # type: ignore[arg-type]


@lru_cache(maxsize=64)
def flat_angle(section: Section) -> float:
    """Angle of the flat rear of the under side to the chord, rad, trailing edge down against it positive.

    A straight line by least squares through the lower side from 0.6 to 0.95 of the chord.
    """
    _, lower = sides(curve(section), REAR)
    return float(np.arctan(np.polyfit(REAR, lower, 1)[0]))


def blade_of(propeller: Propeller, sections: Mapping[str, Section] | None = None) -> Blade:
    """The blade of a propeller: its table, with the sections it names, or the standard blade where it has none."""
    if not propeller.blade:
        return standard_blade(propeller)
    rows, tip = propeller.blade, propeller.diameter / 2
    mixes = [_mix(row.section, row.thickness, propeller.surface, sections or {}) for row in rows]
    used = tuple(dict.fromkeys(s for mix in mixes for s in mix))
    shares = np.array([[mix.get(s, 0.0) for s in used] for mix in mixes])
    lean = [sum(part * flat_angle(s) for s, part in mix.items()) for mix in mixes]
    angle = np.array([row.angle for row in rows]) + (np.array(lean) if propeller.measured_on == "flat" else 0.0)
    r, chord = np.array([row.radius for row in rows]) * tip, np.array([row.chord for row in rows])
    return Blade(locked(r), locked(chord), locked(angle), propeller.blades, propeller.diameter, used, locked(shares))


def _mix(name: str, thickness: float | None, surface: str, sections: Mapping[str, Section]) -> dict[Section, float]:
    """The sections that stand for a station, with the part of each."""
    if name:
        return {sections[name]: 1.0}
    t = CLARK_Y if thickness is None else thickness
    i = int(np.clip(np.searchsorted(THICK, t) - 1, 0, len(THICK) - 2))
    part = (t - THICK[i]) / (THICK[i + 1] - THICK[i])
    found = {clark_y(THICK[i], surface): 1 - part, clark_y(THICK[i + 1], surface): part}
    return {s: p for s, p in found.items() if p}


def standard_blade(propeller: Propeller) -> Blade:
    """The blade of a propeller known only by diameter, pitch and number of blades.

    Plan form c/R of the metal blade 5868-9; blade angle atan(p/(2 pi r)), the same geometric pitch p at every
    radius, measured on the flat under side of a Clark Y. The inner 0.3 R (hub, shank, spinner) is taken to give
    neither thrust nor drag: no data there (assumption). Source: naca-tr-640, plan form as read in
    uiuc-propeller-2; constant pitch is how such propellers are sold (common practice, no source).
    """
    ratio, width, _ = planform(STANDARD)
    tip = propeller.diameter / 2
    r, section = ratio * tip, clark_y(surface=propeller.surface)
    angle = np.arctan(propeller.pitch / (2 * np.pi * r)) + flat_angle(section)
    return Blade(locked(r), locked(width * tip), locked(angle), propeller.blades, propeller.diameter, (section,),
                 locked(np.ones((r.size, 1))))  # fmt: skip
