"""The controls of a model worked out and told: `controls.*`."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.check import Check, Result, check
from sparwright.base.problem import DesignProblem
from sparwright.base.source import UNKNOWN
from sparwright.controls.brake_levers import brake_levers_clear
from sparwright.controls.checks import control_checks
from sparwright.controls.clearance import clearance_checks
from sparwright.controls.motion import Motion, motions
from sparwright.controls.openings import opening_checks
from sparwright.controls.play_told import play_results
from sparwright.controls.stopped import differential, stop_checks, stopped
from sparwright.controls.told import control_results
from sparwright.controls.trim import sets, trim_checks, trim_clear, trim_results
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.parts.control_runs import Layout, layout
from sparwright.parts.part import Assembly

NO_CONTROLS = (
    "the file has no controls; [controls] with stick, torque tube, pedals, bell-cranks, rods, cables and stops would "
    "settle it"
)


@dataclass(frozen=True)
class ControlsTold:
    """What is said of the controls."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    found: tuple[Motion, ...] = ()  # the controls through their travel; none where the file has no controls


def controls_told(model: Model, assembly: Assembly, measured: bool = True) -> ControlsTold:
    """Results and checks of a model's controls; one unknown check where the file has none.

    measured: whether what moves is measured on its bodies. DesignProblem for runs that are no mechanism.
    """
    if model.controls is None:
        none = check(
            "controls.reach",
            "surfaces reach their stops within the hand's room",
            UNKNOWN,
            math.nan,
            ">=",
            "rad",
            method="none",
            caveat=NO_CONTROLS,
        )
        return ControlsTold((), (none,))
    runs, found = moving(model, model.controls)
    near = clearance_checks(model, model.controls, found, assembly) if measured else ()
    ended = [(m, stopped(model, m, assembly)) for m in found]
    trim, c = model.controls.trim, model.controls
    drawn = sets(model, c, trim, next(m for m in found if m.name == "elevator")) if trim else ()
    return ControlsTold(
        (
            *(trim_results(drawn) if trim else ()),
            *control_results(model, model.controls, runs, found),
            *play_results(model, model.controls, found),
            *(differential(m, at) for m, at in ended if m.force == "aileron"),
        ),
        (
            *control_checks(model, model.controls, found),
            *(c for m, at in ended for c in stop_checks(model, m, at)),
            *opening_checks(model.controls, assembly),
            *(trim_checks(model, trim, drawn) if trim else ()),
            *((trim_clear(model, c, trim, drawn, assembly),) if trim and measured else ()),
            *(brake_levers_clear(model, assembly) if measured else ()),
            *near,
        ),
        found,
    )


def moving(model: Model, controls: Controls) -> tuple[Layout, tuple[Motion, ...]]:
    """(the controls in neutral, each through its travel). DesignProblem for runs that are no mechanism."""
    runs = layout(model, controls)
    try:
        return runs, motions(model, controls, runs)
    except ValueError as fault:
        raise DesignProblem(f"{model.name}: controls: {fault}") from fault
