"""Aeroelastics as results and checks: frequencies with names, divergence, ailerons, flutter, screening.

The rule: free from flutter, reversal and divergence at all speeds up to 1.2 VD where a rational analysis shows it
(14 CFR 23.629(c), read; CS-VLA 629 the same, memory). Sea level, where equivalent and true airspeed are one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.aeroelastic.by_hand import first_bending
from sparwright.aeroelastic.moving import RIGID
from sparwright.aeroelastic.play import played
from sparwright.aeroelastic.screened import screened
from sparwright.aeroelastic.swept import Branch, Swept
from sparwright.aeroelastic.work import DAMPING, ELASTIC, FURTHEST, Worked, worked
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.problem import DesignProblem
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion
from sparwright.family.model import Model, spoken
from sparwright.flight.work import Flown
from sparwright.loads.diagram import Envelope
from sparwright.loads.laden import SEA_LEVEL
from sparwright.parts.part import Assembly
from sparwright.structure.bar import Skeleton
from sparwright.structure.masses import Lumps

TIMES = 1.2  # VD
SHOWN = 20  # elastic modes that are told
RULE = "cfr-23-2014 23.629(c)"
FRAME = "frame of all bars held free, masses of the ledger"
AIR = "lattice's circulation for a twist of every strip"
STRIP = f"{AIR}, Theodorsen's section, p-k (hassig-1971)"
TITLES = {
    "divergence": "speed at which the air twists it further than its stiffness holds",
    "reversal": "speed at which the ailerons roll it the wrong way",
    "flutter": "speed at which a movement feeds on the air",
}
OF_AIR = ("strips with the lattice's finite span and neighbours, no lag from wing to tail, no stall, no propeller, no "
          "compressibility; struts and body make no air of their own")  # fmt: skip
OF_FRAME = ("hinges, rods and cables without play: with play the circuits are less stiff, down to free, "
            "aeroelastic.flutter.play; joints stiff as structure/ says")  # fmt: skip


@dataclass(frozen=True)
class Aeroelastic:
    """What is told, and what it was worked out from; `work` is None where there is no frame that stands."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]
    work: Worked | None = None
    why: str = ""


def aeroelastic(model: Model, assembly: Assembly, flown: Flown, envelope: Envelope, motions: Sequence[Motion] = (),
                bones: Skeleton | None = None, masses: Lumps | None = None,
                wrinkled: Skeleton | None = None) -> Aeroelastic:  # fmt: skip
    """A model's aeroelastics; every check unknown with the reason where its frame does not stand.

    motions: the controls through their travel (controls/chain.py), for the ailerons' circuit. bones, masses: the frame
    and its lumps where they are at hand. wrinkled: the same frame with its metal skins wrinkled, where they do; each
    check is then the worse of both, because a softer frame may flutter later or sooner.
    """
    try:
        found = worked(model, assembly, flown, envelope, motions, bones, masses)
        soft = worked(model, assembly, flown, envelope, motions, wrinkled, masses) if wrinkled else None
    except (DesignProblem, ValueError) as fault:
        why = str(fault)
        return Aeroelastic((), tuple(_unknown(word, envelope.speed("D"), why) for word in TITLES), None, why)
    checks = tuple(_checks(found))
    if soft is not None:
        checks = tuple(worse(a, b) for a, b in zip(checks, _checks(soft), strict=True))
    return Aeroelastic(tuple(_results(found)), checks, found)


def worse(flat: Check, wrinkled: Check) -> Check:
    """Of a check with the skins flat and with them wrinkled the one that is nearer to failing; it says which it is."""
    soft = _order(wrinkled) < _order(flat)
    told, other = (wrinkled, flat) if soft else (flat, wrinkled)
    which, rest = ("wrinkled", "flat") if soft else ("flat", "wrinkled")
    step = Step(f"metal skins {rest}", "the same", (), other.value, "m/s", STRIP)
    return replace(told, caveat=both(f"metal skins {which}; {rest} it is {other.value:.1f} m/s", told.caveat),
                   steps=(step, *told.steps))  # fmt: skip


