"""What closes an aileron's spar behind, past the notches of its nose, as parts and joints.

A channel of the spar's own sheet, open ahead, between its flanges: both make a box. Or a block between its strips, as
deep as they: with them and the web a solid section; it also backs the feet that stand there. Ribs end on it. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.quantity import decimal_inches, inches, place_key
from sparwright.data.loader import material
from sparwright.family.aileron import ClosedStretch
from sparwright.parts.aileron import Hinged, met, run
from sparwright.parts.joints import rivet_or_glue
from sparwright.parts.part import Joint, Part
from sparwright.parts.ribs import AILERON_RIB, RibGroup
from sparwright.parts.wing import placed
from sparwright.shape.parted import aileron_inside, closing_ring


def closing_parts(h: Hinged) -> Iterator[Part]:
    """A channel or block for each closed stretch."""
    spar = h.frame.spar
    for c in h.frame.closed:
        rings = []
        for y in (c.start, c.end):
            s, p = h.at(y)
            ring = closing_ring(aileron_inside(s, h.wing, p), p.face, spar, f"wing {h.wing.name}, aileron.frame.closed")
            rings.append(placed(s, map(tuple, ring)))
        deep = inches(float(np.ptp(rings[0][:, 2])))
        if spar.strip is not None:
            key, section = spar.strip.material, f"{deep} x {inches(spar.strip.width)}"
            yield run(h, _number(h, c), "block between strips", "edge spar", key, f"{material(key).title}, {section}",
                      section, rings)  # fmt: skip
        else:
            key, section = spar.material, f"{deep} x {inches(spar.flange - spar.thickness - spar.bend_radius)}"
            stock = (
                f"{material(key).title}, {decimal_inches(spar.thickness)}, bent to {section}, "
                f"radius {inches(spar.bend_radius)}"
            )
            yield run(h, _number(h, c), "closing channel", "edge spar", key, stock, section, rings)


def closing_joints(h: Hinged, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each to the spar, or its strips, and the ribs that end on it."""
    spar = h.frame.spar
    for c in h.frame.closed:
        number, long, middle = _number(h, c), c.end - c.start, (c.start + c.end) / 2
        s, p = h.at(middle)
        strips = [h.number(f"SPAR-{side}-STRIP") for side in ("UPPER", "LOWER")] if spar.strip else []
        how = "glue" if spar.strip else rivet_or_glue(spar.material)
        rivet = "unknown" if how == "rivet" else ""
        ring = closing_ring(aileron_inside(s, h.wing, p), p.face, spar, "")
        deep = float(np.ptp(ring[:, 1]))
        yield Joint(
            number=f"{number}-JOINT", kind=how, parts=(number, h.number("SPAR"), *strips), primary=True, count=2,
            place=s.place(p.face + spar.width, p.hinge[1]), length=2 * long, fastener=rivet,
            area=long * (deep + 2 * spar.strip.width) if spar.strip else 0.0,
            note="on web and both strips" if spar.strip else "along both flanges, with a bar from its open ends; last",
        )  # fmt: skip
        ribs, _ = met(h, groups, lambda q, c=c: (  # type: ignore[misc]
            q.piece.name == AILERON_RIB and c.start <= q.where.buttline <= c.end))  # fmt: skip
        if ribs:
            yield Joint(
                number=f"{number}-RIB-JOINT", kind=how, parts=(number, *ribs), primary=True, count=2, length=deep,
                place=s.place(p.face + spar.width, p.hinge[1]), fastener=rivet,
                area=deep * h.wing.ribs.sheet.thickness if how == "glue" else 0.0,
                note="length and area are for one rib",
            )  # fmt: skip


def _number(h: Hinged, c: ClosedStretch) -> str:
    return h.number("SPAR-CLOSED", place_key(c.start))
