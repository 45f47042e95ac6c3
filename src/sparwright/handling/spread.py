"""How what is not sure of a hinge moment spreads to a number made of it.

Each is moved to its ends alone, the others at their values; what that does is taken as independent and goes together as
root of squares, up and down by themselves (jcgm-100 5.1.2).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.hinge import RATIO, TOGETHER
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.handling.flap import Real


@dataclass(frozen=True)
class Sure:
    """What a number is worked out with."""

    real: Real
    effect: float = number("1", "f: of the lattice's effect that a real flap gives", EFFECTIVE.value)
    weight: float = number("N m", "the surface's own weight moment, tail heavy", 0.0)


Number = Callable[[Sure], float]


def spread(of: Number, real: Real, weight: Band | None = None, besides: Sequence[tuple[Number, Number]] = ()) -> Band:
    """of(Sure) with its band. Unknown where any of it is.

    besides: what else is not sure, each as the number worked out with its low and with its high end.
    """
    w = weight or Band.exact(0.0)
    base = Sure(real, EFFECTIVE.value, w.value)
    ends = (
        [replace(base, real=real.ends(together=x)) for x in (TOGETHER.low, TOGETHER.high)],
        [replace(base, real=real.ends(ratio=x)) for x in (RATIO.low, RATIO.high)],
        [replace(base, effect=x) for x in (EFFECTIVE.low, EFFECTIVE.high)],
        [replace(base, weight=x) for x in (w.low, w.high)],
    )
    value = float(of(base))
    off = [[float(of(s)) - value for s in pair] for pair in ends]
    off += [[float(f(base)) - value for f in pair] for pair in besides]
    if not all(math.isfinite(x) for x in (value, *(d for pair in off for d in pair))):
        return Band(value, math.nan, math.nan) if math.isfinite(value) else UNKNOWN
    low, high = (math.sqrt(sum(max(sign * d, 0.0) ** 2 for pair in off for d in [max(pair, key=lambda x: sign * x)]))
                 for sign in (-1.0, 1.0))  # fmt: skip
    return Band(value, value - low, value + high)
