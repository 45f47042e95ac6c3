"""Which wires carry nothing in level flight, so that the frame that shakes is the frame that flies.

The aeroplane at its greatest mass in level flight at VC, power off: its air's forces and inertia on the held frame, in
first order with wires that go slack (maths/frame/wires.py).
"""

from __future__ import annotations

import numpy as np

from sparwright.flight.work import Flown
from sparwright.loads.diagram import Envelope
from sparwright.loads.lay import laid_out
from sparwright.loads.ready import Ready
from sparwright.loads.symmetrical import flown_case
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import laid
from sparwright.structure.masses import Carriers, Lumps

LOADING = "max_forward"


def level_slack(flown: Flown, envelope: Envelope, skeleton: Skeleton, carriers: Carriers, lumps: Lumps
                ) -> np.ndarray:  # fmt: skip
    """(m,) bool of the bars: wires that are slack in level flight. ValueError where that flight is not known."""
    if not skeleton.frame.wire.any():
        return np.zeros(len(skeleton.bars), dtype=bool)
    bound, speed = envelope.bounds[LOADING], envelope.speed("C")
    case = flown_case(envelope, bound, "level", "level flight at VC", "manoeuvre", speed, 1.0, keys=())
    on = laid_out(case, Ready(flown.plane, flown.air))
    found = laid(skeleton, carriers, lumps, case, on.pushes)
    if found.why:
        raise ValueError(f"level flight: {found.why}")
    solved = solve(prepare(skeleton.frame), found.loads[None], second_order=False)
    if not solved.good[0]:
        raise ValueError(f"level flight: {solved.why[0]}")
    return np.asarray(solved.slack[0])
