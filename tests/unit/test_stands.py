"""Whether the whole frame stands: every case is looked at, and what is left open keeps the check from passing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from handmade import CASE, solved

from sparwright.margins import stands
from sparwright.margins.stands import stands_check
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Bar, Section, Skeleton, assembled
from sparwright.structure.laid import Laid

E, STOUT, SLENDER = 200e9, 4e-8, 1e-9
EULER = np.pi**2 * E * SLENDER / (4 * 1.0**2)  # of a cantilever of 1 m


def masts() -> Skeleton:
    """Two masts on the ground, four bars each: a stout one of 4 m, a slender one of 1 m."""
    places, bars = {}, []
    for name, x, high, second in (("stout", 0.0, 4.0, STOUT * 100), ("slender", 3.0, 1.0, SLENDER)):
        section = Section(4e-4, second, second, 2 * second, E, 80e9)
        for k in range(5):
            places[f"{name}{k}"] = np.array([x, 0.0, high * k / 4])
        bars += [Bar(f"M-{name}", "tube", (f"{name}{k}", f"{name}{k + 1}"), section, np.array([1.0, 0, 0]))
                 for k in range(4)]  # fmt: skip
    return assembled(places, bars, {"stout0": range(6), "slender0": range(6)})


def answer_of(*cases: tuple[str, str, float], settled: bool = True) -> Answered:
    """Each case (key, node, N upwards at limit load)."""
    bones = masts()
    laid = []
    for key, node, up in cases:
        loads = np.zeros((len(bones.names), 6))
        if node:
            loads[bones.node[node], 2] = up
        laid.append(Laid(replace(CASE, key=key, title=key), loads, np.zeros(3), np.zeros(3), 0.0))
    one = replace(solved(bones, {}), good=np.full(len(cases), settled))
    return Answered(bones, tuple(laid), ("as rigged",), (one,), (one,))


def test_the_least_factor_is_found_though_others_press_more() -> None:
    """Six cases press the stout mast with more thrust times length squared; the slender one is nearer its load."""
    small = 0.5 * EULER
    others = [(f"stout {k}", "stout4", -(20 + k) * small) for k in range(6)]
    c = stands_check(answer_of(*others, ("slender", "slender4", -small)))
    assert c.value == pytest.approx(1 / (1.5 * 0.5), rel=1e-3)
    assert c.case.startswith("slender") and c.verdict == "pass" and "moves most at slender4" in c.caveat


def test_past_its_load_it_fails() -> None:
    assert stands_check(answer_of(("slender", "slender4", -EULER))).verdict == "fail"


def test_a_case_that_did_not_settle_keeps_it_from_passing() -> None:
    c = stands_check(answer_of(("a", "slender4", -0.1 * EULER), settled=False))
    assert c.verdict == "unknown" and "did not settle in second order: a" in c.caveat and c.value > 1
    failed = stands_check(answer_of(("a", "slender4", -EULER), settled=False))
    assert failed.verdict == "fail" and "did not settle" in failed.caveat


def test_a_factor_that_is_not_found_keeps_it_from_passing(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = stands.buckling

    def sometimes(prepared, found, k):  # type: ignore[no-untyped-def]
        return plain(prepared, found, k) if k else (np.nan, plain(prepared, found, k)[1])

    monkeypatch.setattr(stands, "buckling", sometimes)
    c = stands_check(answer_of(("lost", "slender4", -0.3 * EULER), ("found", "slender4", -0.1 * EULER)))
    assert c.verdict == "unknown" and "factor not found: lost" in c.caveat


def test_a_case_that_presses_nothing_asks_for_no_factor() -> None:
    c = stands_check(answer_of(("pulls", "slender4", 0.3 * EULER), ("presses", "slender4", -0.1 * EULER)))
    assert c.verdict == "pass" and c.case.startswith("presses")


def test_forces_that_are_not_known_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = stands.solve

    def one_lost(*given, **more):  # type: ignore[no-untyped-def]
        found = plain(*given, **more)
        return replace(found, pull=np.where([[False], [True]], np.nan, found.pull))

    monkeypatch.setattr(stands, "solve", one_lost)
    c = stands_check(answer_of(("known", "slender4", -0.1 * EULER), ("lost", "slender4", -0.1 * EULER)))
    assert c.verdict == "unknown" and "factor not found: lost" in c.caveat
