"""What an aileron is made of, as the file says it: spars, nose, hinges, horn; and the finish on what is hinged.

The skin behind its nose, its ribs and its tail bar are those of the wing it is parted from.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.balance import AileronWeight
from sparwright.family.stock import Bar, RoundTube, Sheet, words
from sparwright.family.tail_frame import TailHorn

ROOM = 4e-3  # m beside a fitting in a notch of the nose, for its pin (common practice, no source)


@dataclass(frozen=True, kw_only=True)
class EdgeSpar:
    """A spar at the edge of a wing or aileron, as deep as the section: a plank; a bent channel; or a web with strips.

    Flanges and strips lie behind it.
    """

    material: str = words("key of a material")
    thickness: float = number("m", "of the plank, the web, or the sheet of a channel, along the chord")
    flange: float = number("m", "width of a channel's flanges over the outside of the bend; nought for a flat one", 0.0)
    bend_radius: float = number("m", "inside radius of its bends", 0.0)
    strip: Bar | None = words("strips glued behind a flat web along its upper and lower edge; left out: none", None)

    @property
    def width(self) -> float:
        """From its front face to the rear of flanges or strips, m."""
        return self.flange if self.flange > 0 else self.thickness + (self.strip.width if self.strip else 0.0)


@dataclass(frozen=True, kw_only=True)
class AileronHinges:
    """Hinges of plates with a bent foot: two of the wing round a bush, between two of the aileron round the pin."""

    places: tuple[float, ...] = number("m", "buttlines they are at")
    sheet: Sheet = words("sheet the plates are cut from")
    foot: float = number("m", "width of a foot over the outside of its bend")
    bend_radius: float = number("m", "inside radius of the bend")
    fastener: str = words("key of a bolt or rivet of data/fasteners.csv, through the feet")
    fasteners: int = words("fasteners in each foot, one over another")
    pitch: float = number("m", "from fastener to fastener")
    edge: float = number("m", "from a fastener's middle to the edge of its foot; two diameters at least")
    pin: str = words("key of a bolt of data/fasteners.csv")
    bush: RoundTube = words("tube the bushes are cut from")
    play: float = number("m", "room between plates on the pin, each side")

    @property
    def half(self) -> float:
        """From the middle of a hinge to the outside of its feet, m."""
        return self.sheet.thickness + self.play + self.foot

    @property
    def height(self) -> float:
        """Height of a foot: its fasteners and an edge distance over and under, m."""
        return (self.fasteners - 1) * self.pitch + 2 * self.edge


@dataclass(frozen=True, kw_only=True)
class ClosedStretch:
    """Where an aileron's spar is closed behind, past a notch: channels make a box, strips and web a solid section."""

    start: float = number("m", "buttline it begins at")
    end: float = number("m", "buttline it ends at")


@dataclass(frozen=True, kw_only=True)
class AileronFrame:
    """What an aileron and the wing ahead of it are made of."""

    false_spar: EdgeSpar = words("the wing's spar ahead of the gap, between the ribs at the aileron's ends")
    spar: EdgeSpar = words("the aileron's spar")
    setback: float = number("m", "from the hinge line back to the front face of the aileron's spar")
    nose: Sheet | None = words(
        "sheet from the spar round the nose, on a radius about the hinge line that touches both surfaces; left out: "
        "plain, the spar is its front",
        None,
    )
    hinges: AileronHinges = words("hinges")
    horn: TailHorn = words("horn: a plate with a foot on its spar, along in buttlines")
    weights: tuple[AileronWeight, ...] = words("weights ahead of the hinge line", ())
    closed: tuple[ClosedStretch, ...] = words(
        "where its spar is closed behind, to carry torque and the horn's push past the notches: by a channel of its "
        "own sheet, open ahead, between the flanges; by a block between the strips; left out: nowhere",
        (),
    )

    def closed_at(self, buttline: float) -> bool:
        """Whether the spar is closed behind at a buttline."""
        return any(c.start <= buttline <= c.end for c in self.closed)

    def notch(self, rib: float, plate: Sheet | None = None) -> float:
        """From the middle of a hinge, or a plate as the horn, to that of the nose rib beside it, m.

        rib: thickness of the ribs. plate: sheet of the horn, or of a weight's arm.
        """
        return (plate.thickness / 2 + self.hinges.foot if plate else self.hinges.half) + ROOM + rib / 2


@dataclass(frozen=True, kw_only=True)
class Paint:
    """Paint on one side of what is hinged, over the finished weight of its covering: it lies behind the hinge."""

    areal: float = number("kg/m2", "likely weight on one side")
    low: float = number("kg/m2", "least weight on one side")
    high: float = number("kg/m2", "greatest weight on one side, filler and repainting among it")


RECORDS = (EdgeSpar, AileronHinges, ClosedStretch, AileronFrame, Paint)
