"""The rigging sheet as data: what is set, how true, where it is measured and with what, in the order it is done.

The frame is levelled first, by the points marked on it; of several wings the top one is set first and the others to it.
A tolerance the family file does not give is NaN. What an angle makes: over a chord c an angle t is c sin t.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.base.quantity import inches
from sparwright.base.record import number
from sparwright.family.model import Model, StrutEnd, TailSurface, Wing, spoken
from sparwright.family.rigging import Rigging
from sparwright.shape.frame import end_place, nodes
from sparwright.shape.lifting import breaks

METHOD = "the family file; common practice, no source: how it is measured"
CHECK_LENGTH = "the same right and left; no nominal tolerance"


@dataclass(frozen=True, kw_only=True)
class Setting:
    """One line of the rigging sheet."""

    id: str
    what: str
    where: str
    how: str
    unit: str
    nominal: float = number("SI", "as designed, in `unit`")
    tolerance: float = number("SI", "give or take, in `unit`; NaN where the file gives none", math.nan)
    over: float = number("m", "length an angle is measured over; NaN for none", math.nan)
    key: str = ""  # of [rigging], which gives the tolerance

    @property
    def rise(self) -> float:
        """What the angle makes over the length, m."""
        return self.over * math.sin(self.nominal) if self.unit == "rad" else math.nan

    @property
    def rise_tolerance(self) -> float:
        """What the tolerance makes over the length, m."""
        return self.over * math.cos(self.nominal) * self.tolerance if self.unit == "rad" else math.nan


def rigging_sheet(model: Model) -> tuple[Setting, ...]:
    """Every setting, in order: frame level, wings from the top, wires, tail, travels, lengths to compare."""
    allowed = model.rigging or Rigging()
    ordered = sorted(model.wings, key=lambda w: -w.leading_edge[2])
    return (
        *_level(allowed),
        *(s for w in ordered for s in _wing(w, allowed)),
        *(s for a, b in zip(ordered, ordered[1:], strict=False) for s in _pair(a, b, allowed)),
        *_wires(model, allowed),
        *_tail(model, allowed),
        *_travels(model, allowed),
        *_lengths(model, ordered),
    )


def _level(allowed: Rigging) -> Iterator[Setting]:
    """How the points lie to the first one with the thrust line level."""
    for one in allowed.points[1:]:
        first = allowed.points[0]
        along, across, up = (b - a for a, b in zip(first.place, one.place, strict=True))
        over = math.hypot(along, across)
        yield Setting(
            id=f"level.{one.name}", what=f"level: {one.name} over {first.name}", unit="rad",
            where=f"points on tubes {first.on} and {one.on}: {one.name} stands {inches(abs(up))} "
            f"{'higher' if up > 0 else 'lower'}" if abs(up) > 1e-6 else f"points on tubes {first.on} and {one.on}",
            how="straight edge and digital level from point to point, thrust line level; the same level for everything",
            nominal=math.atan2(up, over), over=over,
        )  # fmt: skip


def _tolerance(value: float | None) -> float:
    return math.nan if value is None else value


def _wing(wing: Wing, allowed: Rigging) -> Iterator[Setting]:
    edge, chord, _ = breaks(wing)
    name, root = spoken(wing.name), inches(float(edge[1, 0]))
    yield Setting(
        id=f"incidence.{wing.name}", what=f"incidence of the {name}", unit="rad",
        where=f"rib at BL {root}, right and left", how="digital level on a board along the rib's chord line",
        nominal=wing.incidence, tolerance=_tolerance(allowed.incidence), over=float(chord[0]), key="incidence",
    )  # fmt: skip
    yield Setting(
        id=f"sides.{wing.name}", what=f"{name}: incidence right against left", unit="rad",
        where=f"ribs at BL {root}", how="the same board and level on both sides",
        nominal=0.0, tolerance=_tolerance(allowed.sides), over=float(chord[0]), key="sides",
    )  # fmt: skip
    for i, panel in enumerate(wing.panels):
        label = f"{wing.name}.{panel.name}" if len(wing.panels) > 1 else wing.name
        said = f"{name}, {panel.name}"
        tip = inches(panel.tip_buttline)
        yield Setting(
            id=f"washout.{label}", what=f"twist of the {said}, nose up positive", unit="rad",
            where=f"rib at BL {tip} against BL {inches(panel.root_buttline)}",
            how="digital level on the board at both ribs", nominal=panel.twist,
            tolerance=_tolerance(allowed.washout), over=float(chord[i + 1]), key="washout",
        )  # fmt: skip
        yield Setting(
            id=f"dihedral.{label}", what=f"dihedral of the {said}", unit="rad",
            where=f"leading edge, BL {inches(panel.root_buttline)} to {tip}",
            how="digital level on a straight edge along the leading edge", nominal=panel.dihedral,
            tolerance=_tolerance(allowed.dihedral), over=panel.tip_buttline - panel.root_buttline, key="dihedral",
        )  # fmt: skip


def _pair(upper: Wing, lower: Wing, allowed: Rigging) -> Iterator[Setting]:
    """Two wings, one above the other, at the innermost buttline that both have."""
    where = max(upper.panels[0].root_buttline, lower.panels[0].root_buttline)
    (xu, zu), (xl, zl) = (_edge_at(w, where) for w in (upper, lower))
    both, label = f"{spoken(upper.name)} over {spoken(lower.name)}", f"{upper.name}.{lower.name}"
    at = f"leading edges at BL {inches(where)}"
    yield Setting(id=f"stagger.{label}", what=f"stagger, {both}, upper ahead positive", unit="m", where=at,
                  how="plumb line from the upper leading edge, tape", nominal=xl - xu,
                  tolerance=_tolerance(allowed.stagger), key="stagger")  # fmt: skip
    yield Setting(id=f"gap.{label}", what=f"gap, {both}", unit="m", where=at, how="tape, upright", nominal=zu - zl,
                  tolerance=_tolerance(allowed.gap), key="gap")  # fmt: skip
    yield Setting(id=f"decalage.{label}", what=f"decalage, {both}, upper nose up positive", unit="rad",
                  where="from the two incidences", how="their difference", nominal=upper.incidence - lower.incidence,
                  tolerance=math.hypot(*(_tolerance(allowed.incidence),) * 2), key="incidence")  # fmt: skip


def _edge_at(wing: Wing, buttline: float) -> tuple[float, float]:
    edge = breaks(wing)[0]
    return float(np.interp(buttline, edge[1], edge[0])), float(np.interp(buttline, edge[1], edge[2]))


def _wires(model: Model, allowed: Rigging) -> Iterator[Setting]:
    for wire in model.wires:
        yield Setting(
            id=f"tension.{wire.name}", what=f"tension of {wire.name.replace('_', ' ')}, right and left", unit="N",
            where=f"{_end(wire.ends[0])} to {_end(wire.ends[1])}", how="tension meter in the middle, wings unloaded",
            nominal=wire.tension, tolerance=_tolerance(allowed.tensions) * wire.tension, key="tensions",
        )  # fmt: skip


def _end(end: StrutEnd) -> str:
    if end.tail:
        return f"{end.tail} {end.tube}, {'BL' if end.tail == 'tailplane' else 'height'} {inches(end.along)}"
    return end.node or f"{spoken(end.wing)}, {end.spar} spar, BL {inches(end.buttline)}"


def _tail(model: Model, allowed: Rigging) -> Iterator[Setting]:
    tail = model.tailplane
    yield Setting(id="incidence.tailplane", what="incidence of the tailplane", unit="rad", where="root, beside the fin",
                  how="digital level on a board along the chord line", nominal=tail.incidence,
                  tolerance=_tolerance(allowed.tailplane), over=tail.root_chord, key="tailplane")  # fmt: skip


def _travels(model: Model, allowed: Rigging) -> Iterator[Setting]:
    tolerance = _tolerance(allowed.travels)

    def both(name: str, said: str, up: float, down: float, chord: float, words: tuple[str, str]) -> Iterator[Setting]:
        for word, angle in zip(words, (up, down), strict=True):
            yield Setting(id=f"travel.{name}.{word}", what=f"travel of the {said}, {word}", unit="rad",
                          where="trailing edge at the root of the movable part, from neutral",
                          how="digital level on the surface, or a tape at its trailing edge", nominal=angle,
                          tolerance=tolerance, over=chord, key="travels")  # fmt: skip

    for wing in model.wings:
        if wing.aileron:
            a = wing.aileron
            chord = float(np.interp(a.inboard, breaks(wing)[0][1], breaks(wing)[1])) * (1 - a.hinge)
            yield from both(
                f"aileron.{wing.name}", f"ailerons, {spoken(wing.name)}", a.up, a.down, chord, ("up", "down")
            )
    surfaces: tuple[tuple[str, TailSurface, tuple[str, str]], ...] = (
        ("elevator", model.tailplane, ("up", "down")), ("rudder", model.fin, ("left", "right")))  # fmt: skip
    for name, s, words in surfaces:
        yield from both(name, name, s.up, s.down, s.root_chord * (1 - s.hinge), words)


def _lengths(model: Model, ordered: list[Wing]) -> Iterator[Setting]:
    """Tips to the tail post, and struts' and wires' ends: lengths that must agree right and left."""
    on_centre = {n: p for n, p in nodes(model.fuselage).items() if abs(p[1]) < 1e-6}
    post = max(on_centre, key=lambda n: (on_centre[n][0], on_centre[n][2]), default="")
    for wing in ordered if post else ():
        tip = breaks(wing)[0][:, -1]
        yield Setting(id=f"length.{wing.name}.{post}", what=f"{spoken(wing.name)}, tip to node {post}", unit="m",
                      where="leading edge at the tip, right and left", how=f"tape; {CHECK_LENGTH}",
                      nominal=float(np.linalg.norm(tip - on_centre[post])))  # fmt: skip
    for wire in model.wires:
        a, b = (np.array(end_place(model, end)) for end in wire.ends)
        said = f"{wire.name.replace('_', ' ')}, from middle to middle of its ends"
        yield Setting(id=f"length.{wire.name}", what=said, unit="m", how=f"tape; {CHECK_LENGTH}",
                      where=f"{_end(wire.ends[0])} to {_end(wire.ends[1])}",
                      nominal=float(np.linalg.norm(a - b)))  # fmt: skip


def setting_results(model: Model) -> Iterator[Result]:
    """The sheet as results: the nominal with its tolerance as the band."""
    for n, s in enumerate(rigging_sheet(model), 1):
        unsaid = f"no tolerance: [rigging] has no {s.key}" if s.key and not math.isfinite(s.tolerance) else ""
        steps: tuple[Step, ...] = ()
        if math.isfinite(s.over):
            steps = (Step("as a length", "l sin t", (("l", s.over, "m"), ("t", s.nominal, "rad"),
                     ("give or take", s.rise_tolerance, "m")), s.rise, "m", "definition"),)  # fmt: skip
        yield Result(f"rigging.set.{s.id}", s.what, s.nominal, s.unit, s.nominal - s.tolerance, s.nominal + s.tolerance,
                     METHOD, "; ".join(x for x in (f"{n}. {s.where}; {s.how}", unsaid) if x), steps)  # fmt: skip
