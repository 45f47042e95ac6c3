"""What a spar bears under the bolts of a fitting: nothing here may decide a check yet, and this says why.

The use itself is strength/joints/wood.py's or plate.py's; a check takes this among its allowables and is unknown by it.
"""

from __future__ import annotations

from sparwright.base.source import Source
from sparwright.data.loader import material
from sparwright.family.model import Spar
from sparwright.strength.allowable import Allowable, not_known

RECALLED = "recalled, not read: the trade's own tables (Trayer 1932, ANC-18) could not be read"


def under_bolts(spar: Spar, carrier: str) -> Allowable:
    """Wood, or webs, under bolts. carrier: what brings the load to them, "straps"."""
    if material(spar.cap.material).kind == "wood":
        source = Source("en-1995-1-1", "8.5, recalled with high confidence", "memory")
        return not_known("wood under a bolt", spar.cap.material, RECALLED, source)
    why = f"how webs, tubes inside and {carrier} share a bolt's load is not worked out yet"
    return not_known("bearing of webs under the bolts", spar.web.material, why)
