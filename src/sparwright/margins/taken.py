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
    rib_sign: float = number(
        "1", "sign of a rib's moment and shear by the frame: 1 adds to the air's, -1 takes off", 1.0
    )
    rib_cell: float = number("1", "part of the nose cell's torque that comes on the edge of the rib", 1.0)
    rib_hinge: float = number("1", "part of a hinge's reaction on each rib of the aileron's bay", 1.0)
    rib_pair: float = number("1", "part of the load on the worse of two ribs back to back", 0.5)
    hinge_push: float = number("1", "part of the horn's push on each hinge of an aileron", 1.0)
    hinge_cables: float = number("1", "part of both cables' forces on each hinge of the tail, besides the frame's", 1.0)
    control_side: float = number("1", "part of the pilot's force on one side of a pair of cables or rods", 1.0)
    control_friction: float = number("1", "part of the pilot's force that friction leaves in cables and rods", 1.0)


USED = Taken()
