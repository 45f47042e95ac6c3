"""`check`: every result and check of a family's models."""

from __future__ import annotations

from argparse import Namespace
from dataclasses import replace

from sparwright.base.check import overall
from sparwright.cli.answers import read, reports
from sparwright.cli.screen import ink, say, width
from sparwright.output import json, text


def command(args: Namespace) -> int:
    """0 when all checks of all models asked for pass, 1 when one fails or is unknown."""
    told = reports(read(args.file), args.model, args.fresh)
    if args.json:
        say(json.told(told))
    else:
        units = [replace(r, units=args.units or r.units) for r in told]
        say("\n".join(text.told(r, width(), ink) for r in units))
    return 0 if all(overall(r.checks) == "pass" for r in told) else 1
