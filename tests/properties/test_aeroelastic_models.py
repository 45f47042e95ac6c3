"""The demo's aeroplane in moving air: both sides alike, air on strips as the lattice has it, energy kept."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest
from aloft import family, made

from sparwright.aeroelastic.ailerons import Aileron, ailerons
from sparwright.aeroelastic.circuits import circuit, softened
from sparwright.aeroelastic.moving import RIGID, Moving, freed, held_rigged, moving, natural_modes, own_strips, roots
from sparwright.aeroelastic.named import names
from sparwright.aeroelastic.on_frame import Laced, laced
from sparwright.aeroelastic.standing import Standing, give_of, rolled, standing, with_ailerons
from sparwright.air.rolling import odd
from sparwright.air.turned import Company
from sparwright.controls.chain import controls_told
from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.stiff import prepare
from sparwright.parts.layout import lay_out
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import amounts, whole
from sparwright.structure.masses import Carriers, Lumps, lumps
from sparwright.structure.whole import skeleton

ALPHA = 0.0


@dataclass(frozen=True)
class Built:
    """W1 ready to shake."""

    company: Company
    bones: Skeleton
    lumps: Lumps
    laced: Laced
    drawn: tuple[Aileron, ...]
    circuit: np.ndarray
    aboard: dict[str, float]
    moving: Moving


@cache
def built() -> Built:
    """W1, all wires pulling."""
    model, company = family().models["W1"], made("W1")[0].plane.company
    assembly = lay_out(model)
    motions = controls_told(model, assembly, False).found
    bones, left = softened(model, skeleton(model), motions)
    assert not left
    carriers, mass = Carriers(model, bones), lumps(model, assembly, bones)
    on, drawn = laced(model, company, bones, carriers, ALPHA), ailerons(model, assembly)
    aboard, held = {x.name: x.most for x in model.loads}, circuit(drawn, motions)
    shaking = moving(bones, mass, aboard, on, drawn, held, np.zeros(len(bones.bars), bool))
    return Built(company, bones, mass, on, drawn, held, aboard, shaking)


@cache
def stood() -> tuple[Standing, np.ndarray, np.ndarray]:
    """Standing air on it, what the ailerons ask, the rolling moment's row."""
    b = built()
    frame = held_rigged(b.bones.frame, np.zeros(len(b.bones.bars), bool))
    give, own = give_of(frame, b.laced.heave, b.laced.turn, b.laced.flap), own_strips(b.laced, b.drawn)
    asked = np.concatenate([np.zeros(2 * len(own)), own @ [-1.0, 1.0]])
    return standing(b.laced.strips, with_ailerons(give, own, b.circuit)), asked, rolled(b.laced, b.bones.frame.place)


def test_strips_carry_what_the_lattice_does() -> None:
    """Lift slope within 1 % (the lattice's forces are of second order), roll damping 0.5 %, ailerons to the digit."""
    b = built()
    s, right = b.laced.strips, np.array([x == "R" for x in b.laced.strips.side])
    flat = np.array([x != "" for x in s.side])
    slope = 2 * (flat * s.width) @ s.response @ flat
    assert slope == pytest.approx(b.company.lift_slope(ALPHA) * b.company.reference.area, rel=0.01)
    theirs, y = odd(b.company.mesh, ALPHA), s.middle[:, 1]
    assert -2 * (flat * s.width * y) @ s.response @ (flat * y) == pytest.approx(theirs.damping, rel=0.005)
    own = own_strips(b.laced, b.drawn)
    assert s.by_flap is not None
    moment = 2 * (flat * s.width * y) @ s.by_flap @ (own @ [1.0, -1.0])
    assert moment == pytest.approx(theirs.ailerons["wing"], rel=1e-9)
    assert right.sum() == 27


def test_the_air_is_the_mirror_of_itself() -> None:
    """A twist of a right strip does on the right and left what its mirror does on the left and right."""
    r, n = built().laced.strips.response, 27
    np.testing.assert_allclose(r[:n, :n], r[n : 2 * n, n : 2 * n], rtol=0, atol=1e-12)
    np.testing.assert_allclose(r[:n, n : 2 * n], r[n : 2 * n, :n], rtol=0, atol=1e-12)
    assert np.diag(r).min() > 0


