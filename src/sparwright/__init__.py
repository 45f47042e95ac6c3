"""Sparwright: one family file in, a checked aeroplane and true full-size templates out.

>>> import sparwright as sw
>>> family = sw.load("examples/whinchat/whinchat.toml")   # doctest: +SKIP
>>> result = sw.run(family, "W1")                         # doctest: +SKIP
"""

from importlib import import_module
from typing import TYPE_CHECKING

__version__ = "0.1.0"
__all__ = ["__version__", "load", "run"]

if TYPE_CHECKING:
    from sparwright.family.reader import load
    from sparwright.run import run

_DOORS = {"load": "sparwright.family.reader", "run": "sparwright.run"}


def __getattr__(name: str) -> object:
    """Open the two doors only when asked, so that `--help` does not load the engine."""
    if name in _DOORS:
        return getattr(import_module(_DOORS[name]), name)
    raise AttributeError(f"module 'sparwright' has no attribute {name!r}")
