"""The controls as the file says them, from the hand and foot to the surface.

Places as everywhere: station aft, buttline to the right, waterline up, all with the controls in neutral. What stands
off the centreline and is a pair is written by its right one. An end of a rod or cable names a hole: `stick.arm`,
`pedal.cable`, `elevator.horn`, `rudder.horn`, `lug.NAME`, `aileron.WING.lower` or `upper` for a hole of an aileron's
horn, and `torque_tube.HOLE` or NAME of a bell-crank with one of its holes. Rods lie on the side of a plate its axis
points to: right, aft or up.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.play import ControlPlay
from sparwright.family.stock import RoundTube, Sheet, words

Place = tuple[float, float, float]
Axis = Literal["across", "along", "up"]
DIRECTIONS: Mapping[str, Place] = {"along": (1.0, 0.0, 0.0), "across": (0.0, 1.0, 0.0), "up": (0.0, 0.0, 1.0)}

WELD = "weld"  # what holds a rod's plug, where it is no fastener
OUT = 0.55  # of the length of an arm that meets a stop pin, from its pivot to the pin


@dataclass(frozen=True, kw_only=True)
class Stick:
    """The stick, on a bolt across the torque tube; its grip is that of [seat.stick]."""

    pivot: Place = number("m", "the bolt it turns on fore and aft, on the torque tube's axis")
    tube: RoundTube = words("tube it is made of")
    arm: Place = number("m", "hole the elevator's rod is joined at")
    lug: Sheet = words("sheet of the lug welded on it for the rod")
    side: float = number("m", "room of the grip to either side")


@dataclass(frozen=True, kw_only=True)
class TorqueTube:
    """The tube the stick stands on, fore and aft; it turns with the stick to the side and drives the ailerons."""

    tube: RoundTube = words("tube it is made of")
    front: float = number("m", "station of its front end, behind the stick's bolt")
    aft: float = number("m", "station of its aft end")
    fork: Sheet = words("sheet of the two plates that hold the stick's bolt")
    bearing: Sheet = words("sheet of the bearing plates, which stand on cross tubes")
    on: tuple[str, ...] = words("frame tubes the bearings stand on, each by its two ends: C2R-C2L")
    arm: Sheet | None = words("sheet of the plate with the ailerons' holes", None)
    holes: Mapping[str, Place] | None = number("m", "the ailerons' holes, right or on the centreline", None)


@dataclass(frozen=True, kw_only=True)
class RudderPedals:
    """Two pedals that turn on one shaft across; the foot presses at the place of [seat.pedals]."""

    pivot: Place = number("m", "middle of the right pedal's hub, on the shaft, in the foremost setting")
    shaft: RoundTube = words("shaft through both hubs")
    hub: RoundTube = words("tube that turns on the shaft")
    width: float = number("m", "length of a hub")
    tube: RoundTube = words("tube of upright and foot bar")
    foot: float = number("m", "length of the foot bar")
    arm: Sheet = words("sheet of the cable's arm, and of the tabs the rails are bolted to")
    cable: Place = number("m", "hole of the cable in the right pedal's arm")
    spring: Place = number("m", "hole of the return spring in the right pedal's arm")
    rail: Sheet = words("sheet of the rails the shaft is held in, on edge, outside the hubs")
    depth: float = number("m", "depth of a rail")
    on: tuple[str, ...] = words("two cross tubes the rails lie on, front and rear: B2R-B2L, C2R-C2L")
    settings: int = words("holes for the shaft", 1)


@dataclass(frozen=True, kw_only=True)
class ReturnSpring:
    """The spring that draws each pedal forward and keeps its cable tight."""

    anchor: Place = number("m", "where the right one is held")
    on: str = words("frame tube it is held to: A2R-A2L")
    force: float = number("N", "pull with the pedals level")
    stretch: float = number("m", "how far it is drawn out with the pedals level; it pulls nothing when slack")
    outside: float = number("m", "outside diameter")
    mass: float = number("kg", "mass of one")


@dataclass(frozen=True, kw_only=True)
class Crank:
    """A bell-crank: a plate on a hub that turns on a bolt between the two plates of its bracket."""

    name: str = words("name")
    pivot: Place = number("m", "middle of its hub")
    axis: Axis = words("what it turns about: a line across, along or up", "across")
    holes: Mapping[str, Place] = number("m", "its holes by name")
    sheet: Sheet = words("sheet of the plate")
    hub: RoundTube = words("tube of the hub, which is its bearing")
    width: float = number("m", "length of the hub, between the bracket's plates")
    bolt: str = words("key of a bolt of data/fasteners.csv")
    bracket: Sheet = words("sheet of the bracket's two plates")
    on: str = words("what it stands on: a frame tube by its two ends, or a wing's part by its number")
    pair: bool = words("whether there is one on each side", False)


@dataclass(frozen=True, kw_only=True)
class Lug:
    """A lug on a rib of an aileron, for the strut that links it to the aileron of another wing; on both sides."""

    name: str = words("name")
    wing: str = words("wing the aileron is of")
    hole: Place = number("m", "middle of its hole, at the buttline of its plate's middle")
    foot: Place = number("m", "middle of its foot, flat on the rib; its buttline counts for nothing")
    sheet: Sheet = words("sheet it is cut from")
    on: str = words("the rib, by its number without the model")
    passes: tuple[str, ...] = words("parts it goes through by an opening cut to fit, by number without the model", ())


@dataclass(frozen=True, kw_only=True)
class Rod:
    """A push-pull tube with a rod end at each end."""

    name: str = words("name")
    ends: tuple[str, ...] = words("the two holes it joins, from the hand to the surface")
    tube: RoundTube = words("tube it is made of")
    pair: bool = words("whether there is one on each side", False)
    plug: str = words(
        "what holds the threaded plug in each of its ends: weld, or the key of the rivets or bolts through tube and "
        "plug; left out: not said",
        "",
    )
    plugs: int = words("how many of those rivets or bolts hold one plug", 0)
    opening: float | None = number("m", "diameter of the round hole it has in each plate rib on its way", None)
    passes: tuple[str, ...] = words("parts it goes through by an opening cut to fit, by number without the model", ())
    fairing: Literal["round", "streamline"] = words("shape across the wind, of one from aileron to aileron", "round")
    faired_width: float = number("m", "width across the wind where it is faired", 0.0)


@dataclass(frozen=True, kw_only=True)
class ControlCable:
    """A cable from hole to hole over pulleys and through fairleads, with a turnbuckle."""

    name: str = words("name")
    ends: tuple[str, ...] = words("the two holes it joins, from the hand to the surface")
    over: tuple[str, ...] = words("pulleys and fairleads in the order from the first end", ())
    diameter: float = number("m", "diameter")
    construction: Literal["7x7", "7x19"] = words("strands by wires", "7x19")
    metal: Literal["carbon", "stainless"] = words("carbon or stainless steel", "carbon")
    tension: float = number(
        "N", "rigging tension at rest; of a cable kept tight by a spring: what the spring gives", 0.0
    )
    turnbuckle: float = number("m", "from the first hole to the middle of the turnbuckle, along the cable")
    across: bool = words("whether it goes on, over the same pulleys on the left, to the left one's hole", False)
    opening: float | None = number("m", "diameter of the round hole it has in each plate rib on its way", None)
    passes: tuple[str, ...] = words("parts it goes through by an opening cut to fit, by number without the model", ())
    pair: bool = words("whether there is one on each side", False)


@dataclass(frozen=True, kw_only=True)
class Pulley:
    """A pulley in a bracket of two plates, with a guard pin over the cable."""

    name: str = words("name")
    turn: Place = number("m", "where the cable's two straight parts would meet")
    diameter: float = number("m", "at the bottom of the groove")
    width: float = number("m", "over the hub, between the bracket's plates")
    mass: float = number("kg", "mass")
    axis: tuple[float, ...] = number("1", "direction of its bolt; left out: square to the cable's two parts", ())
    bolt: str = words("key of a bolt of data/fasteners.csv")
    bracket: Sheet = words("sheet of the bracket's two plates")
    guard: float = number("m", "room between cable and guard pin")
    on: str = words("what it stands on: a frame tube by its two ends, or a wing's part by its number")
    pair: bool = words("whether there is one on each side", False)


@dataclass(frozen=True, kw_only=True)
class Fairlead:
    """A ring that leads a cable, on a strip that holds it to a frame tube, or bonded in a rib."""

    name: str = words("name")
    place: Place = number("m", "middle of the ring, on the cable")
    bore: float = number("m", "bore of the ring")
    outside: float = number("m", "outside diameter of the ring")
    length: float = number("m", "length of the ring")
    strip: Sheet | None = words("sheet of the strip that holds it; none for one in a rib", None)
    on: str = words("frame tube it is held to, by its two ends, or a wing's rib by its number")
    pair: bool = words("whether there is one on each side", False)


@dataclass(frozen=True, kw_only=True)
class RodEnd:
    """The bought rod end of all push-pull tubes."""

    eye: float = number("m", "outside diameter of its eye")
    width: float = number("m", "width of its ball")
    bolt: str = words("key of a bolt of data/fasteners.csv")
    mass: float = number("kg", "mass of one with its jam nut")
    turns: float = number("rad", "how far it may tilt on its ball, to either side")
    rated: float | None = number("N", "pull its maker says it bears at most, shank and ball; left out: not said", None)
    face: float | None = number("m", "diameter of the flat on its ball, which is clamped on the plate", None)


@dataclass(frozen=True, kw_only=True)
class CableEnd:
    """The ends of all cables: a shackle bent of strip, thimble and sleeve in it; and the turnbuckle."""

    shackle: Sheet = words("strip of the shackle")
    width: float = number("m", "width of the strip")
    length: float = number("m", "from the pin to the middle of the turn")
    eye: float = number("m", "inside radius of the turn")
    pin: str = words("key of a bolt of data/fasteners.csv")
    turnbuckle: float = number("m", "length of the turnbuckle, adjusted to its middle")
    outside: float = number("m", "outside diameter of the turnbuckle's barrel")
    mass: float = number("kg", "mass of a turnbuckle with its ends")


@dataclass(frozen=True, kw_only=True)
class SideStop:
    """What ends the stick's way to the sides: a lug on the torque tube between two pins on one of its bearings."""

    on: str = words("bearing that carries the pins, by its frame tube: D2R-D2L")
    sheet: Sheet = words("sheet of the lug, which stands up from the torque tube ahead of the bearing")
    arm: float = number("m", "from the torque tube's axis to the lug's end")


