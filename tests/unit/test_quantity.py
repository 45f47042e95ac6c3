"""Quantities as text: what is read, what is refused and with which words."""

import math
import re

import pytest

from sparwright.base.quantity import (
    EXAMPLES,
    SI_NAME,
    UNITS,
    QuantityError,
    inches,
    millimetres,
    parse,
    pattern,
    sixty_fourths,
    to,
)


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("9 ft 3-1/8 in", "length", 111.125 * 0.0254),
        ("9' 3-1/8\"", "length", 111.125 * 0.0254),
        ("9′ 3 1/8″", "length", 111.125 * 0.0254),
        ("5ft3in", "length", 63 * 0.0254),
        ("610 mm", "length", 0.61),
        (".5 in", "length", 0.0127),
        ("3/4 in", "length", 0.01905),
        ("-2-1/2 in", "length", -0.0635),
        ("−2 in", "length", -0.0508),
        ("+2 in", "length", 0.0508),
        ("5 lb 8 oz", "mass", 5.5 * 0.45359237),
        ("45 mph", "speed", 45 * 0.44704),
        ("180 deg", "angle", math.pi),
        ("3300 rpm", "turning", 55.0),
        ("0.45 kg/kWh", "consumption", 0.45 / 3.6e6),
        ("1e3 mm", "length", 1.0),
    ],
)
def test_reads(text: str, dimension: str, value: float) -> None:
    assert parse(text, dimension) == pytest.approx(value, rel=4e-16)  # two roundings of a double


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("24", "has no unit"),
        ("", "is empty"),
        ("-", "is empty"),
        ("24 furlong", "not a unit of length we know"),
        ("24 kg", "'kg' is a unit of mass, a length is wanted"),
        ("nan in", "not a finite number"),
        ("inf", "not a finite number"),
        ("-Infinity m", "not a finite number"),
        ("1/0 in", "divides by nought"),
        ("3-9/8 in", "fraction of one or more"),
        ("3 in 4 in", "from larger to smaller"),
        ("3 in 1 ft", "from larger to smaller"),
        ("1,5 in", "has a comma"),
        ("+-5 in", "cannot be read"),
        ("--5 in", "cannot be read"),
        ("٣ in", "cannot be read"),
        ("9" * 400 + " in", "too long"),
    ],
)
def test_refuses_with_a_reason_and_an_example(text: str, says: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(text, "length")
    assert says in str(caught.value)
    assert EXAMPLES["length"] in str(caught.value)


@pytest.mark.parametrize("bare", [24, 24.0, True, None])
def test_a_bare_number_is_refused(bare: object) -> None:
    with pytest.raises(QuantityError, match="needs a unit"):
        parse(bare, "length")  # type: ignore[arg-type]


@pytest.mark.parametrize("dimension", UNITS)
def test_each_dimension_has_an_si_name_and_an_example_that_works(dimension: str) -> None:
    assert dimension in SI_NAME
    for example in EXAMPLES[dimension].split(" or "):
        assert math.isfinite(parse(example.strip('"'), dimension))
        assert re.search(pattern(dimension), example.strip('"'))


@pytest.mark.parametrize(("dimension", "unit"), [(d, u) for d, units in UNITS.items() for u in units])
def test_each_unit_goes_there_and_back(dimension: str, unit: str) -> None:
    assert parse(f"1 {unit}", dimension) == pytest.approx(float(UNITS[dimension][unit]), rel=1e-15)
    if sum(unit in units for units in UNITS.values()) == 1:
        assert to(parse(f"3 {unit}", dimension), unit) == pytest.approx(3, rel=1e-15)


def test_no_unit_belongs_to_two_dimensions() -> None:
    names = [u for units in UNITS.values() for u in units]
    assert len(names) == len(set(names))


def test_an_unknown_unit_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        to(1.0, "furlong")


@pytest.mark.parametrize(
    ("metres", "text"),
    [
        (2.0 * 0.0254, "2″"),
        ((2 - 1 / 200) * 0.0254, "2″"),  # rounds up to the whole inch, not to 1 64/64
        (3 / 64 * 0.0254, "3/64″"),
        (36 * 0.0254, "3′ 0″"),
        ((48 + 1 / 8) * 0.0254, "4′ 1/8″"),
        ((36 - 1 / 200) * 0.0254, "3′ 0″"),
        (-0.000001, "0″"),
        (0.0, "0″"),
    ],
)
def test_shop_fractions_are_rounded_before_they_are_split(metres: float, text: str) -> None:
    assert inches(metres) == text


def test_sixty_fourths_and_millimetres() -> None:
    assert sixty_fourths(0.0254) == 64
    assert millimetres(0.00625) == "6.2 mm"
    assert millimetres(-0.61) == "−610 mm"


def test_unsigned_pattern_has_no_minus() -> None:
    assert not re.search(pattern("length", signed=False), "-3 in")
    assert re.search(pattern("length", signed=True), "-3 in")
