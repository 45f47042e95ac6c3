"""What holds struts, wires and wing roots, as the file says it: fittings, ends of struts, roots.

Each is said once under a name; an end of a strut or wire names its fitting and its own piece.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.stock import RoundTube, Sheet, words


@dataclass(frozen=True, kw_only=True)
class Fitting:
    """Lugs on a spar, a fuselage node or a tube of the tail.

    On a spar: plates on both faces, a foot across their ends outside the skin. On a tail's tube: plates fore and aft.
    """

    name: str = words("name")
    lug: Sheet = words("sheet of the lugs: a pair for a strut, one for a wire")
    edge: float = number("m", "from a pin's middle to a lug's edge; two diameters of the pin at least")
    plate: Sheet | None = words("sheet of the plates on a spar's faces and of the foot; none at a node", None)
    reach: float | None = number("m", "from the face of the spar's cap out to the foot, past rib and skin", None)
    bolt: str = words("key of the bolts through the spar, four in a square; through a tail's tube, two along it", "")
    pitch: float | None = number("m", "from bolt to bolt, along the spar and up; along a tail's tube", None)
    block: str = words("key of the material of a block between caps and webs, under the bolts; a box spar of wood", "")
    spacer: RoundTube | None = words("tube on each bolt inside a spar of metal; bush through a tail's tube", None)


@dataclass(frozen=True, kw_only=True)
class StrutPiece:
    """What a strut ends in: a bush across it, between a pair of lugs, welded on; or welded on a plug in its bore."""

    name: str = words("name")
    pin: str = words("key of the bolt across")
    bush: RoundTube = words("tube of the bush; its bore takes the pin")
    width: float = number("m", "length of the bush: clear between the lugs")
    plug: RoundTube | None = words("steel tube in the bore of a strut that is not welded; none where it is", None)
    lap: float | None = number("m", "how far the plug goes into the strut", None)
    bolt: str = words("key of the two bolts through strut and plug", "")


@dataclass(frozen=True, kw_only=True)
class Root:
    """A spar's root on the fuselage: straps on the spar's faces, a pin fore and aft between lugs on a node."""

    name: str = words("name")
    wing: str = words("wing")
    spar: str = words("spar of that wing")
    node: str = words("fuselage node the lugs stand on")
    buttline: float = number("m", "where the pin is, on the spar's middle line carried inwards")
    lug: Sheet = words("sheet of the lugs, outside the straps")
    strap: Sheet = words("sheet of the straps")
    edge: float = number("m", "from the pin's middle to the edge of strap and lug; two diameters of it at least")
    pin: str = words("key of the bolt across")
    bush: RoundTube = words("tube between the straps, round the pin")
    bolt: str = words("key of the bolts through the spar, four in a square")
    pitch: float = number("m", "from bolt to bolt, along the spar and up")
    block: str = words("key of the material of a block between caps and webs; a box spar of wood", "")
    spacer: RoundTube | None = words("tube on each bolt inside the spar; a spar of metal", None)


RECORDS = (Fitting, StrutPiece, Root)
