"""Sparwright: one family file in, a checked aeroplane and true full-size templates out.

>>> import sparwright as sw
>>> family = sw.load("examples/whinchat/whinchat.toml")   # doctest: +SKIP
>>> result = sw.run(family, "W1")                         # doctest: +SKIP
"""

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

__version__ = "0.1.0"
__all__ = ["__version__", "load", "run"]

if TYPE_CHECKING:
    from sparwright.cli.answers import run
    from sparwright.family.reader import load


class _House(ModuleType):
    """The package with its two doors, opened only when asked, so that `--help` does not load the engine.

    Python puts a module where the package keeps its name once that is imported; the door `run` and the
    module sparwright.run have one name, so the door must win. The module is reached by `from sparwright.run`.
    """

    @property
    def load(self) -> object:
        """Read a family file: see sparwright.family.reader.load."""
        return import_module("sparwright.family.reader").load

    @property
    def run(self) -> object:
        """Work out one model with polars kept on file: see sparwright.cli.answers.run and sparwright.run.run."""
        return import_module("sparwright.cli.answers").run

    @run.setter
    def run(self, module: object) -> None:
        """Python's own note of the imported module; the door stays."""


sys.modules[__name__].__class__ = _House
