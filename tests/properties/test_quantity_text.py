"""Properties of quantities: text and number go there and back, any text is a number or a sentence."""

import math
import re

from hypothesis import given
from hypothesis import strategies as st

from sparwright.base.quantity import UNITS, QuantityError, inches, millimetres, parse, pattern, sixty_fourths

lengths = st.floats(-30, 30)
pairs = st.sampled_from([(d, u) for d, units in UNITS.items() for u in units if u.isascii() and u not in "\"'"])


@given(lengths)
def test_shop_inches_read_back_within_half_a_64th(metres: float) -> None:
    back = parse(inches(metres), "length")
    assert abs(back - metres) <= 0.0254 / 128 * (1 + 1e-9)
    assert sixty_fourths(back) == sixty_fourths(metres)


@given(lengths)
def test_shop_inches_never_show_an_unreduced_or_empty_fraction(metres: float) -> None:
    for over, under in re.findall(r"(\d+)/(\d+)", inches(metres)):
        assert 0 < int(over) < int(under) <= 64
        assert math.gcd(int(over), int(under)) == 1


@given(lengths)
def test_millimetres_read_back_within_a_twentieth(metres: float) -> None:
    assert abs(parse(millimetres(metres).replace(",", ""), "length") - metres) <= 0.00005 * (1 + 1e-9)


@given(pairs, st.decimals(-10000, 10000, places=4, allow_nan=False))
def test_a_decimal_reads_as_itself_times_the_unit_and_fits_the_pattern(pair: tuple[str, str], number: object) -> None:
    dimension, unit = pair
    text = f"{number:f} {unit}"
    assert math.isclose(parse(text, dimension), float(number) * float(UNITS[dimension][unit]), rel_tol=1e-15, abs_tol=0)
    assert re.search(pattern(dimension), text)


@given(st.integers(0, 400), st.integers(0, 11), st.integers(1, 63))
def test_feet_inches_and_fractions_add_up(feet: int, whole: int, over: int) -> None:
    text = f"{feet} ft {whole}-{over}/64 in"
    assert math.isclose(parse(text, "length"), (feet * 12 + whole + over / 64) * 0.0254, rel_tol=1e-15)
    assert parse(f"-{text}", "length") == -parse(text, "length")


@given(st.text(max_size=30) | st.text("0123456789 .-+/eE'\"″′°inftmk,", max_size=20), st.sampled_from(sorted(UNITS)))
def test_any_text_is_a_finite_number_or_a_sentence(text: str, dimension: str) -> None:
    try:
        assert math.isfinite(parse(text, dimension))
    except QuantityError as error:
        assert "\n" not in str(error) or "\n" in text
    else:
        assert re.search(pattern(dimension), text)
