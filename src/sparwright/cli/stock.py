"""What of a plan set is about stock: cut lists, nests, bill of materials, router files, each as files of the set."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.family.buying import Buying
from sparwright.family.model import Family, Model
from sparwright.output.buying_file import load_buying
from sparwright.output.nest_file import nest_path, read_nests
from sparwright.output.planset import Loose, Pages, Table
from sparwright.parts.part import Assembly
from sparwright.plans.paper import TitleBlock
from sparwright.stock.bill import Bill, bill
from sparwright.stock.grain import said_grains
from sparwright.stock.needs import needs
from sparwright.stock.nests import Nests, nests
from sparwright.stock.router import Job, jobs
from sparwright.stock.splice import TooLarge
from sparwright.stock.sticks import Sticks, stick_lists


@dataclass(frozen=True)
class Stocked:
    """Everything about stock of one model."""

    buying: Buying
    sticks: Sticks
    nests: Nests
    bill: Bill
    jobs: tuple[Job, ...]
    refused: tuple[TooLarge, ...]
    cut_outside: tuple[str, ...] = ()  # materials whose plates have router files; none for every one


def stocked(family: Family, model: Model, assembly: Assembly) -> Stocked:
    """Work it out, with the buying file and the kept nests that lie beside the family file. Raises FileProblems."""
    buying = load_buying(family.path)
    wanted = needs(assembly.to_cut, said_grains(model))
    sticks = stick_lists(wanted, buying)
    found = nests(wanted, buying, read_nests(nest_path(family.path, model.name)))
    made, refused = jobs(assembly.to_cut, buying, family.cut_outside)
    whole = bill(assembly, wanted, sticks, found, buying)
    return Stocked(buying, sticks, found, whole, made, refused, family.cut_outside)


def stock_pages(made: Stocked, title: TitleBlock, paper: str, units: str) -> tuple[Pages, ...]:
    """Cut lists and nests on large sheets, bill and check sheet on pages; nothing of what has no rows."""
    from sparwright.plans.bill_page import bill_pages
    from sparwright.plans.nest_sheets import nest_sheets
    from sparwright.plans.router_page import router_pages
    from sparwright.plans.stick_sheets import stick_sheets

    found = (
        ("bars-and-tubes", stick_sheets(made.sticks, made.buying, title, paper), "cut lists of bars and tubes"),
        ("nests", nest_sheets(made.nests, made.buying, title, paper), "nests of sheet parts"),
        ("bill", bill_pages(made.bill, title, units), "bill of materials by kit of work"),
        (
            "router-check",
            router_pages(made.jobs, made.refused, title, units, made.cut_outside),
            "check sheet of the router files",
        ),
    )
    return tuple(Pages(name, sheets, f"{shows}, {len(sheets)} sheets,") for name, sheets, shows in found if sheets)


def stock_tables(made: Stocked) -> tuple[Table, ...]:
    """The bill and every cut of every stick as tables."""
    from sparwright.output.bill_csv import bill_csv, stick_csv

    tables = [Table("bill", bill_csv(made.bill), f"bill of materials by kit of work, {len(made.bill.lines)} lines,")]
    if made.sticks.lists:
        count = sum(len(x.sticks) for x in made.sticks.lists)
        tables.append(Table("bars-and-tubes", stick_csv(made.sticks.lists), f"cuts of {count} sticks,"))
    return tuple(tables)


def router_files(made: Stocked, program: str) -> tuple[Loose, ...]:
    """One DXF a part."""
    from sparwright.output.router_dxf import router_dxf
    from sparwright.stock.router import file_name

    return tuple(Loose(f"router/{file_name(j)}", router_dxf(j, program), _shows(j)) for j in made.jobs)


def _shows(j: Job) -> str:
    whole = f"{j.part.number}, make {j.part.count}, {j.stock.words}"
    return f"router file of {whole}, 1 : 1, millimetres, kerf not applied"


def told(made: Stocked) -> str:
    """Parts on no list or without a router file, kept nests that no longer fit, for the screen; empty where none is."""
    missed, refused = len(made.bill.told), len(made.refused)
    said = [f"{missed} parts are on no cut list and in no nest: the bill names each and why." if missed else "",
            f"{refused} parts have no router file: the check sheet says why." if refused else ""]  # fmt: skip
    anew = "It is nested anew, and earlier prints of it do not hold; --keep-nests keeps it."
    said += [f"The nest kept of {words}. {anew}" for words in made.nests.anew]
    return " ".join(s for s in said if s)
