"""Who sits in the cockpit told as results and checks: `occupant.*`.

Results are told for the smallest woman and the largest man, and for whoever of the six comes nearest to failing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from sparwright.base.check import Check, Result, Sense, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.limit import Limit
from sparwright.data.occupant import bodies, rule
from sparwright.family.model import Model
from sparwright.family.occupant import Seat
from sparwright.flight.fly import Flight
from sparwright.occupant.cockpit import nose, way_out, wings_over
from sparwright.occupant.fit import Fit, fits, hip_crease, over_shoulder, worst
from sparwright.occupant.shell import shell_checks
from sparwright.occupant.turnover import WEAK, turnover_checks
from sparwright.parts.turnover import turnover_numbers
from sparwright.systems.fuel import Stand, stands

METHOD = "planar linkage of a sitting person (occupant/sit.py)"
PEOPLE = ("female_5", "male_95")
TRIAL = "body dimensions each at its own percentile; a trial sit in a mock-up decides"
NO_SEAT = "the file has no seat; [seat] with stick, throttle, pedals, panel, harness and coaming would settle it"
DESIGNER = "must clear (designer's)"
POSES = {"level": "level at the greatest speed", "climb": "steepest climb", "ground": "on three wheels"}


@dataclass(frozen=True)
class Measure:
    """Something measured of each person, and what it is held to: a row of data/occupant.toml, or nought."""

    of: str  # field of Fit
    id: str
    title: str
    unit: str
    needs: str  # what the file must say
    rule: str = ""  # key of a rule; nought when empty
    most: bool = False


MEASURES = (
    Measure("legs", "legs", "leg left over at full pedal, the knee at its straightest", "m", "pedals"),
    Measure("knees", "knees", "least distance from a leg to the instrument panel", "m", "pedals and panel"),
    Measure("heels", "heels", "heel above the bottom of the fuselage", "m", "pedals"),
    Measure("stick", "reach.stick", "arm left over, stick full forward, shoulder held", "m", "stick"),
    Measure("throttle", "reach.throttle", "arm left over, throttle open, shoulder held", "m", "throttle"),
    Measure("stick_back", "belly", "between hand and belly, stick full aft", "m", "stick"),
    Measure("above", "head.wing", "from the head to the wing above it", "m", "a wing over the head", "head_gap"),
    Measure("upside_down", "head.turnover", "from the head to the ground, on its back", "m", "turnover", "head_gap"),
    Measure("shoulders", "shoulders", "width of the opening less clothed shoulders", "m", "coaming"),
    Measure("hips", "hips", "width between the frame's tubes less the hips", "m", "tubes beside the seat"),
    Measure("strap", "harness.shoulder_least", "shoulder strap over the square to the seat's back", "rad",
            "harness.shoulder", "shoulder_least"),
    Measure("strap", "harness.shoulder_most", "shoulder strap over the square to the seat's back", "rad",
            "harness.shoulder", "shoulder_most", True),
    Measure("lap", "harness.lap_least", "lap strap against the thrust line", "rad", "harness", "lap_least"),
    Measure("lap", "harness.lap_most", "lap strap against the thrust line", "rad", "harness", "lap_most", True),
    Measure("knees_crash", "knees_crash", "from a leg to the panel, body gone forward in its straps", "m",
            "pedals, panel and harness"),
)  # fmt: skip
STRAIGHT = Measure("straight", "knee", "knee at full pedal, between thigh and shin", "rad", "pedals")
HELD = Measure("head_held", "head.crash", "from the head to the panel, thrown forward, shoulders strapped", "m",
               "panel and harness.shoulder")  # fmt: skip
LAP = Measure("head_lap", "head.crash", "from the head to the panel, thrown forward, lap strap alone", "m",
              "panel and harness")  # fmt: skip
NAMES = {"strap": "harness.shoulder", "lap": "harness.lap", "head_held": "head.held", "head_lap": "head.lap"}


@dataclass(frozen=True)
class OccupantTold:
    """What is said of who sits in it."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]


def occupant_told(
    flight: Flight, on_wheels: tuple[Result, ...], stood: Mapping[str, Stand] | None = None
) -> OccupantTold:
    """Results and checks of a flown model; one unknown check where the file has no [seat].

    on_wheels: results of the ground, of which the attitude on three wheels is taken. stood: how it stands in flight,
    of systems/fuel.py.
    """
    model = flight.flown.model
    if model.seat is None:
        none = check("occupant.fit", "who fits into the cockpit", UNKNOWN, math.nan, ">=", "m", method="none",
                     caveat=NO_SEAT)  # fmt: skip
        return OccupantTold((), (none,))
    found = fits(model)
    noses = attitudes(stands(flight.flown) if stood is None else stood, on_wheels)
    measures = (*MEASURES, HELD if _shoulders_strapped(model.seat) else LAP)
    results = tuple(_results(model, model.seat, found, noses, measures))
    by_id = {r.id: r for r in results}
    return OccupantTold(
        results, (*_checks(model, found, measures, by_id), *shell_checks(model, found), *turnover_checks(model))
    )


