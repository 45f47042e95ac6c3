"""The seat of a family file: everything reached lies ahead of it, edges stand the right way round, straps behind."""

from __future__ import annotations

from typing import Any

from sparwright.base.quantity import inches
from sparwright.family.entry import Entry, Faults
from sparwright.family.model import Fuselage
from sparwright.family.occupant import Seat
from sparwright.family.tables import BAD

FLOOR = 1e-6  # m


def check_seat(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about the seat that no single key can tell."""
    seat = values["seat"]
    if seat in (BAD, None) or "seat" not in whole:
        return
    table = whole["seat"]
    _reached(seat, table, faults)
    _edges(seat, table, faults)
    _straps(seat, table, faults)
    if values["fuselage"] is not BAD:
        _in_the_body(seat, values["fuselage"], table, faults)


def _reached(seat: Seat, table: Entry, faults: Faults) -> None:
    """Stick, pedals and panel lie ahead of the seat; pedals ahead of it in every setting."""
    x = seat.place[0]
    ahead = f"must lie ahead of the seat, station {inches(x)}"
    if seat.stick and seat.stick.place[0] + seat.stick.aft >= x:
        faults.wrong(table["stick"].nearest("place"), f"with the stick aft it {ahead}")
    if seat.pedals and seat.pedals.place[0] + seat.pedals.adjust + seat.pedals.travel >= x:
        faults.wrong(table["pedals"].nearest("place"), f"in every setting they {ahead.replace('must', 'must all')}")
    if seat.panel and seat.panel.station >= x:
        faults.wrong(table["panel"].nearest("station"), ahead)


def _edges(seat: Seat, table: Entry, faults: Faults) -> None:
    """The panel's upper edge is above its lower one, the coaming runs aft and is open."""
    if seat.panel and seat.panel.upper <= seat.panel.lower:
        spot = table["panel"].nearest("upper")
        faults.wrong(spot, f"must be above its lower edge, waterline {inches(seat.panel.lower)}")
    c = seat.coaming
    if c and c.aft[0] <= c.front[0]:
        faults.wrong(table["coaming"].nearest("aft"), f"must lie behind its front, station {inches(c.front[0])}")
    for name in ("front", "aft"):
        if c and getattr(c, name)[1] <= FLOOR:
            faults.wrong(table["coaming"].nearest(name), "is the edge on the right side: its buttline is positive")


def _straps(seat: Seat, table: Entry, faults: Faults) -> None:
    if seat.harness and seat.harness.shoulder and seat.harness.shoulder[0] <= seat.place[0]:
        spot = table["harness"].nearest("shoulder")
        faults.wrong(spot, f"must be held behind the seat, station {inches(seat.place[0])}")


def _in_the_body(seat: Seat, fuselage: Fuselage, table: Entry, faults: Faults) -> None:
    """The seat lies within the body's length and height."""
    x, _, z = seat.place
    first, last = (f(b.station for b in fuselage.body) for f in (min, max))
    low, high = min(b.bottom for b in fuselage.body), max(b.top for b in fuselage.body)
    if not (first <= x <= last and low <= z <= high):
        faults.wrong(table.nearest("place"), f"must lie in the body: station {inches(first)} to {inches(last)}, "
                     f"waterline {inches(low)} to {inches(high)}")  # fmt: skip
