"""What a tail frame must be beyond single keys: ribs on the surface, rivets off the edge, tubes that fit."""

from __future__ import annotations

import math
from typing import Any

from sparwright.base.quantity import inches
from sparwright.data.loader import Fastener, fasteners
from sparwright.family.balance_sense import check_tail_weight
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.model import Fuselage, RoundTube, TailSurface
from sparwright.family.tables import BAD
from sparwright.family.tail_frame import FixedFrame, Gusset, MovableFrame, TailFrame

NEAR = 1e-6  # m
INCH = 0.0254  # m
EDGE = 2.0  # diameters of a rivet to the edge of a plate, single rows: ac-43-13-1b chapter 4 (read second hand)
ROW = 3.0  # diameters from rivet to rivet, single rows: the same
STRAIGHT = 0.4e-3  # m a hinge line may be off straight at the tip (common practice, no source)
ON_PIN = 0.3e-3  # m a bush may be wider than its pin (common practice, no source)
ROUNDING = 1e-9  # m: sums of lengths are no truer
IN_BORE = 1.0e-3  # m a tube may be thinner than the bore it goes in (common practice, no source)
STEP = 0.2e-3  # m the root ribs may be off the tabs they are bolted to (common practice, no source)


def check_tails(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about the frames of tailplane and fin that no single key can tell."""
    for name, flat in (("tailplane", True), ("fin", False)):
        tail = values[name]
        if tail is not BAD and tail.frame is not None:
            _frame(tail, tail.frame, flat, whole[name], faults)
            if values["fuselage"] is not BAD:
                _attach(tail.frame, flat, values["fuselage"], whole[name]["frame"], faults)
    both = [values[n].frame for n in ("tailplane", "fin") if values[n] is not BAD]
    if len(both) == 2 and all(both):
        _beside_the_tabs(both[0], both[1], whole["tailplane"]["frame"], faults)


def _frame(tail: TailSurface, frame: TailFrame, flat: bool, surface: Entry, faults: Faults) -> None:
    table = surface["frame"]
    tip = tail.span / 2 if flat else tail.span
    for part, name in ((frame.fixed, "fixed"), (frame.movable, "movable")):
        _one_outside(part, table[name], faults)
        _ribs(part, tip, table[name], faults)
    if not flat and (frame.fixed.foot is None or frame.fixed.foot >= frame.fixed.root):
        wanted = f"a fin says the height its foot ends at, below its root, {inches(frame.fixed.root)}"
        faults.add(table["fixed"], wanted, example='foot = "1/4 in"', key=f"{table['fixed'].key}.foot")
    _gusset(frame.gusset, table["gusset"], faults)
    _hinge_line(tail, frame, flat, surface, faults)
    _hinges(frame, tip, table["hinges"], faults)
    _join(frame, table, faults)
    check_tail_weight(tail, frame, table, faults)
    for key, name in (("bolt", frame.bolt), ("pin", frame.hinges.pin)):
        spot = table["bolt"] if key == "bolt" else table["hinges"]["pin"]
        check_fastener(name, ("bolt",), spot, faults)


def check_fastener(name: str, kinds: tuple[str, ...], spot: Entry, faults: Faults) -> bool:
    """Whether a fastener of one of these kinds is known; a problem when not."""
    known = [k for k, f in fasteners().items() if f.kind.endswith(kinds)]
    if name not in known:
        faults.wrong(spot, f"is not a {' or '.join(kinds)} we know{hint(name, known)}")
    return name in known


def _one_outside(part: FixedFrame | MovableFrame, table: Entry, faults: Faults) -> None:
    """All tubes of a rigid frame have the outside of its spar or front tube, and a bore."""
    main = "spar" if isinstance(part, FixedFrame) else "front"
    rest = ("leading", "rib", "ends", "diagonal") if isinstance(part, FixedFrame) else (
        "trailing", "rib", "ends", "diagonal")  # fmt: skip
    wanted: RoundTube = getattr(part, main)
    for name in (main, *rest):
        tube: RoundTube | None = getattr(part, name)
        if tube is None:
            continue
        if abs(tube.outside - wanted.outside) > NEAR:
            said = f"must be that of the {main} tube, {inches(wanted.outside)}: flat gussets lie on all of them"
            faults.wrong(table[name].nearest("outside"), said)
        check_bore(tube, table[name], faults)


def check_bore(tube: RoundTube, spot: Entry, faults: Faults) -> None:
    """A tube's wall leaves a bore."""
    if tube.wall >= tube.outside / 2:
        faults.wrong(spot.nearest("wall"), f"must be less than half the outside diameter, {inches(tube.outside)}")


def _ribs(part: FixedFrame | MovableFrame, tip: float, table: Entry, faults: Faults) -> None:
    """Root and ribs lie on the surface, from the inside out, beside one another."""
    start, last, thick = part.inner, tip - part.ends.outside / 2, part.rib.outside
    if not part.ribs and part.pitch is None:
        faults.add(table, "says where its ribs are: pitch or ribs", example='pitch = "15 in"', key=f"{table.key}.pitch")
    if part.pitch is not None and part.pitch <= thick:
        faults.wrong(table["pitch"], f"must be more than the ribs are thick, {inches(thick)}")
    for key in ("root", "root_aft"):
        if getattr(part, key, 0.0) >= last:
            faults.wrong(table.nearest(key), f"must lie within the tip, {inches(last)}")
    for i, v in enumerate(part.ribs):
        if not start < v < last:
            spot = table.nearest("ribs", i)
            faults.wrong(spot, f"a rib lies between root and tip tube, {inches(start)} to {inches(last)}")
        elif i and v <= part.ribs[i - 1]:
            faults.wrong(table.nearest("ribs", i), "ribs are said from the inside out")
        elif i and v - part.ribs[i - 1] <= thick:
            faults.wrong(table.nearest("ribs", i), f"ribs stand further apart than they are thick, {inches(thick)}")


def _gusset(g: Gusset, table: Entry, faults: Faults) -> None:
    """Rivets that are known, far enough from edges and from one another."""
    if check_fastener(g.rivet, ("rivet",), table["rivet"], faults):
        check_row(fasteners()[g.rivet], g.rivets, g.pitch, g.edge, table, faults)


def check_row(one: Fastener, count: int, pitch: float, edge: float, table: Entry, faults: Faults) -> None:
    """A row of rivets or bolts is far enough from the edge and from one to the next; keys `edge` and `pitch`."""
    d, word = one.diameter, one.kind.split()[-1]
    if edge < EDGE * d - NEAR:
        wanted = f"a {word} of {inches(d)} stays two diameters from an edge, {inches(EDGE * d)} (AC 43.13-1B)"
        faults.wrong(table["edge"], wanted, f'edge = "{EDGE * d / INCH:.4g} in"')
    if count > 1 and pitch < ROW * d - NEAR:
        wanted = f"{word}s of {inches(d)} stand three diameters apart, {inches(ROW * d)} (AC 43.13-1B)"
        faults.wrong(table["pitch"], wanted, f'pitch = "{ROW * d / INCH:.4g} in"')


def _hinge_line(tail: TailSurface, frame: TailFrame, flat: bool, surface: Entry, faults: Faults) -> None:
    """Tubes before and behind the hinge line within the chord, and elevators that turn about one straight line."""
    for chord, where in ((tail.root_chord, "root"), (tail.tip_chord, "tip")):
        before = tail.hinge * chord - frame.gap / 2 - 2 * frame.fixed.spar.outside
        behind = (1 - tail.hinge) * chord - frame.gap / 2 - 2 * frame.movable.front.outside
        if min(before, behind) <= 0:
            side = "ahead of" if before <= 0 else "behind"
            wanted = f"leaves no room {side} it for two tubes and half the gap in the chord at the {where}"
            faults.wrong(surface["hinge"], f"{wanted}, {inches(chord)}")
            return
    off = tail.span / 2 * math.tan(tail.sweep) + tail.hinge * (tail.tip_chord - tail.root_chord)
    if flat and abs(off) > STRAIGHT:
        best = math.degrees(math.atan(tail.hinge * (tail.root_chord - tail.tip_chord) / (tail.span / 2)))
        wanted = f"bends the hinge line: joined elevators turn about one straight line; {best:.3f} deg gives it"
        faults.wrong(surface.nearest("sweep"), wanted, f'sweep = "{best:.3f} deg"')


def _hinges(frame: TailFrame, tip: float, table: Entry, faults: Faults) -> None:
    h, g = frame.hinges, frame.gusset
    half = 1.5 * ((g.rivets - 1) * g.pitch + 2 * g.edge) + h.play
    low, high = frame.movable.root + half, tip - frame.movable.ends.outside - half
    for i, v in enumerate(h.places):
        if not low <= v <= high:
            spot = table.nearest("places", i)
            faults.wrong(spot, f"a hinge with its straps lies on the front tube, {inches(low)} to {inches(high)}")
    if len(h.places) < 2:
        faults.add(table.nearest("places"), "at least two hinges are wanted", f"{len(h.places)}")
    check_bush(h.bush, h.pin, table, faults)
    if h.pin in fasteners():
        turn = max(h.bush.outside, fasteners()[h.pin].diameter) / 2 + h.sheet.thickness
        if turn >= frame.gap / 2:
            wanted = f"must leave room for the straps round the hinge line, more than {inches(2 * turn)}"
            faults.add(table, wanted, inches(frame.gap), key=table.key.removesuffix("hinges") + "gap")


def check_bush(bush: RoundTube, pin: str, table: Entry, faults: Faults) -> None:
    """A hinge's bush has a bore, and its pin goes into it without play."""
    check_bore(bush, table["bush"], faults)
    if pin in fasteners():
        bore = bush.outside - 2 * bush.wall
        if not 0 <= bore - fasteners()[pin].diameter <= ON_PIN:
            wanted = f"has a bore of {inches(bore)}; it turns on the pin {pin}, {inches(fasteners()[pin].diameter)}"
            faults.wrong(table["bush"], wanted)


def _join(frame: TailFrame, table: Entry, faults: Faults) -> None:
    m = frame.movable
    bore = m.front.outside - 2 * m.front.wall
    if not -ROUNDING <= bore - m.join.outside <= IN_BORE + ROUNDING:
        wanted = f"goes into the front tube, whose bore is {inches(bore)}"
        faults.wrong(table["movable"]["join"].nearest("outside"), wanted)
    check_bore(m.join, table["movable"]["join"], faults)


def _attach(frame: TailFrame, flat: bool, fuselage: Fuselage, table: Entry, faults: Faults) -> None:
    """Tabs stand on nodes of the centreline that a tube of the fuselage passes."""
    middle = [n for n, place in fuselage.nodes.items() if abs(place[1]) < NEAR]
    used = {n for t in fuselage.tubes for n in t.run}
    for a in frame.attach:
        spot = table["attach"][a.name]
        if a.node not in middle or a.node not in used:
            known = [n for n in middle if n in used]
            faults.wrong(spot["node"], f"names a node on the centreline where a tube is{hint(a.node, known)}")
        if flat != (a.tube == "rib"):
            faults.wrong(spot["tube"], "a tailplane is held by its root ribs, a fin by the feet of leading and spar")


def _beside_the_tabs(tailplane: TailFrame, fin: TailFrame, table: Entry, faults: Faults) -> None:
    """Where one pair of tabs holds both, the fin's foot stands between them and the root ribs lie outside."""
    shared = {a.node for a in tailplane.attach} & {a.node for a in fin.attach}
    wanted = fin.fixed.spar.outside / 2 + tailplane.tab.thickness + tailplane.fixed.ends.outside / 2
    if shared and abs(tailplane.fixed.root - wanted) > STEP:
        said = f"the root ribs lie on the tabs at {', '.join(sorted(shared))}, which stand beside the fin's foot: "
        faults.wrong(table["fixed"]["root"], said + inches(wanted), f'root = "{wanted / INCH:.3f} in"')
