"""What a model must be beyond single keys: things named are there, ends meet, low is below high.

Each check takes what could be read (BAD where not) and the entries, for the lines of its messages.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from sparwright.base.quantity import inches, parse
from sparwright.base.source import MARKS
from sparwright.data.categories import categories
from sparwright.data.loader import fasteners, materials
from sparwright.family.aileron import Paint
from sparwright.family.aileron_sense import check_aileron_frame
from sparwright.family.confirmed import check_confirmed
from sparwright.family.controls_sense import check_controls
from sparwright.family.cowling_sense import check_cowling
from sparwright.family.drag_sense import check_drag
from sparwright.family.electrics_sense import check_electrics
from sparwright.family.ends_sense import check_ends
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.exhaust_sense import check_exhaust
from sparwright.family.fitted_sense import check_fitted
from sparwright.family.fittings_sense import check_fittings
from sparwright.family.formers_sense import check_formers
from sparwright.family.frame import check_frame
from sparwright.family.fuel_sense import check_fuel
from sparwright.family.measured_sheets import check_measured_sheets
from sparwright.family.model import Aileron, Limits, Skin, Wing
from sparwright.family.outline import check_section
from sparwright.family.parked_sense import check_parked
from sparwright.family.power_sense import check_engine, check_propeller
from sparwright.family.proof import check_measured
from sparwright.family.rib_sense import check_stouter_ribs
from sparwright.family.rigging_sense import check_rigging
from sparwright.family.seat_sense import check_seat
from sparwright.family.strengths_sense import check_strengths
from sparwright.family.tables import BAD
from sparwright.family.tail_sense import ROW, check_fastener, check_tails
from sparwright.family.tank_sense import check_tank_hold
from sparwright.family.weighed import check_weighed
from sparwright.family.wheels import check_wheels

DESIGN_SPEEDS = ("design_manoeuvring", "design_cruise", "design_dive")  # rising
NEAR = 1e-4  # m: ends nearer than this meet
MOST_WINGS = 3
MOST_ERROR = parse("15 kt", "speed") * (1 + 1e-9)  # m/s


def check_model(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about one model that no single key can tell."""
    check_categories(whole, faults)
    check_materials(whole, faults)
    check_marks(whole, faults)
    for name, section in _good(values["sections"], "items"):
        check_section(section, whole["sections"][name], faults)
    wings = tuple(_all_or_no_panels(w, whole["wings"][w.name]) for w in _good(values["wings"]))
    check_wings(wings, whole, faults)
    for tail in ("tailplane", "fin"):
        if tail in whole:
            _section_named(whole[tail], "section", whole, faults)
    check_frame(values["fuselage"], whole, faults)
    check_ends(wings, {k: values[k] for k in ("tailplane", "fin")}, whole, faults)
    for strut in _good(values["struts"]):
        _tube(whole["struts"][strut.name].nearest("tube"), strut.tube, faults)
        if strut.fairing == "streamline" and strut.faired_width <= 0:
            spot = whole["struts"][strut.name]
            faults.add(spot, "a streamline strut needs its faired_width", example='faired_width = "1 in"')
    if values["limits"] is not BAD:
        check_limits(values["limits"], whole["limits"], faults)
    if values["engine"] is not BAD:
        check_engine(values["engine"], whole["engine"], faults)
    if values["propeller"] is not BAD:
        check_propeller(values["propeller"], whole, faults)
    check_masses(values, whole, faults)
    check_days(values, whole, faults)
    if values["fuel"] not in (BAD, None):
        check_fuel(values["fuel"], whole, faults)
    if values.get("paint", BAD) not in (BAD, None):
        check_paint(values["paint"], whole["paint"], faults)
    check_wheels(values, whole, faults)
    check_parked(values, wings, whole, faults)
    check_seat(values, whole, faults)
    check_tank_hold(values, whole, faults)
    check_rigging(values, whole, faults)
    check_tails(values, whole, faults)
    check_controls(values, whole, faults)
    check_fittings(values, whole, faults)
    check_fitted(values, whole, faults)
    check_formers(values, whole, faults)
    check_electrics(values, whole, faults)
    check_exhaust(values, whole, faults)
    check_cowling(values, whole, faults)
    if values["confirmed"] is not BAD:
        check_confirmed(values["confirmed"], whole, faults)
    if values["strengths"] is not BAD:
        check_strengths(values["strengths"], whole, faults)
    if values.get("weighed", BAD) is not BAD:
        check_weighed(values["weighed"], whole, faults)
    if values["measured_sheets"] is not BAD:
        check_measured_sheets(values["measured_sheets"], whole, faults)
    if values.get("proof_measured", BAD) is not BAD:
        check_measured(values["proof_measured"], whole, faults)