def _order(c: Check) -> tuple[int, float]:
    return {"fail": 0, "unknown": 1, "pass": 2}[c.verdict], c.value if math.isfinite(c.value) else 0.0


def _unknown(word: str, dive: float, why: str) -> Check:
    return check(f"aeroelastic.{word}", TITLES[word], UNKNOWN, TIMES * dive, ">=", "m/s", rule=RULE, outside_range=why)


def _speed(pressure: float) -> float:
    return math.sqrt(2 * pressure / SEA_LEVEL)


# ------------------------------------------------------------------ results


def _results(w: Worked) -> Iterator[Result]:
    yield from _modes(w)
    yield from _hinged(w)
    yield from _effectiveness(w)
    yield _damped(w)
    yield from played(w)
    yield from screened(w)


def _modes(w: Worked) -> Iterator[Result]:
    """The first elastic modes; beside each wing's first bending the estimate by hand."""
    bent = {f"{spoken(x.name)} up and down": x for x in reversed(w.model.wings)}
    for i, name in enumerate(w.names[RIGID : RIGID + SHOWN]):
        omega = float(w.moving.omega[RIGID + i])
        given = (("w", omega, "rad/s"), ("share of its energy", float(name.share), "1"))
        steps: tuple[Step, ...] = (
            Step("natural mode", "w^2 M v = K v", given,
                 omega / (2 * math.pi), "Hz", FRAME),)  # fmt: skip
        wing = bent.pop(f"{name.part} {name.way}", None)
        if wing is not None:
            steps += first_bending(w.model, wing, w.moving.skeleton, w.lumps, omega)
        yield Result(f"aeroelastic.mode.{i + 1}", f"natural frequency {i + 1}: {name}", omega / (2 * math.pi), "Hz",
                     source=FRAME, steps=steps, caveat=_mode_caveat(w) if i == 0 else "")  # fmt: skip


def _mode_caveat(w: Worked) -> str:
    slack = f"slack in level flight and left out: {', '.join(w.slack)}" if w.slack else ""
    return "; ".join(x for x in ("controls held; at the greatest mass; still air, which adds no mass here", slack) if x)


def _hinged(w: Worked) -> Iterator[Result]:
    """How fast each aileron turns against its circuit with the wing still, stick held."""
    for i, a in enumerate(w.moving.hinged):
        if a.side != "R":
            continue
        at = len(w.moving.omega) + i
        k, inertia = float(w.circuit[i, i]), float(w.moving.mass[at, at])
        yield Result(f"aeroelastic.aileron.{a.wing}.frequency", f"{spoken(a.wing)}: aileron on its circuit, stick held",
                     math.sqrt(k / inertia) / (2 * math.pi), "Hz", source="statics; controls/motion.py",
                     steps=(Step("aileron on its circuit", "sqrt(K/I)/(2 pi)",
                                 (("K", k, "N m/rad"), ("I", inertia, "kg m2")),
                                 math.sqrt(k / inertia) / (2 * math.pi), "Hz", "statics"),),
                     caveat="brackets, horns and pulleys stiff; no mass balance but what is drawn")  # fmt: skip


def _effectiveness(w: Worked) -> Iterator[Result]:
    why = _no_ailerons(w)
    for key in ("A", "C", "D"):
        speed = w.envelope.speed(key)
        left = math.nan if why else float(w.standing.kept(w.asked, w.roll, np.array([SEA_LEVEL * speed**2 / 2]))[0])
        given = (("V", speed, "m/s"),)
        step = Step(f"at V{key}", "r T (I - 2 q G T)^-1 e/(r T e)", given, left, "1", AIR)
        yield Result(f"aeroelastic.aileron.kept.V{key}", f"part of the ailerons' rolling moment that is left at V{key}",
                     left, "1", source=AIR, steps=(step,), caveat=why or "the stick held where the pilot has it",
                     outside_range=why)  # fmt: skip


