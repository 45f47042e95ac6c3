"""`plans`: full-size templates, cut list and strength report of one model."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sparwright.base.check import Check, Result, overall
from sparwright.base.safety import CAUTION
from sparwright.cli.answers import models, read, report_and_run
from sparwright.cli.paper import NOTHING, Wish, issued, on_paper, said, wished
from sparwright.cli.progress import Progress
from sparwright.cli.screen import say
from sparwright.family.measured_sheets import with_sheets
from sparwright.family.model import Family, Model
from sparwright.output.buying_file import load_buying
from sparwright.output.report import Report
from sparwright.output.text import closing
from sparwright.plans.paper import UNSAID, Issue

if TYPE_CHECKING:
    from sparwright.margins.reasons import SizeReason
    from sparwright.output.planset import Document, Pages, Table
    from sparwright.parts.part import Joint, Part
    from sparwright.plans.drawing import Sheet
    from sparwright.plans.paper import TitleBlock
    from sparwright.plans.templates import Told
    from sparwright.run import RunResult
    from sparwright.stock.nests import Nests

BOTH = ("24x36", "A1")
OWN = {"inch": ("24x36",), "millimetre": ("A1",)}  # by drawing units


def command(args: Namespace) -> int:
    """Write the plan set; 0 when it is written. Raises CannotWrite, DesignProblem, FileProblems."""
    family = with_sheets(read(args.file), getattr(args, "sheet", []))
    (name,) = models(family, args.model)
    own = OWN[family.models[name].drawing_units]
    papers = BOTH if args.paper == "both" else (args.paper,) if args.paper else own
    wish = wished(args, papers)
    issue = issued(args)
    load_buying(family.path)  # first, so that a fault of it is told before the work
    report, ran = report_and_run(family, name)
    heard: list[str] = []
    keep = getattr(args, "keep_nests", False)
    paths = write(family, report, ran, Path(args.out), papers, wish, keep, heard.append, issue)
    say(f"{len(paths)} files in {args.out}; {paths[-1].name} names each and what it shows.\n")
    say(said(wish, paths))
    say("Print at 100 % (no fitting to the page) and measure the check lines before you cut.\n")
    for words in heard:
        say(f"{words}\n")
    say(f"{closing(name, report.checks)} {standing(report)}\n{CAUTION}\n")
    return 0


def standing(report: Report) -> str:
    """What the checks mean for who would build from the sheets."""
    if overall(report.checks) == "pass":
        return "All checks pass."
    return "For study: not every check passes, so do not build from these sheets."


def write(
    family: Family, report: Report, ran: RunResult, out: Path, papers: tuple[str, ...] = (), wish: Wish = NOTHING,
    keep: bool = False, hear: Callable[[str], object] | None = None, issue: Issue = UNSAID,
) -> tuple[Path, ...]:  # fmt: skip
    """Draw and write one model's set; gives the paths, manifest last. papers: the model's own where none is named.

    keep: whether its nests are written beside the family file, so that they repeat. `hear` is told what is on no list.
    """
    from sparwright.cli.stock import router_files, stock_pages, stock_tables, stocked, told
    from sparwright.margins.reasons import reasons
    from sparwright.output.atomic import folder
    from sparwright.output.planset import write_plans
    from sparwright.parts.layout import lay_out
    from sparwright.plans.cloth import cloth_told
    from sparwright.plans.cutlist import cut_list
    from sparwright.plans.drawings.all import drawing_set
    from sparwright.plans.paper import TitleBlock

    papers = papers or OWN[family.models[report.model].drawing_units]
    folder(out)  # first, so that a folder that cannot be written is told before the work
    assembly = lay_out(family.models[report.model])
    title = TitleBlock(report.family, report.model, report.program, report.file_sha256, issue=issue)
    with Progress(f"nesting {report.model}"):
        stock = stocked(family, family.models[report.model], assembly)
    if keep:
        _keep(family, report.model, stock.nests)
    if hear and told(stock):
        hear(told(stock))
    with Progress(f"drawing {report.model}") as bar:
        sheets = full_size(assembly.parts, papers, title, bar.count, assembly.joints)
        by_id = {r.id: r for r in report.results}
        cloth = cloth_told(report.checks, stock.buying)
        drawn_on = family.models[report.model]
        drawn = [s for p in papers for s in drawing_set(drawn_on, assembly, by_id, title, p, sheets, cloth)]
    with Progress(f"writing {report.model}") as bar:
        model = family.models[report.model]
        why = reasons(model, assembly, report.checks)
        rows = cut_list(assembly.to_cut)
        tables = (*_tables(model, by_id, why), *stock_tables(stock), _dimensions([*drawn, *sheets]))
        pages, documents = on_paper(wish, sheets, title)
        printed = (*_printed(model, by_id, title, report.checks),
                   *stock_pages(stock, title, papers[0], model.drawing_units), *pages)  # fmt: skip
        return write_plans(
            [*drawn, *sheets], rows, out, title, bar.count, tables, printed, (strength_report(model, ran), *documents),
            router_files(stock, title.program),
        )  # fmt: skip


def full_size(parts: Sequence[Part], papers: Sequence[str], title: TitleBlock, told: Told | None = None,
              joints: Sequence[Joint] = ()) -> list[Sheet]:  # fmt: skip
    """Everything that is drawn full size: ribs, ends of tubes, flat parts, on each paper."""
    from sparwright.parts.tube_ends import tube_ends
    from sparwright.plans.flat_parts import flat_sheets
    from sparwright.plans.templates import templates
    from sparwright.plans.tube_ends import end_sheets

    ribs, ends = [p for p in parts if p.purpose == "rib"], tube_ends(parts)
    drawn = [s for p in papers for s in templates(ribs, p, title, told)]
    return [*drawn, *end_sheets(*ends, papers, title), *flat_sheets(parts, papers, title, joints)]


def _keep(family: Family, model: str, found: Nests) -> None:
    """Write the nests beside the family file."""
    from sparwright.output.atomic import write_all
    from sparwright.output.nest_file import nest_json, nest_path

    write_all({nest_path(family.path, model): nest_json(found)})


def strength_report(model: Model, ran: RunResult) -> Document:
    """The strength report, set."""
    from sparwright.output.planset import Document
    from sparwright.output.typeset import strength_pdf
    from sparwright.reports.asked import Asked
    from sparwright.reports.strength import strength_paper

    paper = strength_paper(Asked(model, ran, model.drawing_units))
    return Document("strength", strength_pdf(paper), "strength report, calculated,")


def _printed(model: Model, by_id: Mapping[str, Result], title: TitleBlock, checks: Sequence[Check]
             ) -> tuple[Pages, ...]:  # fmt: skip
    """The pilot's sheet and the proof-load sheet on paper; nothing of what has no rows."""
    from sparwright.output.pilots_tables import pilots_sections
    from sparwright.output.planset import Pages
    from sparwright.output.proof_tables import proof_sheet
    from sparwright.plans.performance import pilots_sheet
    from sparwright.plans.pilots_page import pilots_pages
    from sparwright.plans.proof_page import proof_pages

    sheets = pilots_pages(pilots_sections(model, pilots_sheet(model, by_id)), title, model.drawing_units)
    proof = proof_pages(proof_sheet(model, by_id, checks), title, model.drawing_units)
    found = (Pages("performance", sheets, f"pilot's sheet, calculated, {len(sheets)} pages,"),
             Pages("proof-load", proof, f"proof-load sheet, {len(proof)} pages,"))  # fmt: skip
    return tuple(p for p in found if p.sheets)


