"""The records that mass, strength, plans, book and register stand on.

A part number is made from the model, the wing or group, the kind and the place in the file
(`W1-wing-RIB-36`: the innermost buttline in inches where that shape is used), never from a running
count, so it stays when unrelated things change.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np

from sparwright.base.record import number as figure
from sparwright.family.measured_sheets import MeasuredSheet
from sparwright.shape.solid import Pose, Solid, bent_plate, between, joined, less, plate, simpler, through
from sparwright.shape.tube import Tube

Place = tuple[float, float, float]
Hand = Literal["", "R", "L"]


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A line or point drawn on a plate for the builder: a spar centre line, the chord line, a prick point."""

    label: str
    points: tuple[tuple[float, float], ...]  # m, in the plate's own axes


@dataclass(frozen=True, kw_only=True)
class Length:
    """A master length of a plate, so that a builder can accept or reject a copy without a computer."""

    label: str
    start: tuple[float, float]
    end: tuple[float, float]

    @property
    def value(self) -> float:
        """The length, m."""
        return float(np.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1]))


@dataclass(frozen=True, kw_only=True)
class Foot:
    """A strip bent up square along one straight edge of a plate; the edge goes the way the outline does."""

    start: tuple[float, float]  # m, on the outline
    end: tuple[float, float]
    height: float = figure("m", "height over the sheet, along its z (negative: the other way)")
    radius: float = figure("m", "inside radius of the bend; NaN where it is not said", math.nan)


@dataclass(frozen=True, kw_only=True)
class Plate:
    """Cut from flat stock: outline and holes in the plate's own axes, x aft along the chord, y up, m.

    Both are closed polylines without the repeated last point, outline anticlockwise, holes clockwise,
    true to 0.01 mm. `blank` is the flat outline with bent flanges laid out, empty for a flat plate. The sheet lies
    half a thickness to either side of its plane; a bent flange stands up from it by `flange`, to the side it says.
    """

    outline: np.ndarray  # (n, 2)
    holes: tuple[np.ndarray, ...]
    thickness: float = figure("m", "thickness of the sheet")
    blank: np.ndarray | None = None
    flange: float = figure("m", "height of the bent edge over the sheet, along its z (negative: the other way)", 0.0)
    lean: tuple[float, float] = figure("1", "how far aft and up the bent edge goes over its height", (0.0, 0.0))
    foot: Foot | None = None
    grain: str = ""
    bend: str = ""
    marks: tuple[Mark, ...] = ()
    lengths: tuple[Length, ...] = ()

    def solid(self, coarse: float = 0.0) -> Solid:
        """Its body in its own axes. coarse: m by which outlines may be simplified, for pictures."""
        return self._body if coarse <= 0 else self._bent(simpler(self.outline, coarse),
                                                         [simpler(h, coarse) for h in self.holes])  # fmt: skip

    @cached_property
    def _body(self) -> Solid:
        return self._bent(self.outline, self.holes)

    def _bent(self, outline: np.ndarray, holes: Sequence[np.ndarray]) -> Solid:
        whole = bent_plate(outline, holes, self.thickness, self.flange, self.lean)
        return whole if self.foot is None else joined([whole, self._standing(self.foot)])

    def _standing(self, foot: Foot) -> Solid:
        """The foot's body, within the outline."""
        a, b, half = np.array(foot.start), np.array(foot.end), self.thickness / 2
        inward = np.array([a[1] - b[1], b[0] - a[0]]) / np.hypot(*(b - a)) * self.thickness
        low, high = sorted((float(np.copysign(half, foot.height)), foot.height + float(np.copysign(half, foot.height))))
        return plate(np.array([a, b, b + inward, a + inward]), (), low, high)


@dataclass(frozen=True, kw_only=True)
class Straight:
    """A bar or strip from end to end; its shape at each end as a ring of as many corners."""

    start: Place
    end: Place
    section: str  # "1-1/4 in x 1 in"
    rings: np.ndarray = figure("m", "(k, n, 3) corners at the start, where it is bent, and at the end")

    @property
    def length(self) -> float:
        """End to end, m."""
        return float(np.linalg.norm(np.subtract(self.end, self.start)))

    def solid(self) -> Solid:
        """Its body where it is."""
        return self._body

    @cached_property
    def _body(self) -> Solid:
        return between(*self.rings) if len(self.rings) == 2 else through(list(self.rings))


@dataclass(frozen=True, kw_only=True)
class Skin:
    """A covering: its developed size, and where each sheet of it lies."""

    length: float = figure("m", "along the span")
    width: float = figure("m", "along the surface, in the chord's direction")
    thickness: float = figure("m", "thickness; nought for fabric")
    rings: tuple[np.ndarray, ...] = ()  # (2, n, 3) m each sheet: its cut edge at the root and at the tip
    openings: tuple[Solid, ...] = ()  # what is cut out of it: slots for fittings

    def solid(self) -> Solid | None:
        """Its body where it is; None where it is not drawn."""
        return self._body

    @cached_property
    def _body(self) -> Solid | None:
        whole = joined([between(*rings) for rings in self.rings]) if self.rings else None
        return less(whole, self.openings) if whole is not None and self.openings else whole


@dataclass(frozen=True, kw_only=True)
class Formed:
    """A thing with a body of its own where it is: a fork, a turnbuckle, an engine, a panel of the cowling."""

    body: Solid
    length: float = figure("m", "longest size; NaN where it does not matter", math.nan)
    outside: float = figure("m", "greatest diameter, or width; NaN where it does not matter", math.nan)

    def solid(self) -> Solid:
        """Its body where it is."""
        return self.body


