"""Derivatives by hand: textbook closed forms from the aeroplane's sizes alone, to hold the lattice's against.

Symbols: S area of all wings, b greatest span, A = b^2/S (all wings as one of their area), c mean chord; f fin, t
tailplane: S area, l arm and z height of their quarter chord over the centre of gravity, in stream axes, A aspect ratio;
a = 2 pi A/(2 + sqrt(A^2 + 4)) lift slope (Helmbold), for the fin with A = 1.55 h^2/Sf; G dihedral; e downwash.

    fin       CYb = -af Sf/S, then Clb = CYb z/b, Cnb = -CYb l/b, CYr = -2 CYb l/b, Cnr = 2 CYb l^2/b^2,
              Clr = -2 CYb l z/b^2
    wings     Clb = -(pi/2) A/(A + 4) G, Clp = -(pi/4) A/(A + 4), Cnp = -CL/8 + 3 CL|Clp|/(pi A),
              Clr = CL/8 (1 + (A + 2)/(A + 4))
    along     CLa = a + at St/S (1 - de/da), de/da = 2 a/(pi A), CLq = 2 a (3/4 - h) + 2 at St/S lt/c,
              Cmq = -2 at St/S (lt/c)^2, Cmadot = Cmq de/da

What a straight wing's lift does in a sideslip is not in Clb: it makes the lattice's the greater. Two or three wings as
one of their area wash the tail too much: their Cma and Cmadot, and Cnp as a difference, come out far from the lattice.
Sources: glauert-1926 ch. XI (elliptic wing); helmbold's slope, 1.55 and the rest nelson-1998 ch. 2, 3 (memory).
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.air.mesh import turned_by
from sparwright.flight.lateral import Lateral
from sparwright.flight.modes import Phase
from sparwright.flight.sides import body_in_sideslip, still_drag
from sparwright.flight.work import place
from sparwright.shape.planform import Planform

Hand = tuple[str, tuple[tuple[str, float, str], ...], float, str]
SOURCE = "nelson-1998 ch. 2, 3 (memory)"
GLAUERT = "glauert-1926 ch. XI; all wings as one"


def helmbold(aspect: float) -> float:
    """Lift slope of a plane wing, per rad.

    >>> round(helmbold(6.0), 3)
    4.529
    """
    return 2 * math.pi * aspect / (2 + math.hypot(aspect, 2))


def arms(lat: Lateral, phase: Phase) -> tuple[float, float]:
    """(aft, up) of the fin's quarter chord from the centre of gravity in stream axes, m."""
    f, cg = lat.flown.model.fin, place(lat.case.loading)
    up = f.span * (f.root_chord + 2 * f.tip_chord) / (3 * (f.root_chord + f.tip_chord))
    chord = f.root_chord + (f.tip_chord - f.root_chord) * up / f.span
    x, z = f.leading_edge[0] + up * math.tan(f.sweep) + chord / 4, f.leading_edge[2] + up
    aft, _, high = turned_by(np.array([x - cg[0], 0.0, z - cg[1]]), lat.sides(phase.key).alpha)
    return float(aft), float(high)


