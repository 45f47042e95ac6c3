"""Landing and rolling cases of an aeroplane with two main wheels and a tail wheel.

Symbols: W weight, n load factor of the whole, L wings' lift over the weight, K drag over nW, d and B centre of gravity
and tail wheel behind the main wheels' contact (ground/balance.py).

    descent      k (W/S)^(1/4), within the code's ends
    n            by energy (loads/sinking.py), no less than the code's; ground's part n - L no less than its own
    level        main (n - L) W, drag K n W aft; forward again when they spring back
    tail down    main (n - L) W (1 - d/B), tail (n - L) W d/B, tail down, no drag
    one wheel    half of level, on the right
    side         1.33 W on the main wheels, 0.5 W inwards on one, 0.33 W outwards on the other, level
    braked       1.33 W on the main wheels, 0.8 of it in drag
    tail wheel   its load tail down, up and aft at 45 deg; its load at rest with as much to the side

Each at the greatest mass, both ends of the balance. Sources: cs-vla 473 to 497, appendix C; 14 CFR 23 the same numbers;
marks in data/loads.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.flight.work import Flown
from sparwright.ground.balance import Lever, lever
from sparwright.ground.pose import Stood, level, stood, tail_down
from sparwright.loads.case import Kind, LoadCase
from sparwright.loads.code import FT, PSF, Code, both
from sparwright.loads.diagram import Envelope
from sparwright.loads.laden import Laden, case_of, laden
from sparwright.loads.sinking import Legs, Sunk, legs, sinks

MAIN, DRAG, TAIL = "load of both main wheels", "drag of both main wheels, aft", "load of the tail wheel"
IN, OUT, ASIDE = "side load inwards on one main wheel", "side load outwards on the other", "side load of the tail wheel"
TAIL_AFT = "drag of the tail wheel, aft"
SINK, FACTOR, LIFT = "speed of descent", "load factor", "wings' lift over the weight"
SINKING = ("sink_law", "sink_least", "sink_most", "landing_lift", "inertia_least", "ground_least")


@dataclass(frozen=True)
class Touch:
    """What is the same for every landing of one loading."""

    code: Code
    x: Laden
    stands: Mapping[str, Lever]  # "level", "down"
    sunk: Sunk
    sink: float = number("m/s", "speed of descent")
    lift: float = number("1", "L, wings' lift over the weight")
    factor: float = number("1", "n; NaN where unknown")
    steps: tuple[Step, ...] = ()
    why: str = ""  # why the wheels' places are not known

    @property
    def weight(self) -> float:
        """W, N."""
        return self.x.loading.mass * GRAVITY

    @property
    def ground(self) -> float:
        """(n - L) W, N."""
        return (self.factor - self.lift) * self.weight

    def share(self) -> float:
        """d/B tail down; NaN where the wheels' places are not known."""
        return self.stands["down"].tail_share if self.stands else math.nan


def descent(code: Code, loading: float) -> float:
    """Speed of descent, m/s, at a wing loading, Pa."""
    law = code["sink_law"] * code.of_loading(loading, FT, 0.25)
    return float(min(max(law, code["sink_least"]), code["sink_most"]))


def drag_part(code: Code, mass: float) -> float:
    """K: 0.25 up to the first mass, 0.33 from the second, kg, straight between."""
    light, heavy = code["landing_drag_light"], code["landing_drag_heavy"]
    part = min(max((mass - light) / (heavy - light), 0.0), 1.0)
    return code["landing_drag"] + part * (code["landing_drag_most"] - code["landing_drag"])


