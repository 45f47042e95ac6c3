"""How a check of the controls is told: in the case of its control, with the pilot's greatest force as its rule."""

from __future__ import annotations

from collections.abc import Sequence

from sparwright.base.check import Check, Step
from sparwright.controls.motion import Motion
from sparwright.data.factors import highest, table
from sparwright.margins.worst import Worst, told
from sparwright.strength.allowable import Allowable, not_known
from sparwright.structure.answered import Answered

METHOD = "pilot's greatest force through the linkage by virtual work, surface held"
RULE = "cfr-23-2014 23.395, 23.397"


def told_of(
    answer: Answered,
    m: Motion,
    id: str,
    title: str,
    use: float,
    part: str,
    found: Sequence[Allowable],
    steps: tuple[Step, ...],
    caveat: str = "",
    rule: str = RULE,
) -> Check:
    """A check of a control's member; unknown where no case of the pilot's force is worked out."""
    return told(
        f"strength.control.{id}",
        title,
        at_case(answer, m, use),
        answer,
        part,
        [*found, *_no_case(answer, m)],
        steps,
        method=METHOD,
        rule=rule,
        caveat=caveat,
    )


def at_case(answer: Answered, motion: Motion, use: float) -> Worst:
    """The case of that control."""
    found = [i for i, x in enumerate(answer.laid) if x.case.key.startswith(f"control.{motion.force}")]
    return Worst(use, 0, found[0] if found else 0)


def _no_case(answer: Answered, motion: Motion) -> list[Allowable]:
    if any(x.case.key.startswith(f"control.{motion.force}") for x in answer.laid):
        return []
    return [not_known("case", motion.name, "no case of the pilot's force is worked out")]


def special(*keys: str) -> tuple[float, Step]:
    """(the highest of special factors, 23.619, its line)."""
    factor, key = highest(list(keys))
    row = table("special")[key]
    return factor, Step(row.title, "factor on the load besides 1.5", (), factor, "1", str(row.source))
