"""Neutral point and static margin, stick fixed, power off.

Symbols: CLa lift slope, CMa slope of the moment about the centre of gravity with elevator fixed, hn neutral point,
h centre of gravity, both fractions of the cell's mean chord.

    hn = h - (CMa + CMa_body)/CLa, at the trimmed state

Source: anderson-flight ch. 7; the lattice brings downwash and tail in one matrix. Band: a turning tractor propeller
and its slipstream move it forward by up to 0.04, and the fuselage's own band counts (0.04: common practice,
no source); +0.02 for the lattice and a tail in a thicker wake.
"""

from __future__ import annotations

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.base.source import Band
from sparwright.flight.aeroplane import Aeroplane
from sparwright.flight.tail import tail_volume
from sparwright.flight.trim import Cg, attached

PROPELLER, LATTICE = 0.04, 0.02


def neutral_point(plane: Aeroplane, cg: Cg, level: float, mass: float, air: Air) -> Band:
    """hn with its band, stick fixed, for a centre of gravity at this height and a level-flight CL.

    The lift leans with the angle of attack, so a wing above the centre of gravity moves hn aft as CL grows;
    the band holds CL from half to twice `level`.
    """
    line = attached(plane, cg, mass, air)
    CLa, CMa = np.array([line.slopes(CL) for CL in (level, level / 2, 2 * level)]).T
    h = (cg[0] - plane.chord_station) / plane.chord
    bodies = np.array(plane.body_slopes) - plane.body_slopes[0]
    found = h - (CMa[:, None] + bodies) / CLa[:, None]
    return Band(float(found[0, 0]), float(found.min()) - PROPELLER, float(found.max()) + LATTICE)


def volume(plane: Aeroplane, cg_station: float) -> float:
    """Tail volume lt St/(c S), arm from the centre of gravity to the tail's quarter chord."""
    tail = next(s for s in plane.company.planforms if s.is_tail)
    chord, edge, _ = tail.mean_chord
    return tail_volume(tail.area, edge + chord / 4 - cg_station, plane.area, plane.chord)
