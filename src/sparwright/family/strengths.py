"""What strengths rest on: the designer's own coupons, the edition he works by, what he has read, his knock-downs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import words

Joint = Literal["none", "glue", "rivet", "bolt", "lug", "weld", "wood"]


@dataclass(frozen=True, kw_only=True)
class CouponSeries:
    """Coupons of one batch broken in one way in one condition: of a material, or of a joint."""

    material: str = words("key of the material; left out where a joint was tested", "")
    joint: Joint = words("kind of joint that was tested; wood: a bolt or bush bearing in wood", "none")
    of: tuple[str, ...] = words("materials the joint is of, by key", ())
    fastener: str = words("bolt or rivet of the joint", "")
    property: str = words("what was measured: tension, compression, shear, bearing, youngs, shear_modulus ...")
    grain: float = number("rad", "angle of the load to the grain, face grain or warp", 0.0)
    thickness: float | None = number("m", "thickness of the coupons; left out: holds for any", None)
    results: tuple[float, ...] = number("Pa", "what each coupon came to, as a stress or a modulus", ())
    forces: tuple[float, ...] = number("N", "what each coupon came to, as a force on one fastener or joint", ())
    temperature: float = number("K", "temperature they were tested at")
    moisture: float | None = number("1", "water in them, part of the dry mass", None)
    conditioning: str = words("how they were kept before the test", "")
    when: str = number("", "the day: year-month-day")
    who: str = number("", "who tested them")
    batch: str = words("sheet, plank, lay-up or box they are of; the scatter between batches is seen by several")
    mark: str = words("how the results were had: measured, or invented for a demonstration", "measured")
    basis: Literal["A", "B", "mean"] = words(
        "what is made of them: A (99 of 100 pieces are stronger), B (90 of 100), mean (for a modulus)", "A"
    )
    use: bool = words("whether it is taken in place of what is printed", False)


@dataclass(frozen=True, kw_only=True)
class EditionChoice:
    """Which of several editions of a material's values the designer works by; the lower of them until he says."""

    material: str = words("key of the material")
    edition: str = words("the edition, as the list of allowables tells it")
    reason: str = words("why", "")


@dataclass(frozen=True, kw_only=True)
class KnockDown:
    """What heat or moisture takes off a material, by the designer's source; nothing at 294 K (21 C)."""

    material: str = words("key of the material")
    values: tuple[str, ...] = words("which of its values")
    temperature: float | None = number("K", "temperature it holds for, in a straight line from 294 K", None)
    moisture: float | None = number("1", "water by dry mass it holds for, and always taken", None)
    factor: float = number("1", "what is left, part of the printed value")
    source: str = words("where the factor is from")


@dataclass(frozen=True, kw_only=True)
class ConfirmedValues:
    """Values of a material, fastener or cable that were recalled here, and that the designer has read himself."""

    material: str = words("key of the material", "")
    fastener: str = words("or of the bolt or rivet", "")
    cable: str = words("or construction of the cable: 1x19", "")
    diameter: float | None = number("m", "diameter of the cable", None)
    values: tuple[str, ...] = words("which values he found as they are told here; of a cable carbon or stainless")
    edition: str = words("edition of the material's values that he read; left out: all", "")
    who: str = number("", "who read it")
    when: str = number("", "the day: year-month-day")
    read: str = number("", "what was read and where; printed as evidence")

    @property
    def said(self) -> str:
        """The evidence in one line."""
        return f"read by {self.who}, {self.when}: {self.read}"


@dataclass(frozen=True, kw_only=True)
class Strengths:
    """What strengths rest on besides the values on file."""

    coupons: tuple[CouponSeries, ...] = words("coupons that were broken", ())
    editions: tuple[EditionChoice, ...] = words("editions worked by", ())
    knock_downs: tuple[KnockDown, ...] = words("what heat and moisture take off", ())
    confirmed: tuple[ConfirmedValues, ...] = words("values from memory that you have read yourself", ())


RECORDS = (Strengths, CouponSeries, EditionChoice, KnockDown, ConfirmedValues)
LEAST = 5  # results of a series: fewer say too little of the scatter (custom of test methods; memory, high)


def alike(series: CouponSeries) -> tuple[object, ...]:
    """What makes series one and the same test, whatever the batch: what, property, direction, thickness, condition."""
    return (series.material, series.joint, tuple(sorted(series.of)), series.fastener, series.property,
            round(series.grain, 4), None if series.thickness is None else round(series.thickness, 6),
            round(series.temperature, 1), series.moisture)  # fmt: skip
