"""Rolling cases: ailerons turned at two thirds of the limit load factor, and condition A with less on one wing.

    VA   full aileron           VC   aileron for the same rate of roll         VD   for a third of it
    helix angle p b/2V goes with the aileron's angle, so d = dA VA/VC and dA VA/(3 VD)

Range: the aileron's effect as at its full travel; it is greater at small angles, so the angles at VC and VD are on the
safe side. deflection["aileron"]: mean angle of both sides, right trailing edge up, rolls to the right; the wing's twist
in the wind is not in it. Sources: cs-vla 349, 455 and 14 CFR 23.349, 23.455; marks in data/loads.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.flight.lateral import full_aileron
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.diagram import Envelope
from sparwright.loads.symmetrical import flown_case

SHARE = "load of the other wing"
TWIST = "moment coefficient added over the ailerons' span, for each degree down"
NO_AILERON = "no wing has ailerons: the angle is not known"


def rolling_cases(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """At the greatest mass; none where there is no envelope."""
    if e.why:
        return
    bound, full, n = e.bounds["max_forward"], full_aileron(flown), e.code["roll_part"] * e.positive
    va = e.speed("A")
    part = e.code.step("load factor", "2 n1/3", (("n1", e.positive, "1"),), n, "1", "roll_part")
    twist = e.code.printed(TWIST, "roll_twist", "1/deg")
    for key in "ACD":
        speed, third = e.speed(key), e.code["roll_dive"] if key == "D" else 1.0
        angle = full * min(1.0, va / speed * third)
        given = (("dA", full, "rad"), ("VA", va, "m/s"), ("V", speed, "m/s"), ("part of the rate", third, "1"))
        turned = e.code.step("aileron", "dA (VA/V) part", given, angle, "rad", "roll_dive")
        keys = (*e.speeds[key].given, "roll_part", *(("roll_dive",) if key == "D" else ()))
        yield flown_case(
            e,
            bound,
            f"roll.{key}",
            f"ailerons turned at V{key}, rolls to the right",
            "roll",
            speed,
            n,
            keys=keys,
            steps=(part, turned, twist),
            deflection={"aileron": angle},
            caveat="" if math.isfinite(full) else NO_AILERON,
        )
    other = e.code.printed(SHARE, "roll_other", "1", how="part of the wing's load in condition A")
    yield flown_case(
        e,
        bound,
        "roll.unsymmetrical",
        "condition A with less on the left wing",
        "roll",
        bound.top,
        e.positive,
        keys=("manoeuvring", "positive", "roll_other"),
        steps=(other,),
    )
