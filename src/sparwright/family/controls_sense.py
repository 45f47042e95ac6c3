"""What controls must be beyond single keys: holes, pulleys and tubes that are named are there, walls leave a bore."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners, material
from sparwright.family.controls import OUT, WELD, ControlCable, Controls, Fairlead, Pulley, Rod
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.model import Fuselage
from sparwright.family.stock import RoundTube
from sparwright.family.tables import BAD

FIXED_HOLES = ("stick.arm", "pedal.cable", "elevator.horn", "rudder.horn")
CENTRE = 1e-6  # m
ON_WINGS = tuple(f"controls.{k}." for k in ("cranks", "pulleys", "fairleads"))  # these may stand on a wing's part
RESERVED = ("lug", "stick", "pedal", "torque_tube", "elevator", "rudder", "aileron")


def check_controls(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about the controls that no single key can tell."""
    c = values["controls"]
    if c in (BAD, None) or "controls" not in whole:
        return
    table = whole["controls"]
    _wanted(values, table, faults)
    _names(c, list(whole["wings"].value) if "wings" in whole else [], table, faults)
    _links(c, values["wings"], table, faults)
    _walls(c, table, faults)
    _plugs(c, table, faults)
    _bolts(table, faults)
    _sizes(c, table, faults)
    if values["fuselage"] is not BAD:
        _tubes(values["fuselage"], list(whole["wings"].value) if "wings" in whole else [], table, faults)
    known = list(whole["allowances"].value) if "allowances" in whole else []
    for i, name in enumerate(c.replaces):
        if name not in known:
            faults.wrong(table["replaces"].nearest(i), f"names an allowance of this model{hint(name, known)}")


def _wanted(values: dict[str, Any], table: Entry, faults: Faults) -> None:
    """Grip and pedals are places of the seat; horns are those of tail frames."""
    seat = values["seat"]
    for name in ("stick", "pedals"):
        if seat is None or (seat is not BAD and getattr(seat, name) is None):
            faults.add(table, f"wants the place of [seat.{name}]", example=f"[seat.{name}]", key=f"seat.{name}")
    for name in ("tailplane", "fin"):
        if values[name] is not BAD and values[name].frame is None:
            faults.add(table, f"wants the horn of [{name}.frame]", example=f"[{name}.frame]", key=f"{name}.frame")
    fin = values["fin"]
    if fin is not BAD and fin.frame is not None and fin.frame.horn.arms != 2:
        faults.add(
            table["pedals"],
            "two pedals pull at a horn with two arms",
            f"{fin.frame.horn.arms}",
            "arms = 2",
            "fin.frame.horn.arms",
        )


def _names(c: Controls, wings: list[str], table: Entry, faults: Faults) -> None:
    """Bell-cranks do not take the name of something else that turns; what stands off the centreline is on the right."""
    for crank in c.cranks:
        if crank.name in RESERVED:
            faults.wrong(table["cranks"][crank.name], f"needs another name: {crank.name} turns already")
        _side(crank.pair, crank.pivot[1], table["cranks"][crank.name], "pivot", faults)
    for pulley in c.pulleys:
        _side(pulley.pair, pulley.turn[1], table["pulleys"][pulley.name], "turn", faults)
        spot = table["pulleys"][pulley.name].nearest("axis")
        if pulley.axis and (len(pulley.axis) != 3 or not any(pulley.axis)):
            faults.wrong(spot, "is a direction: three bare numbers, not all nought", "axis = [0, 1, 0]")
    for lug in c.lugs:
        _side(True, lug.hole[1], table["lugs"][lug.name], "hole", faults)
    for ring in c.fairleads:
        _side(ring.pair, ring.place[1], table["fairleads"][ring.name], "place", faults)
        if ring.bore >= ring.outside:
            faults.wrong(table["fairleads"][ring.name]["bore"], f"must be less than outside, {inches(ring.outside)}")
        in_rib = ring.on.startswith(tuple(f"{w}-" for w in wings))
        if in_rib == (ring.strip is not None):
            wanted = "stands in a rib and has no strip" if in_rib else "wants the strip that holds it to its tube"
            example = "" if in_rib else 'strip = { material = "4130N", thickness = "0.063 in" }'
            faults.add(
                table["fairleads"][ring.name], wanted, example=example, key=f"controls.fairleads.{ring.name}.strip"
            )
    arms = [f"{k.name}.{n}" for k in c.cranks for n in k.holes]
    if c.stops.elevator not in arms:
        faults.wrong(table["stops"]["elevator"], f"names a bell-crank and its hole{hint(c.stops.elevator, arms)}")


def _side(pair: bool, y: float, spot: Entry, key: str, faults: Faults) -> None:
    if pair and y <= CENTRE:
        faults.wrong(spot.nearest(key), "is one of a pair: its buttline is positive, that of the right one")


