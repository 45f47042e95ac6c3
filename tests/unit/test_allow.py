"""What may be counted on: the row taken, what closes a row from memory, coupons, knock-downs, what stays unknown."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from families import DEMO_FILE, PROBE, reading

from sparwright.base.quantity import parse
from sparwright.data.loader import fasteners
from sparwright.family.model import Model
from sparwright.family.strengths import ConfirmedValues, CouponSeries, EditionChoice, KnockDown, Strengths
from sparwright.strength import coupons
from sparwright.strength.allow import State, allowable, cable_allowable, joint_allowable
from sparwright.strength.allowed import allowed, results, uses_of

PSI, KSI, MPA, LBF, INCH = 6894.757293168, 6894757.293168, 1e6, parse("1 lbf", "force"), 0.0254
COLD = (61.0, 58.0, 63.0, 60.0, 57.0, 62.0, 59.0, 64.0)


@pytest.fixture(scope="module")
def plain() -> Model:
    return reading(PROBE).models["P1"]


def told(model: Model, **what: object) -> Model:
    return replace(model, strengths=Strengths(**what))  # type: ignore[arg-type]


def series(*values: float, **more: object) -> CouponSeries:
    base: dict[str, object] = {
        "material": "birch-ply", "property": "shear", "results": tuple(v * MPA for v in values), "temperature": 294.0,
        "when": "2026-03-01", "who": "A. Builder", "batch": "1", "use": True,
    }  # fmt: skip
    return CouponSeries(**(base | more))  # type: ignore[arg-type]


def read(**what: object) -> ConfirmedValues:
    return ConfirmedValues(who="A. Builder", when="2026-03-01", read="the book", **what)  # type: ignore[arg-type]


# ---------------------------------------------------------------- the row that is taken


def test_the_lower_edition_is_used_and_its_fellow_is_told(plain: Model) -> None:
    one = allowable(plain, "spruce", "shear")
    assert one.value == pytest.approx(750 * PSI) and one.source.key == "anc-18-1944"
    assert "recalled" in one.open and "[[strengths.confirmed]]" in one.open
    assert [s.value for s in one.steps] == pytest.approx([750 * PSI, 990 * PSI])


def test_the_designers_edition_is_used(plain: Model) -> None:
    chosen = told(plain, editions=(EditionChoice(material="spruce", edition="anc-18-1951"),))
    one = allowable(chosen, "spruce", "shear")
    assert one.value == pytest.approx(990 * PSI) and one.source.mark == "second-hand" and not one.open
    across = allowable(chosen, "spruce", "compression_across")  # that edition's is not on file: the other one stands
    assert across.value == pytest.approx(840 * PSI) and across.open
    assert allowable(chosen, "douglas-fir", "shear").value == pytest.approx(810 * PSI)


def test_an_edition_that_agrees_and_was_seen_closes_the_row_from_memory(plain: Model) -> None:
    one = allowable(plain, "4130N", "tension", 0.035 * INCH)
    assert one.value == pytest.approx(95 * KSI, rel=1e-4) and one.source.key == "mil-t-6736" and not one.open


def test_values_that_agree_to_half_a_percent_are_one(plain: Model) -> None:
    """39 ksi recalled and 269 MPa quoted (39.015 ksi): the quoted one is told, though it is the greater by a hair."""
    one = allowable(plain, "2024-T3", "compression", 0.032 * INCH)
    assert one.value == 269e6 and not one.open
    across = allowable(plain, "2024-T3", "tension", 0.032 * INCH)  # 63, along it 64
    assert across.value == pytest.approx(63 * KSI) and across.source.mark == "second-hand" and not across.open


def test_a_weld_takes_the_lower_of_what_is_recalled_and_what_is_quoted(plain: Model) -> None:
    one = allowable(plain, "4130N", "tension_near_weld", 0.035 * INCH)
    assert one.value == pytest.approx(72 * KSI) and not one.open
    assert 80 * KSI == pytest.approx(one.steps[1].value)


@pytest.mark.parametrize(
    ("thickness", "ksi"), [(0.1875, 95), (0.188, 95), (0.189, 90), (0.250, 90), (None, 95)]
)  # the handbook's columns meet at 0.188 in, which belongs to the thinner
def test_thickness_picks_the_column(plain: Model, thickness: float | None, ksi: float) -> None:
    inch = None if thickness is None else thickness * INCH
    assert allowable(plain, "4130N", "tension", inch).value == pytest.approx(ksi * KSI, rel=1e-4)


def test_out_of_every_column_is_unknown_and_stiffness_is_not(plain: Model) -> None:
    thick = allowable(plain, "2024-T3", "tension", 0.25 * INCH)
    assert math.isnan(thick.value) and "6.35 mm" in thick.open and "0.25 to 3.25" in thick.open
    assert math.isnan(allowable(plain, "6061-T6", "bearing", 0.005 * INCH).value)
    assert allowable(plain, "2024-T3", "youngs", 0.25 * INCH).value == pytest.approx(10500 * KSI)


def test_sheet_and_tube_are_told_apart_where_the_handbook_does(plain: Model) -> None:
    assert allowable(plain, "6061-T6", "compression", 0.032 * INCH, form="sheet").value == pytest.approx(35 * KSI)
    tube = allowable(plain, "6061-T6", "compression", 0.035 * INCH, form="tube")
    assert tube.value == pytest.approx(34 * KSI) and not tube.open
    thick = allowable(plain, "6061-T6", "compression", 0.375 * INCH, form="tube")  # so thick by memory only
    assert thick.value == pytest.approx(34 * KSI) and thick.open


def test_plywood_across_is_printed_and_at_45_degrees_is_not(plain: Model) -> None:
    assert allowable(plain, "birch-ply", "shear", grain=math.pi / 2).value == pytest.approx(9.5 * MPA)
    at_45 = allowable(plain, "birch-ply", "shear", grain=math.pi / 4)
    assert math.isnan(at_45.value) and "45 deg" in at_45.open
    assert math.isnan(allowable(plain, "birch-ply", "tension", grain=math.pi / 2).value)


def test_what_nobody_prints_is_unknown(plain: Model) -> None:
    for key, name in (("okoume-ply", "shear"), ("spruce", "bearing"), ("fabric", "tension")):
        one = allowable(plain, key, name)
        assert math.isnan(one.value) and "nothing is printed" in one.open
    with pytest.raises(KeyError):
        allowable(plain, "balsa", "shear")
    with pytest.raises(KeyError):
        allowable(plain, "spruce", "shaer")


# ---------------------------------------------------------------- what closes a row from memory


def test_a_row_the_designer_has_read_decides_and_says_who(plain: Model) -> None:
    before = allowable(plain, "birch-ply", "shear")
    model = told(plain, confirmed=(read(material="birch-ply", values=("shear", "tension")),))
    after = allowable(model, "birch-ply", "shear")
    assert before.open and not after.open and after.value == before.value
    assert "read by A. Builder, 2026-03-01: the book" in after.steps[0].source
    assert allowable(model, "birch-ply", "compression").open


def test_a_confirmed_edition_closes_its_own_rows_only(plain: Model) -> None:
    model = told(plain, confirmed=(read(material="spruce", values=("shear",), edition="anc-18-1951"),))
    assert allowable(model, "spruce", "shear").open  # the lower one, of 1944, is used and was not read
    model = told(plain, confirmed=(read(material="spruce", values=("shear",), edition="anc-18-1944"),))
    assert not allowable(model, "spruce", "shear").open


def test_fasteners_and_cables_are_closed_the_same_way(plain: Model) -> None:
    assert not joint_allowable(plain, "bolt", "shear", fastener="AN3").open
    assert "recalled" in joint_allowable(plain, "bolt", "tension", fastener="AN3").open
    assert "recalled" in cable_allowable(plain, "1x19", 0.125 * INCH).open
    assert not cable_allowable(plain, "7x19", 0.125 * INCH).open
    model = told(
        plain,
        confirmed=(
            read(fastener="AN3", values=("tension",)),
            read(cable="1x19", diameter=0.125 * INCH, values=("carbon",)),
        ),
    )
    assert not joint_allowable(model, "bolt", "tension", fastener="AN3").open
    assert not cable_allowable(model, "1x19", 0.125 * INCH).open
    assert cable_allowable(model, "1x19", 0.125 * INCH, "stainless").open
    assert cable_allowable(model, "1x19", 0.15625 * INCH).open
    assert not cable_allowable(plain, "1x19", 0.0625 * INCH, "stainless").open  # told by a page that was read
    assert cable_allowable(plain, "1x19", 0.0625 * INCH).open
    assert math.isnan(cable_allowable(model, "1x19", 0.05).value)


def test_an_unknown_fastener_value_stays_unknown(plain: Model) -> None:
    model = told(plain, confirmed=(read(fastener="MS20470AD4", values=("shear", "tension")),))
    one = joint_allowable(model, "rivet", "tension", fastener="MS20470AD4")
    assert math.isnan(one.value) and "nothing is printed" in one.open


# ---------------------------------------------------------------- coupons


def test_coupons_take_the_place_of_what_is_printed_and_both_are_told(plain: Model) -> None:
    one = allowable(told(plain, coupons=(series(*COLD),)), "birch-ply", "shear")
    mean, s = sum(COLD) / 8, math.sqrt(sum((v - sum(COLD) / 8) ** 2 for v in COLD) / 7)
    assert one.value == pytest.approx((mean - 4.354 * s) * MPA, rel=1e-4)  # kA of eight as printed in CMH-17
    assert not one.open and one.source.mark == "designer" and one.basis == "coupons of the designer, A"
    assert one.steps[0].value == pytest.approx(9.5 * MPA) and "as printed" in one.steps[0].title


def test_coupons_that_are_not_used_are_told_beside(plain: Model) -> None:
    one = allowable(told(plain, coupons=(series(*COLD, use=False),)), "birch-ply", "shear")
    assert one.value == pytest.approx(9.5 * MPA) and one.open
    assert any(s.title.endswith("not used") and s.value == pytest.approx(60.5 * MPA) for s in one.steps)


def test_batches_of_one_test_are_put_together(plain: Model) -> None:
    whole = allowable(told(plain, coupons=(series(*COLD),)), "birch-ply", "shear")
    parts = told(plain, coupons=(series(*COLD[:3]), series(*COLD[3:], batch="2")))
    assert allowable(parts, "birch-ply", "shear").value == pytest.approx(whole.value, rel=1e-12)
    assert "2 batches" in coupons.basis_of(parts.strengths.coupons).note  # type: ignore[union-attr]


def test_only_what_is_used_is_counted(plain: Model) -> None:
    one = allowable(told(plain, coupons=(series(*COLD),)), "birch-ply", "shear")
    beside = (series(*COLD), series(20, 21, 22, batch="2", use=False), series(9, 8, 10, temperature=344.0, use=False))
    assert allowable(told(plain, coupons=beside), "birch-ply", "shear").value == one.value


def test_three_coupons_say_how_many_are_missing(plain: Model) -> None:
    one = allowable(told(plain, coupons=(series(61, 58, 63),)), "birch-ply", "shear")
    assert math.isnan(one.value) and "break 2 more" in one.open


def test_scatter_that_is_not_normal_decides_nothing(plain: Model) -> None:
    two = series(40, 40.2, 40.1, 39.9, 40.0, 60, 60.1, 59.9, 60.2, 60.0)
    one = allowable(told(plain, coupons=(two,)), "birch-ply", "shear")
    assert "do not scatter normally" in one.open and one.value < 40 * MPA


def test_a_result_that_stands_out_is_kept_and_flagged() -> None:
    found = coupons.basis_of([series(60, 61, 59, 60.5, 59.5, 60.2, 59.8, 45)])
    assert found.outstanding == pytest.approx((45 * MPA,)) and len(found.results) == 8
    assert "1 stands out and is kept" in found.note


def test_scatter_beyond_all_sense_gives_nothing() -> None:
    found = coupons.basis_of([series(10, 45, 20, 38, 29)])
    assert math.isnan(found.value) and "nothing can be counted on" in found.open


def test_coupons_alike_are_the_mean_and_are_doubted() -> None:
    found = coupons.basis_of([series(60, 60, 60, 60, 60)])
    assert found.value == pytest.approx(60 * MPA) and "rounded" in found.note and math.isnan(found.normal)


def test_the_mean_is_for_a_modulus_and_b_lies_between(plain: Model) -> None:
    values = {b: coupons.basis_of([series(*COLD, basis=b)]).value for b in ("A", "B", "mean")}
    assert values["A"] < values["B"] < values["mean"] == pytest.approx(60.5 * MPA)


def test_coupons_hold_for_their_thickness_and_grain(plain: Model) -> None:
    model = told(plain, coupons=(series(*COLD, thickness=0.0015, grain=math.pi / 4),))
    assert allowable(model, "birch-ply", "shear", 0.0015, grain=math.pi / 4).value > 40 * MPA
    assert allowable(model, "birch-ply", "shear", 0.0016, grain=math.pi / 4).value > 40 * MPA  # within a tenth
    assert math.isnan(allowable(model, "birch-ply", "shear", 0.003, grain=math.pi / 4).value)
    assert allowable(model, "birch-ply", "shear", 0.0015).value == pytest.approx(9.5 * MPA)


# ---------------------------------------------------------------- heat and moisture


def hot(*values: float, **more: object) -> CouponSeries:
    return series(*values, **({"temperature": 344.0} | more))  # type: ignore[arg-type]


def test_the_worst_condition_that_was_tested_is_taken(plain: Model) -> None:
    cold = allowable(told(plain, coupons=(series(*COLD),)), "birch-ply", "shear").value
    model = told(plain, coupons=(series(*COLD), hot(*(0.7 * v for v in COLD))))
    assert allowable(model, "birch-ply", "shear").value == pytest.approx(0.7 * cold, rel=1e-12)
    half = allowable(model, "birch-ply", "shear", state=State(319.0))
    assert half.value == pytest.approx(0.85 * cold, rel=1e-12) and not half.open
    assert allowable(model, "birch-ply", "shear", state=State(294.0)).value == pytest.approx(cold, rel=1e-12)
    assert "tested up to 344 K" in allowable(model, "birch-ply", "shear", state=State(360.0)).open


def test_heat_never_makes_stronger(plain: Model) -> None:
    cold = allowable(told(plain, coupons=(series(*COLD),)), "birch-ply", "shear").value
    model = told(plain, coupons=(series(*COLD), hot(*(1.2 * v for v in COLD))))
    assert allowable(model, "birch-ply", "shear").value == pytest.approx(cold, rel=1e-12)


def test_water_is_taken_off_by_tests(plain: Model) -> None:
    wet = series(*(0.8 * v for v in COLD), moisture=0.20)
    model = told(plain, coupons=(series(*COLD, moisture=0.12), wet))
    cold = allowable(told(plain, coupons=(series(*COLD, moisture=0.12),)), "birch-ply", "shear").value
    assert allowable(model, "birch-ply", "shear").value == pytest.approx(0.8 * cold, rel=1e-12)
    assert allowable(model, "birch-ply", "shear", state=State(moisture=0.16)).value == pytest.approx(0.9 * cold)
    assert "not tested at 30 % water" in allowable(model, "birch-ply", "shear", state=State(moisture=0.30)).open


def test_a_laminate_tested_in_one_condition_bears_the_special_factor(plain: Model) -> None:
    one = allowable(told(plain, coupons=(series(*COLD, material="glass-epoxy"),)), "glass-epoxy", "shear")
    ply = allowable(told(plain, coupons=(series(*COLD),)), "birch-ply", "shear")
    assert one.value == pytest.approx(ply.value / 1.5, rel=1e-12)
    assert any("one condition only" in s.title for s in one.steps)


def test_the_designers_factor_is_taken_once(plain: Model) -> None:
    down = KnockDown(material="birch-ply", values=("shear",), temperature=344.0, factor=0.6, source="a test report")
    book = allowable(told(plain, knock_downs=(down,)), "birch-ply", "shear")
    assert book.value == pytest.approx(0.6 * 9.5 * MPA) and book.steps[-1].source == "a test report"
    assert "up to 344 K" in allowable(told(plain, knock_downs=(down,)), "birch-ply", "shear", state=State(400.0)).open
    both = told(plain, knock_downs=(down,), coupons=(series(*COLD), hot(*(0.7 * v for v in COLD))))
    only = told(plain, coupons=(series(*COLD), hot(*(0.7 * v for v in COLD))))
    assert allowable(both, "birch-ply", "shear").value == allowable(only, "birch-ply", "shear").value
    wet = KnockDown(material="birch-ply", values=("shear",), moisture=0.2, factor=0.9, source="a test report")
    assert allowable(told(plain, knock_downs=(wet,)), "birch-ply", "shear").value == pytest.approx(0.9 * 9.5 * MPA)


# ---------------------------------------------------------------- joints


def test_a_joint_is_unknown_until_it_is_tested(plain: Model) -> None:
    bare = joint_allowable(plain, "glue", of=("spruce", "birch-ply"))
    assert math.isnan(bare.value) and "break coupons" in bare.open
    glue = series(5.1, 4.9, 5.3, 4.8, 5.0, 5.2, material="", joint="glue", of=("birch-ply", "spruce"))
    one = joint_allowable(told(plain, coupons=(glue,)), "glue", of=("spruce", "birch-ply"))
    assert 3 * MPA < one.value < 5 * MPA and one.unit == "Pa" and not one.open


def test_the_weakest_partners_are_taken_where_none_are_named(plain: Model) -> None:
    def rivets(mean: float, *of: str) -> CouponSeries:
        forces = tuple((mean + d) * LBF for d in (-10, 6, -4, 9, -1))
        return series(material="", joint="rivet", fastener="blind-steel-1/8", of=of, results=(), forces=forces)

    model = told(plain, coupons=(rivets(330, "6061-T6", "4130N"), rivets(300, "6061-T6")))
    weak = joint_allowable(model, "rivet", fastener="blind-steel-1/8")
    strong = joint_allowable(model, "rivet", fastener="blind-steel-1/8", of=("4130N", "6061-T6"))
    assert strong.value - weak.value == pytest.approx(30 * LBF, rel=1e-9) and weak.unit == "N"
    assert weak.steps[0].value == pytest.approx(260 * LBF)  # what is recalled of the standard is told beside it


# ---------------------------------------------------------------- the list


def test_the_list_names_all_of_the_model_once(plain: Model) -> None:
    rows = allowed(plain)
    assert len({r.id for r in rows}) == len(rows)
    assert {r.what for r in rows} >= set(uses_of(plain)) - {"fabric", "okoume-ply"}
    told_too = results(plain)
    assert [r.id for r in told_too] == [r.id for r in rows]
    for row, result in zip(rows, told_too, strict=True):
        assert (row.open == result.outside_range) and (math.isnan(row.value) == math.isnan(result.value))
        assert row.open or row.mark not in ("memory", "common practice")


def test_every_material_of_the_demo_is_in_its_list() -> None:
    models = reading(DEMO_FILE.read_text("utf-8")).models.values()
    for model in models:
        keys = set(uses_of(model))
        assert keys >= {"4130N", "1025", "6061-T6", "5052-H32", "birch-ply", "spruce"}
        assert {r.what for r in allowed(model)} >= {"4130N", "1025", "6061-T6", "5052-H32", "birch-ply", "spruce"}
    assert [("glass-epoxy" in uses_of(m), "fabric" in uses_of(m)) for m in models] == [
        (False, True),
        (False, True),
        (True, False),
    ]


def test_the_list_of_tests_keeps_conditions_and_what_is_not_used_apart(plain: Model) -> None:
    model = told(plain, coupons=(series(*COLD[:4]), series(*COLD[4:], batch="2"), hot(*COLD), series(*COLD, use=False)))
    found = coupons.tested(model)
    assert [len(b.results) for b in found] == [8, 8, 8] and [b.batches for b in found] == [2, 1, 1]
    assert found[0].variation == pytest.approx(found[0].deviation / found[0].mean)
    assert found[0].missing == 55 - 8 and coupons.tested(plain) == ()


def test_the_list_has_each_fastener_in_shear_and_tension() -> None:
    rows = [
        r for m in reading(DEMO_FILE.read_text("utf-8")).models.values() for r in allowed(m) if r.what in fasteners()
    ]
    assert {r.property for r in rows} == {"shear", "tension"}
    for r in rows:
        if "coupons" not in r.basis:
            assert r.value == pytest.approx(getattr(fasteners()[r.what], r.property), nan_ok=True)


def test_ids_are_plain(plain: Model) -> None:
    for row in allowed(plain):
        assert row.id.count(".") <= 3 and " " not in row.id and "/" not in row.id


def test_the_list_tells_who_has_read_a_row(plain: Model) -> None:
    key = next(k for k in uses_of(plain) if k == "spruce")
    rows = allowed(told(plain, confirmed=(read(material=key, values=("shear",)),)))
    row = next(r for r in rows if r.id.startswith("allowable.spruce.shear") and "modulus" not in r.id)
    assert "read by A. Builder" in row.source and not row.open
