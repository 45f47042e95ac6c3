"""Stick to the side and pedals told, hinge moment coefficients, and what friction would hide."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.check import Result, Step, by_hand
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.forces import FORCES
from sparwright.data.hinge import MEASURED
from sparwright.family.model import spoken
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.slow import told
from sparwright.handling.flap import KEY, Real
from sparwright.handling.made import Made
from sparwright.handling.pitch_told import WORDS, Curve
from sparwright.handling.roll import Aileron, full, rate, side_force, way_for
from sparwright.handling.spread import spread
from sparwright.handling.yaw import PLATES, full_rudder, helmbold, slip_force, slip_rudder

SIDE = f"lattice's stream at the ailerons with odd loads, thin-aerofoil hinge moments; {KEY}"
PEDAL = f"fin by hand: helmbold-1942, naca-tr-184, thin-aerofoil hinge moments; {KEY}"
NOT_IN = "friction, stretch, the wing's twist and flow that has parted at the aileron are not in it"
NO_SLIP = (
    "friction, slipstream, sidewash of body and wings are not in it; a rudder past some 15 deg gives less than this"
)
FIRST, LAST = min(r.chord for r in MEASURED), max(r.chord for r in MEASURED)


def coefficient_results(m: Made) -> Iterator[Result]:
    """`flight.stick.hinge.<surface>.<angle, flap>`: section coefficients of what is hinged, per rad."""
    yield from _coefficients(
        "elevator",
        "elevator",
        m.pitch.flap.real,
        m.pitch.flap.slopes.angle,
        m.pitch.flap.slopes.flap,
        1 - m.pitch.flap.hinge,
    )
    for a in m.ailerons:
        s, f = a.flap.slopes, a.flap
        said = f"aileron of the {spoken(f.name)}"
        yield from _coefficients(f"aileron.{f.name}", said, f.real, s.angle, s.flap, 1 - f.hinge)
    r = m.rudder
    if r is not None:
        part = 1 - m.flown.model.fin.hinge
        yield from _coefficients("rudder", "rudder", r.real, r.slopes.angle, r.slopes.flap, part)


def _coefficients(id: str, said: str, real: Real, angle: float, flap: float, part: float) -> Iterator[Result]:
    far = (
        ""
        if FIRST <= part <= LAST
        else (
            f"measured flaps are {FIRST:.1f} to {LAST:.1f} of the chord, this one is {part:.2f}: the nearest is taken; "
        )
    )
    note = f"{far}section, before the finite span; no balance ahead of the hinge, gap sealed to half a per cent"
    for key, word, theory, k in (
        ("angle", "angle of attack", angle, lambda s: s.real.angle),
        ("flap", "its own angle, trailing edge down", flap, lambda s: s.real.flap),
    ):
        band = spread(lambda s, t=theory, k=k: t * k(s), real)  # type: ignore[misc]
        step = Step(
            "a real flap's",
            "k C",
            (("k", band.value / theory, "1"), ("C", theory, "1/rad")),
            band.value,
            "1/rad",
            f"glauert-1926 ch. IX; {KEY}",
        )
        yield told(
            band,
            f"flight.stick.hinge.{id}.{key}",
            f"hinge moment coefficient of the {said} for each radian of {word}, on its chord squared",
            "1/rad",
            f"glauert-1926 ch. IX; {KEY}",
            note,
            (step,),
        )


# ------------------------------------------------------------------ ailerons


def aileron_results(m: Made) -> Iterator[Result]:
    """`flight.force.aileron.*`: full aileron rolling and held, and for a helix angle."""
    why = m.why or ("" if m.ailerons else "no aileron is driven")
    most = full(m.ailerons)
    for key in ("approach", "cruise", "manoeuvre"):
        s = m.rolled.get(key)
        for rolls, id, word in ((True, "full", "in the steady roll"), (False, "held", "wings held level")):
            band = side_force(s, m.ailerons, most, rolls)
            title = f"stick force to the side for full aileron at {WORDS[key]}, {word}"
            yield told(
                band,
                f"flight.force.aileron.{id}.{key}",
                title,
                "N",
                SIDE,
                why or ("" if s else "there is no trimmed state there") or NOT_IN,
                _side_steps(m, key, most, band.value) if not rolls else (),
            )
    yield helix_force(m, why)


def helix_force(m: Made, why: str) -> Result:
    """The stick's force for the helix angle that harmony is told for, at cruise."""
    s, rule = m.rolled.get("cruise"), FORCES["like_roll"]
    way = way_for(s, m.ailerons, rule.value, m.span) if s else math.nan
    band = side_force(s, m.ailerons, way, True)
    given = (
        ("helix", rule.value, "1"),
        ("b", m.span, "m"),
        ("p/V at full", rate(s, m.ailerons, full(m.ailerons), EFFECTIVE.value) if s else math.nan, "rad/m"),
    )
    step = Step("way of the stick", "p/V b/2 = helix", given, way, "m", "flight/roll.py's derivatives")
    short = "" if math.isfinite(way) or not s else "full aileron gives less"
    return told(
        band,
        "flight.force.aileron.helix",
        f"stick force to the side for a helix angle of {rule.value} at {WORDS['cruise']}, in the steady roll",
        "N",
        SIDE,
        why or short or NOT_IN,
        (step,),
    )


