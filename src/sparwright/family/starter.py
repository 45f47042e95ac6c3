"""The commented family file a new designer starts from, and the schema that editors check it with."""

from __future__ import annotations

import os
from importlib.resources import files
from pathlib import Path

from sparwright.base.problem import refusal
from sparwright.family.json_schema import text as schema_text
from sparwright.family.writer import CannotWrite, rewrite

FAMILY, SCHEMA = "family.toml", "sparwright.schema.json"


def starter_text() -> str:
    """The starter as text."""
    return files("sparwright.family").joinpath("starter.toml").read_text(encoding="utf-8")


def write_starter(folder: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Write a starter family and its schema into `folder`, which is made when it is not there; gives their paths.

    Raises CannotWrite with a sentence: when a file of that name is there already, or the folder cannot be written.
    """
    home = Path(folder)
    for name in (FAMILY, SCHEMA):
        if (home / name).exists():
            raise CannotWrite(f"{home / name} is there already and was left alone; choose another folder")
    try:
        home.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(f"{home} cannot be made: {refusal(error)}") from error
    rewrite(home / SCHEMA, schema_text())
    try:
        rewrite(home / FAMILY, starter_text())
    except CannotWrite:
        (home / SCHEMA).unlink()  # both or neither: half a pair would be refused the next time
        raise
    return home / FAMILY, home / SCHEMA
