"""What moisture, slope of grain, time under load and heat do to a strength of wood, each with its price.

    P = P_12 (P_12/P_g)^((12 - M)/(M_p - 12))            drying, M moisture in per cent, M_p where it begins to count
    P_M/P_B = (P_12/P_g)^((B - M)/(M_p - 12))            the same from the moisture B a strength is printed for
    N = P Q/(P sin^n a + Q cos^n a)                      Hankinson: at an angle a to the grain
    SL = 18.3 + 108.4 t^-0.0464 per cent                 Madison curve, t in seconds

Prices never exceed 1: no credit is taken for dry, cold, straight or briefly loaded wood. Flight loads last no longer
than the 3 s the printed strengths are for, so time costs nothing there; it does for rigging and for weight at rest.
Wetter than M_p wood is as green wood (fpl-gtr-282, memory, high). Sources and marks: data/wood.toml.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.data import wood
from sparwright.strength.members.wood_margin import Floats

DRIEST = 6.0  # per cent; drier wood's tension falls again, so the formula is not used (fpl-gtr-282, memory, medium)
COLD, WARM, HOT = -50.0, 20.0, 50.0  # degrees Celsius: the table's ends and its zero
SHORTEST, LONGEST = 0.015, 1.6e9  # s: the curve's points, 0.015 s to 50 years
STAND_IN = {"tension": "bending"}  # no green tension is printed; bending loses more, so it stands on the safe side


@dataclass(frozen=True)
class WoodState:
    """How the wood is when the load comes; the defaults are what printed strengths are for."""

    moisture: float = number("1", "per cent of the dry weight", 15.0)
    printed_moisture: float = number("1", "per cent that the strength is printed for", 15.0)
    grain_run: float = number("1", "slope of grain is 1 in this", float("inf"))
    duration: float = number("s", "how long the load lasts", 3.0)
    temperature: float = number("degC", "of the wood", 20.0)
    knots: bool = False  # in the strained part


def dried(dry: Floats, green: Floats, meets: Floats, moisture: Floats) -> np.ndarray:
    """P at a moisture, per cent: dry P_12 and green P_g in one unit, meets M_p. NaN under 6 per cent.

    >>> round(float(dried(103000.0, 66000.0, 24.0, 8.0)), -2)   # the handbook's example prints 119,500 kPa
    119500.0
    """
    m = np.minimum(np.asarray(moisture, dtype=float), meets)
    found = np.asarray(dry) * (np.asarray(dry) / green) ** ((12 - m) / (np.asarray(meets) - 12))
    return np.asarray(np.where(m >= DRIEST, found, np.nan))


def moisture_factor(species: str, prop: str, moisture: Floats, printed: Floats = 15.0) -> np.ndarray:
    """P at `moisture` over P at the printed one; prop: bending, compression, shear,
    compression_across, youngs or tension.

    KeyError for a species or property that is not on file.
    """
    row = wood.drying(species)
    name = STAND_IN.get(prop, prop)
    at, base = (dried(row.dry[name], row.green[name], row.meets, m) for m in (moisture, printed))
    return np.asarray(at / base)


def hankinson(along: Floats, across: Floats, angle: Floats, exponent: Floats = 2.0) -> np.ndarray:
    """N = P Q/(P sin^n a + Q cos^n a), angle rad from 0 to pi/2; NaN outside. Source: hankinson-1921 (n 2; read of).

    >>> round(float(hankinson(30.0, 5.0, np.pi / 4)), 4)
    8.5714
    """
    p, q, a = np.asarray(along, dtype=float), np.asarray(across, dtype=float), np.asarray(angle, dtype=float)
    within = (a >= 0) & (a <= np.pi / 2 + 1e-12)
    s, c = (np.abs(f(np.where(within, a, 0.0))) ** exponent for f in (np.sin, np.cos))
    return np.asarray(np.where(within, p * q / (p * s + q * c), np.nan))


def slope_factor(prop: str, run: Floats) -> np.ndarray:
    """Strength at a slope of grain of 1 in `run` over that at the slope printed strengths allow already.

    bending, compression: the table, straight between its rows, to 1 in 5. tension: Hankinson with the worst
    corner of its published range. Others: NaN unless the slope is within 1 in 15. At most 1.

    >>> slope_factor("bending", np.array([np.inf, 15.0, 10.0, 4.0])).round(3)
    array([1.  , 1.  , 0.91,  nan])
    """
    rise = 1 / np.asarray(run, dtype=float)
    if prop == "tension":
        g, allowed = wood.grain("tension"), wood.slope_allowed("tension")[0]
        at, base = (hankinson(1.0, g.ratio[0], np.arctan(x), g.exponent[0]) for x in (rise, 1 / allowed))
        return np.asarray(np.where(rise <= 0.2, np.minimum(1.0, at / base), np.nan))
    if prop not in ("bending", "compression"):
        return np.asarray(np.where(rise <= 1 / 15, 1.0, np.nan))
    curve, allowed = wood.slope(prop), wood.slope_allowed(prop)[0]
    at, base = (np.interp(x, curve.at, curve.value) for x in (rise, 1 / allowed))
    return np.asarray(np.where(rise <= curve.at[-1], np.minimum(1.0, at / base), np.nan))


def madison(seconds: Floats) -> np.ndarray:
    """SL: per cent of a standard short test borne for so many seconds. Range: 0.015 s to 50 years; NaN outside.

    >>> float(madison(3.156e8).round(1))
    62.0
    """
    c, t = wood.lasting(), np.asarray(seconds, dtype=float)
    within = (t >= SHORTEST) & (t <= LONGEST)
    return np.asarray(np.where(within, c.base + c.factor * np.where(within, t, 1.0) ** c.power, np.nan))


def duration_factor(seconds: Floats) -> np.ndarray:
    """What a load that lasts so long leaves of a strength printed for 3 s; at most 1."""
    return np.asarray(np.minimum(1.0, madison(seconds) / madison(wood.lasting().standard)))


def heat_factor(prop: str, temperature: Floats, moisture: float = 12.0) -> np.ndarray:
    """What a temperature, degrees Celsius, leaves of a property; straight from 20 to 50. At most 1.

    The row whose moistures hold this one, else the wettest on file; tension wetter than its row takes bending's, which
    loses more. NaN outside -50 to 50 and where no row is on file. Wood that is hotter for long, or often, is weaker
    for good: not worked out.

    >>> float(heat_factor("bending", 40.0).round(3))
    0.867
    """
    t, rows = np.asarray(temperature, dtype=float), wood.heat(prop)
    row = next((r for r in rows if r.low <= moisture <= r.high), rows[-1] if rows else None)
    if row is None:
        return np.full(t.shape, np.nan)
    if prop in STAND_IN and moisture > row.high:
        return heat_factor(STAND_IN[prop], temperature, moisture)
    share = 1 + row.hot * np.clip((t - WARM) / (HOT - WARM), 0, None)
    return np.asarray(np.where((t >= COLD) & (t <= HOT), share, np.nan))


def price(species: str, prop: str, state: WoodState) -> tuple[float, tuple[Step, ...]]:
    """(factor on a printed strength, its steps): moisture, slope of grain, time, heat and knots, each at most 1.

    NaN where one of them is unknown: a knot in the strained part has no published price in aircraft wood.
    """
    wet = min(1.0, float(moisture_factor(species, prop, state.moisture, state.printed_moisture)))
    steep, long = float(slope_factor(prop, state.grain_run)), float(duration_factor(state.duration))
    warm = 1.0 if state.temperature == WARM else float(heat_factor(prop, state.temperature, state.moisture))
    knot = float("nan") if state.knots else 1.0
    dry = wood.drying(species)
    name = STAND_IN.get(prop, prop)
    whole = wet * steep * (1.0 if prop == "youngs" else long) * warm * knot
    steps = (
        Step("price of moisture", "(P_12/P_g)^((B - M)/(M_p - 12)), at most 1",
             (("P_12", dry.dry[name], "Pa"), ("P_g", dry.green[name], "Pa"), ("M_p", dry.meets, "1"),
              ("M", state.moisture, "1"), ("B", state.printed_moisture, "1")), wet, "1", str(dry.source)),
        Step("price of sloping grain", "share(1 in n)/share(allowed already)", (("n", state.grain_run, "1"),), steep,
             "1", str(wood.slope("bending").source)),
        Step("price of time", "SL(t)/SL(3 s), at most 1", (("t", state.duration, "s"),), long, "1",
             str(wood.lasting().source)),
        Step("price of heat", "1 + change (T - 20)/30", (("T", state.temperature, "degC"),), warm, "1",
             str(rows[0].source) if (rows := wood.heat(prop)) else "no row on file"),
        Step("price of knots", "1 without; unknown with", (), knot, "1", "no published price"),
        Step("what is left of the strength", "product", (), whole, "1", "common practice: effects multiply"),
    )  # fmt: skip
    return whole, steps
