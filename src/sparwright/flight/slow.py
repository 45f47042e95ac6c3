"""Stall, elevator and balance told as results with their working."""

from __future__ import annotations

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.estimates import neutral_steps, stall_steps
from sparwright.flight.stall import Stall
from sparwright.flight.work import Case, Flown

CALIBRATED = "calibrated airspeed at sea level"
NOT_INDICATED = "indicated airspeed is unknown until the pitot system is flown or limits.position_error is stated"
FLAP = (
    "trailing edge down positive; a real flap is taken to give 0.75 to 0.90 of the lattice's effect; no ground effect"
)
TRACTOR = (
    "fraction of the cell's mean chord; what a turning tractor propeller takes off is in the lower end of the band"
)
AFTER = "how the stall goes on from there is not worked out"
TITLES = {
    "heaviest": "heaviest loading",
    "lightest": "lightest loading",
    "foremost": "foremost balance",
    "aftmost": "aftmost balance",
    "max_mass": "greatest take-off mass at the forward limit",
}


def told(
    band: Band,
    id: str,
    title: str,
    unit: str,
    source: str,
    caveat: str,
    steps: tuple[Step, ...] = (),
    parents: tuple[str, ...] = (),
) -> Result:
    """A band told as a Result."""
    return Result(id, title, band.value, unit, band.low, band.high, source, caveat, steps, parents)


def stall_result(flown: Flown, name: str, case: Case) -> Result:
    """Power-off stalling speed of a case."""
    s, weight = case.stall, case.loading.mass * GRAVITY
    title = f"stalling speed, power off, {TITLES[name]}"
    source = "section flow (drela-giles-1987) strip by strip; naca-tr-572 (the first strip)"
    if not s.speed.known:
        return told(UNKNOWN, f"flight.stall.{name}", title, "m/s", source, s.reason)
    hand = stall_steps(weight, flown.air.density, flown.plane.area, s.section_lift, s.speed.value)
    steps = (*_worked(flown, case), *_ends(s), *hand)
    where = f"begins on {s.surface} at buttline {s.buttline:.2f} m"
    ended = "the elevator runs out before the wings stall" if s.ended_by == "elevator" else where
    indicated = "" if flown.model.limits.position_error else NOT_INDICATED
    note = "; ".join(x for x in (ended, s.note, AFTER, CALIBRATED, indicated) if x)
    return told(s.speed, f"flight.stall.{name}", title, "m/s", source, note, steps, (f"mass.case.{name}",))


def _worked(flown: Flown, case: Case) -> tuple[Step, ...]:
    """From the section's lift to the aeroplane's, and the speed."""
    s, mass, rho, S = case.stall, case.loading.mass, flown.air.density, flown.plane.area
    return (
        Step(
            f"greatest lift of the section, {s.surface} at buttline {s.buttline:.3f} m",
            "cl max (section, Re)",
            (("Re", s.reynolds, "1"), ("c", s.chord, "m")),
            s.section_lift,
            "1",
            flown.plane.strips[s.surface].source,
        ),
        Step(
            "lift of the trimmed aeroplane when the first strip passes it",
            "CL where the strip works at its section's angle of greatest lift",
            (("cl max", s.section_lift, "1"),),
            s.first_lift,
            "1",
            "naca-tr-572",
        ),
        Step(
            "greatest lift of the trimmed aeroplane, were the elevator strong enough",
            "greatest CL(alpha), CM(alpha, e) = 0, every strip at its section's lift",
            (("alpha", s.alpha, "rad"),),
            s.section_end,
            "1",
            "worked out by the program: air/strips.py",
        ),
        Step(
            "stalling speed",
            "V = sqrt(2 m g/(rho S CL))",
            (
                ("m", mass, "kg"),
                ("g", GRAVITY, "m/s2"),
                ("rho", rho, "kg/m3"),
                ("S", S, "m2"),
                ("CL", s.lift.value, "1"),
            ),
            s.speed.value,
            "m/s",
            "definition of the lift coefficient",
        ),
    )


def _ends(s: Stall) -> tuple[Step, ...]:
    """How the ends of the lift, and so of the speed, come about, where the sections end it."""
    if s.ended_by != "section" or s.least_by != "section":
        return ()
    source = "air/behaviour.py; method: measured sections, docs/accuracy.md; building: common practice, no source"
    formula = "CL low/likely; low/likely = 1 - sqrt(method^2 + surface^2 + building^2) of the worst strip's section"
    given = (("CL", s.lift.value, "1"), ("low/likely", s.lift.low / s.lift.value, "1"))
    return (Step("least of it, for the high end of the speed", formula, given, s.lift.low, "1", source),)


def elevator_result(name: str, case: Case) -> Result:
    """Elevator wanted at the stall."""
    s = case.stall
    step = Step(
        "elevator at the wings' stall",
        "e = e_lattice/f, e_lattice from CM = 0",
        (
            ("CL", s.section_end, "1"),
            ("alpha", s.alpha, "rad"),
            ("e_lattice", s.elevator.value * EFFECTIVE.value, "rad"),
            ("f", EFFECTIVE.value, "1"),
        ),
        s.elevator.value,
        "rad",
        "anderson-flight ch. 7; f common practice, no source",
    )
    return told(
        s.elevator,
        f"flight.elevator.stall.{name}",
        f"elevator wanted to stall, {TITLES[name]}",
        "rad",
        "anderson-flight ch. 7, by the lattice",
        s.reason or "; ".join(x for x in (FLAP, s.note) if x),
        (step,),
        (f"flight.stall.{name}",),
    )


def neutral_result(flown: Flown) -> Result:
    """Stick-fixed neutral point."""
    return told(
        flown.neutral_point,
        "flight.neutral_point",
        "neutral point, stick fixed, power off",
        "1",
        "anderson-flight ch. 7, by the lattice; fuselage by its own method",
        TRACTOR,
        neutral_steps(flown.plane, flown.tail_volume, flown.neutral_point.value),
    )


def margin_result(flown: Flown, name: str, case: Case) -> Result:
    """Static margin of a case, with the balance's own band."""
    hn, h = flown.neutral_point, case.loading
    band = Band(hn.value - h.fraction, hn.low - h.fraction_high, hn.high - h.fraction_low)
    step = Step(
        "static margin",
        "hn - h",
        (("hn", hn.value, "1"), ("h", h.fraction, "1")),
        band.value,
        "1",
        "anderson-flight ch. 7",
    )
    return told(
        band,
        f"flight.static_margin.{name}",
        f"static margin, stick fixed, {TITLES[name]}",
        "1",
        "anderson-flight ch. 7",
        "",
        (step,),
        ("flight.neutral_point", f"mass.case.{name}"),
    )
