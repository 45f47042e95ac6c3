"""The data files that come with the program: as text, as tables, as rows.

>>> sorted(tables("surfaces.toml"))[0], rows("cylinder.csv")[0]["reynolds"]
('built', '892')
"""

from __future__ import annotations

import csv
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


def text(name: str) -> str:
    """A file of this folder as it stands. FileNotFoundError for another name."""
    return files("sparwright.data").joinpath(name).read_text(encoding="utf-8")


@cache
def tables(name: str) -> dict[str, Any]:
    """A TOML file of this folder, read once: who reads it does not change it."""
    return tomllib.loads(text(name))


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a CSV file of this folder by its heads, without empty lines and lines that begin with #."""
    return list(csv.DictReader(line for line in text(name).splitlines() if line and not line.startswith("#")))