@dataclass(frozen=True, kw_only=True)
class Stops:
    """What ends the travel: pins that the horn or bell-crank by the surface meets, and one lug for the ailerons."""

    elevator: str = words("bell-crank and hole, as rear.up: the arm that meets the elevator's stop pins")
    pin: RoundTube = words("tube of the pins")
    rudder: Sheet = words("sheet of the plate on the fin's spar that carries the rudder's pins")
    side: SideStop | None = words("what ends the stick's way to the sides, and so the ailerons' travel", None)


@dataclass(frozen=True, kw_only=True)
class Trim:
    """A spring from the stick to a lever at the pilot's side; it draws the stick aft, the more the further aft."""

    lever: str = words("bell-crank that is the lever, and its hole for the spring: trim.spring; its hole grip is held")
    hook: Place = number("m", "hole for the spring in a lug on the stick")
    lug: Sheet = words("sheet of that lug")
    forward: float = number("rad", "how far the lever goes forward")
    aft: float = number("rad", "how far the lever goes aft")
    slack: float = number("m", "length of the spring from hook to hook, not drawn")
    pull: float = number("N", "its pull when drawn by `drawn`, weighed on a scale; as much less as it is drawn less")
    drawn: float = number("m", "how far it is drawn at that pull")
    longest: float = number("1", "how far it may be drawn, as a part of its slack length", 1.0)
    outside: float = number("m", "outside diameter")
    mass: float = number("kg", "mass with its hooks")


