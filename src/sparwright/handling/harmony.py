"""Harmony: what aileron, elevator and rudder ask for like responses, and what moves the proportion.

No published requirement was found. The proportion 1 to 2 to 4 is told as common practice only. What counts as like
responses is our own choice (data/forces.toml): a helix angle, 1 g more in a pull-up, a steady sideslip, all at cruise
and at the heaviest loading.

What a tenth of change does is worked out by changing the number and working the force out again:

    horn's arm       the surface moves a tenth less for the same way of the hand
    chord            the part behind the hinge a tenth longer in the same whole chord: cf^2, Ca, Ce, tau change, and
                     with tau the angle that is wanted
    aileron's span   a tenth longer, from its outer end inwards; l_d as Int c y dy
    differential     a tenth less travel down for the same stick
    trim's spring    a tenth stronger;   elevator's weight   a tenth less moment about its hinge

Source: worked out here; tests do the same on changed aeroplanes (chord, span, horn), which gives the band.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Result, Step
from sparwright.base.record import locked, number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.forces import FORCES
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.slow import told
from sparwright.handling.flap import with_chord
from sparwright.handling.gear import Gear, geared
from sparwright.handling.made import CASE, Made
from sparwright.handling.pitch import Flying, best_lever, drawn, force, level, more, pulled
from sparwright.handling.roll import Aileron, Stream, sides, way_for
from sparwright.handling.spread import Sure
from sparwright.handling.yaw import PLATES, Rudder, pedal, slip_rudder

TENTH = 1.1
RELAID = 0.04  # by which a change worked out so is off one with the lattice laid again, part of the force (tests)
MECHANISM = 0.015  # the same where only the run between hand and surface changes
METHOD = "forces for like responses; common practice, no published requirement was found"


@dataclass(frozen=True)
class Asked:
    """Likely forces for like responses, N."""

    aileron: float = number("N", "stick to the side for the helix angle", math.nan)
    elevator: float = number("N", "pull for 1 g more", math.nan)
    rudder: float = number("N", "foot for the sideslip", math.nan)


def asked(m: Made) -> Asked:
    """The three forces of an aeroplane."""
    return Asked(roll_force(m), pull_force(m), slip(m))


def roll_force(m: Made) -> float:
    """N, stick to the side for the helix angle at cruise; NaN where it is out of reach."""
    s = m.rolled.get("cruise")
    return _roll(s, m.ailerons, m.span) if s else math.nan


def _roll(s: Stream, ailerons: tuple[Aileron, ...], span: float) -> float:
    way = way_for(s, ailerons, FORCES["like_roll"].value, span)
    if not math.isfinite(way):
        return math.nan
    sure = Sure(ailerons[0].flap.real)
    return sum(x.force(s.pressure, sure) for x in sides(s, ailerons, way, EFFECTIVE.value, True))


def states(m: Made) -> tuple[Flying, Flying, float]:
    """(level, pulled up, the trim's lever) at cruise, the heaviest loading."""
    case, v = m.case(CASE), m.speeds["cruise"]
    flat = level(case, m.pitch.flap, v, m.density)
    up = pulled(case, m.pitch.flap, v, 1 + FORCES["like_pull"].value, m.density)
    return flat, up, best_lever(m.pitch, flat)


def pull_force(m: Made) -> float:
    """N, pull for 1 g more at cruise."""
    return _pull(m, *states(m)) if m.pitch.gear is not None else math.nan


def _pull(m: Made, flat: Flying, up: Flying, lever: float) -> float:
    sure = Sure(m.pitch.flap.real, weight=m.pitch.weight.value)
    one, two = (force(m.pitch, x, sure) - drawn(m.pitch, x, sure, lever) for x in (flat, up))
    return two - one


def slip(m: Made) -> float:
    """N, foot for the sideslip at cruise."""
    r = m.rudder
    return _slip(r, m.pressure("cruise")) if r is not None and r.gear is not None else math.nan


def _slip(r: Rudder, pressure: float) -> float:
    angle = FORCES["like_slip"].value
    turned = slip_rudder(r, EFFECTIVE.value, PLATES[0]) * angle
    return pedal(r, angle, turned, pressure, Sure(r.real), PLATES[0])


# ------------------------------------------------------------------ a tenth of change


def changes(m: Made) -> dict[str, tuple[str, Callable[[], Asked]]]:
    """By id: what is changed in words, and the forces with it."""
    base = asked(m)
    return {
        "elevator.horn": ("a tenth more arm of the elevator's horn", lambda: replace(base, elevator=_horn_pull(m))),
        "elevator.chord": ("a tenth more chord of the elevator", lambda: replace(base, elevator=_chord_pull(m))),
        "elevator.weight": (
            "a tenth less weight moment of the elevator",
            lambda: replace(base, elevator=_light_pull(m)),
        ),
        "elevator.spring": ("a trim spring a tenth stronger", lambda: replace(base, elevator=_spring_pull(m))),
        "aileron.horn": ("a tenth more arm of the ailerons' horns", lambda: replace(base, aileron=_horn_roll(m))),
        "aileron.chord": ("a tenth more chord of the ailerons", lambda: replace(base, aileron=_chord_roll(m))),
        "aileron.span": ("a tenth more span of the ailerons, inwards", lambda: replace(base, aileron=_long_roll(m))),
        "aileron.differential": (
            "a tenth less travel down of the ailerons",
            lambda: replace(base, aileron=_uneven_roll(m)),
        ),
        "rudder.horn": ("a tenth more arm of the rudder's horn", lambda: replace(base, rudder=_horn_slip(m))),
        "rudder.chord": ("a tenth more chord of the rudder", lambda: replace(base, rudder=_chord_slip(m))),
    }


def _horn_pull(m: Made) -> float:
    assert m.pitch.gear is not None
    return pull_force(replace(m, pitch=replace(m.pitch, gear=geared(m.pitch.gear, TENTH))))


def _chord_pull(m: Made) -> float:
    """The tail's lift and so the stream stay; the elevator's angle goes with tau."""
    flap, (flat, up, lever) = m.pitch.flap, states(m)
    longer = with_chord(flap, TENTH)
    squares = TENTH**2
    old, new = flap.slopes, longer.slopes

    def changed(s: Flying) -> Flying:
        return replace(
            s,
            elevator=s.elevator * old.flap_part / new.flap_part,
            angle=s.angle * squares * new.angle / old.angle,
            flap=s.flap * squares * new.flap / old.flap,
        )

    return _pull(replace(m, pitch=replace(m.pitch, flap=longer)), changed(flat), changed(up), lever)


def _light_pull(m: Made) -> float:
    return pull_force(replace(m, pitch=replace(m.pitch, weight=Band.exact(m.pitch.weight.value * (2 - TENTH)))))


def _spring_pull(m: Made) -> float:
    spring = m.pitch.spring
    if spring is None:
        return math.nan
    stronger = replace(m.pitch, spring=lambda a, b: TENTH * spring(a, b))
    flat, up, lever = states(m)
    return _pull(replace(m, pitch=stronger), flat, up, lever)


def _aileron(m: Made, of: Callable[[Aileron], Aileron]) -> float:
    s = m.rolled.get("cruise")
    return _roll(s, tuple(of(a) for a in m.ailerons), m.span) if s else math.nan


def _horn_roll(m: Made) -> float:
    return _aileron(m, lambda a: replace(a, gear=geared(a.gear, TENTH)))


def _chord_roll(m: Made) -> float:
    """As the elevator's: the same load, the angle by tau; what the stream does to the hinge goes with cf^2 and Ca."""
    s = m.rolled.get("cruise")
    way = way_for(s, m.ailerons, FORCES["like_roll"].value, m.span) if s else math.nan
    if s is None or not math.isfinite(way):
        return math.nan
    total = 0.0
    for a, x in zip(m.ailerons, sides(s, m.ailerons, way, EFFECTIVE.value, True), strict=True):
        old, new = a.flap.slopes, with_chord(a.flap, TENTH).slopes
        turn, stream, own = old.flap_part / new.flap_part, new.angle / old.angle, new.flap / old.flap
        ka, ke = a.flap.real.angle * stream, a.flap.real.flap * own * turn
        right = ka * x.right.angle - ke * x.right.flap * x.up
        left = ka * x.left.angle + ke * x.left.flap * x.down
        u, v = x.up * turn, x.down * turn
        total += right * float(a.gear.at(u)) - left * float(a.gear.at(-v))
    return s.pressure * TENTH**2 * total


def _long_roll(m: Made) -> float:
    """Moment about the hinge and rolling moment both grow; the angle for the helix angle is less."""
    now = roll_force(m)
    more_area, power = 0.0, 0.0
    for a in m.ailerons:
        s = a.flap.company.mesh.surfaces[a.flap.company.place_of(a.flap.name)]
        edges = s.edge[1]
        inside = a.flap.hinged > 0
        start, end = float(edges[:-1][inside].min()), float(edges[1:][inside].max())
        y = np.linspace(start - (TENTH - 1) * (end - start), end, 400)
        c, old = np.interp(y, edges, s.edge_chord), y >= start
        more_area += float(np.trapezoid(c**2, y)) / float(np.trapezoid(c[old] ** 2, y[old])) / len(m.ailerons)
        power += float(np.trapezoid(c * y, y)) / float(np.trapezoid(c[old] * y[old], y[old])) / len(m.ailerons)
    return now * more_area / power if m.ailerons else math.nan


def _uneven_roll(m: Made) -> float:
    return _aileron(m, lambda a: replace(a, gear=uneven(a.gear, 2 - TENTH)))


def uneven(g: Gear, factor: float) -> Gear:
    """The same with the way down of a surface less by a factor for the same way of the hand."""
    down = g.surface < 0
    return replace(
        g,
        surface=locked(np.where(down, g.surface * factor, g.surface)),
        per=locked(np.where(down, g.per * factor, g.per)),
    )


def _horn_slip(m: Made) -> float:
    r = m.rudder
    if r is None or r.gear is None:
        return math.nan
    return _slip(replace(r, gear=geared(r.gear, TENTH)), m.pressure("cruise"))


def _chord_slip(m: Made) -> float:
    r = m.rudder
    if r is None or r.gear is None:
        return math.nan
    from sparwright.air.hinge import slopes

    longer = slopes(1 - (1 - m.flown.model.fin.hinge) * TENTH)
    return _slip(replace(r, slopes=longer, weight=r.weight * TENTH**2), m.pressure("cruise"))


# ------------------------------------------------------------------ told


def harmony_results(m: Made, bands: dict[str, Band]) -> Iterator[Result]:
    """`flight.harmony.*`. bands: of the three forces, by aileron, elevator, rudder."""
    base = asked(m)
    for key in ("elevator", "rudder"):
        yield _ratio(m, base, key, bands)
    for id, (words, of) in changes(m).items():
        yield _change(m, base, id, words, of)


def _over(a: Asked, key: str) -> float:
    return getattr(a, key) / a.aileron if a.aileron else math.nan


def _ratio(m: Made, base: Asked, key: str, bands: dict[str, Band]) -> Result:
    value, rule = _over(base, key), FORCES[f"{key}_over_aileron"]
    one, two = bands[key], bands["aileron"]
    off = [
        math.hypot(getattr(one, x) / one.value - 1, getattr(two, y) / two.value - 1)
        for x, y in (("low", "high"), ("high", "low"))
    ]
    band = Band(value, value * (1 - off[0]), value * (1 + off[1])) if math.isfinite(value) else UNKNOWN
    step = Step(
        "proportion", f"{key}/aileron", ((key, getattr(base, key), "N"), ("aileron", base.aileron, "N")), value, "1"
    )
    words = {"elevator": "1 g more in a pull-up", "rudder": "a steady sideslip of 5 deg"}[key]
    note = (
        m.why
        or ("" if math.isfinite(value) else "one of the forces is unknown")
        or (
            f"{rule.value:.0f} in the classical proportion of 1 to 2 to 4: common practice, no published requirement "
            "was found; which responses are alike is our own choice; both forces' bands taken as independent"
        )
    )
    return told(
        band,
        f"flight.harmony.{key}",
        f"{key}'s force for {words} over the aileron's for a helix angle of {FORCES['like_roll'].value}",
        "1",
        METHOD,
        note,
        (step,),
        ("flight.force.aileron.helix", "flight.force.rudder.slip"),
    )


def _change(m: Made, base: Asked, id: str, words: str, of: Callable[[], Asked]) -> Result:
    key = "rudder" if id.startswith("rudder") else "elevator"
    new = of() if not m.why else Asked()
    value = _over(new, key) / _over(base, key) - 1
    moved = id.partition(".")[0]
    step = Step(
        f"{moved}'s force", "worked out again", (("before", getattr(base, moved), "N"),), getattr(new, moved), "N"
    )
    note = (
        m.why
        or ("" if math.isfinite(value) else "one of the forces is unknown")
        or "all else as it is; band: how far off the same was when the aeroplane was laid again"
    )
    off = RELAID if id.endswith(("chord", "span")) else MECHANISM
    return told(
        Band(value, value - off, value + off),
        f"flight.harmony.change.{id}",
        f"what {words} does to the {key}'s force over the aileron's, part of it",
        "1",
        METHOD,
        note,
        (step,),
        (f"flight.harmony.{key}",),
    )


def bands_of(m: Made, by_id: dict[str, Result]) -> dict[str, Band]:
    """Bands of the three forces."""
    flat, up, lever = states(m)
    return {
        "aileron": by_id["flight.force.aileron.helix"].band,
        "elevator": more(m.pitch, up, flat, lever),
        "rudder": by_id["flight.force.rudder.slip"].band,
    }
