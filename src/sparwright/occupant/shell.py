"""Whether the seat that is drawn carries the pilot where the sums have them sit: `occupant.seat.*`.

The sums have a pan and a back that are planes through the seat reference point R:

    off the pan's plane         (sin p, cos p) . (x - R)     x on the upper side, from the back to its front edge
    off the back's plane        (-cos b, sin b) . (x - R)    x on the front, from the pan to its upper edge
    over the tunnel             |hip to the tunnel's top line| - height of the hip over what is sat on
    sag of the pan              5 P L^3/(384 E I)            P heaviest pilot times the limit load factor, spread evenly
    stress in its stiffeners    P L e/(8 I)                  e of their lower edge

L from the front tube that holds the pan to the back, both ends free to turn; I of both stiffeners with as much of the
pan as their legs cover. Source: any text on strength of materials (from memory); the rest by geometry, in the
middle plane.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np
import shapely

from sparwright.base.check import Check, Step, check
from sparwright.base.source import Band
from sparwright.data.controls import RULES as CONTROLS
from sparwright.data.loader import material
from sparwright.data.occupant import bodies, rule
from sparwright.family.model import Model
from sparwright.family.occupant import Seat
from sparwright.occupant.fit import Fit
from sparwright.parts.flat_sheets import Laid, laid_sheets, sheet_number
from sparwright.parts.frame import frame_tubes
from sparwright.parts.seat import seat_tunnel_line

G = 9.80665  # m/s2
METHOD = "planes of the drawn sheets against those the pilot sits on (occupant/shell.py)"
SOURCE = "simple beam under an even load: any text on strength of materials, from memory"
STIFF = "at rest; how far the back gives is not computed"
SAG = "how the sums take it: the whole load on the stiffeners, none on the rest of the pan; joints are not proved"


def shell_checks(model: Model, found: Mapping[str, Fit]) -> Iterator[Check]:
    """Pan, back and tunnel against those who sit on them; nothing where the file does not say the seat's sheets."""
    seat = model.seat
    if seat is None or seat.shell is None:
        return
    laid = laid_sheets(model, frame_tubes(model))
    known = {one.sheet.name: one for one in laid}
    r = np.array([seat.place[0], seat.place[2]])
    planes = (
        ("pan", seat.shell.pan, (math.sin(seat.pan), math.cos(seat.pan)), (-1.0, 0.0)),
        ("back", seat.shell.back, (-math.cos(seat.back), math.sin(seat.back)), (0.0, 1.0)),
    )
    for word, name, normal, ahead in planes:
        ends = off_plane(known[name], r, np.array(normal), np.array(ahead))
        worst = max(ends, key=abs)
        yield check(f"occupant.seat.{word}", rule("seat_true").title + f", {word}", Band.exact(abs(worst)),
                    rule("seat_true").value, rule("seat_true").sense, "m", part=sheet_number(model, name),
                    rule=str(rule("seat_true").source), method=METHOD, caveat=STIFF,
                    steps=tuple(Step(f"off the plane, {end}", "n . (x - R)", (), value, "m", METHOD)
                                for end, value in zip(("near R", "far edge"), ends, strict=True)))  # fmt: skip
    yield from _sag_checks(model, seat, known)
    line = seat_tunnel_line(model, laid)
    if line is not None:
        key, gap = over_tunnel(line, found)
        yield check("occupant.seat.tunnel", "from the round of the hip to the cover of the rod's slot", Band.exact(gap),
                    0.0, ">=", "m", case=bodies()[key].title, rule="must clear (designer's)", method=METHOD,
                    caveat="hip taken as round about its joint; a trial sit in a mock-up decides")  # fmt: skip


