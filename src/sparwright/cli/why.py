"""`why`: where one number comes from."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace

from sparwright.base.problem import DesignProblem
from sparwright.cli.answers import models, read, reports
from sparwright.cli.progress import Progress
from sparwright.cli.screen import ink, say, width
from sparwright.family.model import Family
from sparwright.output.why import ids, nearest, why, why_printed
from sparwright.plans.printed import PREFIX, Printed


def command(args: Namespace) -> int:
    """Tell the working in every model that has the number. Raises DesignProblem when none has."""
    if args.id.startswith(PREFIX):
        return _dimension(args)
    told = [replace(r, units=args.units or r.units) for r in reports(read(args.file), args.model, args.fresh)]
    having = [r for r in told if any(r.entry(args.id))]
    if not having:
        known = tuple(dict.fromkeys(i for r in told for i in ids(r)))
        near = nearest(args.id, known)
        hint = f"the nearest are {', '.join(near)}" if near else "`check` prints the ids"
        raise DesignProblem(f"there is no result or check {args.id!r}; {hint}")
    say("\n".join(why(r, args.id, width(), ink) for r in having))
    return 0


def _dimension(args: Namespace) -> int:
    """Tell where a dimension on the sheets comes from, in every model that has it; the sheets are drawn for it."""
    family, told = read(args.file), []
    known: dict[str, Printed] = {}
    for name in models(family, args.model):
        rows = {p.id: p for p in _printed(family, name)}
        known |= rows
        if args.id in rows:
            told.append(why_printed(rows[args.id], f"{family.name} {name}", width(), ink))
    if not told:
        near = nearest(args.id, tuple(known), 12)
        hint = f"the nearest are {', '.join(near)}" if near else "the table of dimensions in a plan set has them all"
        raise DesignProblem(f"no sheet has a dimension {args.id!r}; {hint}")
    say("\n".join(told))
    return 0


def _printed(family: Family, name: str) -> tuple[Printed, ...]:
    """Every dimension of a model's sheets on paper of one size: they are the same on the other."""
    from sparwright.cli.plans import full_size
    from sparwright.parts.layout import lay_out
    from sparwright.plans.drawings.all import drawing_set
    from sparwright.plans.paper import TitleBlock
    from sparwright.plans.printed import printed

    model, title = family.models[name], TitleBlock(family.name, name, "", "")
    with Progress(f"drawing {name}") as bar:
        assembly = lay_out(model)
        sheets = full_size(assembly.parts, ("24x36",), title, bar.count, assembly.joints)
        return printed((*drawing_set(model, assembly, {}, title), *sheets))
