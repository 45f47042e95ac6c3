"""Envelope and landing: what must hold whatever the numbers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.data.loads import RULES
from sparwright.family.fitted import Rubber
from sparwright.ground.springs import cord_pull
from sparwright.loads.code import Code
from sparwright.loads.gust import Cell, air_at, in_gust
from sparwright.loads.sinking import Legs, sinks

CODE = Code("cs-vla", {**RULES["common"], **RULES["cs-vla"]})
CELL = Cell(area=12.0, chord=1.2, slope=4.0)
masses = st.floats(150.0, 700.0)
speeds = st.floats(15.0, 70.0)
gusts = st.floats(1.0, 20.0)


@given(masses, speeds, gusts)
def test_gusts(mass: float, speed: float, gust: float) -> None:
    """Heavier, gentler; faster, rougher; twice the gust, twice the rise; from below as from above; thin air rougher."""
    g = in_gust(CODE, CELL, mass, speed, gust)
    assert in_gust(CODE, CELL, 1.1 * mass, speed, gust).rise < g.rise
    assert_allclose(in_gust(CODE, CELL, mass, 2 * speed, gust).rise, 2 * g.rise, rtol=1e-12)
    assert_allclose(in_gust(CODE, CELL, mass, speed, 2 * gust).rise, 2 * g.rise, rtol=1e-12)
    assert_allclose(g.up + g.down, 2.0, rtol=1e-12)
    high = Cell(area=12.0, chord=1.2, slope=4.0, density=air_at(3000.0))
    assert in_gust(CODE, high, mass, speed, gust).rise > g.rise
    assert 0 < g.relief < 0.88


@given(masses, speeds)
def test_a_heavier_aeroplane_bears_more_load_in_a_gust_all_the_same(mass: float, speed: float) -> None:
    """n falls with the mass, but the force n m does not: the heaviest still decides spars."""
    light, heavy = (in_gust(CODE, CELL, m, speed, 15.24) for m in (mass, 1.2 * mass))
    assert heavy.rise * 1.2 * mass > light.rise * mass


def test_no_mass_ratio_no_relief() -> None:
    assert math.isnan(in_gust(CODE, Cell(area=12.0, chord=1.2, slope=-4.0), 300.0, 30.0, 15.24).up)


# ------------------------------------------------------------------ landing

RUBBER = Rubber(source="invented", cord=0.016, turns=3, strand=0.115, stretched=0.14, stretch=(0.1, 0.5, 1.0, 1.5, 2.0),
                pull=(180.0, 450.0, 720.0, 1100.0, 1500.0), band=0.15)  # fmt: skip
LEG = Legs(rubber=RUBBER, stop=0.15, tyre=70e3, pressed=0.11)


def dropped(mass: float, speed: float, lift: float) -> float:
    """Greatest load on one wheel, N, step by step in time: body on cord and tyre in series, no axle mass."""
    fine = np.linspace(0.0, LEG.stop, 2001)
    cord = np.array([cord_pull(RUBBER, float(u)) for u in fine])
    loads = np.concatenate([[0.0], cord, [cord[-1] * 4]])
    rises = np.concatenate([[0.0], fine, [LEG.stop]])
    sunk = rises + loads / LEG.tyre  # way of the body at each load
    x, v, step, most = 0.0, speed, 2e-5, 0.0
    while v > 0:
        load = float(np.interp(x, sunk, loads))
        most = max(most, load)
        v += step * (GRAVITY * (1 - lift) - 2 * load / mass)
        x += step * v
    return most


@pytest.mark.parametrize(("mass", "speed"), [(200.0, 1.5), (350.0, 2.13), (420.0, 2.3)])
def test_energy_gives_what_the_drop_does(mass: float, speed: float) -> None:
    """By energy and by stepping through the drop: the load alike to the step's and the cord's fineness, 0.5 %."""
    found = sinks(LEG, mass, speed, 2 / 3)
    assert not found.why
    assert_allclose(found.load, dropped(mass, speed, 2 / 3), rtol=5e-3)
    assert_allclose(found.ground, 2 * found.load / (mass * GRAVITY), rtol=1e-12)


def test_harder_landings_load_more() -> None:
    loads = [sinks(LEG, 350.0, s, 2 / 3).load for s in (0.5, 1.0, 1.5, 2.0)]
    assert loads == sorted(loads) and loads[0] > 0
    assert sinks(LEG, 350.0, 1.5, 0.0).load > sinks(LEG, 350.0, 1.5, 2 / 3).load


def test_past_the_rim_it_is_unknown() -> None:
    found = sinks(LEG, 700.0, 4.0, 2 / 3)
    assert math.isnan(found.ground) and "rim" in found.why


def test_past_what_was_pulled_it_is_unknown() -> None:
    short = Rubber(**{**vars(RUBBER), "stretch": (0.1, 0.5), "pull": (180.0, 450.0)})
    found = sinks(Legs(rubber=short, stop=0.15, tyre=70e3, pressed=0.11), 350.0, 1.0, 2 / 3)
    assert math.isnan(found.ground) and "pulled" in found.why
