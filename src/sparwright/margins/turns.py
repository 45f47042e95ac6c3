"""How each assumption of the register is turned to an end of its range: a trial and a value in, another trial out.

Keys are those of data/assumptions.toml; a row with a range has its turn here, one without has none.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np

from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Model, Spar, Wing
from sparwright.loads.laid_out import LaidOut, SpanLoad
from sparwright.margins.trial import Trial
from sparwright.maths.frame.record import Frame
from sparwright.shape.lifting import cut
from sparwright.structure.bar import Bar, Skeleton
from sparwright.structure.laid import TAILS
from sparwright.structure.sections import skin_twist
from sparwright.structure.wings import axes_at

Turn = Callable[[Trial, float], Trial]
Wanted = Callable[[Bar], bool]
NEAR_NOUGHT = 0.2  # load factor nearer to nought than this: a gust case is left as it is
BENDING = (4, 5, 10, 11)  # of an element's twelve end forces
IN_PLANE = (4, 10)
SWIVEL = (9, 11)  # what the axle is free to do in its guide, structure/fuselage.py
WINGS = ("wing", "aileron")
RUNNING = ("normal", "chordwise", "torsion", "hinged", "hinge")  # of a SpanLoad


# ------------------------------------------------------------------ of the margins


def _taken(name: str) -> Turn:
    def turned(trial: Trial, value: float) -> Trial:
        now = type(getattr(trial.taken, name))(value)
        return replace(trial, taken=replace(trial.taken, **{name: now}))

    return turned


# ------------------------------------------------------------------ of the frame


def _times(wanted: Wanted, *names: str) -> Turn:
    """Stiffnesses of some bars times the value."""

    def turned(trial: Trial, value: float) -> Trial:
        def frame(model: Model, bones: Skeleton) -> Frame:
            on = np.array([wanted(b) for b in bones.bars])
            scale = np.where(on, value, 1.0)
            kept = {n: np.asarray(getattr(bones.frame, n)) for n in names}
            return replace(
                bones.frame, **{n: locked(v * (scale if v.ndim == 1 else scale[:, None])) for n, v in kept.items()}
            )

        return replace(trial, frame=frame)

    return turned


def _freed(wanted: Wanted, which: tuple[int, ...], free_at: float) -> Turn:
    """Ends of some bars free to turn where the value is `free_at`, held at the other end of its range."""

    def turned(trial: Trial, value: float) -> Trial:
        def frame(model: Model, bones: Skeleton) -> Frame:
            free = np.array(bones.frame.free)
            on = bones.which(wanted)
            free[on[:, None], list(which)] = value == free_at
            free.flags.writeable = False
            return replace(bones.frame, free=free)

        return replace(trial, frame=frame)

    return turned


def _of(*whats: str) -> Wanted:
    return lambda bar: bar.what in whats


def _wood(trial: Trial, value: float) -> Trial:
    wooden = {
        (w.name, s.name) for w in trial.model.wings for s in w.spars if material(s.cap.material).kind == "wood"
    }  # fmt: skip
    return _times(lambda b: b.what == "spar" and b.at[:2] in wooden, "youngs", "shear")(trial, value)


def _webs(trial: Trial, value: float) -> Trial:
    def frame(model: Model, bones: Skeleton) -> Frame:
        area = np.array(bones.frame.shear_area)
        area[bones.which(_of("spar")), 1] *= value
        return replace(bones.frame, shear_area=locked(area))

    return replace(trial, frame=frame)


def _skin(trial: Trial, value: float) -> Trial:
    """In the spars' torsion and in the box's share alike."""

    def frame(model: Model, bones: Skeleton) -> Frame:
        twist = np.array(bones.frame.twist)
        for i in bones.which(_of("spar")):
            wing, spar = _spar(model, bones.bars[int(i)])
            y = max(bones.bars[int(i)].at[3], wing.panels[0].root_buttline)
            skin = skin_twist(model, wing, spar, y, axes_at(model, wing, spar, y).depth)
            twist[i] -= (1 - value) * skin / bones.frame.shear[i]
        return replace(bones.frame, twist=locked(twist))

    return replace(_taken("skin")(trial, value), frame=frame)


def _spar(model: Model, bar: Bar) -> tuple[Wing, Spar]:
    wing = next(w for w in model.wings if w.name == bar.at[0])
    return wing, next(s for s in wing.spars if s.name == bar.at[1])


def _order(trial: Trial, value: float) -> Trial:
    return replace(trial, second_order=value > 0)


# ------------------------------------------------------------------ of the loads


def _each(change: Callable[[Trial, LaidOut, float], LaidOut]) -> Turn:
    return lambda trial, value: replace(trial, cases=tuple(change(trial, x, value) for x in trial.cases))


def _gust(trial: Trial, x: LaidOut, value: float) -> LaidOut:
    """n - 1 times the value, all forces in proportion."""
    n = x.case.factor
    if x.case.kind != "gust" or not abs(n) > NEAR_NOUGHT:
        return x
    scale = (1 + value * (n - 1)) / n
    spans = tuple(_times_of(s, scale, *RUNNING) for s in x.spans)
    return replace(
        x, pushes=replace(x.pushes, force=x.pushes.force * scale, moment=x.pushes.moment * scale), spans=spans
    )


def _times_of(span: SpanLoad, value: float, *names: str) -> SpanLoad:
    scaled: dict[str, Any] = {n: locked(getattr(span, n) * value) for n in names}
    return replace(span, **scaled)


def _on(x: LaidOut, kinds: tuple[str, ...]) -> np.ndarray:
    return np.array([on.split(":")[0] in kinds for on in x.pushes.on], dtype=bool)


def _chordwise(trial: Trial, x: LaidOut, value: float) -> LaidOut:
    place = np.array(x.pushes.place)
    for i in np.flatnonzero(_on(x, WINGS)):
        wing = next(w for w in trial.model.wings if w.name == x.pushes.on[i].split(":")[1])
        place[i, 0] += value * _chord(trial.model, wing, abs(float(place[i, 1])))
    wings = {w.name for w in trial.model.wings}
    spans = tuple(replace(s, torsion=locked(s.torsion - value * s.normal * s.chord)) if s.surface in wings else s
                  for s in x.spans)  # fmt: skip
    return replace(x, pushes=replace(x.pushes, place=locked(place)), spans=spans)


def _chord(model: Model, wing: Wing, buttline: float) -> float:
    """Between the panels' ends in a straight line."""
    at = [wing.panels[0].root_buttline, *(p.tip_buttline for p in wing.panels)]
    return float(np.interp(buttline, at, [cut(wing, model.sections, y).chord for y in at]))


