"""The pilot's seat as parts and joints: what joins its two flat sheets, and the cover over a rod's slot.

Pan and back are flat sheets on tubes (parts/flat_sheets.py). Seen from the side, with n unit normals to the side sat
on or leant on, e forward along the pan and u up along the back:

    strip      an L in the corner of the pan's under side and the back's front, along the buttline
    stiffener  an L beneath the pan, fore and aft, one leg on it and one down
    tunnel     a hat with edges on the pan, from its front end aft to the back's front face; its height h over the pan
               lies at q + h u/(n . u) at the back, q where the pan's upper side meets the back's front

Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import gauge, inches
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.family.occupant import SeatAngle, SeatShell, SeatStiffener, SeatTunnel
from sparwright.family.stock import Sheet
from sparwright.parts.bolts import bolt_for, bolt_mass
from sparwright.parts.flat_sheets import Laid, sheet_number
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Hand, Joint, Part, Place, Straight
from sparwright.parts.wing import sheet_stock
from sparwright.shape.solid import as_place, between

GROUP = "seat"
HANDS: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
SQUARE = 0.2  # least sine between pan and back


class _Corner:
    """Pan and back seen from the side: (2,) in station and waterline, m."""

    def __init__(self, model: Model, pan: Laid, back: Laid):
        self.pan, self.back = pan, back
        self.over, self.ahead = (_flat(np.cross(s.pose.x, s.pose.y)) for s in (pan, back))
        self.along, self.up = np.array([-self.over[1], self.over[0]]), np.array([-self.ahead[1], self.ahead[0]])
        self.along = self.along if self.along[0] < 0 else -self.along
        self.up = self.up if self.up[1] > 0 else -self.up
        if self.over[1] <= 0 or self.ahead[0] >= 0 or abs(self.over @ self.up) < SQUARE:
            raise DesignProblem(f"{model.name} seat.shell: the pan lies to = 'up', the back to = 'forward', across it")

    def meet(self, over: float, ahead: float) -> np.ndarray:
        """Where a line so far over the pan's middle meets one so far ahead of the back's."""
        low, rear = (_flat(np.array(s.pose.origin)) for s in (self.pan, self.back))
        return np.linalg.solve(np.array([self.over, self.ahead]), [self.over @ low + over, self.ahead @ rear + ahead])

    @property
    def rise(self) -> np.ndarray:
        """Along the back by one over the pan."""
        return np.asarray(self.up / float(self.over @ self.up))

    @property
    def halves(self) -> tuple[float, float]:
        """Half the thickness of pan and back."""
        return self.pan.sheet.sheet.thickness / 2, self.back.sheet.sheet.thickness / 2


def _flat(point: np.ndarray) -> np.ndarray:
    return np.asarray(point)[[0, 2]]


def _corner(model: Model, shell: SeatShell, laid: Sequence[Laid]) -> _Corner:
    known = {one.sheet.name: one for one in laid}
    return _Corner(model, known[shell.pan], known[shell.back])


def seat_not_drawn(model: Model) -> tuple[str, ...]:
    """What of the seat is not drawn."""
    if model.seat is None:
        return ()
    straps = model.seat.harness
    sat_on = ("seat",) if model.seat.shell is None else ()
    return (*sat_on, *(("lugs of the seat's straps",) if straps and straps.lug is None else ()))


def seat_parts(model: Model, laid: Sequence[Laid]) -> Iterator[Part]:
    """The strips that join pan and back, and the tunnel; nothing where the file says no shell."""
    shell = model.seat.shell if model.seat else None
    if shell is None:
        return
    corner = _corner(model, shell, laid)
    for hand, side in HANDS:
        yield _strip(model, shell.angle, corner, hand, side)
        yield _bolts(model, shell.angle, corner, hand, side)
        yield _stiffener(model, shell.stiffener, corner, hand, side)
    if shell.tunnel:
        yield _tunnel(model, shell.tunnel, corner)


def _number(model: Model, kind: str, hand: str = "") -> str:
    return part_number(model.name, GROUP, kind, "", hand)


def _spread(flat: np.ndarray, y: np.ndarray | float) -> np.ndarray:
    """(n, 3) points (n, 2) of station and waterline at a buttline."""
    return np.column_stack([flat[:, 0], np.broadcast_to(y, len(flat)), flat[:, 1]])


def _bent(model: Model, kind: str, name: str, purpose: str, sheet: Sheet, rings: np.ndarray, folds: str,
          hand: Hand = "") -> Part:  # fmt: skip
    """A piece folded of sheet between two rings (2, n, 3)."""
    stuff, body = material(sheet.material), between(rings[0], rings[1])
    start, end = (as_place(r.mean(axis=0)) for r in rings)
    return Part(
        number=_number(model, kind, hand), name=name, form="bar", group=GROUP, purpose=purpose,
        material=sheet.material, stock=f"{sheet_stock(sheet, stuff)}, folded", hand=hand,
        places=(as_place(body.centre),), mass=body.volume * stuff.density, note=folds,
        shape=Straight(start=start, end=end, section=folds.split(";")[0], rings=locked(rings)),
    )  # fmt: skip


def _strip(model: Model, angle: SeatAngle, corner: _Corner, hand: Hand, side: float) -> Part:
    """An L beneath the pan and ahead of the back."""
    low, front = corner.halves
    t, leg = angle.sheet.thickness, angle.leg
    q = corner.meet(-low, front)
    profile = np.array([q, q + leg * corner.along, q + leg * corner.along - t * corner.over,
                        corner.meet(-low - t, front + t), q - leg * corner.up + t * corner.ahead,
                        q - leg * corner.up])  # fmt: skip
    rings = np.array([_spread(profile, side * y) for y in (angle.inner, angle.outer)])
    turn = math.degrees(math.acos(float(np.clip(corner.along @ -corner.up, -1.0, 1.0))))
    folds = f"{inches(leg)} x {gauge(t)}; both legs {inches(leg)}, {turn:.0f} deg between them"
    return _bent(model, "ANGLE", "strip that joins the seat's pan to its back", "carries the pan's rear edge",
                 angle.sheet, rings, folds, hand)  # fmt: skip


def _strip_bolts(angle: SeatAngle, corner: _Corner) -> dict[str, Bolt]:
    """By sheet, PAN and BACK: the bolt through it and the strip."""
    found = {}
    for key, half, head in (("PAN", corner.halves[0], "up"), ("BACK", corner.halves[1], "forward")):
        layers = [("sheet", 2 * half), ("strip", angle.sheet.thickness)]
        found[key] = bolt_for(angle.bolt, layers, head, limit="wide washers under the nuts, on the strip")
    return found


def _bolts(model: Model, angle: SeatAngle, corner: _Corner, hand: Hand, side: float) -> Part:
    """Those of one strip, through both sheets."""
    made = _strip_bolts(angle, corner)
    return Part(
        number=_number(model, "ANGLE-BOLTS", hand), name="bolts through a strip of the seat, nuts and washers",
        form="item", group=GROUP, purpose="bought", material="bought", band=0.2, hand=hand,
        stock="; ".join(f"{angle.bolts} {b.stock}, {b.nut}" for b in made.values()),
        places=(_at_strip(angle, corner, side),),
        mass=angle.bolts * sum(bolt_mass(angle.bolt, b.grip) for b in made.values()),
    )  # fmt: skip


def _at_strip(angle: SeatAngle, corner: _Corner, side: float) -> Place:
    q = corner.meet(-corner.halves[0], corner.halves[1])
    return float(q[0]), side * (angle.inner + angle.outer) / 2, float(q[1])


def _stiffener(model: Model, strip: SeatStiffener, corner: _Corner, hand: Hand, side: float) -> Part:
    """An L beneath the pan, beside the slot."""
    t, leg, y = strip.sheet.thickness, strip.leg, strip.buttline
    profile = np.array([(y, 0.0), (y, -leg), (y + t, -leg), (y + t, -t), (y + leg, -t), (y + leg, 0.0)])
    rings = [_spread(_on_pan(corner, x, -corner.halves[0]) + profile[:, 1:] * corner.over, side * profile[:, 0])
             for x in (strip.front, strip.rear)]  # fmt: skip
    return _bent(model, "STIFFENER", "stiffener beneath the seat's pan", "keeps the pan off what passes beneath",
                 strip.sheet, np.array(rings), f"{inches(leg)} x {gauge(t)}; both legs {inches(leg)}, square",
                 hand)  # fmt: skip


def _on_pan(corner: _Corner, station: float, over: float) -> np.ndarray:
    """The point (2,) at a station, so far over the pan's middle."""
    q = corner.meet(over, 0.0)
    return np.asarray(q + (station - q[0]) / corner.along[0] * corner.along)


