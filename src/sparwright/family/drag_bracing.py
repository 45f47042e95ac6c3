"""What keeps a wing's spars square to each other, as the file says it: tubes between them and crossed wires."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import RoundTube, Sheet, words


@dataclass(frozen=True, kw_only=True)
class DragBracing:
    """Tubes from spar to spar, and two wires across each bay between them: one against drag, one the other way."""

    bays: tuple[float, ...] = number("m", "buttlines of the tubes, from the inside out")
    tube: RoundTube = words("tube from spar to spar")
    foot: Sheet = words("sheet of the plates on its ends, bolted to the spars' inner faces")
    lug: Sheet = words("sheet of the lugs on the plates")
    edge: float = number("m", "from a pin's middle to a lug's edge; two diameters of the pin at least")
    bolt: str = words("key of the bolts through a spar, four in a square")
    pitch: float = number("m", "from bolt to bolt, along the spar and up")
    block: str = words("key of the material of a block between caps and webs, under the bolts; a box spar of wood", "")
    spacer: RoundTube | None = words("tube on each bolt inside the spar; a box spar of metal", None)
    wire: float = number("m", "diameter of the wires")
    construction: Literal["1x19", "7x7", "7x19"] = words("strands by wires of the cable", "1x19")
    tension: float = number("N", "rigging tension of each wire at rest; left out: none, drawn up by hand", 0.0)
    level: float = number("m", "how far over and under the tubes' middle the two wires of a bay lie")
    hole: float = number("m", "diameter of the holes in ribs that they go through")


RECORDS = (DragBracing,)