def _sag_checks(model: Model, seat: Seat, known: Mapping[str, Laid]) -> Iterator[Check]:
    """The pan under the heaviest pilot at the limit load: how far it sags, and the stress in its stiffeners."""
    assert seat.shell is not None
    pan, strip = known[seat.shell.pan], seat.shell.stiffener
    stuff = material(strip.sheet.material)
    pilots = [x.most for x in model.loads if x.kind == "pilot"]
    load = max(pilots) * model.limits.n_positive * G if pilots else math.nan
    span = _span(model, seat, pan)
    area, low = section(strip.leg, strip.sheet.thickness, pan.sheet.sheet.thickness)
    given = (("P", load, "N"), ("L", span, "m"), ("I", 2 * area, "m4"))
    sag = 5 * load * span**3 / (384 * stuff.youngs * 2 * area)
    stress = load * span * low / (8 * 2 * area)
    number = f"{model.name}-seat-STIFFENER-R"
    clear = CONTROLS["clear"]
    yield check("occupant.seat.sag", "sag of the seat's pan at the limit load", Band.exact(sag), clear.value, "<=", "m",
                part=number, rule=f"no more than the gap that controls keep at rest: {clear.source}", method=METHOD,
                caveat=SAG, steps=(Step("sag", "5 P L^3/(384 E I)", given, sag, "m", SOURCE),))  # fmt: skip
    yield check("occupant.seat.stress", "stress in the stiffeners of the seat's pan at the limit load",
                Band.exact(stress), stuff.yield_tension, "<=", "Pa", part=number, rule="yield in tension: "
                + str(stuff.sources.get("yield_tension", stuff.source)), method=METHOD, caveat=SAG,
                steps=(Step("stress", "P L e/(8 I)", (*given, ("e", low, "m")), stress, "Pa", SOURCE),))  # fmt: skip


def _span(model: Model, seat: Seat, pan: Laid) -> float:
    """From the foremost tube that holds the pan to the seat reference point, along the pan, m."""
    known = {t.number: t for t in frame_tubes(model)}
    front = min((known[n].places[0][0] for n in pan.tubes), default=math.nan)
    return (seat.place[0] - front) / math.cos(seat.pan)


def section(leg: float, thickness: float, pan: float) -> tuple[float, float]:
    """(second moment of area, m4; from its neutral line to its lower edge, m) of a stiffener and the pan on its leg.

    leg: width of each leg, m; thickness: its own; pan: thickness of the pan.
    """
    pieces = ((leg, pan, pan / 2), (leg, thickness, -thickness / 2),
              (thickness, leg - thickness, -thickness - (leg - thickness) / 2))  # width, height, middle  # fmt: skip
    middle = sum(w * h * z for w, h, z in pieces) / sum(w * h for w, h, _ in pieces)
    area = sum(w * h**3 / 12 + w * h * (z - middle) ** 2 for w, h, z in pieces)
    return area, middle + leg


def off_plane(one: Laid, r: np.ndarray, normal: np.ndarray, ahead: np.ndarray) -> tuple[float, float]:
    """(near the reference point, at the far edge): how far a sheet's surface lies off a plane through r (2,), m.

    normal: unit (2,) to the side sat on; ahead: the side of r that counts, (2,).
    """
    pose, half = one.pose, one.sheet.sheet.thickness / 2
    edges = [np.array(pose.at(np.array([[0.0, u, half]]))[0])[[0, 2]]
             for u in (one.outline[:, 1].min(), one.outline[:, 1].max())]  # fmt: skip
    low, high = sorted(edges, key=lambda p: float((p - r) @ ahead))
    reach, start = float((high - r) @ ahead), float((low - r) @ ahead)
    near = low + (high - low) * max(-start, 0.0) / (reach - start)
    return float((near - r) @ normal), float((high - r) @ normal)


def over_tunnel(line: np.ndarray, found: Mapping[str, Fit]) -> tuple[str, float]:
    """(whose hip comes nearest to a tunnel's top line (2, 2), how near its round comes, m)."""
    top = shapely.LineString(line)
    gaps = {k: float(top.distance(shapely.Point(f.sitting.hip))) - f.who.hip_up for k, f in found.items()}
    key = min(gaps, key=lambda k: gaps[k])
    return key, gaps[key]
