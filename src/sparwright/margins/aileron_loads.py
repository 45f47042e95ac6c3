"""What an aileron bears: the air behind its hinge in every case, the hand and the wind on the ground, its hinges' way.

    in flight     h, m along it: what of the normal force lies behind the hinge, its moment about the hinge (loads)
    hand, wind    m = H/l all along, h = 3 m/c_f: a triangle from the hinge to the tail, c_f behind the hinge
    torque        T = what of m lies beyond a station, to the nearer free end; the horn takes all of it
    hinges moved  by the frame, of the wing's spars beside them: an aileron bends as far as its wing does

At ultimate load; of both sides. H as loads/hand_forces.py lays it out: half of the hand's on each side. Sources:
statics; the triangle as 14 CFR 23 appendix A has it (memory, medium).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.data.controls import RULES
from sparwright.family.model import Model
from sparwright.loads.code import asked
from sparwright.loads.hand_forces import gearing
from sparwright.loads.on_controls import HINGE
from sparwright.margins.rib_loads import Spans
from sparwright.parts.aileron import Hinged
from sparwright.parts.aileron_fittings import hinge_axes
from sparwright.strength.members import hinged_beam
from sparwright.structure.answered import ULTIMATE, Answered
from sparwright.structure.masses import Carriers
from sparwright.structure.spread import spread

STATIONS = 81  # along an aileron, besides its hinges and horn
SIDES = ("R", "L")
OVER = {"R": np.ones(3), "L": np.array([1.0, -1.0, 1.0])}


@dataclass(frozen=True)
class Borne:
    """An aileron in r rows: a case on a side each; n stations from its inner end out."""

    y: np.ndarray = number("m", "(n,) buttlines")
    case: np.ndarray = number("1", "(r,) places in the answer's cases")
    normal: np.ndarray = number("N/m", "(r, n - 1) behind the hinge, up, between stations")
    hinge: np.ndarray = number("N m/m", "(r, n - 1) about the hinge")
    torque: np.ndarray = number("N m", "(r, n) without sign, from the free end to the station")
    push: np.ndarray = number("N", "(r,) of rod or cable on the horn")
    moved: np.ndarray = number("m", "(r, h) each hinge up, by the frame")
    hinges: np.ndarray = number("1", "(h,) places of the hinges in y")
    horn: int = number("1", "place of the horn in y")
    lost: bool = False  # whether a case of hand or wind could not be laid on it


def borne(model: Model, h: Hinged, answer: Answered, spans: Spans, motions: Sequence[Motion]) -> Borne:
    """Every case that puts air, hand or wind on an aileron."""
    a, frame = h.wing.aileron, h.frame
    assert a is not None
    marks = [*frame.hinges.places, frame.horn.along]
    y = np.unique(np.concatenate([np.linspace(h.root, h.tip, STATIONS), marks]))
    middle, long = (y[1:] + y[:-1]) / 2, np.diff(y)
    back = np.array([(1 - a.hinge) * h.at(float(v))[0].chord for v in (h.root, h.tip)])
    chord = np.interp(middle, [h.root, h.tip], back)
    rows: list[tuple[int, np.ndarray, np.ndarray, str]] = []
    lost = False
    for k, laid in enumerate(answer.laid):
        level = 1.0 if laid.case.level == "ultimate" else ULTIMATE
        for s in spans.get(laid.case.key, ()):
            if s.surface == h.wing.name:
                rows.append(
                    (k, level * np.interp(middle, s.y, s.hinged), level * np.interp(middle, s.y, s.hinge), s.side)
                )
        if laid.case.kind == "control" and "aileron" in laid.case.key and not spans.get(laid.case.key):
            H = level * _by_hand(model, h, laid.case.key, laid.case.steps, motions)
            lost = lost or not np.isfinite(H)
            even = np.full(len(middle), H / (h.tip - h.root))
            rows.append((k, 3 * even / chord, even, "R"))
    if not rows:
        rows, lost = [(0, np.full(len(middle), np.nan), np.full(len(middle), np.nan), "R")], True
    case, normal, hinge = np.array([r[0] for r in rows]), np.array([r[1] for r in rows]), np.array([r[2] for r in rows])
    horn = int(np.argmin(np.abs(y - frame.horn.along)))
    each = hinge * long
    inner = np.concatenate([np.zeros((len(rows), 1)), np.cumsum(each, axis=1)], axis=1)
    torque = np.abs(np.where(np.arange(len(y)) <= horn, inner, inner[:, -1:] - inner))
    places = np.array([int(np.argmin(np.abs(y - p))) for p in frame.hinges.places])
    return Borne(
        y,
        case,
        normal,
        hinge,
        torque,
        np.abs(each.sum(axis=1)) / frame.horn.arm,
        _moved(model, h, answer, case, [r[3] for r in rows]),
        places,
        horn,
        lost,
    )


def _by_hand(model: Model, h: Hinged, key: str, steps: tuple, motions: Sequence[Motion]) -> float:  # type: ignore[type-arg]
    """H, N m at the case's own level, of hand, wind or one pilot against the other; nought along the hinge line."""
    if "along_hinge" in key:
        return 0.0
    if "wind" in key:
        return asked(steps, HINGE) if f".{h.wing.name}." in key else 0.0
    own = next((m for m in motions if m.force == "aileron" and h.wing.name in m.surface), None)
    wings = sum(1 for w in model.wings if w.aileron and w.aileron.frame)
    return RULES["aileron_force"].value / gearing(own) / 2 / wings if own else np.nan


def _moved(model: Model, h: Hinged, answer: Answered, case: np.ndarray, sides: Sequence[str]) -> np.ndarray:
    """(r, h) m up, at ultimate load, as rigged."""
    carriers, axes = Carriers(model, answer.skeleton), hinge_axes(h)
    moved, found = answer.ultimate[0].moved, np.zeros((len(case), len(h.frame.hinges.places)))
    for i, at in enumerate(h.frame.hinges.places):
        for side in SIDES:
            place, up = axes.at(at) * OVER[side], axes.over * OVER[side]
            nodes = carriers.beside(h.wing.name, place)
            each = spread(carriers.place[nodes], place)
            went = np.einsum("kij,cki->cj", each, moved[:, nodes])[:, :3] @ up
            mine = np.array([s == side for s in sides])
            found[mine, i] = went[case[mine]]
    return found


def bent(b: Borne, stiffness: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """((r, n) N m, (r, n) N, (r, h) N) of its spar alone: moment, shear, what each hinge gives."""
    return hinged_beam.bent(b.y, b.normal, b.hinges, b.moved, stiffness)


def to_hinges(b: Borne) -> tuple[float, tuple[tuple[int, float], ...]]:
    """(m: moment of the horn's push for each newton, where the horn is; [(hinge, part of the push)])."""
    y, at = b.y[b.hinges], float(b.y[b.horn])
    order = np.argsort(y)
    k = int(np.clip(np.searchsorted(y[order], at), 1, len(y) - 1))
    near, far = int(order[k - 1]), int(order[k])
    span = float(y[far] - y[near])
    part = (at - float(y[near])) / span
    lever = abs(part * (1 - part)) * span if 0 <= part <= 1 else float(np.abs(y - at).min())
    return lever, ((near, abs(1 - part)), (far, abs(part)))
