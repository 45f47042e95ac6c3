"""Weights ahead of a hinge line, as the file says them: a round slug bolted to an arm of plate.

On a tail surface of tubes the arm lies outside the tip, on two bolts through the tip tube, with spacers; the slug is on
its outer face. An aileron's arm stands on its spar as the horn does, goes down through an opening of the nose and
forward under the wing, or up and over it; its slug is on its outboard face. A slug under the wing alone swings fore and
aft as the aileron turns and shakes the wing that way: one over it and one under it do not. What they drag is
not worked out.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.stock import Sheet, words

HEAVIEST = 2.5  # kg of one weight: past that its arm wants a design of its own (common practice, no source)


@dataclass(frozen=True, kw_only=True)
class TailWeight:
    """A weight at the tip of an elevator, on both sides, or of the rudder."""

    material: str = words("key of a material: lead, or a steel")
    diameter: float = number("m", "diameter of the slug, whose line is square to its arm")
    length: float = number("m", "length of the slug, outward from its arm")
    ahead: float = number("m", "from the hinge line forward to the slug's middle, square to it, at the arm")
    behind: float = number("m", "from the hinge line aft to the rearmost bolt through the tip tube; the other is ahead")
    off: float = number("m", "from the tip tube to the arm: length of the spacers, cut from the tube of the bushes")
    arm: Sheet = words("sheet of the arm")
    bolt: str = words("key of a bolt of data/fasteners.csv: one through slug and arm, two through the tip tube")


@dataclass(frozen=True, kw_only=True)
class AileronWeight:
    """A weight of an aileron, on both sides."""

    name: str = words("name")
    material: str = words("key of a material: lead, or a steel")
    diameter: float = number("m", "diameter of the slug, which lies along the hinge line")
    length: float = number("m", "length of the slug, outboard from its arm")
    along: float = number("m", "buttline of the arm's middle")
    ahead: float = number("m", "from the hinge line forward to the slug's middle")
    below: float = number("m", "from the hinge line down to the slug's middle, clear of the wing at full travel; "
                          "negative: up, over the wing")  # fmt: skip
    arm: Sheet = words("sheet of the arm, whose foot is fastened as those of the hinges")
    bolt: str = words("key of a bolt of data/fasteners.csv, through slug and arm")


RECORDS = (TailWeight, AileronWeight)
