"""Spars, edge bars and skins of a wing as parts, one for each panel and side."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.base.quantity import inches, millimetres
from sparwright.data.loader import Material, material
from sparwright.family.model import Bar, Model, Panel, Place, Sheet, Spar, Wing
from sparwright.family.model import Skin as SkinSpec
from sparwright.parts.number import part_number
from sparwright.parts.part import Part, Plate, Skin, Straight
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.lifting import Station, cut
from sparwright.shape.rib import Slot, slot


def wing_parts(model: Model, wing: Wing) -> tuple[Part, ...]:
    """Caps and webs of every spar, edge bars and skins."""
    found: list[Part] = []
    for panel in wing.panels:
        found += _panel_parts(model, wing, panel)
    return tuple(found)


def ends(model: Model, wing: Wing, panel: Panel) -> tuple[Station, Station]:
    """The wing cut at the panel's two ends."""
    return cut(wing, model.sections, panel.root_buttline), cut(wing, model.sections, panel.tip_buttline)


def _panel_parts(model: Model, wing: Wing, panel: Panel) -> Iterator[Part]:
    a, b = ends(model, wing, panel)
    for spar in wing.spars:
        sa, sb = slot(a, wing, spar), slot(b, wing, spar)
        yield from _caps(model, wing, panel, spar, (a, b), (sa, sb))
        yield _web(model, wing, panel, spar, (a, b), (sa, sb))
    for name, bar, at in (("nose-bar", wing.nose_bar, 0.0), ("tail-bar", wing.tail_bar, 1.0)):
        if bar is not None:
            yield _edge(model, wing, panel, name, bar, at, (a, b))
    for skin in wing.skins:
        yield _skin(model, wing, panel, skin, (a, b))


def _middle(a: Place, b: Place) -> Place:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def _reach(panel: Panel) -> str:
    return f"BL {inches(panel.root_buttline, 10**6)} to {inches(panel.tip_buttline, 10**6)}"


def in_one(panel: Panel) -> bool:
    """Whether what runs along the panel is one piece from side to side: it meets its mirror without a kink."""
    bent = (panel.sweep, panel.dihedral, panel.twist, panel.tip_chord - panel.root_chord)
    return panel.root_buttline < ON_CENTRE and panel.root_section == panel.tip_section and not any(bent)


def _straight(panel: Panel, a: Place, b: Place, section: str) -> tuple[tuple[Place, ...], Straight, float]:
    """(centre of each, shape of the right or only one, length of one)."""
    half = float(np.linalg.norm(np.subtract(b, a)))
    middle = _middle(a, b)
    if in_one(panel):
        return ((middle[0], 0.0, middle[2]),), Straight(start=mirrored(b), end=b, section=section), 2 * half
    return (middle, mirrored(middle)), Straight(start=a, end=b, section=section), half


def cap_number(model: Model, wing: Wing, panel: Panel, spar: Spar, side: str) -> str:
    """Number of a spar cap; side is upper or lower."""
    return part_number(model.name, wing.name, f"{spar.name}-{side}-CAP".upper(), panel.name)


def web_number(model: Model, wing: Wing, panel: Panel, spar: Spar) -> str:
    """Number of a spar web."""
    return part_number(model.name, wing.name, f"{spar.name}-WEB".upper(), panel.name)


def skin_number(model: Model, wing: Wing, panel: Panel, skin: SkinSpec) -> str:
    """Number of a skin."""
    return part_number(model.name, wing.name, f"SKIN-{skin.name}".upper(), panel.name)


def bar_section(bar: Bar) -> str:
    """How the stock is asked for."""
    return f"{inches(bar.width)} x {inches(bar.depth)}"


def _caps(
    model: Model, wing: Wing, panel: Panel, spar: Spar, at: tuple[Station, Station], slots: tuple[Slot, Slot]
) -> Iterator[Part]:
    stuff = material(spar.cap.material)
    for side, sign in (("upper", 1), ("lower", -1)):
        a, b = (s.place(*k.point(sign * (k.height - spar.cap.depth) / 2)) for s, k in zip(at, slots, strict=True))
        places, shape, length = _straight(panel, a, b, bar_section(spar.cap))
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
            at=_reach(panel),
        )