def _dimensions(sheets: Sequence[Sheet]) -> Table:
    """Every dimension on the sheets, each once."""
    from sparwright.output.csv import dimensions_csv
    from sparwright.output.planset import Table
    from sparwright.plans.printed import printed

    rows = printed(sheets)
    return Table("dimensions", dimensions_csv(rows), f"dimensions as printed and exact, {len(rows)} of them,")


def _tables(model: Model, by_id: Mapping[str, Result], why: Sequence[SizeReason]) -> tuple[Table, ...]:
    """Rigging sheet, placards, pilot's sheet, categories, reasons of sizes; one that has no rows is left out."""
    from sparwright.output import fits as licence
    from sparwright.output.csv import performance_csv, placards_csv, reasons_csv, rigging_csv
    from sparwright.output.planset import Table
    from sparwright.plans.performance import pilots_sheet
    from sparwright.plans.placards import placards
    from sparwright.plans.rigging import rigging_sheet
    from sparwright.rules.fits import fits

    named = [f for f in fits(model, by_id) if f.named]
    settings, signs, flown = rigging_sheet(model), placards(model, by_id), pilots_sheet(model, by_id)
    found = (
        (len(settings), Table("rigging", rigging_csv(settings), f"rigging sheet, {len(settings)} settings,")),
        (len(signs), Table("placards", placards_csv(signs), f"placards and markings, {len(signs)} rows,")),
        (len(flown), Table("performance", performance_csv(flown, model.drawing_units),
                           f"pilot's sheet, calculated, {len(flown)} rows,")),
        (len(named), Table("licence", licence.as_csv(named), f"licence categories, {len(named)} named by the file,")),
        (len(why), Table("sizes", reasons_csv(why), f"why each size, {len(why)} parts with a check of strength,")),
    )  # fmt: skip
    return tuple(table for count, table in found if count)
