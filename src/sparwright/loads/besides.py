"""Cases besides: wind from behind, crash, turned over, tied down, jacked, lifted, pushed, stepped on, swung by hand.

Crash loads are ultimate: the code's load factors are what throws a body that way. factor is along z, upwards, so what
throws up is negative. Whoever sits in it is as heavy as the file lets him be. Forces of hand and foot and the factor
of lifting stand in no code at hand (common practice): they are the designer's, limits.foot, hand, propeller_pull and
hoist; a case without its number is unknown. Sources: cs-vla and 14 CFR 23, 415(c), 507, 561; marks in data/loads.toml.
Wind from behind (369): CL -0.8, falling straight from the trailing edge to nought at the leading edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.family.model import Limits
from sparwright.flight.work import Flown
from sparwright.loads.case import Kind, Level, LoadCase
from sparwright.loads.code import Code, both
from sparwright.loads.diagram import KT, PSF, Envelope
from sparwright.loads.laden import SEA_LEVEL, laden
from sparwright.loads.symmetrical import flown_case
from sparwright.mass.record import Balance, Loading
from sparwright.mass.weigh import centre_of

UP, FORWARD, SIDE = "load factor upwards", "load factor forwards", "load factor to the side"
WIND, FROM = "wind", "wind from, off the nose"
PILOT = "pilot's mass"
ALONG, FORCE = "load along the ground over the vertical one", "force"
PRACTICE = "common practice, no source"


def other_cases(e: Envelope, balance: Balance, flown: Flown) -> Iterator[LoadCase]:
    """All of them."""
    most = laden(flown)["max_forward"].loading
    yield from _from_behind(e, flown)
    yield from _crash(e.code, most, max((x.most for x in flown.model.loads if x.kind == "pilot"), default=math.nan))
    yield from _standing(e.code, balance, most)
    yield from _by_hand(flown.model.limits, balance, most)


def _case(
    key: str,
    title: str,
    kind: Kind,
    at: Loading,
    factor: float,
    rule: str,
    steps: tuple[Step, ...],
    caveat: str = "",
    level: Level = "limit",
    speed: float = 0.0,
    words: str = "greatest mass, forward limit",
) -> LoadCase:
    return LoadCase(
        key=key,
        title=title,
        kind=kind,
        rule=rule,
        level=level,
        loading=words,
        mass=at.mass,
        station=at.station,
        waterline=at.waterline,
        speed=speed,
        factor=factor,
        steps=steps,
        caveat=caveat,
    )


def wind_behind(code: Code, loading: float) -> float:
    """Speed of the wind from behind on a rear lift truss, m/s, at a wing loading, Pa: k sqrt(W/S) + base."""
    root = math.sqrt(loading / PSF) * KT if code.key == "cfr-23-2014" else math.sqrt(loading)
    return code["reversed_law"] * root + code["reversed_base"]


def _from_behind(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """Wings held by struts or wires with the wind from behind: the load lies aft, the rear truss bears it."""
    if e.why or not (flown.model.struts or flown.model.wires):
        return
    b = e.bounds["max_forward"]
    weight, lift = b.laden.loading.mass * GRAVITY, e.code["reversed_lift"]
    speed = wind_behind(e.code, weight / e.cell.area)
    factor = lift * SEA_LEVEL * speed**2 / 2 * e.cell.area / weight
    keys = ("reversed_law", "reversed_base", "reversed_lift")
    given = (("W/S", weight / e.cell.area, "Pa"),)
    step = e.code.step(WIND, "k sqrt(W/S) + base, from behind", given, speed, "m/s", "reversed_law")
    yield flown_case(
        e, b, "truss.from_behind", "wind from behind on the wings", "gust", speed, factor, keys=keys, steps=(step,)
    )


def _crash(code: Code, at: Loading, pilot: float) -> Iterator[LoadCase]:
    heavy = Step(PILOT, "the heaviest the file lets sit in it", (), pilot, "kg", "designer")
    for who, said in (("crash", "occupant"), ("cabin", "things in the cabin")):
        for way, title, signs in (("up", UP, (1.0,)), ("forward", FORWARD, (1.0,)), ("side", SIDE, (1.0, -1.0))):
            row = f"{who}_{way}"
            for sign in signs:
                to = {"side": ".right" if sign > 0 else ".left"}.get(way, "")
                n = sign * code[row]
                step = code.step(title, "as printed", (), n, "1", row)
                key = f"crash.{'' if who == 'crash' else 'cabin.'}{way}{to}"
                yield _case(
                    key,
                    f"{said} thrown {key.split('.', 1)[1].removeprefix('cabin.').replace('.', ', ')}",
                    "crash",
                    at,
                    -n if way == "up" else 0.0,
                    code.cite(row),
                    (step, *((heavy,) if who == "crash" else ())),
                    code.recalled(row),
                    "ultimate",
                )
    steps = (
        code.step(UP, "as printed", (), code["over_up"], "1", "over_up"),
        code.step(ALONG, "as printed", (), code["over_drag"], "1", "over_drag"),
    )
    keys = ("over_up", "over_drag")
    yield _case(
        "crash.turned_over",
        "turned over on its back",
        "crash",
        at,
        -code["over_up"],
        code.cite(*keys),
        steps,
        code.recalled(*keys),
        "ultimate",
    )


def empty(balance: Balance) -> Loading:
    """The aeroplane with nobody and nothing aboard; its inertia is not told."""
    mass, (x, _, z) = centre_of([x.mass.value for x in balance.lines], [x.place for x in balance.lines])
    h = (float(x) - balance.mean_chord_station) / balance.mean_chord
    return Loading(
        name="empty",
        mass=mass,
        station=float(x),
        waterline=float(z),
        fraction=h,
        fraction_low=h,
        fraction_high=h,
        inertia=np.full((3, 3), math.nan),
    )


def _standing(code: Code, balance: Balance, most: Loading) -> Iterator[LoadCase]:
    light = empty(balance)
    for where, angle in (("nose", 0.0), ("right", math.pi / 2), ("tail", math.pi)):
        steps = (
            code.step(WIND, "as printed, from any side", (), code["tied"], "m/s", "tied"),
            Step(FROM, "chosen", (), angle, "rad", "designer"),
        )
        yield _case(
            f"ground.tied.{where}",
            f"tied down, empty, wind on the {where}",
            "ground",
            light,
            1.0,
            code.cite("tied"),
            steps,
            code.recalled("tied"),
            speed=code["tied"],
            words="empty",
        )
    keys = ("jack_up", "jack_side")
    step = code.step(ALONG, "as printed, any way", (), code["jack_side"], "1", "jack_side")
    yield _case(
        "ground.jacked",
        "jacked at the greatest mass",
        "ground",
        most,
        code["jack_up"],
        code.cite(*keys),
        (step,),
        code.recalled(*keys),
    )


def _by_hand(limits: Limits, balance: Balance, most: Loading) -> Iterator[LoadCase]:
    light = empty(balance)
    for key, title, name, at, words in (
        ("foot", "a foot on the wing where it is made for it", "foot", light, "empty"),
        ("tip", "a hand that lifts by the wing's tip", "hand", light, "empty"),
        ("tail", "a hand that lifts by the tail", "hand", light, "empty"),
        ("strut", "a hand that pushes by a strut", "hand", light, "empty"),
        ("propeller", "a hand that swings the propeller", "propeller_pull", light, "empty"),
        ("hoisted", "lifted by its hoisting points", "hoist", most, "greatest mass, forward limit"),
    ):
        value = getattr(limits, name)
        said = "" if value is not None else f"the file does not say limits.{name}, and no code at hand does"
        found = math.nan if value is None else float(value)
        by_factor = name == "hoist"
        step = Step(UP if by_factor else FORCE, f"limits.{name}", (), found, "1" if by_factor else "N", PRACTICE)
        factor = found if by_factor else 1.0
        yield _case(f"handling.{key}", title, "handling", at, factor, PRACTICE, (step,), both(said), words=words)
