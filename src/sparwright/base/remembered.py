"""What a pure function gave, kept in memory by the content of everything it was given.

A change of one number leaves most of an aeroplane as it was. A remembered function is told everything it hangs on as
arguments and nothing else, so that what it was given is the whole question: equal content, to the last bit, is the
same question, whichever file or run it came from. Nothing else decides, so nothing can be out of date. What is kept is
bounded, the longest unused goes first. It gives what nobody changes afterwards: records, tuples, locked arrays.

>>> calls = []
>>> @remembered(2)
... def doubled(x: float) -> float:
...     calls.append(x)
...     return 2 * x
>>> doubled(3.0), doubled(3.0), doubled(4.0), calls
(6.0, 6.0, 8.0, [3.0, 4.0])
"""

from __future__ import annotations

import struct
import threading
import weakref
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from functools import cache, partial, wraps
from hashlib import blake2b
from typing import Any, ParamSpec, TypeVar

import numpy as np

P = ParamSpec("P")
R = TypeVar("R")
SIZE = 16  # bytes of a digest
_MEMORIES: list[OrderedDict[bytes, Any]] = []
_TOLD: dict[int, tuple[weakref.ref[Any], bytes]] = {}  # of frozen records and locked arrays, as long as they live


def remembered(most: int) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Keeps the last `most` answers of a pure function by the content of its arguments.

    TypeError on a call with an argument whose content cannot be told (a function, an open file).
    """

    def kept(work: Callable[P, R]) -> Callable[P, R]:
        memory: OrderedDict[bytes, R] = OrderedDict()
        lock = threading.Lock()
        _MEMORIES.append(memory)

        @wraps(work)
        def answered(*args: P.args, **named: P.kwargs) -> R:
            key = content((args, tuple(sorted(named.items()))))
            with lock:
                if key in memory:
                    memory.move_to_end(key)
                    return memory[key]
            found = work(*args, **named)
            with lock:
                memory[key] = found
                while len(memory) > most:
                    memory.popitem(last=False)
            return found

        return answered

    return kept


def forget() -> None:
    """Empties every memory: for measuring what a first run costs."""
    for memory in _MEMORIES:
        memory.clear()


def content(thing: Any) -> bytes:
    """A digest of all that a thing of records, tuples, mappings, arrays, text and numbers holds, to the last bit.

    TypeError for anything else. Source: BLAKE2b, 128 bits (rfc-7693).
    """
    return _digest(_tell(thing)[0])


def _digest(told: bytes) -> bytes:
    return blake2b(told, digest_size=SIZE).digest()


def _tell(x: Any) -> tuple[bytes, bool]:
    """(content as bytes that begin with their kind and length, whether it stays so)."""
    kind = type(x)
    if kind is float:
        return b"f" + struct.pack("<d", x), True
    if kind is str:
        return _sized(b"s", x.encode("utf-8", "surrogatepass")), True
    if x is None or kind is bool or kind is int:
        return _sized(b"i", repr(x).encode()), True
    if kind is tuple or kind is list:
        told = [_tell(v) for v in x]
        return _joined(b"(" if kind is tuple else b"[", told, kind is tuple)
    if is_dataclass(kind):
        return _record(x)
    return _other(x)


def _sized(mark: bytes, told: bytes) -> bytes:
    return mark + struct.pack("<q", len(told)) + told


def _joined(mark: bytes, told: list[tuple[bytes, bool]], lasting: bool) -> tuple[bytes, bool]:
    return _sized(mark, b"".join(t for t, _ in told)), lasting and all(stays for _, stays in told)


def _array(x: np.ndarray) -> tuple[bytes, bool]:
    """An array by its kind, shape and bytes; the digest of a locked one that owns its numbers is kept."""
    known = _TOLD.get(id(x))
    if known is not None and known[0]() is x:
        return known[1], True
    told = b"a" + _digest(_sized(b"d", f"{x.dtype.str}{x.shape}".encode()) + x.tobytes())
    lasting = not x.flags.writeable and x.base is None
    if lasting:
        _keep(x, told)
    return told, lasting


def _record(x: Any) -> tuple[bytes, bool]:
    """A record by its class and fields; the digest of one that cannot change is kept while it lives."""
    known = _TOLD.get(id(x))
    if known is not None and known[0]() is x:
        return known[1], True
    name, names = _class(type(x))  # type: ignore[arg-type]
    told, lasting = _joined(name, [_tell(getattr(x, n)) for n in names], type(x).__dataclass_params__.frozen)
    short = b"r" + _digest(told)
    if lasting:
        _keep(x, short)
    return short, lasting


def _keep(x: Any, told: bytes) -> None:
    at = id(x)
    _TOLD[at] = (weakref.ref(x, partial(_gone, _TOLD, at)), told)


def _gone(told: dict[int, tuple[weakref.ref[Any], bytes]], at: int, gone: weakref.ref[Any]) -> None:
    """Drops the digest of a record that is no more; its place in memory may be another's by now."""
    known = told.get(at)
    if known is not None and known[0] is gone:
        del told[at]


@cache
def _class(kind: type) -> tuple[bytes, tuple[str, ...]]:
    return _sized(b"c", f"{kind.__module__}.{kind.__qualname__}".encode()), tuple(f.name for f in fields(kind))


def _other(x: Any) -> tuple[bytes, bool]:
    if isinstance(x, np.ndarray) and x.dtype != object:
        return _array(x)
    if isinstance(x, np.generic):
        return _sized(b"n", x.dtype.str.encode() + x.tobytes()), True
    if isinstance(x, Mapping):
        return _joined(b"{", [_tell(part) for item in x.items() for part in item], type(x).__name__ == "mappingproxy")
    if isinstance(x, frozenset):
        return _joined(b"<", sorted(_tell(v) for v in x), True)
    if type(x).__module__.startswith("shapely.geometry"):
        return _sized(b"g", x.wkb), True
    raise TypeError(f"the content of {type(x).__name__} cannot be told")