def landing_cases(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """All of them; they do not hang on the envelope of flight."""
    every, on = laden(flown), stood(flown.model)
    for key in ("max_forward", "max_aft"):
        t = touch(e, flown, every[key], on)
        yield from _landings(t)
        yield from _rolling(t, flown)
        yield from _tail_wheel(t)


def touch(e: Envelope, flown: Flown, x: Laden, on: Stood) -> Touch:
    """Levers, descent and load factor of a loading."""
    code, stands = e.code, _levers(flown, x, on)
    weight = x.loading.mass * GRAVITY
    leg = legs(flown.model, on, _at_rest(flown, on))
    sink, lift = descent(code, weight / e.cell.area), code["landing_lift"]
    sunk = sinks(leg, x.loading.mass, sink, lift)
    least = max(code["inertia_least"], code["ground_least"] + lift)
    factor = max(sunk.ground + lift, least) if math.isfinite(sunk.ground) else math.nan
    steps = _sunk_steps(code, weight / e.cell.area, sink, lift, sunk, leg, factor, x.loading.mass)
    return Touch(code, x, stands, sunk, sink, lift, factor, steps, on.why)


def _at_rest(flown: Flown, on: Stood) -> float:
    """Load on one main wheel standing still on three wheels, as heavy as it can be, N."""
    loading = flown.cases["heaviest"].loading
    if on.rest is None:
        return math.nan
    down = lever(tail_down(on.rest), on.rest, loading.station, loading.waterline, flown.model.propeller.place[2])
    return (1 - down.tail_share) * loading.mass * GRAVITY / 2


def _levers(flown: Flown, x: Laden, on: Stood) -> dict[str, Lever]:
    if on.rest is None:
        return {}
    hub, at = flown.model.propeller.place[2], (x.loading.station, x.loading.waterline)
    return {name: lever(pose(on.rest), on.rest, *at, hub) for name, pose in (("level", level), ("down", tail_down))}


def _sunk_steps(
    code: Code, loading: float, sink: float, lift: float, sunk: Sunk, leg: Legs, factor: float, mass: float
) -> tuple[Step, ...]:
    unit = ("W/S", loading / PSF, "lb/ft2") if code.imperial else ("W/S", loading, "Pa")
    at = (
        ("m", mass, "kg"),
        ("s", sink, "m/s"),
        ("L", lift, "1"),
        ("k of a tyre", leg.tyre, "N/m"),
        ("stop of the axle", leg.stop, "m"),
        ("rise of the axle", sunk.rise, "m"),
        ("way", sunk.way, "m"),
    )
    return (
        code.step(SINK, "k (W/S)^(1/4)", (("k", code["sink_law"], "1"), unit), sink, "m/s", "sink_law"),
        code.printed(LIFT, "landing_lift", "1"),
        Step("load factor by the springing", "2 F/(m g) + L, energy", at, sunk.ground + lift, "1", "loads/sinking.py"),
        code.step(
            FACTOR,
            "no less than the code's",
            (
                ("by the springing", sunk.ground + lift, "1"),
                ("least", code["inertia_least"], "1"),
                ("ground's least", code["ground_least"], "1"),
            ),
            factor,
            "1",
            "inertia_least",
            "ground_least",
        ),
    )


def _case(
    t: Touch,
    key: str,
    title: str,
    factor: float,
    keys: tuple[str, ...],
    steps: tuple[Step, ...],
    kind: Kind = "landing",
    said: str = "",
) -> LoadCase:
    caveat = both(said, t.why, t.code.recalled(*keys))
    return case_of(t.x, key, title, kind, t.code.cite(*keys), factor, steps=steps, caveat=caveat)


def _newtons(title: str, formula: str, value: float, source: str = "statics") -> Step:
    return Step(title, formula, (), value, "N", source)


def _landings(t: Touch) -> Iterator[LoadCase]:
    k = drag_part(t.code, t.x.loading.mass)
    rows, drag_rows = SINKING, (*SINKING, "landing_drag")
    drag = k * t.factor * t.weight
    main = _newtons(MAIN, "(n - L) W", t.ground)
    for key, title, sign, more in (
        ("level", "level, wheels spinning up", 1.0, ()),
        ("springback", "level, wheels springing back", -t.code["springback"], ("springback",)),
    ):
        steps = (*t.steps, main, _newtons(DRAG, "K n W", sign * drag))
        yield _case(t, f"landing.{key}", title, t.factor, (*drag_rows, *more), steps, said=t.sunk.why)
    one = (
        *t.steps,
        _newtons(MAIN, "(n - L) W/2, all of it on the right wheel", t.ground / 2),
        _newtons(DRAG, "K n W/2, on the right wheel", drag / 2),
    )
    half = (t.factor - t.lift) / 2 + t.lift
    yield _case(t, "landing.one_wheel", "level on the right wheel alone", half, drag_rows, one, said=t.sunk.why)
    down = (
        *t.steps,
        _newtons(MAIN, "(n - L) W (1 - d/B)", t.ground * (1 - t.share())),
        _newtons(TAIL, "(n - L) W d/B", t.ground * t.share()),
    )
    yield _case(t, "landing.tail_down", "tail down on three wheels", t.factor, rows, down, said=t.sunk.why)


def _rolling(t: Touch, flown: Flown) -> Iterator[LoadCase]:
    """Side load and braking, without lift; braked only where there are brakes."""
    code, w = t.code, t.weight
    keys = ("side_up", "side_in", "side_out")
    for to in ("right", "left"):
        steps = (
            _newtons(MAIN, "1.33 W", code["side_up"] * w, code.cite("side_up")),
            _newtons(IN, "0.5 W", code["side_in"] * w, code.cite("side_in")),
            _newtons(OUT, "0.33 W", code["side_out"] * w, code.cite("side_out")),
        )
        yield _case(t, f"landing.side.{to}", f"level, wheels pushed to the {to}", code["side_up"], keys, steps)
    if flown.model.undercarriage is None or flown.model.undercarriage.brakes is None:
        return
    up = code["braked_up"] * w
    held = (
        _newtons(MAIN, "1.33 W", up, code.cite("braked_up")),
        _newtons(DRAG, "0.8 of it", code["braked_drag"] * up, code.cite("braked_drag")),
    )
    yield _case(
        t,
        "ground.braked",
        "rolling, braked, tail just off the ground",
        code["braked_up"],
        ("braked_up", "braked_drag"),
        held,
        "ground",
    )


def _tail_wheel(t: Touch) -> Iterator[LoadCase]:
    load, angle = t.ground * t.share(), t.code["obstruction"]
    steps = (
        *t.steps,
        _newtons(TAIL, "(n - L) W d/B cos 45 deg, upwards", load * math.cos(angle)),
        _newtons(TAIL_AFT, "(n - L) W d/B sin 45 deg", load * math.sin(angle)),
    )
    yield _case(
        t,
        "landing.tail_wheel",
        "tail wheel against an obstacle",
        t.factor,
        (*SINKING, "obstruction"),
        steps,
        said=t.sunk.why,
    )
    still = t.weight * t.share()
    for to, sign in (("right", 1.0), ("left", -1.0)):
        aside = (_newtons(TAIL, "W d/B", still), _newtons(ASIDE, "as much", sign * still))
        yield _case(
            t, f"ground.tail_wheel.{to}", f"tail wheel pushed to the {to}", 1.0, ("obstruction",), aside, "ground"
        )