def tunnel_line(tunnel: SeatTunnel, corner: _Corner) -> np.ndarray:
    """(2, 2) station and waterline of its top at the front and at the back."""
    q = corner.meet(corner.halves[0], corner.halves[1])
    long = (tunnel.front - q[0]) / corner.along[0]
    front = q + long * corner.along + tunnel.front_height * corner.over
    return np.array([front, q + tunnel.rear_height * corner.rise])


def seat_tunnel_line(model: Model, laid: Sequence[Laid]) -> np.ndarray | None:
    """(2, 2) station and waterline of the top of a model's tunnel, front and back; None for none."""
    shell = model.seat.shell if model.seat else None
    return tunnel_line(shell.tunnel, _corner(model, shell, laid)) if shell and shell.tunnel else None


def _tunnel(model: Model, tunnel: SeatTunnel, corner: _Corner) -> Part:
    """A hat: edges on the pan, walls, roof."""
    q = corner.meet(corner.halves[0], corner.halves[1])
    long = (tunnel.front - q[0]) / corner.along[0]
    half, t = tunnel.width / 2, tunnel.sheet.thickness
    rings = []
    for foot, way, high in (
        (q + long * corner.along, corner.over, tunnel.front_height),
        (q, corner.rise, tunnel.rear_height),
    ):
        right = [(half + tunnel.flange, 0.0), (half + tunnel.flange, t), (half + t, t), (half + t, high)]
        inner = [(-half, 0.0), (-half, high - t), (half, high - t), (half, 0.0)]
        profile = np.array([*right, *[(-y, h) for y, h in reversed(right)], *inner])
        rings.append(_spread(foot + profile[:, 1:] * way, profile[:, 0]))
    widths = [2 * (half + h + tunnel.flange) for h in (tunnel.front_height, tunnel.rear_height)]
    folds = (f"{inches(2 * (half + tunnel.flange))} x {gauge(t)}; flat {inches(long)} long, "
             f"{inches(widths[0])} wide at the front, {inches(widths[1])} at the back, four folds")  # fmt: skip
    return _bent(model, "TUNNEL", "cover over the rod's slot in the seat", "keeps the rod from cloth and hands",
                 tunnel.sheet, np.array(rings), folds)  # fmt: skip