def across_by_hand(lat: Lateral, phase: Phase) -> dict[str, Hand]:
    """Sideways, by name."""
    plane, f, CL = lat.flown.plane, lat.flown.model.fin, phase.lift
    S, b = plane.area, lat.span
    A, Sf = b * b / S, f.span * (f.root_chord + f.tip_chord) / 2
    l, z = arms(lat, phase)
    Y = -helmbold(1.55 * f.span**2 / Sf) * Sf / S
    G = _dihedral(plane.company.planforms)
    flat = A / (A + 4)
    force, _, moment = body_in_sideslip(lat.flown.model.fuselage.body)
    body, rest = -moment / (S * b), still_drag(lat.flown, CL)
    fin = (("Sf", Sf, "m2"), ("S", S, "m2"), ("CYb fin", Y, "1/rad"))
    both = (*fin, ("l", l, "m"), ("z", z, "m"), ("b", b, "m"))
    more, lift = ("A", A, "1"), ("CL", CL, "1")
    roll, yawed = -math.pi / 4 * flat, CL / 8 * (1 + (A + 2) / (A + 4))
    drag = -phase.coefficients["CD"].value / 6
    return {
        "CYb": (
            "-af Sf/S - body - drag",
            (*fin, ("body", force / S, "1/rad"), ("drag", rest, "1")),
            Y - force / S - rest,
            SOURCE,
        ),
        "Cnb": ("-CYb l/b + body", (*both, ("body", body, "1/rad")), -Y * l / b + body, f"{SOURCE}; naca-tr-184"),
        "Clb": (
            "-(pi/2) A/(A + 4) G + CYb z/b",
            (*both, more, ("G", G, "rad")),
            -math.pi / 2 * flat * G + Y * z / b,
            SOURCE,
        ),
        "Clp": ("-(pi/4) A/(A + 4)", (more,), roll, GLAUERT),
        "Cnp": ("-CL/8 + 3 CL|Clp|/(pi A)", (more, lift), -CL / 8 - 3 * CL * roll / (math.pi * A), GLAUERT),
        "CYr": ("-2 CYb l/b", both, -2 * Y * l / b, SOURCE),
        "Clr": (
            "CL/8 (1 + (A + 2)/(A + 4)) - 2 CYb l z/b2",
            (*both, more, lift),
            yawed - 2 * Y * l * z / b**2,
            GLAUERT,
        ),
        "Cnr": ("2 CYb l2/b2 - CD/6", (*both, ("CD", -6 * drag, "1")), 2 * Y * l * l / b**2 + drag, SOURCE),
        "CnR": ("-CYb t l/b", (*both, ("t", _turns(f.hinge), "1")), -Y * l / b * _turns(f.hinge), SOURCE),
    }


def along_by_hand(lat: Lateral, phase: Phase) -> dict[str, Hand]:
    """Along, by name."""
    plane, cg = lat.flown.plane, place(lat.case.loading)
    tail = next(p for p in plane.company.planforms if p.is_tail)
    A, S = lat.span**2 / plane.area, plane.area
    a, at = helmbold(A), helmbold(tail.span**2 / tail.area)
    chord, station, _ = tail.mean_chord
    arm, turned = station + chord / 4 - cg[0], 2 * a / (math.pi * A)
    share = at * tail.area / S
    given = (("a", a, "1/rad"), ("at", at, "1/rad"), ("St/S", tail.area / S, "1"), ("de/da", turned, "1"))
    more = (*given, ("lt", arm, "m"), ("c", plane.chord, "m"))
    fore = (cg[0] - plane.chord_station) / plane.chord - 0.25
    body = plane.body_slopes[0]
    pitched = (*more, ("h - 1/4", fore, "1"), ("body", body, "1/rad"))
    rate = -2 * share * (arm / plane.chord) ** 2
    moment = a * fore - share * (1 - turned) * arm / plane.chord + body
    return {
        "CLa": ("a + at St/S (1 - de/da)", given, a + share * (1 - turned), SOURCE),
        "Cma": ("a (h - 1/4) - at St lt/(S c)(1 - de/da) + body", pitched, moment, f"anderson-flight 7.28; {SOURCE}"),
        "CLq": ("2 a (3/4 - h) + 2 at St/S lt/c", (*more, ("h", fore + 0.25, "1")),
                2 * a * (0.5 - fore) + 2 * share * arm / plane.chord, SOURCE),
        "Cmq": ("-2 at St/S (lt/c)2", more, rate, SOURCE),
        "Cmadot": ("Cmq de/da", more, rate * turned, SOURCE),
    }  # fmt: skip


def _dihedral(planforms: tuple[Planform, ...]) -> float:
    """Mean dihedral of the wings, rad, each strip by c y: as it counts for the rolling moment."""
    total, first = 0.0, 0.0
    for p in (p for p in planforms if not p.is_tail):
        y = np.linspace(p.side, p.leading_edge[1, -1], 201)
        rise = np.gradient(np.interp(y, p.leading_edge[1], p.leading_edge[2]), y)
        weight = np.interp(y, p.leading_edge[1], p.chord) * y
        total, first = total + float(weight.sum()), first + float((weight * np.arctan(rise)).sum())
    return first / total


def _turns(hinge: float) -> float:
    """Part of a flap's angle that counts as angle of attack, thin aerofoil: 1 - (th - sin th)/pi, cos th = 2 E - 1."""
    th = math.acos(2 * (1 - hinge) - 1)
    return 1 - (th - math.sin(th)) / math.pi