def _spanwise(trial: Trial, x: LaidOut, value: float) -> LaidOut:
    place = np.array(x.pushes.place)
    place[_on(x, WINGS), 1] *= value
    wings = {w.name for w in trial.model.wings}
    spans = tuple(_times_of(_times_of(s, value, "y", "width"), 1 / value, *RUNNING) if s.surface in wings else s
                  for s in x.spans)  # fmt: skip
    return replace(x, pushes=replace(x.pushes, place=locked(place)), spans=spans)


def _tail(trial: Trial, x: LaidOut, value: float) -> LaidOut:
    scale = np.where(_on(x, TAILS), value, 1.0)[:, None]
    return replace(x, pushes=replace(x.pushes, force=x.pushes.force * scale, moment=x.pushes.moment * scale))


def _near(trial: Trial, value: float) -> Trial:
    return replace(trial, near=int(value))


def _rubbers(trial: Trial, value: float) -> Trial:
    return replace(trial, pads=int(value))


TURNS: Mapping[str, Turn] = MappingProxyType({
    "fixity.welded": _taken("welded"), "fixity.mount": _taken("mount"), "fixity.pinned": _taken("pinned"),
    "factor.fitting": _taken("fitting"), "share.lugs": _taken("lug_share"), "share.bolts": _taken("bolt_share"),
    "end.wire": _taken("wire_end"), "share.skin": _skin, "ply.plies": _taken("plies"),
    "rib.sign": _taken("rib_sign"), "rib.cell": _taken("rib_cell"), "rib.hinge": _taken("rib_hinge"),
    "rib.pair": _taken("rib_pair"), "hinge.push": _taken("hinge_push"), "hinge.cables": _taken("hinge_cables"),
    "control.side": _taken("control_side"), "control.friction": _taken("control_friction"),
    "frame.ribs": _times(_of("rib"), "about_y", "shear_area"),
    "frame.rib_ends": _freed(_of("rib"), IN_PLANE, 0.0),
    "frame.truss": _times(_of("tube"), "about_y", "about_z"),
    "frame.strut_ends": _freed(_of("strut"), BENDING, 0.0),
    "frame.guides": _freed(lambda b: b.part.endswith("-GUIDE"), SWIVEL, 0.0),
    "frame.roots": _times(lambda b: "-ROOT-" in b.part, "area", "about_y", "about_z", "twist", "shear_area"),
    "frame.wood": _wood, "frame.webs": _webs, "frame.cables": _times(_of("wire"), "area"),
    "frame.second_order": _order,
    "load.gust": _each(_gust), "load.chordwise": _each(_chordwise), "load.spanwise": _each(_spanwise),
    "load.tail": _each(_tail), "mass.nearest": _near, "mass.rubbers": _rubbers,
})  # fmt: skip
"""By key of the register."""
