"""First strength checks of every spar: bending and shear at limit load, each wing from its own lift share.

Each spar is a beam on the points where struts, wires and the fuselage hold it, taken as rigid. Two spars
share the load as a lever between them, by where the lift acts along the chord. Where a wire or strut runs
down to the fuselage, its pull presses the spar inwards; load that interplane struts bring along is added.
Not here yet: secondary bending of the pressed spar, sinking supports, torsion, landing and negative loads.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model, Spar, StrutEnd, Wing
from sparwright.loads.spanwise import WingLoad
from sparwright.maths.beam import Bent, bend
from sparwright.shape.frame import ON_CENTRE, end_place
from sparwright.shape.lifting import cut, panel_at
from sparwright.shape.rib import Slot, slot

Point = tuple[str, str, float]  # wing, spar, buttline
MESH = 0.02  # m, longest beam element


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


@dataclass(frozen=True)
class Brace:
    """A strut or wire down to the fuselage that holds wings up, in one case."""

    name: str
    case: str
    pull: float = number("N", "tension at limit load, rigging tension included")
    area: float = number("m2", "metal area; nought for a wire, which has a breaking strength")


def supports(model: Model, wing: Wing, spar: Spar) -> tuple[float, ...]:
    """Buttlines where the spar is held: the fuselage side for a wing that begins there, every strut and wire end."""
    at = {round(wing.leading_edge[1], 6)} if wing.leading_edge[1] > ON_CENTRE else set()
    for thing in (*model.struts, *model.wires):
        at |= {round(e.buttline, 6) for e in thing.ends if e.wing == wing.name and e.spar == spar.name}
    return tuple(sorted(at))


def chord_share(wing: Wing, spar: Spar, load: WingLoad) -> np.ndarray:
    """(m,) N/m of the spar: the whole for one spar, else by the lever between neighbouring spars.

    With more than two spars the load goes to the two foremost and aftmost (the rest carry none: safe for them, not for
    the middle ones), so DesignProblem is raised until that is worked out.
    """
    if len(wing.spars) == 1:
        return load.running
    if len(wing.spars) > 2:
        raise DesignProblem(f"wing {wing.name}: more than two spars are not worked out yet")
    front, rear = sorted(wing.spars, key=lambda s: s.at)
    at = load.chord * spar.at
    other = load.chord * (rear.at if spar is front else front.at)
    return np.asarray((load.moment - load.running * other) / (at - other))


def run_spar(model: Model, wing: Wing, spar: Spar, load: WingLoad) -> SparRun:
    """The beam of one spar in one case. DesignProblem when nothing holds it."""
    held = supports(model, wing, spar)
    root, tip = wing.panels[0].root_buttline, wing.panels[-1].tip_buttline
    y = _nodes(root, tip, held)
    running = np.interp(y, load.y, chord_share(wing, spar, load))
    slots = [slot(cut(wing, model.sections, float(b)), wing, spar) for b in _few(wing)]
    depth = _depths(wing, y, slots)
    stiff = _stiffness(spar, (depth[1:] + depth[:-1]) / 2)
    nodes = [int(np.argmin(np.abs(y - b))) for b in held]
    try:
        bent = bend(y, stiff, running, nodes, through=root < ON_CENTRE)
    except ValueError as fault:
        raise DesignProblem(
            f"wing {wing.name}, spar {spar.name}: nothing holds it up; give it struts or wires"
        ) from fault
    return SparRun(wing, spar, load, bent, depth, np.zeros_like(y), held)


def _few(wing: Wing) -> tuple[float, ...]:
    """Buttlines at which the spar's depth is worked out: it runs straight between panel ends."""
    return (wing.panels[0].root_buttline, *(p.tip_buttline for p in wing.panels))


def _depths(wing: Wing, y: np.ndarray, slots: Sequence[Slot]) -> np.ndarray:
    return np.interp(y, _few(wing), [s.height for s in slots])


