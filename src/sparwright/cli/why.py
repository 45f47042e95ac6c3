"""`why`: where one number comes from."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace

from sparwright.base.problem import DesignProblem
from sparwright.cli.answers import read, reports
from sparwright.cli.screen import ink, say, width
from sparwright.output.why import ids, nearest, why


def command(args: Namespace) -> int:
    """Tell the working in every model that has the number. Raises DesignProblem when none has."""
    told = [replace(r, units=args.units or r.units) for r in reports(read(args.file), args.model, args.fresh)]
    having = [r for r in told if any(r.entry(args.id))]
    if not having:
        known = tuple(dict.fromkeys(i for r in told for i in ids(r)))
        near = nearest(args.id, known)
        hint = f"the nearest are {', '.join(near)}" if near else "`check` prints the ids"
        raise DesignProblem(f"there is no result or check {args.id!r}; {hint}")
    say("\n".join(why(r, args.id, width(), ink) for r in having))
    return 0