def attitudes(flown: Mapping[str, Stand], on_wheels: tuple[Result, ...]) -> dict[str, tuple[Band, str]]:
    """(nose up of the thrust line, why it is unknown) level, climbing and on three wheels."""
    stood = next((r for r in on_wheels if r.id == "ground.attitude"), None)
    ground = (stood.band, stood.caveat) if stood else (UNKNOWN, "the attitude on the ground is unknown")
    return {**{name: (flown[name].nose, flown[name].reason) for name in ("level", "climb")}, "ground": ground}


def _shoulders_strapped(seat: Seat) -> bool:
    return seat.harness is not None and seat.harness.shoulder is not None


# ------------------------------------------------------------------ results


def _results(
    model: Model,
    seat: Seat,
    found: Mapping[str, Fit],
    noses: Mapping[str, tuple[Band, str]],
    measures: tuple[Measure, ...],
) -> Iterator[Result]:
    for key in PEOPLE:
        yield from _settled(found[key])
        yield from _view(model, seat, found[key], noses)
    told = set()
    for m in (*measures, *(x for x in (STRAIGHT, HELD, LAP) if x not in measures)):
        for key in (*PEOPLE, worst(found, m.of, m.most)[1]):
            if (m.of, key) not in told:
                told.add((m.of, key))
                yield _measured(model, seat, found[key], m)
    yield from (_reach(seat, found[key]) for key in PEOPLE)
    yield _way_out(model, seat)


def _name(m: Measure, key: str) -> str:
    return f"occupant.{NAMES.get(m.of, m.id)}.{key}"


def _told(id: str, title: str, band: Band, unit: str, why: str, note: str = "", steps: tuple[Step, ...] = ()) -> Result:
    source = f"{METHOD}; pheasant-bodyspace"
    caveat = "; ".join(x for x in (note, TRIAL) if x) if band.known else why
    return Result(id, title, band.value, unit, band.low, band.high, source, caveat, steps if band.known else ())


def _settled(f: Fit) -> Iterator[Result]:
    """Cushions and pedals, and where the eye is."""
    c, who = f.cushions, f.who
    for what, title, value in (
        ("cushion", "cushion to sit on", c.under),
        ("behind", "cushion behind the back", c.behind),
        ("pedals", "pedals set aft of their foremost place", c.nearer),
    ):
        yield _told(f"occupant.{what}.{who.key}", f"{title}, {who.title}", Band.exact(value), "m", "")
    s = f.sitting
    given = (("shoulder zS", s.neck[1], "m"), ("eye over shoulder", who.eye_over, "m"))
    step = Step("eye", "zS + eye over shoulder", given, f.eye.value, "m", METHOD)
    note = "low end: slumped; high end: erect"
    yield _told(f"occupant.eye.{who.key}", f"waterline of the eye, {who.title}", f.eye, "m", "", note, (step,))


def _view(model: Model, seat: Seat, f: Fit, noses: Mapping[str, tuple[Band, str]]) -> Iterator[Result]:
    """Angle down over the nose, and against the horizon in each attitude."""
    (x, z), (px, pz) = f.sitting.eye, nose(model, f.sitting.eye)[1]
    given = (("x e", x, "m"), ("z e", z, "m"), ("x", px, "m"), ("z", pz, "m"))
    step = Step("line of sight", "atan((z e - z)/(x e - x))", given, f.view.value, "rad", METHOD)
    why = "nothing stands ahead of the eye"
    title = f"angle down over the nose, {f.who.title}"
    yield _told(f"occupant.view.{f.who.key}", f"{title}, against the thrust line", f.view, "rad", why, "", (step,))
    for pose, words in POSES.items():
        up, reason = noses[pose]
        band = Band(f.view.value - up.value, f.view.low - up.high, f.view.high - up.low) if up.known else UNKNOWN
        turned = (("s", f.view.value, "rad"), ("a", up.value, "rad"))
        step = Step("below the horizon", "s - a", turned, band.value, "rad", METHOD)
        note = _seen(model, f, band, up) if pose == "ground" and band.known else ""
        yield _told(f"occupant.view.{pose}.{f.who.key}", f"{title}, against the horizon, {words}", band, "rad",
                    reason or why, note, (step,))  # fmt: skip


def _seen(model: Model, f: Fit, band: Band, up: Band) -> str:
    """Where the ground is first seen ahead."""
    if band.value <= 0:
        return "the ground ahead is not seen at all: it is looked past the side"
    c, s = math.cos(up.value), math.sin(up.value)
    x, z = f.sitting.eye
    height = z * c - x * s - min(w.place[2] * c - w.place[0] * s - w.diameter / 2 for w in model.wheels)
    return f"the ground is first seen about {height / math.tan(band.value):.0f} m ahead of the eye"


def _measured(model: Model, seat: Seat, f: Fit, m: Measure) -> Result:
    band: Band = getattr(f, m.of)
    why = f"the file does not say {m.needs}" if not band.known else ""
    if not band.known and f.reached and _all_there(seat, m):
        why = "the foot does not get to the pedal" if math.isnan(f.reached.angle) else "the foot cannot rest on it"
    return _told(
        _name(m, f.who.key), f"{m.title}, {f.who.title}", band, m.unit, why, "", tuple(_steps(seat, f, m, band))
    )


