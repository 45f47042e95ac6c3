"""Skins of a wing as parts and their sheets: round the nose in one, or laid up flat for each surface.

A laid-up skin is an upper and a lower sheet off a table, no longer than that and cut from rib to rib, laid up over
size and trimmed; their nose edge is notched so that it bends, and taped over outside. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.base.record import number as figure
from sparwright.data.loader import material
from sparwright.family.model import Model, Panel, Place, Sheet, Wing
from sparwright.family.model import Skin as SkinSpec
from sparwright.parts.edges import girth, middle_of, nose_line, one_sided, run_of_line, sheet_ring, skin_rings
from sparwright.parts.number import part_number
from sparwright.parts.part import Part, Skin
from sparwright.parts.stations import SAME, rib_stations
from sparwright.parts.wing import along, centres, ends, in_one, placed, reach_of, sheet_stock, stretches
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.lifting import Station
from sparwright.shape.parted import parted_skin, parting
from sparwright.shape.solid import as_place


def skin_parts(model: Model, wing: Wing) -> Iterator[Part]:
    """Every sheet of every skin of a wing, and the tape over leading edges."""
    for panel in wing.panels:
        for skin in wing.skins:
            yield from _skin_parts(model, wing, panel, skin)


def skin_number(model: Model, wing: Wing, panel: Panel, skin: SkinSpec) -> str:
    """Number of a skin."""
    return part_number(model.name, wing.name, f"SKIN-{skin.name}".upper(), panel.name)


@dataclass(frozen=True)
class SkinSheet:
    """One sheet of a skin: all of it over a panel, or one surface of what is laid up flat."""

    number: str
    skin: SkinSpec
    reach: Panel
    side: str = ""  # "upper", "lower"; "" for both


def skin_sheets(model: Model, wing: Wing, panel: Panel, skin: SkinSpec) -> tuple[SkinSheet, ...]:
    """The sheets of a skin on a panel, from the inside out."""
    number = skin_number(model, wing, panel, skin)
    if skin.laid is None:
        return (SkinSheet(number, skin, panel),)
    reaches = tuple(_off_the_table(wing, panel, skin.laid.longest))
    many = len(reaches) > 1
    return tuple(
        SkinSheet(f"{number}-{side.upper()}{f'-{place_key(r.root_buttline)}' if many else ''}", skin, r, side)
        for r in reaches
        for side in ("upper", "lower")
    )


def sheets_at(
    model: Model, wing: Wing, skin: SkinSpec, reach: tuple[float, float], side: str = ""
) -> tuple[SkinSheet, ...]:
    """Sheets of a skin that lie between two buttlines, on one surface or both."""
    every = (s for panel in wing.panels for s in skin_sheets(model, wing, panel, skin))
    return tuple(s for s in every if s.reach.root_buttline < reach[1] - SAME and s.reach.tip_buttline > reach[0] + SAME
                 and (side in ("", s.side) or not s.side))  # fmt: skip


def _off_the_table(wing: Wing, panel: Panel, longest: float) -> Iterator[Panel]:
    """Stretches of a panel no longer than a sheet, from rib to rib."""
    marks = [r.buttline for r in rib_stations(wing) if r.kind == "wing"]
    start = panel.root_buttline
    while start < panel.tip_buttline - SAME:
        most = longest / 2 if start == panel.root_buttline and in_one(panel) else longest
        ends_at = [
            y for y in (*marks, panel.tip_buttline) if start + SAME < y <= min(start + most, panel.tip_buttline) + SAME
        ]
        if not ends_at:
            raise DesignProblem(
                f"wing {wing.name}, skins: no rib within {inches(most)} of buttline {inches(start)}, where a laid-up "
                "sheet of skins.NAME.laid.longest could end"
            )
        yield replace(panel, root_buttline=start, tip_buttline=max(ends_at))
        start = max(ends_at)


def tape_number(sheet: SkinSheet) -> str:
    """Number of the tape over the leading edge of an upper sheet."""
    return sheet.number.replace("-UPPER", "-TAPE")


def _skin_parts(model: Model, wing: Wing, panel: Panel, skin: SkinSpec) -> Iterator[Part]:
    for sheet in skin_sheets(model, wing, panel, skin):
        yield _skin(model, wing, sheet)
        if sheet.side == "upper" and skin.start <= 0:
            yield _tape(model, wing, sheet)


def _skin(model: Model, wing: Wing, sheet: SkinSheet) -> Part:
    """One sheet; where it would reach over the aileron it is cut out for it and ends at the false spar."""
    skin, panel = sheet.skin, sheet.reach
    stuff = material(skin.material)
    stock = (
        sheet_stock(Sheet(material=skin.material, thickness=skin.thickness), stuff) if skin.thickness else stuff.title
    )
    per_area = skin.areal if skin.areal > 0 else skin.thickness * stuff.density
    pieces = [_skin_piece(*cut, sheet.side) for cut in _skin_cuts(model, wing, panel, skin)]
    areas = [p.area for p in pieces]
    middle = as_place(np.average([p.middle for p in pieces], axis=0, weights=areas))
    one = in_one(panel)
    over = np.array([1.0, -1.0, 1.0])
    rings = [r for p in pieces for r in p.rings]
    rings += [r * over for p in pieces if one and p.middle[1] > ON_CENTRE for r in p.rings]
    area = sum(a * (2 if one and p.middle[1] > ON_CENTRE else 1) for a, p in zip(areas, pieces, strict=True))
    length = sum(p.length for p in pieces) if not one else 2 * panel.tip_buttline
    width = max(p.area / p.length for p in pieces)
    flat, note = _laid_up(skin, length, width)
    shape = Skin(length=length, width=width, thickness=skin.thickness, rings=tuple(rings))
    body = shape.solid() if skin.thickness else None
    middle = as_place(body.centre) if body else middle
    return Part(
        number=sheet.number,
        form="skin",
        name=f"{' '.join(x for x in (skin.name, sheet.side) if x)}, {wing.name} {panel.name}",
        group=f"wing {wing.name}",
        purpose="skin",
        material=skin.material,
        stock=f"{stock}{flat}",
        places=((middle[0], 0.0, middle[2]),) if one else (middle, mirrored(middle)),
        mass=area * per_area,
        band=0.15 if skin.areal > 0 else 0.08,
        shape=shape,
        at=f"{reach_of(panel)}, {skin.start:.0%} to {skin.end:.0%} of the chord",
        note=note,
    )


def _laid_up(skin: SkinSpec, length: float, width: float) -> tuple[str, str]:
    """(what is laid up, what is done to it) of a flat sheet; empty for any other skin."""
    laid = skin.laid
    if laid is None:
        return "", ""
    size = f"{inches(length + 2 * laid.trim)} x {inches(width + 2 * laid.trim)}"
    notched = (
        f"; {int(length / laid.notch)} notches {inches(laid.depth)} deep along the nose, {inches(laid.notch)} apart"
    )
    return f", laid up flat {size}", f"trimmed by {inches(laid.trim)} all round{notched if skin.start <= 0 else ''}"


def _tape(model: Model, wing: Wing, sheet: SkinSheet) -> Part:
    """Over the leading edge of both sheets, outside."""
    skin, panel = sheet.skin, sheet.reach
    assert skin.laid is not None
    at, width = ends(model, wing, panel), skin.laid.tape
    root, tip = (placed(s, map(tuple, sheet_ring(nose_line(s, width), -skin.thickness))) for s in at)
    rings = along(panel, root, tip)
    places, length = centres(panel, *(as_place(r.mean(axis=0)) for r in (root, tip)))
    stuff = material(skin.material)
    return Part(
        number=tape_number(sheet), form="skin", name=f"{skin.name} nose tape, {wing.name} {panel.name}",
        group=f"wing {wing.name}", purpose="skin", material=skin.material, places=places, band=0.15,
        stock=f"{sheet_stock(Sheet(material=skin.material, thickness=skin.thickness), stuff)}, {inches(width)} wide",
        mass=width * length * skin.thickness * stuff.density, at=reach_of(panel),
        shape=Skin(length=length, width=width, thickness=skin.thickness, rings=(rings,)),
    )  # fmt: skip


@dataclass(frozen=True)
class _SkinPiece:
    """A skin over one stretch of a panel."""

    rings: tuple[np.ndarray, ...]
    middle: Place
    length: float = figure("m", "along the span; tip to tip where it is in one")
    area: float = figure("m2", "developed")


def _skin_cuts(
    model: Model, wing: Wing, panel: Panel, skin: SkinSpec
) -> Iterator[tuple[Panel, tuple[Station, Station], tuple[SkinSpec, SkinSpec]]]:
    """Each stretch of a panel with what of the skin lies on it at its two ends; the whole panel where none is cut."""
    found = []
    for stretch, parted in stretches(wing, panel):
        at = ends(model, wing, stretch)
        left = [parted_skin(skin, s, parting(s, wing)) for s in at] if parted else [skin, skin]
        if left[0] is not None and left[1] is not None:
            found.append((stretch, at, (left[0], left[1])))
    if len(found) == len(stretches(wing, panel)) and all(a == b == skin for _, _, (a, b) in found):
        yield panel, ends(model, wing, panel), (skin, skin)
    else:
        yield from found


def _skin_piece(stretch: Panel, at: tuple[Station, Station], skins: tuple[SkinSpec, SkinSpec], side: str) -> _SkinPiece:
    """A skin over a stretch; side: one surface of it, else both."""
    if side:
        flat = [one_sided(s, k, side) for s, k in zip(at, skins, strict=True)]
        width = sum(run_of_line(r[: len(r) // 2]) for (r,) in flat) / 2
        a, b = (s.place(*map(float, r.mean(axis=0))) for s, (r,) in zip(at, flat, strict=True))
    else:
        flat = [skin_rings(s, k) for s, k in zip(at, skins, strict=True)]
        width = sum(girth(s, k.start, k.end) for s, k in zip(at, skins, strict=True)) / 2
        a, b = (s.place(*middle_of(s, k)) for s, k in zip(at, skins, strict=True))
    rings = tuple(
        along(stretch, *(placed(s, map(tuple, r)) for s, r in zip(at, pair, strict=True)))
        for pair in zip(*flat, strict=True)
    )
    places, length = centres(stretch, a, b)
    return _SkinPiece(rings, places[0], length, width * length)
