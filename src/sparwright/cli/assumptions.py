"""`assumptions`: what the proof of strength takes for granted, and what each end of its range does to the margins."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from sparwright.base.problem import DesignProblem
from sparwright.base.safety import CAUTION
from sparwright.cli.answers import models, read, run
from sparwright.cli.progress import Progress
from sparwright.cli.screen import ink, say, width


def command(args: Namespace) -> int:
    """Prove again at each end and tell it. Raises CannotWrite, DesignProblem, FileProblems."""
    from sparwright.margins.assumed import study
    from sparwright.output import assumed, atomic

    family = read(args.file)
    (name,) = models(family, args.model)
    if args.out:
        atomic.folder(Path(args.out))
    with Progress(f"working out {name}") as bar:
        ran = run(family, name, bar, measured=False)
    with Progress(f"proving {name} again") as bar:
        try:
            studied = study(family.models[name], ran.assembly, ran.margins, bar)
        except ValueError as fault:
            raise DesignProblem(f"{name}: {fault}") from fault
    if args.out:
        atomic.write_all({Path(args.out) / "assumptions.csv": assumed.as_csv(studied)})
        say(f"assumptions.csv in {args.out}\n")
    elif args.json:
        head = {"family": ran.family, "model": name, "program": ran.program, "file_sha256": ran.file_sha256}
        say(assumed.as_json(head, studied))
    else:
        say(assumed.told(f"{ran.family} {name}", studied, width(), ink) + f"\n{CAUTION}\n")
    return 0
