"""The font of every sheet: Source Sans Pro 2.0, SIL Open Font License 1.1, from the package font-source-sans-pro."""

from __future__ import annotations

from functools import lru_cache
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path

FAMILY = "Source Sans Pro"
FILES = {False: "SourceSansPro-Regular.ttf", True: "SourceSansPro-Semibold.ttf"}  # by bold
NAMES = {False: "SourceSansPro-Regular", True: "SourceSansPro-Semibold"}


class NoFont(Exception):
    """The font package is not installed; a sentence for the user, exit code 3."""


def font_file(bold: bool = False) -> Path:
    """Where the TrueType file lies. Raises NoFont."""
    spec = find_spec("font_source_sans_pro")
    if spec is None or spec.origin is None:
        raise NoFont("the package font-source-sans-pro is not installed; sheets cannot be lettered without it")
    path = Path(spec.origin).parent / "files" / FILES[bold]
    if not path.is_file():
        raise NoFont(f"the package font-source-sans-pro has no {FILES[bold]}; install it again")
    return path


@lru_cache(maxsize=16)
def subset(characters: str, bold: bool = False) -> bytes:
    """A TrueType font of those characters only; the same characters give the same bytes."""
    from fontTools import subset as cut
    from fontTools.ttLib import TTFont

    options = cut.Options(layout_features=[], hinting=False, notdef_outline=True, name_IDs=[0, 1, 2, 4, 6, 13, 14])
    font = TTFont(font_file(bold), recalcTimestamp=False)
    for table in ("GPOS", "GSUB", "GDEF"):  # no kerning, no ligatures: the styles say so; slow to read
        if table in font:
            del font[table]
    few = cut.Subsetter(options)
    few.populate(text=characters)
    few.subset(font)
    buffer = BytesIO()
    font.save(buffer)
    return buffer.getvalue()
