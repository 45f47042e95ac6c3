"""Cables and wires pulled: strength with their ends, stretch, the load on a pulley. Ultimate loads in, use out.

Symbols: P pull, P_b breaking strength of the bare cable (data/cables.csv), eta share that its ends keep
(data/factors.toml), s share of the load that the worse of two parallel wires carries, D diameter of the cable, G its
stretch in per cent of W/D^2 (lbf, in), E on the area of the whole round, D_p pulley at the bottom of its groove.

    use  s P/(eta P_b)
    E A = E pi D^2/4, E = 400/(pi G) psi
    load on a pulley  2 P sin(w/2), w the angle turned
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.base.quantity import parse
from sparwright.data.factors import table
from sparwright.strength.members.margin import finite, first, verdict, within, worst

PULLEY = 20.0  # D_p/D for long life: a defence study of 1974, quoted (second-hand); no rule asks it


def use(load: ArrayLike, breaking: ArrayLike, end: ArrayLike, share: ArrayLike = 1.0) -> np.ndarray:
    """s P/(eta P_b). load P, N, pull positive, of all parallel wires; breaking P_b, N; end eta; share s.

    share: 1 for one wire, or when one of two is to carry all; 0.5 for two that are known to share evenly.
    A slack wire uses nothing. NaN where end or share is not above nought and up to one.
    """
    eta, s = np.asarray(end, dtype=float), np.asarray(share, dtype=float)
    s = within((s > 0) & (s <= 1), s)
    P = worst(np.asarray(load, dtype=float), 0.0)
    return np.asarray(s * P / (within((eta > 0) & (eta <= 1), eta) * np.asarray(breaking, dtype=float)))


def stiffness(construction: str, diameter: ArrayLike) -> np.ndarray:
    """E A, N, of a bedded-in cable on file: "1x19", "7x7", "7x19", each also with "-stainless"; NaN for another.

    diameter D, m. Source: strand-stretch-chart (read); an older figure for 7x19 is in docs/accuracy.md. New cable
    gives up to 1 % of its length more once, unless it was pulled before.

    >>> round(float(stiffness("1x19", 0.0254 / 8)) / 1000)
    996
    """
    D = np.asarray(diameter, dtype=float)
    row = table("cable_stretch").get(construction)
    youngs = 400 / (np.pi * row.value) * parse("1 psi", "pressure") if row else math.nan
    return np.asarray(youngs * np.pi * D**2 / 4)


def metal(construction: str) -> float:
    """Part of a cable's round that is metal, by geometry: wires touching, all of one diameter. NaN for another.

    1x19 lies 5 wires across, 7x7 9, 7x19 15: n/across^2.

    >>> round(metal("7x19"), 3)
    0.591
    """
    found = {"1x19": (19, 5), "7x7": (49, 9), "7x19": (133, 15)}.get(construction)
    return found[0] / found[1] ** 2 if found else math.nan


def pulley_load(load: ArrayLike, angle: ArrayLike) -> np.ndarray:
    """2 P sin(w/2), N, on the pulley's pin; angle w the cable is turned by, rad, 0 to pi."""
    w = np.asarray(angle, dtype=float)
    return np.asarray(2 * np.asarray(load, dtype=float) * np.sin(within((w >= 0) & (w <= np.pi), w) / 2))


def pulley_caveat(pulley: float, diameter: float) -> str:
    """What is to be said of a pulley's size: nothing from 20 cable diameters; less wears the cable out sooner.

    What a small pulley takes from a cable's strength at once is not on file: unknown.

    >>> pulley_caveat(0.050, 0.0032)
    'pulley of 15.6 cable diameters, 20 are wanted for long life; what it takes from the strength is not on file'
    """
    ratio = pulley / diameter
    said = f"pulley of {ratio:.1f} cable diameters, {PULLEY:g} are wanted for long life"
    return f"{said}; what it takes from the strength is not on file" if ratio < PULLEY else ""


def working(load: float, breaking: float, end: float, share: float = 1.0) -> tuple[Step, ...]:
    """One cable, line by line."""
    kept = end * breaking
    why = first(
        finite(load=load, breaking=breaking, end=end),
        "" if 0 < end <= 1 and 0 < share <= 1 else "end and share must be above nought and at most one",
    )
    given = (("s", share, "1"), ("P", load, "N"), ("eta P_b", kept, "N"))
    return (
        Step("strength with its ends", "eta P_b", (("eta", end, "1"), ("P_b", breaking, "N")), kept, "N",
             "ac-43-13-1b, or the source of the end"),
        *verdict(float(use(load, breaking, end, share)), "s P/(eta P_b)", given, why),
    )  # fmt: skip
