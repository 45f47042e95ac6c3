"""Plates made for the sheets' tests: sections by the NACA four-digit formula, holes, flanged blanks, a long one."""

from __future__ import annotations

import numpy as np
import shapely

from sparwright.parts.part import Length, Mark, Part, Plate
from sparwright.plans.paper import TitleBlock

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0123456789abcdef" * 4)


def section(chord: float, count: int = 80) -> np.ndarray:
    """NACA 4412, closed trailing edge, anticlockwise from the trailing edge over the top, m."""
    x = (1 - np.cos(np.linspace(0, np.pi, count))) / 2
    t = 0.12 / 0.2 * (0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4)
    m, p = 0.04, 0.4
    y = np.where(x < p, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
    upper, lower = np.column_stack((x, y + t)), np.column_stack((x, y - t))
    return np.vstack((upper[::-1], lower[1:-1])) * chord


def ring(shape: shapely.Polygon, *, clockwise: bool = False) -> np.ndarray:
    """Corners of a polygon without the repeated last, turning as asked."""
    turned = shapely.orient_polygons(shape, exterior_cw=clockwise)
    return np.array(turned.exterior.coords)[:-1]


def rib(number: str, chord: float, *, hand: str = "", flange: float = 0.0, count: int = 4) -> Part:
    """A rib with two spar slots, lightening holes, marks and lengths; with a blank when it is flanged."""
    whole = shapely.Polygon(section(chord)).intersection(shapely.box(0.02 * chord, -1, 0.97 * chord, 1))
    deep = whole.buffer(-0.004)
    slots = [deep.intersection(shapely.box(f * chord - 0.012, -1, f * chord + 0.012, 1)) for f in (0.15, 0.65)]
    open_ = whole.buffer(-0.02).difference(shapely.union_all([s.buffer(0.02) for s in slots]))
    bays = [
        open_.intersection(shapely.box(a * chord, -1, b * chord, 1)) for a, b in ((0.2, 0.38), (0.42, 0.6), (0.7, 0.8))
    ]
    holes = [b.buffer(-0.006).buffer(0.006) for b in bays if b.buffer(-0.006).area > 6e-4]
    cuts = [*slots, *holes]
    marks = (
        Mark(label="chord line", points=((0.02 * chord, 0.0), (0.97 * chord, 0.0))),
        Mark(label="front spar", points=((0.15 * chord, -0.04), (0.15 * chord, 0.09 * chord))),
        Mark(label="rear spar", points=((0.65 * chord, -0.03), (0.65 * chord, 0.07 * chord))),
        Mark(label="drain hole", points=((0.9 * chord, 0.005),)),
    )
    lengths = (
        Length(label="overall", start=(0.02 * chord, 0.0), end=(0.97 * chord, 0.0)),
        Length(label="front to rear spar", start=(0.15 * chord, 0.012), end=(0.65 * chord, 0.02)),
        Length(
            label="greatest depth",
            start=(0.3 * chord, float(_at(whole, 0.3 * chord)[0])),
            end=(0.3 * chord, float(_at(whole, 0.3 * chord)[1])),
        ),
    )
    plate = Plate(
        outline=ring(whole),
        holes=tuple(ring(c, clockwise=True) for c in cuts),
        thickness=0.0015 if not flange else 0.025 * 0.0254,
        blank=ring(whole.buffer(flange, join_style="mitre", mitre_limit=2.5)) if flange else None,
        grain="" if flange else "along the chord",
        bend=f"flange bent {'away from' if hand == 'R' else 'towards'} you" if flange else "",
        marks=marks,
        lengths=lengths,
    )
    places = tuple((0.3 * chord, 0.3 + i, 0.0) for i in range(count))
    return Part(
        number=number,
        name="rib",
        form="plate",
        group="wing",
        purpose="rib",
        material="test",
        places=places,
        mass=0.21,
        stock="2024-T3 sheet, 0.025 in" if flange else "birch plywood EN 636-3, 1.5 mm",
        hand=hand,
        at="BL 12″, 24″",
        shape=plate,
    )


def _at(shape: shapely.Polygon, x: float) -> tuple[float, float]:
    line = shapely.box(x - 1e-7, -1, x + 1e-7, 1).intersection(shape)
    return line.bounds[1], line.bounds[3]


def small(number: str) -> Part:
    """A tail rib hardly larger than its number."""
    plate = Plate(
        outline=np.array([[0, 0], [0.07, 0.004], [0.0, 0.03]]),
        holes=(),
        thickness=0.003,
        grain="45 deg to the long side",
    )
    return Part(
        number=number,
        name="gusset",
        form="plate",
        group="wing",
        purpose="gusset",
        material="test",
        places=((0, 0, 0),) * 12,
        mass=0.004,
        stock="birch plywood EN 636-3, 3 mm",
        shape=plate,
    )


def long_plate(number: str) -> Part:
    """A 2.2 m plate, longer than any of our sheets twice over."""
    plate = Plate(
        outline=np.array([[0, 0], [2.2, 0.02], [2.2, 0.11], [0, 0.15]]),
        holes=(ring(shapely.Point(1.1, 0.07).buffer(0.02), clockwise=True),),
        thickness=0.003,
        grain="along the chord",
        marks=(
            Mark(label="datum", points=((0, 0.07), (2.2, 0.07))),
            Mark(label="middle", points=((1.1, 0.0), (1.1, 0.14))),
        ),
        lengths=(
            Length(label="overall", start=(0, 0.07), end=(2.2, 0.07)),
            Length(label="root depth", start=(0, 0), end=(0, 0.15)),
        ),
    )
    return Part(
        number=number,
        name="side plate",
        form="plate",
        group="fuselage",
        purpose="side",
        material="test",
        places=((0, 0, 0),),
        mass=1.1,
        stock="birch plywood EN 636-3, 3 mm",
        at="BL 11″",
        shape=plate,
    )


def parts() -> tuple[Part, ...]:
    """A mixed set: flat and flanged ribs of both hands, a rib longer than the sheet, small ones, the long plate."""
    return (
        rib("T1-wing-RIB-0", 1.422),
        rib("T1-wing-RIB-36+32", 0.7),
        rib("T1-upper-RIB-12-R", 0.6, hand="R", flange=0.0159, count=2),
        rib("T1-upper-RIB-12-L", 0.6, hand="L", flange=0.0159, count=2),
        small("T1-wing-GUSSET-1"),
        small("T1-wing-GUSSET-2"),
        long_plate("T1-fuselage-SIDE"),
    )
