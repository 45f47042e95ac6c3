"""`demo`: the example family, checked and drawn."""

from __future__ import annotations

import os
import textwrap
from argparse import Namespace
from pathlib import Path

from sparwright.base.safety import CAUTION
from sparwright.cli.answers import read, report_and_run
from sparwright.cli.plans import write
from sparwright.cli.screen import say, width
from sparwright.output.atomic import folder, write_all
from sparwright.output.report import Report
from sparwright.output.shown import JOINED
from sparwright.output.text import MARKS, closing, compared, in_short, weakest_first

FILE = "whinchat.toml"


def example() -> Path:
    """The example family's folder: inside the installed package, or in the checkout it runs from."""
    import sparwright

    package = Path(sparwright.__file__).parent
    for place in (package / "examples" / "whinchat", package.parents[1] / "examples" / "whinchat"):
        if (place / FILE).is_file():
            return place
    raise FileNotFoundError("the example family is missing from this installation; install Sparwright again")


def command(args: Namespace) -> int:
    """Copy, check, draw. 0 when all of it was done, whatever the checks say."""
    out = folder(Path(args.out))
    write_all({out / p.name: p.read_bytes() for p in sorted(example().iterdir()) if p.is_file()})
    file = out / FILE
    family = read(os.fspath(file))
    say(f"{family.name}, an invented family, copied to {file}\n\n")
    told = []
    for name in family.models:
        report, ran = report_and_run(family, name)
        paths = write(family, report, ran, out / name)
        told.append(report)
        say(summary(report, out / name, len(paths)))
    say(_where_next(out, file, told))
    return 0


def summary(report: Report, where: Path, files: int) -> str:
    """One model: its verdicts, where its sheets lie, and its weakest check where that does not pass."""
    lines = [f"{closing(report.model, report.checks)} {report.title.capitalize()}; {files} files of plans in {where}"]
    lines.append("    " + in_short(report).replace(JOINED, " "))
    weakest = next((c for c in weakest_first(report.checks) if c.verdict != "pass"), None)
    if weakest:
        said = compared(weakest, report.units) if weakest.verdict == "fail" else weakest.caveat
        text = f"{MARKS[weakest.verdict]} {weakest.verdict}: {weakest.title}: {said}".replace(JOINED, " ")
        lines.append("    " + textwrap.shorten(text, width() - 4, placeholder=" ..."))
    return "\n".join(lines) + "\n"


def _where_next(out: Path, file: Path, told: list[Report]) -> str:
    me = os.environ.get("SPARWRIGHT_AS", "sparwright")
    first = told[0].model
    ids = [r.id for r in told[0].results if r.steps] or ["ID"]
    id = "flight.stall.max_mass" if "flight.stall.max_mass" in ids else ids[0]
    return f"""
Look first at {out / first / f"{first}-drawings-24x36.pdf"}, then at
{out / first / f"{first}-templates-24x36.pdf"}: ribs full size, print at 100 %.
Then change a number in {file} and ask again:
  {me} check {file} --model {first}
  {me} why {file} {id} --model {first}
  {me} plans {file} --model {first} --out {out / first}
A family of your own: {me} new DIR

{textwrap.fill(CAUTION, width())}
"""
