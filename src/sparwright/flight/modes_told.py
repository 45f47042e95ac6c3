"""Modes and derivatives told: period, damping and level of each mode at each phase; derivatives, with one by hand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step, by_hand
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.flying import Level, rows
from sparwright.flight.lateral import WORDS, Lateral
from sparwright.flight.modes import PHASES, Phase, phases
from sparwright.flight.motion import ACROSS, ALONG, Body, Modes
from sparwright.flight.slow import told

METHOD = "small motions (flight/motion.py; nelson-1998 ch. 4, 5, memory); derivatives by the lattice"
NOTE = "heaviest loading, sea level, stick and pedals held; the engine's spin, propeller and slipstream are not in it"
MODES = {
    "short_period": "short period",
    "phugoid": "phugoid",
    "roll": "roll mode",
    "dutch_roll": "Dutch roll",
    "spiral": "spiral",
}
Given = tuple[tuple[str, float, str], ...]


@dataclass(frozen=True)
class Told:
    """One number of a mode: how it is called, and how to take it from the modes."""

    mode: str
    what: str
    title: str
    unit: str


NUMBERS = (
    Told("short_period", "frequency", "short period, undamped frequency", "rad/s"),
    Told("short_period", "damping", "short period, damping ratio", "1"),
    Told("phugoid", "period", "phugoid, period", "s"),
    Told("phugoid", "damping", "phugoid, damping ratio", "1"),
    Told("roll", "time", "roll mode, time constant", "s"),
    Told("dutch_roll", "period", "Dutch roll, period", "s"),
    Told("dutch_roll", "damping", "Dutch roll, damping ratio", "1"),
    Told("spiral", "rate", "spiral, rate of growth; negative where it dies away", "1/s"),
)


def number_of(m: Modes, mode: str, what: str) -> float:
    """A number of a mode by its name."""
    if mode == "roll":
        return -1 / m.roll if m.roll < 0 else math.nan
    if mode == "spiral":
        return m.spiral if what == "rate" else (math.log(2) / m.spiral if m.spiral > 0 else math.inf)
    pair = getattr(m, mode)
    if what == "damping times frequency":
        return float(pair.damping * pair.frequency)
    return float(getattr(pair, what))


def mode_results(lat: Lateral) -> Iterator[Result]:
    """`flight.mode.<phase>.<mode>.<number>`, `flight.level.<phase>.<mode>` and `flight.derivative.<name>`."""
    found = phases(lat)
    for key in PHASES:
        phase = found.get(key)
        why = lat.reason or ("" if phase else "no climb is known")
        for n in NUMBERS:
            yield _number(n, key, phase, why)
        for mode in MODES:
            yield _level(mode, key, phase, why)
    yield from _derivatives(lat, found.get("approach"))


def _number(n: Told, key: str, phase: Phase | None, why: str) -> Result:
    id = f"flight.mode.{key}.{n.mode}.{n.what}"
    band = phase.band(lambda m: number_of(m, n.mode, n.what)) if phase else UNKNOWN
    steps: tuple[Step, ...] = ()
    if phase and math.isfinite(band.value):
        formula, given, value = _by_hand(n, phase)
        hand = by_hand(formula, given, value, band.value, n.unit, "nelson-1998 ch. 4, 5 (memory)")
        steps = (_solved(n, phase, band.value), *hand)
    where = f"{WORDS[key]}; {NOTE}"
    note = why or (where if math.isfinite(band.value) else f"{_missing(n.mode, phase)}; {where}")
    if n.mode == "dutch_roll" and n.what == "damping":
        note += "; 14 CFR 23.181(b) asks for 0.052, a tenth in seven swings (memory)"
    return told(band, id, f"{n.title}, {key}", n.unit, METHOD, note, steps)


def _solved(n: Told, phase: Phase, value: float) -> Step:
    """What goes into the roots."""
    b, sideways = phase.body, n.mode in ("roll", "dutch_roll", "spiral")
    names = ACROSS if sideways else ALONG
    inertia = (("Ix", b.rolling), ("Iz", b.yawing), ("Ixz", b.product)) if sideways else (("Iy", b.pitching),)
    units = {"TV": "N s/m"}
    given = (
        *((k, v, "kg m2") for k, v in inertia),
        ("m", b.mass, "kg"),
        ("u0", b.speed, "m/s"),
        ("q S", b.force, "N"),
        *((k, phase.coefficients[k].value, units.get(k, "1")) for k in names),
    )
    what = "across" if sideways else "along"
    return Step(n.title, f"roots of the four equations {what}", given, value, n.unit, "flight/motion.py")


def _missing(mode: str, phase: Phase | None) -> str:
    """Why a number of a mode is not there."""
    if phase is None or phase.modes is None:
        return "not worked out"
    body = phase.body
    whole = (body.rolling, body.pitching, body.yawing, *(b.value for b in phase.coefficients.values()))
    if not all(map(math.isfinite, whole)) or min(body.rolling, body.pitching, body.yawing) <= 0:
        return "the inertia or a derivative is not known"
    pair = getattr(phase.modes, mode)
    if isinstance(pair, float) or not math.isfinite(pair.frequency):
        return "its roots are not to be told apart from another mode's, or one falls and one grows"
    return f"it does not swing: frequency {pair.frequency:.2f} rad/s, damping ratio {pair.damping:.2f}"


Hand = tuple[str, Given, float]


def _by_hand(n: Told, p: Phase) -> Hand:
    """A closed form for a number of a mode, from coefficients and inertia alone."""
    c = {k: v.value for k, v in p.coefficients.items()}
    if n.mode == "phugoid":
        return _phugoid(n.what, p.body, c)
    if n.mode == "short_period":
        return _short_period(n.what, p.body, c)
    if n.mode == "dutch_roll":
        return _dutch_roll(n.what, p.body, c)
    if n.mode == "roll":
        arm = p.body.span / (2 * p.body.speed) * p.body.force * p.body.span / p.body.rolling
        return "-Ix/(q S b Clp b/2V)", (("Clp", c["Clp"], "1"), ("Ix", p.body.rolling, "kg m2")), -1 / (c["Clp"] * arm)
    given = tuple((k, c[k], "1") for k in ("Clb", "Cnr", "Cnb", "Clr", "Clp", "Cnp"))
    top, low = c["Clr"] * c["Cnb"] - c["Clb"] * c["Cnr"], c["Clp"] * c["Cnb"] - c["Clb"] * c["Cnp"]
    value = -GRAVITY / p.body.speed * top / low if low else math.nan
    return "g/V (Clr Cnb - Clb Cnr)/(Clb Cnp - Clp Cnb)", given, value


def _phugoid(what: str, b: Body, c: Mapping[str, float]) -> Hand:
    if what == "period":
        return "sqrt(2) pi V/g", (("V", b.speed, "m/s"),), math.sqrt(2) * math.pi * b.speed / GRAVITY
    value = 1.5 * c["CD"] / (math.sqrt(2) * c["CL"])
    return "(3/2) CD/(sqrt(2) CL)", (("CL", c["CL"], "1"), ("CD", c["CD"], "1")), value


def _short_period(what: str, b: Body, c: Mapping[str, float]) -> Hand:
    turn, arm = b.force * b.chord / b.pitching, b.chord / (2 * b.speed)
    rate, lag = c["Cmq"] * arm * turn, c["Cmadot"] * arm * turn
    fall = (c["CLa"] + c["CD"]) * b.force / (b.mass * b.speed)
    w = math.sqrt(max(-rate * fall - c["Cma"] * turn, 0.0))
    given: Given = (("Mq", rate, "1/s"), ("Ma", c["Cma"] * turn, "1/s2"), ("Za/V", fall, "1/s"), ("Mad", lag, "1/s"))
    if what == "frequency":
        return "sqrt(-Mq Za/V - Ma)", given, w
    return "(Za/V - Mq - Mad)/(2 w)", (*given, ("w", w, "rad/s")), (fall - rate - lag) / (2 * w) if w else math.nan


def _dutch_roll(what: str, b: Body, c: Mapping[str, float]) -> Hand:
    turn, arm = b.force * b.span / b.yawing, b.span / (2 * b.speed)
    stiff, damps, side = c["Cnb"] * turn, c["Cnr"] * arm * turn, b.force * c["CYb"] / (b.mass * b.speed)
    w = math.sqrt(max(stiff + side * damps, 0.0))
    given: Given = (("Nb", stiff, "1/s2"), ("Nr", damps, "1/s"), ("Yb/V", side, "1/s"))
    z = -(damps + side) / (2 * w) if w else math.nan
    if what == "damping":
        return "-(Nr + Yb/V)/(2 w), w2 = Nb + Nr Yb/V", given, z
    period = 2 * math.pi / (w * math.sqrt(1 - z * z)) if w and z < 1 else math.nan
    return "2 pi/sqrt(w2 (1 - z2)), w2 = Nb + Nr Yb/V", given, period


def _level(mode: str, key: str, phase: Phase | None, why: str) -> Result:
    """The level of a mode: the worst of all that is asked of it, at the likely value; its band from the band's ends."""
    category, id = PHASES[key], f"flight.level.{key}.{mode}"
    title = f"level of the {MODES[mode]}, {key}"
    source = "mccormick-1995 tables 10.1 to 10.3: MIL-F-8785B of 1969, class I"
    asked = rows(mode, category)
    recalled = any(r.source.mark == "memory" for r in asked)
    note = (
        f"category {category}; 1 is best, 4 meets none; "
        + ("limits from memory: told, no check; " if recalled else "")
        + f"{WORDS[key]}; {NOTE}"
    )
    if phase is None or phase.modes is None:
        return told(UNKNOWN, id, title, "1", source, why)
    steps, met = [], []
    for r in asked:
        band = _asked(r, phase)
        ends = [r.met(x) if not math.isnan(x) else math.nan for x in (band.value, band.low, band.high)]
        met.append(ends)
        limits = tuple((f"level {i + 1}", x, r.unit) for i, x in enumerate(r.levels) if not math.isnan(x))
        steps.append(Step(f"{r.of}, {r.sense}", "", limits, band.value, r.unit, str(r.source)))
    if any(math.isnan(m[0]) for m in met):
        return told(UNKNOWN, id, title, "1", source, f"{_missing(mode, phase)}; {note}",
                    tuple(steps))  # fmt: skip
    likely = max(m[0] for m in met)
    ends = [x for m in met for x in m]
    high = max(ends) if not any(map(math.isnan, ends)) else math.nan
    low = max(min(m) for m in met) if not math.isnan(high) else math.nan
    return told(Band(likely, low, high), id, title, "1", source, note, tuple(steps))


