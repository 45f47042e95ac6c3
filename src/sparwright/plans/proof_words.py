"""What the proof-load sheet says in words: cautions, order of work, when to stop, who signs.

23.305(a) and 23.307(a) of 14 CFR, 2014 (read): no detrimental set under limit load; load tests where analysis alone is
not known to be reliable. The rest is common practice, no source.
"""

from __future__ import annotations

SET = 5  # per cent of what it moved at limit load that may be left; common practice, no source

NEVER = (
    "An article that will fly is loaded to limit load, never beyond.",
    "One that was loaded past limit load, by intent or by mistake, never flies.",
)
CAUTIONS = (
    "Weigh ten bags one by one and mark the mean; weigh again when they were wet.",
    "Trestles as on the drawing, on a hard floor, padded, under the nodes and nowhere else; strap where the "
    "table says so.",
    "Nothing aboard: no fuel, no oil, no pilot. Engine and propeller as in the weighing; what hangs is tied.",
    "Catch supports under both tips and both struts' heads, a hand's breadth under where they are expected, "
    "moved as it sinks.",
    "Controls locked in the middle. Everybody wears a helmet; nobody is under a loaded wing.",
    "Pencil both chord lines and every rib on the skin. Measure all points from the floor; write the readings "
    "without bags.",
)
BOARDS = (
    "Boards turn the wing where bags on its skin cannot. Each is a straight plank, stiff to the eye, on edge across "
    "the wing over the rib of the table, on two padded blocks over the spars and nowhere else, strapped round the "
    "wing at both. It has a hole at A, so far ahead of the leading edge, and one at B, so far behind the trailing "
    "edge: bags hang by a rope from the one that is named; from the other a rope goes up over a pulley on a beam to "
    "as many bags on its far side. The table is of the right side, the left is its mirror.",
    "Both ends of a board are loaded together, before the bags of its bay. Weigh boards, blocks and straps: as much "
    "less lies in bags on that rib. Pull each rope by a spring scale first: a pulley that takes more than a "
    "twentieth is changed. Nobody stands under a hanging bag or in line with a rope.",
)
ROPES = (
    "A rope from the place of the table goes straight up over a pulley on a beam; the bags on its other end carry "
    "what hangs there and stand for its inertia. It is hung before the first bag lies and taken off after the last.",
)
ORDER = (
    "Two crews, right and left, lay bag for bag together, from the root to the tip, step by step as in the cells.",
    "At each step: hands off, listen, wait a minute, measure every point and the trestles, write, initial.",
    "At limit load: hold three minutes, walk round, look at joints, fabric, webs, pins. At least three seconds "
    "is the rule's word.",
    "Unload from the tip inwards, both sides together. After ten minutes measure again: what is left is set.",
    f"Set more than {SET} % of what it moved at limit load, or any set on a second loading: find why before "
    f"anything flies.",
    "Afterwards take out and look at every pin and bolt of wing, struts and tail; look into each inspection hole.",
)
STOP = (
    "a point has moved more than the most that is predicted, or the two sides differ by more than a tenth;",
    "it goes on moving while nothing is added; a crack, a buckle that was not there, a pin that turns, a wire "
    "that hangs;",
    "a trestle sinks or lifts; a bag slides; anybody calls stop.",
)
NAMES = (
    ("Serial", "Date", "Place"),
    ("In charge", "Signature"),
    ("Measured by", "Signature"),
    ("Witness", "Signature"),
    ("One bag weighs", "Scale", "Temperature", "Damp"),
)
