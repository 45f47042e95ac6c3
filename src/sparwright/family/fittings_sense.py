"""What fittings, ends of struts and roots must be beyond single keys: named things are there, pins fit, edges hold."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sparwright.base.quantity import inches
from sparwright.data.hardware import wire_end, wire_ends
from sparwright.data.loader import fasteners, material, materials
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fittings import Fitting, Root, StrutPiece
from sparwright.family.frame import node_names
from sparwright.family.model import RoundTube, Spar, Strut, StrutEnd, Wing, Wire
from sparwright.family.tables import BAD
from sparwright.family.tail_sense import EDGE, IN_BORE, NEAR, ON_PIN, ROW, check_bore, check_fastener

FLUSH = 0.1e-3  # m a strut's bush may be longer or shorter than the tube beside it (common practice, no source)


def check_fittings(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about fittings, ends and roots that no single key can tell."""
    fittings, pieces = (_named(values[k]) for k in ("fittings", "strut_pieces"))
    wings = {w.name: w for w in _read(values["wings"])}
    known = (fittings, pieces, wings, {k: values[k] for k in ("tailplane", "fin")})
    for f in fittings.values():
        _fitting(f, whole["fittings"][f.name], faults)
    for p in pieces.values():
        _piece(p, whole["strut_pieces"][p.name], faults)
    for group in ("struts", "wires"):
        for thing in _read(values[group]):
            for i, end in enumerate(thing.ends):
                _end(thing, end, whole[group][thing.name]["ends"][i], known, whole, faults)
    nodes = node_names(whole)
    for root in _read(values["roots"]):
        _root(root, wings, nodes, whole["roots"][root.name], faults)


def _read(value: Any) -> Sequence[Any]:
    return () if value is BAD else value


def _named(value: Any) -> dict[str, Any]:
    return {v.name: v for v in _read(value)}


def _fitting(f: Fitting, table: Entry, faults: Faults) -> None:
    """On a wing's spar: plate, reach, bolt and pitch; on a tail's tube: bolt, pitch and spacer; at a node: none."""
    said = {"plate": f.plate, "reach": f.reach, "bolt": f.bolt or None, "pitch": f.pitch}
    there = [k for k, v in said.items() if v is not None]
    if there and len(there) < len(said) and not on_a_tail(f):
        missing = next(k for k in said if k not in there)
        wanted = "is missing: on a spar a fitting says plate, reach, bolt and pitch; at a node none of them"
        wanted += "; on a tail's tube bolt, pitch and spacer"
        faults.add(table, wanted, example=_EXAMPLE[missing], key=f"{table.key}.{missing}")
    if f.bolt:
        _through(f, table, faults)
    if f.spacer is not None:
        _turns(f.spacer, f.bolt, table["spacer"], faults)


def on_a_tail(f: Fitting) -> bool:
    """Whether a fitting is one for a tube of a tail surface: plates on its faces, bolts across it in bushes."""
    return bool(f.bolt) and f.pitch is not None and f.spacer is not None and f.plate is None and f.reach is None


_EXAMPLE = {
    "plate": 'plate = { material = "4130N", thickness = "0.063 in" }', "reach": 'reach = "1/2 in"',
    "bolt": 'bolt = "AN4"', "pitch": 'pitch = "1-1/4 in"',
}  # fmt: skip


def _through(f: Fitting | Root, table: Entry, faults: Faults) -> None:
    """Its bolts through the spar are known, and far enough apart."""
    if not check_fastener(f.bolt, ("bolt",), table["bolt"], faults) or f.pitch is None:
        return
    least = ROW * fasteners()[f.bolt].diameter
    if f.pitch < least - NEAR:
        faults.wrong(table["pitch"], f"bolts stand three diameters apart at least, {inches(least)}")
    if f.block and f.block not in materials():
        faults.wrong(table["block"], f"is not a material we know{hint(f.block, materials())}")


