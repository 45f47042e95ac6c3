"""The proof-load sheet in words: bags in every bay and step, what is to be measured, the tests without bags.

All of it out of the results by id (proof/told.py, proof/static.py), in the designer's units.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.check import Check, Result, Step
from sparwright.family.model import Model
from sparwright.output.shown import figure, unit_of
from sparwright.plans.form import Column, FormTable
from sparwright.plans.proof_page import Bay, HalfPlan, ProofSheet, ProofTest, SideView
from sparwright.plans.proof_words import BOARDS, ROPES
from sparwright.proof.plan import Plan, plans
from sparwright.proof.points import surface_words
from sparwright.shape.frame import nodes, stretches
from sparwright.shape.lifting import wing_planform

Found = Mapping[str, Result]
LINES = ("front", "rear")
GROUPS = {"controls": "Controls", "seat": "Seat", "gear": "Gear"}
TALL = 7  # rows of a table of forces, whose names take two or three lines
TENTH = 1
UNPROVED = 8  # members named on the first pages; the report has all


def proof_sheet(model: Model, by_id: Found, checks: Sequence[Check] = ()) -> ProofSheet | None:
    """Everything on the sheet; None where no test is told at all. checks: those of the model; failing ones forbid."""
    tests = tuple(t for t in (_test(model, by_id, p, checks) for p in plans(model)) if t is not None)
    static = tuple(_static(by_id, model.drawing_units))
    if not tests and not static:
        return None
    left = tuple(p.title for p in plans(model) if f"proof.{p.key}.bags" not in by_id)
    bare = by_id["proof.unproved"].steps if "proof.unproved" in by_id else ()
    return ProofSheet(f"{model.family} {model.name}: proof load before flight", tests, static, left,
                      tuple(f"{s.title} ({100 * s.value:.0f} %)" for s in bare[:UNPROVED]), len(bare))  # fmt: skip


def _test(model: Model, by_id: Found, plan: Plan, checks: Sequence[Check]) -> ProofTest | None:
    start = f"proof.{plan.key}."
    here = {k.removeprefix(start): r for k, r in by_id.items() if k.startswith(start)}
    if "bags" not in here:
        return None
    units, whole = model.drawing_units, here["bags"]
    steps = [s for s in whole.steps if s.title.startswith("step ")]
    parts = [_given(s, "part of limit") for s in steps]
    halves = tuple(_half(here, surface, len(parts), units) for surface in plan.surfaces)
    return ProofTest(
        f"Proof load: {plan.title}",
        (*_state(plan, here, steps, units), *_forbidden(plan, checks)),
        halves,
        tuple(_tables(here, steps, units)),
        _side(model, plan, here, units),
    )


def _state(plan: Plan, here: Found, steps: Sequence[Step], units: str) -> tuple[str, ...]:
    """How it lies, the case, the bags."""
    whole, tilt = here["bags"], math.degrees(here["tilt"].value)
    bag = steps[0].title.split("bags of ")[1].split(" kg")[0]
    one = _mass(float(bag), units)
    lower = f"nose {figure(tilt, 1)} deg lower than level" if tilt >= 0 else f"tail {figure(-tilt, 1)} deg lower"
    level = "level" if abs(tilt) < 0.05 else lower
    why = (
        ""
        if any(k.startswith("move.") for k in here)
        else (" NOT TO BE DONE YET: the frame under these bags is not worked out; the report says why.")
    )
    beams = BEAMS if any("beams" in r.caveat for k, r in here.items() if k.startswith("trestle.")) else ""
    return (
        f"Lies {plan.lies}, {level}.{beams} Stands for {_case(whole.source)}.{why}",
        f"Bags of {one} and halves of them; at limit load {_mass(whole.value, units)} in all. Numbers in the cells are "
        "bags on one side, from the first step above to the last below; both sides at once, from the root outwards.",
        *(BOARDS if any(k.startswith("board.") for k in here) else ()),
        *(ROPES if any(k.startswith("rope.") for k in here) else ()),
    )


BEAMS = (
    " Trestles: a wing runs through beneath, so two beams fore and aft in the gap carry these nodes, on trestles ahead "
    "of and behind the wing."
)
BREAKS = ("case", "tested", "others")  # ends of the ids of checks that say that a test would break something


def _forbidden(plan: Plan, checks: Sequence[Check]) -> Iterator[str]:
    """What the checks say against loading it at all."""
    ids = [f"proof.{plan.key}.{end}" for end in BREAKS]
    bad = [c.title.split(": ", 1)[-1] for c in checks if c.id in ids and c.verdict == "fail"]
    if bad:
        yield f"NOT TO BE LOADED TO THE LAST STEP AS IT STANDS, a check fails: {'; '.join(bad)}. Ask the designer."


def _mass(kg: float, units: str) -> str:
    shown = unit_of("kg", units)
    return f"{figure(kg * shown.factor, 0)} {shown.name}"


def _given(step: Step, name: str) -> float:
    return next(v for n, v, _ in step.given if n == name)


def _case(source: str) -> str:
    """The case by its title and paragraph, its key left to the report.

    >>> _case("case A.max_aft: pulled up to the limit; cs-vla 337(a)")
    'pulled up to the limit; cs-vla 337(a)'
    """
    return source.split(": ", 1)[-1]


def _half(here: Found, surface: str, count: int, units: str) -> HalfPlan:
    """The bays of a surface with the bags of every step on both lines."""
    rows = {line: [r for k, r in here.items() if k.startswith(f"cell.{surface}.{line}.")] for line in LINES}
    shown, bays = unit_of("m", units), list[Bay]()
    for front, rear in zip(rows["front"], rows["rear"], strict=True):
        inner, outer = (_given(front.steps[0], f"{w} rib") for w in ("inner", "outer"))
        each = tuple(tuple(bags(s.value) for s in r.steps[1:]) for r in (front, rear))
        bays.append(Bay(inner, outer, figure(outer * shown.factor, 1), *each))
    start = figure(bays[0].inner * shown.factor, 1)
    words = f"{surface_words(surface)}: {_lines(rows)}; ribs at, {shown.name}"
    return HalfPlan(words, tuple(bays), start, count)


def _lines(rows: Mapping[str, Sequence[Result]]) -> str:
    """Where the chord lines are, if they are the same in every bay."""
    at = {line: {100 * r.steps[0].value for r in rows[line]} for line in LINES}
    if any(len(found) > 1 for found in at.values()):
        return "lines bay by bay as below"
    front, rear = (next(iter(at[line])) for line in LINES)
    return f"front line at {front:.0f} %, rear line at {rear:.0f} % of the chord"


def bags(count: float) -> str:
    """A number of bags, whole ones and a half.

    >>> bags(3.0), bags(12.5), bags(0.5)
    ('3', '12½', '½')
    """
    whole, half = divmod(round(2 * count), 2)
    return f"{whole if whole or not half else ''}{'½' * half}"


def _slanted(here: Found, units: str) -> Iterator[FormTable]:
    """The chord lines of surfaces where they differ from bay to bay, from the leading edge."""
    columns = (Column("from", share=1.0), Column("to", share=1.0), Column("front line", share=1.2),
               Column("rear line", share=1.2))  # fmt: skip
    shown, found = unit_of("m", units), dict[str, list[tuple[Result, Result]]]()
    for key, front in here.items():
        kind, *rest = key.split(".")
        if kind == "cell" and rest[1] == "front":
            found.setdefault(rest[0], []).append((front, here[f"cell.{rest[0]}.rear.{rest[2]}"]))
    for both in found.values():
        if len({r.steps[0].value for pair in both for r in pair}) > len(LINES):
            rows = tuple(
                (f"bay {i}", *(figure(_given(a.steps[0], f"{w} rib") * shown.factor, 1) for w in ("inner", "outer")),
                 *(f"{figure(100 * r.steps[0].value, 1)} %" for r in (a, b)))
                for i, (a, b) in enumerate(both, 1)
            )  # fmt: skip
            yield FormTable(f"Lines, {shown.name}", columns, rows, 1.4)


def _turning(here: Found, steps: Sequence[Step], units: str) -> Iterator[FormTable]:
    """Boards across the wing and ropes over a beam."""
    shown, numbers = unit_of("m", units), tuple(Column(f"step {i}", share=0.7) for i in range(1, len(steps) + 1))
    boards = [r for k, r in here.items() if k.startswith("board.")]
    if boards:
        places = (Column("rib", share=0.8), Column("A", share=0.8), Column("B", share=0.8))
        rows = []
        for r in boards:
            of = (_given(r.steps[0], x) for x in ("rib", "ahead of the leading edge", "behind the trailing edge"))
            end = "A" if r.caveat == "front" else "B"
            name = f"{r.title.split(':')[0]}, bags at {end}"
            rows.append((name, *(figure(v * shown.factor, 1) for v in of), *(bags(s.value) for s in r.steps[1:])))
        yield FormTable(f"Boards, {shown.name}",
                        (*places, *numbers), tuple(rows), 3.0)  # fmt: skip
    ropes = [r for k, r in here.items() if k.startswith("rope.")]
    if ropes:
        lines = tuple((r.title.split(" over")[0], *(bags(s.value) for s in r.steps[1:])) for r in ropes)
        yield FormTable("Ropes: bags", numbers, lines, 3.0)


def _proves(here: Found) -> Iterator[FormTable]:
    """The members that the test proves, those that flight uses most."""
    steps = here["proves"].steps if "proves" in here else ()
    columns = (Column("flight", "of limit", 1.0), Column("test", "of limit", 1.0), Column("test/flight", share=1.0))
    rows = tuple(
        (s.title, *(f"{100 * v:.0f} %" for v in (_given(s, "greatest in flight"), _given(s, "in the test"), s.value)))
        for s in steps[:PROVED]
    )
    if rows:
        more = f": {PROVED} of {len(steps)}" if len(steps) > PROVED else ""
        yield FormTable(f"It proves{more}", columns, rows, 4.0)


PROVED = 10  # members on the sheet; the report has all


def _tables(here: Found, steps: Sequence[Step], units: str) -> Iterator[FormTable]:
    """The steps, then a table of points for each."""
    kg = unit_of("kg", units)
    heads = (
        Column("of limit", share=1.0),
        Column(f"bags, {kg.name}", share=1.2),
        Column("time", share=1.2, hand=True),
        Column("heard, seen", share=3.0, hand=True),
        Column("initials", share=1.2, hand=True),
    )
    rows = tuple(
        (f"step {i}", f"{100 * _given(s, 'part of limit'):.0f} %", figure(s.value * kg.factor, 0))
        for i, s in enumerate(steps, 1)
    )
    yield FormTable("Steps", heads, (*rows, ("unloaded", "0 %", "0")), 1.4)
    yield from _slanted(here, units)
    yield from _turning(here, steps, units)
    yield from _proves(here)
    yield from _measured(here, steps, units)
    yield from _pressed(here, units)


def _measured(here: Found, steps: Sequence[Step], units: str) -> Iterator[FormTable]:
    moves = {k: r for k, r in here.items() if k.startswith(("move.", "twist."))}
    if not moves:
        return
    length, angle = unit_of("m", units), unit_of("rad", units)
    columns = (
        Column("predicted", share=1.3),
        Column("least", share=0.9),
        Column("most", share=0.9),
        Column("right", "measured", 1.3, True),
        Column("left", "measured", 1.3, True),
    )
    for i, step in enumerate(steps, 1):
        rows = []
        for key, r in moves.items():
            shown = angle if key.startswith("twist.") else length
            s = r.steps[i - 1]
            places = TENTH if shown.name in ("mm", "deg") else 2
            rows.append(
                (
                    _named(key, r, units),
                    *(figure(v * shown.factor, places) for v in (s.value, _given(s, "least"), _given(s, "most"))),
                )
            )
        part = 100 * _given(step, "part of limit")
        yield FormTable(f"Step {i}: {part:.0f} %", columns, tuple(rows), 3.4)
    blank = tuple((_named(k, r, units), "0") for k, r in moves.items())
    last = (
        Column("wanted", share=1.3),
        Column("right", "set left after", 2.2, True),
        Column("left", "unloading", 2.2, True),
    )
    yield FormTable("Unloaded", last, blank, 3.4)


def _named(key: str, r: Result, units: str) -> str:
    """Short enough for a row: the spar and its buttline, or the corner of the tail."""
    kind, surface, *rest = key.split(".")
    wing = "" if surface == "wing" else f"{surface.replace('_', ' ')} "
    if kind == "twist":
        return f"{wing}tip turns, {unit_of('rad', units).name}"
    shown = unit_of("m", units)
    if len(rest) < 2:
        return f"{surface} tip, {shown.name}"
    out = figure(_given(r.steps[0], "buttline") * shown.factor, 0)
    return f"{wing}{rest[0].replace('_', ' ')} spar, BL {out}, {shown.name}"


def _pressed(here: Found, units: str) -> Iterator[FormTable]:
    rows, shown = [], unit_of("N", units)
    for key, r in here.items():
        if key.startswith("trestle."):
            empty = r.steps[0].value
            strap = "strap down" if min(s.value for s in r.steps) < 0 else ""
            rows.append(
                (
                    f"under {key.removeprefix('trestle.')}",
                    figure(empty * shown.factor, 0),
                    figure(r.value * shown.factor, 0),
                    strap,
                )
            )
    if rows:
        columns = (
            Column("empty", share=1.0),
            Column("at limit", share=1.0),
            Column("", share=1.4),
            Column("settled", share=1.5, hand=True),
        )
        yield FormTable(f"Trestles, {shown.name}", columns, tuple(rows), 2.0)


def _static(by_id: Found, units: str) -> Iterator[FormTable]:
    """The tests without bags on a surface, in tables short enough for a page."""
    shown = unit_of("N", units)
    columns = (Column("aft", share=0.7), Column("right", share=0.7), Column("up", share=0.7),
               Column("level", share=0.9), Column("held, set", share=1.4, hand=True))  # fmt: skip
    for group, title in GROUPS.items():
        rows = [_force(r, shown.factor) for k, r in by_id.items() if k.startswith(f"proof.static.{group}.") and r.steps]
        for i in range(0, len(rows), TALL):
            more = ", continued" if i else ""
            yield FormTable(f"{title}, {shown.name}{more}", columns, tuple(rows[i : i + TALL]), 4.0)


def _force(r: Result, factor: float) -> tuple[str, ...]:
    """What it is, aft, right, up, level; what has one line of working presses down."""
    each = [s.value for s in r.steps] if len(r.steps) == 3 else [0.0, 0.0, -r.value]
    level = "ultimate" if "ultimate" in r.caveat else "limit"
    return (r.title.removeprefix("proof load, "), *(figure(v * factor, 0) for v in each), level)


# ------------------------------------------------------------------ how it lies, seen from the side


def _side(model: Model, plan: Plan, here: Found, units: str) -> SideView:
    """The frame's tubes, the wings' chords and the trestles as they stand in the shop; m, y up in the shop."""
    turn = _in_shop(plan, here["tilt"].value)
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items()}
    tubes = tuple(
        (turn(known[s.start]), turn(known[s.end]))
        for s in stretches(model.fuselage)
        if s.start in known and s.end in known
    )
    chords = tuple(_chord(model, plan, turn))
    stands = tuple(
        turn(known[k.removeprefix("trestle.")])
        for k in here
        if k.startswith("trestle.") and k.removeprefix("trestle.") in known
    )
    tilt = math.degrees(here["tilt"].value)
    words = "level" if abs(tilt) < 0.05 else f"{figure(abs(tilt), 1)} deg"
    return SideView(tubes, chords, stands, tuple(_pressing(here, turn, plan, model)), words, plan.lies)


def _in_shop(plan: Plan, tilt: float) -> Callable[[np.ndarray], tuple[float, float]]:
    """From the aeroplane's axes to a side view in the shop, nose to the left, gravity down the page."""
    c, s = math.cos(tilt), math.sin(tilt)
    on_side = plan.press[1] != 0

    def turned(p: np.ndarray) -> tuple[float, float]:
        x, up = float(p[0]), float(-p[1] if on_side else -p[2] * np.sign(plan.press[2]))
        return c * x - s * up, s * x + c * up

    return turned


