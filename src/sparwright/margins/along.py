"""What each bar of the frame uses of its strength, and what each spar uses along its length: what pictures show.

The greatest over all variants and cases that are worked out. A case that is not worked out is not in it: whether a
member is safe is its check's to say.
"""

from __future__ import annotations

import warnings
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check
from sparwright.base.record import locked, number
from sparwright.data.loader import material
from sparwright.family.model import Model, Spar, Wing
from sparwright.margins import metal_spars, wood_spars
from sparwright.margins.sources import grained
from sparwright.margins.spar_run import run_of
from sparwright.margins.tubes import id_of, right_of
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Bar
from sparwright.structure.wings import INCH

SAME = 1e-6  # m
LINKS = {
    "ROOT-": "strength.root.", "TAB-": "strength.tab.", "BOLT-": "strength.tab_bolt.", "HINGE-EYE-": "strength.hinge.",
    "HORN": "strength.horn.", "ROD": "strength.control.rod.", "CABLE": "strength.control.cable.",
    "GUIDE": "strength.guide.",
}  # fmt: skip
"""By a word in a link's number, how the ids begin of the checks that look at it."""


@dataclass(frozen=True)
class Along:
    """One spar, both sides' bars."""

    wing: str
    spar: str
    bars: np.ndarray = number("1", "(b,) places in the frame")
    at: np.ndarray = number("m", "(b, 2) buttlines of both ends")
    used: Mapping[str, np.ndarray] = number("1", "(b, 2) by the last word of its check's id, of ultimate strength")

    @property
    def most(self) -> np.ndarray:
        """(b,) the greatest of all strengths in each bar and its like on the other side."""
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", RuntimeWarning)  # nothing known of a bar
            each = np.nanmax([u.max(axis=1) for u in self.used.values()], axis=0)
        alike = np.abs(self.at[:, None] - self.at[None]).max(axis=2) < SAME
        return np.asarray(np.where(alike, each[None], -np.inf).max(axis=1))


def along_spars(model: Model, answer: Answered) -> tuple[Along, ...]:
    """Every spar of every wing."""
    return tuple(_along(model, answer, wing, spar) for wing in model.wings for spar in wing.spars)


def _along(model: Model, answer: Answered, wing: Wing, spar: Spar) -> Along:
    run = run_of(model, answer, wing, spar)
    of = wood_spars if material(spar.cap.material).kind == "wood" else metal_spars
    used = {k: _greatest(u) for k, u in of.uses(run, answer, grained(model)).items()}
    at = [[float(n.split(".", 3)[3]) * INCH for n in ends] for ends in run.ends]
    return Along(wing.name, spar.name, run.bars, locked(at), used)


def _greatest(use: np.ndarray) -> np.ndarray:
    """(b, 2) over variants and cases; NaN where nothing is known."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)
        return locked(np.nanmax(use, axis=(0, 1)))


def check_of(bar: Bar) -> str:
    """How the ids of the checks begin that look at a bar; the whole id of a tube or a wire; empty where none does."""
    own = right_of(bar.part).partition("-")[2]
    if bar.what == "link":
        return next((id for word, id in LINKS.items() if f"-{word}" in f"-{own.upper()}"), "")
    if bar.what in ("spar", "rib"):
        return f"strength.{bar.at[0]}." + (f"{bar.at[1]}." if bar.what == "spar" else "rib_")
    return f"strength.wire.{own}".replace("+", "_") if bar.what == "wire" else id_of(right_of(bar.part))


def used_by_bars(answer: Answered, checks: tuple[Check, ...], spars: tuple[Along, ...]) -> np.ndarray:
    """(m,) of each bar of the frame, NaN where no check is of it alone: links, ribs."""
    known = {c.id: c.value for c in checks if c.limit == 1.0 and c.sense == "<="}
    found = np.array([known.get(check_of(bar), np.nan) for bar in answer.skeleton.bars])
    for spar in spars:
        found[spar.bars] = spar.most
    return locked(found)
