"""Where a wing is parted for its aileron at one station: hinge point, round nose, faces of both spars, skins.

All in a rib's own axes: x aft along the chord line, y up, m. The hinge point lies on the file's fraction of the chord,
as far from the upper surface as from the lower. A round nose is the circle about it that touches both:

    R = distance of the hinge point from either surface
    wing's false spar   its web ends R + gap ahead of the hinge point; flanges or strips lie behind the web
    aileron             the circle ahead of where it touches, the section behind

Turned about the hinge point the nose stays where it is, so that the gap does. A plain aileron begins at its spar, and
the false spar with its flanges or strips ends one gap ahead of that. Source: geometry, worked out here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq
from shapely import LineString, Point, Polygon, box

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked, number
from sparwright.base.remembered import remembered
from sparwright.family.aileron import AileronFrame, EdgeSpar
from sparwright.family.model import Aileron, Skin, Wing
from sparwright.shape.lifting import Station

ARC = 96  # stretches round the nose
LINE = 60  # stretches along each surface behind it
FAR = 10.0  # m, beyond any rib
STEPS = 8  # stances each way at which a plain aileron's front is looked at
CLOSE = 1e-15  # m
WITHIN = 1e-6  # m inside a board's faces its depth is taken: at a seam the sheets change


@dataclass(frozen=True)
class Parting:
    """One station's cut."""

    hinge: tuple[float, float] = number("m", "point of the hinge line, x and y")
    radius: float = number("m", "of the round nose; nought for a plain one")
    wing_end: float = number("m", "x of the front face of the false spar, where the wing's ribs end")
    skin_end: float = number("m", "x of the rear of the false spar with its flanges, where the wing's skin ends")
    face: float = number("m", "x of the front face of the aileron's spar")
    seam: float = number("m", "x behind which the aileron's skin lies on ribs and spar, and no nose sheet under it")


@remembered(1000)
def parting(station: Station, wing: Wing) -> Parting:
    """The cut at a station. DesignProblem where it leaves no room."""
    aileron = wing.aileron
    assert aileron is not None
    x = aileron.hinge * station.chord
    frame = aileron.frame
    if frame is None:
        y = _middle(station, x)[0]
        ahead = x - aileron.gap / 2
        return Parting((x, y), 0.0, ahead, ahead, x + aileron.gap / 2, x + aileron.gap / 2)
    y, radius = _middle(station, x)
    face = x + frame.setback
    spar = frame.false_spar
    front = x - radius - aileron.gap - spar.thickness if frame.nose else face - aileron.gap - spar.width
    seam = face + frame.spar.width * (0.5 if covering(wing, frame, station.chord) else 1.0) if frame.nose else face
    found = Parting((x, y), radius if frame.nose else 0.0, front, front + spar.width, face, seam)
    _room(station, wing, aileron, found)
    return found


def covering(wing: Wing, frame: AileronFrame, chord: float) -> float:
    """Thickness of the wing's skins that lie on the aileron behind its spar, m; nought for fabric."""
    assert wing.aileron is not None
    behind = wing.aileron.hinge + (frame.setback + frame.spar.width) / chord
    return sum(s.thickness for s in wing.skins if s.start <= behind < s.end)


def _middle(station: Station, x: float) -> tuple[float, float]:
    """(y as far from the upper surface as from the lower, that distance) at x."""
    upper, lower = _surfaces(station)
    low, high = (float(np.interp(x, s[:, 0], s[:, 1])) for s in (lower, upper))
    over, under = _Near(upper, x), _Near(lower, x)
    y = float(brentq(lambda y: over(y) - under(y), low, high, xtol=CLOSE, rtol=CLOSE))
    return y, min(over(y), under(y))


class _Near:
    """The distance of a point at one x to a line (n, 2), m, as a function of its y."""

    def __init__(self, line: np.ndarray, x: float) -> None:
        """Stretch by stretch: where it begins, its direction, its length."""
        self.start = line[:-1] - (x, 0.0)
        step = np.diff(line, axis=0)
        self.step, self.square = step, np.maximum(np.einsum("ij,ij->i", step, step), 1e-30)
        self.along = np.einsum("ij,ij->i", self.start, step)

    def __call__(self, y: float) -> float:
        """The least of the distances to each stretch."""
        t = np.clip((y * self.step[:, 1] - self.along) / self.square, 0.0, 1.0)
        dx, dy = self.start[:, 0] + t * self.step[:, 0], self.start[:, 1] + t * self.step[:, 1] - y
        return float(np.sqrt((dx * dx + dy * dy).min()))