def _stiffness(spar: Spar, depth: np.ndarray) -> np.ndarray:
    """E I of the caps along the beam: only its change along the span matters on rigid supports."""
    b, d = spar.cap.width, spar.cap.depth
    inertia = 2 * (b * d**3 / 12 + b * d * (depth - d) ** 2 / 4)
    return np.asarray(material(spar.cap.material).youngs * inertia)


def _nodes(root: float, tip: float, held: Sequence[float]) -> np.ndarray:
    ends = sorted({round(root, 6), round(tip, 6), *held})
    runs = [
        np.linspace(a, b, max(2, int(np.ceil((b - a) / MESH)) + 1))[:-1] for a, b in zip(ends, ends[1:], strict=False)
    ]
    return np.concatenate([*runs, [ends[-1]]])


def run_all(model: Model, loads: Mapping[str, WingLoad]) -> tuple[tuple[SparRun, ...], tuple[Brace, ...]]:
    """Every spar of every wing in one case, with the thrust of the bracing in it, and the pull of each brace."""
    runs = {(w.name, s.name): run_spar(model, w, s, loads[w.name]) for w in model.wings for s in w.spars}
    case = next(iter(loads.values())).case.key
    braces: list[Brace] = []
    for joined in _joined(model, runs):
        up = -sum(_reaction(runs[w, s], b) for w, s, b in joined)
        found = _braces(model, joined)
        if found and up > 0:
            for thing, point, run, rise, length in found:
                pull = up / len(found) * length / rise + getattr(thing, "tension", 0.0)
                braces.append(Brace(thing.name, case, pull, _metal(thing)))
                spar = runs[point[0], point[1]]
                push = np.where(spar.bent.y <= point[2] + 1e-9, pull * run / length, 0.0)
                runs[point[0], point[1]] = SparRun(
                    spar.wing, spar.spar, spar.load, spar.bent, spar.depth, spar.thrust + push, spar.supports
                )
    return tuple(runs.values()), tuple(braces)


def _metal(thing: object) -> float:
    tube = getattr(thing, "tube", None)
    return float(np.pi * (tube.outside - tube.wall) * tube.wall) if tube else 0.0


def _reaction(run: SparRun, buttline: float) -> float:
    return float(run.bent.reactions[run.supports.index(round(buttline, 6))])


def _joined(model: Model, runs: Mapping[tuple[str, str], SparRun]) -> list[set[Point]]:
    """Points of support, those that wing-to-wing struts join together in one set."""
    groups: list[set[Point]] = [{(w, s, b)} for (w, s), run in runs.items() for b in run.supports]
    for strut in model.struts:
        a, b = strut.ends
        if a.wing and b.wing:
            pair = {_point(a), _point(b)}
            joined = set().union(*(g for g in groups if g & pair))
            groups = [g for g in groups if not g & pair] + [joined]
    return groups


def _point(end: StrutEnd) -> Point:
    return (end.wing, end.spar, round(end.buttline, 6))


def _braces(model: Model, joined: set[Point]) -> list[tuple[object, Point, float, float, float]]:
    """(strut or wire, where it ends on a spar, run outwards, rise, length) of what slopes up from a node to the group."""
    found = []
    for thing in (*model.struts, *model.wires):
        for end, other in (thing.ends, thing.ends[::-1]):
            if end.wing and other.node and _point(end) in joined:
                top, foot = np.array(end_place(model, end)), np.array(end_place(model, other))
                d = top - foot
                if (
                    d[2] > 0 and d[1] > d[2] / 2
                ):  # holds the wing up from inboard; a cabane strut stands too upright for that
                    found.append((thing, _point(end), float(d[1]), float(d[2]), float(np.linalg.norm(d))))
    return found


def bay(model: Model, wing: Wing, buttline: float) -> float:
    """Rib spacing at a buttline, m."""
    panel, _ = panel_at(wing, buttline)
    run = panel.tip_buttline - panel.root_buttline
    return run / max(1, int(np.ceil(run / wing.ribs.pitch - 1e-6)))
