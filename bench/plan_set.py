"""What a plan set takes, step by step, and its PDF against the bare library: python bench/plan_set.py [W1 ...]

For each model, on its own paper: seconds of drawing and writing as they pass, and of this process; the PDF of all its
sheets against the same strokes told straight to the PDF library, without layers, classes or our units; the DXF against
the same entities put into documents of its library. Least of several tries. Times belong to the machine; the last two
rows are ratios.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from sparwright.cli.plans import OWN, full_size
from sparwright.cli.stock import stocked
from sparwright.family.reader import load
from sparwright.output.dxf import dxf
from sparwright.output.pdf import NAMES, POINT, pdf
from sparwright.output.planset import plan_files
from sparwright.parts.layout import lay_out
from sparwright.plans.drawing import Circle, Line, Polyline, Sheet, Text
from sparwright.plans.drawings.all import drawing_set
from sparwright.plans.lettering import em
from sparwright.plans.paper import TitleBlock

ROOT = Path(__file__).resolve().parents[1]
TRIES = 3


def main() -> None:
    """Print the table."""
    family = load(str(ROOT / "examples/whinchat/whinchat.toml"))
    for name in sys.argv[1:] or family.models:
        model, title = family.models[name], TitleBlock(family.name, name, "Sparwright", "0" * 64)
        papers = OWN[model.drawing_units]
        rows: list[tuple[str, float, float]] = []

        def timed(what: str, task: Callable[[], Any], rows: list[tuple[str, float, float]] = rows) -> Any:
            wall, own = time.perf_counter(), time.process_time()
            found = task()
            rows.append((what, time.perf_counter() - wall, time.process_time() - own))
            return found

        assembly = timed("parts laid out", lambda: lay_out(model))  # noqa: B023
        timed("nested, cut lists", lambda: stocked(family, model, assembly))  # noqa: B023
        full = timed("full size", lambda: full_size(assembly.parts, papers, title))  # noqa: B023
        drawn = timed("drawing set", lambda: [*drawing_set(model, assembly, {}, title, papers[0], full)])  # noqa: B023
        sheets = [*drawn, *full]
        timed("PDF, DXF, SVG of it", lambda: plan_files(sheets, (), title))  # noqa: B023
        for what, wall, own in rows:
            print(f"{name}  {what:24} {wall:6.2f} s, {own:6.2f} s of this process")
        ours, bare = least(lambda: pdf(sheets, "t", "p")), least(lambda: bare_pdf(sheets))  # noqa: B023
        print(f"{name}  PDF {ours:.2f} s, the library alone {bare:.2f} s: {ours / bare:.2f} times")
        ours = least(lambda: [dxf(s) for s in sheets])  # noqa: B023
        bare = least(lambda: [bare_dxf(s) for s in sheets])  # noqa: B023
        print(f"{name}  DXF {ours:.2f} s, the library alone {bare:.2f} s: {ours / bare:.2f} times")


def least(task: Callable[[], object]) -> float:
    """Seconds of this process, the least of several tries."""
    found = []
    for _ in range(TRIES):
        start = time.process_time()
        task()
        found.append(time.process_time() - start)
    return min(found)


def bare_pdf(sheets: Sequence[Sheet]) -> bytes:
    """The same lines and letters by the library's own calls."""
    from reportlab.pdfgen.canvas import Canvas

    buffer = BytesIO()
    canvas = Canvas(buffer)
    for sheet in sheets:
        canvas.setPageSize((sheet.width * POINT, sheet.height * POINT))
        for s in sheet.strokes:
            match s:
                case Line():
                    canvas.line(s.start[0] * POINT, s.start[1] * POINT, s.end[0] * POINT, s.end[1] * POINT)
                case Circle():
                    canvas.circle(s.centre[0] * POINT, s.centre[1] * POINT, s.radius * POINT)
                case Polyline():
                    path = canvas.beginPath()
                    path.moveTo(s.points[0][0] * POINT, s.points[0][1] * POINT)
                    for x, y in s.points[1:]:
                        path.lineTo(x * POINT, y * POINT)
                    canvas.drawPath(path)
                case Text():
                    canvas.setFont(NAMES[s.bold], em(s.size) * POINT)
                    canvas.drawString(s.anchor[0] * POINT, s.anchor[1] * POINT, s.content)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def bare_dxf(sheet: Sheet) -> str:
    """The same entities by the library's own calls, all on one layer."""
    import ezdxf

    doc = ezdxf.new("R2018")
    space = doc.modelspace()
    for s in sheet.strokes:
        match s:
            case Line():
                space.add_line(s.start, s.end)
            case Circle():
                space.add_circle(s.centre, s.radius)
            case Polyline():
                space.add_lwpolyline(s.points, close=s.closed)
            case Text():
                space.add_text(s.content, height=s.size, dxfattribs={"insert": s.anchor, "rotation": s.turn})
    buffer = StringIO()
    doc.write(buffer)
    return buffer.getvalue()


if __name__ == "__main__":
    main()