def _surfaces(station: Station) -> tuple[np.ndarray, np.ndarray]:
    """(n, 2) upper and lower surface from nose to tail."""
    assert station.points is not None
    n = station.points.shape[1] // 2
    return station.points[:, n::-1].T * station.chord, station.points[:, n:].T * station.chord


def _room(station: Station, wing: Wing, aileron: Aileron, p: Parting) -> None:
    """The spar stands behind the nose's turn and ahead of the tail; a plain front is free to turn."""
    where = f"wing {wing.name}, aileron at buttline {inches(station.buttline)}"
    frame = aileron.frame
    assert frame is not None
    if p.face + frame.spar.width >= station.chord - wing.ribs.tail_cut:
        raise DesignProblem(f"{where}: its spar reaches the tail bar; hinge or setback further forward")
    if p.radius:
        touch = max(x for x, _ in _touching(station, p)) - p.hinge[0]
        if frame.setback < touch:
            raise DesignProblem(
                f"{where}: aileron.frame.setback is {inches(frame.setback)}; its spar stands behind where the round "
                f"nose touches the surfaces, {inches(touch)} behind the hinge line"
            )
        return
    ahead, way = _swept(station, aileron, p)
    left = ahead - frame.setback + aileron.gap
    if left < 0:
        raise DesignProblem(
            f"{where}: aileron.gap is {inches(aileron.gap)}; turned full {way} its plain front comes "
            f"{inches(-left)} into the false spar; a gap of more than {inches(aileron.gap - left)} is wanted, "
            "or a nose"
        )


def _swept(station: Station, aileron: Aileron, p: Parting) -> tuple[float, str]:
    """(how far aft of the hinge line the foremost point of a plain front comes, m: negative ahead; "up" or "down")."""
    upper, lower = (float(np.interp(p.face, s[:, 0], s[:, 1])) for s in _surfaces(station))
    arm = p.face - p.hinge[0]
    found = []
    for way, travel, over in (("up", aileron.up, upper - p.hinge[1]), ("down", aileron.down, p.hinge[1] - lower)):
        turn = np.linspace(0, travel, STEPS)
        found.append((float((arm * np.cos(turn) - over * np.sin(turn)).min()), way))
    return min(found)


def _touching(station: Station, p: Parting) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where the nose's circle touches the upper and the lower surface."""
    found = []
    for surface in _surfaces(station):
        line = LineString(surface)
        at = line.interpolate(line.project(Point(p.hinge)))
        found.append((at.x, at.y))
    return found[0], found[1]


def wrapped(station: Station, p: Parting, end: float) -> np.ndarray:
    """(n, 2) the aileron's outside from the upper surface at x = end round its nose, or square front, to the lower.

    Always as many points.
    """
    surfaces = _surfaces(station)
    square = [(p.face, float(np.interp(p.face, s[:, 0], s[:, 1]))) for s in surfaces]
    starts = _touching(station, p) if p.radius else square
    lines = []
    for (x, y), s in zip(starts, surfaces, strict=True):
        run = np.linspace(x, end, LINE + 1)
        lines.append(np.column_stack([run, np.append(y, np.interp(run[1:], s[:, 0], s[:, 1]))]))
    return np.vstack([lines[0][::-1], _turn(p, starts[0], starts[1]), lines[1]])


def _turn(p: Parting, upper: tuple[float, float], lower: tuple[float, float]) -> np.ndarray:
    """(ARC - 1, 2) between the two ends: round the nose, or down a plain front."""
    part = np.arange(1, ARC)[:, None] / ARC
    if not p.radius:
        return np.array(upper) * (1 - part) + np.array(lower) * part
    over, under = (np.arctan2(y - p.hinge[1], x - p.hinge[0]) for x, y in (upper, lower))
    angle = over + (under + 2 * np.pi - over) * part[:, 0]
    return np.asarray(np.array(p.hinge) + p.radius * np.column_stack([np.cos(angle), np.sin(angle)]))