def _no_ailerons(w: Worked) -> str:
    if not w.drawn:
        return "no aileron is drawn"
    return "" if np.isfinite(w.circuit).all() else "the stretch of the ailerons' circuit is not known"


def _damped(w: Worked) -> Result:
    s = w.damped
    title = f"flutter speed with structural damping of {DAMPING:g}, for comparison"
    value = s.flutter if math.isfinite(s.flutter) else FURTHEST * w.dive
    said = "" if math.isfinite(s.flutter) else f"none up to {FURTHEST:g} VD, which is what stands here; "
    return Result("aeroelastic.flutter.damped", title, value, "m/s", source=STRIP,
                  caveat=f"{said}damping common practice, no source: nobody has measured this frame's",
                  steps=_flutter_steps(w, s))  # fmt: skip


# ------------------------------------------------------------------ checks


def _checks(w: Worked) -> Iterator[Check]:
    yield _divergence(w)
    yield _reversal(w)
    yield _flutter(w)


def _held(word: str, w: Worked, speed: float, steps: tuple[Step, ...], caveat: str, method: str, lost: str = ""
          ) -> Check:  # fmt: skip
    """What is not in it, or lost on the way, turns a pass into an unknown; a failure stays one."""
    limit, missing = TIMES * w.dive, both(*_missing(w), lost)
    said = both(
        caveat,
        missing if speed < limit else "",
        OF_AIR,
        OF_FRAME,
        w.envelope.code.recalled(*w.envelope.speeds["D"].given),
    )
    last = Step("asked for", "1.2 VD", (("VD", w.dive, "m/s"),), limit, "m/s", RULE)
    return check(f"aeroelastic.{word}", TITLES[word], Band.exact(speed), limit, ">=", "m/s", rule=RULE, method=method,
                 caveat=said, steps=(*steps, last), parents=("loads.speed.dive",),
                 outside_range=missing if speed >= limit else "")  # fmt: skip


def _missing(w: Worked) -> Iterator[str]:
    """What can move or give in the air and does not here."""
    yield from w.moving.skeleton.unknowns
    yield from w.notes
    for wing in w.model.wings:
        if wing.aileron is not None and wing.name not in {a.wing for a in w.moving.hinged}:
            drawn = wing.name in {a.wing for a in w.drawn}
            why = "the stretch of its circuit is not known" if drawn else "it is not drawn"
            yield f"aileron of the {spoken(wing.name)} does not turn here: {why}"


def both(*said: str) -> str:
    """Sentences together, empty ones left out."""
    return "; ".join(x for x in said if x)


def _divergence(w: Worked) -> Check:
    q = w.standing.divergence
    most = (FURTHEST * 2 * w.dive) ** 2 * SEA_LEVEL / 2
    seen = min(q, most)
    where = _moves_most(w) if math.isfinite(q) else ""
    step = Step("divergence", "1/(2 lam), lam greatest real value of G T; V = sqrt(2 q/rho)",
                (("q", seen, "Pa"), ("rho", SEA_LEVEL, "kg/m3")), _speed(seen), "m/s", AIR)  # fmt: skip
    caveat = both("fuselage held at the frame's datum: its own pitch is the flight room's", where,
                  "" if q <= most else f"none up to {2 * FURTHEST:g} VD, which is what stands here")  # fmt: skip
    return _held("divergence", w, _speed(seen), (step,), caveat, f"static, {AIR}, held frame's give")


def _moves_most(w: Worked) -> str:
    s = len(w.standing.strips.chord)
    d = w.standing.diverged.copy()
    d[:s] = 0.0  # heave alone makes no air
    i = int(np.argmax(np.abs(d)))
    name, y = w.standing.strips.surface[i % s], w.standing.strips.middle[i % s, 1]
    return f"{'flap of the ' if i >= 2 * s else ''}{spoken(name)} turns most, {abs(y):.2f} m out"


