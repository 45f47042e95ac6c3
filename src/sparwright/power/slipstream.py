"""The slipstream by momentum theory: how fast and how wide behind the disc, and which strips lie in it.

Symbols: T thrust, V speed, rho density, A = pi R^2 disc area, v speed added at the disc, x distance behind the disc,
u(x) added speed there, r(x) radius of the slipstream there.

    v = -V/2 + sqrt(V^2/4 + T/(2 rho A)),   far behind u = 2 v
    u(x) = v (1 + x/sqrt(x^2 + R^2)),       r(x) = R sqrt((V + v)/(V + u(x)))

u(x) is the speed on the axis of a straight vortex tube of the disc's radius, taken for the whole slipstream, as for a
lightly loaded disc; r(x) keeps the flow of air. Left out: swirl, the spread of thrust along the blade, mixing at the
edge, the nose of the body in the stream, the wings' wash bending it. So inside it a strip's dynamic pressure is a
mean, with no band from this method alone; what lies nearer to the edge than a tenth of the radius is not sure.
Source: glauert-1926 ch. XV (momentum theory); the tube's axis speed from the law of Biot and Savart, worked out here.
Range: V above nought for ratios; thrust above -rho A V^2/2 (v above -V/2), else NaN: past that the theory has no flow.
The idle propeller's drag is at the end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.air.item import DragItem, item, rows
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band, Source
from sparwright.power.propeller import Blade, PropellerMap

HALVINGS = 60


@dataclass(frozen=True)
class Slipstream:
    """The slipstream of one propeller at one speed and thrust; straight back along the thrust line."""

    station: float = number("m", "station of the disc")
    waterline: float = number("m", "waterline of its middle")
    disc: float = number("m", "radius of the disc")
    speed: float = number("m/s", "flight speed")
    added: float = number("m/s", "speed added at the disc; NaN where the theory does not reach")

    def velocity(self, station: np.ndarray | float) -> np.ndarray:
        """Speed of the air in the slipstream at stations, m/s."""
        x = np.asarray(station, dtype=float) - self.station
        return np.asarray(self.speed + self.added * (1 + x / np.hypot(x, self.disc)))

    def radius(self, station: np.ndarray | float) -> np.ndarray:
        """Radius of the slipstream at stations behind the disc, m; NaN ahead of it."""
        behind = np.asarray(station, dtype=float) >= self.station
        wide = self.disc * np.sqrt((self.speed + self.added) / self.velocity(station))
        return np.where(behind, wide, math.nan)

    def pressure_ratio(self, station: np.ndarray | float) -> np.ndarray:
        """Dynamic pressure in the slipstream over the free stream's; NaN standing still."""
        if not self.speed > 0:
            return np.full(np.shape(station), math.nan)
        return (self.velocity(station) / self.speed) ** 2

    def immersed(self, station: np.ndarray, edges: np.ndarray, waterline: np.ndarray) -> np.ndarray:
        """(m,) part of each strip's width inside the slipstream, right half.

        station, waterline: (m,) of the strips; edges: (m+1,) buttlines of their sides. Strips ahead of the disc: 0.
        """
        return self.covers(station, edges[:-1], edges[1:], waterline)

    def covers(self, station: np.ndarray, inner: np.ndarray, outer: np.ndarray, waterline: np.ndarray) -> np.ndarray:
        """The same of strips that need not lie beside each other: inner, outer (m,) buttlines of their sides."""
        r = np.nan_to_num(self.radius(station)) if math.isfinite(self.added) else np.full(np.shape(station), math.nan)
        reach = np.sqrt(np.clip(r**2 - (waterline - self.waterline) ** 2, 0, None))
        return np.asarray((np.clip(reach, inner, outer) - inner) / (outer - inner))

    def strip_ratio(self, station: np.ndarray, edges: np.ndarray, waterline: np.ndarray) -> np.ndarray:
        """(m,) mean dynamic pressure over each strip, over the free stream's; arguments as `immersed`."""
        part = self.immersed(station, edges, waterline)
        return np.asarray(np.where(part > 0, 1 + part * (self.pressure_ratio(station) - 1), 1 + 0 * part))


