"""The electrics told as results and held against their rules."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.electrics import DROPS, RULES, WIRES_SOURCE
from sparwright.family.electrics import Circuit, Electrics
from sparwright.family.model import Model
from sparwright.flight.slow import told
from sparwright.parts.electrics import wire_number
from sparwright.systems.electrics import (
    LoadSum,
    alone,
    bus,
    drawn,
    drop,
    load_sums,
    may_carry,
    may_drop,
    may_guard,
    needed,
    nominal,
    wire_length,
)

NO_ELECTRICS = "the file has no [electrics]; battery, generator and circuits would settle it"
NO_SOURCE = "the file gives neither generator nor battery"
SUMS = "ac-43-13-1b 11-35"
ALONE = "usable charge over mean current"
TABLE = str(WIRES_SOURCE["table"])
GUARD = str(WIRES_SOURCE["protector"])


def electrics_results(model: Model) -> Iterator[Result]:
    """Results `electrics.*`: loads of each phase, what the battery gives alone, the wires' mass."""
    e = model.electrics
    if e is None:
        return
    sums = load_sums(e)
    for one in sums:
        for what, words in (("continuous", "that stays on"), ("mean", "with what comes and goes, by its time"),
                            ("peak", "all at once")):  # fmt: skip
            yield _sum(e, one, what, words)
    yield from _battery(e, sums)


def _sum(e: Electrics, one: LoadSum, what: str, words: str) -> Result:
    volts, phase = bus(e), one.phase.replace("_", "-")
    on = [c for c in e.circuits if one.phase in c.phases and (what != "continuous" or c.demand == "continuous")]
    given = tuple((c.name, drawn(c, volts), "A") for c in on)
    formula = {"continuous": "sum I", "mean": "sum I + sum share I", "peak": "sum I"}[what]
    value = getattr(one, what)
    step = Step(f"load, {phase}", formula, given, value, "A", SUMS)
    why = "" if math.isfinite(value) else NO_SOURCE
    return told(Band.exact(value), f"electrics.load.{one.phase}.{what}", f"load on the bus, {phase}, {words}", "A",
                SUMS, why, (step,))  # fmt: skip


def _battery(e: Electrics, sums: Sequence[LoadSum]) -> Iterator[Result]:
    """How long the battery feeds the loads of cruise by itself, and those that are needed."""
    cruise = next((s.mean for s in sums if s.phase == "cruise"), 0.0)
    yield _alone(e, "all", "everything that is on in the cruise", cruise)
    yield _alone(e, "needed", "what the flight cannot be ended without", needed_mean(e))


def needed_mean(e: Electrics) -> float:
    """Mean current of the needed loads in the phase that wants most of them, start left out, A."""
    kept = needed(e.circuits)
    return max((s.mean for s in load_sums(_only(e, kept)) if s.phase != "start"), default=0.0)


def _only(e: Electrics, circuits: tuple[Circuit, ...]) -> Electrics:
    return Electrics(battery=e.battery, generator=e.generator, circuits=circuits, antenna=e.antenna)


def _alone(e: Electrics, name: str, words: str, amperes: float) -> Result:
    title, id = f"the battery alone, {words}", f"electrics.battery.{name}"
    if e.battery is None:
        return told(UNKNOWN, id, title, "s", ALONE, "the file gives no battery")
    if amperes == 0:
        return told(UNKNOWN, id, title, "s", ALONE, "no circuit draws from it")
    time, b = alone(e.battery, amperes), e.battery
    given = (("Q", b.capacity, "C"), ("usable", b.usable, "1"), ("I", amperes, "A"))
    step = Step("time", "t = usable Q/I", given, time, "s", "definition of charge")
    return told(Band.exact(time), id, title, "s", ALONE, "usable part by the designer; weigh it by a test", (step,))


# ------------------------------------------------------------------ checks


def electrics_checks(model: Model) -> Iterator[Check]:
    """Checks `electrics.*`; one unknown where the file has no [electrics]."""
    e = model.electrics
    if e is None:
        yield check("electrics.load", "continuous load against the generator", UNKNOWN, math.nan, "<=", "A",
                    rule=str(RULES["share"].source), method="none", caveat=NO_ELECTRICS)  # fmt: skip
        return
    yield from _generator_checks(e)
    feeders = [c for c in e.circuits if not c.phases]
    if feeders:
        yield _feeder_check(e, feeders)
    yield _battery_check(e)
    yield from _wire_checks(model, e)
    pumps = _pump_check(model, e)
    if pumps:
        yield pumps


def _generator_checks(e: Electrics) -> Iterator[Check]:
    """The greatest continuous and mean load of any phase after the start; none without a generator."""
    if e.generator is None:
        return
    rule = RULES["watched" if e.generator.watched else "share"]
    gives = e.generator.power / e.generator.voltage
    sums = [s for s in load_sums(e) if s.phase != "start"]
    step = Step("what it gives", "I = P/U", (("P", e.generator.power, "W"), ("U", e.generator.voltage, "V")), gives,
                "A", "definition of power")  # fmt: skip
    speed = "" if e.generator.speed else "the file does not say from what engine speed it gives that"
    for name, what, part in (("load", "continuous", rule.value), ("mean", "mean", 1.0)):
        worst = max(sums, key=lambda s: getattr(s, what), default=None)
        amperes = getattr(worst, what) if worst else math.nan
        phase = worst.phase if worst else ""
        yield check(
            f"electrics.{name}", f"{what} load against {100 * part:.0f} % of the generator", Band.exact(amperes),
            part * gives, "<=", "A", case=phase, rule=str(rule.source), method=SUMS,
            caveat=speed if worst else "the file has no circuits", steps=(step,),
            parents=(f"electrics.load.{phase}.{what}",) if worst else (),
        )  # fmt: skip


