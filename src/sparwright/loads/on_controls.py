"""Forces of hand and foot on the controls, and the wind on the surfaces when it stands outside.

    stick, pedals   the code's greatest force, each way: no control system need bear more (395(a): 1.25 of the hinge
                    moments worked out, but no more than the pilot's greatest force)
    two pilots      against each other, 0.75 of it each, no less than the least
    along hinges    a movable surface along its hinge line, so many times its weight (393)
    ground gust     H = K cf Sf q, q at k sqrt(W/S) + base, no more than the code's; cf Sf behind the hinge

Symbols: W/S wing loading at the greatest mass, H hinge moment, cf mean chord and Sf area behind the hinge line.
Cut-outs at the root are not taken off (safe side). Not here: trim tabs and other secondary controls (405, 409), whose
forces no source at hand gives. Sources: cs-vla and 14 CFR 23, 393 to 415; marks in data/loads.toml.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.family.model import Model, TailSurface, Wing
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.code import FT, Code
from sparwright.loads.diagram import Envelope
from sparwright.loads.laden import SEA_LEVEL, Laden, case_of, laden
from sparwright.shape.lifting import breaks

STICK, PEDAL, EACH = "force on the stick", "force on the pedal", "force of each pilot, against the other"
HINGE = "hinge moment"
ALONG_HINGE = "load along the hinge line over the surface's weight"


@dataclass(frozen=True)
class Behind:
    """What lies behind a hinge line."""

    area: float = number("m2", "area")
    chord: float = number("m", "mean chord")


def behind_tail(tail: TailSurface, half: bool = False) -> Behind:
    """Behind the hinge of a straight-tapered surface; half: one side of it."""
    chord = (1 - tail.hinge) * (tail.root_chord + tail.tip_chord) / 2
    return Behind(chord * tail.span / (2 if half else 1), chord)


def behind_aileron(wing: Wing) -> Behind:
    """Behind the hinge of one aileron."""
    a = wing.aileron
    assert a is not None
    edge, chords, _ = breaks(wing)
    y = np.array([a.inboard, *(b for b in edge[1] if a.inboard < b < a.outboard), a.outboard])
    at = np.interp(y, edge[1], chords) * (1 - a.hinge)
    area = float(np.trapezoid(at, y))
    return Behind(area, area / (a.outboard - a.inboard))


def control_cases(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """Stick, pedals, two pilots where two sit in it, wind on the surfaces."""
    x, model = laden(flown)["max_forward"], flown.model
    yield from _forces(e.code, x)
    if sum(1 for load in model.loads if load.kind == "pilot") > 1:
        yield from _two(e.code, x)
    yield from _along_hinges(e.code, x, model)
    yield from _winds(e, x, model)


def _still(
    code: Code,
    x: Laden,
    key: str,
    title: str,
    keys: tuple[str, ...],
    steps: tuple[Step, ...],
    deflection: dict[str, float] | None = None,
) -> LoadCase:
    return case_of(
        x,
        f"control.{key}",
        title,
        "control",
        code.cite(*keys),
        1.0,
        steps=steps,
        caveat=code.recalled(*keys),
        deflection=deflection,
        alone=True,
    )


WAYS = (
    ("elevator", "pull", "stick pulled", STICK, 1.0),
    ("elevator", "push", "stick pushed", STICK, -1.0),
    ("aileron", "right", "stick pressed to the right", STICK, 1.0),
    ("aileron", "left", "stick pressed to the left", STICK, -1.0),
    ("rudder", "right", "right pedal pressed", PEDAL, 1.0),
    ("rudder", "left", "left pedal pressed", PEDAL, 1.0),
)


def _forces(code: Code, x: Laden) -> Iterator[LoadCase]:
    for surface, way, title, on, sign in WAYS:
        row = f"{surface}_most"
        step = code.printed(on, row, "N", sign, "greatest force of a pilot")
        yield _still(code, x, f"{surface}.{way}", f"{title}, the surface held", (row,), (step,))


def _two(code: Code, x: Laden) -> Iterator[LoadCase]:
    for surface in ("elevator", "aileron", "rudder"):
        most, least = code[f"{surface}_most"], code[f"{surface}_least"]
        value = max(code["dual"] * most, least)
        step = code.step(
            EACH,
            "0.75 of the greatest, no less than the least",
            (("greatest", most, "N"), ("least", least, "N")),
            value,
            "N",
            "dual",
        )
        keys = ("dual", f"{surface}_most", f"{surface}_least")
        yield _still(code, x, f"two.{surface}", f"two pilots against each other, {surface}", keys, (step,))


def _along_hinges(code: Code, x: Laden, model: Model) -> Iterator[LoadCase]:
    """Each movable surface pushed along its hinge line, so many times its own weight."""
    surfaces = [("elevator", "hinge_flat"), ("rudder", "hinge_upright")]
    surfaces += [("aileron", "hinge_flat")] if any(w.aileron for w in model.wings) else []
    for surface, row in surfaces:
        step = code.printed(ALONG_HINGE, row, "1")
        title = f"{surface} pushed along its hinge line"
        yield _still(code, x, f"along_hinge.{surface}", title, (row,), (step,))


def ground_wind(code: Code, loading: float) -> float:
    """Speed of the ground gust, m/s, at a wing loading, Pa: k sqrt(W/S) + base, no more than the code's."""
    return min(
        code["ground_gust_law"] * code.of_loading(loading, FT) + code["ground_gust_base"], code["ground_gust_most"]
    )


