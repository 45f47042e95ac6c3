"""`fits`: every model against every licence category on file, with the nearest miss."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from sparwright.cli.answers import read, reports
from sparwright.cli.screen import ink, say, width


def command(args: Namespace) -> int:
    """0 when it is told or written, whatever fits. Raises CannotWrite, DesignProblem, FileProblems."""
    from sparwright.output import atomic
    from sparwright.output.fits import Matrix, as_csv, as_json, as_page, told
    from sparwright.rules.fits import fits

    if args.out:
        atomic.folder(Path(args.out))  # first, so that a folder that cannot be written is told before the work
    family = read(args.file)
    found = reports(family, args.model)
    matrix = Matrix(
        family=family.name,
        program=found[0].program,
        file_sha256=family.sha256,
        fits=tuple(fits(family.models[r.model], {x.id: x for x in r.results}) for r in found),
    )
    if args.out:
        files = {"fits.html": as_page(matrix).encode("utf-8"), "fits.csv": as_csv(matrix.each)}
        atomic.write_all({Path(args.out) / name: content for name, content in files.items()})
        say(f"{' and '.join(files)} in {args.out}\n")
        return 0
    say(as_json(matrix) if args.json else told(matrix, width(), ink))
    return 0
