"""How elevator, rudder and ailerons are balanced about their hinge lines, with a band for paint.

    M = sum m n + w sum A n_A      m each part that turns, n how far aft of the hinge line its centre lies;
                                   w paint on one side of a covering, A its area, n_A its centre

level with the hinge line, tail heavy positive; of a pair of ailerons the right one. Bands of the parts and of the paint
are taken as independent (jcgm-100 5.1.2). How much a surface may be tail heavy is not said here. Source: statics.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.family.aileron import Paint
from sparwright.family.model import Model
from sparwright.mass.weigh import sum_band
from sparwright.parts.part import Assembly, Part, Skin
from sparwright.parts.travel import Turning, movable
from sparwright.shape.frame import ON_CENTRE

METHOD = "statics: moment of each part about the hinge line; jcgm-100 5.1.2 (bands as root of squares)"
MOST = 12  # parts told one by one, the weightiest; the rest together


@dataclass(frozen=True)
class Arm:
    """What one part adds."""

    part: str
    mass: float = number("kg", "mass of all of it that turns")
    aft: float = number("m", "how far aft of the hinge line its centre lies")
    band: float = number("1", "give or take, fraction of the mass")
    area: float = number("m2", "painted area; nought for what is not covering")

    @property
    def moment(self) -> Band:
        """m n, kg m."""
        return Band.relative(self.mass * self.aft, self.band)


def arms(t: Turning, parts: Sequence[Part]) -> tuple[Arm, ...]:
    """Each part that turns with a surface."""
    aft = np.array([1.0, 0.0, 0.0]) - t.along[0] * t.along
    aft = aft / np.linalg.norm(aft)
    found = []
    for p in parts:
        if not p.number.startswith(t.start):
            continue
        share = [(place, 1.0 if y > ON_CENTRE or not t.right else 0.5) for place in p.places
                 for y in (place[1],) if not t.right or y > -ON_CENTRE]  # fmt: skip
        count = sum(s for _, s in share)
        if not count:
            continue
        n = sum(s * float((np.array(place) - t.place) @ aft) for place, s in share) / count
        skin = p.shape if isinstance(p.shape, Skin) and p.purpose == "skin" else None
        found.append(Arm(p.number, p.mass * count, n, p.band, skin.length * skin.width * count if skin else 0.0))
    return tuple(found)


def balance_of(found: Sequence[Arm], paint: Paint | None) -> tuple[Band, Band]:
    """(moment of the parts, moment of the paint), kg m, tail heavy positive."""
    painted = sum(a.area * a.aft for a in found)
    ends = sorted((paint.low * painted, paint.high * painted)) if paint else (0.0, 0.0)
    return sum_band(_up(a.moment) for a in found), Band(paint.areal * painted if paint else 0.0, *ends)


def _up(b: Band) -> Band:
    """With its ends in order: what lies ahead of the hinge line has a negative moment."""
    return Band(b.value, min(b.low, b.high), max(b.low, b.high))


def hinge_results(model: Model, assembly: Assembly) -> Iterator[Result]:
    """Moment of each movable surface that is drawn, about its hinge line."""
    for t in movable(model):
        found = arms(t, assembly.parts)
        parts, paint = balance_of(found, model.paint)
        whole = sum_band((parts, paint))
        said = "" if model.paint else "without paint: the file has no [paint]"
        rivets = "" if t.right else "rivets are counted with the fixed part"
        title = f"moment of the {t.said} about its hinge line, tail heavy positive"
        yield Result(
            f"mass.hinge.{t.name.replace(' ', '.')}", title,
            whole.value, "kg m", whole.low, whole.high, METHOD, "; ".join(x for x in (said, rivets) if x),
            (*_steps(found), *_balanced(assembly, found),
             Step("paint", "w sum A n", (("low", paint.low, "kg m"), ("high", paint.high, "kg m"),
             ("area", sum(a.area for a in found), "m2")), paint.value, "kg m", "the file's [paint]"),
             Step("together", "sum m n + paint", (("parts", parts.value, "kg m"), ("paint", paint.value, "kg m"),
             ("mass", sum(a.mass for a in found), "kg")), whole.value, "kg m", METHOD)),
        )  # fmt: skip


def _steps(found: Sequence[Arm]) -> Iterator[Step]:
    ranked = sorted(found, key=lambda a: -abs(a.mass * a.aft))
    for a in ranked[:MOST]:
        yield Step(a.part, "m n", (("m", a.mass, "kg"), ("n", a.aft, "m")), a.mass * a.aft, "kg m")
    rest = ranked[MOST:]
    if rest:
        yield Step(f"{len(rest)} more", "sum m n", (("m", sum(a.mass for a in rest), "kg"),),
                   sum(a.mass * a.aft for a in rest), "kg m")  # fmt: skip


def _balanced(assembly: Assembly, found: Sequence[Arm]) -> Iterator[Step]:
    """What weights ahead of the hinge, with their arms and bolts, take off the rest's moment; nothing without any."""
    weights = {p.number for p in assembly.parts if p.purpose == "balance"}
    off = sum(a.moment.value for a in found if a.part in weights)
    rest = sum(a.moment.value for a in found if a.part not in weights)
    if off and rest:
        given = (("weights", off, "kg m"), ("rest", rest, "kg m"))
        yield Step("part that the balance weights take off", "-sum m n of weights/sum m n of the rest", given,
                   -off / rest, "1", METHOD)  # fmt: skip
