"""The data files: each row has a source that exists, SI values, and unknown where nothing is known."""

import math
import tomllib
from dataclasses import fields
from importlib.resources import files

import pytest

from sparwright.base.source import MARKS
from sparwright.data import loader
from sparwright.data.categories import categories
from sparwright.data.loader import NO_SOURCE, Material, material


def every_source():
    for m in loader.materials().values():
        yield from ((f"{m.key} {name}", s) for name, s in m.sources.items())
    for c in categories().values():
        yield from ((f"{c.key} {key}", row.source) for key, row in c.rows.items())
    rows = (*loader.tubes(), *loader.sheets(), *loader.cables(), *loader.fasteners().values())
    yield from ((repr(r), r.source) for r in rows)


def test_each_row_cites_a_source_we_have_with_a_known_mark() -> None:
    for what, source in every_source():
        assert source.key in loader.sources() or source.key == NO_SOURCE, what
        assert source.mark in MARKS, what
        assert (source.mark == "memory") == ("recalled with" in source.place), what


def test_sources_are_sorted_and_whole() -> None:
    keys = list(tomllib.loads(files("sparwright.data").joinpath("sources.toml").read_text("utf-8")))
    assert keys == sorted(keys)
    assert all(s.author and s.title and 1600 < s.year < 2100 for s in loader.sources().values())


def test_each_value_of_a_material_has_a_source_and_no_other_has() -> None:
    for m in loader.materials().values():
        numbers = {f.name for f in fields(Material) if f.metadata.get("unit")}
        known = {n for n in numbers if math.isfinite(getattr(m, n))}
        assert known == set(m.sources)


def test_unknown_is_missing() -> None:
    assert math.isnan(material("okoume-ply").shear)
    assert math.isnan(material("fabric").density)
    assert math.isnan(material("spruce").bearing)
    assert math.isnan(loader.cable_strength("1x19", 0.05)[0])
    assert loader.cable_strength("streamline", 0.004) == pytest.approx((math.nan, None), nan_ok=True)


def test_spruce_takes_the_lower_edition() -> None:
    spruce = material("spruce")
    psi = 6894.757293168
    assert spruce.bending_limit == pytest.approx(5300 * psi, rel=1e-9)
    assert spruce.shear == pytest.approx(750 * psi, rel=1e-9)
    assert spruce.compression_limit == pytest.approx(3530 * psi, rel=1e-9)
    assert spruce.sources["shear"].key == "anc-18-1944"
    assert "1951" in spruce.sources["bending_limit"].key


def test_glass_follows_the_rule_at_half_glass() -> None:
    glass, g = material("glass-epoxy"), 0.5
    assert glass.tension == pytest.approx((1278 * g**2 - 510 * g + 123) * 1e6, rel=1e-9)
    assert glass.youngs == pytest.approx((37 * g - 4.75) * 1e9, rel=1e-9)
    assert glass.compression == pytest.approx((150 * g + 72) * 1e6, rel=1e-9)
    assert glass.bending == pytest.approx((502 * g**2 + 106.8) * 1e6, rel=1e-9)
    assert glass.shear == pytest.approx((80 * g + 38) * 1e6, rel=1e-9)
    assert glass.shear_modulus == pytest.approx((1.7 * g + 2.24) * 1e9, rel=1e-9)
    assert glass.density == pytest.approx(1 / (g / 2540 + g / 1150), rel=1e-3)  # printed to a whole kg/m3


def test_plywood_shear_is_the_sum_by_hand_and_stops_at_its_range() -> None:
    value, source, caveat = loader.plywood_shear(3, 0.0625 * 0.0254, 1300 * 6894.757293168)
    assert value / 6894.757293168 == pytest.approx(55 * 2 / 0.0625 + 9 / 16 * 1300, rel=1e-12)
    assert source.mark == "memory" and not caveat
    for plies, inch in ((3, 0.05), (2, 0.0625), (5, 0.1)):
        value, _, caveat = loader.plywood_shear(plies, inch * 0.0254, 9e6)
        assert math.isnan(value) and caveat


def test_birch_ply_shear_stays_below_the_formula_it_stands_in_for() -> None:
    formula, _, _ = loader.plywood_shear(3, 0.0015, material("birch").shear)
    assert material("birch-ply").shear < formula


def test_tube_walls_leave_a_bore_and_sizes_are_there() -> None:
    assert sum(t.stock == "4130" and t.market == "inch" for t in loader.tubes()) == 86
    assert all(0 < t.wall < t.outside / 2 for t in loader.tubes())


def test_the_loader_reads_each_file_once() -> None:
    assert loader.materials() is loader.materials()
    assert loader.tubes() is loader.tubes()
