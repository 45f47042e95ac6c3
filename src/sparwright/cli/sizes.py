"""`sizes`: stock that would pass in place of what a member is made of."""

from __future__ import annotations

from argparse import Namespace

from sparwright.base.problem import DesignProblem
from sparwright.base.safety import CAUTION
from sparwright.cli.answers import models, read, run
from sparwright.cli.progress import Progress
from sparwright.cli.screen import ink, say, width


def command(args: Namespace) -> int:
    """Look at every size on file and tell what passes. Raises DesignProblem, FileProblems."""
    from sparwright.margins.sizes import sizes
    from sparwright.output import sizes as told

    family = read(args.file)
    (name,) = models(family, args.model)
    model = family.models[name]
    with Progress(f"working out {name}") as bar:
        ran = run(family, name, bar, measured=False)
        bar(0.95, "sizes")
        found = sizes(model, ran.assembly, ran.balance, ran.margins, args.part)
    if not found:
        why = f"no member has {args.part!r} in its part, check or title" if args.part else "its frame is not worked out"
        raise DesignProblem(f"{name}: {why}; `check` prints the ids")
    if args.json:
        head = {"family": ran.family, "model": name, "program": ran.program, "file_sha256": ran.file_sha256}
        say(told.as_json(head, found))
    else:
        units = args.units or model.drawing_units
        say(told.told(f"{ran.family} {name}", found, units, bool(args.part), width(), ink) + f"\n{CAUTION}\n")
    return 0