def _winds(e: Envelope, x: Laden, model: Model) -> Iterator[LoadCase]:
    """The wind on each surface as it may stand outside."""
    code, loading = e.code, x.loading.mass * GRAVITY / e.cell.area
    speed = ground_wind(code, loading)
    q = SEA_LEVEL * speed**2 / 2
    keys = ("ground_gust", "ground_gust_law", "ground_gust_base", "ground_gust_most")
    given = (("W/S", loading, "Pa"),)
    wind = code.step("wind", "k sqrt(W/S) + base, no more than the most", given, speed, "m/s", "ground_gust_law")
    for s in _stands_so(model):
        k = s.sign * code[s.row]
        sizes = (("K", k, "1"), ("c", s.part.chord, "m"), ("S", s.part.area, "m2"), ("q", q, "Pa"))
        step = code.step(HINGE, "H = K c S q", sizes, k * s.part.chord * s.part.area * q, "N m", s.row)
        at = {s.surface: s.angle}
        yield _still(code, x, f"wind.{s.surface}.{s.way}", f"wind on {s.words}", (*keys, s.row), (wind, step), at)


@dataclass(frozen=True)
class Outside:
    """One surface as the wind may find it."""

    surface: str
    way: str
    words: str
    part: Behind
    angle: float = number("rad", "as in deflection of a case")
    row: str = "ground_gust"  # K
    sign: float = number("1", "of the moment", 1.0)


def _stands_so(model: Model) -> Iterator[Outside]:
    """Full up and down, in the middle and thrown."""
    tail, fin = model.tailplane, model.fin
    for way, angle, sign in (("up", -tail.up, -1.0), ("down", tail.down, 1.0)):
        yield Outside("elevator", way, f"the elevator, full {way}", behind_tail(tail), angle, sign=sign)
    for way, angle in (("middle", 0.0), ("left", fin.up), ("right", -fin.down)):
        yield Outside("rudder", way, f"the rudder, {way}", behind_tail(fin), angle)
    for wing in model.wings:
        if wing.aileron:
            part, full = behind_aileron(wing), (wing.aileron.up + wing.aileron.down) / 2
            middle, thrown = f"{wing.name}.middle", f"{wing.name}.thrown"
            yield Outside("aileron", middle, f"each aileron of the {wing.name} wing, in the middle", part, 0.0)
            yield Outside("aileron", thrown, f"the ailerons of the {wing.name} wing, one up, one down", part, full,
                          "ground_gust_thrown")  # fmt: skip