def _asked(r: Level, phase: Phase) -> Band:
    if r.mode == "spiral":  # through its rate, which goes through nought where the time to double is endless
        rate = phase.band(lambda m: m.spiral)
        return Band(*(math.log(2) / x if x > 0 else (math.inf if not math.isnan(x) else math.nan)
                      for x in (rate.value, rate.high, rate.low)))  # fmt: skip
    return phase.band(lambda m: number_of(m, r.mode, r.of))


TITLES = {
    "CYb": "side force by sideslip", "Clb": "dihedral effect: rolling moment by sideslip",
    "Cnb": "weathercock stability: yawing moment by sideslip", "CYp": "side force by p b/2V",
    "Clp": "rolling moment by p b/2V", "Cnp": "yawing moment by p b/2V", "CYr": "side force by r b/2V",
    "Clr": "rolling moment by r b/2V", "Cnr": "yawing moment by r b/2V", "CYR": "side force by rudder",
    "ClR": "rolling moment by rudder", "CnR": "yawing moment by rudder", "CLa": "lift by angle of attack",
    "Cma": "pitching moment by angle of attack", "CLq": "lift by q c/2V", "Cmq": "pitching moment by q c/2V",
    "Cmadot": "pitching moment by adot c/2V", "CDa": "drag by angle of attack", "TV": "thrust by speed",
}  # fmt: skip


