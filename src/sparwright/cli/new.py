"""`new`: a commented family file to start from."""

from __future__ import annotations

import os
from argparse import Namespace

from sparwright.cli.screen import say
from sparwright.family.starter import write_starter


def command(args: Namespace) -> int:
    """Write the starter; 0 when it is written. Raises CannotWrite."""
    me = os.environ.get("SPARWRIGHT_AS", "sparwright")
    family, schema = write_starter(args.folder)
    say(f"{family}: the family file, with a comment for each choice and a list of what it does not know yet.\n")
    say(f"{schema}: by it an editor that knows TOML schemas checks and completes the file.\n")
    say(f"Change what is yours, then: {me} check {family}\n")
    return 0