def _good(value: Any, how: str = "") -> Iterator[Any]:
    if value is not BAD:
        yield from (value.items() if how else value)


def _all_or_no_panels(wing: Wing, table: Entry) -> Wing:
    """The wing; without panels when one of them could not be read, so that nothing false is said of the others."""
    return wing if len(wing.panels) == len(list(_tables(table, "panels"))) else replace(wing, panels=())


def check_categories(table: Entry, faults: Faults) -> None:
    """Every licence category is one of data/categories.toml."""
    entry = table.nearest("categories")
    if entry is table or not isinstance(entry.value, list):
        return
    for each in entry.value:
        if isinstance(each.value, str) and each.value not in categories():
            faults.wrong(each, f"is not a licence category we know{hint(each.value, categories())}")


def check_cut_outside(table: Entry, faults: Faults) -> None:
    """Every material that is cut outside is one of data/materials.toml."""
    entry = table.nearest("cut_outside")
    for each in entry.value if entry is not table and isinstance(entry.value, list) else ():
        if isinstance(each.value, str) and each.value not in materials():
            faults.wrong(each, f"is not a material we know{hint(each.value, materials())}")


def check_materials(whole: Entry, faults: Faults) -> None:
    """Every key `material` names a material of data/materials.toml."""
    for entry in whole.walk():
        if entry.key.endswith(".material") and isinstance(entry.value, str) and entry.value not in materials():
            faults.wrong(entry, f"is not a material we know{hint(entry.value, materials())}")


def check_marks(whole: Entry, faults: Faults) -> None:
    """Every key `mark` is one of the marks a source can have."""
    for entry in whole.walk():
        if entry.key.endswith(".mark") and isinstance(entry.value, str) and entry.value not in MARKS:
            faults.wrong(entry, f"is not a mark we know{hint(entry.value, MARKS)}")


def check_wings(wings: tuple[Wing, ...], whole: Entry, faults: Faults) -> None:
    """One to three wings, each of panels that meet, with sections, spars, skins and ailerons that fit."""
    if "wings" not in whole or not isinstance(whole["wings"].value, dict):
        return
    count = len(whole["wings"].value)
    if not 1 <= count <= MOST_WINGS:
        faults.add(whole["wings"], "one, two or three wings are wanted", f"{count} wings", "[models.W1.wings.upper]")
    for name, table in whole["wings"].value.items():
        for panel in _tables(table, "panels"):
            for end in ("root_section", "tip_section"):
                _section_named(panel, end, whole, faults)
        if "panels" in table and table["panels"].value == {} or isinstance(table.value, dict) and "panels" not in table:
            faults.add(table, "has no panel; at least one is wanted", example=f"[wings.{name}.panels]")
    for wing in wings:
        table = whole["wings"][wing.name]
        check_panels(wing, table, faults)
        check_spars(wing, table, faults)
        check_skins(wing, table, faults)
        check_runs(wing, table, faults)
        if wing.panels and wing.aileron:
            check_aileron(wing, wing.aileron, table, faults)
            check_aileron_frame(wing, wing.aileron, table["aileron"], faults)
        _ribs_fit(wing, table, faults)
        check_stouter_ribs(wing, table, faults)
        check_truss(wing, table, faults)
        check_openings(wing, table, faults)
        check_drag(wing, table, faults)


def _tables(table: Entry, name: str) -> Iterable[Entry]:
    inner = table.nearest(name)
    return inner.value.values() if inner is not table and isinstance(inner.value, dict) else ()


def _section_named(table: Entry, key: str, whole: Entry, faults: Faults) -> None:
    """A panel or tail surface names a section that is defined."""
    if not isinstance(table.value, dict):
        return
    known = whole["sections"] if "sections" in whole else Entry({}, 1, "sections")
    name = table.nearest(key)
    if name is table or name.value == "":
        faults.add(table, "is missing: the section is not said", example=f'{key} = "lifting"', key=f"{table.key}.{key}")
    elif isinstance(name.value, str) and name.value not in known:
        faults.wrong(name, f"names a section of [sections]{hint(name.value, known)}")


