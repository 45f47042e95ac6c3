"""Every tube of the frame: pulled, pressed as a column, bent and twisted, in the bay and case where it is worst.

    R = (N + sqrt(N^2 + 4 R_s^2))/2,  N = R_axial + R_bending,  R_s = R_torsion + R_shear

Moments are the frame's at ultimate load in second order, so nothing amplifies them again. A welded tube is taken at
its strength beside a weld at both ends. Right and left are one check: the worse of both. Sources: strength/members.

A tube of the tail ends in gussets of thin sheet, whose rivets turn it on one short row: c 1 (common practice, no
source), its length from one other tube to the next, whatever hinge, bolt or wire is on it between; its holes are taken
off in tension and, as if they lay where the moment stresses most, in bending.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.data.columns import Curve, curves
from sparwright.data.loader import material
from sparwright.family.model import RoundTube
from sparwright.margins.taken import USED, Taken
from sparwright.margins.worst import Worst, ends_of, force_steps, told, worst_of
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.members import column, tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Bar, What
from sparwright.structure.named import called

Strengths = Callable[[str, str, float], Allowable]  # material, property, thickness m
BENT_AND_TWISTED = 4  # lines of tube.working before it adds all up
METHOD = "column with end fixity, bending and torsion together; frame in second order"
WELDED: tuple[What, ...] = ("tube", "mount")
"""Bars whose ends are welded."""
LOOKED_AT: tuple[What, ...] = ("tube", "mount", "axle", "strut", "drag tube", "tail tube")


@dataclass(frozen=True)
class Stuff:
    """What a tube's metal can do, and what may not decide yet."""

    crush: Allowable
    pull: Allowable
    shear: Allowable
    youngs: Allowable

    @property
    def all(self) -> tuple[Allowable, ...]:
        """Every one of them."""
        return (self.crush, self.pull, self.shear, self.youngs)


def stuff_of(made: RoundTube, welded: bool, strengths: Strengths) -> Stuff:
    """The strengths of a tube's metal; tension beside a weld where its ends are welded."""
    pull = "tension_near_weld" if welded else "tension"
    names = ("yield_compression", pull, "shear", "youngs")
    return Stuff(*(strengths(made.material, name, made.wall) for name in names))


def tube_checks(
    answer: Answered, strengths: Strengths, taken: Taken = USED, asked_for: Callable[[str], bool] = lambda _: True
) -> Iterator[Check]:
    """One check for each tube, right and left together, the parts in the order of the frame; then what has no size.

    asked_for: which of them, by their ids.
    """
    inner, known = ends_of(answer.force), {k: v for k, v in groups(answer).items() if asked_for(id_of(k))}
    for name, bars in known.items():
        yield _checked(name, np.array(bars), answer, inner, strengths, taken)
    every = {right_of(b.part): b for b in answer.skeleton.bars if b.what in LOOKED_AT}
    for name, bar in every.items():
        if name not in known and asked_for(id_of(name)):
            yield _unsized(name, bar, answer)


def _unsized(name: str, bar: Bar, answer: Answered) -> Check:
    """Of a tube whose size and metal the frame does not hand over."""
    why = not_known("size and metal", name, "not handed over by the frame")
    return told(id_of(name), title_of(bar, name), Worst(np.nan), answer, "", [why], (), method=METHOD)


def groups(answer: Answered) -> Mapping[str, list[int]]:
    """Places of the bars of each tube, by the number of the part on its right side."""
    found: dict[str, list[int]] = {}
    for i, bar in enumerate(answer.skeleton.bars):
        if bar.what in LOOKED_AT and isinstance(bar.made, RoundTube):
            found.setdefault(right_of(bar.part), []).append(i)
    return found