def holes_of(c: Controls, wings: Any) -> list[str]:
    """Every hole that a rod or cable may be joined at."""
    found = [*FIXED_HOLES, *(f"torque_tube.{n}" for n in c.torque_tube.holes or ())]
    for wing in () if wings is BAD else wings:
        if wing.aileron and wing.aileron.frame:
            levels = ("lower", "upper")[: wing.aileron.frame.horn.arms]
            found += [f"aileron.{wing.name}.{level}" for level in levels]
    found += [f"lug.{k.name}" for k in c.lugs]
    return found + [f"{k.name}.{n}" for k in c.cranks for n in k.holes]


def _links(c: Controls, wings: Any, table: Entry, faults: Faults) -> None:
    """Rods and cables join two holes that are there; each pulley and fairlead leads one cable."""
    known, things = holes_of(c, wings), [*(p.name for p in c.pulleys), *(f.name for f in c.fairleads)]
    used: dict[str, str] = {}
    groups: tuple[tuple[str, tuple[Rod | ControlCable, ...]], ...] = (("rods", c.rods), ("cables", c.cables))
    for group, links in groups:
        for link in links:
            spot = table[group][link.name]
            if len(link.ends) != 2:
                faults.wrong(
                    spot["ends"], "are two holes, from the hand to the surface", 'ends = ["stick.arm", "rear.in"]'
                )
            for i, end in enumerate(link.ends):
                if end not in known:
                    faults.wrong(spot["ends"].nearest(i), f"names a hole{hint(end, known)}")
    for cable in c.cables:
        spot = table["cables"][cable.name]
        for i, name in enumerate(cable.over):
            if name not in things:
                faults.wrong(spot["over"].nearest(i), f"names a pulley or a fairlead{hint(name, things)}")
            elif used.setdefault(name, cable.name) != cable.name or cable.over.count(name) > 1:
                faults.wrong(
                    spot["over"].nearest(i), f"leads the cable {used[name]} already; each leads one cable, once"
                )
            elif _pair_of(c, name) != (cable.pair or cable.across):
                faults.wrong(spot["over"].nearest(i), "is a pair where its cable is one, and single where it is not")
        sprung = any(e == "pedal.cable" for e in cable.ends)
        if not sprung and cable.tension <= 0:
            faults.add(
                spot,
                "a cable that no spring keeps tight is rigged to a tension",
                example='tension = "40 lbf"',
                key=f"{spot.key}.tension",
            )
    for group in ("pulleys", "fairleads"):
        for thing in getattr(c, group):
            if thing.name not in used:
                faults.add(table[group][thing.name], "leads no cable; a cable names it in `over`")


def _plugs(c: Controls, table: Entry, faults: Faults) -> None:
    """What holds a rod's plugs is a weld of steel, or rivets or bolts with their number; a flat is on its ball."""
    for rod in (r for r in c.rods if r.plug):
        spot, steel = table["rods"][rod.name], material(rod.tube.material).kind == "steel"
        if rod.plug != WELD and rod.plug not in fasteners():
            faults.wrong(spot["plug"], f"is {WELD}, or a rivet or bolt{hint(rod.plug, [WELD, *fasteners()])}")
        elif rod.plug == WELD and not steel:
            faults.wrong(spot["plug"], f"is of rivets or bolts: a tube of {rod.tube.material} is not welded here")
        elif rod.plug != WELD and rod.plugs < 1:
            faults.add(
                spot, "says how many rivets or bolts hold one plug", example="plugs = 3", key=f"{spot.key}.plugs"
            )
    face = c.rod_end.face
    if face is not None and not 0 < face < c.rod_end.eye:
        faults.wrong(table["rod_end"]["face"], f"is less than the eye, {inches(c.rod_end.eye)}")


def _pair_of(c: Controls, name: str) -> bool:
    things: tuple[Pulley | Fairlead, ...] = (*c.pulleys, *c.fairleads)
    return next(t.pair for t in things if t.name == name)


def _walls(c: Controls, table: Entry, faults: Faults) -> None:
    for spot, tube in _tubes_of(c, table):
        if tube.wall >= tube.outside / 2:
            faults.wrong(spot.nearest("wall"), f"must be less than half the outside diameter, {inches(tube.outside)}")


def _tubes_of(c: Controls, table: Entry) -> Iterable[tuple[Entry, RoundTube]]:
    yield table["stick"]["tube"], c.stick.tube
    yield table["torque_tube"]["tube"], c.torque_tube.tube
    for name in ("shaft", "hub", "tube"):
        yield table["pedals"][name], getattr(c.pedals, name)
    yield table["stops"]["pin"], c.stops.pin
    for crank in c.cranks:
        yield table["cranks"][crank.name]["hub"], crank.hub
    for rod in c.rods:
        yield table["rods"][rod.name]["tube"], rod.tube


def _bolts(table: Entry, faults: Faults) -> None:
    """Every key `bolt` or `pin` names a bolt."""
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    for entry in table.walk():
        if entry.key.endswith((".bolt", ".pin")) and isinstance(entry.value, str) and entry.value not in known:
            faults.wrong(entry, f"is not a bolt we know{hint(entry.value, known)}")


