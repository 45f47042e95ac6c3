"""The load on generator and battery, and what each wire loses, carries and is guarded by.

Symbols: I current, P power, U voltage, R resistance of a metre, L length of the conductor, Q charge, t time.

    current of a load        I, or P/U
    load of a phase          sum of I that stay on;  mean: + share I of those that come and go;  peak: sum of every I
    on the battery alone     t = usable Q/I mean
    voltage lost in a wire   U = R L I;  L is twice the run where a second wire brings the current back

The frame's own resistance is left out. R is at 20 C; a warm wire loses more (0.39 % a kelvin). A battery emptied
fast gives less than its maker's charge: `usable` stands for that too. Source: ac-43-13-1b 11-35, 11-66, tables 11-3,
11-6, 11-9.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sparwright.base.record import number
from sparwright.data.electrics import DROPS, INSULATIONS, WIRES
from sparwright.family.electrics import PHASES, Battery, Circuit, Electrics


@dataclass(frozen=True)
class LoadSum:
    """What is drawn in one phase of flight, A."""

    phase: str
    continuous: float = number("A", "of the loads that stay on")
    mean: float = number("A", "with those that come and go by their share of the time")
    peak: float = number("A", "of all at once")


def bus(electrics: Electrics) -> float:
    """Voltage of the bus, V: the generator's, else the battery's; NaN without either."""
    source = electrics.generator or electrics.battery
    return source.voltage if source else math.nan


def nominal(volts: float) -> int:
    """The system a bus belongs to, 14 or 28 V; nought where it is neither.

    >>> nominal(13.8), nominal(28.0), nominal(48.0)
    (14, 28, 0)
    """
    return next((n for n in DROPS if abs(volts - n) <= 0.2 * n), 0)


def drawn(circuit: Circuit, volts: float) -> float:
    """Current of a circuit while it is on, A: as said, else its power at the bus's voltage."""
    if circuit.current is not None:
        return circuit.current
    return circuit.power / volts if circuit.power is not None else math.nan


def load_sum(circuits: Iterable[Circuit], phase: str, volts: float) -> LoadSum:
    """Loads of a phase added up."""
    on = [(c, drawn(c, volts)) for c in circuits if phase in c.phases]
    steady = math.fsum(i for c, i in on if c.demand == "continuous")
    mean = steady + math.fsum(c.share * i for c, i in on if c.demand == "intermittent")
    return LoadSum(phase, steady, mean, math.fsum(i for _, i in on))


def load_sums(electrics: Electrics) -> tuple[LoadSum, ...]:
    """One for each phase that any circuit is on in."""
    volts, circuits = bus(electrics), electrics.circuits
    return tuple(load_sum(circuits, p, volts) for p in PHASES if any(p in c.phases for c in circuits))


def alone(battery: Battery, amperes: float) -> float:
    """How long a battery feeds a current by itself, s; infinite for none.

    >>> alone(Battery(item="battery", voltage=12, capacity=18 * 3600, usable=0.75), 4.5) / 3600
    3.0
    """
    return battery.usable * battery.capacity / amperes if amperes > 0 else math.inf


def run_length(circuit: Circuit) -> float:
    """Length of a circuit's run, one way, m."""
    return math.fsum(math.dist(a, b) for a, b in pairwise(circuit.run.values()))


def wire_length(circuit: Circuit) -> float:
    """Length of its wire, there and, where a wire brings the current back, back again, m."""
    return run_length(circuit) * (2 if circuit.back == "wire" else 1)


def drop(circuit: Circuit, volts: float) -> float:
    """Volts lost in its wire at 20 C."""
    return WIRES[circuit.gauge].ohms * wire_length(circuit) * drawn(circuit, volts)


def may_drop(circuit: Circuit, volts: float) -> float:
    """Volts it may lose; NaN where the bus is of no system of the table."""
    allowed = DROPS.get(nominal(volts))
    return getattr(allowed, circuit.demand) if allowed else math.nan


def may_carry(circuit: Circuit) -> float:
    """Amperes its wire may carry without end, in a bundle."""
    return WIRES[circuit.gauge].amps[INSULATIONS.index(circuit.insulation)]


def may_guard(circuit: Circuit) -> float:
    """The greatest protector of its kind for its wire, A; NaN where the table has none."""
    return float(getattr(WIRES[circuit.gauge], circuit.protector)) if circuit.protector != "none" else math.nan


def needed(circuits: Sequence[Circuit]) -> tuple[Circuit, ...]:
    """Those the flight cannot be ended safely without."""
    return tuple(c for c in circuits if c.needed)
