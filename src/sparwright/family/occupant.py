"""Where somebody sits and what they reach: seat, stick, throttle, pedals, panel, harness and the edge of the cockpit.

Places as everywhere: station aft, buttline to the right, waterline up. Whoever is smaller than the largest sits on
loose cushions; pedals are set nearer. The rest is fixed.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number

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
class Harness:
    """Straps of the seat: where they are held, and how much they give."""

    shoulder: Place | None = number("m", "where the right shoulder strap is held; left out: lap strap alone", None)
    lap: Place = number("m", "where the right half of the lap strap is held")
    give: float = number("m", "how far straps of this length and their slack let the body forward in a crash")


@dataclass(frozen=True, kw_only=True)
class Coaming:
    """The edge of the cockpit's opening on the right side."""

    front: Place = number("m", "its foremost corner")
    aft: Place = number("m", "its aftmost corner")
    door: float = number("m", "how far the side can be let down below it; nought for none", 0.0)


@dataclass(frozen=True, kw_only=True)
class Seat:
    """The pilot's seat and what is reached from it."""

    place: Place = number("m", "seat reference point: where back and pan meet, seat pressed in")
    back: float = number("rad", "lean of the back from upright, aft")
    pan: float = number("rad", "rise of the pan forward")
    cushion: float = number("m", "thickest loose cushion to sit on", 0.0)
    behind: float = number("m", "thickest loose cushion behind the back", 0.0)
    helmet: bool = number("", "whether a helmet is worn", True)
    turnover: Place | None = number("m", "highest point of what keeps the head off the ground upside down", None)
    stick: StickGrip | None = number("", "the stick's grip", None)
    throttle: Throttle | None = number("", "the throttle's knob", None)
    pedals: Pedals | None = number("", "the rudder pedals", None)
    panel: InstrumentPanel | None = number("", "the instrument panel", None)
    harness: Harness | None = number("", "the straps", None)
    coaming: Coaming | None = number("", "the edge of the cockpit's opening", None)


RECORDS = (StickGrip, Throttle, Pedals, InstrumentPanel, Harness, Coaming, Seat)
