"""Line pictures of the whole aeroplane: its structure without covering, and its outside from six sides.

Edges in sight only (shape/seen.py), one line weight, all views of a picture to one scale. What is not drawn as parts
yet is shown by its outline (plans/shells.py) and named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.family.model import Model
from sparwright.parts.part import Assembly, Part, Plate, Skin
from sparwright.parts.solids import drawn, solids
from sparwright.plans.drawing import Polyline, Stroke, moved
from sparwright.plans.shells import Shell, shells
from sparwright.shape.frame import within_body
from sparwright.shape.seen import line_drawing, plane
from sparwright.shape.solid import Solid
from sparwright.shape.tube import Tube

WIDTH = 260.0  # mm
GAP = 8.0  # mm between views
COARSE = 1e-3  # m by which outlines of plates are simplified: 0.03 mm and less on the page
THREE_QUARTER = ((-1.0, -0.85, 0.6), (0.0, 0.0, 1.0))
NOSE_UP = (-1.0, 0.0, 0.0)
SIDES = (
    ("from above", (0.0, 0.0, 1.0), NOSE_UP),
    ("from below", (0.0, 0.0, -1.0), NOSE_UP),
    ("from ahead", (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    ("from behind", (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    ("from the left", (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
    ("from the right", (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
)
OUTLINES = "engine, wheels and what is bought roughly"


@dataclass(frozen=True)
class View:
    """What is seen from one side."""

    name: str
    lines: tuple[np.ndarray, ...]  # (k, 2) m, in the picture

    @property
    def box(self) -> np.ndarray:
        """(2, 2) least and greatest to the right and up, m."""
        points = np.concatenate(self.lines)
        return np.array([points.min(axis=0), points.max(axis=0)])


def whole_pictures(model: Model, assembly: Assembly, origin: str) -> Mapping[str, Picture]:
    """The structure, and the outside from six sides, by short name. DesignProblem when nothing is drawn."""
    outlines = shells(model, assembly.parts)
    if not assembly.parts:
        raise DesignProblem(f"{model.name} has no part to be drawn")
    return {
        "structure": _structure(model, assembly, outlines, origin),
        "six-sides": _six_sides(model, assembly, outlines, origin),
    }


def view(name: str, bodies: Sequence[Solid], towards: Sequence[float], up: Sequence[float]) -> View:
    """Bodies seen from a side; `towards` is where the eye is."""
    return View(name, tuple(line_drawing(bodies, plane(towards, up))))


def _structure(model: Model, assembly: Assembly, outlines: Sequence[Shell], origin: str) -> Picture:
    bare = [s for p in assembly.parts if not isinstance(p.shape, Skin) for s in solids(p, COARSE)]
    seen = view("structure", bare, *THREE_QUARTER)
    title = f"{model.name}: structure without covering, from ahead and the left"
    scale = (WIDTH - 2 * CHARTING.margin) / float(np.ptp(seen.box[:, 0]))
    strokes = list(_strokes(seen, scale))
    tall = float(np.ptp(seen.box[:, 1])) * scale
    state = f"{len(bare)} bodies, to scale; {OUTLINES}"
    heading = Heading(title, state, origin)
    body = [moved(s, CHARTING.margin, 0.0) for s in strokes]
    return page(heading, WIDTH, body, 0.0, tall, f"Line picture of {len(bare)} parts seen from ahead and the left")


def _six_sides(model: Model, assembly: Assembly, outlines: Sequence[Shell], origin: str) -> Picture:
    outside = [s for p in assembly.parts if _outside(p, model) for s in solids(p, COARSE)] + [o.solid for o in outlines]
    outside += list(_end_ribs(assembly))
    views = [view(name, outside, towards, up) for name, towards, up in SIDES]
    column = (WIDTH - 2 * CHARTING.margin - GAP) / 2
    scale = column / max(float(np.ptp(v.box[:, 0])) for v in views)
    body: list[Stroke] = []
    top = 0.0
    for row in range(0, len(views), 2):
        pair = views[row : row + 2]
        tall = max(float(np.ptp(v.box[:, 1])) for v in pair) * scale
        for i, v in enumerate(pair):
            left = CHARTING.margin + i * (column + GAP)
            wide = float(np.ptp(v.box[:, 0])) * scale
            body += [moved(s, left + (column - wide) / 2, top - tall) for s in _strokes(v, scale)]
            body.append(words(v.name, (left, top - tall - 4.0)))
        top -= tall + 4.0 + GAP
    title = f"{model.name}: outside from six sides"
    told = f"Line pictures of the outside {', '.join(v.name for v in views)}"
    shown = " and ".join(o.name for o in outlines)
    state = f"to one scale; {shown} by outline; {OUTLINES}"
    return page(Heading(title, state, origin), WIDTH, body, top + GAP, 0.0, told)


def _strokes(seen: View, scale: float) -> Iterator[Polyline]:
    """The view in millimetres, its lower left corner at nought."""
    low = seen.box[0]
    for line in seen.lines:
        yield Polyline(tuple(map(tuple, (line - low) * scale)), "line")


def _outside(part: Part, model: Model) -> bool:
    """Covering, cowling, struts, wires, engine, propeller, wheels; what of the frame runs or lies out of the body."""
    body = model.fuselage.body
    ends = (part.shape.start, part.shape.end) if isinstance(part.shape, Tube) and part.group == "fuselage" else ()
    lies = part.places if isinstance(part.shape, Plate) and part.group == "fuselage" else ()
    out = not all(within_body(body, place) for place in (*ends, *lies))
    return (
        isinstance(part.shape, Skin)
        or part.purpose in ("strut", "wire", "cowling")
        or part.group in ("power", "gear")
        or out
    )


def _end_ribs(assembly: Assembly) -> Iterator[Solid]:
    """The outermost ribs of each wing, which close its ends."""
    ribs = [(p.group, s) for p in assembly.parts if p.purpose == "rib" and drawn(p) for s in solids(p, COARSE)]
    for group in dict.fromkeys(g for g, _ in ribs):
        mine = [s for g, s in ribs if g == group]
        far = [abs(float(s.centre[1])) for s in mine]
        yield from (s for s, y in zip(mine, far, strict=True) if y > max(far) - 5e-3 or y < min(far) + 5e-3)
