"""What an engine burns at part throttle: by its law, by points of the file, and where it is not known."""

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.family.model import CurvePoint, Engine, PartPoint
from sparwright.power.engine import LAWS, fastest, fuel_flow, fuel_flows, full_throttle, greatest_speed, part_throttle

B = 0.3 / 3.6e6
CURVE = tuple(CurvePoint(speed=s, power=p, consumption=B) for s, p in ((30.0, 15e3), (45.0, 26e3), (55.0, 30e3)))
FOUR = Engine(name="made up", strokes=4, cylinders=4, mass=60.0, mass_band=0.0, place=(0.0, 0.0, 0.0), curve=CURVE)
TWO = replace(FOUR, strokes=2)
TOLD = replace(FOUR, part_throttle=(PartPoint(speed=50.0, power=14e3, consumption=1.2 * B),
                                    PartPoint(speed=52.0, power=21.6e3, consumption=1.05 * B)))  # fmt: skip


@pytest.mark.parametrize("engine", [FOUR, TWO, TOLD])
def test_full_throttle_is_the_curve_and_fuel_grows_with_power(engine):
    assert_allclose(fuel_flow(engine, 45.0, 26e3).value, 26e3 * B, rtol=1e-9, atol=0)
    power = np.linspace(0.56, 1.0, 30) * full_throttle(engine, 45.0)
    value, low, high = fuel_flows(engine, np.full(30, 45.0), power)
    assert np.all(np.diff(value) > 0)
    assert np.all((low <= value) & (value <= high))


@pytest.mark.parametrize(("engine", "least"), [(FOUR, 0.30), (TWO, 0.40), (TOLD, 14 / 28)])
def test_below_what_is_known_it_is_unknown(engine, least):
    full = full_throttle(engine, 50.0)
    assert math.isfinite(fuel_flow(engine, 50.0, (least + 0.01) * full).value)
    assert math.isnan(fuel_flow(engine, 50.0, (least - 0.01) * full).value)
    assert math.isnan(fuel_flow(engine, 50.0, 1.01 * full).value)
    assert math.isnan(fuel_flow(engine, 60.0, 10e3).value)


def test_the_line_without_enrichment_is_straight_to_what_turns_it_over():
    """Willans: b/b0 L is straight over L, and w at none; here the end of the band that has no richer full throttle."""
    w = LAWS[4].idle.high
    L = np.array([0.3, 0.5, 0.7, 0.9])
    assert_allclose(part_throttle(FOUR, L)[2] * L, w + (1 - w) * L, rtol=1e-12, atol=0)


def test_points_of_the_file_are_met_and_narrow_the_band():
    at = part_throttle(TOLD, np.array([14 / 28, 21.6 / 28.8]))
    assert_allclose(at[0], [1.2, 1.05], rtol=1e-9, atol=0)
    by_law = part_throttle(FOUR, np.array([0.6]))
    by_points = part_throttle(TOLD, np.array([0.6]))
    assert by_points[2] - by_points[1] < by_law[2] - by_law[1]


def test_two_points_at_one_load_are_a_band():
    told = replace(FOUR, part_throttle=(PartPoint(speed=45.0, power=13e3, consumption=1.1 * B),
                                        PartPoint(speed=50.0, power=14.1e3, consumption=1.3 * B)))  # fmt: skip
    value, low, high = part_throttle(told, np.array([0.5]))[:, 0]
    assert low < 1.1 < value < 1.3 < high


def test_a_hot_day_takes_power_by_the_root_of_the_temperature():
    standard, hot = atmosphere(1000.0), atmosphere(1000.0, 20.0)
    ratio = full_throttle(FOUR, 45.0, hot) / full_throttle(FOUR, 45.0, standard)
    assert_allclose(ratio, math.sqrt(standard.temperature / hot.temperature), rtol=1e-9, atol=0)
    assert_allclose(full_throttle(FOUR, 45.0, standard), full_throttle(FOUR, 45.0, standard.density), rtol=1e-6, atol=0)


def test_the_greatest_speed_is_the_files_or_the_curves():
    assert greatest_speed(FOUR) == fastest(FOUR) == 55.0
    assert (greatest_speed(replace(FOUR, greatest_speed=58.0)), fastest(replace(FOUR, greatest_speed=58.0))) == (
        58.0,
        55.0,
    )
    assert fastest(replace(FOUR, greatest_speed=50.0)) == 50.0
    assert math.isnan(greatest_speed(replace(FOUR, curve=())))
