"""The seat of a family file: everything reached lies ahead of it, edges stand the right way round, straps behind."""

from __future__ import annotations

from typing import Any

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fitted import FlatSheet
from sparwright.family.fitted_sense import run_ends
from sparwright.family.model import Fuselage
from sparwright.family.occupant import Harness, Seat, SeatAngle, SeatStiffener, SeatTunnel
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
    if seat.turnover_on:
        _turnover(seat, values, table, faults)
    if seat.harness and seat.harness.lug:
        _lugs(seat.harness, values, table["harness"], faults)
    if seat.shell:
        sheets = [] if values["sheets"] is BAD else [s for s in values["sheets"] if s is not BAD]
        _shell(seat, {s.name: s for s in sheets}, table["shell"], faults)
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


def _turnover(seat: Seat, values: dict[str, Any], table: Entry, faults: Faults) -> None:
    """What carries the turnover point is a strut or a tube of the frame."""
    if seat.turnover is None:
        faults.add(table["turnover_on"], "the highest point of what it names is wanted", key=f"{table.key}.turnover")
    if BAD in (values["struts"], values["fuselage"]):
        return
    struts = [s.name for s in values["struts"] if s is not BAD]
    known = [*struts, *sorted(set(run_ends(values["fuselage"].tubes, values["fuselage"].nodes)))]
    for i, name in enumerate(seat.turnover_on):
        if name not in known:
            wanted = f"names a strut, or a tube of the frame by its first and last node{hint(name, known)}"
            faults.wrong(table["turnover_on"].nearest(i), wanted)


def _lugs(harness: Harness, values: dict[str, Any], table: Entry, faults: Faults) -> None:
    """Lugs stand on tubes that are there, with a bolt that is known and whose head fits their edge."""
    lug = harness.lug
    assert lug is not None
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if lug.bolt not in known:
        faults.wrong(table["lug"].nearest("bolt"), f"is not a bolt we know{hint(lug.bolt, known)}")
    elif lug.edge <= fasteners()[lug.bolt].diameter:
        faults.wrong(table["lug"]["edge"], "must be more than the bolt's diameter, so that half of it is left")
    if values["fuselage"] is not BAD:
        ends = sorted(set(run_ends(values["fuselage"].tubes, values["fuselage"].nodes)))
        for key in ("shoulder_on", "lap_on") if harness.shoulder else ("lap_on",):
            name = getattr(harness, key)
            if name not in ends:
                wanted = f"names a tube of the frame by its first and last node{hint(name, ends)}"
                faults.add(table.nearest(key), wanted, name, key=f"{table.key}.{key}")
    names = [] if values["items"] is BAD else [i.name for i in values["items"] if i is not BAD]
    if harness.item and harness.item not in names:
        faults.wrong(table["item"], f"names an item of [items]{hint(harness.item, names)}")


def _in_the_body(seat: Seat, fuselage: Fuselage, table: Entry, faults: Faults) -> None:
    """The seat lies within the body's length and height."""
    x, _, z = seat.place
    first, last = (f(b.station for b in fuselage.body) for f in (min, max))
    low, high = min(b.bottom for b in fuselage.body), max(b.top for b in fuselage.body)
    if not (first <= x <= last and low <= z <= high):
        faults.wrong(table.nearest("place"), f"must lie in the body: station {inches(first)} to {inches(last)}, "
                     f"waterline {inches(low)} to {inches(high)}")  # fmt: skip


def _shell(seat: Seat, sheets: dict[str, FlatSheet], table: Entry, faults: Faults) -> None:
    """Pan and back are two flat sheets, the pan on the back; the strips and the tunnel lie on them."""
    shell = seat.shell
    assert shell is not None
    for key in ("pan", "back"):
        if getattr(shell, key) not in sheets:
            faults.wrong(table[key], f"names a flat sheet of [sheets]{hint(getattr(shell, key), sheets)}")
    pan = sheets.get(shell.pan)
    if pan and shell.back in sheets and shell.back not in pan.stands_on:
        wanted = f"the pan is cut to the back: [sheets.{shell.pan}] wants stands_on = [{shell.back!r}]"
        faults.wrong(table["pan"], wanted)
    _angle(shell.angle, table["angle"], faults)
    _stiffener(seat, shell.stiffener, pan, table["stiffener"], faults)
    if shell.tunnel:
        _tunnel(seat, shell.tunnel, pan, table["tunnel"], faults)
        if shell.angle.inner < shell.tunnel.width / 2:
            beside = f"must lie outside the tunnel, buttline {inches(shell.tunnel.width / 2)} or more"
            faults.wrong(table["angle"]["inner"], beside)


def _angle(angle: SeatAngle, table: Entry, faults: Faults) -> None:
    if angle.outer <= angle.inner:
        faults.wrong(table["outer"], f"must lie outside its inner end, buttline {inches(angle.inner)}")
    if angle.leg <= 2 * angle.sheet.thickness:
        faults.wrong(table["leg"], "must be wider than two thicknesses of its sheet")
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if angle.bolt not in known:
        faults.wrong(table.nearest("bolt"), f"is not a bolt we know{hint(angle.bolt, known)}")


def _stiffener(seat: Seat, strip: SeatStiffener, pan: FlatSheet | None, table: Entry, faults: Faults) -> None:
    """It lies beneath the pan, from front to rear, and clear of the strips behind it."""
    shell = seat.shell
    assert shell is not None
    if strip.rear <= strip.front:
        faults.wrong(table["rear"], f"must lie behind its front end, station {inches(strip.front)}")
    if strip.leg <= 2 * strip.sheet.thickness:
        faults.wrong(table["leg"], "must be wider than two thicknesses of its sheet")
    if pan and strip.buttline + strip.leg > max(p[1] for p in pan.corners.values()):
        faults.wrong(table["buttline"], "with its leg it runs out of the pan's side")
    if shell.tunnel and strip.buttline < shell.tunnel.width / 2:
        beside = f"must lie beside the slot, buttline {inches(shell.tunnel.width / 2)} or more"
        faults.wrong(table["buttline"], beside)
    _rivet(strip.rivet, table["rivet"], faults)


def _rivet(key: str, spot: Entry, faults: Faults) -> None:
    known = [k for k, f in fasteners().items() if f.kind.endswith("rivet")]
    if key not in known:
        faults.wrong(spot, f"is not a rivet we know{hint(key, known)}")


def _tunnel(seat: Seat, tunnel: SeatTunnel, pan: FlatSheet | None, table: Entry, faults: Faults) -> None:
    """It begins on the pan, ahead of the seat reference point, and is higher than its sheet is thick."""
    if tunnel.front >= seat.place[0]:
        faults.wrong(table["front"], f"must lie ahead of the seat reference point, station {inches(seat.place[0])}")
    elif pan and tunnel.front <= min(p[0] for p in pan.corners.values()):
        faults.wrong(table["front"], "must lie on the pan, behind its front edge")
    for key in ("front_height", "rear_height"):
        if getattr(tunnel, key) <= 2 * tunnel.sheet.thickness:
            faults.wrong(table[key], "must be more than two thicknesses of its sheet")
    _rivet(tunnel.rivet, table["rivet"], faults)