def test_strips_move_stiffly_with_a_stiff_aeroplane() -> None:
    """Heave and turn of every strip of an aeroplane that rises and pitches as one; no flap turns."""
    b = built()
    place, s = b.bones.frame.place, b.laced.strips
    turn = np.zeros((len(place), 6))
    turn[:, 4], turn[:, :3] = 1.0, np.cross([0.0, 1.0, 0.0], place)
    np.testing.assert_allclose(b.laced.turn.T @ turn.ravel(), s.axis[:, 1], rtol=0, atol=1e-9)
    np.testing.assert_allclose(b.laced.heave.T @ turn.ravel(), (np.cross([0.0, 1.0, 0.0], s.middle) * s.normal).sum(1),
                               rtol=0, atol=1e-9)  # fmt: skip
    np.testing.assert_allclose(b.laced.flap.T @ turn.ravel(), 0.0, rtol=0, atol=1e-9)


def test_mass_of_the_coordinates() -> None:
    """Modes have one kilogram each and none in common; the whole has its mass and inertia; an aileron its own."""
    b = built()
    r = len(b.moving.omega)
    np.testing.assert_allclose(b.moving.mass[:r, :r], np.eye(r), rtol=0, atol=1e-8)
    weights = amounts(b.lumps, b.aboard)
    total, centre, inertia = whole(b.lumps, weights)
    root, place = roots(b.lumps, weights), b.bones.frame.place - centre
    for way in range(3):
        up, turn = np.zeros((len(place), 6)), np.zeros((len(place), 6))
        up[:, way] = 1.0
        turn[:, 3 + way], turn[:, :3] = 1.0, np.cross(np.eye(3)[way], place)
        assert np.sum((root.T @ up.ravel()) ** 2) == pytest.approx(total, rel=1e-9)
        assert np.sum((root.T @ turn.ravel()) ** 2) == pytest.approx(inertia[way, way], rel=1e-9)
    assert b.moving.mass[r, r] == pytest.approx(b.moving.mass[r + 1, r + 1], rel=1e-6)
    assert 0.01 < b.moving.mass[r, r] < 0.2


def test_six_movements_are_free_and_modes_come_in_kinds() -> None:
    """Rigid ones are slower by far; every wing mode is alike or opposite by side."""
    b = built()
    assert np.all(b.moving.omega[:RIGID] == 0) and b.moving.omega[RIGID] > 5.0
    told = names(family().models["W1"], b.moving, b.lumps, amounts(b.lumps, b.aboard))
    assert all(n.sides for n in told[RIGID:] if n.part == "wing")
    assert {"wing", "elevator", "rudder", "fuselage"} <= {n.part for n in told}


def test_ailerons_hold_each_other() -> None:
    """The circuit is stiff, the same from both sides, and the balance cable joins them."""
    k = built().circuit
    np.testing.assert_allclose(k, k.T, rtol=1e-9, atol=0)
    assert k[0, 0] == pytest.approx(k[1, 1], rel=1e-6)
    assert np.linalg.eigvalsh(k)[0] > 0
    assert np.isnan(circuit(built().drawn, ())).all()


def test_ailerons_lose_with_speed_and_roll_it_the_other_way_after() -> None:
    """All at rest, less and less with the speed, nothing at the speed of reversal; both ways alike."""
    on, asked, row = stood()
    kept = on.kept(asked, row, np.linspace(0.0, 600.0, 7))
    assert kept[0] == pytest.approx(1.0, rel=1e-12)
    assert np.all(np.diff(kept) < 0)
    q = on.reversal(asked, row, 1e5)
    assert on.kept(asked, row, np.array([q]))[0] == pytest.approx(0.0, abs=1e-6)
    assert on.kept(-asked, row, np.array([300.0]))[0] == pytest.approx(on.kept(asked, row, np.array([300.0]))[0])


def test_stiffer_frame_stands_at_more() -> None:
    """Twice as stiff all over: twice the dynamic pressure, exactly, with the circuit left out."""
    b = built()
    frame = replace(b.bones.frame, tension=np.zeros(len(b.bones.bars)))
    stiff = replace(frame, youngs=2 * frame.youngs, shear=2 * frame.shear)
    q = [standing(b.laced.strips, give_of(f, b.laced.heave, b.laced.turn, b.laced.flap)).divergence
         for f in (frame, stiff)]  # fmt: skip
    assert q[1] == pytest.approx(2 * q[0], rel=1e-6)


def test_a_frame_that_does_not_stand_is_refused() -> None:
    """Without its lift struts and spars' stiffness the wing of W1 is a mechanism."""
    b = built()
    gone = np.array([bar.what == "strut" and "LIFT" in bar.part or bar.what == "mount" for bar in b.bones.bars])
    with pytest.raises(ValueError, match=r"mechanism|stand"):
        moving(replace(b.bones, frame=freed_of(b.bones, gone)), b.lumps, b.aboard, b.laced, (), np.zeros((0, 0)),
               np.zeros(len(gone), bool))  # fmt: skip


