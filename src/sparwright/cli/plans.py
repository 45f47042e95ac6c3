"""`plans`: full-size templates and cut list of one model."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from sparwright.base.check import overall
from sparwright.base.safety import CAUTION
from sparwright.cli.answers import models, read, reports
from sparwright.cli.progress import Progress
from sparwright.cli.screen import say
from sparwright.family.model import Family
from sparwright.output.report import Report
from sparwright.output.text import closing

BOTH = ("24x36", "A1")


def command(args: Namespace) -> int:
    """Write the plan set; 0 when it is written. Raises CannotWrite, DesignProblem, FileProblems."""
    family = read(args.file)
    (name,) = models(family, args.model)
    (report,) = reports(family, name)
    papers = BOTH if args.paper == "both" else (args.paper,)
    paths = write(family, report, Path(args.out), papers)
    say(f"{len(paths)} files in {args.out}; {paths[-1].name} names each and what it shows.\n")
    say("Print at 100 % (no fitting to the page) and measure the check lines before you cut.\n")
    say(f"{closing(name, report.checks)} {standing(report)}\n{CAUTION}\n")
    return 0


def standing(report: Report) -> str:
    """What the checks mean for who would build from the sheets."""
    if overall(report.checks) == "pass":
        return "All checks pass."
    return "For study: not every check passes, so do not build from these sheets."


def write(family: Family, report: Report, out: Path, papers: tuple[str, ...] = BOTH) -> tuple[Path, ...]:
    """Draw and write one model's set; gives the paths, manifest last."""
    from sparwright.output.atomic import folder
    from sparwright.output.planset import write_plans
    from sparwright.parts.layout import lay_out
    from sparwright.plans.cutlist import cut_list
    from sparwright.plans.paper import TitleBlock
    from sparwright.plans.placards import placards
    from sparwright.plans.rigging import rigging_sheet
    from sparwright.plans.templates import templates
    from sparwright.plans.three_view import three_view

    folder(out)  # first, so that a folder that cannot be written is told before the work
    assembly = lay_out(family.models[report.model])
    title = TitleBlock(report.family, report.model, report.program, report.file_sha256)
    ribs = [p for p in assembly.parts if p.purpose == "rib"]
    with Progress(f"drawing {report.model}") as bar:
        sheets = [s for p in papers for s in templates(ribs, p, title, bar.count)]
    with Progress(f"writing {report.model}") as bar:
        model, by_id = family.models[report.model], {r.id: r for r in report.results}
        view, signs = three_view(model, by_id, title, papers[0]), placards(model, by_id)
        rows, settings = cut_list(assembly.to_cut), rigging_sheet(model)
        return write_plans(sheets, rows, out, title, bar.count, view, settings, signs)