def _sizes(c: Controls, table: Entry, faults: Faults) -> None:
    """The hub turns on the shaft; cables of different levers are different places; a rod leads somewhere."""
    for rod in (r for r in c.rods if r.fairing == "streamline" and r.faired_width <= 0):
        spot = table["rods"][rod.name]
        faults.add(spot, "a streamline rod needs its faired_width", example='faired_width = "5/8 in"')
    bore = c.pedals.hub.outside - 2 * c.pedals.hub.wall
    if not 0 <= bore - c.pedals.shaft.outside <= 1e-3:
        wanted = f"has a bore of {inches(bore)}; it turns on the shaft, {inches(c.pedals.shaft.outside)}"
        faults.wrong(table["pedals"]["hub"].nearest("outside"), wanted)
    if c.torque_tube.aft <= c.torque_tube.front:
        faults.wrong(table["torque_tube"]["aft"], f"must lie behind front, {inches(c.torque_tube.front)}")
    if len(c.torque_tube.on) < 2:
        faults.add(
            table["torque_tube"]["on"],
            "at least two bearings are wanted",
            f"{len(c.torque_tube.on)}",
            'on = ["C2R-C2L", "D2R-D2L"]',
        )
    _side_stop(c, table, faults)
    _trim(c, table, faults)
    if len(c.pedals.on) != 2:
        faults.add(
            table["pedals"]["on"],
            "the rails lie on two cross tubes, front and rear",
            f"{len(c.pedals.on)}",
            'on = ["B2R-B2L", "C2R-C2L"]',
        )


def _side_stop(c: Controls, table: Entry, faults: Faults) -> None:
    """The pins stand on a bearing of the torque tube, and clear of the tube."""
    if c.stops.side is None:
        return
    spot = table["stops"]["side"]
    if c.stops.side.on not in c.torque_tube.on:
        names = f"names a bearing of the torque tube{hint(c.stops.side.on, list(c.torque_tube.on))}"
        faults.wrong(spot["on"], names, f'on = "{c.torque_tube.on[0]}"' if c.torque_tube.on else "")
    least = (c.torque_tube.tube.outside + c.stops.pin.outside) / 2 / OUT
    if c.stops.side.arm <= least:
        wanted = f"leaves no room between torque tube and pins; more than {inches(least)} does"
        faults.wrong(spot["arm"], wanted)


def _trim(c: Controls, table: Entry, faults: Faults) -> None:
    """The lever is a single bell-crank with a hole for the spring and one for the hand."""
    if c.trim is None:
        return
    spot = table["trim"]["lever"]
    name, _, hole = c.trim.lever.partition(".")
    crank = next((k for k in c.cranks if k.name == name), None)
    known = [f"{k.name}.{n}" for k in c.cranks for n in k.holes if not k.pair]
    if crank is None or hole not in crank.holes or crank.pair:
        faults.wrong(
            spot, f"names a single bell-crank and its hole{hint(c.trim.lever, known)}", 'lever = "trim.spring"'
        )
    elif "grip" not in crank.holes:
        faults.add(table["cranks"][name]["holes"], "the trim's lever has a hole grip, where it is held",
                   example='holes = { spring = ["68 in", "9 in", "-11 in"], grip = ["68 in", "9 in", "-6 in"] }',
                   key=f"controls.cranks.{name}.holes.grip")  # fmt: skip


def _tubes(fuselage: Fuselage, wings: list[str], table: Entry, faults: Faults) -> None:
    """Every key `on` names a tube of the fuselage by its two ends."""
    known = list(dict.fromkeys(n for tube in fuselage.tubes for n in _ends(fuselage, tube.run)))
    for entry in table.walk():
        if entry.key.rsplit(".", 1)[-1] != "on":
            continue
        wing = (
            entry.key.startswith(("controls.cranks.", "controls.pulleys.", "controls.fairleads."))
            or ".controls." in entry.key
        )
        for each in entry.value if isinstance(entry.value, list) else [entry]:
            if wing and isinstance(each.value, str) and each.value.startswith(tuple(f"{w}-" for w in wings)):
                continue  # a part of a wing, found when it is laid out
            if isinstance(each.value, str) and each.value not in known:
                faults.wrong(
                    each, f"names a tube of the fuselage by its two ends{hint(each.value, known)}", 'on = "C2R-C2L"'
                )


def _ends(fuselage: Fuselage, run: tuple[str, ...]) -> tuple[str, ...]:
    """A run by its first and last node, of a pair the right one."""
    pairs = any(n in fuselage.nodes and fuselage.nodes[n][1] > CENTRE for n in run)
    ends = [
        n + "R" if pairs and n in fuselage.nodes and fuselage.nodes[n][1] > CENTRE else n for n in (run[0], run[-1])
    ]
    return ("-".join(ends),)