def _turns(tube: RoundTube, bolt: str, spot: Entry, faults: Faults) -> None:
    """A tube goes over its bolt, and not loosely."""
    check_bore(tube, spot, faults)
    if bolt not in fasteners():
        return
    bore, d = tube.outside - 2 * tube.wall, fasteners()[bolt].diameter
    if not 0 <= bore - d <= ON_PIN:
        faults.wrong(spot.nearest("wall"), f"leaves a bore of {inches(bore)}; it goes over {bolt}, {inches(d)}")


def _piece(p: StrutPiece, table: Entry, faults: Faults) -> None:
    if check_fastener(p.pin, ("bolt",), table["pin"], faults):
        _turns(p.bush, p.pin, table["bush"], faults)
    if p.plug is not None:
        for key, value in (("lap", p.lap), ("bolt", p.bolt or None)):
            if value is None:
                faults.add(table, f"is missing: a plug says its {key}", key=f"{table.key}.{key}")
        if p.bolt:
            check_fastener(p.bolt, ("bolt",), table["bolt"], faults)
        check_bore(p.plug, table["plug"], faults)


def _edge(edge: float, pin: str, spot: Entry, faults: Faults, what: str) -> None:
    """A pin is two diameters from a lug's edge at least."""
    if pin in fasteners():
        least = EDGE * fasteners()[pin].diameter
        if edge < least - NEAR:
            faults.wrong(spot, f"{what} {pin} wants two diameters to a lug's edge, {inches(least)} (AC 43.13-1B)")


Known = tuple[dict[str, Fitting], dict[str, StrutPiece], dict[str, Wing], dict[str, Any]]


def _end(thing: Strut | Wire, end: StrutEnd, spot: Entry, known: Known, whole: Entry, faults: Faults) -> None:
    """An end names a fitting and a piece that are there and go together, or neither."""
    fittings, pieces, wings, tails = known
    if bool(end.fitting) != bool(end.piece):
        missing = "piece" if end.fitting else "fitting"
        faults.add(spot, "is missing: an end says both fitting and piece, or neither", key=f"{spot.key}.{missing}")
        return
    if not end.fitting:
        return
    if end.fitting not in fittings:
        faults.wrong(spot["fitting"], f"names a fitting of [fittings]{hint(end.fitting, fittings)}")
        return
    fitting = fittings[end.fitting]
    if end.wing and (not fitting.bolt or on_a_tail(fitting)):
        faults.wrong(spot["fitting"], "an end on a spar names a fitting with plate, reach, bolt and pitch")
    if end.tail and not on_a_tail(fitting):
        wanted = "an end on a tail's tube names a fitting with bolt, pitch and spacer, and neither plate nor reach"
        faults.wrong(spot["fitting"], wanted)
    if isinstance(thing, Strut):
        pin = _strut_pin(thing, end, spot, pieces, faults)
    else:
        pin = _wire_pin(thing, end, spot, fitting, faults)
    if pin:
        _edge(fitting.edge, pin, whole["fittings"][fitting.name]["edge"], faults, f"the pin of {thing.name},")
    if end.tail and isinstance(thing, Strut):
        _between_plates(thing, end, spot, pieces, tails.get(end.tail, BAD), faults)
    wing = wings.get(end.wing)
    spar = next((s for s in wing.spars if s.name == end.spar), None) if wing else None
    if spar is not None and fitting.bolt:
        _inside(fitting.block, fitting.spacer is not None, spar, spot["fitting"], faults)


def _between_plates(strut: Strut, end: StrutEnd, spot: Entry, pieces: dict[str, StrutPiece], tail: Any,
                    faults: Faults) -> None:  # fmt: skip
    """A strut's bush is as long as the tail's tube is thick: both lie between the same two plates."""
    if tail is BAD or tail.frame is None or end.piece not in pieces:
        return
    tube = tail.frame.fixed.leading if end.tube == "leading" else tail.frame.fixed.spar
    if abs(pieces[end.piece].width - tube.outside) > FLUSH:
        wanted = (
            f"its bush is as long as the {end.tail}'s tube is thick, {inches(tube.outside)}: both lie between plates"
        )
        faults.wrong(spot["piece"], wanted)


