"""Round figures on an axis, and figures as they are lettered."""

from __future__ import annotations

import math

import numpy as np

ROUND = (1.0, 2.0, 5.0, 10.0)
FINE = 1e-9
SMALL, LARGE = 1e-5, 1e7  # steps between which figures are lettered plainly


def step(low: float, high: float, most: int) -> float:
    """The least of 1, 2, 5 times a power of ten that leaves at most `most` steps between low and high.

    Raises ValueError when high is not above low or either is not finite.

    >>> step(-0.3, 1.7, 6), step(0, 20, 8), step(0, 0.014, 5)
    (0.5, 5.0, 0.005)
    """
    if not (math.isfinite(low) and math.isfinite(high) and high > low and most > 0):
        raise ValueError(f"no ticks between {low!r} and {high!r}")
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(r * power for r in ROUND if r * power >= rough * (1 - FINE))


def ticks(low: float, high: float, most: int = 6) -> tuple[float, ...]:
    """Round figures that reach from at or below `low` to at or above `high`, evenly, in at most `most` + 2 steps.

    A range without width, or one of a thousand-millionth of its values, is widened to a step on either side.

    >>> ticks(-0.3, 1.7)
    (-0.5, 0.0, 0.5, 1.0, 1.5, 2.0)
    >>> ticks(3.0, 3.0)
    (2.0, 3.0, 4.0)
    """
    if 0 <= high - low <= FINE * max(abs(low), abs(high)):
        wide = 10.0 ** math.floor(math.log10(max(abs(low), abs(high)))) if low or high else 1.0
        low, high, most = low - wide, high + wide, 2
    by = step(low, high, most)
    first, last = math.floor(low / by + FINE), math.ceil(high / by - FINE)
    return tuple(_tidy(i * by, by) for i in range(first, last + 1))


def reach(low: float, high: float, by: float) -> tuple[float, float]:
    """Ends of an axis whose ticks are `by` apart: low and high taken outwards to a quarter or fifth of a step.

    >>> reach(-6.3, 18.0, 5.0), reach(0.0, 0.013, 0.005)
    ((-7.0, 18.0), (0.0, 0.013))
    """
    fine = by / (4 if f"{by:e}"[0] == "2" else 5)
    first, last = math.floor(low / fine + FINE), math.ceil(high / fine - FINE)
    return _tidy(first * fine, fine), _tidy(last * fine, fine)


def _tidy(value: float, by: float) -> float:
    return round(value, max(places(by), 0) + 2) + 0.0


def places(by: float) -> int:
    """Places after the point that a step needs.

    >>> places(0.5), places(20.0), places(0.002)
    (1, 0, 3)
    """
    return max(0, -math.floor(math.log10(by) + FINE))


def lettered(values: tuple[float, ...]) -> tuple[str, ...]:
    """The figures of an axis, all with as many places as the step between them needs, with true minus signs.

    Steps under a hundred-thousandth or of ten million and more are lettered with a power of ten.

    >>> lettered((-0.5, 0.0, 0.5))
    ('−0.5', '0.0', '0.5')
    >>> lettered((0.0, 2e-7))
    ('0.0e+00', '2.0e−07')
    """
    by = float(np.min(np.diff(values)))
    if not SMALL <= by < LARGE:
        most = max(map(abs, values))
        return tuple(f"{v:.{max(1, math.ceil(math.log10(most / by)))}e}".replace("-", "−") for v in values)
    return tuple(figure(v, places(by)) for v in values)


def figure(value: float, after: int) -> str:
    """A number with `after` places, commas and a true minus sign; "unknown" when it is not finite; never "−0".

    >>> figure(-1234.56, 1), figure(-0.001, 1), figure(float("nan"), 2)
    ('−1,234.6', '0.0', 'unknown')
    """
    if not math.isfinite(value):
        return "unknown"
    text = f"{value:,.{after}f}"
    if not any(c in "123456789" for c in text):
        text = text.lstrip("-")
    return text.replace("-", "−")


def enough(value: float, figures: int = 3) -> int:
    """Places after the point that show `figures` figures of a number.

    >>> enough(0.01234), enough(123.4), enough(0.0)
    (4, 0, 2)
    """
    if not math.isfinite(value) or value == 0:
        return figures - 1
    return max(0, figures - 1 - math.floor(math.log10(abs(value))))
