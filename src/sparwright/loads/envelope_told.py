"""The envelope as results and checks: design speeds, load factors, gusts, and what the code asks of them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.check import Check, Result, Sense, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Limits
from sparwright.loads.code import both
from sparwright.loads.diagram import Bound, Envelope
from sparwright.loads.gust import gust_steps

NAMES = {"A": ("manoeuvring", "VA"), "C": ("cruise", "VC"), "D": ("dive", "VD")}
METHOD = "loads/diagram.py"
CHOSEN, LEAST = "the designer's choice", "the least the code allows"


def envelope_told(e: Envelope, limits: Limits) -> tuple[tuple[Result, ...], tuple[Check, ...]]:
    """Results and checks of the envelope; where there is none they are there and unknown."""
    return tuple(_results(e)), tuple(_checks(e, limits))


def _results(e: Envelope) -> Iterator[Result]:
    for key, (name, letters) in NAMES.items():
        s = e.speeds.get(key)
        note = both(e.why, (CHOSEN if s.chosen else LEAST) if s else "", e.code.recalled(*s.given) if s else "")
        value = s.value if s else math.nan
        yield _result(
            f"loads.speed.{name}",
            f"{letters}, equivalent",
            value,
            "m/s",
            e.code.cite(*(s.keys if s else ())),
            both(note, e.caveat),
            s.steps if s else (),
        )
    yield _result("loads.factor.positive", "limit load factor upwards", e.positive, "1", "designer", "", ())
    yield _result("loads.factor.negative", "limit load factor downwards", e.negative, "1", "designer", "", ())
    for bound in (b for key, b in e.bounds.items() if key != "max_aft"):  # the same mass as max_forward
        yield from _of_bound(e, bound)
    yield _worst(e)


def _result(
    id: str,
    title: str,
    value: float,
    unit: str,
    source: str,
    caveat: str,
    steps: tuple[Step, ...],
    parents: tuple[str, ...] = (),
) -> Result:
    return Result(id, title, value, unit, value, value, source, caveat, steps, parents)


def _of_bound(e: Envelope, b: Bound) -> Iterator[Result]:
    """What gusts do to one loading, and where its lines cross."""
    words, key = b.laden.words, b.laden.key
    for at, g, row in (*b.gusts, ("A", b.manoeuvring, "gust_cruise")):
        source, note = e.code.cite(row, "relief"), both(e.code.recalled(row, "relief"), e.caveat)
        parents = (f"loads.speed.{NAMES[at][0]}",)
        steps = gust_steps(e.code, e.cell, g)
        for way, value in (("up", g.up), ("down", g.down)):
            title = f"load factor in the gust from {'below' if way == 'up' else 'above'} at V{at}, {words}"
            yield _result(f"loads.gust.{at}.{way}.{key}", title, value, "1", source, note, steps, parents)
    given = (("VC", b.cruise.speed, "m/s"), ("rise at VC", b.cruise.rise, "1"), ("n1", e.positive, "1"))
    step = Step("speed", "gust line = n1", given, b.crossing, "m/s", METHOD)
    said = "" if math.isfinite(b.crossing) else "the gust line stays below the manoeuvre line up to VD"
    yield _result(
        f"loads.gust.crossing.{key}",
        f"speed at which the gust line passes the limit load factor, {words}",
        b.crossing,
        "m/s",
        METHOD,
        said,
        (step,) if not said else (),
        (f"loads.gust.C.up.{key}",),
    )
    at_stall = (("VS", b.laden.stall, "m/s"), ("VC", b.cruise.speed, "m/s"), ("rise at VC", b.cruise.rise, "1"))
    step = Step("speed", "1 + rise V/VC = (V/VS)^2", at_stall, b.stalled, "m/s", METHOD)
    yield _result(
        f"loads.gust.stalled.{key}",
        f"speed below which VC's gust stalls it first, {words}",
        b.stalled,
        "m/s",
        METHOD,
        "",
        (step,),
        (f"loads.gust.C.up.{key}",),
    )


def _worst(e: Envelope) -> Result:
    """The greatest load factor of manoeuvre and gust, and what makes it."""
    title = "greatest load factor upwards, of manoeuvres and gusts at every loading"
    if e.why:
        return _result("loads.factor.greatest", title, math.nan, "1", METHOD, e.why, ())
    found = [(e.positive, "manoeuvre", ("loads.factor.positive",))]
    for b in e.bounds.values():
        for at, g, _ in b.gusts:
            found.append((g.up, f"gust at V{at}, {b.laden.words}", (f"loads.gust.{at}.up.{b.laden.key}",)))
    value, what, parents = max(found)
    keys = tuple(k for s in e.speeds.values() for k in s.given)
    return _result(
        "loads.factor.greatest",
        title,
        value,
        "1",
        e.code.cite("relief", "gust_cruise"),
        both(what, e.code.recalled(*keys)),
        (),
        parents,
    )


def _checks(e: Envelope, limits: Limits) -> Iterator[Check]:
    for key, title, value, limit, sense, row in (
        ("positive", "limit load factor upwards beside the code's", e.positive, e.asked[0], ">=", "positive"),
        (
            "negative",
            "limit load factor downwards beside the code's",
            e.negative,
            e.asked[1],
            "<=",
            "negative" if e.code.has("negative") else "negative_part",
        ),
    ):
        yield _check(e, f"loads.code.{key}", title, value, limit, _sense(sense), "1", (row,), "")
    for key, (name, letters) in NAMES.items():
        s = e.speeds.get(key)
        value, least = (s.value, s.least) if s else (math.nan, math.nan)
        yield _check(
            e,
            f"loads.code.{name}",
            f"{letters} beside the least the code allows",
            value,
            least,
            ">=",
            "m/s",
            s.keys if s else (),
            e.why,
            s.steps if s else (),
        )
    never, most = limits.never_exceed, e.code["never"] * e.speed("D")
    said = e.why or ("" if never is not None else "the file does not say limits.never_exceed: nine tenths of VD stands")
    yield _check(
        e,
        "loads.code.never_exceed",
        "speed never exceeded beside nine tenths of VD",
        most if never is None else never,
        most,
        "<=",
        "m/s",
        ("never",),
        said if e.why else "",
        note=said,
    )


def _sense(written: str) -> Sense:
    return ">=" if written == ">=" else "<="


def _check(
    e: Envelope,
    id: str,
    title: str,
    value: float,
    limit: float,
    sense: Sense,
    unit: str,
    keys: tuple[str, ...],
    why: str,
    steps: tuple[Step, ...] = (),
    note: str = "",
) -> Check:
    """A number beside the code's; a recalled row settles nothing."""
    band = Band.exact(value) if math.isfinite(value) else UNKNOWN
    return check(
        id,
        title,
        band,
        limit,
        sense,
        unit,
        rule=e.code.cite(*keys),
        method=METHOD,
        caveat=note,
        outside_range=both(why, e.code.recalled(*keys)),
        steps=steps,
    )
