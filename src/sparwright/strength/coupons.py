"""The designer's own tests: what a series of coupons is worth, and what heat or moisture takes off it.

Series of one test in one condition are put together, whatever their batch. The value is a lower limit: with 95 %
confidence 99 (A) or 90 (B) of 100 further pieces are stronger; for a modulus the mean.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.family.strengths import LEAST, CouponSeries, alike
from sparwright.maths import tolerance

REFUSED = 0.05  # chance under which normal scatter is refused, MIL-HDBK-17 section 8.3 (memory, high)
WANTED = {"A": 55, "B": 18, "mean": 6}  # results public databases ask for, of 5 and 3 batches: cmh-17-1g (memory, high)
SOURCE = "mil-hdbk-17"
NEAR = 0.1  # coupons hold for a thickness within a tenth of theirs
ANGLE = math.radians(2)


@dataclass(frozen=True, kw_only=True)
class Basis:
    """What the coupons of one test in one condition come to."""

    series: tuple[CouponSeries, ...]
    unit: str
    basis: str  # A, B or mean
    results: tuple[float, ...] = number("SI", "all results, in `unit`, rising")
    mean: float = number("SI", "their mean")
    deviation: float = number("SI", "their standard deviation")
    variation: float = number("1", "standard deviation over mean")
    normal: float = number("1", "chance of looking so far from normal scatter; under 0.05 it is refused")
    factor: float = number("1", "standard deviations between mean and value")
    value: float = number("SI", "what may be counted on; NaN where the results do not say")
    outstanding: tuple[float, ...] = number("SI", "results that stand out; flagged, kept")
    batches: int = number("1", "sheets, lay-ups or boxes they are of")
    missing: int = number("1", "results still wanted for public databases' own basis")
    open: str = ""  # why the value decides nothing
    note: str = ""

    @property
    def invented(self) -> bool:
        """Whether any of it is made up for a demonstration."""
        return any(s.mark == "invented" for s in self.series)


def basis_of(series: Sequence[CouponSeries]) -> Basis:
    """The value of series of one test; at least one series, all alike.

    A, B: m - k s, k the exact one-sided tolerance factor. Where normal scatter is refused the value is the least of
    that and the Weibull limit, and decides nothing until the reason is found. Fewer than five results: NaN.
    """
    x = tuple(sorted(v for s in series for v in (*s.results, *s.forces)))
    n, kind = len(x), min((s.basis for s in series), key=("A", "B", "mean").index)
    m, s, chance = tolerance.mean(x), tolerance.deviation(x), tolerance.anderson_darling(x)
    k = 0.0 if kind == "mean" else tolerance.factor(n, tolerance.PART[kind])
    far = tuple(x[i] for i in tolerance.outstanding(x))
    value, why = _value(x, kind, m - k * s, chance)
    batches = len({one.batch for one in series})
    missing = max(0, WANTED[kind] - n)
    return Basis(
        series=tuple(series),
        unit="Pa" if series[0].results else "N",
        basis=kind,
        results=x,
        mean=m,
        deviation=s,
        variation=s / m,
        normal=chance,
        factor=k,
        value=value,
        outstanding=far,
        batches=batches,
        missing=missing,
        open=why,
        note=_note(n, kind, batches, missing, far, s),
    )


def _value(x: Sequence[float], kind: str, plain: float, chance: float) -> tuple[float, str]:
    """The value and why it decides nothing, if so."""
    if len(x) < LEAST:
        return math.nan, f"{len(x)} coupons say too little of the scatter: break {LEAST - len(x)} more"
    value = plain
    if kind != "mean" and chance < REFUSED:
        value = min(plain, tolerance.weibull_limit(x, kind))
        return max(
            value, 0.0
        ), f"the results do not scatter normally (chance {chance:.3f}): look for two batches or a bad coupon"
    if value <= 0:
        return math.nan, "the scatter is so wide that nothing can be counted on: break more coupons"
    return value, ""


def _note(n: int, kind: str, batches: int, missing: int, far: Sequence[float], s: float) -> str:
    said = [f"{n} coupons of {batches} batch{'es' if batches > 1 else ''}"]
    if missing and kind != "mean":
        said.append(f"public databases ask {missing} more, of {5 if kind == 'A' else 3} batches or more, for {kind}")
    if batches < 2 and kind != "mean":
        said.append("the scatter between batches is not in it")
    if far:
        said.append(f"{len(far)} stand{'s' if len(far) == 1 else ''} out and {'is' if len(far) == 1 else 'are'} kept")
    if s == 0:
        said.append("all alike: were they rounded?")
    return "; ".join(said)


def series_of(
    model: Model,
    *,
    property: str,
    material: str = "",
    joint: str = "none",
    fastener: str = "",
    of: Iterable[str] = (),
    grain: float = 0.0,
    thickness: float | None = None,
) -> tuple[CouponSeries, ...]:
    """The model's series of that test in any condition, whether used or not.

    grain: rad, within 2 degrees. thickness: m, within a tenth; None: only series that hold for any thickness, or all
    where the coupons are of one thickness.
    """
    partners = sorted(of)
    found = [
        s
        for s in (model.strengths.coupons if model.strengths else ())
        if (s.material, s.joint, s.property, s.fastener) == (material, joint, property, fastener)
        and abs(s.grain - grain) < ANGLE
        and (not partners or sorted(s.of) == partners)
        and (s.thickness is None or thickness is None or abs(s.thickness - thickness) <= NEAR * s.thickness)
    ]
    sizes = {s.thickness for s in found}
    if thickness is None and len(sizes) > 1:
        found = [s for s in found if s.thickness is None]
    exact = [s for s in found if s.thickness is not None]
    return tuple(exact or found)


def by_condition(series: Iterable[CouponSeries]) -> tuple[tuple[CouponSeries, ...], ...]:
    """Series put together by condition: the coolest and driest first, which the others are held against."""
    groups: dict[tuple[float, float], list[CouponSeries]] = {}
    for s in series:
        groups.setdefault((round(s.temperature, 1), -1.0 if s.moisture is None else s.moisture), []).append(s)
    return tuple(tuple(groups[key]) for key in sorted(groups))


def tested(model: Model) -> tuple[Basis, ...]:
    """Every test of the model with what it comes to, used or not, in the order of the file; for the paper."""
    groups: dict[tuple[object, ...], list[CouponSeries]] = {}
    for s in model.strengths.coupons if model.strengths else ():
        groups.setdefault((*alike(s), s.use), []).append(s)
    return tuple(basis_of(g) for g in groups.values())


def steps(found: Basis) -> tuple[Step, ...]:
    """From the results to the value, as lines of working."""
    m, s, n = (
        ("mean", found.mean, found.unit),
        ("s", found.deviation, found.unit),
        ("n", float(len(found.results)), "1"),
    )
    what = f"{found.series[0].property} of {found.series[0].material or found.series[0].joint} by coupons"
    first = Step(
        f"mean of {what}",
        "sum(x)/n",
        (n, s, ("chance of normal scatter", found.normal, "1")),
        found.mean,
        found.unit,
        SOURCE,
    )
    if found.basis == "mean":
        return (first,)
    part = tolerance.PART[found.basis]
    k = Step(
        f"factor of the {found.basis} basis",
        "t'(0.95; n - 1, z sqrt(n))/sqrt(n)",
        (n, ("part above", part, "1")),
        found.factor,
        "1",
        SOURCE,
    )
    last = Step(
        f"{what}, {found.basis} basis",
        "mean - k s",
        (m, ("k", found.factor, "1"), s),
        found.value,
        found.unit,
        "cfr-23-2014 23.613(b)",
    )
    return first, k, last