def sheet_stock(sheet: Sheet, stuff: Material) -> str:
    """How flat stock is asked for: metal by decimal inch, plywood by millimetre."""
    thick = (
        f"{sheet.thickness / 0.0254:.3f} in" if stuff.kind in ("aluminium", "steel") else millimetres(sheet.thickness)
    )
    return f"{stuff.title}, {thick}"


def _web(
    model: Model, wing: Wing, panel: Panel, spar: Spar, at: tuple[Station, Station], slots: tuple[Slot, Slot]
) -> Part:
    stuff = material(spar.web.material)
    a, b = (s.place(k.x, k.y) for s, k in zip(at, slots, strict=True))
    centres, _, length = _straight(panel, a, b, "")
    ha, hb = slots[0].height, slots[1].height
    x = length / 2 if len(centres) == 1 else length
    outline = np.array([[0, -ha / 2], [x, -hb / 2], [x, hb / 2], [0, ha / 2]])
    if len(centres) == 1:
        outline = np.array([[-x, -hb / 2], [0, -ha / 2], [x, -hb / 2], [x, hb / 2], [0, ha / 2], [-x, hb / 2]])
    return Part(
        number=web_number(model, wing, panel, spar),
        form="plate",
        name=f"{spar.name} spar web, {wing.name} {panel.name}",
        group=f"wing {wing.name}",
        purpose="spar web",
        material=spar.web.material,
        stock=sheet_stock(spar.web, stuff),
        places=centres * spar.webs,
        mass=(ha + hb) / 2 * length * spar.web.thickness * stuff.density,
        shape=Plate(outline=outline, holes=(), thickness=spar.web.thickness),
        at=_reach(panel),
    )


def _edge(
    model: Model, wing: Wing, panel: Panel, name: str, bar: Bar, at: float, stations: tuple[Station, Station]
) -> Part:
    stuff = material(bar.material)
    inset = bar.width / 2 if at == 0.0 else -bar.width / 2
    a, b = (s.place(at * s.chord + inset, 0.0) for s in stations)
    places, shape, length = _straight(panel, a, b, bar_section(bar))
    return Part(
        number=part_number(model.name, wing.name, name.upper(), panel.name),
        form="bar",
        shape=shape,
        name=f"{'leading' if at == 0.0 else 'trailing'} edge bar, {wing.name} {panel.name}",
        group=f"wing {wing.name}",
        purpose="edge bar",
        material=bar.material,
        stock=f"{stuff.title}, {bar_section(bar)}",
        places=places,
        band=0.15,
        mass=bar.width * bar.depth * length * stuff.density,
        at=_reach(panel),
    )


def girth(station: Station, start: float, end: float) -> float:
    """Developed length of both surfaces between two fractions of the chord, m."""
    assert station.points is not None
    p = station.points * station.chord
    middle = (station.points[0, 1:] + station.points[0, :-1]) / 2
    steps = np.hypot(*np.diff(p, axis=1))
    return float(np.sum(steps[(middle >= start) & (middle <= end)]))


def _skin(model: Model, wing: Wing, panel: Panel, skin: SkinSpec, at: tuple[Station, Station]) -> Part:
    stuff = material(skin.material)
    sheet = (
        sheet_stock(Sheet(material=skin.material, thickness=skin.thickness), stuff) if skin.thickness else stuff.title
    )
    per_area = skin.areal if skin.areal > 0 else skin.thickness * stuff.density
    width = (girth(at[0], skin.start, skin.end) + girth(at[1], skin.start, skin.end)) / 2
    a, b = (s.place((skin.start + skin.end) / 2 * s.chord, 0.0) for s in at)
    places, _, length = _straight(panel, a, b, "")
    return Part(
        number=skin_number(model, wing, panel, skin),
        form="skin",
        name=f"{skin.name}, {wing.name} {panel.name}",
        group=f"wing {wing.name}",
        purpose="skin",
        material=skin.material,
        stock=sheet,
        places=places,
        mass=width * length * per_area,
        band=0.15 if skin.areal > 0 else 0.08,
        shape=Skin(length=length, width=width, thickness=skin.thickness),
        at=f"{_reach(panel)}, {skin.start:.0%} to {skin.end:.0%} of the chord",
    )
