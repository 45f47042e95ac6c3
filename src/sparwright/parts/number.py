"""Part and joint numbers, and how a place is named on paper."""

from __future__ import annotations


def part_number(model: str, group: str, kind: str, key: str = "", hand: str = "") -> str:
    """`W1-wing-RIB-36`: model, group, kind, place in the file; hand last for a part that has one.

    >>> part_number("W1", "upper", "NOSE-RIB", "36", "R")
    'W1-upper-NOSE-RIB-36-R'
    """
    return "-".join(x for x in (model, group, kind, key, hand) if x)
