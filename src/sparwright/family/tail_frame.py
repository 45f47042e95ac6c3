"""The frame of a tail surface as the file says it: tubes in one flat plane, gussets, hinges, horn, fabric, tabs.

The tubes lie in the plane of the surface's chords; places along a surface are buttlines for the tailplane and heights
over the root for the fin, measured along it. The section of the file stays the air's: the frame is flat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.balance import TailWeight
from sparwright.family.stock import RoundTube, Sheet, words


@dataclass(frozen=True, kw_only=True)
class Gusset:
    """The plates that hold tubes together, one on each face, flat: their tubes have one outside diameter."""

    sheet: Sheet = words("sheet they are cut from")
    rivet: str = words("key of a rivet of data/fasteners.csv")
    rivets: int = words("rivets in each tube's arm, on each face")
    pitch: float = number("m", "from rivet to rivet")
    edge: float = number("m", "from a rivet's middle to the edge of a plate; two diameters at least")


@dataclass(frozen=True, kw_only=True)
class FixedFrame:
    """The part that stands still: leading edge, spar, ribs."""

    root: float = number("m", "where its innermost rib is: buttline of the pair, or height of the fin's root tube")
    foot: float | None = number("m", "height at which leading edge and spar of a fin end below its root tube", None)
    pitch: float | None = number("m", "greatest spacing of the ribs between root and tip", None)
    ribs: tuple[float, ...] = number("m", "where the ribs are between root and tip, instead of by pitch", ())
    leading: RoundTube = words("leading edge tube")
    spar: RoundTube = words("tube the hinges sit on")
    rib: RoundTube = words("rib tubes")
    ends: RoundTube = words("root and tip tubes")
    diagonal: RoundTube | None = words("a diagonal in each bay; left out: none", None)

    @property
    def inner(self) -> float:
        """Where its ribs may begin, m."""
        return self.root


@dataclass(frozen=True, kw_only=True)
class MovableFrame:
    """Elevator or rudder: front tube, trailing edge, ribs; its root tube slants to give the other surface room."""

    root: float = number("m", "where its root tube is at the front tube")
    root_aft: float = number("m", "where its root tube is at the trailing edge")
    pitch: float | None = number("m", "greatest spacing of the ribs between root tube and tip", None)
    ribs: tuple[float, ...] = number("m", "where the ribs are between root tube and tip, instead of by pitch", ())
    front: RoundTube = words("tube behind the hinges")
    trailing: RoundTube = words("trailing edge tube")
    rib: RoundTube = words("rib tubes")
    ends: RoundTube = words("root and tip tubes")
    diagonal: RoundTube | None = words("a diagonal in each bay; left out: none", None)
    join: RoundTube = words("tube in the front tubes' bore that joins the halves and carries the horn")
    lap: float = number("m", "how far it goes into a front tube")

    @property
    def inner(self) -> float:
        """Where its ribs may begin, clear of the slanting root tube, m."""
        return max(self.root, self.root_aft)


@dataclass(frozen=True, kw_only=True)
class TailHinges:
    """Hinges: a strap round a bush on the spar, between two straps round the pin on the front tube."""

    places: tuple[float, ...] = number("m", "where they are along the surface")
    sheet: Sheet = words("sheet the straps are bent from; their width is that of a row of the gusset's rivets")
    pin: str = words("key of a bolt of data/fasteners.csv")
    bush: RoundTube = words("tube the bushes are cut from")
    play: float = number("m", "room between straps on the pin, each side")


@dataclass(frozen=True, kw_only=True)
class TailHorn:
    """The arm the controls pull at: a plate on the joining tube, welded."""

    sheet: Sheet = words("sheet it is cut from")
    along: float = number("m", "where it is along the surface")
    arm: float = number("m", "from the hinge line to its hole")
    arms: int = words("one (below, or to the left) or two (both sides)")
    hole: float = number("m", "diameter of its hole")


@dataclass(frozen=True, kw_only=True)
class TailAttach:
    """A pair of tabs on a node of the fuselage that holds the surface with a bolt across."""

    name: str = words("front, rear")
    node: str = words("node on the centreline where the tabs are welded")
    tube: Literal["rib", "leading", "spar"] = words("bolted tube: the root ribs, or a foot of leading edge or spar")
    along: float = number("m", "where the bolt is: aft of the leading edge on a rib, or height on a foot")


@dataclass(frozen=True, kw_only=True)
class TailFrame:
    """What a tail surface is made of; in place of its weight by area."""

    gap: float = number("m", "clear space between spar and front tube at the hinge line")
    gusset: Gusset = words("gussets and rivets")
    fixed: FixedFrame = words("the part that stands still")
    movable: MovableFrame = words("elevator or rudder")
    hinges: TailHinges = words("hinges")
    horn: TailHorn = words("horn")
    covering: float = number("kg/m2", "finished weight of fabric per area of one side")
    covering_band: float = number("1", "give or take, fraction")
    tab: Sheet = words("sheet of the tabs it is bolted to")
    bolt: str = words("key of a bolt of data/fasteners.csv, for tabs and joining tube")
    spacer: RoundTube = words("tube on the bolts between a pair of tabs, where no tube of the fin is")
    attach: tuple[TailAttach, ...] = words("where it is held on the fuselage", ())
    weight: TailWeight | None = words("weight ahead of the hinge line, at the tip; left out: none", None)


RECORDS = (Gusset, FixedFrame, MovableFrame, TailHinges, TailHorn, TailAttach, TailFrame)
