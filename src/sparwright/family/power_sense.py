"""What an engine and its propeller must be beyond single keys."""

from __future__ import annotations

import math

from sparwright.base.quantity import inches
from sparwright.family.engine import BladeStation, Engine, Propeller
from sparwright.family.entry import Entry, Faults, hint

OUTERMOST, INNERMOST = 0.97, 0.5  # of the tip's radius
FEWEST = 5  # stations of a blade
PITCH_NEAR = 0.10  # of the pitch: what the table's angle at 0.75 may be off
AT = 0.75  # of the tip's radius, where pitch is said
CURVE = 'curve = [{ speed = "2500 rpm", power = "45 hp", consumption = "0.29 kg/kWh" }, ...]'
BLADE = 'blade = [{ radius = 0.3, chord = "4 in", angle = "30 deg", thickness = 0.18 }, ...]'


def check_engine(engine: Engine, table: Entry, faults: Faults) -> None:
    """Two or four strokes, two points of a curve at rising speed, part throttle below it, a greatest speed near it."""
    if engine.strokes not in (2, 4):
        faults.wrong(table["strokes"], "an engine has 2 or 4 strokes", "strokes = 4")
    if len(engine.curve) < 2:
        spot = table.nearest("curve")
        faults.add(spot, "at least two points of full throttle are wanted", f"{len(engine.curve)}", CURVE)
    for i, (a, b) in enumerate(zip(engine.curve, engine.curve[1:], strict=False)):
        if b.speed <= a.speed:
            spot = table.nearest("curve", i + 1, "speed")
            faults.wrong(spot, "engine speeds must rise from point to point")
            return
    if len(engine.curve) >= 2:
        _check_part_throttle(engine, table, faults)
        _check_greatest_speed(engine, table, faults)


def _check_part_throttle(engine: Engine, table: Entry, faults: Faults) -> None:
    """Each point lies within the curve's speeds and below its power."""
    first, last = engine.curve[0].speed, engine.curve[-1].speed
    for i, point in enumerate(engine.part_throttle):
        spot = table.nearest("part_throttle", i)
        if not first <= point.speed <= last:
            wanted = f"lies within the speeds of the curve, {first * 60:.0f} to {last * 60:.0f} rpm"
            faults.wrong(spot.nearest("speed"), wanted)
        elif point.power >= (full := _power(engine, point.speed)):
            wanted = f"part throttle gives less than the curve at that speed, {full / 1e3:.3g} kW"
            faults.wrong(spot.nearest("power"), wanted)


def _power(engine: Engine, speed: float) -> float:
    """Full-throttle power at a speed within the curve, straight between its points."""
    for a, b in zip(engine.curve, engine.curve[1:], strict=False):
        if a.speed <= speed <= b.speed:
            return a.power + (b.power - a.power) * (speed - a.speed) / (b.speed - a.speed)
    return math.nan


def _check_greatest_speed(engine: Engine, table: Entry, faults: Faults) -> None:
    """The greatest permitted speed is not below the curve's strongest point and not far beyond its last."""
    if engine.greatest_speed is None:
        return
    strongest = max(engine.curve, key=lambda p: p.power).speed
    if not strongest <= engine.greatest_speed <= 1.2 * engine.curve[-1].speed:
        low, high = strongest * 60, 1.2 * engine.curve[-1].speed * 60
        wanted = f"lies from the speed of greatest power to a fifth beyond the curve, {low:.0f} to {high:.0f} rpm"
        faults.wrong(table["greatest_speed"], wanted)


def check_propeller(propeller: Propeller, whole: Entry, faults: Faults) -> None:
    """A blade's stations rise to the tip, have room round the hub, say one section each, and agree with the pitch."""
    table, rows = whole["propeller"], propeller.blade
    if not rows:
        return
    spot = table.nearest("blade")
    if len(rows) < FEWEST:
        faults.add(spot, f"at least {FEWEST} stations of a blade are wanted", f"{len(rows)}", BLADE)
        return
    for i, row in enumerate(rows):
        _check_station(row, propeller, whole, spot.nearest(i), faults)
    for i, (a, b) in enumerate(zip(rows, rows[1:], strict=False)):
        if b.radius <= a.radius:
            faults.wrong(spot.nearest(i + 1, "radius"), "radii must rise from station to station")
            return
    if rows[0].radius > INNERMOST:
        faults.wrong(spot.nearest(0, "radius"), f"the first station lies within {INNERMOST:g} of the radius")
    if rows[-1].radius < OUTERMOST:
        faults.wrong(spot.nearest(len(rows) - 1, "radius"), f"the last station is the tip: {OUTERMOST:g} or more")
    if rows[0].radius <= AT <= rows[-1].radius:
        _check_pitch(propeller, table, faults)


def _check_station(row: BladeStation, propeller: Propeller, whole: Entry, spot: Entry, faults: Faults) -> None:
    if row.section and row.thickness is not None:
        faults.wrong(spot.nearest("thickness"), "a station has a section or a thickness, not both")
    elif not row.section and row.thickness is None:
        faults.add(spot, "a station says its section, or the thickness of a Clark Y", example="thickness = 0.12")
    known = whole["sections"] if "sections" in whole else Entry({}, 1, "sections")
    if row.section and row.section not in known:
        faults.wrong(spot["section"], f"names a section of [sections]{hint(row.section, known)}")
    round_hub = 2 * math.pi * row.radius * propeller.diameter / 2
    if propeller.blades * row.chord * math.cos(row.angle) >= round_hub:
        wanted = f"{propeller.blades} blades there have {inches(round_hub)} round the hub: chords would overlap"
        faults.wrong(spot.nearest("chord"), wanted)


def _check_pitch(propeller: Propeller, table: Entry, faults: Faults) -> None:
    """p = 2 pi 0.75 R tan(angle there) is the pitch."""
    for a, b in zip(propeller.blade, propeller.blade[1:], strict=False):
        if a.radius <= AT <= b.radius:
            angle = a.angle + (b.angle - a.angle) * (AT - a.radius) / (b.radius - a.radius)
            pitch = 2 * math.pi * AT * propeller.diameter / 2 * math.tan(angle)
            if abs(pitch / propeller.pitch - 1) > PITCH_NEAR:
                faults.wrong(table["pitch"], f"the blade's angle at {AT:g} of the radius is a pitch of {inches(pitch)}")
            return
