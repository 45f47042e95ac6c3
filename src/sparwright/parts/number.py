"""Part and joint numbers, and how a place is named on paper."""

from __future__ import annotations

from sparwright.base.quantity import sixty_fourths


def part_number(model: str, group: str, kind: str, key: str = "", hand: str = "") -> str:
    """`W1-wing-RIB-36`: model, group, kind, place in the file; hand last for a part that has one.

    >>> part_number("W1", "upper", "NOSE-RIB", "36", "R")
    'W1-upper-NOSE-RIB-36-R'
    """
    return "-".join(x for x in (model, group, kind, key, hand) if x)


def place_key(metres: float) -> str:
    """A buttline in inches and 64ths, short enough for a number.

    >>> place_key(0.3048), place_key(0.1524 + 0.0127)
    ('12', '6+32')
    """
    whole, rest = divmod(sixty_fourths(metres), 64)
    return f"{whole}+{rest:02d}" if rest else str(whole)
