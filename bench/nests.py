"""Nests of the demo against the area bound and, where it is installed, a library that packs endless strips.

    python bench/nests.py W1 [seconds] [--anew]

The nests kept with the design are measured; --anew nests them again.

For each stock of more than one sheet: pieces, sheets here, least sheets by area, per cent used, and how long the
library's endless strip is in sheets. The strip is no nest of sheets, since pieces go over the cuts, so it only tells
what is left to win. spyrrow is not in requirements.lock: install it by hand to have that column.
"""

from __future__ import annotations

import math
import sys
import time
from pathlib import Path

from sparwright.family.reader import load
from sparwright.maths.nesting import laid
from sparwright.output.buying_file import load_buying
from sparwright.output.nest_file import nest_path, read_nests
from sparwright.parts.layout import lay_out
from sparwright.stock.grain import said_grains
from sparwright.stock.needs import needs
from sparwright.stock.nests import Nest, nests

ROUNDING = 1.0  # mm that the strip is wider, for pieces as wide as the sheet
WHINCHAT = Path(__file__).parents[1] / "examples" / "whinchat" / "whinchat.toml"


def strip_in_sheets(nest: Nest, gap: float, margin: float, seconds: int) -> float | None:
    """Length of the library's strip as wide as a sheet's clear width, in clear lengths of a sheet; None without it."""
    try:
        import spyrrow
    except ImportError:
        return None
    count: dict[str, int] = {}
    blanks = {}
    for p in (p for sheet in nest.sheets for p in sheet):
        count[p.blank.name] = count.get(p.blank.name, 0) + 1
        blanks[p.blank.name] = p.blank
    items = []
    for name, blank in sorted(blanks.items()):
        first = blank.ways[0]
        ring = laid(blank.ring, first)
        turns = [(w.turn - first.turn) % 360.0 for w in blank.ways if w.over == first.over]
        closed = [(float(x), float(y)) for x, y in ring]
        items.append(spyrrow.Item(name, [*closed, closed[0]], demand=count[name], allowed_orientations=turns))
    wide = nest.width * 1000 - 2 * margin + gap + ROUNDING  # pieces are grown for their gap
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=seconds, num_workers=1, seed=1, min_items_separation=gap - 0.2
    )
    try:
        found = spyrrow.StripPackingInstance("nest", strip_height=wide, items=items).solve(config)
    except BaseException as fault:  # the library panics where a piece as wide as the strip has no room for rounding
        if type(fault).__name__ != "PanicException":
            raise
        return math.nan
    return float(found.width) / (nest.length * 1000 - 2 * margin)


def main(model: str, seconds: int, anew: bool) -> None:
    """Print a line for each stock of more than one sheet."""
    found = load(WHINCHAT).models[model]
    buying = load_buying(WHINCHAT)
    wanted = needs(lay_out(found).to_cut, said_grains(found))
    start = time.perf_counter()
    made = nests(wanted, buying, {} if anew else read_nests(nest_path(WHINCHAT, model)))
    print(
        f"{model}: {'nested anew' if anew else 'kept nests read and measured'} in {time.perf_counter() - start:.0f} s"
    )
    for nest in (n for n in made.nests if len(n.sheets) > 1):
        c = buying.cutting
        strip = strip_in_sheets(nest, c.sheet_gap * 1000, c.sheet_margin * 1000, seconds)
        said = "library not installed" if strip is None else f"{strip:.1f}" if strip == strip else "the library gave up"
        pieces = sum(map(len, nest.sheets))
        print(f"{nest.stock.words}: {pieces} pieces, {len(nest.sheets)} sheets, bound {nest.bound}, "
              f"{100 * nest.used / nest.bought:.0f} % used, strip {said}")  # fmt: skip


if __name__ == "__main__":
    words = [a for a in sys.argv[1:] if a != "--anew"]
    main(words[0] if words else "W1", int(words[1]) if len(words) > 1 else 20, "--anew" in sys.argv)
