"""The command `sparwright`: parse, call, show.

Nothing heavy is imported here, so that `--help` comes at once.
Exit codes: 0 well, 1 a check fails or is unknown, 2 the file or the command line is wrong, or a file cannot be read or
written, 3 our fault, 130 stopped with Ctrl-C.
"""

from __future__ import annotations

import argparse
import os
import sys
import textwrap
from collections.abc import Sequence
from importlib import import_module
from typing import Any

from sparwright import __version__

PASS, CHECKS, FILE, OURS, STOPPED, PIPE = 0, 1, 2, 3, 130, 141
EXITS = """\
exit codes:
  0  all checks pass (check), or the work is done (the other commands)
  1  a check fails or is unknown (check only)
  2  the family file or the command line is wrong, or a file cannot be read or written
  3  our fault: please report it

Calculated values, not an approval. A qualified person checks the design; the local authority's rules govern."""


def main(words: Sequence[str] | None = None) -> int:
    """Run the command line; gives the exit code and never raises for what a user types."""
    argv = sys.argv[1:] if words is None else list(words)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # many small matrices: more threads wait for each other
    try:
        args = parser().parse_args(argv)
        code: int = import_module(f"sparwright.cli.{args.module}").command(args)
        sys.stdout.flush()
        return code
    except SystemExit as end:  # argparse: 0 after --help, 2 after a wrong command line
        return int(end.code or 0)
    except BaseException as fault:
        return int(import_module("sparwright.cli.fault").ended(fault, "--debug" in argv))


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    me = os.environ.get("SPARWRIGHT_AS", "sparwright")
    top = _parser(
        prog=me,
        description="Designs plans-built light aeroplanes: one family file in, a checked aeroplane and true full-size "
        "templates out.",
        epilog=f"""\
begin here:
  {me} demo                                  the example family, checked and drawn, in out/whinchat
  {me} new mywings                           a commented family file of your own, to fill in
  {me} check mywings/family.toml             every result and check, weakest first
  {me} why mywings/family.toml flight.range  where one number comes from
  {me} fits mywings/family.toml              what it may be registered as, and what misses
  {me} plans mywings/family.toml --model W1 --out out/w1

{me} COMMAND --help tells more of each.

{EXITS}""",
    )
    top.add_argument("--version", action="version", version=f"Sparwright {__version__}")
    commands = top.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _check(commands, me)
    _why(commands, me)
    _fits(commands, me)
    _assumptions(commands, me)
    _sizes(commands, me)
    _market(commands, me)
    _plans(commands, me)
    _pictures(commands, me)
    _new(commands, me)
    _demo(commands, me)
    return top


def _parser(**named: Any) -> argparse.ArgumentParser:
    return argparse.ArgumentParser(formatter_class=argparse.RawDescriptionHelpFormatter, allow_abbrev=False, **named)


