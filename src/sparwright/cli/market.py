"""`market`: stock of the other market in place of what is written, and a family file with it."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from sparwright.base.problem import DesignProblem
from sparwright.base.safety import CAUTION
from sparwright.cli.answers import models, read, run
from sparwright.cli.progress import Progress
from sparwright.cli.screen import ink, say, width
from sparwright.family.model import Family
from sparwright.family.writer import CannotWrite, rewrite

if TYPE_CHECKING:
    from sparwright.run import RunResult


def command(args: Namespace) -> int:
    """Choose stock again and tell it; 0 when it is told. Raises CannotWrite, DesignProblem, FileProblems."""
    from sparwright.market.rechosen import rechoose
    from sparwright.output import market as told

    family = read(args.file)
    (name,) = models(family, args.model)
    target = Path(args.write) if args.write else None
    if target is not None and target.exists():
        raise CannotWrite(f"{target} is there already; a family file is written beside it under another name")
    with Progress(f"choosing {args.to} stock for {name}") as bar:
        found = rechoose(Path(args.file).read_bytes(), args.file, name, args.to, _worked, bar)
    if args.json:
        say(told.as_json({"family": family.name, "file_sha256": family.sha256}, found))
    else:
        units = args.units or family.models[name].drawing_units
        say(told.told(found, units, width(), ink) + f"\n{CAUTION}\n")
    if args.csv:
        rewrite(args.csv, told.as_csv(found))
    if target is not None:
        if not found.text:
            raise DesignProblem(f"{name}: nothing changes, so {target} is not written")
        rewrite(target, found.text)
        if not args.json:
            say(f"{target} is {Path(args.file).name} with one more model, {found.name}: compare the two, then check\n")
    return 0


def _worked(family: Family, name: str, measured: bool) -> RunResult:
    return run(family, name, None, measured=measured)
