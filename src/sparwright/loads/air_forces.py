"""Symmetrical flight: the air's forces on wings, tail, body, struts and wheels, and the pull of the propeller.

    wings, tail      strip by strip (halves.py), with the sections' own drag along the stream
    body             couple body_slope a q S c at the quarter of the mean chord (air/body.py), no force
    the rest         drag areas of flight/drag.py at the places of struts, wires, legs, wheels, fin, along the stream;
                     what has no place of its own on the body, at the middle of the others by area
    thrust           along the thrust line at the propeller's hub, on the mount

Without thrust the power is off: drag and what of the weight lies along the path are met by the aeroplane's own inertia.
Balanced is the moment of lattice and body about the centre of gravity; that of drag and thrust off it is left to
inertia too (flight/trim.py leaves it out alike). Section drag that is not on file at an angle is left out and noted:
the load along the chord is then further forward. Sources: air/turned.py; flight/drag.py.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.base.axes import GRAVITY
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.drag import elevator_drag
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.halves import Half, Halves, even, laid, with_drag
from sparwright.loads.laid_out import LaidOut, span_load
from sparwright.loads.places import body_middle
from sparwright.loads.ready import Poised, Ready, at_angle, balanced, held
from sparwright.loads.together import joined, push, pushes

DENSITY = 1.225  # kg/m3, sea level, ISO 2533: speeds of cases are equivalent
LOST = "drag of a section is not on file at its angle and left out: the load along the chord is further forward"


def pressure(case: LoadCase) -> float:
    """Dynamic pressure, Pa."""
    return DENSITY * case.speed**2 / 2


def cg(case: LoadCase) -> tuple[float, float]:
    """Station and waterline of the centre of gravity, m."""
    return case.station, case.waterline


def level_lift(case: LoadCase, area: float) -> float:
    """CL of level flight at the case's mass and speed."""
    return case.mass * GRAVITY / (pressure(case) * area)


def manoeuvre(ready: Ready, case: LoadCase, thrust: float = 0.0) -> LaidOut:
    """Balanced at the case's lift. thrust: N. ValueError where the lattice has no such state."""
    return flown(ready, case, balanced(ready, case.lift, cg(case)), thrust)


def gust(ready: Ready, case: LoadCase, thrust: float = 0.0) -> LaidOut:
    """A gust met in level flight: the elevator stays, wings and tail meet the same change of angle, the tail less the
    change of downwash (CS-VLA 425 asks for the same, U a (1 - de/da)).
    """
    return flown(ready, case, gust_state(ready, case), thrust)


def gust_state(ready: Ready, case: LoadCase) -> Poised:
    """The case's lift with the elevator of level flight at its mass and speed."""
    level = balanced(ready, level_lift(case, ready.plane.area), cg(case))
    return held(ready, case.lift, level.elevator, cg(case))


def elevator_turned(ready: Ready, case: LoadCase, thrust: float = 0.0) -> LaidOut:
    """Level flight, and at once the elevator at case.deflection["elevator"] (rad, trailing edge down): not balanced."""
    return flown(ready, case, tail_state(ready, case), thrust)


def tail_state(ready: Ready, case: LoadCase, part: float = 1.0) -> Poised:
    """Balanced at the case's lift, or level; with the elevator of the case turned at once where it has one.

    part: how much of the way from the balanced elevator to that of the case.
    """
    lift = case.lift if math.isfinite(case.lift) else level_lift(case, ready.plane.area)
    at = balanced(ready, lift, cg(case))
    if "elevator" not in case.deflection:
        return at
    full = EFFECTIVE.value * case.deflection["elevator"]
    return at_angle(ready, at.alpha, at.elevator + part * (full - at.elevator))


