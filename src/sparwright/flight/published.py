"""Bands of top speed and climb no narrower than published aeroplanes missed what was foretold of them.

All eight stayed below the likely top speed, and both whose climb is printed below the likely climb: so the low end is
the lesser of the band's own and the least share that was seen. The likely value and the high end stay. It holds what
the build-up leaves out and what their reports leave unsaid, which cannot be told apart
(docs/decisions/whole-aeroplanes.md). The stalls that could be compared lay in their bands: nothing is added to those.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sparwright.base.check import Step
from sparwright.base.source import Band
from sparwright.data.whole import WHOLE
from sparwright.flight.heights import Climbs

NOTE = "low end: no narrower than published aeroplanes missed (docs/decisions/whole-aeroplanes.md)"


def as_seen(band: Band, what: str) -> Band:
    """A band of "top" or "climb" with its low end no higher than the share of the likely value that was seen.

    A likely value of nought or below, or an unknown band, stays as it is.

    >>> as_seen(Band(40.0, 33.0, 45.0), "top").low
    29.2
    >>> as_seen(Band(40.0, 25.0, 45.0), "top").low
    25.0
    """
    if not band.known or band.value <= 0:
        return band
    return Band(band.value, min(band.low, WHOLE[what].value * band.value), band.high)


def climbs_as_seen(found: Climbs) -> Climbs:
    """The same at every height and for the steepest; ceilings and times follow from these rates."""
    rates = tuple(as_seen(rate, "climb") for rate in found.rates)
    return replace(found, rates=rates, steepest=as_seen(found.steepest, "climb"))


def low_end(band: Band, what: str) -> tuple[Step, ...]:
    """The working of the low end; none where the band is not known."""
    seen = as_seen(band, what)
    if not math.isfinite(seen.low):
        return ()
    row = WHOLE[what]
    given = (("own low end", band.low, "m/s"), ("f", row.value, "1"), ("likely", band.value, "m/s"))
    return (
        Step("low end", "the lesser of its own and f times the likely value", given, seen.low, "m/s", str(row.source)),
    )