def _derivatives(lat: Lateral, phase: Phase | None) -> Iterator[Result]:
    hands = _hands(lat, phase) if phase else {}
    sides = lat.sides("approach") if phase else None
    for name, title in TITLES.items():
        band, steps = UNKNOWN, []
        unit = "N s/m" if name == "TV" else "1" if name[2:] in ("p", "r", "q", "adot") else "1/rad"
        if phase and sides:
            band = sides.band(name) if name in sides.pieces else phase.coefficients[name]
            if name in sides.pieces:
                parts = tuple((p.part, p.value, unit) for p in sides.pieces[name])
                steps.append(Step(title, "sum of the parts", parts, band.value, unit, "flight/sides.py"))
            if name in hands:
                formula, given, value, source = hands[name]
                steps += by_hand(formula, given, value, band.value, unit, source)
        note = lat.reason or f"{WORDS['approach']}, stability axes, about the centre of gravity; {NOTE}"
        yield told(band, f"flight.derivative.{name}", f"{name}, {title}", unit, METHOD, note, tuple(steps))


def _hands(lat: Lateral, phase: Phase) -> Mapping[str, tuple[str, Given, float, str]]:
    from sparwright.flight.hand import across_by_hand, along_by_hand

    return {**across_by_hand(lat, phase), **along_by_hand(lat, phase)}
