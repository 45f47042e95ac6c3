"""What licence categories ask for that is no number: answered by the family file, or confirmed by the designer."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sparwright.base.check import Verdict
from sparwright.data.categories import Category, Condition
from sparwright.family.model import Model
from sparwright.rules.quantities import seats

Answer = Callable[[Model], tuple[bool | None, str]]  # whether it is so, None for not known; why


def _always(why: str) -> Answer:
    return lambda model: (True, why)


def _unpressurised(model: Model) -> tuple[bool | None, str]:
    if model.fuselage.open_cockpit:
        return True, "the cockpit is open"
    return None, "the cockpit is closed; the file does not say more"


def _single_seat(model: Model) -> tuple[bool | None, str]:
    count = seats(model)
    return (True, "one seat") if count == 1 else (None, f"{count} seats: a matter of how it is flown")


ANSWERS: Mapping[str, Answer] = {
    "one-engine": _always("a family file can hold one engine only"),
    "reciprocating": _always("a family file can hold one engine with cylinders only"),
    "propeller": _always("a family file can hold a propeller only"),
    "fixed-propeller": _always("a family file can hold a fixed-pitch propeller only"),
    "fixed-gear": _always("a family file can hold fixed wheels only"),
    "landplane": _always("a family file can hold wheels only, and no airframe parachute as such"),
    "no-flaps": _always("a family file can hold no flaps"),
    "unpressurised": _unpressurised,
    "single-seat": _single_seat,
}


def evidence(model: Model, category: Category, row: str) -> str:
    """Who has read or confirmed that row, when and what; empty where nobody has."""
    return next((c.said for c in model.confirmed if (c.category, c.row) == (category.key, row)), "")


def met(model: Model, category: Category, condition: Condition) -> tuple[Verdict, str]:
    """Whether a condition is met, and why.

    A condition from memory is not settled by the file alone: it may ask for more than is recalled.
    """
    said = evidence(model, category, condition.key)
    if said:
        return "pass", said
    if not condition.answer:
        return "unknown", "for the designer to confirm"
    is_so, why = ANSWERS[condition.answer](model)
    if is_so is False:
        return "fail", why
    if condition.source.mark == "memory":
        return "unknown", f"{why}; but the paragraph is recalled, nobody here has read it"
    return ("pass" if is_so else "unknown"), why