def flown(
    ready: Ready,
    case: LoadCase,
    at: Poised,
    thrust: float = 0.0,
    odd: Halves | None = None,
    left: Mapping[str, float] | None = None,
    notes: tuple[str, ...] = (),
    both: Halves | None = None,
) -> LaidOut:
    """A state laid out. odd: over q, what the right half carries more and the left less; left: factors on the left
    half of surfaces; both: over q, what both halves carry more; notes: what is to be said besides.
    """
    q, (whole, lost) = pressure(case), on_wings(ready, case, at)
    pieces, spans = [], []
    for name, plain in whole.items():
        more, half = (odd or {}).get(name), plain + both[name] if both and name in both else plain
        for side, sign in (("R", 1.0), ("L", -1.0)):
            here = half + more.times(sign) if more else half
            here = here.times((left or {}).get(name, 1.0)) if side == "L" else here
            pieces.append(laid(here, side, q, *names(here, side)))
            spans.append(span_load(here, side, q, case.key))
    rest, missing = others(ready, case, at.alpha)
    pieces += [body_couple(ready, at, q), rest]
    if thrust:
        pieces.append(push("mount", ready.model.propeller.place, (-thrust, 0.0, 0.0)))
    said = (*notes, *lost, *missing, *(() if thrust else ("power off",)))
    return LaidOut(case, joined(pieces), tuple(spans), said, "", at.alpha, at.elevator)


def names(half: Half, side: str) -> tuple[str, str]:
    """(what takes the fixed part, what takes the hinged part) of one side of a surface."""
    if half.cut.is_tail:
        return f"tailplane:{side}", f"elevator:{side}"
    return f"wing:{half.cut.name}:{side}", f"aileron:{half.cut.name}:{side}"


def on_wings(ready: Ready, case: LoadCase, at: Poised) -> tuple[dict[str, Half], tuple[str, ...]]:
    """(every surface's half over q, with the drag of its sections; what is to be said)."""
    found, lost = even(at.state, at.lattice.cut, at.turned), False
    for name, half in found.items():
        drag = section_drag(ready, at, name, case.speed)
        lost = lost or bool(np.isnan(drag).any())
        found[name] = with_drag(half, np.nan_to_num(drag), at.alpha)
    return found, (LOST,) if lost else ()


def section_drag(ready: Ready, at: Poised, name: str, speed: float) -> np.ndarray:
    """(m,) m2, drag area of each strip by its section, along the stream; NaN where it is not on file.

    cd (1 + u)^2 A at the angle the section works at, nought inside the fuselage, and what a turned elevator adds.
    """
    strips, here = at.lattice.strips[name], at.state.company.strip_slices[name]
    cl = at.state.section_lift[here]
    works = at.lattice.fitted.effective(at.state.section_lift, np.zeros(at.state.section_lift.size))[0][here]
    cd = strips.drag(works[None], (speed * strips.chord / ready.air.kinematic)[None])[0, 0]
    own = elevator_drag(np.array(at.elevator / EFFECTIVE.value), cl) if name == at.tail else 0.0
    drag = cd * at.state.onset[here] ** 2 * strips.area * strips.outside + own * strips.area
    return np.asarray(np.where(strips.outside, drag, 0.0))


def body_couple(ready: Ready, at: Poised, q: float) -> Pushes:
    """The fuselage's own moment, nose up."""
    company = at.state.company
    moment = ready.plane.body_slopes[0] * at.alpha * q * company.reference.area * company.reference.chord
    x, z = company.reference_point
    return push("body", (x, 0.0, z), moment=(0.0, moment, 0.0))


def others(ready: Ready, case: LoadCase, alpha: float) -> tuple[Pushes, tuple[str, ...]]:
    """(drag of all but wings and tailplane, N, along the stream at an angle, rad; what of it is not known)."""
    q, placed, loose, missing = pressure(case), [], 0.0, []
    for item in ready.parasite(case.speed):
        where = ready.places.get(item.name, (("body", body_middle(ready.model)),) if item.group == "body" else ())
        if not math.isfinite(item.area.value):
            missing.append(f"drag of {item.name} is not known and left out")
            continue
        placed += [(on, at, q * item.area.value / len(where)) for on, at in where]
        loose += 0.0 if where else q * item.area.value
    total = sum(d for _, _, d in placed)
    middle = sum((np.array(at) * d for _, at, d in placed), np.zeros(3)) / total if total else np.zeros(3)
    on, at, drag = zip(*placed, ("body", middle, loose), strict=True)
    force = np.outer(drag, turned_by(np.array([1.0, 0.0, 0.0]), -alpha))
    return pushes(np.array(at), force, 0 * force, on), tuple(dict.fromkeys(missing))