def _all_there(seat: Seat, m: Measure) -> bool:
    """Whether the file says all that a measure of the legs needs."""
    wanted: dict[str, tuple[object, ...]] = {
        "straight": (),
        "heels": (),
        "knees": (seat.panel,),
        "knees_crash": (seat.panel, seat.harness),
    }
    return m.of in wanted and None not in wanted[m.of]


def _steps(seat: Seat, f: Fit, m: Measure, band: Band) -> Iterator[Step]:
    """How a measure comes about, where one line tells it."""
    s, who = f.sitting, f.who
    given: tuple[tuple[str, float, str], ...]
    if m.of == "straight" and f.reached:
        given = (("thigh", who.thigh, "m"), ("shin", who.shank, "m"), ("hip to pedal", f.reached.length, "m"))
        yield Step("knee", "cosine law, occupant/sit.py", given, band.value, "rad", METHOD)
    elif m.of in ("stick", "throttle"):
        given = (("arm", who.arm, "m"), ("shoulder to grip", who.arm - band.value, "m"))
        yield Step("left over", "arm - |shoulder to grip|", given, band.value, "m", METHOD)
    elif m.of == "strap" and seat.harness and seat.harness.shoulder:
        (x, z), (hx, _, hz) = over_shoulder(s), seat.harness.shoulder
        given = (("x", x, "m"), ("z", z, "m"), ("xh", hx, "m"), ("zh", hz, "m"), ("b", s.lean, "rad"))
        yield Step("strap over the square", "atan((zh - z)/(xh - x)) + b", given, band.value, "rad", METHOD)
    elif m.of == "lap" and seat.harness:
        (x, z), (hx, _, hz) = hip_crease(s.hip), seat.harness.lap
        given = (("x", x, "m"), ("z", z, "m"), ("xh", hx, "m"), ("zh", hz, "m"))
        yield Step("strap", "atan((z - zh)/(xh - x))", given, band.value, "rad", METHOD)


def _reach(seat: Seat, f: Fit) -> Result:
    r = rule("head_strike")
    title = f"farthest the head goes from the seat reference point, lap strap alone, {f.who.title}"
    note = f"for comparison {r.value:.3f} m: {r.source}"
    why = "the file does not say harness"
    return _told(f"occupant.head.reach.{f.who.key}", title, Band.exact(f.head_reach), "m", why, note)


def _way_out(model: Model, seat: Seat) -> Result:
    title = "clear way out over the side"
    if seat.coaming is None:
        return _told("occupant.way_out", title, UNKNOWN, "m", "the file does not say [seat.coaming]")
    size, which = way_out(model, seat.coaming)
    note = f"bounded by {which}" + ("; the side's door let down" if seat.coaming.door else "")
    return _told("occupant.way_out", title, Band.exact(size), "m", "", note)


# ------------------------------------------------------------------ checks


def _checks(
    model: Model, found: Mapping[str, Fit], measures: tuple[Measure, ...], by_id: Mapping[str, Result]
) -> Iterator[Check]:
    for m in measures:
        if m.of == "above" and not wings_over(model):
            continue
        _, key = worst(found, m.of, m.most)
        knee = rule("knee_straight")
        said = (
            f"knee no straighter than {math.degrees(knee.value):.0f} deg: {knee.source}" if m.of == "legs" else DESIGNER
        )
        held = _held(m.id, m.title, by_id[_name(m, key)], rule(m.rule) if m.rule else None, key, said)
        yield _carried(model, held) if m.of == "upside_down" else held
    views = [by_id[f"occupant.view.level.{key}"] for key in PEOPLE]
    lost = [r for r in views if not r.band.known]
    low = lost[0] if lost else min(views, key=lambda r: r.low)
    yield _held("view.level", rule("over_nose").title, low, rule("over_nose"), low.id.rsplit(".", 1)[-1])
    yield _held("way_out", rule("way_out").title, by_id["occupant.way_out"], rule("way_out"), "")


def _carried(model: Model, held: Check) -> Check:
    """The check of turning over, with the numbers of the parts that carry its highest point."""
    names = turnover_numbers(model)
    said = f"it rests on {', '.join(names)}; {WEAK}" if names else "the file does not say which parts carry it"
    return replace(held, part=names[0] if names else "", caveat="; ".join(x for x in (held.caveat, said) if x))


def _held(id: str, title: str, of: Result, limit: Limit | None, key: str, own: str = DESIGNER) -> Check:
    sense: Sense = limit.sense if limit else ">="
    title = limit.title if limit else title
    said = str(limit.source) if limit else own
    value = limit.value if limit else 0.0
    parents = of.parents if of.id == f"occupant.{id}" else (of.id,)
    return check(f"occupant.{id}", title, of.band, value, sense, of.unit, case=bodies()[key].title if key else "",
                 rule=said, method=METHOD, caveat=of.caveat, parents=parents)  # fmt: skip
