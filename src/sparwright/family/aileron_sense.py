"""What an aileron's frame must be beyond single keys: hinges and horn on it, feet with room, spars that can be made.

What hangs on the section's depth is told when it is laid out (shape/parted.py, parts/aileron_fittings.py).
"""

from __future__ import annotations

from itertools import pairwise

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners, materials
from sparwright.family.aileron import AileronFrame, EdgeSpar
from sparwright.family.balance_sense import check_aileron_weights
from sparwright.family.entry import Entry, Faults
from sparwright.family.model import Aileron, Wing
from sparwright.family.tail_sense import EDGE, NEAR, check_bush, check_fastener, check_row

METALS = ("aluminium", "steel")
CLEAR = 1.5e-3  # m between the wing's hinge plates and the aileron's spar (common practice, no source)


def check_aileron_frame(wing: Wing, aileron: Aileron, table: Entry, faults: Faults) -> None:
    """Everything about the frame of an aileron that no single key can tell; table: the aileron's."""
    frame = aileron.frame
    if frame is None:
        return
    spot = table["frame"]
    _one_panel(wing, aileron, table, faults)
    for name, spar in (("false_spar", frame.false_spar), ("spar", frame.spar)):
        _edge_spar(spar, spot[name], faults)
    _feet(frame, spot, faults)
    _along(wing, aileron, frame, spot, faults)
    _cover(wing, aileron, frame, spot, faults)
    _closed(wing, aileron, frame, spot, faults)
    check_aileron_weights(frame, spot, faults)


def _one_panel(wing: Wing, aileron: Aileron, table: Entry, faults: Faults) -> None:
    """Its hinge line is straight: it lies on one panel, each of which is straight in itself."""
    for p in wing.panels:
        if p.root_buttline - NEAR <= aileron.inboard < p.tip_buttline:
            if aileron.outboard > p.tip_buttline + NEAR:
                wanted = f"an aileron with a frame lies on one panel, for a straight hinge line: {p.name} ends at "
                faults.wrong(table.nearest("outboard"), wanted + inches(p.tip_buttline))
            return


def _edge_spar(spar: EdgeSpar, table: Entry, faults: Faults) -> None:
    kind = materials()[spar.material].kind if spar.material in materials() else ""
    if spar.flange > 0 and spar.strip is not None:
        faults.add(table["strip"], "a spar has a bent flange or strips, not both")
    if spar.flange > 0 and kind and kind not in METALS:
        faults.wrong(table["flange"], f"{spar.material} is not bent: a plank, or a web with strips")
    least = spar.bend_radius + 2 * spar.thickness
    if spar.flange > 0 and spar.flange < least:
        wanted = f"goes beyond the bend, more than {inches(least)} for radius and sheet"
        faults.wrong(table["flange"], wanted)


def _feet(frame: AileronFrame, table: Entry, faults: Faults) -> None:
    """Fasteners on their feet, pin in its bush, and room between the wing's plates and the aileron's spar."""
    k, spot = frame.hinges, table["hinges"]
    check_fastener(k.pin, ("bolt",), spot["pin"], faults)
    if check_fastener(k.fastener, ("bolt", "rivet"), spot["fastener"], faults):
        check_row(fasteners()[k.fastener], k.fasteners, k.pitch, k.edge, spot, faults)
    least = max(k.sheet.thickness, frame.horn.sheet.thickness) + k.bend_radius + 2 * k.edge
    if k.foot < least - NEAR:
        wanted = f"holds sheet, bend and an edge distance either side of its fasteners, {inches(least)} at least"
        faults.wrong(spot["foot"], wanted)
    check_bush(k.bush, k.pin, spot, faults)
    room = EDGE * k.bush.outside + CLEAR
    if frame.setback < room:
        wanted = f"leaves room for the wing's hinge plates round the bush, {inches(room)} at least"
        faults.wrong(table["setback"], wanted)


def _along(wing: Wing, aileron: Aileron, frame: AileronFrame, table: Entry, faults: Faults) -> None:
    """Hinges and horn on the aileron, in order, and clear of one another and of its ends."""
    rib, hinges = wing.ribs.sheet.thickness, table["hinges"]
    if len(frame.hinges.places) < 2:
        faults.add(hinges.nearest("places"), "at least two hinges are wanted", f"{len(frame.hinges.places)}")
    spots = [(y, frame.notch(rib), hinges.nearest("places", i), "a hinge") for i, y in enumerate(frame.hinges.places)]
    spots.append((frame.horn.along, frame.notch(rib, frame.horn.sheet), table["horn"]["along"], "the horn"))
    spots += [(w.along, frame.notch(rib, w.arm), table["weights"][w.name]["along"], "the arm of a weight")
              for w in frame.weights]  # fmt: skip
    for y, half, spot, word in spots:
        low, high = aileron.inboard + aileron.gap + half + 2 * rib, aileron.outboard - aileron.gap - half - 2 * rib
        if not low <= y <= high:
            faults.wrong(spot, f"{word} with the ribs beside it lies on the aileron, {inches(low)} to {inches(high)}")
    for (y, half, _, word), (z, other, spot, name) in pairwise(sorted(spots, key=lambda s: s[0])):
        least = half + other + 2 * (rib + wing.ribs.flange)
        if z - y < least:
            faults.wrong(spot, f"{name} stands clear of {word} at {inches(y)}, {inches(least)} from it at least")
    if any(b <= a for a, b in pairwise(frame.hinges.places)):
        faults.add(hinges.nearest("places"), "hinges are said from the inside out")


def _closed(wing: Wing, aileron: Aileron, frame: AileronFrame, table: Entry, faults: Faults) -> None:
    """Stretches over which its spar is closed: of a channel or strips, in order, on it, no foot cut by an end."""
    if not frame.closed:
        return
    if frame.spar.flange == 0 and frame.spar.strip is None:
        faults.add(table.nearest("closed"), "a plank is closed already: flanges or strips, or no closed")
    low, high = aileron.inboard + aileron.gap, aileron.outboard - aileron.gap
    places = (*frame.hinges.places, frame.horn.along, *(w.along for w in frame.weights))
    for i, c in enumerate(frame.closed):
        spot = table.nearest("closed", i)
        if not low - NEAR <= c.start < c.end <= high + NEAR:
            faults.wrong(spot, f"begins and ends on the aileron, {inches(low)} to {inches(high)}")
        for y in places:
            if c.start - frame.hinges.half < y < c.start + frame.hinges.half or abs(y - c.end) < frame.hinges.half:
                faults.wrong(spot, f"takes in all of the feet at {inches(y)}, or leaves them out")
    if any(b.start <= a.end for a, b in pairwise(frame.closed)):
        faults.add(table.nearest("closed"), "stretches are said from the inside out and apart")


def _cover(wing: Wing, aileron: Aileron, frame: AileronFrame, table: Entry, faults: Faults) -> None:
    """Something closes a box that carries torsion; a sheet behind the nose is as thick as the nose's."""
    behind = [s for s in wing.skins if s.start <= aileron.hinge < s.end]
    thick = sum(s.thickness for s in behind)
    if frame.nose is None and not thick:
        example = 'nose = { material = "birch-ply", thickness = "1 mm" }'
        wanted = "nothing carries its torsion: a nose of sheet, or a skin of sheet, is wanted"
        faults.add(table, wanted, example=example, key=f"{table.key}.nose")
    if frame.nose is not None and thick and abs(thick - frame.nose.thickness) > NEAR:
        wanted = f"is as thick as the skin it meets on the spar, {thick * 1e3:.2f} mm"
        faults.wrong(table["nose"].nearest("thickness"), wanted)
