"""Four lengths as a builder writes them, "A-B 876.1 mm; A-D 34 in; ...": read, and what is wrong with them told.

A wrong unit is recognised by trying the figure in the others against the length as drawn.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import NUMBER, QuantityError, inches, millimetres, parse
from sparwright.plans.correction import Measured

EXAMPLE = "A-B 876.1 mm; A-D 571.2 mm; A-C 1046.0 mm; B-D 1045.6 mm"
PAIRS = {"AB": "A–B", "AD": "A–D", "AC": "A–C", "BD": "B–D"}
UNITS = {"mm": 0.001, "cm": 0.01, "in": 0.0254, "m": 1.0, "ft": 0.3048}
WORDS = {"mm": "millimetres", "cm": "centimetres", "in": "inches", "m": "metres", "ft": "feet"}
NEAR = 0.03  # a figure this near the drawn length in some unit is of that unit
FAR = 10**9  # inches without feet
_NAMED = re.compile(r"\b([A-D])\s*[-–—−]?\s*([A-D])\b\s*[:=]?")
_ONE = re.compile(rf"\s*({NUMBER})\s*([^\d\s]*)\s*")

Ruled = Mapping[str, tuple[float, float]]  # what may be measured, in words, to A-B and A-D as drawn, m


def measured(text: str, on: str, ruled: Ruled, printer: str, date: str) -> Measured:
    """The four lengths of `text`, measured on what `ruled` calls `on`.

    Raises DesignProblem in one sentence: which length is missing, has no unit or the wrong one, stands for another, or
    belongs to another paper.
    """
    width, height = ruled[on]
    drawn = {"AB": width, "AD": height, "AC": math.hypot(width, height), "BD": math.hypot(width, height)}
    texts = _texts(text)
    faults = [f for pair in PAIRS for f in _fault(pair, texts[pair], drawn[pair])]
    if faults:
        raise DesignProblem("; ".join(faults))
    found = {pair: parse(texts[pair], "length") for pair in PAIRS}
    _refuse_exchanged(found, width, height)
    _refuse_other(found, on, ruled)
    return Measured(on, printer, date, width, height, found["AB"], found["AD"], found["AC"], found["BD"])


def _texts(text: str) -> dict[str, str]:
    """What is written after each pair of letters."""
    named = list(_NAMED.finditer(text))
    texts: dict[str, str] = {}
    for i, match in enumerate(named):
        pair = "".join(sorted(match[1] + match[2]))
        end = named[i + 1].start() if i + 1 < len(named) else len(text)
        if pair not in PAIRS:
            raise DesignProblem(f"{match[1]}–{match[2]} is not one of the four lengths; wanted is {EXAMPLE!r}")
        if pair in texts:
            raise DesignProblem(f"{PAIRS[pair]} is given twice; wanted is {EXAMPLE!r}")
        texts[pair] = text[match.end() : end].strip(" ;,\t\n")
    missing = [PAIRS[p] for p in PAIRS if not texts.get(p)]
    if missing or (named and text[: named[0].start()].strip(" ;,")):
        lack = f"{' and '.join(missing)} missing" if missing else f"{text[: named[0].start()].strip()!r} has no name"
        raise DesignProblem(f"of the four measured lengths {lack}; wanted is {EXAMPLE!r}")
    return texts


def _fault(pair: str, text: str, drawn: float) -> list[str]:
    """What is wrong with one length by itself; nothing when it is near what was drawn."""
    name, one = PAIRS[pair], _ONE.fullmatch(text)
    likely = _likely(one[1], drawn) if one else ""
    try:
        value = parse(text, "length")
    except QuantityError as fault:
        guess = f"; by its size it is {WORDS[likely]}: write {one[1]} {likely}" if likely and one and not one[2] else ""
        return [f"{name}: {fault}{guess}"]
    if value <= 0:
        return [f"{name}: {text!r} is not more than nought"]
    if abs(value / drawn - 1) <= NEAR or not likely or one is None:
        return []
    return [
        f"{name}: {text} cannot be, it was drawn {inches(drawn, FAR)} = {millimetres(drawn)}; the figure looks like "
        f"{WORDS[likely]}: write {one[1]} {likely} if it is"
    ]


def _likely(figure: str, drawn: float) -> str:
    """The unit in which the figure is near the drawn length; empty for none."""
    for unit, scale in UNITS.items():
        try:
            value = parse(f"{figure} {unit}", "length")
        except QuantityError:
            return ""
        if abs(value / drawn - 1) <= NEAR and scale:
            return unit
    return ""


def _refuse_exchanged(found: Mapping[str, float], width: float, height: float) -> None:
    if abs(found["AB"] / height - 1) <= NEAR and abs(found["AD"] / width - 1) <= NEAR:
        raise DesignProblem(
            f"A–B and A–D look exchanged: A–B was drawn {millimetres(width)}, A–D {millimetres(height)}; "
            "A is the corner where both check lines begin, lower left as the lettering is read"
        )


def _refuse_other(found: Mapping[str, float], on: str, ruled: Ruled) -> None:
    """Lengths that are those of another sheet or paper."""
    if _fits(found, ruled[on]):
        return
    for name, sides in ruled.items():
        if name != on and _fits(found, sides):
            raise DesignProblem(f"these are the lengths of {name}, not of {on}; say what was measured")


def _fits(found: Mapping[str, float], sides: tuple[float, float]) -> bool:
    return all(abs(found[p] / s - 1) <= NEAR / 2 for p, s in zip(("AB", "AD"), sides, strict=True))
