"""What the margins take for granted, in one record: end fixities, how pieces share a load, special factors.

The proof is made with USED. A study of the assumptions makes it again with one of them at an end of its range
(assumed.py); nothing else may hand in another.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.data.factors import highest, table
from sparwright.strength.members import ply


def _fixity(key: str) -> float:
    return table("fixity")[key].value


@dataclass(frozen=True, kw_only=True)
class Taken:
    """Numbers of the proof that are neither a load nor a strength."""

    welded: float = number("1", "end fixity c of a tube of the welded truss", _fixity("welded"))
    mount: float = number("1", "end fixity c of a tube of the engine's mount", _fixity("engine-mount"))
    pinned: float = number("1", "end fixity c of struts, drag tubes, the axle and the tail's tubes", _fixity("pinned"))
    fitting: float = number("1", "special factor of fittings", highest(["fitting"])[0])
    lug_share: float = number("1", "part of a strut's load on the worse of a pair of lugs", 0.5)
    bolt_share: float = number("1", "load of the worst of four bolts over that of even shares", 1.0)
    wire_end: float = number("1", "part of a cable's strength its ends keep", table("cable_end")["swaged"].used)
    skin: float = number("1", "part of a skin's stiffness in torsion that is counted on", 1.0)
    plies: int = number("1", "plies of one thickness in a ply web", ply.PLIES)


USED = Taken()
