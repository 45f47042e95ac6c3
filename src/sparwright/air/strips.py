"""The lattice with real sections: every strip of the wings turned until it carries what its section does.

A strip's lift in the lattice is that of its mean line in flow without friction, at the angle a that the company makes
there: cl = 2 pi sin a + cl0 cos a (thin-aerofoil theory, which the lattice's rows reproduce). A twist t is added to the
strip, and asked for is

    cl of the strip in the lattice, turned by t  =  cl of the real section at the angle a - t

so that the lattice keeps what it knows of the company (the flow and its curvature that the wings make for each other)
and the section what it knows of friction and thickness. With a section that behaves as its mean line in flow without
friction t is nought and the lattice is left as it was. Strips inside the fuselage take the twist of the nearest one
outside (common practice, no source). The tail is left to the lattice: its elevator has an effectiveness of its own.

Past its greatest lift a section carries less at a greater angle, and a row of such strips has answers in which every
second one is stalled. Separated flow spreads along the span: a strip past its greatest lift therefore works at the mean
angle of what lies about it on its wing, weighed by a bell of SPREAD chords; over the last degree before of that mean it
goes from its own angle to it. That takes the ragged answers away while no section loses more than some 3 a radian
(worked out here, no source); strips short of that degree are not touched. Solved by Newton's method with exact slopes,
angle after angle, each from the one before. Past the greatest lift of the whole there can still be more than one
answer; how the stall goes on is an indication only. What a strip carries past the angle at which its thin nose lets go
is not known: `Fitted.beyond` says how far past it is, and whoever raises a company stops there (raised.py).

Symbols: c amounts of stance.py; a effective angle in the lattice, t twist, rad; R, f with cl = R sin(a + f).
Source: glauert-1926 ch. VII for the lattice's own sections; the matching is worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.linalg import block_diag

from sparwright.air import thin
from sparwright.air.behaviour import Behaviour
from sparwright.air.stance import Stance, Stances, slopes_of
from sparwright.base.record import number

NEAR = 1e-6  # of a lift coefficient
ROUNDS = 40
HALVINGS = 6
STEP = 0.03  # rad, most a strip is turned in a round
SPREAD = 0.25  # chords, standard deviation of the bell along the span
OVER = math.radians(1.0)  # before the angle of greatest lift, over which the mean with what lies about takes over
Form = tuple[np.ndarray, float]  # of c, and what is added: a number that must be nought
PerMetre = Callable[[float], float]  # CL -> Reynolds number a metre of chord


@dataclass(frozen=True)
class Keep:
    """What one hinge keeps nought."""

    nought: Callable[[Stance], Form]
    hinge: str  # the surface whose hinge it is


@dataclass(frozen=True)
class Fitted:
    """A company with the sections of its strips."""

    stances: Stances
    behaviours: tuple[Behaviour, ...]
    shares: np.ndarray  # (strips, sections) part of each in a strip
    own: np.ndarray  # (strips,) cl of the mean line at no angle
    spread: np.ndarray  # (strips, k) twist of every strip from those of the k coupled ones
    real: np.ndarray  # (k,) which strips are coupled
    beside: np.ndarray  # (k, k) mean over what lies about a strip, less itself
    built: np.ndarray  # (strips,) rad, nose up: an angle the strips are built at on top of the planforms' own

    def effective(self, cl: np.ndarray, twist: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(angle a - t at which a strip's section works, d a/d cl)."""
        R, f = np.hypot(2 * np.pi, self.own), np.arctan2(self.own, 2 * np.pi)
        sine = np.clip(cl / R, -0.999, 0.999)
        return np.arcsin(sine) - f - (twist - self.built), 1 / (R * np.sqrt(1 - sine**2))

    def lift(self, alpha: np.ndarray, re: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """What the coupled strips' sections do at effective angles; between two sections straight.

        Gives (k,) the angles they work at, (k,) their cl, (k, k) its slopes by the effective angles.
        """
        parts, used = self._used
        places = [b.place(re) for b in used]
        aside = self.beside @ alpha
        stall = mixed([b.stall_at(p) for b, p in zip(used, places, strict=True)], parts)
        past = (alpha + aside - stall) / OVER
        share = np.clip(np.where(np.isfinite(past), past + 1, 0.0), 0.0, 1.0)
        works = alpha + share * aside
        each = [b.lift_at(works, p) for b, p in zip(used, places, strict=True)]
        cl, slope = mixed([e[0] for e in each], parts), mixed([e[1] for e in each], parts)
        turns = np.where((share > 0) & (share < 1), aside / OVER, 0.0)
        whole = np.eye(alpha.size) + self.beside  # d(mean)/d(own)
        return works, cl, slope[:, None] * (np.eye(alpha.size) + share[:, None] * self.beside + turns[:, None] * whole)

    def beyond(self, found: Settled, per_metre: PerMetre) -> np.ndarray:
        """(2, k) rad by which each coupled strip is past where its nose lets go, below and above; under 0 short of it.

        Minus infinity where no nose does. Between two sections the angle is mixed, of one whose nose does not that of
        its least or greatest lift.
        """
        parts, used = self._used
        if not any(np.isfinite(b.nose).any() for b in used):
            return np.full((2, self.real.size), -np.inf)
        re = self.stances.company.chords[self.real] * per_metre(found.stance.lift(found.amounts))
        places = [b.place(re) for b in used]
        noses = [b.ends_at(p) for b, p in zip(used, places, strict=True)]
        stalls = [(b.least_at(p), b.stall_at(p)) for b, p in zip(used, places, strict=True)]
        over = []
        for side, sign in ((0, -1.0), (1, 1.0)):
            each = [pair[side] for pair in noses]
            does = np.array([(p > 0) & np.isfinite(end) for p, end in zip(parts, each, strict=True)]).any(axis=0)
            filled = [np.where(np.isfinite(end), end, s[side]) for end, s in zip(each, stalls, strict=True)]
            over.append(np.where(does, sign * (found.works[self.real] - mixed(filled, parts)), -np.inf))
        return np.array(over)

    def still(self, stance: Stance) -> np.ndarray:
        """(b,) amounts of the wings as they are built, hinges neutral."""
        return stance.amounts(None, self.built)

    @cached_property
    def _used(self) -> tuple[np.ndarray, tuple[Behaviour, ...]]:
        """(sections, k) parts of the sections that stand in coupled strips, and those sections."""
        parts = self.shares[self.real].T
        there = np.flatnonzero(parts.max(axis=1, initial=0.0) > 0)
        return parts[there], tuple(self.behaviours[i] for i in there)


def mixed(values: Sequence[np.ndarray], parts: np.ndarray) -> np.ndarray:
    """Sum of values by parts (sections, m); a section without part in a strip does not spoil it by being unknown."""
    if len(values) == 1 and (parts == 1.0).all():
        return np.asarray(values[0])
    none = np.zeros(parts.shape[-1])
    return np.asarray(sum((np.where(p > 0, p * v, 0.0) for v, p in zip(values, parts, strict=True)), none))


@dataclass(frozen=True)
class Settled:
    """The company at one angle with real sections."""

    stance: Stance
    amounts: np.ndarray  # (b,) c
    works: np.ndarray  # (strips,) rad, angle at which each section works
    left: float = number("1", "greatest of the lift coefficients by which strips are off, and what must be nought")

    @property
    def good(self) -> bool:
        """Whether it settled."""
        return self.left <= NEAR


def settle(fitted: Fitted, stance: Stance, keep: Keep | None, per_metre: PerMetre, start: np.ndarray) -> Settled:
    """The company at a stance, what must be nought kept so by its hinge; all hinges as they are where there is none.

    start: c to begin from.
    """
    asked = _Asked(fitted, stance, keep, per_metre)
    at, size = asked.at(start), 1.0
    for _ in range(ROUNDS):
        if not at.worst > NEAR or not math.isfinite(at.worst):
            break
        try:
            change = asked.change(at)
        except np.linalg.LinAlgError:
            break
        turned = np.abs(change[: fitted.real.size])
        size = min(1.0, 2 * size, STEP / max(np.max(turned, initial=0.0), 1e-12))
        for _ in range(HALVINGS):
            tried = asked.at(asked.moved(at.amounts, size * change))
            if tried.worst < at.worst:
                break
            size /= 2
        at = tried
    return Settled(stance, at.amounts, at.works, at.worst)


@dataclass(frozen=True)
class _At:
    """How far off the strips are at some amounts."""

    amounts: np.ndarray  # (b,)
    works: np.ndarray  # (strips,) angles at which the sections work
    short: np.ndarray  # (k,) lift coefficients that the coupled strips are short of, and what must be nought
    turn: np.ndarray  # (strips,) d a/d cl
    by_angle: np.ndarray  # (k, k) slopes of the sections by the effective angles

    @property
    def worst(self) -> float:
        """The greatest of them; infinity where something is not known."""
        found = float(np.max(np.abs(self.short), initial=0.0))
        return found if math.isfinite(found) else math.inf


@dataclass(frozen=True)
class _Asked:
    """The equations at one stance."""

    fitted: Fitted
    stance: Stance
    keep: Keep | None
    per_metre: PerMetre

    @cached_property
    def unknown(self) -> np.ndarray:
        """(b, k) change of the amounts by each unknown: the coupled twists, then the hinge where there is one."""
        hinged = self.stance.company.hinged
        by_twist = np.vstack([np.zeros((1 + len(hinged), self.fitted.real.size)), self.fitted.spread])
        if self.keep is None:
            return by_twist
        by_hinge = np.zeros((by_twist.shape[0], 1))
        by_hinge[1 + hinged.index(self.keep.hinge)] = 1.0
        return np.hstack([by_twist, by_hinge])

    @cached_property
    def form(self) -> Form | None:
        """What must be nought."""
        return self.keep.nought(self.stance) if self.keep else None

    def at(self, c: np.ndarray) -> _At:
        """The misfit at amounts."""
        real, twists = self.fitted.real, c[1 + len(self.stance.company.hinged) :]
        cl = self.stance.section_lift(c)
        angle, turn = self.fitted.effective(cl, twists)
        re = self.stance.company.chords[real] * self.per_metre(self.stance.lift(c))
        works, wanted, by_angle = self.fitted.lift(angle[real], re)
        angle[real] = works
        short = wanted - cl[real]
        if self.form is not None:
            form, added = self.form
            short = np.append(short, c @ form @ c + added)
        return _At(c, angle, short, turn, by_angle)

    def change(self, at: _At) -> np.ndarray:
        """Newton's change of the unknowns; the Reynolds numbers are taken as they are."""
        real = self.fitted.real
        g = self.stance.section_slopes(at.amounts)[real]
        matrix = ((at.by_angle * at.turn[real]) @ g - g) @ self.unknown
        matrix[:, : real.size] -= at.by_angle
        if self.form is not None:
            form = self.form[0]
            matrix = np.vstack([matrix, slopes_of(form, at.amounts) @ self.unknown])
        return np.asarray(np.linalg.solve(matrix, -at.short))

    def moved(self, c: np.ndarray, change: np.ndarray) -> np.ndarray:
        """The amounts after a change."""
        return np.asarray(c + self.unknown @ change)


def reset(fitted: Fitted, wing: str, angle: float) -> Fitted:
    """The same with one wing set by an angle (rad, nose up) more: what decalage does, without another lattice."""
    built = fitted.built.copy()
    built[fitted.stances.company.strip_slices[wing]] += angle
    return replace(fitted, built=built)


def plain(fitted: Fitted) -> Fitted:
    """The same with the lattice left as it is: no strip is coupled."""
    none = np.zeros(0, int)
    return replace(fitted, spread=fitted.spread[:, none], real=none, beside=np.zeros((0, 0)))


def fitted(stances: Stances, lines: Mapping[str, np.ndarray], behaviours: Mapping[str, Behaviour]) -> Fitted:
    """A company with its sections: the strips of its wings outside the fuselage are coupled.

    lines, behaviours: mean line (2, m) in chords and behaviour of each section by name. KeyError for one that is not
    there.
    """
    company, names = stances.company, list(behaviours)
    count = company.chords.size
    shares, takes, real = np.zeros((count, len(names))), np.full(count, -1), []
    beside = []
    for p, s in zip(company.planforms, company.mesh.surfaces, strict=True):
        here, clear = company.strip_slices[p.name], s.middle[1] > p.side
        for i, name in enumerate(p.sections):
            shares[here, names.index(name)] += s.blend[:, i]
        if not p.is_tail:
            numbers = np.arange(count)[here]
            takes[here] = np.where(clear, numbers, numbers[clear][0])
            real += numbers[clear].tolist()
            beside.append(_bell(s.middle[1][clear], s.width[clear], s.chord[clear]))
    own = shares @ np.array([thin.lift_and_moment(np.asarray(lines[name]))[0] for name in names])
    at = np.array(real)
    spread = (takes[:, None] == at[None, :]).astype(float)
    return Fitted(
        stances,
        tuple(behaviours.values()),
        shares,
        own,
        spread,
        at,
        block_diag(*beside) - np.eye(at.size),
        np.zeros(count),
    )


def _bell(y: np.ndarray, width: np.ndarray, chord: np.ndarray) -> np.ndarray:
    """(k, k) weights of the strips about each, both sides of the plane of symmetry; rows sum to one."""
    far = [(y[:, None] - side * y) / (SPREAD * chord[:, None]) for side in (1, -1)]
    weight = np.sum([np.exp(-(d**2) / 2) for d in far], axis=0) * width
    return np.asarray(weight / weight.sum(axis=1, keepdims=True))
