"""Reports kept by content, so that a question already answered is answered at once.

The key is made of the family file's bytes, the model, this program's own files and version, the libraries that do
the sums, the Python and the machine. The value is JSON. An entry that is damaged is worked out again; a folder that
cannot be written is gone without. Only the terminal uses it.
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

FOLDER = "SPARWRIGHT_STORE"  # environment: where reports are kept; empty for nowhere
SUMS = ("numpy", "scipy", "numba", "shapely")
MOST = 400  # reports kept; the longest unused go


def folder() -> Path | None:
    """Where reports are kept for this user; None for nowhere."""
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
    made = [f"{name} {_version(name)}" for name in SUMS]
    return "\n".join((__version__, digest.hexdigest(), *made, sys.version, platform.machine()))


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "none"


def get(name: str) -> str | None:
    """The text kept under a key, or None."""
    home = folder()
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


def put(name: str, text: str) -> None:
    """Keep a text under a key, whole or not at all; goes on without when the folder cannot be written."""
    home = folder()
    if home is None:
        return
    beside = ""
    try:
        home.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile("w", encoding="utf-8", dir=home, suffix=".part", delete=False) as file:
            beside = file.name
            file.write(f"{_seal(text)}\n{text}")
        os.replace(beside, home / f"{name}.json")
        _thin(home)
    except OSError:
        if beside:
            with suppress(OSError):
                os.unlink(beside)


def _seal(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _thin(home: Path) -> None:
    entries = sorted(home.glob("*.json"), key=lambda p: p.stat().st_mtime, reverse=True)
    for old in entries[MOST:]:
        old.unlink(missing_ok=True)
