"""Symmetrical cases: pulled up, pushed over, gusts from below and above, at the corners of the envelope.

Letters as in the code's diagram: A pulled to n1 at the stall, C the same at VC, D at VD, G pushed to n2 at the stall,
F the same at VC, E nought at VD. The tail carries what balances (421). Each at every loading: a gust throws the
lightest about most, the balance decides what the tail carries.
"""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.base.check import Step
from sparwright.loads.case import Kind, LoadCase
from sparwright.loads.code import both
from sparwright.loads.diagram import Bound, Envelope
from sparwright.loads.gust import Gust, gust_steps
from sparwright.loads.laden import case_of

TITLES = {
    "A": "pulled up to the limit at the stall",
    "C": "pulled up to the limit at VC",
    "D": "pulled up to the limit at VD",
    "E": "no load at VD",
    "F": "pushed over to the limit at VC",
    "G": "pushed over to the limit at the stall",
}
FLIES = "flies past the greatest lift that is known of it: CL {lift:.2f} over {most:.2f}"


def symmetrical_cases(e: Envelope) -> Iterator[LoadCase]:
    """Corners of manoeuvre and gust for every loading; none where there is no envelope."""
    for bound in e.bounds.values():
        yield from _manoeuvres(e, bound)
        yield from _gusts(e, bound)


def flown_case(
    e: Envelope,
    bound: Bound,
    key: str,
    title: str,
    kind: Kind,
    speed: float,
    factor: float,
    *,
    keys: tuple[str, ...],
    steps: tuple[Step, ...] = (),
    caveat: str = "",
    deflection: dict[str, float] | None = None,
) -> LoadCase:
    """A case in the air of one loading; keys: rows of the code it stands on."""
    x = bound.laden
    lift = x.lift(factor, speed, e.cell.area)
    given = (("n", factor, "1"), ("m", x.loading.mass, "kg"), ("V", speed, "m/s"), ("S", e.cell.area, "m2"))
    last = Step("lift coefficient", "CL = n m g/(rho0 V^2 S/2)", given, lift, "1", "definition")
    return case_of(
        x,
        key,
        title,
        kind,
        e.code.cite(*keys),
        factor,
        steps=(*steps, last),
        caveat=both(caveat, e.code.recalled(*keys), e.caveat),
        speed=speed,
        lift=lift,
        deflection=deflection,
    )


def _manoeuvres(e: Envelope, b: Bound) -> Iterator[LoadCase]:
    up, down = ("positive", "positive_base"), ("negative", "negative_part")
    c, d = e.speeds["C"], e.speeds["D"]
    at_stall = e.code.step(
        "speed", "VS sqrt(n)", (("VS", b.laden.stall, "m/s"), ("n", e.positive, "1")), b.top, "m/s", "manoeuvring"
    )
    given = (("CL", b.laden.lift_least, "1"), ("n", e.negative, "1"), ("m", b.laden.loading.mass, "kg"))
    pushed = Step("speed", "sqrt(2 n m g/(rho0 S CL))", given, b.bottom, "m/s", "definition")
    for key, speed, factor, rows, steps, said in (
        ("A", b.top, e.positive, ("manoeuvring", *up), (at_stall,), ""),
        ("C", c.value, e.positive, (*c.given, *up), c.steps, ""),
        ("D", d.value, e.positive, (*d.given, *up), d.steps, ""),
        ("E", d.value, 0.0, (*d.given, *down), d.steps, ""),
        ("F", c.value, e.negative, (*c.given, *down), c.steps, ""),
        ("G", b.bottom, e.negative, down, (pushed,), b.laden.why_least),
    ):
        yield flown_case(e, b, key, TITLES[key], "manoeuvre", speed, factor, keys=rows, steps=steps, caveat=said)


def _gusts(e: Envelope, b: Bound) -> Iterator[LoadCase]:
    for key, g, row in b.gusts:
        keys = (*e.speeds[key].given, row, "relief")
        steps = (*e.speeds[key].steps, *gust_steps(e.code, e.cell, g))
        most = b.laden.lift(1.0, b.laden.stall, e.cell.area)
        for way, factor in (("up", g.up), ("down", g.down)):
            said = _past(b, g, factor, most, e)
            title = f"gust from {'below' if way == 'up' else 'above'} at V{key}"
            yield flown_case(
                e, b, f"gust.{key}.{way}", title, "gust", g.speed, factor, keys=keys, steps=steps, caveat=said
            )


def _past(b: Bound, g: Gust, factor: float, most: float, e: Envelope) -> str:
    """What is to be said of a gust that asks for more lift than there is."""
    lift = b.laden.lift(factor, g.speed, e.cell.area)
    return FLIES.format(lift=lift, most=most) if lift > most else ""
