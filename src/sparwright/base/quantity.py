"""Quantities as text at the border, SI floats inside.

`parse("9 ft 3-1/8 in", "length")` gives 2.8194 + 0.003175 m, exactly rounded once. A bare number is
refused: it can only be a count or a ratio. NaN and infinity cannot be written.

Units: exact by definition (inch, pound, knot) or by SI. Source: BIPM SI Brochure, 9th ed.; NIST SP 811 B.8.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache

F = Fraction
_IN = F("0.0254")
_FT = F("0.3048")
_LB = F("0.45359237")
_G = F("9.80665")
_LBF = _LB * _G
_MI = F("1609.344")
_GAL = F("0.003785411784")
_HP = 550 * _FT * _LBF
_DEG = F(math.pi) / 180

UNITS: dict[str, dict[str, Fraction]] = {
    "length": {
        "m": F(1),
        "mm": F(1, 1000),
        "cm": F(1, 100),
        "in": _IN,
        '"': _IN,
        "″": _IN,
        "ft": _FT,
        "'": _FT,
        "′": _FT,
        "yd": 3 * _FT,
        "km": F(1000),
        "nmi": F(1852),
    },
    "area": {"m2": F(1), "mm2": F(1, 10**6), "in2": _IN**2, "ft2": _FT**2},
    "volume": {"m3": F(1), "L": F(1, 1000), "l": F(1, 1000), "gal": _GAL, "in3": _IN**3, "ft3": _FT**3},
    "flow": {
        "L/h": F(1, 3600000),
        "L/min": F(1, 60000),
        "gal/h": _GAL / 3600,
        "gal/min": _GAL / 60,
    },
    "mass": {"kg": F(1), "g": F(1, 1000), "lb": _LB, "oz": _LB / 16},
    "force": {"N": F(1), "kN": F(1000), "lbf": _LBF, "kgf": _G, "daN": F(10)},
    "pressure": {
        "Pa": F(1),
        "kPa": F(1000),
        "MPa": F(10**6),
        "GPa": F(10**9),
        "psi": _LBF / _IN**2,
        "ksi": 1000 * _LBF / _IN**2,
        "psf": _LBF / _FT**2,
    },
    "density": {"kg/m3": F(1), "lb/ft3": _LB / _FT**3, "lb/in3": _LB / _IN**3, "kg/L": F(1000), "lb/gal": _LB / _GAL},
    "areal": {"kg/m2": F(1), "g/m2": F(1, 1000), "lb/ft2": _LB / _FT**2, "oz/yd2": _LB / 16 / (3 * _FT) ** 2},
    "linear": {"kg/m": F(1), "g/m": F(1, 1000), "lb/ft": _LB / _FT},
    "speed": {
        "m/s": F(1),
        "km/h": F(10, 36),
        "kt": F(1852, 3600),
        "mph": _MI / 3600,
        "ft/min": _FT / 60,
        "ft/s": _FT,
    },
    "angle": {"deg": _DEG, "°": _DEG, "rad": F(1)},
    "power": {"W": F(1), "kW": F(1000), "hp": _HP},
    "consumption": {"kg/kWh": F(1, 3600000), "g/kWh": F(1, 3600000000), "lb/hp/h": _LB / _HP / 3600},
    "mass per power": {"kg/W": F(1), "kg/kW": F(1, 1000), "lb/hp": _LB / _HP},
    "turning": {"rpm": F(1, 60), "rev/s": F(1)},
    "current": {"A": F(1), "mA": F(1, 1000)},
    "voltage": {"V": F(1)},
    "charge": {"Ah": F(3600), "C": F(1)},
    "temperature": {"K": F(1)},
    "time": {"s": F(1), "min": F(60), "h": F(3600)},
}
EXAMPLES = {
    "length": '"9 ft 3-1/8 in" or "610 mm"', "area": '"120 ft2"', "volume": '"10 gal" or "38 L"',
    "flow": '"8 gal/h" or "30 L/h"',
    "mass": '"820 lb" or "372 kg"', "force": '"150 lbf"', "pressure": '"75 ksi"', "density": '"27 lb/ft3"',
    "areal": '"0.07 lb/ft2"', "linear": '"0.36 lb/ft"', "speed": '"45 mph"', "angle": '"2.5 deg"',
    "power": '"45 hp"', "consumption": '"0.45 kg/kWh"',
    "mass per power": '"0.5 lb/hp"', "turning": '"3300 rpm"',
    "current": '"5 A"', "voltage": '"14 V"', "charge": '"18 Ah"', "temperature": '"288.15 K"',
    "time": '"30 min"',
}  # fmt: skip
SI_NAME = {
    "length": "m", "area": "m2", "volume": "m3", "flow": "m3/s", "mass": "kg", "force": "N", "pressure": "Pa",
    "density": "kg/m3",
    "areal": "kg/m2", "linear": "kg/m", "speed": "m/s", "angle": "rad", "power": "W", "consumption": "kg/J",
    "mass per power": "kg/W",
    "turning": "rev/s", "current": "A", "voltage": "V", "charge": "C", "temperature": "K", "time": "s",
}  # fmt: skip

NUMBER = (
    r"(?:[0-9]+\s*-\s*[0-9]+/[0-9]+|[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+"
    r"|[0-9]+(?:\.[0-9]*)?(?:[eE][-+]?[0-9]{1,2})?|\.[0-9]+)"
)
WHOLE = 5e-4  # of a tenth of a millimetre, or a 64th: sizes nearer than this are whole ones
LONGEST = 80  # characters of a quantity; keeps every value finite
_TERM = re.compile(rf"\s*({NUMBER})\s*([\"'″′°]|[^\W\d_][^\W\d_/]*(?:/[^\W\d_]+)*[23]?)(?=\s*(?:$|[0-9.]))")
_MIXED = re.compile(r"(?:([0-9]+)(?:\s*-\s*|\s+))?([0-9]+)/([0-9]+)")


class QuantityError(ValueError):
    """Text that is not a quantity of the wanted dimension; its message says why and shows one that is."""


def pattern(dimension: str, signed: bool = True) -> str:
    """The regular expression of a quantity, for the JSON Schema; `signed` says whether it may be negative."""
    names = "|".join(sorted(map(re.escape, UNITS[dimension]), key=len, reverse=True))
    return rf"^\s*{'[-+−]?' if signed else '[+]?'}(\s*{NUMBER}\s*({names}))+\s*$"


@lru_cache(maxsize=8192)
def parse(text: str, dimension: str) -> float:
    """SI value of `text`, e.g. "9 ft 3-1/8 in", as a `dimension` of UNITS.

    A leading sign holds for the whole text; units go from the larger to the smaller, each once.
    Raises QuantityError with a sentence that says what is wanted.

    >>> parse("9 ft 3-1/8 in", "length")
    2.822575
    >>> parse("-2.5 deg", "angle") < 0
    True
    """
    if not isinstance(text, str):
        raise QuantityError(f"needs a unit, like {EXAMPLES[dimension]}; the bare number {text!r} has none")
    body = text.strip()
    if len(body) > LONGEST:
        raise QuantityError(f"is too long for {_a(dimension)}; write it like {EXAMPLES[dimension]}")
    sign, body = (-1, body[1:]) if body[:1] in ("-", "−") else (1, body.removeprefix("+"))
    if not body.strip():
        raise QuantityError(f"is empty; {_a(dimension)} is wanted, like {EXAMPLES[dimension]}")
    total, at, last = F(0), 0, None
    while at < len(body):
        term = _TERM.match(body, at)
        if not term:
            raise QuantityError(_unreadable(text, dimension))
        scale = _scale(term[2], dimension)
        if last is not None and scale >= last:
            raise QuantityError(f"{text!r} must go from larger to smaller units, like {EXAMPLES[dimension]}")
        total += _value(term[1], text, dimension) * scale
        at, last = term.end(), scale
    return float(sign * total)


def _a(dimension: str) -> str:
    return f"{'an' if dimension[0] in 'aeiou' else 'a'} {dimension}"


def _value(text: str, whole: str, dimension: str) -> Fraction:
    mixed = _MIXED.fullmatch(text)
    if not mixed:
        return F(text)
    if int(mixed[3]) == 0:
        raise QuantityError(f"{whole!r} divides by nought; {_a(dimension)} is wanted, like {EXAMPLES[dimension]}")
    if mixed[1] and int(mixed[2]) >= int(mixed[3]):
        raise QuantityError(f"{whole!r} has a fraction of one or more; write it like {EXAMPLES[dimension]}")
    return int(mixed[1] or 0) + F(int(mixed[2]), int(mixed[3]))


def _scale(unit: str, dimension: str) -> Fraction:
    if unit in UNITS[dimension]:
        return UNITS[dimension][unit]
    others = [name for name, units in UNITS.items() if unit in units]
    if others:
        raise QuantityError(f"{unit!r} is a unit of {others[0]}, {_a(dimension)} is wanted, like {EXAMPLES[dimension]}")
    known = ", ".join(u for u in UNITS[dimension] if u.isascii() and u not in "\"'")
    raise QuantityError(f"{unit!r} is not a unit of {dimension} we know ({known}); write it like {EXAMPLES[dimension]}")


def _unreadable(text: str, dimension: str) -> str:
    if re.fullmatch(r"\s*[-+]?(nan|inf|infinity)\b.*", text, re.IGNORECASE):
        return f"{text!r} is not a finite number; {_a(dimension)} is wanted, like {EXAMPLES[dimension]}"
    if re.fullmatch(r".*[0-9],[0-9].*", text):
        return f"{text!r} has a comma; decimals take a point, thousands no mark, like {EXAMPLES[dimension]}"
    if re.fullmatch(rf"\s*[-+−]?{NUMBER}\s*", text):
        return f"{text!r} has no unit; {_a(dimension)} is wanted, like {EXAMPLES[dimension]}"
    return f"{text!r} cannot be read as {_a(dimension)}; write it like {EXAMPLES[dimension]}"


def to(value: float, unit: str) -> float:
    """An SI value in `unit`.

    >>> round(to(20.0633, "kt"), 2)
    39.0
    """
    for units in UNITS.values():
        if unit in units:
            return value / float(units[unit])
    raise KeyError(unit)


def sixty_fourths(metres: float) -> int:
    """A length in whole 64ths of an inch: rounded first, split afterwards."""
    return round(metres / 0.0254 * 64)


def inches(metres: float, feet_from: int = 36) -> str:
    """Shop text of a length, to the nearest 1/64 in; feet and inches from `feet_from` inches up.

    >>> inches(0.0508), inches(2.822575), inches(-0.003175)
    ('2″', '9′ 3 1/8″', '−1/8″')
    """
    count = sixty_fourths(metres)
    sign, count = ("−" if count < 0 else ""), abs(count)
    whole, rest = divmod(count, 64)
    feet = 0
    if count >= feet_from * 64:
        feet, whole = divmod(whole, 12)
    part = F(rest, 64)
    fraction = f"{part.numerator}/{part.denominator}" if part else ""
    inch = " ".join(x for x in (str(whole) if whole or not fraction else "", fraction) if x)
    return sign + (f"{feet}′ " if feet else "") + inch + "″"


def millimetres(metres: float) -> str:
    """Shop text of a length to a tenth of a millimetre, without trailing nought.

    >>> millimetres(0.0508), millimetres(2.8226)
    ('50.8 mm', '2,822.6 mm')
    """
    text = f"{metres * 1000:,.1f}".removesuffix(".0").replace("-", "−")
    return f"{text} mm"


def place_key(metres: float) -> str:
    """A place along a wing or tail surface in inches and 64ths, short enough for a part number.

    >>> place_key(0.3048), place_key(0.1524 + 0.0127)
    ('12', '6+32')
    """
    whole, rest = divmod(sixty_fourths(metres), 64)
    return f"{whole}+{rest:02d}" if rest else str(whole)


def decimal_inches(metres: float) -> str:
    """How gauges of sheet and walls of tube are asked for.

    >>> decimal_inches(0.000889)
    '0.035 in'
    """
    return f"{metres / 0.0254:.3f} in"


def is_metric(metres: float) -> bool:
    """Whether a size of stock is a metric one: a whole tenth of a millimetre, and no 64th of an inch.

    >>> is_metric(0.016), is_metric(0.0127), is_metric(0.000889)
    (True, False, False)
    """
    tenths, parts = metres * 1e4, metres / 0.0254 * 64
    return abs(tenths - round(tenths)) < WHOLE and abs(parts - round(parts)) > WHOLE


def stock_size(metres: float) -> str:
    """How an outside or a side of stock is asked for: millimetres where it is metric, else inches and 64ths.

    >>> stock_size(0.016), stock_size(0.015875)
    ('16 mm', '5/8″')
    """
    return millimetres(metres) if is_metric(metres) else inches(metres)


def gauge(metres: float) -> str:
    """How a sheet or a wall is asked for: millimetres where it is metric, else decimal inches.

    >>> gauge(0.001), gauge(0.000889)
    ('1 mm', '0.035 in')
    """
    return millimetres(metres) if is_metric(metres) else decimal_inches(metres)
