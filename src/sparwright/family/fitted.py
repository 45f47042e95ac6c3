"""What is put into and onto the frame: flat sheets, bodies of bought things, the engine's mount, the sprung wheels."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.brakes import Brakes
from sparwright.family.stock import FrameTube, Sheet, words

Place = tuple[float, float, float]
Form = Literal["box", "along", "across", "upright"]
ItemForm = Literal["box", "along", "across", "upright", "soft"]


@dataclass(frozen=True, kw_only=True)
class SheetHole:
    """A round hole in a flat sheet."""

    name: str = words("name")
    place: Place = number("m", "its middle, as near to the sheet as you know; one hole, right or left")
    diameter: float = number("m", "diameter")


@dataclass(frozen=True, kw_only=True)
class FlatSheet:
    """A flat sheet clipped to tubes of the frame: firewall, floor, panel, bulkhead, seat, shelf.

    It is laid on the tubes that hold it: moved square to itself until it touches them. Its left half is the mirror of
    its right one.
    """

    name: str = words("name")
    purpose: str = words("what it is for")
    sheet: Sheet = words("stock")
    corners: Mapping[str, Place] = number("m", "corners of its right half in turn, from the centreline round to it")
    to: Literal["forward", "aft", "up", "down"] = words("to which side of the tubes it lies")
    held: tuple[str, ...] = words(
        "tubes it is clipped to, by their end nodes (B1R-B1L), a pair without R and L; none: it stays at its corners"
    )
    stands_on: tuple[str, ...] = words("other flat sheets whose face it is cut to and bolted to at its edge", ())
    bolt: str = words("bolt of each clip; key of a fastener", "AN3")
    pitch: float = number("m", "clips along a tube no further apart than this", 0.2032)
    holes: tuple[SheetHole, ...] = words("round holes", ())


@dataclass(frozen=True, kw_only=True)
class Lump:
    """A box or a round block of which a bought thing is made up, for what it would run into."""

    name: str = words("name")
    place: Place = number("m", "its middle; off the centreline stands for a pair")
    size: Place = number("m", "length, width and height over all")
    form: Form = words("box, or round about a line along, across or upright", "box")


@dataclass(frozen=True, kw_only=True)
class MountFoot:
    """Where the engine's mount is bolted to the frame, through the sheet between them."""

    name: str = words("name")
    node: str = words("node of the mount")
    to: str = words("node of the fuselage it is bolted to")


@dataclass(frozen=True, kw_only=True)
class EngineMount:
    """The frame that carries the engine: tubes of its own, welded, bolted on ahead of the firewall."""

    nodes: Mapping[str, Place] = number("m", "where its tubes meet, by name; off the centreline stands for a pair")
    tubes: tuple[FrameTube, ...] = words("runs of tube")
    feet: tuple[MountFoot, ...] = words("where it is bolted to the frame")
    through: str = words("flat sheet between its feet and the frame, the firewall")
    bolt: str = words("bolt of each foot; key of a fastener", "AN6")
    pads: tuple[str, ...] = words("its nodes that the engine is bolted to; a pair without R and L")
    pad_bolt: str = words("bolt of each pad; key of a fastener", "AN6")


@dataclass(frozen=True, kw_only=True)
class AxleGuide:
    """A plate each side, welded to the legs, with the slot that the axle rises in."""

    sheet: Sheet = words("stock")
    held: tuple[str, ...] = words("legs it is welded to, by their end nodes (A2-AX)")
    edge: float = number("m", "metal left round the slot")
    fit: float = number("m", "the slot is wider than the axle by this")
    flange: float | None = number("m", "depth of a strip of the same sheet welded square round its edge, inboard", None)


@dataclass(frozen=True, kw_only=True)
class Rubber:
    """Elastic cord wound from the axle to the guides, the same on both sides."""

    source: str = words("who pulled the cord and read the scale, and when")
    cord: float = number("m", "diameter of the cord")
    turns: int = words("turns a side, each of two strands")
    strand: float = number("m", "length of one strand from axle to guide, slack")
    stretched: float = number("m", "how long a strand is with the axle at the bottom of its slot")
    stretch: tuple[float, ...] = number("1", "stretches at which the cord was pulled, fractions of its slack length")
    pull: tuple[float, ...] = number("N", "its pull at each of them")
    band: float = number("1", "give or take of the pull, fraction: makes and ages differ")
    density: float = number("kg/m3", "density of the cord", 1000.0)


@dataclass(frozen=True, kw_only=True)
class Leaf:
    """Flat leaves on one another that carry the tail wheel: bolted at the front, over a rest, to the wheel's fork.

    The fork turns right round on the bolt at its crown's middle: a castor.
    """

    material: str = words("key of a material")
    width: float = number("m", "width")
    thickness: float = number("m", "thickness of one leaf")
    leaves: int = words("how many, all of the full length, loose on one another", 1)
    start: Place = number("m", "middle of its front end, beneath the tube it is bolted to")
    rest: Place = number("m", "middle of the leaves where they lie on the frame")
    end: Place = number("m", "middle of its free end, over the fork")
    held: tuple[str, ...] = words("tubes it is bolted to at its front and lies on at its rest, by their end nodes")
    bolt: str = words("its bolts; key of a fastener", "AN5")
    fork: Sheet = words("sheet of the fork: a crown beneath the leaf and a cheek on either side of the wheel")
    beside: float = number("m", "between the tyre and each cheek")
    washer: Sheet | None = words(
        "round washer between leaf and crown, as wide as the leaf, that the fork turns on", None
    )
    axle: str = words("bolt the tail wheel turns on; key of a fastener", "AN6")


@dataclass(frozen=True, kw_only=True)
class Undercarriage:
    """What the wheels are sprung by."""

    axle: str = words("tube of the frame that the main wheels turn on, by its end nodes (AWR-AWL)")
    guide: AxleGuide | None = words("slotted plates the axle rises in", None)
    rubber: Rubber | None = words("elastic cord", None)
    tail: Leaf | None = words("the tail wheel's leaf spring", None)
    brakes: Brakes | None = words("drum brakes on the main wheels", None)


RECORDS = (SheetHole, FlatSheet, Lump, MountFoot, EngineMount, AxleGuide, Rubber, Leaf, Undercarriage)
