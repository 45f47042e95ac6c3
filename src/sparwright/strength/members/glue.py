"""Lines of glue between wood and ply: shear flow over the glued width, and what the wood beside the glue bears.

    tau = q/(faces w)        F_g = share F_s        use = tau/F_g

q ultimate shear flow, w glued width of one face, F_s shear of the weaker wood along its grain, share by the angle
between its grain and the load: 1 along, 2/3 at 45 degrees (from memory, medium), 1/3 across (fpl-report-1522, read).
Wood, not glue, is taken as the weaker: true of sound structural glue, cold and dry. A line that is pulled open (peel)
is not a joint: its use is infinite. Other angles were tested, but the curve could not be read: NaN.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.data.wood import glue_share
from sparwright.strength.members.wood_margin import Floats, margin_step

ANGLES = (0.0, 45.0, 90.0)  # degrees, that a share is on file for


def share(angle: float) -> float:
    """Part of the shear along the grain that a joint has, grain of one face at `angle` degrees; NaN between.

    >>> share(90.0), share(30.0)
    (0.3333333333333333, nan)
    """
    return glue_share(angle)[0] if angle in ANGLES else float("nan")


def use(flow: Floats, width: Floats, shear: Floats, angle: float, faces: int = 1, peel: Floats = 0.0) -> np.ndarray:
    """q/(faces w share F_s); flow N/m, width m, shear Pa, angle degrees; peel: N/m that pulls the line open.

    >>> round(float(use(19878.8, 0.01905, 5.171e6, 90.0, faces=2)), 3)
    0.303
    """
    tau = np.abs(np.asarray(flow, dtype=float)) / (faces * np.asarray(width))
    return np.asarray(np.where(np.asarray(peel) > 0, np.inf, tau / (share(angle) * np.asarray(shear))))


def area_use(force: Floats, area: Floats, shear: Floats, angle: float, peel: Floats = 0.0) -> np.ndarray:
    """F/(A share F_s): a block, gusset or splice; force N in the plane of the glue, area m2 of all its faces."""
    return use(force, area, shear, angle, 1, peel)


def working(flow: float, width: float, shear: float, angle: float, faces: int = 1, peel: float = 0.0
            ) -> tuple[Step, ...]:  # fmt: skip
    """The lines of a glued joint, cap to web."""
    part = share(angle)
    source = str(glue_share(angle)[1]) if angle in ANGLES else "no share on file for this angle: unknown"
    found = float(use(flow, width, shear, angle, faces, peel))
    given = (("q", flow, "N/m"), ("w", width, "m"), ("faces", faces, "1"), ("peel", peel, "N/m"))
    return (
        Step("glue stress", "q/(faces w)", given, abs(flow) / (faces * width), "Pa", "common practice: statics"),
        Step("glue strength", "share F_s", (("share", part, "1"), ("F_s", shear, "Pa")), part * shear, "Pa", source),
        Step("use", "tau/(share F_s); infinite where it peels", given, found, "1", "common practice: statics"),
        margin_step(found),
    )
