"""Spars and edge bars of a wing as parts, one for each run and side; and what goes along a panel in general."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np
from shapely import Polygon

from sparwright.base.quantity import gauge, inches, millimetres, place_key
from sparwright.base.record import locked
from sparwright.data.loader import Material, material
from sparwright.family.model import Bar, Model, Panel, Place, Sheet, Spar, Strut, Wing, Wire
from sparwright.parts.edges import (
    bar_ring,
)
from sparwright.parts.number import part_number
from sparwright.parts.part import Part, Plate, Straight
from sparwright.parts.stations import SAME
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.lifting import Station, cut
from sparwright.shape.rib import Slot, slot
from sparwright.shape.solid import Pose, as_place

SCARF = 12.0  # slope of a scarf in spar caps, length over depth (common practice, no source)


def wing_parts(model: Model, wing: Wing) -> tuple[Part, ...]:
    """Caps and webs of every spar, and edge bars."""
    found: list[Part] = []
    for run in spar_runs(wing):
        found += _panel_parts(model, wing, run)
    return tuple(found)


def ends(model: Model, wing: Wing, panel: Panel) -> tuple[Station, Station]:
    """The wing cut at the panel's two ends."""
    return cut(wing, model.sections, panel.root_buttline), cut(wing, model.sections, panel.tip_buttline)


def _panel_parts(model: Model, wing: Wing, panel: Panel) -> Iterator[Part]:
    """Spars and edge bars of one run, which may be several panels."""
    a, b = ends(model, wing, panel)
    for spar in wing.spars:
        sa, sb = slot(a, wing, spar), slot(b, wing, spar)
        yield from _caps(model, wing, panel, spar, (a, b), (sa, sb))
        yield _web(model, wing, panel, spar, (a, b), (sa, sb))
    if wing.nose_bar is not None:
        yield edge_bar(model, wing, panel, edge_number(model, wing, panel, 0), wing.nose_bar, 0.0)
    for stretch, parted in stretches(wing, panel):
        if wing.tail_bar is not None and not parted:
            yield edge_bar(model, wing, stretch, edge_number(model, wing, panel, 1, stretch), wing.tail_bar, 1.0)


def spar_runs(wing: Wing) -> tuple[Panel, ...]:
    """What spars and edge bars run along in one piece: each panel, or all as one, with the name of the first."""
    if not wing.one_piece or len(wing.panels) < 2:
        return wing.panels
    first, last = wing.panels[0], wing.panels[-1]
    whole = replace(first, tip_buttline=last.tip_buttline, tip_chord=last.tip_chord, tip_section=last.tip_section)
    return (replace(whole, twist=sum(p.twist for p in wing.panels)),)


def run_of(wing: Wing, panel: Panel) -> Panel:
    """The run a panel is in."""
    return next(r for r in spar_runs(wing) if panel.tip_buttline <= r.tip_buttline + SAME)


def no_scarf(model: Model, wing: Wing, spar: Spar, run: Panel) -> str:
    """Where a spar's long parts may have no scarf: as the file says, and within a scarf's length of struts and wires.

    A scarf is SCARF times as long as the cap is deep. Empty where the run is free.
    """
    zones = [(z.start, z.end, z.reason) for z in spar.no_scarf]
    long = SCARF * spar.cap.depth
    ended: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    for thing in ended:
        zones += [(e.buttline - long, e.buttline + long, thing.name) for e in thing.ends
                  if (e.wing, e.spar) == (wing.name, spar.name)]  # fmt: skip
    here = sorted((max(a, run.root_buttline), min(b, run.tip_buttline), why) for a, b, why in zones)
    said = (f"BL {inches(a, 10**6)} to {inches(b, 10**6)} ({why})" for a, b, why in here if a < b)
    return "; ".join("no scarf from " + z for z in said)


def stretches(wing: Wing, panel: Panel) -> tuple[tuple[Panel, bool], ...]:
    """A panel from the root out, cut where an aileron with a frame begins and ends: each with whether it is parted."""
    aileron = wing.aileron
    if aileron is None or aileron.frame is None:
        return ((panel, False),)
    inner, outer = (min(max(y, panel.root_buttline), panel.tip_buttline) for y in (aileron.inboard, aileron.outboard))
    marks = ((panel.root_buttline, inner, False), (inner, outer, True), (outer, panel.tip_buttline, False))
    return tuple((replace(panel, root_buttline=a, tip_buttline=b), parted) for a, b, parted in marks if b - a > SAME)


