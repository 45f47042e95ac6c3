"""Reports and polars kept by content, so that a question already answered is answered at once.

A report's key is made of the family file's bytes, the model, this program's own files and version, the libraries that
do the sums, the Python and the machine; a polar's key is made in cli/polars.py. The value is JSON. An entry that is
damaged is worked out again; a folder that cannot be written is gone without. Only the terminal uses it.
"""

from __future__ import annotations

import hashlib
import os
import platform
import sys
from contextlib import suppress
from functools import lru_cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from tempfile import NamedTemporaryFile

from sparwright import __version__

FOLDER = "SPARWRIGHT_STORE"  # environment: where things are kept; empty for nowhere
SUMS = ("numpy", "scipy", "numba", "shapely")
REPORTS, POLARS = "", "polars"  # shelves: folders within the folder
MOST = {REPORTS: 400, POLARS: 4000}  # kept on each; the longest unused go. A polar has 7 kB, a family asks for some 100


def folder(shelf: str = REPORTS) -> Path | None:
    """Where a shelf is for this user; None for nowhere."""
    home = _home()
    return home / shelf if home else None


def _home() -> Path | None:
    if FOLDER in os.environ:
        return Path(os.environ[FOLDER]) if os.environ[FOLDER] else None
    with suppress(RuntimeError):  # no home
        if sys.platform == "win32":
            return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "sparwright" / "store"
        if sys.platform == "darwin":
            return Path.home() / "Library" / "Caches" / "sparwright"
        return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "sparwright"
    return None


def key(family_sha256: str, model: str) -> str:
    """The name of an entry: hexadecimal, 64 characters."""
    return hashlib.sha256("\n".join((family_sha256, model, program())).encode()).hexdigest()


@lru_cache(maxsize=1)
def program() -> str:
    """What does the sums: version, the package's own files, the libraries, the Python, the machine."""
    home = Path(__file__).parents[1]
    digest = hashlib.sha256()
    for path in sorted(p for p in home.rglob("*") if p.suffix in (".py", ".toml", ".csv")):
        digest.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return "\n".join((__version__, digest.hexdigest(), *libraries()))


def libraries(names: tuple[str, ...] = SUMS) -> tuple[str, ...]:
    """What the program stands on: the libraries that do the sums, the Python, the machine."""
    return (*(f"{name} {_version(name)}" for name in names), sys.version, platform.machine())


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "none"


def get(name: str, shelf: str = REPORTS) -> str | None:
    """The text kept under a key, or None."""
    home = folder(shelf)
    if home is None:
        return None
    try:
        seal, text = (home / f"{name}.json").read_text(encoding="utf-8").split("\n", 1)
    except (OSError, ValueError):
        return None
    if seal != _seal(text):
        return None
    with suppress(OSError):
        os.utime(home / f"{name}.json")
    return text


def put(name: str, text: str, shelf: str = REPORTS) -> None:
    """Keep a text under a key, whole or not at all; goes on without when the folder cannot be written."""
    home = folder(shelf)
    if home is None:
        return
    beside = ""
    try:
        home.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile("w", encoding="utf-8", dir=home, suffix=".part", delete=False) as file:
            beside = file.name
            file.write(f"{_seal(text)}\n{text}")
        os.replace(beside, home / f"{name}.json")
        _thin(home, MOST[shelf])
    except OSError:
        if beside:
            with suppress(OSError):
                os.unlink(beside)


def _seal(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _thin(home: Path, most: int) -> None:
    entries = list(home.glob("*.json"))
    if len(entries) > most:
        for old in sorted(entries, key=lambda p: p.stat().st_mtime, reverse=True)[most:]:
            old.unlink(missing_ok=True)
