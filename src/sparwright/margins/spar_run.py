"""One spar of the frame, right and left together: its bars, its depths, the ribs beside them, its share of the torque.

The spar's box and the skin that closes a cell on it turn together: T_box = T GJ_box/(GJ_box + GJ_skin). Where the skin
may have wrinkled, the skin is held to its share as if it had not, the box to its own as if it had.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.family.model import Model, Panel, Spar, Wing
from sparwright.margins.taken import USED, Taken
from sparwright.margins.worst import Worst
from sparwright.parts.stations import bay
from sparwright.parts.wing import cap_number, web_number
from sparwright.shape.spar import panel_of
from sparwright.strength.allowable import Allowable
from sparwright.structure.answered import Answered
from sparwright.structure.sections import own_twist, skin_twist
from sparwright.structure.wings import INCH, axes_at

Strengths = Callable[[str, str, float, float], Allowable]  # material, property, thickness m, load to grain rad


@dataclass(frozen=True)
class Run:
    """One spar of a wing, both sides: its bars and what they are."""

    model: Model
    wing: Wing
    spar: Spar
    bars: np.ndarray = number("1", "(b,) places in the frame")
    depth: np.ndarray = number("m", "(b, 2) over the caps at both ends")
    bays: np.ndarray = number("m", "(b,) distance between the ribs beside each")
    share: np.ndarray = number("1", "(b,) part of the torque the box itself takes")
    most: np.ndarray = number("1", "(b,) where a metal skin has wrinkled, NaN where how soft is not known; else share")
    ends: tuple[tuple[str, str], ...] = ()  # names of the nodes of each bar

    @property
    def name(self) -> str:
        """As in the ids of its checks."""
        return f"{self.wing.name}.{self.spar.name}"

    def which(self, at: Worst) -> int:
        """Place among its bars of the one where something is worst."""
        return int(np.flatnonzero(self.bars == at.bar)[0])

    def deep(self, at: Worst) -> float:
        """Depth over the caps where something is worst, m."""
        return float(self.depth[self.which(at), at.end])

    def there(self, values: np.ndarray, at: Worst) -> np.ndarray:
        """Of values (v, c, b, 2, ...) those where something is worst."""
        return np.asarray(values[at.variant, at.case, self.which(at), at.end])

    def title(self, words: str) -> str:
        """What a check of it is called."""
        wing = self.wing.name if "wing" in self.wing.name else f"{self.wing.name} wing"
        return f"{wing}, {self.spar.name} spar: {words}"

    def where(self, at: Worst) -> str:
        """The place in words."""
        buttline = _ends(self.ends[self.which(at)])[at.end] / INCH
        return f"{self.spar.name} spar, BL {buttline:.1f} in, {self.deep(at) / INCH:.2f} in deep"

    def panel(self, at: Worst) -> Panel:
        """The wing's panel there."""
        return panel_of(self.wing, sum(_ends(self.ends[self.which(at)])) / 2)

    def cap(self, at: Worst) -> str:
        """Number of the upper cap there."""
        return cap_number(self.model, self.wing, self.panel(at), self.spar, "upper")

    def web(self, at: Worst) -> str:
        """Number of the web there."""
        return web_number(self.model, self.wing, self.panel(at), self.spar)


def run_of(model: Model, answer: Answered, wing: Wing, spar: Spar, taken: Taken = USED) -> Run:
    """A spar of the frame."""
    bars = answer.skeleton.which(lambda b: b.what == "spar" and b.at[:2] == (wing.name, spar.name))
    found = [answer.skeleton.bars[int(i)] for i in bars]
    lines = [_ends(b.ends) for b in found]
    depth = {y: axes_at(model, wing, spar, y).depth for y in {y for both in lines for y in both}}
    deep = np.array([[depth[y] for y in both] for both in lines])
    root, tip = wing.panels[0].root_buttline, wing.panels[-1].tip_buttline
    at = [float(np.clip(b.at[3], root, tip)) for b in found]
    own = [own_twist(spar, float(d.mean()), bay(wing, y)) for y, d in zip(at, deep, strict=True)]
    skin = [taken.skin * skin_twist(model, wing, spar, y, float(d.mean())) for y, d in zip(at, deep, strict=True)]
    soft = [s * answer.kept.get(int(i), 1.0) for s, i in zip(skin, bars, strict=True)]
    share, most = (np.array(own) / (np.array(own) + np.array(s)) for s in (skin, soft))
    return Run(model, wing, spar, bars, deep, np.array([bay(wing, y) for y in at]), share, most,
               tuple(b.ends for b in found))  # fmt: skip


def _ends(nodes: tuple[str, str]) -> tuple[float, float]:
    """Buttlines of a bar's nodes, m: the last part of their names is in inches."""
    a, b = (float(n.split(".", 3)[3]) * INCH for n in nodes)
    return a, b
