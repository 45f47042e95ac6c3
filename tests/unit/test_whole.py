"""Edges in sight by hand, the three-dimensional file read back, and the pictures of the demo family."""

from __future__ import annotations

import json
import struct
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.charts.whole import whole_pictures
from sparwright.output.aeroplane_glb import aeroplane_glb
from sparwright.output.gltf import TURN, Piece, glb
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly
from sparwright.parts.solids import HERE, drawn, solids
from sparwright.plans.shells import shells
from sparwright.run import RunResult
from sparwright.shape.seen import chained, line_drawing, plane
from sparwright.shape.solid import Pose, block, cylinder, through

AHEAD = plane((-1.0, 0.0, 0.0))


def length(lines: list[np.ndarray]) -> float:
    return float(sum(np.linalg.norm(np.diff(line, axis=0), axis=1).sum() for line in lines))


def test_the_picture_plane() -> None:
    """From ahead the right wing is on the left of the picture, up is up; from above with the nose up it is right."""
    assert_allclose(np.array([[0, 1, 0], [0, 0, 1]]) @ AHEAD[:, :2], [[-1, 0], [0, 1]], rtol=0, atol=1e-12)
    above = plane((0.0, 0.0, 1.0), (-1.0, 0.0, 0.0))
    assert_allclose(np.array([[0, 1, 0], [-1, 0, 0]]) @ above[:, :2], [[1, 0], [0, 1]], rtol=0, atol=1e-12)


def test_a_box_from_ahead_is_its_front_face() -> None:
    lines = line_drawing([block((0, 0, 0), (3, 2, 1))], AHEAD)
    assert_allclose(length(lines), 2 * (2 + 1), rtol=1e-9)
    points = np.concatenate(lines)
    assert_allclose((points.min(axis=0), points.max(axis=0)), ((-1, -0.5), (1, 0.5)), rtol=0, atol=1e-12)


def test_a_box_askew_shows_nine_of_twelve_edges() -> None:
    """Each edge foreshortened by the square root of 2/3 along the three equal axes."""
    lines = line_drawing([block((0, 0, 0), (1, 1, 1))], plane((-1, -1, 1)))
    assert_allclose(length(lines), 9 * np.sqrt(2 / 3), rtol=1e-9)


def test_what_is_behind_is_hidden_and_what_sticks_out_is_not() -> None:
    """A 2 by 2 plate before a bar 4 long and 0.2 high: a length of 1 of it shows on either side."""
    front, bar = block((0, 0, 0), (0.1, 2, 2)), block((1, 0, 0), (0.1, 4, 0.2))
    assert_allclose(length(line_drawing([front, bar], AHEAD)), 8 + 2 * (2 * 1 + 0.2), rtol=1e-6)
    assert_allclose(length(line_drawing([front, bar], plane((1.0, 0.0, 0.0)))), 8 + 8.4 - 2 * 0.2, rtol=1e-6)


def test_a_rod_shows_its_sides_and_its_ends_only() -> None:
    """Two sides 2 long, half of the far rim hidden: no line on its facets."""
    lines = line_drawing([cylinder((0, 0, 0), (0, 1, 0), 0.1, 2.0)], AHEAD)
    assert_allclose(length(lines), 2 * 2 + 2 * 0.2, rtol=5e-3)


def test_a_smooth_rod_shows_its_sides_too() -> None:
    """720 corners, half a degree from one to the next: the rim is still an edge."""
    turn = np.radians(np.arange(720) / 2)
    ring = np.column_stack([0.1 * np.sin(turn), np.zeros(720), 0.1 * np.cos(turn)])
    lines = line_drawing([through([ring, ring + (0, 2, 0)])], AHEAD)
    assert_allclose(length(lines), 2 * 2 + 2 * 0.2, rtol=5e-3)


