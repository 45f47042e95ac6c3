"""Drag of struts, tubes and wires in the wind: round or streamlined, leaning, one behind the other.

Symbols: V speed, q = rho V^2/2, l length, d width across the wind, a angle between axis and wind (90 deg is square),
CD drag coefficient of the same thing square to the wind, on l d.

    round:        D/q = (CD(Re) sin^3 a + f cos^3 a) l d,   Re = V sin a d/nu
    streamlined:  D/q = CD (s + (1 - s) sin^3 a) l d

The flow across a long leaning body does not know of the flow along it, so the force square to the axis goes with
sin^2 a and its part along the wind with sin^3 a; f is the friction of the flow along it. A streamlined strut drags by
friction too, which leaning hardly eases: s is that part. The wind is taken along the thrust line.
Source: naca-tr-884 (flow across and along; memory), hoerner-drag (sin^3 rule, memory); naca-tn-84 (CD of the round).
Range: 30 to 90 deg to the wind. Nearer to it the likely value follows the rule and the high end is taken square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.air.item import DragItem, coefficient, item, rows
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.data import files
from sparwright.family.model import Place

Shape = Literal["round", "streamline", "wire"]
STEEPEST = 0.5  # sine of 30 deg: as far as the rule for leaning is meant to go
FAR = 50.0  # of CD d: nearer behind another than this its wake is not known (schlichting-bl, memory)


@dataclass(frozen=True)
class StrutForDrag:
    """A strut, tube or wire in the wind, both sides counted in `count`."""

    name: str
    length: float = number("m", "end to end")
    width: float = number("m", "across the wind: diameter, or faired width")
    shape: Shape = "round"
    count: int = 1
    ends: tuple[Place, Place] | None = None  # of the right-hand one, m; None for square to the wind
    on_wings: int = 0  # how many of its two ends stand on a wing or a tail surface

    @property
    def across(self) -> float:
        """Sine of the angle between its axis and the thrust line; 1 when its ends are not given."""
        if self.ends is None or not self.length > 0:
            return 1.0
        a, b = self.ends
        return math.hypot(b[1] - a[1], b[2] - a[2]) / math.dist(a, b)


def strut(thing: StrutForDrag, air: Air, speed: float, group: str = "bracing") -> DragItem:
    """A strut, tube or wire in the wind at a speed (m/s); formulas at the head of this file.

    NaN with a note where the cylinder table does not reach.
    """
    area = thing.length * thing.width * thing.count
    lean = thing.across
    note = f"{area:.4f} m2, {math.degrees(math.asin(min(lean, 1.0))):.0f} deg to the wind"
    if thing.shape == "streamline":
        return item(thing.name, "streamline", area, group, note, _streamlined(lean))
    reynolds = speed * lean * thing.width / air.kinematic
    band = _round(reynolds, lean, thing.shape == "wire")
    note = f"{note}, Re {reynolds:,.0f}" + ("" if math.isfinite(band.value) else ": outside the table")
    return item(thing.name, "cylinder", area, group, note, band)


def _streamlined(lean: float) -> Band:
    """Coefficient on length x width of a streamlined strut at a sine to the wind."""
    square, friction = coefficient("streamline"), coefficient("streamline_friction")

    def eased(part: float) -> float:
        return part + (1 - part) * lean**3

    return Band(*(getattr(square, end) * eased(getattr(friction, end)) for end in ("value", "low", "high")))


def _round(reynolds: float, lean: float, cable: bool) -> Band:
    """Coefficient on length x diameter of a round tube or a cable at a sine to the wind."""
    row, along = rows()["cylinder"], coefficient("leaning")
    drag, rough = cylinder_drag(reynolds), row["cable"] if cable else 1.0
    cosine = max(1 - lean**2, 0.0) ** 1.5
    square = Band(drag * (1 + rough) / 2, drag * (1 - row["band"]), drag * rough * (1 + row["band"]))
    high = square.high * (lean**3 if lean >= STEEPEST else 1.0)
    return Band(square.value * lean**3 + along.value * cosine, square.low * lean**3 + along.low * cosine,
                high + along.high * cosine)  # fmt: skip


def cylinder_drag(reynolds: float) -> float:
    """Drag coefficient of an endless round cylinder on its frontal area, straight in log Re; NaN outside.

    Range: Re 892 to 810,000. Source: naca-tn-84.

    >>> round(cylinder_drag(30300.0), 2)
    1.16
    """
    at, drag = _cylinder()
    if not at[0] <= reynolds <= at[-1]:
        return math.nan
    return float(np.interp(math.log(reynolds), np.log(at), drag))


@lru_cache(maxsize=1)
def _cylinder() -> tuple[np.ndarray, np.ndarray]:
    table = files.rows("cylinder.csv")
    return np.array([float(r["reynolds"]) for r in table]), np.array([float(r["drag"]) for r in table])


def wake_of(drag: float, width: float, behind: float, off: float) -> float:
    """Dynamic pressure left (1 for all of it) in the wake of a long bluff body, square to the wind.

    u1/U = 0.976 sqrt(CD d/x) (1 - (y/b)^1.5)^2, b = 0.569 sqrt(CD d x); left = (1 - u1/U)^2.

    drag: CD on width d (m). behind: x, m. off: y, m, distance from the middle of the wake. NaN nearer than 50 CD d.
    Source: schlichting-bl, free turbulence, wake by the mixing length (memory).

    >>> round(wake_of(1.2, 0.004, 0.5, 0.0), 3)
    0.818
    """
    size = drag * width
    if not behind >= FAR * size:
        return math.nan
    b = 0.569 * math.sqrt(size * behind)
    loss = 0.976 * math.sqrt(size / behind) * max(1 - (abs(off) / b) ** 1.5, 0.0) ** 2 if abs(off) < b else 0.0
    return (1 - loss) ** 2


def sheltered(things: Sequence[StrutForDrag], items: Sequence[DragItem]) -> list[DragItem]:
    """The items of `things`, in their order, with the low end eased of each that stands behind another.

    Value and high end stay as alone: at another angle of attack, or in a sideslip, none stands behind another.
    Each is eased by the one that shelters it most, over its whole length; two whose ends are further apart across
    the wind than the wake is wide do not meet. Nearer behind than 50 CD d the low end is nought. Source: see `wake_of`.
    """
    return [_eased(thing, of, things, items) for thing, of in zip(things, items, strict=True)]


def _eased(rear: StrutForDrag, of: DragItem, things: Sequence[StrutForDrag], items: Sequence[DragItem]) -> DragItem:
    left, front = min(((_left(a, i, rear), a.name) for a, i in zip(things, items, strict=True)), default=(1.0, ""))
    if not left < 1 or not of.area.known:
        return of
    c, a = of.coefficient, of.area
    note = f"{of.note}; low end {left:.2f} of its own, behind {front}"
    return replace(
        of, note=note, coefficient=Band(c.value, c.low * left, c.high), area=Band(a.value, a.low * left, a.high)
    )


def _left(front: StrutForDrag, of: DragItem, rear: StrutForDrag) -> float:
    """The least dynamic pressure a strut keeps behind another: the mean of its two ends; 1 where it is clear."""
    if front is rear or front.ends is None or rear.ends is None or not of.area.known:
        return 1.0
    drag, found = of.coefficient.value, []
    for a, b in zip(sorted(front.ends, key=_up), sorted(rear.ends, key=_up), strict=True):
        behind, off = b[0] - a[0], math.hypot(b[1] - a[1], b[2] - a[2])
        if behind <= 0 or off > front.width + 0.569 * math.sqrt(drag * front.width * behind):
            return 1.0
        at = wake_of(drag, front.width, behind, off)
        found.append(at if math.isfinite(at) else 0.0)
    return sum(found) / 2


def _up(place: Place) -> tuple[float, float]:
    return (place[2], place[1])