def check_panels(wing: Wing, table: Entry, faults: Faults) -> None:
    """Each panel's tip is beyond its root, the next begins where it ends, the first where the wing begins."""
    for panel in wing.panels:
        if panel.tip_buttline <= panel.root_buttline + NEAR:
            spot = table.nearest("panels", panel.name, "tip_buttline")
            faults.wrong(spot, f"must lie beyond root_buttline, {inches(panel.root_buttline)}")
    for inner, outer in zip(wing.panels, wing.panels[1:], strict=False):
        if abs(inner.tip_buttline - outer.root_buttline) > NEAR:
            spot = table.nearest("panels", outer.name, "root_buttline")
            faults.wrong(spot, f"must be where panel {inner.name} ends, {inches(inner.tip_buttline)}")
    if wing.panels and abs(wing.leading_edge[1] - wing.panels[0].root_buttline) > NEAR:
        spot = table.nearest("leading_edge", 1)
        begin = inches(wing.panels[0].root_buttline)
        faults.wrong(spot, f"the leading edge is at the root of the first panel, so its buttline is {begin}")


def check_spars(wing: Wing, table: Entry, faults: Faults) -> None:
    """At least one spar, no two in one place."""
    if not list(_tables(table, "spars")):
        faults.add(table, "has no spar; at least one is wanted", example=f"[wings.{wing.name}.spars]")
    for i, spar in enumerate(wing.spars):
        same = [s.name for s in wing.spars[:i] if abs(s.at - spar.at) < 0.01]
        if same:
            spot = table.nearest("spars", spar.name, "at")
            faults.wrong(spot, f"is where spar {same[0]} is already")


def check_runs(wing: Wing, table: Entry, faults: Faults) -> None:
    """Panels in one piece are in line; splices are blocks in box spars of wood; a range begins before it ends."""
    if wing.one_piece and wing.splice is not None:
        faults.add(table["splice"], "spars are in one piece or spliced, not both")
    for a, b in zip(wing.panels, wing.panels[1:], strict=False):
        off = max(abs(a.sweep - b.sweep), abs(a.dihedral - b.dihedral), abs(a.twist), abs(b.twist))
        slopes = [(p.tip_chord - p.root_chord) / max(p.tip_buttline - p.root_buttline, NEAR) for p in (a, b)]
        same = len({a.root_section, a.tip_section, b.root_section, b.tip_section}) == 1
        if wing.one_piece and (off > NEAR or abs(slopes[0] - slopes[1]) > NEAR or not same):
            wanted = f"panels {a.name} and {b.name} are not in line: sweep, dihedral, taper and section are to go on, "
            faults.wrong(table["one_piece"], wanted + "without twist")
        short = min(p.tip_buttline - p.root_buttline for p in (a, b))
        if wing.splice is not None and wing.splice.reach >= short:
            faults.wrong(table["splice"]["reach"], f"stays within the shorter of two panels, {inches(short)}")
    for spar in wing.spars:
        kind = materials()[spar.cap.material].kind if spar.cap.material in materials() else ""
        if wing.splice is not None and (spar.webs < 2 or kind in ("aluminium", "steel")):
            spot = table["spars"][spar.name]
            faults.add(spot, "is spliced by blocks glued into its box: two webs and wood are wanted, or one_piece")
        for i, zone in enumerate(spar.no_scarf):
            if zone.start >= zone.end:
                spot = table["spars"][spar.name]["no_scarf"][i]
                faults.wrong(spot["end"], f"must lie beyond start, {inches(zone.start)}")


def check_skins(wing: Wing, table: Entry, faults: Faults) -> None:
    """Each skin begins before it ends, and its weight can be known."""
    for skin in wing.skins:
        spot = table.nearest("skins", skin.name)
        if skin.start >= skin.end:
            faults.wrong(spot.nearest("end"), f"must lie behind start, {skin.start:g}")
        known = materials().get(skin.material)
        if skin.material == "":
            faults.add(
                spot,
                "is missing: the material of the skin",
                example='material = "birch-ply"',
                key=f"{spot.key}.material",
            )
        _laid(skin, spot, faults)
        _riveted(skin, spot, faults)
        if known and skin.material and not skin.areal and not (skin.thickness and math.isfinite(known.density)):
            wanted = "its weight is unknown: give thickness of a material with density, or areal for fabric"
            faults.add(spot, wanted, example='areal = "0.07 lb/ft2"')


