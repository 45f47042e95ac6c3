"""A family file changed in one place and left alone everywhere else, and written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sparwright.base.problem import refusal
from sparwright.family.entry import hint
from sparwright.family.places import Spot, scan


class NoSuchKey(KeyError):
    """The key to set is not in the file and has no table to go into; its text is a sentence."""

    def __str__(self) -> str:
        return str(self.args[0])


class CannotWrite(OSError):
    """A file could not be written; nothing of it was changed. Its text is a sentence."""

    def __str__(self) -> str:
        return str(self.args[0])


def set_value(text: str, dotted_key: str, new_text: str) -> str:
    """The text of a family file with one value changed; comments, order and spaces elsewhere stay byte for byte.

    dotted_key: as problems name it, `models.W1.engine.mass` or `fuselage.nodes.A1.0`.
    new_text: the new value without quotes where a text stands now (`92 lb`), else as TOML (`0.2`, `true`, `[...]`).
    A key that is not there yet is added to its table, which must be there; then text is what is not TOML.

    Raises NoSuchKey when its table is not there, ValueError when the result could not be read again.

    >>> set_value('a = "1 in" # why\\n', "a", "2 in")
    'a = "2 in" # why\\n'
    """
    data, spots = tomllib.loads(text.removeprefix("\ufeff")), scan(text.removeprefix("\ufeff"))
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    body = text[len(mark) :]
    path = dotted_key.split(".")
    spot, value = _found(spots, data, path[:-1], dotted_key)
    name = _index(spot, path[-1])
    if name in spot.children and spot.children[name].start >= 0:
        there = spot.children[name]
        new = _written(new_text, isinstance(value[name], str))
        changed = body[: there.start] + new + body[there.end :]
    else:
        changed = _added(body, spot, path, new_text)
    if not _only_changed(data, tomllib.loads(changed), path):
        raise ValueError(f"{new_text!r} would change more than {dotted_key}")
    return mark + changed


def _only_changed(old: Any, new: Any, path: list[str]) -> bool:
    """Whether two documents differ at one key at most."""
    name, rest = path[0], path[1:]
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        at = int(name)
        same = old[:at] + old[at + 1 :] == new[:at] + new[at + 1 :]
        return same and (not rest or _only_changed(old[at], new[at], rest))
    if not (isinstance(old, dict) and isinstance(new, dict) and name in new):
        return False
    same = {k: v for k, v in old.items() if k != name} == {k: v for k, v in new.items() if k != name}
    return same and (not rest or _only_changed(old[name], new[name], rest))


def _index(spot: Spot, name: str) -> str | int:
    """A list is entered by number."""
    return int(name) if name.isdigit() and isinstance(next(iter(spot.children), None), int) else name


def _found(spot: Spot, value: Any, path: list[str], dotted_key: str) -> tuple[Spot, Any]:
    for name in path:
        step = _index(spot, name)
        if step not in spot.children:
            raise NoSuchKey(f"{dotted_key}: there is no {name!r} in the file{hint(name, spot.children)}")
        spot, value = spot.children[step], value[step]
    return spot, value


def _written(new_text: str, as_text: bool) -> str:
    """A value as TOML: in quotes where a text stood, as given otherwise."""
    if as_text:
        return _quoted(new_text)
    if "\n" in new_text or set(tomllib.loads(f"x = {new_text}")) != {"x"}:
        raise ValueError(f"{new_text!r} is more than one value")
    return new_text


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in escaped) + '"'


def _added(text: str, spot: Spot, path: list[str], new_text: str) -> str:
    """A new key after the last one of its table."""
    if spot.last < 0 or not path[-1].isidentifier():
        raise NoSuchKey(f"{'.'.join(path)}: there is no table of its own for it in the file")
    try:
        pair = f"{path[-1]} = {_written(new_text, False)}"
    except ValueError:
        pair = f"{path[-1]} = {_quoted(new_text)}"
    if spot.inline:
        comma = ", " if spot.children else " "
        return text[: spot.last] + comma + pair + ("" if spot.children else " ") + text[spot.last :]
    end = text.find("\n", spot.last)
    end = len(text) if end < 0 else end + 1
    before = text[:end]
    newline = "\r\n" if "\r\n" in text else "\n"
    return before + ("" if before.endswith("\n") or not before else newline) + pair + newline + text[end:]


def rewrite(path: str | os.PathLike[str], text: str) -> None:
    """Put `text` into the file at `path`, whole or not at all: written beside it, flushed, then put in its place.

    Raises CannotWrite with a sentence; the file that was there is then still there.
    """
    target = Path(os.path.realpath(path))
    made = ""
    try:
        handle, made = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        _same_mode(target, made)
        os.replace(made, target)
    except OSError as error:
        if made:
            with contextlib.suppress(OSError):
                os.unlink(made)
        unchanged = "what was there before is unchanged"
        raise CannotWrite(f"{os.fspath(path)} cannot be written: {refusal(error)}; {unchanged}") from error


def _same_mode(target: Path, made: str) -> None:
    """The new file may be read by whoever could read the old one."""
    with contextlib.suppress(FileNotFoundError):
        os.chmod(made, target.stat().st_mode & 0o777)
        return
    os.chmod(made, 0o644)


def with_model(text: str, name: str, like: str, said: Mapping[str, str], values: Mapping[str, tuple[str, str]]) -> str:
    """The text of a family file with one more model at its end, which is like another but for some values.

    said: texts of the model's own keys (title). values: TOML and remark by dotted key. Everything that was there stays
    byte for byte. Raises NoSuchKey where the name is taken, ValueError where the result could not be read again.
    """
    old = tomllib.loads(text.removeprefix("\ufeff"))
    if name in old.get("models", {}):
        raise NoSuchKey(f"models.{name} is in the file already")
    lines = [f"[models.{name}]", f"like = {_quoted(like)}", *(f"{k} = {_quoted(v)}" for k, v in said.items())]
    lines += [f"{key} = {_written(value, False)} # {remark}" for key, (value, remark) in values.items()]
    newline = "\r\n" if "\r\n" in text else "\n"
    made = text + ("" if text.endswith("\n") else newline) + newline + newline.join(lines) + newline
    new = tomllib.loads(made.removeprefix("\ufeff"))
    del new["models"][name]
    if new != old:
        raise ValueError(f"models.{name} would change more than itself")
    return made