@dataclass(frozen=True, kw_only=True)
class Run:
    """Something soft from place to place: a wire, a flexible line. It yields, so it has a length and no body."""

    path: np.ndarray = figure("m", "(n, 3) places it goes by")
    outside: float = figure("m", "outside diameter, roughly")

    @property
    def length(self) -> float:
        """Along its path, m."""
        return float(np.linalg.norm(np.diff(self.path, axis=0), axis=1).sum())

    def solid(self) -> None:
        """None: it has no body."""


Form = Literal["plate", "bar", "tube", "skin", "item", "soft"]


@dataclass(frozen=True, kw_only=True)
class Part:
    """One physical part, `count` times in the model."""

    number: str
    name: str
    form: Form
    group: str  # "wing upper", "fuselage", "tail", "power", "gear", "systems"
    purpose: str
    material: str  # key of data/materials.toml, or "bought"
    stock: str  # what to buy, in words with units
    places: tuple[Place, ...]  # centre of mass of each one, m
    mass: float = figure("kg", "mass of one")
    band: float = figure("1", "give or take, fraction of the mass", 0.05)
    hand: Hand = ""
    at: str = ""  # "BL 12 in", "B1R to B2R"
    shape: Plate | Straight | Tube | Skin | Formed | Run | None = None
    poses: tuple[Pose, ...] = ()  # of a plate: where each one stands, in the order of the places
    mark: str = "computed"
    note: str = ""  # what the builder must know of it: where no scarf may lie
    measured: MeasuredSheet | None = None  # the sheet it is cut from, where that was measured to be another thickness
    passes: tuple[str, ...] = ()  # numbers, or how they begin, of parts it goes through by an opening cut to fit

    @property
    def count(self) -> int:
        """How many of it."""
        return len(self.places)


@dataclass(frozen=True, kw_only=True)
class Bolt:
    """How one bolt of a joint is put in: which one to take, which way, how tight, how it is kept from coming undone."""

    size: str  # key of data/fasteners.csv: AN4
    dash: str  # the dash number that fits the grip: "14"; "unknown" where its grips are not on file
    grip: float = figure("m", "what lies under it, faces of head washer and nut washer left out")
    stock_grip: float = figure("m", "plain shank of the bolt to take; NaN where unknown")
    under: tuple[str, ...]  # what lies under it from the head on
    head: str  # where the head points: "forward", "outboard", "up"
    washers: int  # under the nut, to make up the grip; one more under the head
    nut: str
    torque: tuple[float, float] = figure("N m", "low and high; NaN where it is snug only, or not on file")
    tight: str  # "tight", or "snug and free to turn"
    locking: str
    limit: str  # what it must not do: crush a tube, a spar

    @property
    def stock(self) -> str:
        """How it is asked for."""
        return f"{self.size}-{self.dash}" if self.dash != "unknown" else f"{self.size}, grip not on file"


JointKind = Literal["glue", "weld", "rivet", "bolt", "bond", "lacing", "wire end", "hinge"]


@dataclass(frozen=True, kw_only=True)
class Joint:
    """What meets, by what, through which fitting. Strength, hardware counts, tube ends and steps read it."""

    number: str
    kind: JointKind
    parts: tuple[str, ...]  # part numbers; the first is the one joined to
    place: Place
    primary: bool  # in the path of flight or landing loads
    fastener: str = ""  # "1/8 in blind rivet"; empty for glue and weld; "unknown" until chosen
    fasteners: int = 0
    through: str = ""  # part number of the fitting; "unknown" until drawn
    area: float = figure("m2", "glued or bonded area, or nought", 0.0)
    length: float = figure("m", "length of weld, seam or row, or nought", 0.0)
    count: int = 1  # how many such joints, both sides
    note: str = ""
    bolt: Bolt | None = None


@dataclass(frozen=True, kw_only=True)
class TestPiece:
    """A joint, or a panel, made to be broken: its one or two halves from the same stock as the parts it stands for."""

    __test__ = False  # the name is the trade's, and no test of the program

    number: str
    kind: str  # "glue", "bond", "weld", "lay_up"
    halves: tuple[Part, ...]
    made: str  # how
    shows: str  # what a good one shows when it breaks
    stands_for: tuple[str, ...]  # numbers of the joints, or of the parts of a laminate


@dataclass(frozen=True, kw_only=True)
class Assembly:
    """All parts and joints of one model."""

    model: str
    parts: tuple[Part, ...]
    joints: tuple[Joint, ...]
    test_pieces: tuple[TestPiece, ...] = ()  # not in the weight: they do not fly
    unknowns: tuple[str, ...] = field(default=())

    def part(self, number: str) -> Part:
        """The part of that number; KeyError when there is none."""
        for part in self.parts:
            if part.number == number:
                return part
        raise KeyError(number)

    @property
    def to_cut(self) -> tuple[Part, ...]:
        """Every part, and the halves of the test pieces."""
        return (*self.parts, *(half for piece in self.test_pieces for half in piece.halves))

    def right(self, number: str) -> str:
        """The number itself, or that of the right hand where right and left are parts of their own."""
        numbers = {part.number for part in self.parts}
        return f"{number}-R" if number not in numbers and f"{number}-R" in numbers else number
