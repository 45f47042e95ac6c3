"""The air load along each wing in a case, from the lattice: how much, where along the span, how far back.

The aeroplane is trimmed at the case's lift and centre of gravity, so the wings also carry the tail's down
load. The weight of the wing itself is not taken off the load (it would relieve it: on the safe side).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sparwright.air.grid import Strips
from sparwright.air.turned import beyond
from sparwright.base.record import locked, number
from sparwright.flight.trim import Line
from sparwright.loads.envelope import DENSITY, Case


@dataclass(frozen=True)
class WingLoad:
    """The load on the right half of one wing in one case; arrays per strip, root to tip."""

    wing: str
    case: Case
    y: np.ndarray  # (m,) m
    width: np.ndarray  # (m,) m
    running: np.ndarray  # (m,) N/m, lift along the span
    moment: np.ndarray  # (m,) N m/m, of the lift about the leading edge, lift behind it positive
    chord: np.ndarray  # (m,) m
    total: float = number("N", "lift of both halves")
    share: float = number("1", "part of the lift of all wings")
    outside: str = ""  # how the lattice left its range


def wing_loads(line: Line, case: Case) -> Mapping[str, WingLoad]:
    """By wing, by the lattice turned into the stream. Raises ValueError when there is no trim at the case's lift."""
    try:
        state = line.state(case.lift)
    except ValueError as fault:
        raise ValueError(f"case {case.key}: {fault}") from fault
    alpha, q = state.alpha, DENSITY * case.speed**2 / 2
    wings = {p.name: state.strips[p.name] for p in line.company.planforms if not p.is_tail}
    whole = 2 * q * sum(float(s.lift.sum()) for s in wings.values())
    return MappingProxyType({name: _wing_load(name, s, q, whole, case, beyond(alpha)) for name, s in wings.items()})


def _wing_load(name: str, s: Strips, q: float, whole: float, case: Case, outside: str) -> WingLoad:
    running = q * s.lift / s.width
    return WingLoad(
        wing=name,
        case=case,
        y=locked(s.y),
        width=locked(s.width),
        running=locked(running),
        moment=locked(np.where(s.lift == 0, 0.0, running * np.nan_to_num(s.centre) * s.chord)),
        chord=locked(s.chord),
        total=2 * q * float(s.lift.sum()),
        share=2 * q * float(s.lift.sum()) / whole,
        outside=outside,
    )
