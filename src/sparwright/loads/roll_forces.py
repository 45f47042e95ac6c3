"""Ailerons turned: the wings' loads of a symmetrical state with the odd loads of ailerons, and of rolling, on top.

    at once       odd loads of the ailerons alone; the aeroplane's inertia about the roll axis meets their moment
    steady        with those of a roll at which there is no rolling moment:  p/V = -k d l_A/l_p
    100 and 70    no aileron: the left half of the wings carries a part of the right half's (data/pushes.toml)

d is the real ailerons' angle, up on the right, all wings alike; k what a real one does of a thin one's lift
(data/aileron.toml), l rolling moment by the same lattice. The change of the chordwise moment is that of a thin flap,
with all of its lift, on the strip and on the aileron's hinge. Not in it: the differential, the section drag of turned
ailerons. Range: air/sideways.py. Sources: falkner-1943; glauert-1926 ch. IX, XI.
"""

from __future__ import annotations

from collections.abc import Mapping

from sparwright.air.odd_panels import OddPanels, odd_panels
from sparwright.data.aileron import effect
from sparwright.data.pushes import PARTS
from sparwright.loads.air_forces import cg, flown
from sparwright.loads.case import LoadCase
from sparwright.loads.code import asked
from sparwright.loads.halves import Half, Halves, odd
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.ready import Poised, Ready, balanced
from sparwright.loads.rolling import SHARE

UNIT = {"roll": 1.0}


def ailerons_turned(ready: Ready, case: LoadCase, thrust: float = 0.0, steady: bool = False) -> LaidOut:
    """Ailerons at case.deflection["aileron"] (rad, up on the right), balanced state. ValueError without ailerons."""
    at = balanced(ready, case.lift, cg(case))
    panels = odd_panels(at.state, cg(case), ready.fin, at.slopes)
    more = ailerons(ready, at, panels, case.deflection["aileron"], case.waterline if steady else None)
    said = "steady roll" if steady else "ailerons turned at once: the roll has not begun"
    return flown(ready, case, at, thrust, more, notes=(said,))


def ailerons(ready: Ready, at: Poised, panels: OddPanels, angle: float, roll_at: float | None) -> Halves:
    """Odd loads over q of every surface for an angle of all ailerons, rad. ValueError without ailerons.

    roll_at: waterline, m, of the axis it rolls about steadily; None where it does not roll yet.
    """
    wings = [w.name for w in ready.model.wings if w.aileron]
    if not wings:
        raise ValueError(f"{ready.plane.name} has no ailerons")
    amounts = dict.fromkeys(wings, effect(angle).value * angle)
    turned = odd(at.state, at.lattice.cut, panels, amounts)
    if roll_at is None:
        return turned
    rolling = odd(at.state, at.lattice.cut, panels, UNIT)
    rate = -rolling_moment(turned, roll_at) / rolling_moment(rolling, roll_at)
    return added(turned, rolling, rate)


def added(first: Halves, second: Halves, factor: float) -> dict[str, Half]:
    """Each surface's first load and so much of the second."""
    return {name: half + second[name].times(factor) for name, half in first.items()}


def rolling_moment(halves: Halves, waterline: float) -> float:
    """m3 over q of odd loads about a line along the thrust line, both sides, right wing up: 2 Sum (M + r x F)_x."""
    return 2 * sum(
        float((h.moment[0] + h.cut.quarter[1] * h.force[2] - (h.cut.quarter[2] - waterline) * h.force[1]).sum())
        for h in halves.values()
    )


def one_side_less(ready: Ready, case: LoadCase, thrust: float = 0.0) -> LaidOut:
    """A balanced state with the left half of the wings carrying only a part of its load."""
    part = asked(case.steps, SHARE, PARTS["other_wing"].value)
    at = balanced(ready, case.lift, cg(case))
    left: Mapping[str, float] = dict.fromkeys(ready.plane.wings, part)
    return flown(ready, case, at, thrust, left=left, notes=(f"left half of the wings at {part:g} of the right",))
