"""Bolts by dash number from the joints, with their nuts, washers and cotters; rivets; what is not chosen yet.

A bolt's dash number comes from what lies under it (parts/bolts.py), so the count of each is the joints' count. Each
bolt has a washer under its head and those under its nut that its record says. Bolts that are parts but in no joint are
counted too, by what is more than the joints have. A joint whose fastener is not chosen is told.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from sparwright.base.quantity import inches
from sparwright.base.record import number
from sparwright.parts.part import Assembly, Joint, Part

BOLT = re.compile(
    r"^(?:(?P<count>\d+) )?(?P<size>AN\d+)(?:-(?P<dash>\d+))?(?:$|, (?:self|castellated|grip|none)| bolt$)"
)
RIVET = re.compile(r"^(?P<count>\d+) (?P<key>(?:blind|solid|MS\d)\S*)$")
SEVERAL = re.compile(r"; (?=\d+ AN)")
NOT_CHOSEN = ("unknown", "none", "bought", "")


@dataclass(frozen=True, order=True)
class Hardware:
    """One kind of hardware: how it is asked for, and how many."""

    kind: str  # "bolt", "nut", "washer", "cotter", "rivet"
    name: str
    count: int = number("1", "how many")
    note: str = ""


def _grip(metres: float) -> str:
    """What a bolt's line says of its grip."""
    return f"grip {inches(metres)}" if math.isfinite(metres) else "longer than any listed"


def hardware(assembly: Assembly) -> tuple[Hardware, ...]:
    """Everything that joins parts, sorted; what no joint says a dash number for is named so."""
    joints = [j for j in assembly.joints if j.fasteners]
    bolted, grips = Counter[str](), dict[str, str]()
    nuts, washers, cotters, rivets = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
    for j in joints:
        many = j.fasteners * j.count
        if j.bolt is not None:
            bolted[j.bolt.stock] += many
            grips[j.bolt.stock] = _grip(j.bolt.stock_grip)
            washers[f"{j.bolt.size} plain washer"] += many * (1 + j.bolt.washers)
            nuts[f"{j.bolt.size} {nut_words(j.bolt.nut)}"] += many if not j.bolt.nut.startswith("none") else 0
            cotters[f"cotter for {j.bolt.size}"] += many if "cotter" in j.bolt.nut else 0
        elif j.fastener.startswith("AN"):
            bolted[f"{j.fastener}, grip not said"] += many
        elif j.fastener not in NOT_CHOSEN:
            rivets[j.fastener] += many
    found = [Hardware("bolt", n, c, grips.get(n, "")) for n, c in bolted.items()] + _besides(
        assembly.parts, bolted, rivets
    )
    for kind, counts in (("nut", nuts), ("washer", washers), ("cotter", cotters), ("rivet", rivets)):
        found += [Hardware(kind, n, c) for n, c in counts.items() if c]
    return tuple(sorted((*found, *_not_chosen(joints))))


def nut_words(nut: str) -> str:
    """The nut itself, without what is to be known of it.

    >>> nut_words("castellated nut and cotter"), nut_words("self-locking nut, metal to metal")
    ('castellated nut', 'self-locking nut')
    """
    return nut.partition(",")[0].partition(" and ")[0]


def _not_chosen(joints: Iterable[Joint]) -> list[Hardware]:
    open_ones = sum(j.fasteners * j.count for j in joints if j.bolt is None and j.fastener == "unknown")
    return [Hardware("bolt", "not chosen", open_ones, "the joint says how many, not which")] if open_ones else []


def is_hardware(part: Part) -> bool:
    """Whether a bought part is hardware that the joints count."""
    first = SEVERAL.split(part.stock)[0]
    return part.material == "bought" and bool(BOLT.match(first) or RIVET.match(first))


def counted(part: Part) -> Counter[tuple[str, str]]:
    """(size, dash number or nothing) of the bolts of a bought part, or (rivet, ""), with their counts."""
    found = Counter[tuple[str, str]]()
    for words in SEVERAL.split(part.stock):
        if said := BOLT.match(words):
            found[said["size"], said["dash"] or ""] += int(said["count"] or 1) * part.count
        elif said := RIVET.match(words):
            found[said["key"], ""] += int(said["count"]) * part.count
    return found


def _besides(parts: Iterable[Part], bolted: Counter[str], rivets: Counter[str]) -> list[Hardware]:
    """What the parts have more of than the joints, by size; sizes whose joints have more need nothing."""
    mine = Counter[str]()
    for part in parts:
        if is_hardware(part):
            for (size, _), n in counted(part).items():
                mine[size] += n
    there = Counter[str]()
    for name, n in bolted.items():
        there[re.split("[-,]", name)[0]] += n
    more = {size: n - there[size] - rivets[size] for size, n in mine.items()}
    note = "a part of its own; its grip is not said by a joint"
    return [Hardware("bolt" if size.startswith("AN") else "rivet", f"{size}, in no joint", n, note)
            for size, n in more.items() if n > 0]  # fmt: skip
