"""A spar in space at one buttline: its middle, its own directions, its depth and width.

Between a panel's ends a spar is straight and its depth goes evenly, as its caps and webs are made (parts/wing.py); so
it is carried on beyond them where a root strap reaches inwards.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked, number
from sparwright.base.remembered import remembered
from sparwright.family.model import Model, Panel, Spar, Wing
from sparwright.shape.lifting import cut
from sparwright.shape.rib import slot, spar_width
from sparwright.shape.solid import Pose, as_place


@dataclass(frozen=True)
class SparAxes:
    """A spar at a buttline, right side; its own directions are square to one another."""

    middle: np.ndarray = number("m", "(3,) middle of its box")
    aft: np.ndarray = number("1", "(3,) square to its webs")
    along: np.ndarray = number("1", "(3,) along it, outwards")
    up: np.ndarray = number("1", "(3,) along its depth")
    depth: float = number("m", "over both caps")
    width: float = number("m", "over caps and webs")

    def at(self, aft: float, along: float, up: float) -> np.ndarray:
        """(3,) the place that far aft of its middle, along it and up, m."""
        return np.asarray(self.middle + aft * self.aft + along * self.along + up * self.up)

    def face(self, aft: float) -> Pose:
        """The plane of its webs that far aft of its middle: x along it, y up."""
        return Pose(as_place(self.at(aft, 0.0, 0.0)), as_place(self.along), as_place(self.up))


def spar_axes(model: Model, wing: Wing, panel: Panel, spar: Spar, buttline: float) -> SparAxes:
    """The spar of a panel at a buttline, on the straight line between the panel's ends or carried on beyond them."""
    (root, root_height), (tip, tip_height) = _ends(model, wing, panel, spar)
    ends = [np.array(root), np.array(tip)]
    share = (buttline - panel.root_buttline) / (panel.tip_buttline - panel.root_buttline)
    along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    up = np.array([np.sin(wing.incidence), 0.0, np.cos(wing.incidence)])
    up = up - (up @ along) * along
    up = up / np.linalg.norm(up)
    return SparAxes(
        middle=locked(ends[0] + share * (ends[1] - ends[0])), aft=locked(np.cross(along, up)), along=locked(along),
        up=locked(up), depth=(1 - share) * root_height + share * tip_height, width=spar_width(spar),
    )  # fmt: skip


@remembered(500)
def _ends(model: Model, wing: Wing, panel: Panel, spar: Spar) -> tuple[tuple[tuple[float, ...], float], ...]:
    """(middle (3,), height), m, of the spar's slot at both ends of the panel."""
    stations = [cut(wing, model.sections, b) for b in (panel.root_buttline, panel.tip_buttline)]
    boxes = [slot(s, wing, spar) for s in stations]
    return tuple((tuple(s.place(k.x, k.y)), k.height) for s, k in zip(stations, boxes, strict=True))


def panel_of(wing: Wing, buttline: float) -> Panel:
    """The panel that holds a buttline, the first one inside the root."""
    return next((p for p in wing.panels if buttline <= p.tip_buttline + 1e-9), wing.panels[-1])