def _side_steps(m: Made, key: str, way: float, ours: float) -> tuple[Step, ...]:
    if not m.ailerons or not math.isfinite(ours):
        return ()
    value = sum(by_hand_side(a, way) for a in m.ailerons) * m.pressure(key)
    given = tuple((f"Int cf^2 dy, {a.flap.name}", square(a), "m2 m") for a in m.ailerons)
    return by_hand(
        "q Sum g ke Ce Int cf^2 dy (u + v)",
        (("q", m.pressure(key), "N/m2"), *given),
        value,
        ours,
        "N",
        "glauert-1926 ch. IX; the stream that the ailerons make for themselves left out",
    )


def square(a: Aileron) -> float:
    """Int cf^2 dy of one aileron as a rectangle, m3."""
    wide = float((a.flap.hinged * a.flap.company.mesh.surfaces[a.flap.company.place_of(a.flap.name)].width).sum())
    return a.flap.area**2 / wide if wide else 0.0


def by_hand_side(a: Aileron, way: float) -> float:
    """Force over q of one wing's ailerons held over, by a rectangle and the gearing in neutral."""
    u, v = a.angles(way)
    return -float(a.gear.at(0.0)) * a.flap.real.flap * a.flap.slopes.flap * square(a) * (u + v)


# ------------------------------------------------------------------ pedals


def rudder_results(m: Made) -> Iterator[Result]:
    """`flight.force.rudder.*`: full rudder, and for a sideslip."""
    r = m.rudder
    if r is None or r.gear is None:
        for id, title in (("full.approach", "full rudder"), ("full.manoeuvre", "full rudder"), ("slip", "a sideslip")):
            yield told(UNKNOWN, f"flight.force.rudder.{id}", f"pedal force for {title}", "N", PEDAL, m.why)
        return
    for key in ("approach", "manoeuvre"):
        band = full_rudder(r, m.pressure(key))
        value = -float(r.gear.at(0.0)) * m.pressure(key) * r.weight * r.real.flap * r.slopes.flap * r.stop
        given = (("q", m.pressure(key), "N/m2"), ("Int cf^2 dz", r.weight, "m2 m"), ("d", r.stop, "rad"))
        steps = by_hand("g q Int cf^2 dz ke Ce d", given, value, band.value, "N", "glauert-1926 ch. IX")
        yield told(
            band,
            f"flight.force.rudder.full.{key}",
            f"pedal force for full rudder at {WORDS[key]}, before the nose has moved",
            "N",
            PEDAL,
            NO_SLIP,
            steps,
            ("controls.rudder.gearing",),
        )
    yield slip_result(m)


def slip_result(m: Made) -> Result:
    """The pedal's force for the sideslip that harmony is told for, at cruise."""
    r, slip = m.rudder, FORCES["like_slip"].value
    assert r is not None
    band = slip_force(r, slip, m.pressure("cruise"))
    turned = slip_rudder(r, EFFECTIVE.value, PLATES[0]) * slip
    step = Step(
        "rudder",
        "-b (1 - 2 (k2 - k1) Vol/(Sf lf aF))/(tau f)",
        (
            ("b", slip, "rad"),
            ("2 (k2 - k1) Vol", r.body, "m3/rad"),
            ("Sf lf", r.area * r.arm, "m2 m"),
            ("aF", helmbold(r.aspect * PLATES[0]), "1/rad"),
            ("tau", r.slopes.flap_part, "1"),
        ),
        turned,
        "rad",
        PEDAL,
    )
    title = f"pedal force in a steady sideslip of {math.degrees(slip):.0f} deg at {WORDS['cruise']}"
    return told(
        band,
        "flight.force.rudder.slip",
        title,
        "N",
        PEDAL,
        f"yaw of wings and propeller too; {NO_SLIP}",
        (step,),
        ("controls.rudder.gearing",),
    )


# ------------------------------------------------------------------ friction


def friction_results(m: Made, curves: dict[str, Curve]) -> Iterator[Result]:
    """`flight.force.friction.*`, which is not computed, and the speed that the most allowed of it would hide."""
    for name in ("elevator", "aileron", "rudder"):
        rule = FORCES[f"breakout_{name}"]
        yield told(
            UNKNOWN,
            f"flight.force.friction.{name}",
            f"friction of the {name}'s run, at the hand or foot",
            "N",
            "none",
            f"not computed: pull it with a spring balance when rigged; {rule.title}: "
            f"{rule.value / 4.4482216:.0f} lbf ({rule.source})",
        )
    slope, rule = curves["aftmost"].gradient(m.speeds["cruise"]), FORCES["breakout_elevator"]
    hidden = rule.value / slope if slope > 0 else math.nan
    step = Step(
        "speed", "friction/(-dP/dV)", (("friction", rule.value, "N"), ("-dP/dV", slope, "N s/m")), hidden, "m/s"
    )
    yield told(
        Band(hidden, math.nan, math.nan),
        "flight.stick.hidden",
        "how far off its trimmed speed, either way, the "
        "stick would not bring it back at cruise with that much friction, aftmost balance",
        "m/s",
        str(rule.source),
        m.why or "friction itself is unknown; no band of its own",
        (step,),
        ("flight.force.gradient.aftmost",),
    )