def _chord(
    model: Model, plan: Plan, turn: Callable[[np.ndarray], tuple[float, float]]
) -> Iterator[tuple[tuple[float, float], ...]]:
    """The root chords of the wings, where they are on."""
    for wing in model.wings if plan.press[1] == 0 else ():
        p = wing_planform(wing)
        nose, c, a = p.leading_edge[:, 0], float(p.chord[0]), float(p.angle[0])
        yield tuple(turn(nose + f * c * np.array([math.cos(a), 0.0, -math.sin(a)])) for f in (0.0, 1.0))


def _pressing(
    here: Found, turn: Callable[[np.ndarray], tuple[float, float]], plan: Plan, model: Model
) -> Iterator[tuple[float, float]]:
    """Where the bags' lines cross the root's chord."""
    for surface in plan.surfaces:
        for line in LINES:
            first = next((r for k, r in here.items() if k.startswith(f"cell.{surface}.{line}.")), None)
            wing = next((w for w in model.wings if w.name == surface), None)
            if first is None or wing is None:
                continue
            p = wing_planform(wing)
            a, f = float(p.angle[0]), first.steps[0].value
            yield turn(p.leading_edge[:, 0] + f * float(p.chord[0]) * np.array([math.cos(a), 0.0, -math.sin(a)]))