def added_speed(thrust: float, speed: float, area: float, density: float) -> float:
    """v at the disc, m/s: thrust N (below nought when the propeller holds back), speed m/s, area m2, density kg/m3.

    v = -V/2 + sqrt(V^2/4 + T/(2 rho A)); NaN below T = -rho A V^2/2.

    >>> round(added_speed(845.1, 30.0, math.pi * 1.5**2 / 4, 1.225), 3)
    5.499
    """
    inside = speed**2 / 4 + thrust / (2 * density * area)
    return -speed / 2 + math.sqrt(inside) if inside >= 0 else math.nan


def slipstream(thrust: float, speed: float, diameter: float, place: tuple[float, float, float],
               density: float) -> Slipstream:  # fmt: skip
    """The slipstream of a propeller of a diameter (m) whose hub is at `place` (m): thrust N, speed m/s, kg/m3."""
    area = math.pi * diameter**2 / 4
    return Slipstream(place[0], place[2], diameter / 2, speed, added_speed(thrust, speed, area, density))


def stopped_drag(blade: Blade) -> DragItem:
    """Drag of a propeller that stands still: D/q = CN B Int c cos(beta) dr over the working radii.

    Each element is a plate at 90 deg less its blade angle to the stream; the force is square to it. Range: blade
    angles below 45 deg, where a plate's force hardly changes with its angle (common practice, no source); NaN past it.
    """
    steep = bool(np.any(blade.angle >= math.pi / 4))
    area = math.nan if steep else blade.blades * float(np.trapezoid(blade.chord * np.cos(blade.angle), blade.r))
    return item(
        "stopped propeller", "stopped_propeller", area, "propeller", "a blade angle is past 45 deg" if steep else ""
    )


def windmilling(chart: PropellerMap) -> tuple[float, float]:
    """(J, D/q in m2) of the propeller spun by the wind with no power on its shaft; NaN when the map has no such J.

    CP(J) = 0, D/q = -CT 2 D^2/J^2. The map's blade elements are past their best there (docs/accuracy.md).
    """
    J = np.asarray(chart.advance)
    power = chart.coefficients(J)[1]
    down = np.flatnonzero((power[:-1] > 0) & (power[1:] <= 0))
    if not len(down):
        return math.nan, math.nan
    low, high = float(J[down[0]]), float(J[down[0] + 1])
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if float(chart.coefficients(middle)[1]) > 0 else (low, middle)
    at = (low + high) / 2
    return at, -float(chart.coefficients(at)[0]) * 2 * chart.diameter**2 / at**2


def idle_drag(blade: Blade, chart: PropellerMap) -> DragItem:
    """Drag of the propeller with the engine idling or stopped, on its disc area: where it lies, not one number.

    An idling engine neither drives nor brakes by a known power, so the band runs between the stopped propeller and
    the propeller spun free by the wind, with no power on the shaft, whichever are least and greatest; the likely
    value is half-way (common practice, no source; no measured idling propeller was read). An engine that brakes the
    turning propeller can hold back more than either; the gap between the two is wide, so a band is all this is.
    """
    stopped = stopped_drag(blade).area
    free = windmilling(chart)[1]
    disc = math.pi * blade.diameter**2 / 4
    ends = (stopped.low, stopped.high, free)
    known = all(map(math.isfinite, ends))
    area = Band((stopped.value + free) / 2, min(ends), max(ends)) if known else UNKNOWN
    told = Band(area.value / disc, area.low / disc, area.high / disc)
    note = f"stopped {stopped.value:.4f} m2, spun free {free:.4f} m2"
    where = Source("glauert-1935", "blade elements spun free; stopped blades as plates", "common practice")
    reach = rows()["stopped_propeller"]["reach"]
    return DragItem("idle propeller", area, where, note, told, disc, "disc area", "propeller", reach)
