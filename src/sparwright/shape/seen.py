"""Bodies as a line drawing: their edges seen from far away in one direction, with what is hidden left out.

    E   an edge: between two faces that meet at more than CREASE, or of which one is turned away
    T   a face that is turned towards the eye

Every edge is laid against every nearer face that covers it in the picture. A face hides of an edge what lies inside its
three sides and behind its plane: four conditions that are linear along the edge, so that each leaves a stretch, and
what they have in common is hidden. What no face hides is drawn. Exact for bodies that do not run through each other;
of two that do, no line is drawn where they meet. Source: worked out here, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sparwright.shape.solid import Solid

CREASE = np.cos(np.radians(30.0))
LEVEL = np.cos(np.radians(0.1))  # two halves of one side: the edge between them is nobody's rim
TURNED = 1e-6  # cosine below which a face is seen from its edge
PIECES = 60  # of the picture's size in the longest piece of an edge that is looked at in one go
AT_ONCE = 2_000_000  # pairs of edge and face


def plane(towards: Sequence[float], up: Sequence[float] = (0.0, 0.0, 1.0)) -> np.ndarray:
    """(3, 3) columns: to the right and up in the picture, and from the scene to the eye, which is `towards`."""
    eye = np.array(towards, dtype=float) / np.linalg.norm(towards)
    right = np.cross(up, eye)
    right = right / np.linalg.norm(right)
    return np.column_stack([right, np.cross(eye, right), eye])


def line_drawing(solids: Sequence[Solid], axes: np.ndarray, near: float = 5e-5) -> list[np.ndarray]:
    """Lines (k, 2) in the picture, m. axes: of `plane`; near: m, by which a face must be nearer to hide an edge."""
    seen = [s.points @ axes for s in solids]
    edges = np.concatenate([p[_edges(s, axes[:, 2])] for s, p in zip(solids, seen, strict=True)])
    faces = np.concatenate([p[s.faces] for s, p in zip(solids, seen, strict=True)])
    (ax, ay), (bx, by) = (faces[:, 1, :2] - faces[:, 0, :2]).T, (faces[:, 2, :2] - faces[:, 0, :2]).T
    faces = faces[ax * by - ay * bx > 1e-12]
    longest = float(np.ptp(faces[:, :, :2].reshape(-1, 2), axis=0).max()) / PIECES
    pieces = _pieces(edges, longest)
    which, start, end = _visible(pieces, faces, near)
    a, step = pieces[which, 0, :2], pieces[which, 1, :2] - pieces[which, 0, :2]
    return chained(np.stack([a + step * start[:, None], a + step * end[:, None]], axis=1))


def _edges(solid: Solid, eye: np.ndarray) -> np.ndarray:
    """(n, 2) places among the points of the edges worth drawing."""
    p, faces = solid.points, solid.faces
    normal = np.cross(p[faces[:, 1]] - p[faces[:, 0]], p[faces[:, 2]] - p[faces[:, 0]])
    size = np.linalg.norm(normal, axis=1)
    faces, normal = faces[size > 0], normal[size > 0] / size[size > 0, None]
    sides = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    owner = np.tile(np.arange(len(faces)), 3)
    order = np.lexsort((sides[:, 1], sides[:, 0]))
    sides, owner = sides[order], owner[order]
    first = np.flatnonzero(np.concatenate([[True], np.any(sides[1:] != sides[:-1], axis=1)]))
    two = first[np.diff(np.append(first, len(sides))) == 2]
    one, other = normal[owner[two]], normal[owner[two + 1]]
    to_eye = np.array([one @ eye, other @ eye])
    bend = np.einsum("ij,ij->i", one, other)
    sharp = bend < CREASE
    rim = ((to_eye[0] > TURNED) != (to_eye[1] > TURNED)) & (bend < LEVEL)
    return np.asarray(sides[two[(sharp | rim) & (to_eye > TURNED).any(axis=0)]])


def _pieces(edges: np.ndarray, longest: float) -> np.ndarray:
    """Edges (n, 2, 3) in pieces no longer than that in the picture."""
    long = np.linalg.norm((edges[:, 1] - edges[:, 0])[:, :2], axis=1)
    count = np.maximum(1, np.ceil(long / longest)).astype(int)
    which = np.repeat(np.arange(len(edges)), count)
    step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    start = edges[which, 0]
    each = (edges[which, 1] - start) / count[which, None]
    return np.stack([start + each * step[:, None], start + each * (step + 1)[:, None]], axis=1)


def _visible(edges: np.ndarray, faces: np.ndarray, near: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(edge, from, to) of what no face hides, as parts of each edge."""
    tree = shapely.STRtree(shapely.linestrings(edges[:, :, :2]))
    low, high = faces[:, :, :2].min(axis=1), faces[:, :, :2].max(axis=1)
    face, edge = tree.query(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    nearest, farthest = faces[:, :, 2].max(axis=1), edges[:, :, 2].min(axis=1) + near
    nearer = nearest[face] > farthest[edge]
    face, edge = face[nearer], edge[nearer]
    whole = np.arange(len(edges))
    hidden = [(whole, np.ones(len(edges)), np.ones(len(edges)))]  # an end to look up to
    for i in range(0, len(face), AT_ONCE):
        hidden.append(_hidden(edge[i : i + AT_ONCE], face[i : i + AT_ONCE], edges, faces, near))
    which, start, end = (np.concatenate(column) for column in zip(*hidden, strict=True))
    order = np.lexsort((start, which))
    which, start, end = which[order], start[order], end[order]
    reach = np.maximum.accumulate(end + 2 * which) - 2 * which  # how far each edge is hidden so far
    new = np.concatenate([[True], which[1:] != which[:-1]])
    before = np.clip(np.where(new, 0.0, np.concatenate([[0.0], reach[:-1]])), 0.0, 1.0)
    open_ = start > before + 1e-7
    return which[open_], before[open_], start[open_]


def _hidden(
    which: np.ndarray, face: np.ndarray, edges: np.ndarray, faces: np.ndarray, near: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(edge, from, to) of what each face hides of the edge that goes with it."""
    from sparwright.shape.covered import covered  # compiled: only who draws waits for it

    start, end = covered(which, face, edges, faces, near).T
    kept = end > start
    return which[kept], start[kept], end[kept]


def chained(stretches: np.ndarray, same: float = 2e-5) -> list[np.ndarray]:
    """Stretches (n, 2, 2) joined end to end where just two meet, as lines (k, 2)."""
    ends = np.rint(stretches / same).astype(np.int64)
    at: dict[tuple[int, int], list[int]] = {}
    for i, (a, b) in enumerate(ends.tolist()):
        if a != b:
            at.setdefault((a[0], a[1]), []).append(i)
            at.setdefault((b[0], b[1]), []).append(i)
    used = np.all(ends[:, 0] == ends[:, 1], axis=1)
    found = []
    for i in range(len(stretches)):
        if not used[i]:
            used[i] = True
            forward = _walk(i, 1, ends, stretches, at, used)
            back = _walk(i, 0, ends, stretches, at, used)
            found.append(np.array([*back[::-1], stretches[i, 0], stretches[i, 1], *forward]))
    return found


def _walk(
    i: int, end: int, ends: np.ndarray, stretches: np.ndarray, at: dict[tuple[int, int], list[int]], used: np.ndarray
) -> list[np.ndarray]:
    """The points met on from one end of a stretch."""
    found: list[np.ndarray] = []
    key = (int(ends[i, end, 0]), int(ends[i, end, 1]))
    while len(at[key]) == 2:
        on = [j for j in at[key] if not used[j]]
        if not on:
            break
        j = on[0]
        used[j] = True
        far = 1 if (int(ends[j, 0, 0]), int(ends[j, 0, 1])) == key else 0
        found.append(stretches[j, far])
        key = (int(ends[j, far, 0]), int(ends[j, far, 1]))
    return found
