"""The whole drawing set of a model, in the order in which it is built."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from sparwright.base.check import Result
from sparwright.family.model import Model
from sparwright.parts.part import Assembly
from sparwright.plans.block import Drawing, linked, numbered
from sparwright.plans.cloth import Cloth
from sparwright.plans.drawing import Sheet
from sparwright.plans.drawings.covering import covering_drawing
from sparwright.plans.drawings.fittings import fitting_drawings
from sparwright.plans.drawings.flat import flat_drawings
from sparwright.plans.drawings.fuselage import fuselage, in_body, marked
from sparwright.plans.drawings.fuselage_jig import fuselage_jigs
from sparwright.plans.drawings.general import KEY as GENERAL
from sparwright.plans.drawings.general import general
from sparwright.plans.drawings.parts_index import parts_index
from sparwright.plans.drawings.rigging import rigging_drawing
from sparwright.plans.drawings.spars import spar_drawing
from sparwright.plans.drawings.tail import tail_drawings
from sparwright.plans.drawings.together import groups, together
from sparwright.plans.drawings.wing import wing_drawing
from sparwright.plans.drawings.wing_jig import wing_jig_drawing
from sparwright.plans.paper import TitleBlock

Told = Callable[[str], None]  # the title of a drawing as it is begun


def drawing_set(
    model: Model,
    assembly: Assembly,
    results: Mapping[str, Result],
    title: TitleBlock,
    paper_name: str = "24x36",
    full_size: Sequence[Sheet] = (),
    cloth: Cloth | None = None,
) -> tuple[Sheet, ...]:
    """Every drawing of a model with its number, the index of parts last.

    full_size: the sheets of templates, of which those on this paper are named in the index. cloth: what the checks
    of strength and the buying file say of it; left out, the sheet says so. DesignProblem names a drawing that does not
    fit its sheet.
    """
    others = linked(tuple(_drawings(model, assembly, paper_name, cloth)))
    first = Drawing(GENERAL, "", ())  # its place, for the numbers of the others
    index = parts_index(model.name, assembly.parts, (first, *others), [s for s in full_size if s.paper == paper_name],
                        paper_name)  # fmt: skip
    return numbered((general(model, results, (*others, *index), paper_name), *others, *index), title)


def _drawings(model: Model, assembly: Assembly, paper_name: str, cloth: Cloth | None) -> Iterator[Drawing]:
    parts, units = assembly.parts, model.drawing_units
    tubes = [p for p in parts if p.form == "tube"]
    marks = marked(model, tubes)
    inner = {n for m in in_body(model, marks) for n in m.numbers}
    legs = [p for p in tubes if p.group == "fuselage" and p.purpose == "frame" and p.number not in inner]
    yield from fuselage(model, tubes, units, paper_name)
    yield from fuselage_jigs(model, tubes, units, paper_name)
    yield from tail_drawings(model, parts, units, paper_name)
    for group in groups(parts, legs):
        yield from together(group, units, paper_name)
    yield from flat_drawings(parts, units, paper_name)
    yield from fitting_drawings(parts, paper_name)
    for wing in model.wings:
        yield wing_drawing(model, wing, parts, units, paper_name)
        yield spar_drawing(model, wing, parts, units, paper_name)
        yield wing_jig_drawing(model, wing, parts, units, paper_name)
    yield covering_drawing(model, parts, units, paper_name, cloth)
    yield rigging_drawing(model, units, paper_name)
