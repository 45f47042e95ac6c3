"""What a member of the frame is called in a sentence, out of its part's number."""

from __future__ import annotations

from sparwright.family.model import spoken

KINDS = {"struts": "strut", "wires": "wire"}
TAIL = ("tailplane", "elevator", "fin", "rudder")
SIDES = {"-R": ", right", "-L": ", left"}
MOUNT = "mount's "
INNER = {"ANTIDRAG-WIRE": "anti-drag wire", "DRAG-WIRE": "drag wire", "DRAG-TUBE": "drag tube"}


def called(part: str) -> str:
    """The name in words; nodes keep their letters as they stand on the drawing.

    part: number of the part, the model's name first.

    >>> called("W1-struts-LIFT_FRONT"), called("W1-wires-FIN"), called("W1-wing-ANTIDRAG-WIRE-15")
    ('strut lift front', 'wire fin', 'wing, anti-drag wire 15')
    >>> called("W1-elevator-TIP-L"), called("W1-fin-POST")
    ('tube of the elevator: tip, left', 'tube of the fin: post')
    >>> called("W3-upper-DRAG-TUBE-105+48"), called("W1-fuselage-TUBE-G1R-G2R"), called("W1-mount-TUBE-UR-PR")
    ('upper wing, drag tube 105+48', 'tube G1R-G2R', "mount's tube UR-PR")
    """
    own = part.split("-", 1)[-1]
    group, _, name = own.partition("-")
    if group in KINDS:
        return f"{KINDS[group]} {name.replace('_', ' ').lower()}"
    if group in TAIL:
        side = SIDES.get(name[-2:], "")
        return f"tube of the {group}: {(name[:-2] if side else name).replace('-', ' ').lower()}{side}"
    for mark, words in INNER.items():
        if name.startswith(f"{mark}-"):
            return f"{spoken(group)}, {words} {name.removeprefix(f'{mark}-')}"
    if name.startswith("TUBE-"):
        return f"{MOUNT if group == 'mount' else ''}tube {name.removeprefix('TUBE-')}"
    return own.replace("_", " ")