def seat_joints(model: Model, laid: Sequence[Laid]) -> Iterator[Joint]:
    """Strips to pan and back, tunnel to pan."""
    shell = model.seat.shell if model.seat else None
    if shell is None:
        return
    pan, back = (sheet_number(model, n) for n in (shell.pan, shell.back))
    corner = _corner(model, shell, laid)
    made = _strip_bolts(shell.angle, corner)
    for hand, side in HANDS:
        own, bolts = (_number(model, k, hand) for k in ("ANGLE", "ANGLE-BOLTS"))
        place = _at_strip(shell.angle, corner, side)
        for key, sheet in (("PAN", pan), ("BACK", back)):
            yield Joint(number=f"{own}-{key}", kind="bolt", parts=(sheet, own, bolts), place=place, primary=True,
                        fastener=shell.angle.bolt, fasteners=shell.angle.bolts, bolt=made[key],
                        note="evenly along the strip, two diameters from its ends")  # fmt: skip
    strip = shell.stiffener
    count = 1 + math.ceil((strip.rear - strip.front) / strip.pitch - 1e-9)
    x, z = _on_pan(corner, (strip.front + strip.rear) / 2, 0.0)
    for hand, side in HANDS:
        own = _number(model, "STIFFENER", hand)
        yield Joint(number=f"{own}-PAN", kind="rivet", parts=(pan, own), primary=True, fastener=strip.rivet,
                    place=(float(x), side * strip.buttline, float(z)), fasteners=count, length=strip.rear - strip.front,
                    note=f"along the pan, {inches(strip.pitch)} apart at most")  # fmt: skip
    if shell.tunnel:
        line = tunnel_line(shell.tunnel, corner)
        long = float(np.linalg.norm(line[1] - line[0]))
        count = 2 * (1 + math.ceil(long / shell.tunnel.pitch - 1e-9))
        x, z = line.mean(axis=0)
        yield Joint(number=f"{_number(model, 'TUNNEL')}-PAN", kind="rivet", parts=(pan, _number(model, "TUNNEL")),
                    place=(float(x), 0.0, float(z)), primary=False, fastener=shell.tunnel.rivet, fasteners=count,
                    length=2 * long, note=f"along both edges, {inches(shell.tunnel.pitch)} apart at most")  # fmt: skip