def test_stretches_are_joined_where_two_meet() -> None:
    a, b, c, d = (0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (2.0, 0.0)
    found = chained(np.array([[a, b], [c, b]]))
    assert len(found) == 1 and len(found[0]) == 3
    assert len(chained(np.array([[a, b], [b, c], [b, d]]))) == 3


def read(data: bytes) -> tuple[dict, bytes]:
    """(document, binary) of a container, every length checked."""
    magic, version, total = struct.unpack_from("<4sII", data)
    assert (magic, version, total) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON" and size % 4 == 0
    more, binary = struct.unpack_from("<I4s", data, 20 + size)
    assert binary == b"BIN\0" and more % 4 == 0 and 28 + size + more == total
    return json.loads(data[20 : 20 + size]), data[28 + size :]


def bodies(data: bytes) -> dict[str, list[np.ndarray]]:
    """Triangles (k, 3, 3) of each node by its name, back in our axes."""
    document, binary = read(data)

    def values(i: int, kind: str, width: int) -> np.ndarray:
        accessor = document["accessors"][i]
        view = document["bufferViews"][accessor["bufferView"]]
        part = binary[view["byteOffset"] : view["byteOffset"] + view["byteLength"]]
        found = np.frombuffer(part, kind).reshape(-1, width)
        assert len(found) == accessor["count"]
        return found

    named: dict[str, list[np.ndarray]] = {}
    for node in document["nodes"]:
        one = document["meshes"][node["mesh"]]["primitives"][0]
        points = values(one["attributes"]["POSITION"], "<f4", 3).astype(float)
        faces = values(one["indices"], "<u4", 1).reshape(-1, 3)
        matrix = np.array(node.get("matrix", np.eye(4).ravel())).reshape(4, 4).T
        points = points @ matrix[:3, :3].T + matrix[:3, 3]
        turned = faces[:, ::-1] if np.linalg.det(matrix[:3, :3]) < 0 else faces
        named.setdefault(node["name"], []).append((points @ TURN)[turned])
    return named


def volume(triangles: np.ndarray) -> float:
    a, b, c = np.moveaxis(triangles - triangles[0, 0], 1, 0)
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


def test_a_file_in_space_reads_back_as_what_was_put_in() -> None:
    body = through([np.array([[0, 0, 0], [1, 0, 0], [0, 0, 1.0]]) + (0, y, 0) for y in (1.0, 2.0, 3.0)])
    pose = Pose((1.0, 2.0, 3.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    data = glb([Piece("A", "wood", body, ((HERE, False), (HERE, True), (pose, False)))], "t", "p")
    assert data == glb([Piece("A", "wood", body, ((HERE, False), (HERE, True), (pose, False)))], "t", "p")
    here, left, posed = bodies(data)["A"]
    for found, wanted in ((here, body), (left, body.mirrored()), (posed, body.placed(pose))):
        assert_allclose(volume(found), 1.0, rtol=1e-6)
        assert_allclose(found.reshape(-1, 3).min(axis=0), wanted.box[0], rtol=0, atol=1e-6)
        assert_allclose(found.reshape(-1, 3).max(axis=0), wanted.box[1], rtol=0, atol=1e-6)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_demo_in_space(ran: Callable[[str], RunResult], whinchat, name: str) -> None:
    """Every drawn part is in the file as often as it is built, with its volume and place; nose ahead, up is up."""
    assembly = ran(name).assembly
    named = bodies(aeroplane_glb(whinchat.models[name], assembly, "p"))
    for part in assembly.parts:
        if drawn(part) is None:
            continue
        found, wanted = named[part.number], solids(part)
        assert len(found) == part.count
        for triangles, body in zip(found, wanted, strict=True):
            box = np.array([triangles.reshape(-1, 3).min(axis=0), triangles.reshape(-1, 3).max(axis=0)])
            assert_allclose(box, body.box, rtol=0, atol=3e-4, err_msg=part.number)
    document, _ = read(aeroplane_glb(whinchat.models[name], assembly, "p"))
    ahead = next(n for n in document["meshes"] if n["name"] == f"{name}-power-PROPELLER")
    low = document["accessors"][ahead["primitives"][0]["attributes"]["POSITION"]]["min"]
    assert low[2] > 0.5  # z ahead in the format
    assert {m["name"] for m in document["materials"]} >= {"steel", "rubber", "fabric, seen through"}


def test_outlines_by_hand(whinchat) -> None:
    """Body and tail of W1: places and sizes as the file says them."""
    model = whinchat.models["W1"]
    assert not [s for s in shells(model, ()) if s.name in ("tailplane", "fin")]  # drawn as parts
    model = replace(model, tailplane=replace(model.tailplane, frame=None), fin=replace(model.fin, frame=None))
    found = {s.name: s.solid for s in shells(model, ())}
    tail = model.tailplane
    assert_allclose(np.ptp(found["tailplane"].box[:, 1]), tail.span, rtol=1e-9)
    assert_allclose(found["fin"].box[1, 2] - model.fin.leading_edge[2], model.fin.span, rtol=1e-9)
    assert_allclose(found["body"].box[:, 0], [b.station for b in (model.fuselage.body[0], model.fuselage.body[-1])])


def test_the_body_begins_behind_the_cowling(whinchat) -> None:
    """W2's panels end at the firewall; the oval that is drawn begins there, as wide as the file's ovals are there."""
    model = whinchat.models["W2"]
    parts = lay_out(model).parts
    (panel,) = (p for p in parts if p.number == "W2-fuselage-COWL-TOP")
    end = panel.shape.solid().box[1, 0]
    whole, cut = (next(s.solid for s in shells(model, p) if s.name == "body") for p in ((), parts))
    assert_allclose(cut.box[0, 0], end, atol=1e-12)
    assert whole.box[0, 0] < end - 0.5
    assert_allclose(cut.box[1], whole.box[1])
    given = sorted(model.fuselage.body, key=lambda b: b.station)
    wide = np.interp(end, [b.station for b in given], [b.width for b in given])
    ring = cut.points[np.abs(cut.points[:, 0] - end) < 1e-9]
    assert_allclose(np.ptp(ring[:, 1]), wide, rtol=1e-9)


@pytest.mark.long
def test_pictures_of_the_whole(ran: Callable[[str], RunResult], whinchat) -> None:
    """Six views of one scale: spans agree above, below, ahead and behind; the structure is all in the frame."""
    found = whole_pictures(whinchat.models["W3"], ran("W3").assembly, "here")
    for picture in found.values():
        points = np.array([p for s in picture.on("line") for p in s.points])
        assert len(points) > 1000
        assert points.min() > 0 and points[:, 0].max() < picture.width and points[:, 1].max() < picture.height
    assert all(w in found["six-sides"].words for w in ("from above", "from behind", "from the left"))


def test_nothing_to_draw_is_told(whinchat) -> None:
    from sparwright.base.problem import DesignProblem

    with pytest.raises(DesignProblem, match="no part"):
        whole_pictures(whinchat.models["W1"], Assembly(model="W1", parts=(), joints=()), "here")
