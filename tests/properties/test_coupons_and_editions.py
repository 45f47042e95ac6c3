"""What must hold of coupons and allowables whatever the numbers: order, units, count, scatter, heat, a reader."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest
from families import PROBE, reading
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.data.loader import Material, material, materials
from sparwright.family.strengths import ConfirmedValues, CouponSeries, Strengths
from sparwright.maths import tolerance
from sparwright.strength import coupons
from sparwright.strength.allow import State, allowable

MODEL = reading(PROBE).models["P1"]
RESULTS = st.lists(st.floats(40e6, 60e6), min_size=5, max_size=25)
BASES = st.sampled_from(["A", "B", "mean"])


def series(values: list[float], **more: object) -> CouponSeries:
    base: dict[str, object] = {
        "material": "glass-epoxy", "property": "tension", "results": tuple(values), "temperature": 294.0,
        "when": "2026-03-01", "who": "x", "batch": "1", "use": True,
    }  # fmt: skip
    return CouponSeries(**(base | more))  # type: ignore[arg-type]


@given(RESULTS, BASES, st.randoms())
@settings(max_examples=60, deadline=None)
def test_the_order_of_results_does_not_matter(values: list[float], basis: str, dice: object) -> None:
    mixed = values[:]
    dice.shuffle(mixed)  # type: ignore[attr-defined]
    a, b = (coupons.basis_of([series(v, basis=basis)]) for v in (values, mixed))
    assert (a.results, a.mean, a.deviation) == (b.results, b.mean, b.deviation)
    assert a.value == b.value or (math.isnan(a.value) and math.isnan(b.value))


@given(RESULTS, BASES, st.floats(1e-3, 1e3))
@settings(max_examples=60, deadline=None)
def test_another_unit_is_another_number_and_the_same_strength(values: list[float], basis: str, scale: float) -> None:
    a = coupons.basis_of([series(values, basis=basis)])
    b = coupons.basis_of([series([v * scale for v in values], basis=basis)])
    assert b.value == pytest.approx(a.value * scale, rel=1e-9, nan_ok=True)
    assert b.normal == pytest.approx(a.normal, rel=1e-6, abs=1e-9, nan_ok=True)
    assert len(a.outstanding) == len(b.outstanding)


@pytest.mark.parametrize("part", [0.90, 0.99])
def test_more_coupons_of_the_same_scatter_are_worth_more(part: float) -> None:
    factors = [tolerance.factor(n, part) for n in range(2, 120)]
    assert all(a > b for a, b in zip(factors, factors[1:], strict=False))
    few, many = [95.0, 105.0] * 3, [95.0, 105.0] * 12
    k = {6: tolerance.deviation(few), 24: tolerance.deviation(many)}
    assert k[24] < k[6] and tolerance.normal_limit(many, part) > tolerance.normal_limit(few, part)


def test_the_factor_goes_to_the_normal_deviate() -> None:
    """With all pieces of the world tested k is the deviate itself: 2.3263 and 1.2816."""
    assert tolerance.factor(100_000, 0.99) == pytest.approx(2.3263, abs=0.02)
    assert tolerance.factor(100_000, 0.90) == pytest.approx(1.2816, abs=0.02)


@given(RESULTS)
@settings(max_examples=60, deadline=None)
def test_the_value_lies_below_the_mean_and_a_below_b(values: list[float]) -> None:
    a, b, m = (coupons.basis_of([series(values, basis=k)]) for k in ("A", "B", "mean"))
    if not (math.isnan(a.value) or math.isnan(b.value)):
        assert a.value <= b.value <= m.value * (1 + 1e-12)


@given(RESULTS, st.floats(0.3, 1.5), st.floats(280, 344))
@settings(max_examples=40, deadline=None)
def test_heat_takes_off_and_never_adds(values: list[float], ratio: float, here: float) -> None:
    cold = series(values)
    warm = series([v * ratio for v in values], temperature=344.0)
    model = replace(MODEL, strengths=Strengths(coupons=(cold, warm)))
    worst = allowable(model, "glass-epoxy", "tension").value
    there = allowable(model, "glass-epoxy", "tension", state=State(here)).value
    dry = allowable(model, "glass-epoxy", "tension", state=State(294.0)).value
    if not math.isnan(worst):
        assert worst <= there * (1 + 1e-12) and there <= dry * (1 + 1e-12)
        assert worst == pytest.approx(min(1.0, ratio) * dry, rel=1e-9)


@pytest.mark.parametrize("key", materials())
def test_the_used_value_is_one_that_is_printed_and_the_lower(key: str) -> None:
    stuff = material(key)
    for name, rows in stuff.rows.items():
        used, values = getattr(stuff, name), [r.value for r in rows if r.least < max(x.most for x in rows[:1])]
        assert used in values
        worst = max(values) if name == "density" else min(values)
        assert used == pytest.approx(worst, rel=0.005)


@pytest.mark.parametrize("key", materials())
def test_reading_a_row_changes_no_number(key: str) -> None:
    """Confirming settles whether a value may decide; never how great it is. Nothing else than memory waits for it."""
    names = tuple(material(key).rows)
    word = ConfirmedValues(material=key, values=names, who="x", when="2026-03-01", read="it")
    read = replace(MODEL, strengths=Strengths(confirmed=(word,)))
    for name in (f.name for f in fields(Material) if f.metadata.get("unit") and f.name in names):
        before, after = allowable(MODEL, key, name), allowable(read, key, name)
        assert after.value == before.value and not after.open
        assert bool(before.open) == (before.source.mark in ("memory", "common practice"))
