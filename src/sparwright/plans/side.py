"""Which side of a line is cut, by what the part is made of: one rule for every sheet.

Outlines are cut until the line is gone: a part is never larger than drawn, by half a line (0.09 mm) at most smaller. In
holes the line is left: a slot is never larger than what it must hold, and is eased to fit. Tools differ by material;
the rule does not (common practice, no source).
"""

from __future__ import annotations

from sparwright.data.loader import materials

WOOD = ("wood", "plywood")
METAL = ("aluminium", "steel")


def kind_of(material: str) -> str:
    """Wood, metal, or nothing for what is neither or not on file.

    >>> kind_of("birch-ply"), kind_of("6061-T6"), kind_of("glass-epoxy"), kind_of("unobtainium")
    ('wood', 'metal', '', '')
    """
    found = materials().get(material)
    kind = found.kind if found else ""
    return "wood" if kind in WOOD else "metal" if kind in METAL else ""


def side(material: str, holes: bool) -> str:
    """How the outline is cut, and the holes where there are any.

    >>> side("birch-ply", holes=True)
    'saw and sand until the line is gone; in holes leave it'
    """
    ways = {"wood": "saw and sand", "metal": "cut and file"}
    said = f"{ways.get(kind_of(material), 'cut and trim')} until the line is gone"
    return f"{said}; in holes leave it" if holes else said


def crosses(material: str) -> str:
    """What to do with the small crosses; empty where they are simply pricked through the paper."""
    if kind_of(material) != "metal":
        return ""
    return "Centre-punch only what is drilled, mark the rest by felt pen: a scratch in metal starts a crack."


LEGEND = (
    "Solid: cut; outlines until the line is gone, in holes leave the line. Dashed: outside of a bent flange. "
    "Chain: centre or chord line. Small crosses: prick points, through the paper."
)