def _reversal(w: Worked) -> Check:
    why = _no_ailerons(w)
    if why:
        return _unknown("reversal", w.dive, why)
    most = (FURTHEST * 2 * w.dive) ** 2 * SEA_LEVEL / 2
    q = w.standing.reversal(w.asked, w.roll, most)
    seen = min(q, most)
    step = Step("reversal", "r T (I - 2 q G T)^-1 e = 0; V = sqrt(2 q/rho)",
                (("q", seen, "Pa"), ("rho", SEA_LEVEL, "kg/m3")), _speed(seen), "m/s", AIR)  # fmt: skip
    said = "" if math.isfinite(q) else f"none up to {2 * FURTHEST:g} VD, which is what stands here"
    return _held("reversal", w, _speed(seen), (step,), both(said, "stick held"), f"static, {AIR}, held frame's give")


def _flutter(w: Worked) -> Check:
    """The lower of both loadings; where neither flutters, how far was looked."""
    first = min(w.swept.flutter, w.light.flutter)
    none = not math.isfinite(first)
    value = FURTHEST * w.dive if none else first
    said = f"none up to {FURTHEST:g} VD, which is what stands here" if none else _grows(w)
    loads = f"at the greatest mass and with the least aboard; {ELASTIC} elastic modes, no structural damping; slower " \
            "than a third of the first elastic mode is flight, not looked at"  # fmt: skip
    light = Step(
        "with the least aboard", "Re p = 0", (("w", w.light.frequency, "rad/s"),), w.light.flutter, "m/s", STRIP
    )
    looked = Step(
        "nothing grows up to", "Re p < 0 at every speed looked at", (("VD", w.dive, "m/s"),), value, "m/s", STRIP
    )
    steps = (*_flutter_steps(w, w.swept), *((light,) if math.isfinite(w.light.flutter) else ()))
    ordered = (looked,) if none else tuple(sorted(steps, key=lambda x: x.value))
    return _held("flutter", w, value, ordered, both(said, loads), STRIP, _not_followed(w, value))


def _not_followed(w: Worked, value: float) -> str:
    """Why what does not grow may: a movement that is lost below the speed that is asked for; empty where none is."""
    lost = min(w.swept.lost, w.light.lost)
    if lost > min(TIMES * w.dive, value):
        return ""
    return f"a movement is not followed past {lost:.1f} m/s, and has not stopped: what it does further on is not known"


def _grows(w: Worked) -> str:
    """What grows first, and with what aboard."""
    s = w.swept
    if w.light.flutter < s.flutter:
        return f"with the least aboard, at {w.light.frequency / (2 * math.pi):.1f} Hz"
    name = branch_name(w, s.branches[s.which])
    return f"at the greatest mass, {name} at {s.frequency / (2 * math.pi):.1f} Hz"


def _flutter_steps(w: Worked, s: Swept) -> tuple[Step, ...]:
    if s.which < 0:
        return ()
    b = s.branches[s.which]
    return (Step(f"grows: {branch_name(w, b)}", "Re p = 0", (("w", s.frequency, "rad/s"), ("V", s.flutter, "m/s")),
                 s.flutter, "m/s", STRIP),)  # fmt: skip


def branch_name(w: Worked, b: Branch) -> str:
    """What a branch is made of where it is looked at first: the two modes with most of it, unless one has all."""
    shape = np.abs(b.shape[0]) * np.sqrt(np.abs(np.diag(w.moving.mass)))
    order = np.argsort(-shape)[:2]
    words = [_coordinate(w, int(i)) for i in order if shape[i] > 0.5 * shape[order[0]]]
    return " with ".join(dict.fromkeys(words))


def _coordinate(w: Worked, i: int) -> str:
    if i < len(w.names):
        return str(w.names[i])
    a = w.moving.hinged[i - len(w.names)]
    return f"aileron of the {spoken(a.wing)}, {'right' if a.side == 'R' else 'left'}"