def _strut_pin(strut: Strut, end: StrutEnd, spot: Entry, pieces: dict[str, StrutPiece], faults: Faults) -> str:
    if end.piece not in pieces:
        faults.wrong(spot["piece"], f"names a piece of [strut_pieces]{hint(end.piece, pieces)}")
        return ""
    piece, tube = pieces[end.piece], strut.tube
    if piece.width < tube.outside - NEAR:
        wanted = f"its bush of {inches(piece.width)} is shorter than strut {strut.name} is wide, {inches(tube.outside)}"
        faults.wrong(spot["piece"], f"{wanted}: the lugs stand beside the tube")
    bore = tube.outside - 2 * tube.wall
    if piece.plug is not None and not 0 <= bore - piece.plug.outside <= IN_BORE:
        faults.wrong(spot["piece"], f"its plug of {inches(piece.plug.outside)} goes into a bore of {inches(bore)}")
    known = materials().get(tube.material)
    if piece.plug is None and known is not None and known.kind != "steel":
        faults.wrong(
            spot["piece"], f"strut {strut.name} is of {known.title}, to which no bush is welded; a plug is wanted"
        )
    return piece.pin


def _wire_pin(wire: Wire, end: StrutEnd, spot: Entry, fitting: Fitting, faults: Faults) -> str:
    kinds = dict.fromkeys(w.kind for w in wire_ends())
    if end.piece not in kinds:
        faults.wrong(spot["piece"], f"a wire ends in one of {', '.join(kinds)}")
        return ""
    found = wire_end(end.piece, wire.diameter)
    if found is None:
        sizes = ", ".join(inches(w.diameter) for w in wire_ends() if w.kind == end.piece)
        faults.wrong(
            spot["piece"], f"no {end.piece} is on file for a wire of {inches(wire.diameter)}; there are {sizes}"
        )
        return ""
    if fitting.lug.thickness > found.jaw:
        wanted = f"its lug of {inches(fitting.lug.thickness)} does not go into a {end.piece} of {inches(found.jaw)}"
        faults.wrong(spot["fitting"], wanted)
    return found.pin


def _inside(block: str, spacer: bool, spar: Spar, spot: Entry, faults: Faults) -> None:
    """Something takes the clamping: a block in a box spar of wood, a tube on each bolt in one of metal."""
    if spar.cap.material not in materials():
        return
    wood = material(spar.cap.material).kind == "wood"
    if wood and not (block and not spacer):
        faults.wrong(spot, f"on spar {spar.name} of wood it says a block between the caps, and no spacer")
    if not wood and (block or not spacer):
        faults.wrong(spot, f"on spar {spar.name} of metal it says a spacer on each bolt, and no block")
    if wood and spar.webs != 2:
        faults.wrong(spot, f"on spar {spar.name} a block wants two webs")


def _root(root: Root, wings: dict[str, Wing], nodes: Sequence[str], table: Entry, faults: Faults) -> None:
    if root.node not in nodes:
        faults.wrong(table["node"], f"names a node of [fuselage.nodes]{hint(root.node, nodes)}")
    if check_fastener(root.pin, ("bolt",), table["pin"], faults):
        _edge(root.edge, root.pin, table["edge"], faults, "the pin")
        _turns(root.bush, root.pin, table["bush"], faults)
    _through(root, table, faults)
    if root.spacer is not None:
        _turns(root.spacer, root.bolt, table["spacer"], faults)
    if not wings:
        return
    wing = wings.get(root.wing)
    if wing is None:
        faults.wrong(table["wing"], f"names a wing{hint(root.wing, wings)}")
        return
    spar = next((s for s in wing.spars if s.name == root.spar), None)
    if spar is None:
        faults.wrong(table["spar"], f"names a spar of wing {wing.name}{hint(root.spar, [s.name for s in wing.spars])}")
        return
    _inside(root.block, root.spacer is not None, spar, table["spar"], faults)
    for panel in wing.panels[:1]:
        last = panel.root_buttline - root.edge - wing.rib_thickness(panel.root_buttline)
        if not 0 < root.buttline <= last + NEAR:
            wanted = f"the pin with its edge lies inside the root rib of wing {wing.name}, at {inches(last)} or less"
            faults.wrong(table["buttline"], wanted)
