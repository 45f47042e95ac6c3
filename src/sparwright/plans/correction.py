"""What one printer does to a sheet, out of four lengths measured on a print; the sheet drawn so that it comes out true.

A printer or copier errs along and across by different shares and out of square; moving and turning do no harm. So a
print is the drawing times a matrix, with A-B lying along x (plane geometry, no source needed):

    printed = M drawn,   M = | AB/w   (AD/h) cos t |      cos t = (AC^2 - BD^2) / (4 AB AD)
                             |  0     (AD/h) sin t |

w, h     sides A-B and A-D as drawn, m          AB, AD, AC, BD   the same sides and the diagonals as measured, m
t        angle of the printed corner A, rad     skew             pi/2 - t: positive when D leans towards B
closure  sqrt((AC^2 + BD^2) / 2) - sqrt(AB^2 + AD^2), m: nought in any parallelogram. Four lengths give three numbers,
         so the fourth tells whether they were read right.

The method takes for granted that the error is the same all over the sheet. A print that slips half way is not; the
templates' own master lengths find that.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.plans.drawing import Area, Circle, Dimension, Line, Point, Polyline, Stroke, Text, arc, changed

Matrix = tuple[tuple[float, float], tuple[float, float]]

MOST_SCALE = 0.01  # half a per cent of a machine and half a per cent of damp; "fit to page" is from 1.1 per cent up
MOST_SKEW = math.radians(0.5)  # more than that is paper fed askew or creased, and not the same all over the sheet
CLOSES = 0.001  # of the diagonal: four readings to half a millimetre on a large sheet, to a tenth on a page
ALIKE = 0.002  # both directions off by as much within this: scaled, not stretched
LEAST = 0.0005  # a rule reads no better: half a millimetre in a metre


@dataclass(frozen=True)
class Measured:
    """Four lengths measured on one print, and where and when."""

    on: str  # what was measured, in words: "24 × 36 in sheet"
    printer: str
    date: str  # as given; nobody here reads a clock
    width: float = number("m", "A-B as drawn")
    height: float = number("m", "A-D as drawn")
    ab: float = number("m", "A-B as printed")
    ad: float = number("m", "A-D as printed")
    ac: float = number("m", "diagonal A-C as printed")
    bd: float = number("m", "diagonal B-D as printed")

    @property
    def rows(self) -> tuple[tuple[str, float, float], ...]:
        """(name, as drawn, as printed) of the four lengths, m."""
        diagonal = math.hypot(self.width, self.height)
        return (("A–B", self.width, self.ab), ("A–D", self.height, self.ad),
                ("A–C", diagonal, self.ac), ("B–D", diagonal, self.bd))  # fmt: skip


@dataclass(frozen=True)
class Correction:
    """The error of one printer and what undoes it."""

    measured: Measured
    inverse: Matrix  # drawn = inverse * wanted, about any one point
    along: float = number("1", "error along A-B, as a part of it")
    across: float = number("1", "error along A-D, as a part of it")
    skew: float = number("rad", "how far the corner A is under a right angle")
    closure: float = number("m", "what the diagonals are too long for the sides")

    @property
    def small(self) -> bool:
        """Whether the error is less than a rule can tell."""
        return max(abs(self.along), abs(self.across), abs(self.skew)) < LEAST


def correction(measured: Measured) -> Correction:
    """The correction for the printer that made this print.

    Raises DesignProblem, with a sentence for the builder, for lengths that contradict each other and for an error too
    large to be paper: more than MOST_SCALE in either direction or MOST_SKEW out of square.

    >>> print1 = Measured("sheet", "p", "2026-05-04", 0.8763, 0.5715, 0.8772, 0.5710, 1.0464, 1.0469)
    >>> c = correction(print1)
    >>> round(100 * c.along, 2), round(100 * c.across, 2), round(math.degrees(c.skew), 3)
    (0.1, -0.09, -0.03)
    """
    m = measured
    if not all(math.isfinite(v) and v > 0 for _, _, v in m.rows):
        raise DesignProblem("a length measured on paper is more than nought")
    along, across = m.ab / m.width - 1, m.ad / m.height - 1
    _refuse_scale(m, along, across)
    cosine = (m.ac**2 - m.bd**2) / (4 * m.ab * m.ad)
    closure = math.sqrt((m.ac**2 + m.bd**2) / 2) - math.hypot(m.ab, m.ad)
    _refuse_closure(m, closure)
    _refuse_skew(m, cosine)
    sine = math.sqrt(1 - cosine**2)
    a, b, d = 1 + along, (1 + across) * cosine, (1 + across) * sine
    inverse = ((1 / a, -b / (a * d)), (0.0, 1 / d))
    return Correction(m, inverse, along, across, math.asin(cosine), closure)


def _refuse_scale(m: Measured, along: float, across: float) -> None:
    if max(abs(along), abs(across)) <= MOST_SCALE:
        return
    said = f"A–B is {_percent(along)} and A–D {_percent(across)} off"
    if abs(along - across) <= ALIKE:
        raise DesignProblem(f"{said}, both alike: that is a print scaled to fit its page, not an error of paper; print "
                            "again at 100 % (actual size) and measure that print")  # fmt: skip
    raise DesignProblem(
        f"{said}; more than {100 * MOST_SCALE:.0f} % is no error of paper (machine and damp make up to half a per cent "
        "each): measure again, or print again at 100 % on another machine"
    )


def _refuse_closure(m: Measured, closure: float) -> None:
    most = CLOSES * math.hypot(m.width, m.height)
    if abs(closure) > most:
        side = "longer" if closure > 0 else "shorter"
        raise DesignProblem(
            f"the four lengths do not agree: the diagonals are {1000 * abs(closure):.1f} mm {side} than the sides "
            f"allow ({1000 * most:.1f} mm would pass); one of them was read or written wrong, measure all four again"
        )


def _refuse_skew(m: Measured, cosine: float) -> None:
    if abs(cosine) > math.sin(MOST_SKEW):
        turned = math.degrees(math.asin(min(abs(cosine), 1.0)))
        raise DesignProblem(
            f"the diagonals differ by {1000 * abs(m.ac - m.bd):.1f} mm: that is {turned:.2f}° out of square, more than "
            f"{math.degrees(MOST_SKEW):.1f}°; paper fed askew or creased does not err alike all over and cannot be "
            "corrected: print again"
        )


def _percent(share: float) -> str:
    return f"{100 * share:+.2f} %".replace("-", "−")


def said(c: Correction) -> str:
    """The error in words."""
    angle = f"{math.degrees(math.pi / 2 - c.skew):.2f}°"
    words = f"along A–B {_percent(c.along)}, along A–D {_percent(c.across)}, corner A {angle}"
    return f"{words} (less than a rule can tell)" if c.small else words


def corrected_point(p: Point, inverse: Matrix, about: Point) -> Point:
    """Where a point is drawn so that it is printed where it belongs; `about` stays, mm."""
    x, y = p[0] - about[0], p[1] - about[1]
    (a, b), (c, d) = inverse
    return about[0] + a * x + b * y, about[1] + c * x + d * y


def corrected(strokes: Iterable[Stroke], inverse: Matrix, about: Point) -> tuple[Stroke, ...]:
    """The strokes, each point where it is printed true. Lettering is moved but not stretched."""
    return tuple(_corrected(s, inverse, about) for s in strokes)


def _corrected(s: Stroke, inverse: Matrix, about: Point) -> Stroke:
    match s:
        case Polyline() | Area():
            return replace(s, points=tuple(corrected_point(p, inverse, about) for p in s.points))
        case Line():
            return replace(s, start=corrected_point(s.start, inverse, about),
                           end=corrected_point(s.end, inverse, about))  # fmt: skip
        case Circle():
            points = arc(s.centre, s.radius, 0.0, math.tau)[:-1]
            oval = tuple(corrected_point(p, inverse, about) for p in points)
            return Polyline(oval, s.layer, closed=True, weight=s.weight, dash=s.dash)
        case Text():
            return replace(s, anchor=corrected_point(s.anchor, inverse, about))
        case Dimension():
            return changed(s, lambda p: corrected_point(p, inverse, about), lambda x: _corrected(x, inverse, about))
