"""An aeroplane as one binary glTF file: each part a named mesh, each of its pieces a node.

Axes turn from ours (x aft, y right, z up) to the format's (y up, z ahead, its x to the left):
X = -y, Y = z, Z = -x; metres stay metres. Faces are flat: no normals are written, so the reader makes them.
`extras` of a node carry part number, name, stock and mass. Same parts, same bytes.
Source: khronos-gltf-2 (container, buffers, accessors, units and axes).
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from sparwright.base.look import LOOK
from sparwright.shape.solid import Pose, Solid

TURN = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])
MAGIC, JSON, BINARY = 0x46546C67, 0x4E4F534A, 0x004E4942
FLOAT, WHOLE, ARRAY, ELEMENTS = 5126, 5125, 34962, 34963
TONES = {  # matt; told apart by tone, light to dark
    "fabric": "#e6e3dc", "glass": "#d9d6cf", "aluminium": "#c4c6c9", "plywood": "#d8c9a9", "wood": "#c9b48a",
    "steel": "#8b9099", "rubber": "#4a4d52", "plastic": "#dfe6e8", "lead": "#6d7178", "other": LOOK.rule,
}  # fmt: skip
THROUGH = 0.35  # opacity of a covering that is drawn over what it covers


@dataclass(frozen=True)
class Piece:
    """One thing in the file: its body, where each one stands and whether mirrored, and what is said of it."""

    name: str
    kind: str  # a key of TONES, or another material
    body: Solid
    stands: tuple[tuple[Pose, bool], ...]
    said: Mapping[str, str | float] = field(default_factory=dict)
    through: bool = False


def glb(pieces: Sequence[Piece], title: str, program: str) -> bytes:
    """The file. title: of the scene; program: who made it."""
    data = bytearray()
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    meshes: list[dict[str, Any]] = []
    nodes: list[dict[str, Any]] = []
    tones = sorted({(_tone(p), p.through) for p in pieces})
    for piece in pieces:
        points = np.asarray(piece.body.points @ TURN.T, dtype="<f4")
        faces = np.asarray(piece.body.faces, dtype="<u4")
        for array, target in ((points, ARRAY), (faces.ravel(), ELEMENTS)):
            views.append({"buffer": 0, "byteOffset": len(data), "byteLength": array.nbytes, "target": target})
            data += array.tobytes()
        low, high = points.min(axis=0).tolist(), points.max(axis=0).tolist()
        a = len(accessors)
        accessors += [
            {"bufferView": a, "componentType": FLOAT, "count": len(points), "type": "VEC3", "min": low, "max": high},
            {"bufferView": a + 1, "componentType": WHOLE, "count": faces.size, "type": "SCALAR"},
        ]
        look = tones.index((_tone(piece), piece.through))
        meshes.append(
            {"name": piece.name, "primitives": [{"attributes": {"POSITION": a}, "indices": a + 1, "material": look}]}
        )
        nodes += [_node(piece, len(meshes) - 1, pose, left) for pose, left in piece.stands]
    document: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": program},
        "scene": 0,
        "scenes": [{"name": title, "nodes": list(range(len(nodes)))}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": [_material(*tone) for tone in tones],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(data)}],
    }
    return _container(document, bytes(data))


def _tone(piece: Piece) -> str:
    return piece.kind if piece.kind in TONES else "other"


def _node(piece: Piece, mesh: int, pose: Pose, left: bool) -> dict[str, Any]:
    x, y = np.array(pose.x), np.array(pose.y)
    own = np.column_stack([x, y, np.cross(x, y)])
    if left:
        own = np.diag([1.0, -1.0, 1.0]) @ own
    matrix = np.eye(4)
    matrix[:3, :3] = TURN @ own @ TURN.T
    matrix[:3, 3] = TURN @ np.array(pose.origin)
    found: dict[str, Any] = {"name": piece.name, "mesh": mesh, "extras": dict(piece.said)}
    if not np.allclose(matrix, np.eye(4), rtol=0, atol=1e-12):
        found["matrix"] = matrix.T.ravel().tolist()
    return found


def _material(tone: str, through: bool) -> dict[str, Any]:
    colour = [_linear(int(TONES[tone][i : i + 2], 16) / 255) for i in (1, 3, 5)]
    found: dict[str, Any] = {
        "name": f"{tone}, seen through" if through else tone,
        "pbrMetallicRoughness": {
            "baseColorFactor": [*colour, THROUGH if through else 1.0], "metallicFactor": 0.0, "roughnessFactor": 1.0,
        },
    }  # fmt: skip
    return {**found, "alphaMode": "BLEND"} if through else found


def _linear(part: float) -> float:
    """A part of a screen colour as light, wcag-2-1."""
    return round(part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4, 6)


def _container(document: Mapping[str, Any], data: bytes) -> bytes:
    text = json.dumps(document, separators=(",", ":"), ensure_ascii=False).encode("utf-8")
    text += b" " * (-len(text) % 4)
    data += b"\0" * (-len(data) % 4)
    chunks = struct.pack("<II", len(text), JSON) + text + struct.pack("<II", len(data), BINARY) + data
    return struct.pack("<III", MAGIC, 2, 12 + len(chunks)) + chunks