def right_of(part: str) -> str:
    """The number of the right-hand part.

    >>> right_of("W1-fuselage-TUBE-A1L-D1L"), right_of("W1-fuselage-TUBE-A1R-B1L"), right_of("W1-fuselage-TUBE-B1L-B1R")
    ('W1-fuselage-TUBE-A1R-D1R', 'W1-fuselage-TUBE-A1R-B1L', 'W1-fuselage-TUBE-B1L-B1R')
    >>> right_of("W1-elevator-TIP-L")
    'W1-elevator-TIP-R'
    """
    head, _, tail = part.rpartition("TUBE-")
    if not head and part.endswith("-L"):
        return f"{part[:-1]}R"
    ends = tail.split("-")
    if not head or not any(e.endswith("L") for e in ends) or any(e.endswith("R") for e in ends):
        return part
    return f"{head}TUBE-{'-'.join(e[:-1] + 'R' if e.endswith('L') else e for e in ends)}"


def _checked(name: str, bars: np.ndarray, answer: Answered, inner: np.ndarray, strengths: Strengths, taken: Taken
             ) -> Check:  # fmt: skip
    first = answer.skeleton.bars[int(bars[0])]
    made = first.made
    assert isinstance(made, RoundTube)
    stuff = stuff_of(made, first.what in WELDED, strengths)
    loads = inner[:, :, bars]
    length = lengths(answer, bars)
    at = worst_of(use_of(made, first, stuff, loads, length[:, None], taken), bars)
    bar = answer.skeleton.bars[at.bar]
    long = float(lengths(answer, np.array([at.bar]))[0])
    return told(
        id_of(name), title_of(bar, name), at, answer, name, stuff.all,
        _steps(made, bar, stuff, inner[at.variant, at.case, at.bar, at.end], long, taken),
        method=METHOD,
        caveat=_caveat(made, bar, long, taken),
    )  # fmt: skip


def id_of(name: str) -> str:
    """The id of a tube's check."""
    return f"strength.tube.{name.split('-', 1)[1]}".replace("+", "_")


def title_of(bar: Bar, name: str) -> str:
    """What a tube's check is called."""
    if bar.what == "axle":
        return f"axle {name.rsplit('TUBE-', 1)[-1]}"
    return called(name.removesuffix("-R") if bar.what == "tail tube" else name)


def lengths(answer: Answered, bars: np.ndarray) -> np.ndarray:
    """(b,) m from end to end, arms counted; of a tube of the tail from one other tube to the next."""
    frame, every = answer.skeleton.frame, answer.skeleton.bars
    ends = frame.place[frame.ends] + frame.arm
    own = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    return np.array([own[run_of(every, int(i)) if every[i].what == "tail tube" else [i]].sum() for i in bars])


def run_of(bars: Sequence[Bar], i: int) -> list[int]:
    """Places of a tail tube's bars about the i-th, up to the nodes where other tubes of the tail end or pass."""
    mine = [k for k, b in enumerate(bars) if b.part == bars[i].part]
    held = {e for b in bars if b.what == "tail tube" and b.part != bars[i].part for e in b.ends}
    found, size = {i}, 0
    while len(found) > size:
        size, free = len(found), {e for k in found for e in bars[k].ends} - held
        found |= {k for k in mine if free & set(bars[k].ends)}
    return sorted(found)


def fixed(what: What, taken: Taken = USED) -> float:
    """End fixity c of a bar: a strut on its pins 1, in gussets with rivets 1, a mount's tube 1, a welded truss 2."""
    if what == "mount":
        return taken.mount
    return taken.welded if what in WELDED else taken.pinned


@dataclass(frozen=True)
class Uses:
    """The parts of a tube's use; arrays or numbers alike."""

    axial: np.ndarray = number("1", "as a column or in tension")
    bending: np.ndarray = number("1", "bending")
    twist: np.ndarray = number("1", "torsion and shear added")


def uses(made: RoundTube, bar: Bar, stuff: Stuff, loads: np.ndarray, length: np.ndarray, taken: Taken = USED
         ) -> Uses:  # fmt: skip
    """The uses of inner forces (..., 6) at ultimate load in bars of `length` m, all like `bar` but of `made`."""
    D, t, E, F = made.outside, made.wall, stuff.youngs.value, stuff.crush.value
    pull, torque = loads[..., 0], loads[..., 3]
    bent = np.hypot(loads[..., 4], loads[..., 5])
    across = np.hypot(loads[..., 1], loads[..., 2])
    pressed = column.use(-pull, length, D, t, fixed(bar.what, taken), edition(made), E, F)
    pulled = tube.tension_use(pull, D, t, stuff.pull.value, bar.hole)
    bending = tube.bending_use(bent, D, t, rupture(made, E, F), bar.hole)
    twist = tube.torsion_use(torque, D, t, tube.torsion_stress(D, t, E, F, stuff.shear.value))
    shear = tube.shear_use(across, D, t, tube.shear_stress(D, t, E, F, stuff.shear.value))
    return Uses(np.where(pull < 0, pressed, pulled), bending, twist + shear)


