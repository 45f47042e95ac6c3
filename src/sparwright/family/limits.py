"""What the designer promises of the aeroplane, and the code and numbers its loads are made to."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.data.loads import LoadCode
from sparwright.family.stock import words


@dataclass(frozen=True, kw_only=True)
class KeptSize:
    """A size that is kept for a reason no load case asks for: a least gauge, the hand, the look."""

    part: str = words("number of the part; a * at its end takes all that begin so")
    reason: str = words("why its size stays, in your words; printed beside its margin")


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What the designer promises; checks hold the calculation against it."""

    max_mass: float = number("kg", "greatest take-off mass")
    forward_cg: float = number("1", "foremost centre of gravity, fraction of the mean chord of the wing cell")
    aft_cg: float = number("1", "aftmost centre of gravity, fraction of the mean chord of the wing cell")
    least_static_margin: float = number("1", "stick-fixed margin wanted at the aft limit, fraction of the mean chord")
    n_positive: float = number("1", "limit manoeuvre load factor")
    n_negative: float = number("1", "limit negative manoeuvre load factor, negative")
    wire_gone: float = number("1", "part of limit load to be borne with any one wire or its fitting gone", 0.5)
    position_error: tuple[float, ...] = number(
        "m/s",
        "what the airspeed indicator reads less calibrated airspeed near the stall: the least and the greatest it may "
        "be, each within 15 kt; stands until the pitot system is flown",
        (),
    )
    reserve: float | None = number(
        "s", "fuel kept back, as a time in cruise; left out: 30 minutes, by day in sight of the ground", None
    )
    never_exceed: float | None = number(
        "m/s", "speed never to be exceeded, calibrated; left out: nine tenths of the load cases' dive speed", None
    )
    code: LoadCode = words("code the load cases are those of", "cs-vla")
    design_manoeuvring: float | None = number(
        "m/s", "VA, equivalent; left out: the least the code allows at the greatest mass, VS sqrt(n)", None
    )
    design_cruise: float | None = number("m/s", "VC, equivalent; left out: the least the code allows", None)
    design_dive: float | None = number("m/s", "VD, equivalent; left out: the least the code allows", None)
    ceiling: float | None = number(
        "m", "greatest height flown at: thin air eases a gust less; left out: gusts at sea level only", None
    )
    foot: float | None = number("N", "force of a foot stepping where the wing is made for it, limit", None)
    hand: float | None = number("N", "force of a hand that pushes or lifts by a tip, the tail or a strut, limit", None)
    propeller_pull: float | None = number("N", "pull of a hand that swings the propeller, along its chord, limit", None)
    least_margin: float = number("1", "margin of strength that `sizes` looks for, over ultimate load", 0.0)
    least_gauge: float | None = number("m", "thinnest wall or sheet that `sizes` may offer; left out: any", None)
    kept: tuple[KeptSize, ...] = words("sizes that stay for a reason of your own; a list of tables", ())
    hoist: float | None = number("1", "load factor of lifting it by its hoisting points, limit", None)


RECORDS = (KeptSize,)