@dataclass(frozen=True, kw_only=True)
class Controls:
    """The controls, from the hand and foot to the surface."""

    stick: Stick = words("the stick")
    torque_tube: TorqueTube = words("the tube it stands on")
    pedals: RudderPedals = words("the rudder pedals")
    spring: ReturnSpring = words("return springs of the pedals")
    cranks: tuple[Crank, ...] = words("bell-cranks", ())
    lugs: tuple[Lug, ...] = words("lugs that link ailerons", ())
    rods: tuple[Rod, ...] = words("push-pull tubes", ())
    cables: tuple[ControlCable, ...] = words("cables", ())
    pulleys: tuple[Pulley, ...] = words("pulleys", ())
    fairleads: tuple[Fairlead, ...] = words("fairleads", ())
    rod_end: RodEnd = words("rod ends")
    cable_end: CableEnd = words("cable ends and turnbuckles")
    stops: Stops = words("stops")
    trim: Trim | None = words("elevator trim", None)
    opening_edge: float | None = number(
        "m", "least rib left between an opening for a cable or rod and its edge or another hole", None
    )
    play: ControlPlay | None = words("most play of joints; left out: free play of surfaces is not known", None)
    replaces: tuple[str, ...] = words("allowances it stands in place of, which then count no more", ())


NAMED = (Crank, Lug, Rod, ControlCable, Pulley, Fairlead)
RECORDS = (
    Stick, TorqueTube, RudderPedals, ReturnSpring, Crank, Lug, Rod, ControlCable, Pulley, Fairlead, RodEnd,
    CableEnd, SideStop, Stops, Trim, Controls,
)  # fmt: skip
