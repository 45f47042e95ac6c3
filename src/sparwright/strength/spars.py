"""Every spar as a beam at limit load, each wing from its own lift share, with the thrust of the bracing.

Each spar is a beam on the points where struts, wires and the fuselage hold it, taken as rigid. Two spars
share the load as a lever between them, by where the lift acts along the chord. Where a wire or strut runs
down to the fuselage, its pull presses the spar inwards; load that interplane struts bring along is added.
Not here yet: secondary bending of the pressed spar, sinking supports, torsion, landing and negative loads.

    R_front = L (x - x_rear)/(x_front - x_rear)      lever
    pull = R length/rise + rigging                   brace
    thrust = pull run/length                         inboard of where it is made fast
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.family.model import Model, Spar, Strut, Wing, Wire
from sparwright.loads.spanwise import WingLoad
from sparwright.maths.beam import Bent, bend
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.lifting import cut
from sparwright.shape.rib import slot
from sparwright.strength.beam_box import cap_inertia
from sparwright.strength.bracing import Joined, joined, supports

MESH = 0.02  # m, longest beam element
Runs = dict[tuple[str, str], "SparRun"]


@dataclass(frozen=True)
class SparRun:
    """One spar of one wing in one case, limit load, right half."""

    wing: Wing
    spar: Spar
    load: WingLoad
    bent: Bent
    depth: np.ndarray  # (n,) m, spar depth at the beam's nodes
    thrust: np.ndarray  # (n,) N, compression from the bracing
    supports: tuple[float, ...]  # buttlines, m
    unclear: str = ""  # why the loads are not all known


@dataclass(frozen=True)
class Brace:
    """A strut or wire down to the fuselage that holds wings up, in one case."""

    thing: Strut | Wire
    case: str
    pull: float = number("N", "tension at limit load, rigging tension included")
    unclear: str = ""


def chord_share(wing: Wing, spar: Spar, load: WingLoad) -> np.ndarray:
    """(m,) N/m of the spar: the whole for one spar, else by the lever between the two.

    Raises DesignProblem for more than two spars: how they share is not worked out yet.
    """
    if len(wing.spars) == 1:
        return load.running
    if len(wing.spars) > 2:
        raise DesignProblem(f"wing {wing.name}: more than two spars are not worked out yet")
    other = next(s for s in wing.spars if s is not spar)
    own, far = load.chord * spar.at, load.chord * other.at
    return np.asarray((load.moment - load.running * far) / (own - far))


def run_spar(model: Model, wing: Wing, spar: Spar, load: WingLoad) -> SparRun:
    """The beam of one spar in one case. DesignProblem when nothing holds it."""
    held = supports(model, wing, spar)
    root, tip = wing.panels[0].root_buttline, wing.panels[-1].tip_buttline
    y = mesh(root, tip, held)
    running = np.interp(y, load.y, chord_share(wing, spar, load))
    depth = _depths(model, wing, spar, y)
    stiff = cap_inertia(spar, (depth[1:] + depth[:-1]) / 2)  # over E: on rigid supports only its change along y counts
    nodes = [int(np.argmin(np.abs(y - b))) for b in held]
    try:
        bent = bend(y, stiff, running, nodes, through=root < ON_CENTRE)
    except ValueError as fault:
        raise DesignProblem(
            f"wing {wing.name}, spar {spar.name}: nothing holds it up; give it struts or wires from below"
        ) from fault
    return SparRun(wing, spar, load, bent, depth, np.zeros_like(y), held)


def _depths(model: Model, wing: Wing, spar: Spar, y: np.ndarray) -> np.ndarray:
    """Spar depth (n,) along y: straight between panel ends, as its caps are."""
    ends = (wing.panels[0].root_buttline, *(p.tip_buttline for p in wing.panels))
    return np.asarray(np.interp(y, ends, [slot(cut(wing, model.sections, b), wing, spar).height for b in ends]))


def mesh(root: float, tip: float, held: Sequence[float]) -> np.ndarray:
    """Nodes of a beam from root to tip with one at every support, none farther apart than MESH."""
    ends = sorted({round(root, 6), round(tip, 6), *held})
    runs = [np.linspace(a, b, max(2, int(np.ceil((b - a) / MESH)) + 1))[:-1] for a, b in pairwise(ends)]
    return np.concatenate([*runs, [ends[-1]]])


def run_all(model: Model, loads: Mapping[str, WingLoad]) -> tuple[tuple[SparRun, ...], tuple[Brace, ...]]:
    """Every spar of every wing in one case, with the thrust of the bracing in it, and the pull of each brace."""
    runs = {(w.name, s.name): run_spar(model, w, s, loads[w.name]) for w in model.wings for s in w.spars}
    braces: list[Brace] = []
    for group in joined(model):
        up = -sum(_reaction(runs[w, s], b) for w, s, b in group.points)
        braces += _brace(runs, group, up, next(iter(loads.values())).case.key)
    outside = next(iter(loads.values())).outside
    return tuple(runs.values()), tuple(replace(b, unclear=b.unclear or outside) for b in braces)


def _brace(runs: Runs, group: Joined, up: float, case: str) -> list[Brace]:
    """The braces of one group under its load `up`; presses their spars in `runs`, and says there what is unclear."""
    if group.unclear:
        for w, s, _ in group.points:
            runs[w, s] = replace(runs[w, s], unclear=group.unclear)
    found = []
    for h in group.holders:
        pull = up / len(group.holders) * h.length / h.rise
        pull += h.thing.tension if isinstance(h.thing, Wire) else 0.0
        why = "" if pull >= 0 else f"pressed, not pulled, in case {case}: buckling of a strut is not worked out"
        if h.leans:
            found.append(Brace(h.thing, case, pull, group.unclear or why))
        run = runs[h.point[0], h.point[1]]
        push = np.where(run.bent.y <= h.point[2] + 1e-9, max(pull, 0.0) * h.run / h.length, 0.0)
        runs[h.point[0], h.point[1]] = replace(run, thrust=run.thrust + push)
    return found


def _reaction(run: SparRun, buttline: float) -> float:
    return float(run.bent.reactions[run.supports.index(round(buttline, 6))])
