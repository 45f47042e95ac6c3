"""The brakes as the file says them: a drum on each main wheel, what holds its shoes, the line from each lever."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.stock import RoundTube, Sheet, words

Place = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class BrakeLine:
    """A cable in a housing from a lever to the brake of the side it is named after, right or left."""

    name: str = words("name")
    lever: str = words(
        "bell-crank of [controls.cranks] and its hole the cable is joined at; the hand is at its hole grip"
    )
    run: Mapping[str, Place] = number("m", "where it goes between lever and leg: named places; leg and brake follow")
    held: tuple[str, ...] = words("what it is clipped to: tubes by their end nodes, flat sheets by name")


@dataclass(frozen=True, kw_only=True)
class Brakes:
    """Drum brakes on the main wheels: drum on the wheel, shoes on a plate that turns on the axle, held by a link.

    The axle rises in its guides, each end by itself; the link lets its own plate turn a little on it as it does.
    """

    source: str = words("who measured gain and friction, or whose figures they are")
    drum: float = number("m", "inside diameter of the drum, where the shoes rub")
    outside: float = number("m", "outside diameter of the drum")
    width: float = number("m", "from the plate on the axle to the wheel's face")
    drum_mass: float = number("kg", "mass of one drum")
    shoes_mass: float = number("kg", "mass of one back plate with shoes, springs and cam")
    gain: float = number("1", "force of both shoes on the drum over the pull in the cable")
    friction: float = number("1", "coefficient of friction of lining and drum")
    band: float = number("1", "give or take of gain and friction together, fraction")
    loss: float = number("1", "part of the pull that is lost in the cable's housing, fraction")
    plate: Sheet = words("sheet of the plate that the back plate is bolted to, with its arm")
    hub: RoundTube = words("hub welded to the plate, which turns on the axle")
    hub_width: float = number("m", "length of the hub, inwards from the plate")
    arm: float = number("m", "from the axle's middle up to the link's hole in the arm")
    ahead: float = number("m", "the guide's ear that holds the link, ahead of the axle")
    above: float = number("m", "the ear above the axle at the bottom of its slot")
    link: Sheet = words("sheet of the link from ear to arm")
    bush: RoundTube = words("bush welded on the ear, as long as the link stands off it")
    bolt: str = words("bolt at each end of the link; key of a fastener", "AN4")
    hand: float = number("N", "pull of the hand at each lever's grip")
    travel: float = number("rad", "how far a lever can be drawn, grip aft")
    cable: float = number("m", "outside diameter of the cable's housing")
    lineal: float = number("kg/m", "mass of cable and housing for each length")
    lines: tuple[BrakeLine, ...] = words("from lever to brake: right and left")


RECORDS = (BrakeLine, Brakes)