def _riveted(skin: Skin, table: Entry, faults: Faults) -> None:
    """Rivets along the spar are for metal, with a pitch of three diameters at least."""
    if not skin.fastener:
        if skin.pitch:
            faults.add(table["pitch"], "is the pitch of rivets that are not said", example='fastener = "MS20470AD3"')
        return
    known = materials().get(skin.material)
    if known and known.kind not in ("aluminium", "steel"):
        faults.wrong(table["fastener"], f"is for a skin of metal; this one is of {skin.material}")
    elif check_fastener(skin.fastener, ("rivet",), table["fastener"], faults):
        least = ROW * fasteners()[skin.fastener].diameter
        if skin.pitch < least:
            faults.wrong(table.nearest("pitch"), f"must be three diameters at least, {inches(least)}")


def _laid(skin: Skin, table: Entry, faults: Faults) -> None:
    """A laid-up skin is of sheet; its notches lie under its tape and apart."""
    if skin.laid is None:
        return
    spot = table["laid"]
    if skin.thickness <= 0:
        faults.add(spot, "is of sheet: a skin that is laid up has a thickness")
    if skin.laid.depth > skin.laid.tape / 2:
        faults.wrong(spot["depth"], f"notches lie under the tape: at most half of it, {inches(skin.laid.tape / 2)}")


def check_aileron(wing: Wing, aileron: Aileron, table: Entry, faults: Faults) -> None:
    """The aileron lies on the wing, inner end first."""
    spot = table.nearest("aileron")
    root, tip = _span(wing)
    if aileron.inboard >= aileron.outboard:
        faults.wrong(spot.nearest("outboard"), f"must lie beyond inboard, {inches(aileron.inboard)}")
    for key, at in (("inboard", aileron.inboard), ("outboard", aileron.outboard)):
        if not root - NEAR <= at <= tip + NEAR:
            faults.wrong(spot.nearest(key), f"must lie on the wing, buttline {inches(root)} to {inches(tip)}")


def _span(wing: Wing) -> tuple[float, float]:
    return wing.panels[0].root_buttline, wing.panels[-1].tip_buttline


def _ribs_fit(wing: Wing, table: Entry, faults: Faults) -> None:
    """The edge bars leave some rib, and extra ribs are on the wing."""
    least = min((min(p.root_chord, p.tip_chord) for p in wing.panels), default=math.inf)
    if wing.ribs.nose_cut + wing.ribs.tail_cut >= least:
        faults.add(table.nearest("ribs"), f"nose_cut and tail_cut together leave nothing of a chord of {inches(least)}")
    for i, at in enumerate(wing.ribs.extra):
        spot = table.nearest("ribs", "extra", i)
        if wing.panels and not _span(wing)[0] - NEAR <= at <= _span(wing)[1] + NEAR:
            faults.wrong(spot, f"must lie on the wing, buttline {' to '.join(map(inches, _span(wing)))}")


def check_openings(wing: Wing, table: Entry, faults: Faults) -> None:
    """Each opening lies on the wing, in one skin, off the aileron, and is wider than its rim."""
    made, a = wing.inspection, wing.aileron
    for i, o in enumerate(made.openings if made else ()):
        assert made is not None
        spot = table["inspection"]["openings"][i]
        if wing.panels and not _span(wing)[0] < o.buttline < _span(wing)[1]:
            faults.wrong(spot["buttline"], f"must lie on the wing, buttline {' to '.join(map(inches, _span(wing)))}")
        if sum(s.start < o.at < s.end for s in wing.skins) != 1:
            faults.wrong(spot["at"], "lies in one of the skins, off their edges")
        if a and a.inboard < o.buttline < a.outboard and o.at > a.hinge:
            faults.wrong(spot["at"], f"lies on the wing, ahead of the aileron's hinge line at {a.hinge:g}")
        if made.rim >= o.diameter / 2:
            faults.wrong(spot["diameter"], f"must be more than two rims of its ring, {inches(2 * made.rim)}")


