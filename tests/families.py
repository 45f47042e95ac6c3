"""A family for tests alone, so that no test leans on the numbers of the demo: probe.toml beside this file.

Every model is small but complete. P1 is one wing of wood on struts, P2 two wings of metal on struts and wires,
P3 three wings with skins of glass. A test of bad files spoils one thing of the text and looks what is said.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from sparwright.base.problem import FileProblems, Problem
from sparwright.family.model import Family
from sparwright.family.reader import read

PROBE_FILE = Path(__file__).parent / "probe.toml"
PROBE = PROBE_FILE.read_text("utf-8")
DEMO_FILE = Path(__file__).parents[1] / "examples" / "whinchat" / "whinchat.toml"


def reading(text: str) -> Family:
    """The family of a text, which is good."""
    return read(text.encode("utf-8"), "f.toml")


def problems(text: str | bytes) -> tuple[Problem, ...]:
    """What is said of a text, which is bad."""
    raw = text.encode("utf-8") if isinstance(text, str) else text
    with pytest.raises(FileProblems) as caught:
        read(raw, "f.toml")
    return caught.value.problems


def spoiled(old: str, new: str, after: str = "") -> str:
    """The probe's text with the first `old` behind `after` replaced."""
    at = PROBE.index(old, PROBE.index(after))
    return PROBE[:at] + new + PROBE[at + len(old) :]


def line_with(text: str, piece: str) -> int:
    """The line of a piece that is in the text once."""
    assert text.count(piece) == 1, f"{piece!r} is there {text.count(piece)} times"
    return text[: text.index(piece)].count("\n") + 1


def told(text: str, piece: str, key: str, says: str) -> bool:
    """Holds that the fault is told with its line, key and reason, and does not drown in others that follow from it."""
    found = problems(text)
    mine = [p for p in found if p.key == key]
    assert mine, [str(p) for p in found]
    assert mine[0].line == (line_with(text, piece) if piece else 1), str(mine[0])
    assert says in mine[0].wanted, str(mine[0])
    assert mine[0].file == "f.toml"
    assert len({p.key for p in found}) <= 6, [str(p) for p in found]
    return True


def without_stouter(text: str) -> str:
    """A text without its tables of stouter ribs, for what moves the ribs they name."""
    kept, inside = [], False
    for line in text.split("\n"):
        inside = line.rstrip().split("#")[0].strip().endswith(".stouter_ribs]") or (inside and not line.startswith("["))
        kept += [] if inside else [line]
    return "\n".join(kept)
