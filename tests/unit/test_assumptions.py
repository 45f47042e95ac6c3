"""The register of assumptions: each row is varied or says why not, and says what the proof is really made with."""

from __future__ import annotations

import math

import pytest

from sparwright.data.assumptions import assumptions
from sparwright.data.factors import table
from sparwright.margins.assumed import End, Studied, assumption_results, assumption_rows, worst_first
from sparwright.margins.taken import USED
from sparwright.margins.turns import TURNS
from sparwright.structure.masses import NEAREST

OF_TAKEN = {
    "fixity.welded": USED.welded, "fixity.mount": USED.mount, "fixity.pinned": USED.pinned,
    "factor.fitting": USED.fitting, "share.lugs": USED.lug_share, "share.bolts": USED.bolt_share,
    "end.wire": USED.wire_end, "share.skin": USED.skin, "ply.plies": USED.plies, "mass.nearest": NEAREST,
}  # fmt: skip


def test_each_row_is_varied_or_says_why_not() -> None:
    for key, row in assumptions().items():
        varied = math.isfinite(row.low) and math.isfinite(row.high)
        assert varied == (key in TURNS) == (not row.why), key
        assert row.enters and row.title, key
        if varied:
            assert row.low <= row.used <= row.high and row.low < row.high, key
    assert set(TURNS) <= set(assumptions())


@pytest.mark.parametrize("key", OF_TAKEN)
def test_the_register_says_what_the_proof_is_made_with(key: str) -> None:
    assert assumptions()[key].used == OF_TAKEN[key]


def test_the_weakest_sleeve_is_that_of_the_table() -> None:
    assert assumptions()["end.wire"].low == table("cable_end")["sleeve"].low


def studied(key: str, *ends: tuple[float, dict[str, float]], note: str = "") -> Studied:
    """One of two checks a and b, at 0.1 and 0.3 as proved."""
    before = {"a": 0.1, "b": 0.3}
    found = tuple(End(v, min(m.values()), min(m, key=lambda k: m[k]), m, note) if m else End(v, math.nan, note=note)
                  for v, m in ends)  # fmt: skip
    return Studied(assumptions()[key], 0.1, "a", before, found)


def test_what_is_touched_most_need_not_have_the_least_margin() -> None:
    s = studied("frame.ribs", (0.25, {"a": 0.09, "b": 0.2}), (4.0, {"a": 0.11, "b": 0.35}))
    assert s.touched == "b"
    assert s.change == pytest.approx(-0.01)
    (r,) = assumption_results([s])
    assert (r.value, r.low, r.high) == pytest.approx((-0.01, -0.01, 0.01))
    assert [x.value for x in r.steps if x.title.startswith("touched most")] == [0.2, 0.35]
    (row,) = assumption_rows([s])
    assert row[5:12] == ("0.1", "0.09", "0.11", "b", "0.3", "0.2", "0.35")


def test_an_end_that_only_gains_costs_nothing() -> None:
    assert studied("frame.ribs", (0.25, {"a": 0.2, "b": 0.4})).change == 0.0


def test_what_does_not_stand_is_unknown_and_comes_first() -> None:
    falls = studied("frame.ribs", (0.25, {}), note="with 0.25 it does not stand")
    costs = studied("frame.webs", (0.5, {"a": -0.5, "b": 0.3}))
    left = studied("left.welds")
    assert math.isnan(falls.change) and math.isnan(left.change)
    assert [s.assumption.key for s in worst_first([left, costs, falls])] == ["frame.ribs", "frame.webs", "left.welds"]
    (r,) = assumption_results([falls])
    assert math.isnan(r.value) and "does not stand" in r.caveat
    assert falls.touched == "" and left.touched == ""


def test_what_is_not_varied_says_why() -> None:
    (r,) = assumption_results([studied("left.welds")])
    assert math.isnan(r.value) and assumptions()["left.welds"].why in r.caveat