def freed_of(bones: Skeleton, gone: np.ndarray) -> Frame:
    """The frame with some bars as thin as nothing."""
    frame = bones.frame
    thin = np.where(gone, 0.0, 1.0)
    return replace(frame, area=frame.area * thin, about_y=frame.about_y * thin, about_z=frame.about_z * thin,
                   twist=frame.twist * thin)  # fmt: skip


PART = 1e-3  # of the rigging tension


def test_a_little_rigging_moves_each_elastic_mode_as_first_order_says() -> None:
    """w_i^2 gains s g_ii, g = phi Kg phi of modes of 1 kg; s^2 Sum g_ij^2/(w_j^2 - w_i^2) is the second order's most.

    Of third order is s g/(gap of w^2) of that, a tenth here at most; 1e-12 of the highest w^2 is rounding.
    """
    b = built()
    frame, root = freed(b.bones.frame, np.zeros(len(b.bones.bars), bool)), roots(b.lumps, amounts(b.lumps, b.aboard))
    bare, shapes = natural_modes(replace(frame, tension=np.zeros(len(b.bones.bars))), root, 20)
    omega, _ = natural_modes(replace(frame, tension=PART * frame.tension), root, 20)
    on = prepare(frame)
    inner = shapes[RIGID:].reshape(20, -1)[:, on.open] * on.scale
    g, square = inner @ (on.geometric(frame.tension) @ inner.T), bare[RIGID:] ** 2
    gap = np.abs(square[:, None] - square) + np.diag(np.full(20, np.inf))
    second = PART**2 * (g**2 / gap).sum(axis=1)
    off = np.abs(omega[RIGID:] ** 2 - square - PART * np.diag(g))
    assert np.all(off < 1.1 * second + 1e-12 * square.max())
    assert np.median(second / np.abs(PART * np.diag(g))) < 1e-4  # so that the bound says something
    np.testing.assert_array_equal(np.concatenate([omega[:RIGID], bare[:RIGID]]), 0.0)


def test_what_a_wire_does_to_a_mode_by_hand() -> None:
    """phi Kg phi of the wires alone: pull times twice what each grows to second order, its ends on arms that turn.

    Of ends apart by d the growth is |d across|^2/(2 L); an arm a turned by t adds t x (t x a)/2 at its end.
    """
    b = built()
    frame = freed(b.bones.frame, np.zeros(len(b.bones.bars), bool))
    _, shapes = natural_modes(frame, roots(b.lumps, amounts(b.lumps, b.aboard)), 6)
    on, pull = prepare(frame), np.where(frame.wire, frame.tension, 0.0)
    assert frame.wire.sum() >= 10 and pull.max() > 100
    way = np.diff(frame.place[frame.ends] + frame.arm, axis=1)[:, 0]
    length = np.linalg.norm(way, axis=1)
    for shape in shapes[RIGID:]:
        inner = shape.reshape(-1)[on.open] * on.scale
        moved, turned = shape[frame.ends][..., :3], shape[frame.ends][..., 3:]
        swung = np.cross(turned, frame.arm)
        apart = np.diff(moved + swung, axis=1)[:, 0]
        across = np.cross(apart, way) / length[:, None]
        further = (np.diff(np.cross(turned, swung), axis=1)[:, 0] * way).sum(axis=1) / length
        by_hand = np.sum(pull * ((across**2).sum(axis=1) / length + further))
        np.testing.assert_allclose(inner @ (on.geometric(pull) @ inner), by_hand, rtol=1e-9)


def test_six_stay_nought_with_all_the_rigging() -> None:
    """And every mode keeps one kilogram, none in common."""
    b = built()
    frame, root = freed(b.bones.frame, np.zeros(len(b.bones.bars), bool)), roots(b.lumps, amounts(b.lumps, b.aboard))
    omega, shapes = natural_modes(frame, root, 20)
    bare, _ = natural_modes(replace(frame, tension=np.zeros(len(b.bones.bars))), root, 20)
    np.testing.assert_array_equal(omega[:RIGID], 0.0)
    assert not np.allclose(omega[RIGID:], bare[RIGID:], rtol=1e-4, atol=0)
    flat = shapes.reshape(26, -1)
    np.testing.assert_allclose(flat @ (root @ (root.T @ flat.T)), np.eye(26), rtol=0, atol=1e-7)
