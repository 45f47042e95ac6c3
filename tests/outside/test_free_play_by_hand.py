"""Free play of a surface by hand: a lever of arm a at the end of push-pull rods, with a bell-crank between.

Source: statics of levers. A rod with play r at each end lets the surface turn by 2 r/a; behind a bell-crank of arms b1
(to the hand) and b2 (to the surface) by 2 r b2/(b1 a); a pivot with play c moves the hole on it by c: c/a of the
surface's own or the hand's where no crank is between, and where a crank's two arms lie on either side of its pivot
c (1 + b2/b1)/a. Growths are differences of 1e-5 rad: 1e-6.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
import pytest

from sparwright.controls.motion import End, Motion
from sparwright.controls.play import free_play, left
from sparwright.family.controls import Rod
from sparwright.family.play import ControlPlay
from sparwright.family.stock import RoundTube
from sparwright.parts.control_runs import Hole, Lever, Link
from sparwright.parts.linkage import Run, Stance

ACROSS = np.array([0.0, 1.0, 0.0])
TUBE = RoundTube(material="4130N", outside=0.016, wall=0.001)
STICK, ARM, B1, B2 = 0.08, 0.10, 0.05, 0.07
R, C, H = 1e-4, 2e-4, 3e-4


def _lever(key: str, x: float) -> Lever:
    return Lever(key, np.array([x, 0.0, 0.0]), ACROSS)


def _rod(name: str, one: str, a: tuple[float, float], two: str, b: tuple[float, float]) -> Link:
    ends = np.array([(a[0], 0.0, a[1]), (b[0], 0.0, b[1])])
    holes = tuple(Hole(k, p, ACROSS, 0.002) for k, p in zip((one, two), ends, strict=True))
    return Link(name, "", Rod(name=name, ends=(one, two), tube=TUBE), holes, ends)  # type: ignore[arg-type]


def _motion(levers: list[Lever], links: list[Link]) -> Motion:
    by = {k.key: k for k in levers}
    run = Run(by, tuple(links), tuple(k.length(k.ends) for k in links))
    end = End("up", "aft", 0.4, 0.1, "stick")
    return Motion("flap", "flap", "flap", run, (end, end), 0.4, (Stance(MappingProxyType(dict.fromkeys(by, 0.0))),))


def direct() -> Motion:
    return _motion([_lever("stick", 0.0), _lever("flap", 1.0)],
                   [_rod("rod", "stick", (0.0, -ARM), "flap", (1.0, -ARM))])  # fmt: skip


def cranked() -> Motion:
    """The crank's arms lie one up, one down, so that the rods lie level."""
    return _motion([_lever("stick", 0.0), _lever("crank", 1.0), _lever("flap", 2.0)],
                   [_rod("first", "stick", (0.0, B1), "crank", (1.0, B1)),
                    _rod("second", "crank", (1.0, -B2), "flap", (2.0, -B2))])  # fmt: skip


@pytest.mark.parametrize(
    ("play", "angle"),
    [(ControlPlay(rod_end=R, pivot=0.0, hinge=0.0), 2 * R / ARM),
     (ControlPlay(rod_end=0.0, pivot=C, hinge=0.0), C / ARM),
     (ControlPlay(rod_end=0.0, pivot=0.0, hinge=H), H / ARM),
     (ControlPlay(rod_end=R, pivot=C, hinge=H), (2 * R + C + H) / ARM)],
)  # fmt: skip
def test_one_rod(play: ControlPlay, angle: float) -> None:
    assert free_play(direct(), play).angle == pytest.approx(angle, rel=1e-6)


def test_behind_a_crank() -> None:
    """Here the surface's arm is b2 too."""
    rods = free_play(cranked(), ControlPlay(rod_end=R, pivot=0.0, hinge=0.0))
    assert rods.angle == pytest.approx(2 * R / B2 * (1 + B2 / B1), rel=1e-6)
    pivots = free_play(cranked(), ControlPlay(rod_end=0.0, pivot=C, hinge=0.0))
    stick, crank = C * B2 / B1 / B2, C * (1 + B2 / B1) / B2
    assert pivots.angle == pytest.approx(stick + crank, rel=1e-6)


def test_at_the_edge_it_is_turned_and_shifted() -> None:
    found = free_play(direct(), ControlPlay(rod_end=R, pivot=0.0, hinge=H))
    assert found.edge(0.5) == pytest.approx((2 * R + H) / ARM * 0.5 + H, rel=1e-6)


@pytest.mark.parametrize(("play", "way"), [(0.1, 0.2), (0.3, 0.2), (0.39, 0.2), (0.0, 1.0)])
def test_what_acts_of_a_loose_spring_by_its_first_harmonic(play: float, way: float) -> None:
    """Force of a unit spring with play, x sin t: 1/(pi x) of its integral times sin t. Midpoints, so 1e-6."""
    t = (np.arange(200_000) + 0.5) * 2 * np.pi / 200_000
    x = way * np.sin(t)
    force = np.sign(x) * np.maximum(np.abs(x) - play / 2, 0.0)
    assert left(play, way) == pytest.approx(2 * float(np.mean(force * np.sin(t))) / way, abs=1e-6)


def test_within_its_play_nothing_acts() -> None:
    assert left(0.4, 0.1) == left(0.4, 0.2) == 0.0