def _command(commands: Any, name: str, module: str, help: str, text: str, examples: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(
        name, help=help, description=textwrap.fill(text, 100), epilog=f"examples:\n{examples}\n\n{EXITS}",
        allow_abbrev=False, formatter_class=argparse.RawDescriptionHelpFormatter,
    )  # fmt: skip
    made.set_defaults(module=module)
    made.add_argument("--debug", action="store_true", help="show the traceback of a fault of ours")
    return made


def _family_file(command: argparse.ArgumentParser, model_needed: bool = False) -> None:
    command.add_argument("file", metavar="FILE", help="the family file (TOML)")
    all_of_them = "" if model_needed else "; all of the file's models when not given"
    command.add_argument(
        "--model", metavar="M", required=model_needed, help=f"the model, as the file names it{all_of_them}"
    )


def _check(commands: Any, me: str) -> None:
    c = _command(
        commands, "check", "check", "every result and check of a family's models",
        "Works out every result and check and tells them: results by room, with the band each is believed to lie in, "
        "then checks, weakest first. A result asked for again is told at once from the store.",
        f"  {me} check family.toml\n  {me} check family.toml --model W1 --units si\n"
        f"  {me} check family.toml --json > checks.json",
    )  # fmt: skip
    _family_file(c)
    c.add_argument("--json", action="store_true", help="as JSON in SI units (docs/json.md)")
    c.add_argument("--units", choices=("inch", "millimetre", "si"), help="instead of the family's drawing units")
    c.add_argument("--fresh", action="store_true", help="work everything out again, whatever the store holds")


def _why(commands: Any, me: str) -> None:
    c = _command(
        commands, "why", "why", "where one number comes from",
        "Tells the formula, the numbers put in, the result and the source of one result or check, and the numbers "
        "it came from. `check` prints the ids.",
        f"  {me} why family.toml flight.range --model W1\n  {me} why family.toml mass.empty",
    )  # fmt: skip
    _family_file(c)
    c.add_argument("id", metavar="ID", help="the id of a result or check, like flight.range")
    c.add_argument("--units", choices=("inch", "millimetre", "si"), help="instead of the family's drawing units")
    c.add_argument("--fresh", action="store_true", help="work everything out again, whatever the store holds")


def _fits(commands: Any, me: str) -> None:
    c = _command(
        commands, "fits", "fits", "what it may be registered as, who may fly it, what it is designed to",
        "Holds every model against every licence category on file, also those the file does not name: what passes, "
        "what misses and by how much, in the unit of the paragraph. Three kinds: registration, a pilot's privilege, "
        "a design code. Read the paragraph as it stands today and ask the authority.",
        f"  {me} fits family.toml\n  {me} fits family.toml --model W1 --json\n  {me} fits family.toml --out out/fits",
    )  # fmt: skip
    _family_file(c)
    how = c.add_mutually_exclusive_group()
    how.add_argument("--json", action="store_true", help="as JSON, in the units of the paragraphs (docs/json.md)")
    how.add_argument("--out", metavar="DIR", help="write a page (HTML) and a table (CSV) into this folder instead")


def _assumptions(commands: Any, me: str) -> None:
    c = _command(
        commands, "assumptions", "assumptions", "what the proof of strength takes for granted, and what that costs",
        "Lists every fixity, share, efficiency and idealisation of one model's proof of strength with its source, and "
        "proves it again with each end of its range: what becomes of the least margin, and which margin moves most. "
        "Takes a minute or two.",
        f"  {me} assumptions family.toml --model W1\n  {me} assumptions family.toml --model W1 --out out/w1",
    )  # fmt: skip
    _family_file(c, model_needed=True)
    how = c.add_mutually_exclusive_group()
    how.add_argument("--json", action="store_true", help="as JSON in SI units (docs/json.md)")
    how.add_argument("--out", metavar="DIR", help="write a table (CSV) into this folder instead")


def _sizes(commands: Any, me: str) -> None:
    c = _command(
        commands, "sizes", "sizes", "stock that would pass in place of what a member is made of",
        "Lists the sizes on file for members of one model that keep less margin than limits.least_margin, and those "
        "that could be lighter: margin with the loads as they are now, change of weight and of the centre of gravity. "
        "With PART, for every member whose part, check or title has that in it. Nothing is changed: write the size "
        "into the file and check again.",
        f"  {me} sizes family.toml --model W1\n  {me} sizes family.toml LIFT_FRONT --model W1",
    )  # fmt: skip
    _family_file(c, model_needed=True)
    c.add_argument(
        "part", metavar="PART", nargs="?", default="", help="number of a part, id of a check, or a piece of it"
    )
    c.add_argument("--json", action="store_true", help="as JSON in SI units (docs/json.md)")
    c.add_argument("--units", choices=("inch", "millimetre", "si"), help="instead of the family's drawing units")


def _market(commands: Any, me: str) -> None:
    c = _command(
        commands, "market", "market", "what is bought in the other market in place of what",
        "Chooses tube and sheet of one model again out of the stock of a market, nearest size first that keeps what "
        "every check keeps, and works the model out again whole: slots, grips, weights and balance follow. Tells old "
        "and new stock with weight and least margin, and what that market has no stock for. Takes some minutes. The "
        "file stays as it is; --write writes a new one with the chosen stock as one more model, to be compared.",
        f"  {me} market family.toml --model W1 --to metric\n"
        f"  {me} market family.toml --model W1 --to metric --write metric.toml --csv bought.csv",
    )  # fmt: skip
    _family_file(c, model_needed=True)
    c.add_argument("--to", choices=("inch", "metric"), required=True, help="the market")
    c.add_argument(
        "--write", metavar="NEW", default="", help="write a new family file with one more model in that stock"
    )
    c.add_argument("--csv", metavar="FILE", default="", help="write the table by part (CSV)")
    c.add_argument("--json", action="store_true", help="as JSON in SI units (docs/json.md)")
    c.add_argument("--units", choices=("inch", "millimetre", "si"), help="instead of the family's drawing units")


def _plans(commands: Any, me: str) -> None:
    c = _command(
        commands, "plans", "plans", "full-size templates and cut list of one model",
        "Draws every rib of the model full size and writes PDF, DXF and SVG, cut lists, nests, a bill of materials, a "
        "router file for each plate, and manifest.json, which names each file. Prices and sizes as sold come from "
        "NAME.buying.toml beside the family file. Tells how the checks stand; a plan whose checks do not all pass is "
        "for study.",
        f"  {me} plans family.toml --model W1 --out out/w1\n"
        f"  {me} plans family.toml --model W1 --out out/w1 --paper A1\n"
        f"  {me} plans family.toml --model W1 --out out/w1 --tiles letter\n"
        f"  {me} plans family.toml --model W1 --out out/w1 --printer \"copy shop\" --date 2026-05-04 \\\n"
        "      --measured-on 24x36 --measured \"A-B 877.0 mm; A-D 571.2 mm; A-C 1046.4 mm; B-D 1046.9 mm\"",
    )  # fmt: skip
    _family_file(c, model_needed=True)
    c.add_argument("--out", metavar="DIR", required=True, help="the folder to write into; made when it is not there")
    c.add_argument(
        "--paper", choices=("24x36", "A1", "both"), default="",
        help="sheet size (24x36 where the drawing units are inches, A1 where they are millimetres)",
    )  # fmt: skip
    c.add_argument(
        "--tiles", choices=("none", "letter", "A4", "both"), default="none",
        help="the sheets on pages for a home printer too: overlap, match crosses, a map of each sheet (none)",
    )  # fmt: skip
    c.add_argument(
        "--measured", metavar="LENGTHS", default="",
        help="four lengths measured on a print, A-B, A-D, A-C and B-D, with units: the templates are drawn once more, "
        "corrected for that printer; DXF and SVG stay true",
    )  # fmt: skip
    c.add_argument(
        "--measured-on", metavar="WHAT", default="",
        help="what was measured: 24x36, A1, letter or A4 (the page printed first), letter-flat-parts-3 (a sheet put "
        "together from pages)",
    )  # fmt: skip
    c.add_argument("--printer", metavar="NAME", default="", help="which printer and paper, for the sheets to say")
    c.add_argument("--date", metavar="DATE", default="", help="when it was measured, as 2026-05-04")
    c.add_argument("--revision", metavar="WORDS", default="", help="for the title blocks; else a line to write on")
    c.add_argument("--serial", metavar="WORDS", default="", help="of this plan set, for the title blocks")
    c.add_argument("--issued", metavar="DATE", default="", help="date for the title blocks, as 2026-05-04")
    c.add_argument(
        "--sheet", metavar="SHEET", action="append", default=[],
        help="a sheet as you measured it, like \"okoume-ply 4 mm = 3.8 mm\": slots and templates are cut for it, "
        "strength counts the lower; for every sheet once more",
    )  # fmt: skip
    c.add_argument(
        "--keep-nests", action="store_true", help="keep the nests beside the family file, so that they repeat"
    )


def _pictures(commands: Any, me: str) -> None:
    c = _command(
        commands, "pictures", "pictures", "span loads, stall, lift, polars, pressures, drag of one model",
        "Draws how the load lies along each wing at cruise and at the stall, which strip lets go first and how near "
        "the others are, and the drag item by item, as SVG that reads in black and white.",
        f"  {me} pictures family.toml --model W1 --out out/w1",
    )  # fmt: skip
    _family_file(c, model_needed=True)
    c.add_argument("--out", metavar="DIR", required=True, help="the folder to write into; made when it is not there")
    c.add_argument("--units", choices=("inch", "millimetre", "si"), help="instead of the family's drawing units")


def _new(commands: Any, me: str) -> None:
    c = _command(
        commands, "new", "new", "a commented family file to start from",
        "Writes a commented family file without file errors, which lists what it does not know yet, and the schema "
        "by which an editor checks and completes it. A file that is there already is left alone.",
        f"  {me} new mywings",
    )  # fmt: skip
    c.add_argument("folder", metavar="DIR", help="the folder to write into; made when it is not there")


def _demo(commands: Any, me: str) -> None:
    c = _command(
        commands, "demo", "demo", "the example family, checked and drawn",
        "Copies the example family, checks its three models and draws their templates. Ends well (0) when all that was "
        "done, whatever the checks say: it tells their verdicts.",
        f"  {me} demo\n  {me} demo --out elsewhere",
    )  # fmt: skip
    c.add_argument("--out", metavar="DIR", default=os.path.join("out", "whinchat"), help="where to (out/whinchat)")


if __name__ == "__main__":
    sys.exit(main())
