"""The buying file of a family, beside it on the disk: NAME.buying.toml."""

from __future__ import annotations

from pathlib import Path

from sparwright.base.problem import FileProblems, Problem
from sparwright.family.buying import Buying, read_buying


def buying_path(family: str | Path) -> Path:
    """Where the buying file of a family file lies."""
    path = Path(family)
    return path.with_name(f"{path.stem}.buying.toml")


def load_buying(family: str | Path) -> Buying:
    """The buying file beside a family file; the plain one where there is none. Raises FileProblems."""
    path = buying_path(family)
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return Buying()
    except (OSError, UnicodeDecodeError):
        raise FileProblems([Problem(path.name, 1, "", "", "cannot be read as text")]) from None
    return read_buying(text, path.name)