def edge_number(model: Model, wing: Wing, panel: Panel, at: int, stretch: Panel | None = None) -> str:
    """Number of a nose bar (at 0) or tail bar (1) of a panel; of a stretch of it, with the place where it begins."""
    cut = stretch is not None and (stretch.root_buttline, stretch.tip_buttline) != (
        panel.root_buttline, panel.tip_buttline)  # fmt: skip
    begins = f"-{place_key(stretch.root_buttline)}" if stretch is not None and cut else ""
    return part_number(model.name, wing.name, ("NOSE-BAR", "TAIL-BAR")[at], f"{panel.name}{begins}")


def _middle(a: Place, b: Place) -> Place:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def reach_of(panel: Panel) -> str:
    """The buttlines a panel or stretch goes from and to."""
    return f"BL {inches(panel.root_buttline, 10**6)} to {inches(panel.tip_buttline, 10**6)}"


def in_one(panel: Panel) -> bool:
    """Whether what runs along the panel is one piece from side to side: it meets its mirror without a kink."""
    bent = (panel.sweep, panel.dihedral, panel.twist, panel.tip_chord - panel.root_chord)
    return panel.root_buttline < ON_CENTRE and panel.root_section == panel.tip_section and not any(bent)


def centres(panel: Panel, a: Place, b: Place) -> tuple[tuple[Place, ...], float]:
    """(middle of each, length of one) of what runs along a panel from a to b: right and left, or one tip to tip."""
    half, middle = float(np.linalg.norm(np.subtract(b, a))), _middle(a, b)
    return (((middle[0], 0.0, middle[2]),), 2 * half) if in_one(panel) else ((middle, mirrored(middle)), half)


def along(panel: Panel, root: np.ndarray, tip: np.ndarray) -> np.ndarray:
    """(2, n, 3) the corners of what runs along a panel: root and tip of the right one, or tip to tip."""
    return np.array([tip * (1.0, -1.0, 1.0), tip] if in_one(panel) else [root, tip])


def placed(station: Station, corners: Iterable[tuple[float, float]]) -> np.ndarray:
    """(n, 3) corners given in a rib's own axes."""
    return np.array([station.place(x, y) for x, y in corners])


def cap_number(model: Model, wing: Wing, panel: Panel, spar: Spar, side: str) -> str:
    """Number of a spar cap; side is upper or lower."""
    return part_number(model.name, wing.name, f"{spar.name}-{side}-CAP".upper(), run_of(wing, panel).name)


def web_number(model: Model, wing: Wing, panel: Panel, spar: Spar) -> str:
    """Number of a spar web."""
    return part_number(model.name, wing.name, f"{spar.name}-WEB".upper(), run_of(wing, panel).name)


def bar_section(bar: Bar) -> str:
    """How the stock is asked for."""
    return f"{inches(bar.width)} x {inches(bar.depth)}"


def _caps(
    model: Model, wing: Wing, panel: Panel, spar: Spar, at: tuple[Station, Station], slots: tuple[Slot, Slot]
) -> Iterator[Part]:
    stuff = material(spar.cap.material)
    for side, sign in (("upper", 1), ("lower", -1)):
        x, wide, deep = spar.web.thickness / 2 * (spar.webs == 1), spar.cap.width / 2, spar.cap.depth / 2
        ups = [sign * (k.height / 2 - deep) for k in slots]
        a, b = (s.place(*k.corner(x, up)) for s, k, up in zip(at, slots, ups, strict=True))
        places, length = centres(panel, a, b)
        box = ((x - wide, -deep), (x + wide, -deep), (x + wide, deep), (x - wide, deep))
        root, tip = (placed(s, (k.corner(p, up + q) for p, q in box)) for s, k, up in zip(at, slots, ups, strict=True))
        ends_of = (mirrored(b), b) if in_one(panel) else (a, b)
        shape = Straight(start=ends_of[0], end=ends_of[1], section=bar_section(spar.cap), rings=along(panel, root, tip))
        yield Part(
            number=cap_number(model, wing, panel, spar, side),
            form="bar",
            name=f"{spar.name} spar {side} cap, {wing.name} {panel.name}",
            group=f"wing {wing.name}",
            purpose="spar cap",
            material=spar.cap.material,
            stock=f"{stuff.title}, {bar_section(spar.cap)}",
            places=places,
            mass=spar.cap.width * spar.cap.depth * length * stuff.density,
            shape=shape,
            at=reach_of(panel),
            note=no_scarf(model, wing, spar, panel),
        )