def aileron_inside(station: Station, wing: Wing, p: Parting) -> Polygon:
    """The aileron's outline less its nose sheet and, behind the seam, its skin."""
    aileron = wing.aileron
    assert aileron is not None
    whole = Polygon(wrapped(station, p, station.chord))
    frame = aileron.frame
    if frame is None:
        return whole
    parts = []
    for taken, strip in (
        (frame.nose.thickness if frame.nose else 0.0, box(-FAR, -FAR, p.seam, FAR)),
        (covering(wing, frame, station.chord), box(p.seam, -FAR, FAR, FAR)),
    ):
        shrunk = whole.buffer(-taken, join_style="mitre", mitre_limit=5) if taken > 0 else whole
        parts.append(shrunk.intersection(strip))
    left = parts[0].union(parts[1])
    if not isinstance(left, Polygon) or left.is_empty:
        raise DesignProblem(
            f"wing {wing.name}, aileron at buttline {inches(station.buttline)}: its sheets leave nothing"
        )
    return left


def spar_rings(body: Polygon, x: float, spar: EdgeSpar, where: str) -> dict[str, np.ndarray]:
    """(n, 2) each piece of an edge spar cut across, its front face at x, planed to the body's inside.

    "" is the plank, channel or web; "upper" and "lower" are the strips behind a web. DesignProblem without room.
    """
    t = spar.thickness
    if spar.flange > 0:
        return {"": _channel(body, x, spar, where)}
    found = {"": _board(body, x, x + t, where)}
    if spar.strip is not None:
        board = _board(body, x + t, x + spar.width, where)
        (a, b, c, d), deep = board, np.array([0.0, spar.strip.depth])
        if c[1] - b[1] <= 2 * spar.strip.depth or d[1] - a[1] <= 2 * spar.strip.depth:
            raise DesignProblem(f"{where}: two strips of {inches(spar.strip.depth)} leave nothing between them")
        found |= {"upper": locked([d - deep, c - deep, c, d]), "lower": locked([a, b, b + deep, a + deep])}
    return found


def closing_ring(body: Polygon, x: float, spar: EdgeSpar, where: str) -> np.ndarray:
    """(n, 2) what closes a spar behind: a block between its strips, or a channel, open ahead, between its flanges."""
    rings, t = spar_rings(body, x, spar, where), spar.thickness
    if spar.flange == 0:
        lower, upper = rings["lower"], rings["upper"]
        return locked([lower[3], lower[2], upper[1], upper[0]])
    _, _, (x1, y1), (x0, y0), (_, z0), (_, z1), _, _ = rings[""]
    start = x0 + spar.bend_radius
    xs = np.array([start, x1 - t])
    low, up = np.interp(xs, [x0, x1], [y0, y1]), np.interp(xs, [x0, x1], [z0, z1])
    inner = [(x1 - t, up[1] - t), (x1 - t, low[1] + t)]
    return locked(
        [(start, low[0]), (x1, y1), (x1, z1), (start, up[0]), (start, up[0] - t), *inner, (start, low[0] + t)]
    )


def _board(body: Polygon, start: float, end: float, where: str) -> np.ndarray:
    """(4, 2) anticlockwise from the lower front: all of the body between two x."""
    low, high = zip(*(_depth(body, x, where) for x in (start + WITHIN, end - WITHIN)), strict=True)
    return locked([(start, low[0]), (end, low[1]), (end, high[1]), (start, high[0])])


def _channel(body: Polygon, x: float, spar: EdgeSpar, where: str) -> np.ndarray:
    """(8, 2) anticlockwise: web and two flanges aft, corners drawn sharp."""
    (a, b, c, d), t = _board(body, x, x + spar.flange, where), spar.thickness
    if (d - a)[1] <= 2 * t:
        raise DesignProblem(f"{where}: nothing is left between its flanges")
    lower, upper = (b - a)[1] / spar.flange, (c - d)[1] / spar.flange
    inner = [(b[0], b[1] + t), (x + t, a[1] + t + lower * t), (x + t, d[1] - t + upper * t), (c[0], c[1] - t)]
    return locked([a, b, *inner, c, d])


def _depth(body: Polygon, x: float, where: str) -> tuple[float, float]:
    """Lowest and highest y of a body at x."""
    cut = LineString([(x, -FAR), (x, FAR)]).intersection(body)
    if cut.is_empty:
        raise DesignProblem(f"{where}: it stands outside the section")
    return float(cut.bounds[1]), float(cut.bounds[3])


def parted_skin(skin: Skin, station: Station, p: Parting) -> Skin | None:
    """What of a wing's skin is left ahead of the aileron; None where it lies on the aileron alone."""
    end = min(skin.end, p.skin_end / station.chord)
    if end <= skin.start:
        return None
    return Skin(name=skin.name, start=skin.start, end=end, material=skin.material, thickness=skin.thickness,
                areal=skin.areal)  # fmt: skip