def use_of(made: RoundTube, bar: Bar, stuff: Stuff, loads: np.ndarray, length: np.ndarray, taken: Taken = USED
           ) -> np.ndarray:  # fmt: skip
    """R of inner forces (..., 6) at ultimate load in bars of `length` m, all like `bar` but of `made`."""
    parts = uses(made, bar, stuff, loads, length, taken)
    return np.asarray(tube.together(parts.axial, parts.bending, parts.twist))


def edition(made: RoundTube) -> tuple[Curve, ...]:
    """Every edition of the column curve of its metal; the lowest is used."""
    return tuple(curves(made.material))


def rupture(made: RoundTube, youngs: float, crush: float) -> float:
    """Modulus of rupture in bending, Pa: steel by the closed form with plastic bending, other metals without."""
    if _steel(made):
        return float(tube.rupture(made.outside, made.wall, youngs, crush))
    return float(tube.rupture_without_plastic(made.outside, made.wall, youngs, crush))


def _steel(made: RoundTube) -> bool:
    return material(made.material).kind == "steel"


def _steps(made: RoundTube, bar: Bar, stuff: Stuff, loads: np.ndarray, length: float, taken: Taken
           ) -> tuple[Step, ...]:  # fmt: skip
    parts = uses(made, bar, stuff, loads, np.asarray(length), taken)
    pull = float(loads[0])
    E, F = stuff.youngs.value, stuff.crush.value
    if pull < 0:
        c = fixed(bar.what, taken)
        axial = column.working(-pull, length, made.outside, made.wall, c, edition(made), E, F)
    else:
        axial = (Step("tension", "P/(A_net F_tu)", (("P", pull, "N"), ("F_tu", stuff.pull.value, "Pa"),
                      ("hole", bar.hole, "m")), float(parts.axial), "1", str(stuff.pull.source)),)  # fmt: skip
    D, t = made.outside, made.wall
    bent = float(np.hypot(loads[4], loads[5]))
    shown = tube.working(float(parts.axial), bent, float(loads[3]), D, t, E, F, stuff.shear.value, bar.hole,
                         _steel(made))[:BENT_AND_TWISTED]  # fmt: skip
    across, F_s = float(np.hypot(loads[1], loads[2])), float(tube.shear_stress(D, t, E, F, stuff.shear.value))
    sheared = float(tube.shear_use(across, D, t, F_s))
    whole = float(tube.together(parts.axial, parts.bending, parts.twist))
    given = (("R_axial", float(parts.axial), "1"), ("R_b", float(parts.bending), "1"), ("R_s", float(parts.twist), "1"))
    rest = (
        *shown,
        Step("shear across it, added to torsion", "|V| Q/(2 t I F_s)", (("V", across, "N"), ("F_s", F_s, "Pa")),
             sheared, "1", "aisc-360 G5 (memory)"),
        *verdict(whole, "(N + sqrt(N^2 + 4 R_s^2))/2, N = R_axial + R_b", given, source="bruhn C4 (memory)"),
    )  # fmt: skip
    return (*force_steps(loads, f"{bar.ends[0]}-{bar.ends[1]}"), *axial, *rest)


def _caveat(made: RoundTube, bar: Bar, length: float, taken: Taken) -> str:
    x = float(column.slenderness(length, made.outside, made.wall, fixed(bar.what, taken)))
    return column.caveat(x) if bar.what != "axle" else ""


__all__ = ["Strengths", "Stuff", "Uses", "Worst", "groups", "lengths", "right_of", "tube_checks", "uses"]
