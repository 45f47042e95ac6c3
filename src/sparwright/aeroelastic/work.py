"""A model's aeroelastics from its frame, masses, lattice and controls: modes, standing air, flutter over the speeds."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from sparwright.aeroelastic.ailerons import Aileron, ailerons
from sparwright.aeroelastic.circuits import circuit, eased, softened
from sparwright.aeroelastic.level import level_slack
from sparwright.aeroelastic.moving import RIGID, Moving, held_rigged, moving, own_strips
from sparwright.aeroelastic.named import Name, names
from sparwright.aeroelastic.on_frame import Laced, laced
from sparwright.aeroelastic.standing import Standing, give_of, rolled, standing, with_ailerons
from sparwright.aeroelastic.swept import Shaken, Swept, swept
from sparwright.base.record import number
from sparwright.controls.motion import Motion
from sparwright.family.model import Model
from sparwright.flight.work import Flown
from sparwright.loads.diagram import Envelope
from sparwright.loads.laden import SEA_LEVEL
from sparwright.parts.part import Assembly
from sparwright.structure.answered import by_name
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import amounts
from sparwright.structure.masses import Carriers, Lumps, lumps
from sparwright.structure.whole import skeleton

FURTHEST = 1.5  # of VD: how far the speeds go
TOLD = 1.2  # of VD: how far with circuits eased
SLOWEST, SPEEDS = 0.1, 29  # of VD the first; how many
ELASTIC = 28  # elastic modes: fin and rudder of a small aeroplane are among the last that matter
FLIGHT = 0.3  # of the lowest elastic frequency: what is slower is flight, not flutter (flight/modes.py)
DAMPING = 0.02  # structural, looked at besides: common practice, no source
EASED = (0.1, 0.01, 0.001)  # parts of the circuits' stiffness that play may leave; the last stands for free


@dataclass(frozen=True)
class Eased:
    """Flutter with every circuit less stiff, at the greatest mass."""

    part: float = number("1", "of their stiffness that is left")
    swept: Swept = field(repr=False, default_factory=lambda: Swept(np.zeros(0)))
    damped: Swept = field(repr=False, default_factory=lambda: Swept(np.zeros(0)))  # what flutters, with damping


@dataclass(frozen=True)
class Worked:
    """Everything worked out, before it is told."""

    model: Model
    envelope: Envelope = field(repr=False)
    lumps: Lumps = field(repr=False)
    aboard: np.ndarray  # (L,) kg of every lump
    slack: tuple[str, ...]  # parts: wires that are slack in level flight
    notes: tuple[str, ...]  # what of the controls is stiffer here than it is
    moving: Moving = field(repr=False)
    names: tuple[Name, ...]  # of the natural modes, rigid ones first
    standing: Standing = field(repr=False)
    asked: np.ndarray  # (3 s,) what the pilot's aileron turns, a radian, right one up; noughts without ailerons
    roll: np.ndarray  # (3 s,) rolling moment of the strips' forces
    give: np.ndarray  # (3 s, 3 s) of the held frame, without the ailerons' circuit
    circuit: np.ndarray  # (k, k) N m/rad, NaN where it is not known
    drawn: tuple[Aileron, ...]  # ailerons that are drawn, in the order of the circuit
    swept: Swept = field(repr=False)
    damped: Swept = field(repr=False)  # the branches that flutter, with structural damping
    light: Swept = field(repr=False)  # with the least of each load aboard, up to where it flutters with the most
    alpha: float = number("rad", "angle of the thrust line that the lattice stands at")
    eased: tuple[Eased, ...] = field(default=(), repr=False)

    @property
    def dive(self) -> float:
        """VD, m/s."""
        return self.envelope.speed("D")


def worked(model: Model, assembly: Assembly, flown: Flown, envelope: Envelope, motions: Sequence[Motion],
           bones: Skeleton | None = None, masses: Lumps | None = None) -> Worked:  # fmt: skip
    """A model's aeroelastics at sea level, at its greatest mass. ValueError with the reason where there are none.

    bones, masses: its frame and the lumps on it where they are at hand.
    """
    if not math.isfinite(envelope.speed("D")):
        raise ValueError(envelope.why or "VD is not known")
    bones, notes = softened(model, bones or skeleton(model), motions)
    mass = masses or lumps(model, assembly, bones)
    try:
        return _worked(model, assembly, flown, envelope, motions, bones, mass, notes)
    except ValueError as fault:
        raise ValueError(by_name(str(fault), bones)) from fault


def _worked(model: Model, assembly: Assembly, flown: Flown, envelope: Envelope, motions: Sequence[Motion],
            bones: Skeleton, mass: Lumps, notes: tuple[str, ...]) -> Worked:  # fmt: skip
    carriers = Carriers(model, bones)
    slack = level_slack(flown, envelope, bones, carriers, mass)
    alpha = _at_dive(flown, envelope, envelope.speed("D"))
    on = laced(model, flown.plane.company, bones, carriers, alpha)
    drawn = ailerons(model, assembly)
    held = circuit(drawn, motions)
    aboard = {x.name: x.most for x in model.loads}
    shaking = moving(bones, mass, aboard, on, drawn, held, slack, ELASTIC)
    weights, own = amounts(mass, aboard), own_strips(on, drawn)
    give = give_of(held_rigged(bones.frame, slack), on.heave, on.turn, on.flap)
    known = drawn and np.isfinite(held).all()
    still = standing(on.strips, with_ailerons(give, own, held) if known else give)
    over = swept_to(shaking, envelope.speed("D"))
    empty = moving(bones, mass, {x.name: x.least for x in model.loads}, on, drawn, held, slack, ELASTIC)
    return Worked(
        model=model, envelope=envelope, lumps=mass, aboard=weights, slack=_slack_parts(bones, slack), notes=notes,
        moving=shaking, names=names(model, shaking, mass, weights), standing=still, asked=_asked(drawn, own),
        roll=rolled(on, bones.frame.place), give=give, circuit=held, drawn=drawn, swept=over,
        damped=_damped(shaking, over), light=swept_to(empty, envelope.speed("D"), over.flutter), alpha=alpha,
        eased=tuple(_eased(model, part, bones, mass, aboard, on, drawn, held, slack, envelope.speed("D"),
                           float(shaking.omega[RIGID])) for part in EASED),
    )  # fmt: skip


def _asked(drawn: Sequence[Aileron], own: np.ndarray) -> np.ndarray:
    """(3 s,) a radian of every aileron, up on the right."""
    turns = np.array([-1.0 if a.side == "R" else 1.0 for a in drawn])
    return np.concatenate([np.zeros(2 * len(own)), own @ turns])


def _at_dive(flown: Flown, envelope: Envelope, dive: float) -> float:
    """The angle of level flight at VD and the greatest mass, rad. ValueError where the lattice has none."""
    company = flown.plane.company
    lift = envelope.bounds["max_forward"].laden.lift(1.0, dive, envelope.cell.area)
    return company.angle_of(lift)


def swept_to(shaking: Moving, dive: float, most: float = np.inf, lowest: float | None = None) -> Swept:
    """Flutter up to 1.5 VD or a speed, at sea level. lowest: rad/s, of the first elastic mode where it is another's."""
    on = Shaken(shaking.mass, shaking.stiffness, shaking.air, SEA_LEVEL)
    speeds = np.linspace(SLOWEST * dive, FURTHEST * dive, SPEEDS)
    speeds = speeds if most > speeds[-1] else np.append(speeds[speeds < most], most)
    return swept(on, speeds, FLIGHT * (lowest or float(shaking.omega[RIGID])))


