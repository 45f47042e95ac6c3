"""Whether a wing's stouter ribs make sense: a whole rib stands there, once, and it is stouter than the others."""

from __future__ import annotations

from sparwright.base.quantity import decimal_inches, inches, millimetres
from sparwright.data.loader import materials
from sparwright.family.entry import Entry, Faults
from sparwright.family.model import SAME_RIB, StouterRib, Wing, stouter_made
from sparwright.family.rib_lines import rib_lines

NEAR = 1e-9  # m: rounding


def check_stouter_ribs(wing: Wing, table: Entry, faults: Faults) -> None:
    """Note what is wrong with the stouter ribs of a wing."""
    taken: dict[int, str] = {}
    lines = rib_lines(wing)
    for s in wing.stouter_ribs:
        spot = table["stouter_ribs"][s.name]
        if not s.at:
            faults.wrong(spot["at"], "are the buttlines of one whole rib at least", 'at = ["12 in"]')
        for i, y in enumerate(s.at if lines else ()):
            _stands(y, lines, s, taken, spot["at"].nearest(i), faults)
        _made(wing, s, spot, faults)


def _stands(y: float, lines: list[float], s: StouterRib, taken: dict[int, str], spot: Entry, faults: Faults) -> None:
    near = min(range(len(lines)), key=lambda i: abs(lines[i] - y))
    if abs(lines[near] - y) >= SAME_RIB:
        beside = sorted(sorted(lines, key=lambda b: abs(b - y))[:2])
        faults.wrong(spot, f"is the buttline of a whole rib; the nearest stand at {' and '.join(map(_line, beside))}")
    elif near in taken:
        faults.wrong(spot, f"is said of this rib already, in stouter_ribs.{taken[near]}")
    else:
        taken[near] = s.name


def _line(buttline: float) -> str:
    return f"{round(buttline / 0.0254, 3):g} in"


def _made(wing: Wing, s: StouterRib, spot: Entry, faults: Faults) -> None:
    """Its sheet, holes and flange against those of the other ribs."""
    others, made = wing.ribs, stouter_made(wing.ribs, s)
    thin = made.sheet.thickness < others.sheet.thickness - NEAR
    if thin and made.sheet.material == others.sheet.material and not s.back_to_back:
        faults.wrong(spot["sheet"]["thickness"], f"is no thinner than the other ribs, {_thick(wing)}")
    _holes(wing, s, spot, faults)
    if (made.flange > 0) != (others.flange > 0):
        wanted = "is bent as the other ribs of the wing are" if others.flange > 0 else "the ribs of the wing are flat"
        faults.wrong(spot["flange"], f"{wanted}: one wing has its ribs with flanges or without")
    elif others.flange > 0 and made.flange <= made.bend_radius + made.sheet.thickness:
        least = made.bend_radius + made.sheet.thickness
        faults.wrong(spot.nearest("flange"), f"must be wider than its own bend, {inches(least)}")
    if made == others and not s.back_to_back:
        faults.add(spot, "is made as the other ribs are: a thicker sheet, smaller holes or none, a wider flange or two "
                   "back to back make it stouter", example="holes = false")  # fmt: skip


def _holes(wing: Wing, s: StouterRib, spot: Entry, faults: Faults) -> None:
    if s.web_left is None:
        return
    if not s.holes:
        faults.wrong(spot["web_left"], "is what is left round holes, and it has none; leave one of the two out")
    elif s.web_left <= 0:
        faults.wrong(spot["web_left"], "must leave something round its holes; for none say holes = false")
    elif 0 < s.web_left < wing.ribs.web_left - NEAR or wing.ribs.web_left == 0:
        left = f"{inches(wing.ribs.web_left)} is left round them" if wing.ribs.web_left else "they have none"
        faults.wrong(spot["web_left"], f"makes its holes larger than those of the other ribs: {left}")


def _thick(wing: Wing) -> str:
    s = wing.ribs.sheet
    metal = s.material in materials() and materials()[s.material].kind in ("aluminium", "steel")
    return decimal_inches(s.thickness) if metal else millimetres(s.thickness)
