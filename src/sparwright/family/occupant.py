"""Where somebody sits and what they reach: seat, stick, throttle, pedals, panel, harness and the edge of the cockpit.

Places as everywhere: station aft, buttline to the right, waterline up. Whoever is smaller than the largest sits on
loose cushions; pedals are set nearer. The rest is fixed.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.stock import Sheet, words

Place = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class StickGrip:
    """The grip of the stick where the hand holds it."""

    place: Place = number("m", "middle of the grip, stick in its middle")
    forward: float = number("m", "how far it goes forward from there")
    aft: float = number("m", "how far it goes aft from there")


@dataclass(frozen=True, kw_only=True)
class Throttle:
    """The throttle's knob."""

    open: Place = number("m", "knob at full throttle")
    shut: Place = number("m", "knob shut")


@dataclass(frozen=True, kw_only=True)
class Pedals:
    """Rudder pedals, pressed by the balls of the feet."""

    place: Place = number("m", "where the ball of the right foot presses, pedals level, in their foremost setting")
    travel: float = number("m", "how far each goes forward, and the other aft")
    adjust: float = number("m", "how far aft they can be set; nought where they cannot", 0.0)


@dataclass(frozen=True, kw_only=True)
class InstrumentPanel:
    """The instrument panel, upright across the cockpit."""

    station: float = number("m", "station of its face")
    lower: float = number("m", "waterline of its lower edge")
    upper: float = number("m", "waterline of its upper edge")


@dataclass(frozen=True, kw_only=True)
class StrapLug:
    """The lugs that the straps are bolted to, each welded on a tube, in the plane of the tube and its hole."""

    sheet: Sheet = words("stock")
    edge: float = number("m", "metal round the middle of its hole")
    bolt: str = words("bolt of the strap's end; key of a fastener", "AN4")
    tang: float = number("m", "thickness of the strap's own end fitting, for the bolt's grip")


@dataclass(frozen=True, kw_only=True)
class Harness:
    """Straps of the seat: where they are held, and how much they give."""

    shoulder: Place | None = number("m", "where the right shoulder strap is held; left out: lap strap alone", None)
    lap: Place = number("m", "where the right half of the lap strap is held")
    shoulder_on: str = words("tube the shoulder straps' lugs are welded on, by its end nodes (E1R-E1L)", "")
    lap_on: str = words("tube the lap straps' lugs are welded on, by its end nodes, without R and L for a pair", "")
    lug: StrapLug | None = words("lugs the straps are bolted to; left out: they are not drawn", None)
    item: str = words("key of the item that is the straps", "")
    give: float = number("m", "how far straps of this length and their slack let the body forward in a crash")


@dataclass(frozen=True, kw_only=True)
class Coaming:
    """The edge of the cockpit's opening on the right side."""

    front: Place = number("m", "its foremost corner")
    aft: Place = number("m", "its aftmost corner")
    door: float = number("m", "how far the side can be let down below it; nought for none", 0.0)


@dataclass(frozen=True, kw_only=True)
class SeatAngle:
    """A bent strip on either side that joins the pan's rear edge to the back, beneath the pan and ahead of the back."""

    sheet: Sheet = words("stock")
    leg: float = number("m", "width of each leg")
    inner: float = number("m", "buttline of its inner end")
    outer: float = number("m", "buttline of its outer end")
    bolt: str = words("bolts through each leg; key of a fastener", "AN3")
    bolts: int = words("how many in each leg", 3)


@dataclass(frozen=True, kw_only=True)
class SeatStiffener:
    """A bent strip on either side beneath the pan, fore and aft, so that it does not sag onto what passes there."""

    sheet: Sheet = words("stock")
    leg: float = number("m", "width of each leg: one on the pan, outboard, one down")
    buttline: float = number("m", "buttline of its inner face")
    front: float = number("m", "station of its front end, at the tube that carries the pan")
    rear: float = number("m", "station of its rear end")
    rivet: str = words("rivets through the leg on the pan; key of a fastener")
    pitch: float = number("m", "rivets no further apart than this")


@dataclass(frozen=True, kw_only=True)
class SeatTunnel:
    """A folded cover over a slot in the pan's rear and the back's foot, for a rod that passes there."""

    sheet: Sheet = words("stock")
    front: float = number("m", "station of its front end on the pan")
    width: float = number("m", "width inside")
    front_height: float = number("m", "height over the pan at its front, square to the pan, outside")
    rear_height: float = number("m", "height over the pan at the back, square to the pan, outside")
    flange: float = number("m", "width of the edges that lie on the pan")
    rivet: str = words("rivets through the edges; key of a fastener")
    pitch: float = number("m", "rivets no further apart than this")


@dataclass(frozen=True, kw_only=True)
class SeatShell:
    """What the pilot sits on: two flat sheets on tubes of the frame, and how they are joined."""

    pan: str = words("flat sheet of [sheets] that is sat on")
    back: str = words("flat sheet of [sheets] that is leant on; the pan stands on it")
    angle: SeatAngle = words("strips that join the two")
    stiffener: SeatStiffener = words("strips that keep the pan from sagging")
    tunnel: SeatTunnel | None = words("cover over a slot for a rod", None)


@dataclass(frozen=True, kw_only=True)
class Seat:
    """The pilot's seat and what is reached from it."""

    place: Place = number("m", "seat reference point: where back and pan meet, seat pressed in")
    back: float = number("rad", "lean of the back from upright, aft")
    pan: float = number("rad", "rise of the pan forward")
    cushion: float = number("m", "thickest loose cushion to sit on", 0.0)
    behind: float = number("m", "thickest loose cushion behind the back", 0.0)
    helmet: bool = number("", "whether a helmet is worn", True)
    shell: SeatShell | None = words("sheets the pilot sits on; left out: the seat is not drawn", None)
    turnover: Place | None = number("m", "highest point of what keeps the head off the ground upside down", None)
    turnover_on: tuple[str, ...] = words("struts, or tubes of the frame by their end nodes, that carry that point", ())
    stick: StickGrip | None = number("", "the stick's grip", None)
    throttle: Throttle | None = number("", "the throttle's knob", None)
    pedals: Pedals | None = number("", "the rudder pedals", None)
    panel: InstrumentPanel | None = number("", "the instrument panel", None)
    harness: Harness | None = number("", "the straps", None)
    coaming: Coaming | None = number("", "the edge of the cockpit's opening", None)


RECORDS = (
    StickGrip, Throttle, Pedals, InstrumentPanel, StrapLug, Harness, Coaming, SeatAngle, SeatStiffener, SeatTunnel,
    SeatShell, Seat,
)  # fmt: skip
