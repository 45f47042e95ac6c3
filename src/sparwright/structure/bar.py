"""Bars between named nodes, and the frame they make: what the builders of fuselage, wings and tail hand over.

A bar belongs to one part and says what it is, so that its forces find their way to the member's check. It ends at its
nodes, or a rigid arm away from them where a pin stands off the middle of a spar or a longeron.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np

from sparwright.base.record import locked, number
from sparwright.family.model import RoundTube
from sparwright.maths.frame.record import Frame

What = Literal["tube", "spar", "rib", "strut", "wire", "drag tube", "link", "mount", "tail tube", "axle"]
Ends = tuple[str, str]
NO_ARM = (np.zeros(3), np.zeros(3))
RIGID: tuple[int, ...] = ()
PIN = (4, 5)  # bending moments of an end in the bar's own axes
BALL = (3, 4, 5)


@dataclass(frozen=True)
class Section:
    """What a bar's cross-section does. y and z are the bar's own: bending about y is in the plane of `up`."""

    area: float = number("m2", "area, of the material of `youngs`")
    about_y: float = number("m4", "bending in the plane of up")
    about_z: float = number("m4", "bending square to it")
    twist: float = number("m4", "torsion constant, of the material of `shear`")
    youngs: float = number("Pa", "Young's modulus")
    shear: float = number("Pa", "shear modulus")
    shear_area: tuple[float, float] = number("m2", "along y and z; infinite: no bending by shear", (np.inf, np.inf))


@dataclass(frozen=True)
class Cable:
    """What a wire is made of."""

    construction: str  # "1x19"
    diameter: float = number("m", "diameter")


@dataclass(frozen=True)
class Bar:
    """One straight bar."""

    part: str  # number of the part
    what: What
    ends: Ends  # names of nodes
    section: Section
    up: np.ndarray = number("1", "(3,) any vector in the plane of its z, not along it")
    arms: tuple[np.ndarray, np.ndarray] = number("m", "(3,) from each node to the bar's end", NO_ARM)
    free: tuple[tuple[int, ...], tuple[int, ...]] = (RIGID, RIGID)  # of 0 to 5, by end: forces that are nought
    tension: float = number("N", "when nothing has moved", 0.0)
    at: tuple[str, str, str, float] = ("", "", "", 0.0)  # wing, spar, side, buttline of its middle
    made: RoundTube | Cable | None = None  # of what, where it is a tube or a cable
    hole: float = number("m", "largest hole through both walls of a tube, of the rivets or bolts at its joints", 0.0)


@dataclass(frozen=True)
class Skeleton:
    """The whole aeroplane as a frame: names of its nodes, its bars in the order of the frame's elements."""

    names: tuple[str, ...]
    bars: tuple[Bar, ...]
    frame: Frame
    unknowns: tuple[str, ...] = field(default=())  # what is not in it, in words

    @cached_property
    def node(self) -> Mapping[str, int]:
        """Place in the frame's arrays by name."""
        return {name: i for i, name in enumerate(self.names)}

    @cached_property
    def beginning(self) -> Mapping[tuple[str, ...], tuple[int, ...]]:
        """Places of the nodes whose names have four words, by the first three: those of a spar on one side."""
        found: dict[tuple[str, ...], list[int]] = {}
        for i, name in enumerate(self.names):
            head, last = tuple(name.split(".", 3)[:3]), name.count(".") >= 3
            if last:
                found.setdefault(head, []).append(i)
        return {k: tuple(v) for k, v in found.items()}

    def which(self, wanted: Callable[[Bar], bool]) -> np.ndarray:
        """Places of the bars that are wanted."""
        return np.array([i for i, b in enumerate(self.bars) if wanted(b)], dtype=int)

    def places(self, names: Iterable[str]) -> np.ndarray:
        """(k, 3) m of nodes by name."""
        return np.asarray(self.frame.place[[self.node[n] for n in names]])


def assembled(places: Mapping[str, np.ndarray], bars: Sequence[Bar], held: Mapping[str, Sequence[int]],
              unknowns: Sequence[str] = ()) -> Skeleton:  # fmt: skip
    """The frame of bars between nodes. held: by node, which of its six movements are nought. KeyError: no such node."""
    names = tuple(places)
    at = {name: i for i, name in enumerate(names)}
    free = np.zeros((len(bars), 12), dtype=bool)
    for i, bar in enumerate(bars):
        for end, those in enumerate(bar.free):
            free[i, [6 * end + k for k in those]] = True
    fixed = np.zeros((len(names), 6), dtype=bool)
    for name, which in held.items():
        fixed[at[name], list(which)] = True
    s = [b.section for b in bars]
    frame = Frame(
        place=locked([places[n] for n in names]), ends=np.array([[at[e] for e in b.ends] for b in bars]),
        up=locked([b.up for b in bars]), area=locked([x.area for x in s]), about_y=locked([x.about_y for x in s]),
        about_z=locked([x.about_z for x in s]), twist=locked([x.twist for x in s]),
        youngs=locked([x.youngs for x in s]), shear=locked([x.shear for x in s]),
        shear_area=locked([x.shear_area for x in s]), arm=locked([b.arms for b in bars]), free=free,
        wire=np.array([b.what == "wire" for b in bars]), tension=locked([b.tension for b in bars]), held=fixed,
    )  # fmt: skip
    return Skeleton(names, tuple(bars), frame, tuple(unknowns))
