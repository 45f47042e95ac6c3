"""Stock as a family file asks for it: sheet, bar, tube."""

from __future__ import annotations

from dataclasses import MISSING, dataclass
from typing import Any

from sparwright.base.record import number


def words(meaning: str, default: Any = MISSING) -> Any:
    """A field that is not a number, with its meaning."""
    return number("", meaning, default)


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """Flat stock."""

    material: str = words("key of a material")
    thickness: float = number("m", "thickness")
    grain: float = number(
        "rad",
        "face grain or warp to the length of what it is (a web: to the span): its strength, a ply's stiffness in shear",
        0.0,
    )


@dataclass(frozen=True, kw_only=True)
class Bar:
    """Rectangular stock: cap, strip, edge."""

    material: str = words("key of a material")
    width: float = number("m", "width, along the chord")
    depth: float = number("m", "depth, normal to the chord")


@dataclass(frozen=True, kw_only=True)
class Splice:
    """Blocks in the box of a spar where two panels meet, one under each cap, glued to caps and webs."""

    material: str = words("key of a wood")
    depth: float = number("m", "depth of each block")
    reach: float = number("m", "how far it goes to either side of the meeting")


@dataclass(frozen=True, kw_only=True)
class Truss:
    """Ribs built up of square strip with gussets on both faces, in place of sheet."""

    stick: Bar = words("strip; its depth lies in the rib, its width along the span")
    gusset: Sheet = words("sheet of the gussets")
    reach: float = number("m", "how far a gusset reaches round where strips meet")


@dataclass(frozen=True, kw_only=True)
class StouterRib:
    """Whole ribs of sheet that are made stouter than the others, as where a strut or a cabane is held."""

    name: str = words("name")
    at: tuple[float, ...] = number("m", "buttlines of whole ribs that stand there")
    sheet: Sheet = words("sheet they are cut from")
    holes: bool = words("whether they have lightening holes", True)
    web_left: float | None = number("m", "rib left round their holes; left out: as of the others", None)
    flange: float | None = number("m", "width of their bent flange; left out: as of the others", None)
    bend_radius: float | None = number("m", "inside radius of their flange; left out: as of the others", None)
    tail: bool = words("whether the piece behind the rear spar is stouter too, where spars part the rib", True)
    back_to_back: bool = words(
        "two stand back to back at each place, their flanges pointing away from each other", False
    )


@dataclass(frozen=True, kw_only=True)
class LaidUp:
    """A skin laid up flat on a table: an upper and a lower sheet, trimmed, notched at the nose, glued over the ribs."""

    longest: float = number("m", "longest sheet off the table; longer panels are covered from rib to rib")
    trim: float = number("m", "laid up over size by this all round, and trimmed off")
    notch: float = number("m", "from notch to notch along the leading edge, which is bent round the nose")
    depth: float = number("m", "how deep the notches are")
    tape: float = number("m", "width of the tape laid over the leading edge and its notches")


@dataclass(frozen=True, kw_only=True)
class NoScarf:
    """A range of a long part in which no scarf or splice may lie."""

    start: float = number("m", "buttline it begins at")
    end: float = number("m", "buttline it ends at")
    reason: str = words("why")


@dataclass(frozen=True, kw_only=True)
class RoundTube:
    """Round tube stock."""

    material: str = words("key of a material")
    outside: float = number("m", "outside diameter")
    wall: float = number("m", "wall thickness")


@dataclass(frozen=True, kw_only=True)
class FrameTube:
    """A run of tube from node to node; one tube, bent at the nodes it passes."""

    name: str = words("name")
    run: tuple[str, ...] = words("node names one after another, or a list of such runs")
    tube: RoundTube = words("tube stock")