def sheet_stock(sheet: Sheet, stuff: Material) -> str:
    """How flat stock is asked for: metal by its gauge, plywood by millimetre."""
    thick = gauge(sheet.thickness) if stuff.kind in ("aluminium", "steel") else millimetres(sheet.thickness)
    return f"{stuff.title}, {thick}"


def _web(
    model: Model, wing: Wing, panel: Panel, spar: Spar, at: tuple[Station, Station], slots: tuple[Slot, Slot]
) -> Part:
    stuff = material(spar.web.material)
    off = (spar.cap.width + spar.web.thickness) / 2
    faces = (-off, off) if spar.webs == 2 else (-spar.cap.width / 2,)
    made = [_web_face(panel, at, slots, face) for face in faces]
    outline = made[0][0]
    shape = Plate(outline=outline, holes=(), thickness=spar.web.thickness)
    area, centre = polygon_area(outline)
    poses = tuple(p for _, pose in made for p in ((pose,) if in_one(panel) else (pose, pose.across())))
    return Part(
        number=web_number(model, wing, panel, spar),
        form="plate",
        name=f"{spar.name} spar web, {wing.name} {panel.name}",
        group=f"wing {wing.name}",
        purpose="spar web",
        material=spar.web.material,
        stock=sheet_stock(spar.web, stuff),
        places=tuple(pose.place(*centre) for pose in poses),
        poses=poses,
        mass=area * spar.web.thickness * stuff.density,
        shape=shape,
        at=reach_of(panel),
        note=no_scarf(model, wing, spar, panel),
    )


def _web_face(
    panel: Panel, at: tuple[Station, Station], slots: tuple[Slot, Slot], face: float
) -> tuple[np.ndarray, Pose]:
    """(outline, where the right or only one stands) of a web this far aft of the spar's middle; its ends lie in the
    planes of the ribs."""
    root, tip = (
        placed(s, (k.corner(face, up * k.height / 2) for up in (-1, 1))) for s, k in zip(at, slots, strict=True)
    )
    start = tip * (1.0, -1.0, 1.0) if in_one(panel) else root
    corners = np.array([start[0], tip[0], tip[1], start[1]])
    origin = corners[[0, 3]].mean(axis=0)
    x = corners[[1, 2]].mean(axis=0) - origin
    x = x / np.linalg.norm(x)
    y = corners[3] - corners[0]
    y = y - (y @ x) * x
    y = y / np.linalg.norm(y)
    outline = (corners - origin) @ np.array([x, y]).T
    return locked(outline), Pose(as_place(origin), as_place(x), as_place(y))


def polygon_area(outline: np.ndarray) -> tuple[float, tuple[float, float]]:
    """(area, centre) of a closed outline (n, 2)."""
    shape = Polygon(outline)
    return float(shape.area), (float(shape.centroid.x), float(shape.centroid.y))


def edge_bar(model: Model, wing: Wing, panel: Panel, number: str, bar: Bar, at: float) -> Part:
    """A bar along the leading (at 0) or trailing edge (1) of a stretch, planed to the section inside its skin."""
    stuff, stations = material(bar.material), ends(model, wing, panel)
    flat = [bar_ring(s, wing, bar, tail=at == 1.0) for s in stations]
    (area, middle), (far, end) = map(polygon_area, flat)
    a, b = (s.place(*m) for s, m in zip(stations, (middle, end), strict=True))
    places, length = centres(panel, a, b)
    ends_of = (mirrored(b), b) if in_one(panel) else (a, b)
    root, tip = (placed(s, map(tuple, ring)) for s, ring in zip(stations, flat, strict=True))
    return Part(
        number=number,
        form="bar",
        shape=Straight(start=ends_of[0], end=ends_of[1], section=bar_section(bar), rings=along(panel, root, tip)),
        name=f"{'leading' if at == 0.0 else 'trailing'} edge bar, {wing.name} {panel.name}",
        group=f"wing {wing.name}",
        purpose="edge bar",
        material=bar.material,
        stock=f"{stuff.title}, {bar_section(bar)}",
        places=places,
        band=0.15,
        mass=(area + far) / 2 * length * stuff.density,
        at=reach_of(panel),
    )
