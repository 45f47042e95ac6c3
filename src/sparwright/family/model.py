"""A model as the rest of the house sees it: SI floats, everything inherited already filled in.

The reader makes these records from the family file; nothing else does. Field names are the keys of the
file (underscores, SI here, text with units there), so this page is also the list of what can be written.
Angles in radians, axes as in base/axes.py. "Fraction" means of the local chord, from the leading edge.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from sparwright.base.record import number
from sparwright.family import aileron as aileron_page
from sparwright.family import balance as balance_page
from sparwright.family import brakes as brakes_page
from sparwright.family import confirmed as confirmed_page
from sparwright.family import controls as controls_page
from sparwright.family import cowling as cowling_page
from sparwright.family import days as days_page
from sparwright.family import drag_bracing as drag_page
from sparwright.family import electrics as electrics_page
from sparwright.family import exhaust as exhaust_page
from sparwright.family import fitted as fitted_page
from sparwright.family import fittings as fittings_page
from sparwright.family import formers as formers_page
from sparwright.family import fuel as fuel_page
from sparwright.family import ground as ground_page
from sparwright.family import inspection as inspection_page
from sparwright.family import limits as limits_page
from sparwright.family import measured_sheets as measured_page
from sparwright.family import occupant as seat_page
from sparwright.family import parked as parked_page
from sparwright.family import pitot as pitot_page
from sparwright.family import play as play_page
from sparwright.family import proof as proof_page
from sparwright.family import rigging as rigging_page
from sparwright.family import strengths as strength_page
from sparwright.family import tail_frame as tail_page
from sparwright.family import trials as trial_page
from sparwright.family import weighed as weighed_page
from sparwright.family.bracing import Strut as Strut
from sparwright.family.bracing import StrutEnd as StrutEnd
from sparwright.family.bracing import Wire as Wire
from sparwright.family.engine import BladeStation as BladeStation
from sparwright.family.engine import CurvePoint as CurvePoint
from sparwright.family.engine import Engine as Engine
from sparwright.family.engine import PartPoint as PartPoint
from sparwright.family.engine import Propeller as Propeller
from sparwright.family.limits import Limits as Limits
from sparwright.family.section import Measured as Measured
from sparwright.family.section import Section as Section
from sparwright.family.stock import Bar as Bar
from sparwright.family.stock import FrameTube as FrameTube
from sparwright.family.stock import LaidUp as LaidUp
from sparwright.family.stock import NoScarf as NoScarf
from sparwright.family.stock import RoundTube as RoundTube
from sparwright.family.stock import Sheet as Sheet
from sparwright.family.stock import Splice as Splice
from sparwright.family.stock import StouterRib as StouterRib
from sparwright.family.stock import Truss as Truss
from sparwright.family.stock import words as words

Place = tuple[float, float, float]  # station, buttline, waterline, m
WeightGroup = Literal[
    "none", "wings", "tail", "fuselage", "gear", "power", "fuel", "controls", "electrics", "furnishing"
]  # the groups that statistics of built aeroplanes know


SAME_RIB = 1e-3  # m: a buttline nearer to a rib than this is that rib


@dataclass(frozen=True, kw_only=True)
class Panel:
    """A part of a wing between two buttlines, straight in plan and front view."""

    name: str = words("name")
    root_buttline: float = number("m", "where it begins; nought or the fuselage side for the innermost")
    tip_buttline: float = number("m", "where it ends")
    root_chord: float = number("m", "chord at the root")
    tip_chord: float = number("m", "chord at the tip")
    root_section: str = words("section at the root", "")
    tip_section: str = words("section at the tip", "")
    sweep: float = number("rad", "sweep of the leading edge, tip aft positive", 0.0)
    dihedral: float = number("rad", "dihedral, tip up positive", 0.0)
    twist: float = number("rad", "angle of the tip against the root, washout negative", 0.0)


@dataclass(frozen=True, kw_only=True)
class Spar:
    """Two caps and one or two shear webs; the name says where (front, rear)."""

    name: str = words("front, rear, main")
    at: float = number("1", "middle of the spar, fraction of the chord at every station")
    cap: Bar = words("bar of each cap, one above and one below")
    web: Sheet = words("sheet of each shear web")
    webs: int = words("shear webs, one or two", 2)
    land: float = number("m", "rib left above and below the spar; nought cuts the rib into pieces", 0.0)
    no_scarf: tuple[NoScarf, ...] = words("where its caps and webs may have no scarf, besides at struts and wires", ())


@dataclass(frozen=True, kw_only=True)
class Skin:
    """A covering on both surfaces between two fractions of the chord."""

    name: str = words("name")
    start: float = number("1", "begins here, fraction of the chord")
    end: float = number("1", "ends here, fraction of the chord")
    material: str = words("key of a material", "")
    thickness: float = number("m", "thickness taken off the ribs; nought for fabric", 0.0)
    grain: float = number("rad", "face grain or warp to the span: its strength, a ply's stiffness in shear", 0.0)
    areal: float = number("kg/m2", "finished weight of one side where the material has no density (fabric)", 0.0)
    laid: LaidUp | None = words("sheets laid up flat and glued on; left out: one sheet round the nose", None)
    fastener: str = words("key of a rivet of data/fasteners.csv that holds a metal skin on its spar's caps", "")
    pitch: float = number("m", "from rivet to rivet along a cap", 0.0)


@dataclass(frozen=True, kw_only=True)
class Ribs:
    """How the ribs of a wing are made and spaced."""

    pitch: float = number("m", "greatest spacing")
    sheet: Sheet = words("sheet they are cut from")
    nose_cut: float = number("m", "rib cut off square this far behind the leading edge, for the edge bar", 0.0)
    tail_cut: float = number("m", "rib cut off square this far before the trailing edge, for the edge bar", 0.0)
    fit: float = number("m", "clearance all round a spar in its cut-out", 0.0)
    web_left: float = number("m", "rib left round lightening holes; nought for none", 0.0)
    hole_radius: float = number("m", "corner radius of lightening holes", 0.0)
    flange: float = number("m", "width of a bent flange over the outside of the bend; nought for a flat plate", 0.0)
    bend_radius: float = number("m", "inside radius of the flange", 0.0)
    extra: tuple[float, ...] = number("m", "buttlines of ribs wanted there besides (struts, tanks)", ())
    truss: Truss | None = words(
        "ribs of strip and gussets but in and beside ailerons, where they stay of sheet; left out: all of sheet", None
    )
    nose_ribs: int = words("ribs from the nose to the first spar only, evenly between two whole ones", 0)
    no_nose_ribs: tuple[float, ...] = number("m", "buttlines of nose ribs left out, a fitting being in their way", ())


def stouter_made(ribs: Ribs, s: StouterRib) -> Ribs:
    """The ribs of a wing as a stouter one is made; without holes nothing is said of what they leave."""
    said = {n: v for n in ("web_left", "flange", "bend_radius") if (v := getattr(s, n)) is not None}
    return replace(ribs, sheet=s.sheet, **(said if s.holes else {**said, "web_left": 0.0}))


@dataclass(frozen=True, kw_only=True)
class Aileron:
    """A hinged part of the trailing edge, on both sides."""

    inboard: float = number("m", "buttline of its inner end")
    outboard: float = number("m", "buttline of its outer end")
    hinge: float = number("1", "hinge line, fraction of the chord")
    gap: float = number("m", "clear space between wing and aileron, ahead of a round nose, else about the hinge line")
    up: float = number("rad", "travel, trailing edge up, positive")
    down: float = number("rad", "travel, trailing edge down, positive")
    frame: aileron_page.AileronFrame | None = words("its spars, nose, hinges and horn; left out: not drawn", None)


@dataclass(frozen=True, kw_only=True)
class Wing:
    """One of one to three wings, right side; the left is its mirror."""

    name: str = words("name")
    leading_edge: Place = number("m", "leading edge of the innermost station")
    incidence: float = number("rad", "of the innermost chord to the thrust line", 0.0)
    panels: tuple[Panel, ...] = words("from the inside out, end to end", ())
    spars: tuple[Spar, ...] = words("spars", ())
    skins: tuple[Skin, ...] = words("skins and covering", ())
    ribs: Ribs = words("how the ribs are made and spaced")
    stouter_ribs: tuple[StouterRib, ...] = words("whole ribs that are made stouter than the others", ())
    nose_bar: Bar | None = words("bar along the leading edge", None)
    tail_bar: Bar | None = words("bar along the trailing edge", None)
    one_piece: bool = words("spars and edge bars run on through panels, which must be in line", False)
    splice: Splice | None = words("what joins box spars where panels meet; left out: not drawn", None)
    aileron: Aileron | None = words("aileron, on both sides", None)
    drag_bracing: drag_page.DragBracing | None = words("tubes and crossed wires between two spars", None)
    inspection: inspection_page.Inspection | None = words("openings to look and reach in", None)

    def stouter(self, buttline: float, tail: bool = False) -> StouterRib | None:
        """Which of the stouter ribs the whole rib at a buttline is of. tail: its piece behind the rear spar."""
        here = (s for s in self.stouter_ribs if s.tail or not tail)
        return next((s for s in here if any(abs(buttline - y) < SAME_RIB for y in s.at)), None)

    def rib_at(self, buttline: float, tail: bool = False) -> Ribs:
        """How the whole rib at a buttline, or its tail, is made: as all are, but for what a stouter one says."""
        s = self.stouter(buttline, tail)
        return self.ribs if s is None else stouter_made(self.ribs, s)

    def rib_sheets(self, buttline: float) -> int:
        """How many sheets the whole rib at a buttline has: two where they stand back to back."""
        s = self.stouter(buttline)
        return 2 if s and s.back_to_back else 1

    def rib_thickness(self, buttline: float) -> float:
        """Thickness of the whole rib at a buttline, m, of both where two stand back to back; its flange left out."""
        return self.rib_sheets(buttline) * self.rib_at(buttline).sheet.thickness


@dataclass(frozen=True, kw_only=True)
class TailSurface:
    """Tailplane with elevator, or fin with rudder: a straight-tapered surface with a hinge."""

    leading_edge: Place = number("m", "leading edge of the root")
    span: float = number("m", "tip to tip for the tailplane, root to tip for the fin")
    root_chord: float = number("m", "chord at the root, movable part included")
    tip_chord: float = number("m", "chord at the tip, movable part included")
    sweep: float = number("rad", "sweep of the leading edge", 0.0)
    section: str = words("section", "")
    incidence: float = number("rad", "setting to the thrust line", 0.0)
    hinge: float = number("1", "hinge line, fraction of the chord")
    up: float = number("rad", "travel, trailing edge up or left, positive")
    down: float = number("rad", "travel, trailing edge down or right, positive")
    areal: float = number("kg/m2", "finished weight per plan area until its parts are drawn")
    areal_band: float = number("1", "give or take, fraction")
    frame: tail_page.TailFrame | None = words("its tubes and fittings, in place of its weight by area", None)


@dataclass(frozen=True, kw_only=True)
class Body:
    """One cross-section of the outside of the fuselage, an oval in a box."""

    station: float = number("m", "station")
    width: float = number("m", "full width")
    top: float = number("m", "waterline of the top")
    bottom: float = number("m", "waterline of the bottom")


@dataclass(frozen=True, kw_only=True)
class Fuselage:
    """Nodes and tubes, the outside shape, and how draggy it is.

    A node off the centreline stands for a pair: `B1` is `B1R` right and `B1L` left. A run written with
    pair names is built on both sides; a run with R and L names is built once.
    """

    nodes: Mapping[str, Place] = number("m", "where tubes meet, by name")
    tubes: tuple[FrameTube, ...] = words("runs of tube")
    body: tuple[Body, ...] = words("outside shape: cross-sections from nose to tail")
    open_cockpit: bool = words("whether the cockpit is open", True)
    windscreen: float | None = number("m2", "frontal area of windscreen and head above the body; nought for none", None)
    cockpit_opening: float | None = number("m2", "opening of the cockpit seen from above; nought for none", None)
    covering: float = number("kg/m2", "finished weight of the covering per outside area", 0.0)
    covering_band: float = number("1", "give or take, fraction", 0.0)


@dataclass(frozen=True, kw_only=True)
class Wheel:
    """A wheel with tyre and axle place."""

    name: str = words("name")
    diameter: float = number("m", "outside diameter of the tyre")
    width: float = number("m", "width of the tyre")
    mass: float = number(
        "kg", "mass of one, with tyre and tube; with its brake where [undercarriage.brakes] is left out"
    )
    place: Place = number("m", "middle of the wheel; off the centreline stands for a pair")
    faired: bool = words("whether it wears a spat", False)


@dataclass(frozen=True, kw_only=True)
class Item:
    """A bought item: seat, instrument, battery, tank."""

    name: str = words("name")
    mass: float = number("kg", "mass of one")
    band: float = number("1", "give or take, fraction", 0.0)
    place: Place = number("m", "centre of mass")
    count: int = words("how many", 1)
    mark: str = words("how its mass was had: measured, read, invented, designer", "designer")
    replaces: str = words("the allowance it stands in place of, which then counts no more", "")
    held: tuple[str, ...] = words("what it is bolted to: flat sheets by name, tubes by their end nodes (B1R-B1L)", ())
    size: Place | None = number("m", "length, width and height over all; left out: no shape", None)
    form: fitted_page.ItemForm = words(
        "box, or round about a line along, across or upright; soft (webbing, foam) has no shape and yields", "box"
    )
    group: WeightGroup = words(
        "with what it is held against statistics of built aeroplanes; none: with nothing", "none"
    )


@dataclass(frozen=True, kw_only=True)
class Allowance:
    """Weight for what is not drawn yet; it goes when the parts it stands for arrive."""

    name: str = words("name")
    mass: float = number("kg", "likely mass")
    low: float = number("kg", "least mass")
    high: float = number("kg", "greatest mass")
    place: Place = number("m", "centre of mass")
    stands_for: str = words("what it stands for until drawn", "")
    group: WeightGroup = words(
        "with what it is held against statistics of built aeroplanes; none: with nothing", "none"
    )


@dataclass(frozen=True, kw_only=True)
class Load:
    """Something that comes and goes: pilot, fuel, oil, baggage."""

    name: str = words("name")
    kind: Literal["pilot", "fuel", "oil", "baggage"] = words("what it is")
    least: float = number("kg", "least mass carried")
    most: float = number("kg", "greatest mass carried")
    place: Place = number("m", "centre of mass")


@dataclass(frozen=True, kw_only=True)
class Model:
    """One aeroplane of the family, complete."""

    family: str = words("name of the family")
    name: str = words("name, as in the file")
    title: str = words("what it is, in a few words")
    note: str = words("remark", "")
    drawing_units: Literal["inch", "millimetre"] = words("units of dimensions on drawings")
    market: Literal["inch", "metric"] | None = words(
        "whose stock is offered in place of what is written; left out: that of the drawing units", None
    )
    categories: tuple[str, ...] = words("keys of the licence categories to check against")
    limits: Limits = words("what the designer promises")
    sections: Mapping[str, Section] = words("aerofoil sections by name")
    wings: tuple[Wing, ...] = words("one to three wings")
    tailplane: TailSurface = words("tailplane with elevator")
    fin: TailSurface = words("fin with rudder")
    fuselage: Fuselage = words("frame and outside shape")
    struts: tuple[Strut, ...] = words("struts", ())
    wires: tuple[Wire, ...] = words("bracing wires", ())
    fittings: tuple[fittings_page.Fitting, ...] = words("fittings that hold struts and wires", ())
    strut_pieces: tuple[fittings_page.StrutPiece, ...] = words("what struts end in", ())
    roots: tuple[fittings_page.Root, ...] = words("spars bolted to the fuselage at a wing's root", ())
    engine: Engine = words("engine as bolted on")
    propeller: Propeller = words("propeller")
    wheels: tuple[Wheel, ...] = words("wheels")
    loads: tuple[Load, ...] = words("what comes and goes: pilot, fuel, oil, baggage")
    items: tuple[Item, ...] = words("bought items", ())
    sheets: tuple[fitted_page.FlatSheet, ...] = words("flat sheets on the frame", ())
    formers: tuple[formers_page.Former, ...] = words("arches across the frame that shape its deck", ())
    stringers: tuple[formers_page.Stringer, ...] = words("strips let into formers", ())
    mount: fitted_page.EngineMount | None = words("the engine's mount", None)
    cowling: cowling_page.Cowling | None = words("the engine's cowling", None)
    undercarriage: fitted_page.Undercarriage | None = words("what the wheels turn on and are sprung by", None)
    allowances: tuple[Allowance, ...] = words("weight for what is not drawn yet", ())
    weighed: tuple[weighed_page.Weighed, ...] = words("parts that were weighed; a list of tables", ())
    fuel: fuel_page.Fuel | None = words("the fuel system", None)
    exhaust: exhaust_page.Exhaust | None = words("the exhaust; the engine's mass is then without it", None)
    days: tuple[days_page.Day, ...] = words("days for which performance is told besides the standard one", ())
    paint: aileron_page.Paint | None = words("paint on the hinged surfaces, for their balance", None)
    test_pieces: trial_page.TestPieces | None = words("pieces that are made to be broken", None)
    rigging: rigging_page.Rigging | None = words("how true it is rigged, and the points it is levelled by", None)
    ground: ground_page.Ground | None = words("how it stands on the ground", None)
    parked: parked_page.Parked | None = words("ropes, jacks and slings that hold it when it does not fly", None)
    seat: seat_page.Seat | None = words("where the pilot sits and what is reached", None)
    controls: controls_page.Controls | None = words("the controls, from the hand and foot to the surface", None)
    electrics: electrics_page.Electrics | None = words("battery, generator, circuits", None)
    pitot: pitot_page.Pitot | None = words("pitot head, static holes and their lines", None)
    confirmed: tuple[confirmed_page.Confirmed, ...] = words("rows of categories you have read yourself", ())
    proof: proof_page.ProofBags | None = words("the bags of the proof-load test", None)
    proof_measured: tuple[proof_page.ProofMeasured, ...] = words("what the proof-load test gave", ())
    measured_sheets: tuple[measured_page.MeasuredSheet, ...] = words(
        "sheets that were measured: parts are cut for the measured thickness; a list of tables", ()
    )
    strengths: strength_page.Strengths | None = words("your own tests, and what else strengths rest on", None)

    @property
    def sold_in(self) -> Literal["inch", "metric"]:
        """The market its stock is bought in."""
        return self.market or ("inch" if self.drawing_units == "inch" else "metric")

    def wing(self, name: str) -> Wing:
        """The wing of that name."""
        return next(w for w in self.wings if w.name == name)


@dataclass(frozen=True, kw_only=True)
class Family:
    """A family file that was read without a problem."""

    path: str = words("where it was read")
    name: str = words("name of the family")
    sha256: str = words("digest of the file")
    models: Mapping[str, Model] = words("complete models by name")
    unknowns: tuple[str, ...] = words("what the file says is not known yet, in the designer's words", ())
    cut_outside: tuple[str, ...] = words("materials whose flat plates have router files; none: every flat plate", ())


def spoken(name: str) -> str:
    """How a wing, the tailplane or the propeller is called in a sentence.

    >>> spoken("upper"), spoken("top_wing"), spoken("tailplane")
    ('upper wing', 'top wing', 'tailplane')
    """
    plain = name.replace("_", " ")
    return plain if "wing" in plain or plain in ("tailplane", "propeller") else f"{plain} wing"


def records() -> tuple[type, ...]:
    """Every record of this page, for the tests that read them."""
    own = (v for v in globals().values() if isinstance(v, type) and hasattr(v, "__dataclass_fields__"))
    return (
        *own,
        *fitted_page.RECORDS,
        *brakes_page.RECORDS,
        *cowling_page.RECORDS,
        *days_page.RECORDS,
        *formers_page.RECORDS,
        *exhaust_page.RECORDS,
        *fuel_page.RECORDS,
        *weighed_page.RECORDS,
        *measured_page.RECORDS,
        *confirmed_page.RECORDS,
        *limits_page.RECORDS,
        *ground_page.RECORDS,
        *parked_page.RECORDS,
        *rigging_page.RECORDS,
        *strength_page.RECORDS,
        *trial_page.RECORDS,
        *proof_page.RECORDS,
        *tail_page.RECORDS,
        *aileron_page.RECORDS,
        *balance_page.RECORDS,
        *inspection_page.RECORDS,
        *drag_page.RECORDS,
        *seat_page.RECORDS,
        *controls_page.RECORDS,
        *play_page.RECORDS,
        *fittings_page.RECORDS,
        *electrics_page.RECORDS,
        *pitot_page.RECORDS,
    )
