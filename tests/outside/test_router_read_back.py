"""Every router file of the demo read back by ezdxf, which had no part in writing it, and held against the part itself.

The flat part is built here from its outline, blank and holes alone; only parts with a foot or a flange, no blank,
take the laid-out outline of the cut lists, and then their area is held against foot and flange by hand. Arcs are
flattened by ezdxf. Tolerance 0.1 mm: twice what the fit of arcs is allowed. A relief takes a disc of the tool's
size out of a corner, so what is missing there is held against the tool.
"""

from __future__ import annotations

from dataclasses import replace
from io import StringIO
from itertools import combinations
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf.path import make_path

from sparwright.family.reader import load
from sparwright.output.buying_file import load_buying
from sparwright.output.router_dxf import router_dxf
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Plate
from sparwright.stock.needs import flat_outline
from sparwright.stock.router import DRILLED, Job, file_name, jobs

WHINCHAT = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
OFF = 0.1  # mm


def own_shape(plate: Plate) -> shapely.Polygon:
    """The flat part, mm."""
    laid_out = plate.blank is None and (plate.foot is not None or plate.flange)
    ring = flat_outline(plate) if laid_out else plate.outline if plate.blank is None else plate.blank
    outline = shapely.Polygon(ring * 1000.0).buffer(0)
    if laid_out and plate.foot is not None and not plate.flange:
        a, b = np.array(plate.foot.start), np.array(plate.foot.end)
        foot = np.hypot(*(b - a)) * (abs(plate.foot.height) + plate.thickness) * 1e6
        assert outline.area == pytest.approx(shapely.Polygon(plate.outline * 1000).buffer(0).area + foot, rel=2e-3)
    for hole in plate.holes:
        outline = outline.difference(shapely.Polygon(hole * 1000.0).buffer(0))
    return outline


def read_back(made: Job) -> tuple[shapely.Polygon, list[shapely.LinearRing]]:
    """What the file says is left when it is cut and drilled, mm, and every ring of it."""
    doc = ezdxf.read(StringIO(router_dxf(made, "Sparwright").decode("ascii")))
    assert not doc.audit().errors and doc.header["$INSUNITS"] == 4, "millimetres"
    rings: dict[str, list[shapely.LinearRing]] = {"OUTSIDE_CUT": [], "INSIDE_CUT": [], "DRILL": []}
    for e in doc.modelspace():
        if e.dxf.layer == "MARK":
            continue
        assert e.dxftype() == ("CIRCLE" if e.dxf.layer == "DRILL" else "POLYLINE")
        assert e.dxf.layer == "DRILL" or e.is_closed, "every path closes"
        points = np.array([(p.x, p.y) for p in make_path(e).flattening(0.002)])
        points = points[np.hypot(*(points - np.roll(points, 1, axis=0)).T) > 1e-6]  # the end and the start are one
        rings[e.dxf.layer].append(shapely.LinearRing(points))
    (outside,) = rings["OUTSIDE_CUT"]
    whole = shapely.Polygon(outside)
    every = [outside, *rings["INSIDE_CUT"], *rings["DRILL"]]
    for ring in every:
        assert ring.is_simple, "no path crosses itself"
    for hole in every[1:]:
        whole = whole.difference(shapely.Polygon(hole))
    return whole, every


def faults(made: Job) -> list[str]:
    """What is wrong with a file, in words; nothing where it is right."""
    assert isinstance(made.part.shape, Plate)
    own = own_shape(made.part.shape)
    found, rings = read_back(made)
    number, tool = made.part.number, made.smallest
    said = [
        f"{number}: a hole is not within the outline" for r in rings[1:] if not shapely.Polygon(rings[0]).contains(r)
    ]
    said += [f"{number}: two paths meet" for a, b in combinations(rings, 2) if a.distance(b) < 1e-6]
    if not found.difference(own.buffer(OFF)).is_empty:
        said.append(f"{number}: larger than the part")
    missing = [g for g in shapely.get_parts(own.buffer(-OFF).difference(found)) if g.area > 1e-6]
    if len(missing) > 2 * made.reliefs:  # a relief takes a sliver on either side of its corner
        said.append(f"{number}: smaller than the part at {len(missing)} places, with {made.reliefs} reliefs")
    said += [f"{number}: a relief takes {g.bounds}" for g in missing
             if 2 * shapely.minimum_bounding_radius(g) > 2.5 * tool]  # fmt: skip
    if not made.reliefs:
        apart = shapely.hausdorff_distance(own.boundary, found.boundary, densify=0.02)
        said += [f"{number}: outline {apart:.3f} mm off"] if apart > OFF else []
        off = abs(own.area - found.area) / own.boundary.length
        said += [f"{number}: area {off:.3f} mm off over its edges"] if off > OFF else []
    return said


@pytest.mark.long
@pytest.mark.parametrize("model", ["W1", "W2", "W3"])
def test_every_file_holds_its_part_within_a_tenth_of_a_millimetre(model):
    made, refused = jobs(lay_out(load(WHINCHAT).models[model]).to_cut, load_buying(WHINCHAT))
    assert len(made) > 100 and len(refused) < 9
    assert [words for j in made for words in faults(j)] == []
    assert any(j.reliefs for j in made) and any(j.drills for j in made) and any(j.inside for j in made)
    assert all(d.diameter <= DRILLED + 1e-6 for j in made for d in j.drills)
    for j in made:
        name = file_name(j)
        assert j.stock.material in name and name.endswith("_drawn-in-mm.dxf")
        assert f"{j.stock.size[0] * 1000:g}mm" in name or f"{j.stock.size[0] / 0.0254:.3f}in" in name, "its thickness"


def test_a_file_that_is_off_is_found():
    made, _ = jobs(
        [p for p in lay_out(load(WHINCHAT).models["W1"]).to_cut if "FITTING" in p.number], load_buying(WHINCHAT)
    )
    plain = next(j for j in made if not j.reliefs and j.drills)
    assert faults(plain) == []
    (x, *more) = plain.outside
    assert faults(replace(plain, outside=(replace(x, x=x.x + 0.3), *more))) != []
    assert faults(replace(plain, drills=plain.drills[1:])) != []
    assert faults(replace(plain, drills=(plain.drills[0], *plain.drills))) != [], "nothing is doubled"
    inch = tuple(replace(v, x=v.x / 25.4, y=v.y / 25.4) for v in plain.outside)
    assert faults(replace(plain, outside=inch, drills=(), inside=())) != []
