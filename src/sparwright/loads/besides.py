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
from dataclasses import replace

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.family.model import Model
from sparwright.flight.work import Flown
from sparwright.loads.case import Kind, Level, LoadCase
from sparwright.loads.code import KT, Code, both
from sparwright.loads.diagram import Envelope
from sparwright.loads.laden import SEA_LEVEL, Laden, case_of, laden
from sparwright.loads.places import stepped_on
from sparwright.loads.symmetrical import flown_case
from sparwright.mass.record import Balance, Loading
from sparwright.mass.weigh import centre_of

UP, FORWARD, SIDE = "load factor upwards", "load factor forwards", "load factor to the side"
WIND, FROM = "wind", "wind from, off the nose"
REVERSED = "lift coefficient in the wind from behind"
BENT = "bending of the strut itself between its ends is not in it"
PILOT = "pilot's mass"
ALONG, FORCE = "load along the ground over the vertical one", "force"
PRACTICE = "common practice, no source"


def other_cases(e: Envelope, balance: Balance, flown: Flown) -> Iterator[LoadCase]:
    """All of them."""
    most = laden(flown)["max_forward"]
    light = Laden(key="empty", loading=empty(balance), stall=math.nan, lift_least=math.nan)
    yield from _from_behind(e, flown)
    yield from _crash(e.code, most, max((x.most for x in flown.model.loads if x.kind == "pilot"), default=math.nan))
    yield from _standing(e.code, flown.model, light, most)
    yield from _by_hand(flown.model, light, most)


def _case(
    code: Code,
    x: Laden,
    key: str,
    title: str,
    kind: Kind,
    factor: float,
    keys: tuple[str, ...],
    steps: tuple[Step, ...],
    level: Level = "limit",
    speed: float = 0.0,
) -> LoadCase:
    """A case of one loading alone under rows of the code."""
    said = code.recalled(*keys)
    return case_of(
        x, key, title, kind, code.cite(*keys), factor, steps=steps, caveat=said, level=level, speed=speed, alone=True
    )


def wind_behind(code: Code, loading: float) -> float:
    """Speed of the wind from behind on a rear lift truss, m/s, at a wing loading, Pa: k sqrt(W/S) + base."""
    return code["reversed_law"] * code.of_loading(loading, KT) + code["reversed_base"]


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
    steps = (step, e.code.printed(REVERSED, "reversed_lift", "1"))
    yield flown_case(
        e, b, "truss.from_behind", "wind from behind on the wings", "gust", speed, factor, keys=keys, steps=steps
    )


def _crash(code: Code, x: Laden, pilot: float) -> Iterator[LoadCase]:
    heavy = Step(PILOT, "the heaviest the file lets sit in it", (), pilot, "kg", "designer")
    for who, said in (("crash", "occupant"), ("cabin", "things in the cabin")):
        for way, title, signs in (("up", UP, (1.0,)), ("forward", FORWARD, (1.0,)), ("side", SIDE, (1.0, -1.0))):
            row = f"{who}_{way}"
            for sign in signs:
                to = {"side": ".right" if sign > 0 else ".left"}.get(way, "")
                step = code.printed(title, row, "1", sign)
                key = f"crash.{'' if who == 'crash' else 'cabin.'}{way}{to}"
                words = f"{said} thrown {key.split('.', 1)[1].removeprefix('cabin.').replace('.', ', ')}"
                steps = (step, heavy) if who == "crash" else (step,)
                yield _case(
                    code, x, key, words, "crash", -step.value if way == "up" else 0.0, (row,), steps, "ultimate"
                )
    over = (code.printed(UP, "over_up", "1"), code.printed(ALONG, "over_drag", "1"))
    key, title, keys = "crash.turned_over", "turned over on its back", ("over_up", "over_drag")
    yield _case(code, x, key, title, "crash", -code["over_up"], keys, over, "ultimate")


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


def tied_wind(code: Code, model: Model) -> tuple[Step, str]:
    """(the wind it is tied down in as a line of working, what is to be said of it).

    The designer's where he gives one: 23.415(c) is for tie-downs that are declared, cs-vla has no row of its own. Less
    than the printed one is not what a code asks that has the row.
    """
    wind = model.parked.wind if model.parked else None
    if wind is None:
        return code.printed(WIND, "tied", "m/s", how="as printed, from any side"), ""
    own = code.has("tied") and code.cite("tied").startswith(code.key)
    less = f"{code.cite('tied')} asks for {code['tied']:.1f} m/s, parked.wind is less"
    said = less if own and wind < code["tied"] else ""
    return Step(WIND, "parked.wind", (), wind, "m/s", "designer"), said


def _standing(code: Code, model: Model, light: Laden, most: Laden) -> Iterator[LoadCase]:
    wind, less = tied_wind(code, model)
    for where, angle in (("nose", 0.0), ("right", math.pi / 2), ("left", -math.pi / 2), ("tail", math.pi)):
        steps: tuple[Step, ...] = (wind, Step(FROM, "chosen", (), angle, "rad", "designer"))
        behind = where == "tail"
        steps += (code.printed(REVERSED, "reversed_lift", "1"),) if behind else ()
        key, title = f"ground.tied.{where}", f"tied down, empty, wind on the {where}"
        rows = ("tied", "reversed_lift") if behind else ("tied",)
        found = _case(code, light, key, title, "ground", 1.0, rows, steps, speed=wind.value)
        yield replace(found, caveat=both(found.caveat, less))
    step = code.printed(ALONG, "jack_side", "1", how="as printed, any way")
    rows = ("jack_up", "jack_side")
    for way in ("ahead", "aft", "right", "left"):
        key, title = f"ground.jacked.{way}", f"jacked at the greatest mass, pushed {way}"
        yield _case(code, most, key, title, "ground", code["jack_up"], rows, (step,))


def _by_hand(model: Model, light: Laden, most: Laden) -> Iterator[LoadCase]:
    for key, title, name, x in (
        ("foot", "a foot on the wing where it is made for it", "foot", light),
        ("tip", "a hand that lifts by the wing's tip", "hand", light),
        ("tail", "a hand that lifts by the tail", "hand", light),
        ("strut", "a hand that pushes by a strut", "hand", light),
        ("propeller", "a hand that swings the propeller", "propeller_pull", light),
        ("hoisted", "lifted by its hoisting points", "hoist", most),
    ):
        if (key == "foot" and stepped_on(model) is None) or (key == "strut" and not model.struts):
            continue
        value = getattr(model.limits, name)
        said = "" if value is not None else f"the file does not say limits.{name}, and no code at hand does"
        said = BENT if key == "strut" and value is not None else said
        found = math.nan if value is None else float(value)
        by_factor = name == "hoist"
        step = Step(UP if by_factor else FORCE, f"limits.{name}", (), found, "1" if by_factor else "N", PRACTICE)
        factor = found if by_factor else 1.0
        yield case_of(x, f"handling.{key}", title, "handling", PRACTICE, factor, steps=(step,), caveat=said, alone=True)