def _damped(shaking: Moving, over: Swept, lowest: float | None = None) -> Swept:
    """The branches that grow anywhere, followed again with structural damping. lowest: rad/s, of the first mode."""
    modes = [b.mode for b in over.branches if np.any(b.root.real > 0)]
    on = Shaken(shaking.mass, shaking.stiffness, shaking.air, SEA_LEVEL, DAMPING)
    return swept(on, np.asarray(over.speeds), FLIGHT * (lowest or float(shaking.omega[RIGID])), modes)


def _eased(model: Model, part: float, bones: Skeleton, mass: Lumps, aboard: Mapping[str, float], on: Laced,
           drawn: Sequence[Aileron], held: np.ndarray, slack: np.ndarray, dive: float, lowest: float
           ) -> Eased:  # fmt: skip
    """The same aeroplane with its circuits eased; slower than flight with them stiff is flight here too."""
    shaking = moving(eased(model, bones, part), mass, aboard, on, drawn, held * part, slack, ELASTIC)
    over = swept_to(shaking, dive, TOLD * dive, lowest)
    return Eased(part, over, _damped(shaking, over, lowest))


def _slack_parts(bones: Skeleton, slack: np.ndarray) -> tuple[str, ...]:
    return tuple(f"{bones.bars[i].part} {bones.bars[i].at[2]}".strip() for i in np.flatnonzero(slack))