def check_truss(wing: Wing, table: Entry, faults: Faults) -> None:
    """Built-up ribs are of wood, without flange; their strip goes over each spar that passes through."""
    truss = wing.ribs.truss
    if truss is None:
        return
    spot = table["ribs"]["truss"]
    kind = materials()[truss.stick.material].kind if truss.stick.material in materials() else ""
    if kind in ("aluminium", "steel", "glass", "fabric"):
        faults.wrong(spot["stick"]["material"], "is not a wood: built-up ribs are glued of strip")
    if wing.ribs.flange > 0:
        faults.wrong(table["ribs"]["flange"], "built-up ribs have no bent flange")
    for spar in wing.spars:
        if 0 < spar.land < truss.stick.depth - NEAR:
            wanted = f"a strip of {inches(truss.stick.depth)} goes over the spar: a land of that much, or nought"
            faults.wrong(table["spars"][spar.name]["land"], wanted)
    if truss.reach <= truss.stick.depth:
        faults.wrong(spot["reach"], f"a gusset reaches beyond its strips, {inches(truss.stick.depth)} deep")


def _tube(spot: Entry, tube: Any, faults: Faults) -> None:
    if tube.wall >= tube.outside / 2:
        faults.wrong(spot.nearest("wall"), f"must be less than half the outside diameter, {inches(tube.outside)}")


def check_limits(limits: Limits, table: Entry, faults: Faults) -> None:
    """The foremost balance lies ahead of the aftmost; a position error is two speeds, low then high."""
    if "position_error" in table:
        _position_error(limits.position_error, table["position_error"], faults)
    if limits.forward_cg >= limits.aft_cg:
        spot = table.nearest("forward_cg")
        faults.wrong(spot, f"must be less than aft_cg, {limits.aft_cg:g}", "forward_cg = 0.18")
    speeds = [(k, getattr(limits, k)) for k in DESIGN_SPEEDS if getattr(limits, k) is not None]
    for (slow, a), (fast, b) in itertools.pairwise(speeds):
        if a > b or (a == b and fast == DESIGN_SPEEDS[-1]):
            faults.wrong(table.nearest(slow), f"must be less than {fast}, {b:.1f} m/s", 'design_cruise = "75 kt"')


def _position_error(ends: tuple[float, ...], spot: Entry, faults: Faults) -> None:
    example = 'position_error = ["-2 kt", "3 kt"]'
    if len(ends) != 2:
        faults.wrong(spot, "is two speeds: the least and the greatest error of the airspeed indicator", example)
    elif ends[0] > ends[1]:
        faults.wrong(spot, "the least error comes first, then the greatest", example)
    for i, end in enumerate(ends if len(ends) == 2 else ()):
        if abs(end) > MOST_ERROR:
            faults.wrong(spot.nearest(i), "an airspeed indicator is not off by more than 15 kt either way", example)


def check_masses(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Least is not above most, a likely mass lies between low and high, and somebody flies it."""
    for load in _good(values["loads"]):
        if load.least > load.most:
            _between(whole["loads"][load.name], "least", "must not be above most", faults)
    for allowance in _good(values["allowances"]):
        if not allowance.low <= allowance.mass <= allowance.high:
            _between(whole["allowances"][allowance.name], "mass", "must lie between low and high", faults)
    allowances = whole["allowances"] if "allowances" in whole else Entry({}, 1, "allowances")
    for item in _good(values["items"]):
        if item.replaces and values["allowances"] is not BAD and item.replaces not in allowances:
            spot = whole["items"][item.name].nearest("replaces")
            faults.wrong(spot, f"names an allowance of this model{hint(item.replaces, allowances)}", "")
    if values["loads"] is not BAD and all(load.kind != "pilot" for load in values["loads"]):
        spot = whole.nearest("loads")
        if not any(t.nearest("kind").value == "pilot" for t in _tables(whole, "loads")):
            faults.add(spot, "a load of kind pilot is wanted", example='[loads.pilot]\nkind = "pilot"')


def check_days(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """No day is flown above the greatest take-off mass."""
    limits = values["limits"]
    for day in _good(values["days"]):
        if limits is not BAD and day.mass is not None and day.mass > limits.max_mass:
            said = f"must not be above max_mass, {limits.max_mass:.1f} kg"
            faults.wrong(whole["days"][day.name].nearest("mass"), said, 'mass = "700 lb"')


def check_paint(paint: Paint, table: Entry, faults: Faults) -> None:
    """The likely weight of paint lies between the least and the greatest."""
    if not paint.low <= paint.areal <= paint.high:
        _between(table, "areal", "must lie between low and high", faults)


def _between(table: Entry, key: str, wanted: str, faults: Faults) -> None:
    faults.wrong(table.nearest(key), wanted)