def _feeder_check(e: Electrics, feeders: Sequence[Circuit]) -> Check:
    """What the wires to the bus are meant for, together, against everything on at once after the start."""
    volts = bus(e)
    peak = max((s.peak for s in load_sums(e) if s.phase != "start"), default=math.nan)
    meant = math.fsum(drawn(c, volts) for c in feeders)
    return check("electrics.feeder", "current that the wires to the bus are meant for, against all loads at once",
                 Band.exact(meant), peak, ">=", "A", rule="ac-43-13-1b 11-48", method=SUMS)  # fmt: skip


def _battery_check(e: Electrics) -> Check:
    amperes = needed_mean(e)
    time = alone(e.battery, amperes) if e.battery and amperes > 0 else math.nan
    why = "the file gives no battery" if e.battery is None else "no circuit is said to be needed" if not amperes else ""
    return check("electrics.battery", "needed loads on the battery alone", Band.exact(time), RULES["battery"].value,
                 ">=", "s", rule=str(RULES["battery"].source), method=ALONE, caveat=why,
                 parents=("electrics.battery.needed",))  # fmt: skip


Of = Callable[[Circuit], float]


def _wire_checks(model: Model, e: Electrics) -> Iterator[Check]:
    """The wire nearest to each limit: voltage lost, current, protector over the wire, protector over the load."""
    volts = bus(e)
    allowed = DROPS.get(nominal(volts))
    guarded = [c for c in e.circuits if c.protector != "none"]
    steady = [c for c in e.circuits if c.demand == "continuous"]
    table = str(allowed.source) if allowed else "ac-43-13-1b table 11-6"
    lost = "" if allowed else f"the table has rows for 14 and 28 V; this bus has {volts:.3g} V"
    yield _worst(model, "drop", "voltage lost in the wire that loses most of what it may", e.circuits,
                 lambda c: drop(c, volts), lambda c: may_drop(c, volts), "V", table, lost)  # fmt: skip
    yield _worst(model, "wire", "continuous current of the wire nearest to its limit", steady,
                 lambda c: drawn(c, volts), may_carry, "A", TABLE,
                 "wires of loads that come and go are not in it")  # fmt: skip
    yield _worst(model, "protector", "protector that is largest for its wire", guarded,
                 lambda c: c.rating if c.rating is not None else math.nan, may_guard, "A", GUARD)  # fmt: skip
    yield _worst(model, "opens", "current of the load nearest to what its protector opens at", guarded,
                 lambda c: drawn(c, volts), lambda c: c.rating if c.rating is not None else math.nan, "A",
                 "ac-43-13-1b 11-48", "")  # fmt: skip


def _worst(model: Model, name: str, title: str, circuits: Sequence[Circuit], value: Of, limit: Of, unit: str,
           rule: str, note: str = "") -> Check:  # fmt: skip
    """The circuit with the least room; unknown where any of them is."""
    found = [(c, value(c), limit(c)) for c in circuits]
    unknown = [c for c, v, most in found if not (math.isfinite(v) and math.isfinite(most))]
    if unknown or not found:
        why = f"not known of {', '.join(c.name for c in unknown)}" if unknown else "no such circuit in the file"
        return check(f"electrics.{name}", title, UNKNOWN, math.nan, "<=", unit, rule=rule, method=rule,
                     caveat="; ".join(filter(None, (why, note))))  # fmt: skip
    c, v, most = max(found, key=lambda f: f[1] / f[2])
    steps = tuple(_step(name, one, x, unit) for one, x, _ in found)
    return check(f"electrics.{name}", f"{title}: {c.name}", Band.exact(v), most, "<=", unit,
                 part=wire_number(model, c), rule=rule, method=rule, caveat=note, steps=steps)  # fmt: skip


def _step(name: str, c: Circuit, value: float, unit: str) -> Step:
    given = (("L", wire_length(c), "m"), ("gauge", float(c.gauge), "1")) if name == "drop" else ()
    return Step(c.name, "U = R L I" if name == "drop" else "I", given, value, unit, TABLE if name == "drop" else "")


def _pump_check(model: Model, e: Electrics) -> Check | None:
    """Every electric fuel pump has a circuit."""
    fuel = model.fuel
    pumps = {f"fuel.{k}": getattr(fuel, k) for k in ("pump", "emergency")} if fuel else {}
    electric = [k for k, p in pumps.items() if p and p.drive == "electric"]
    if not electric:
        return None
    fed = [k for k in electric if any(c.feeds == k for c in e.circuits)]
    gone = ", ".join(k for k in electric if k not in fed)
    return check("electrics.pumps", "electric fuel pumps that a circuit feeds", Band.exact(float(len(fed))),
                 float(len(electric)), ">=", "1", rule="the designer's own: [fuel] against [electrics]",
                 method="counted", caveat=f"no circuit feeds {gone}" if gone else "")  # fmt: skip
