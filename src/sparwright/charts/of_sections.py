"""What the pictures show of a model's sections: polars with their bands, and pressures at cruise and at the stall."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sparwright.air.behaviour import GRID, Behaviour
from sparwright.air.flow.polar import REYNOLDS, Point, Ready, polar, prepared
from sparwright.air.polars import surfaces
from sparwright.base.record import number
from sparwright.charts.moment import LOADING, Moment, at_speed, at_stall_of, speed_words, why_unknown, working
from sparwright.charts.page import Heading, Picture
from sparwright.charts.polar import Greatest, MeasuredPolar, Polar, polar_picture, reynolds_name
from sparwright.charts.pressure import Pressure, Surface, pressure_picture
from sparwright.charts.ticks import figure
from sparwright.charts.units import Units
from sparwright.family.model import Section
from sparwright.flight.aeroplane import SHARE, section_names
from sparwright.flight.fast import cruise_speed
from sparwright.flight.work import Flown
from sparwright.shape.section import curve

LINES = 3  # Reynolds numbers shown of a section
RUNG = math.radians(1.0)  # an angle is reached in steps of this


def polar_pictures(flown: Flown, origin: str) -> dict[str, Picture]:
    """A picture of each section of the model, by "polar-" and its name."""
    return {f"polar-{b.name}": _polars(flown, b, origin) for b in behaviours(flown)}


def behaviours(flown: Flown) -> tuple[Behaviour, ...]:
    """The sections of wings, tailplane and fin, each once, in the order of the model."""
    plane = flown.plane
    each = (b for s in plane.strips.values() for b, used in zip(s.behaviours, s.shares.max(axis=0) > SHARE, strict=True)
            if used)  # fmt: skip
    found = {b.name: b for b in (*each, plane.fin)}
    return tuple(found[n] for n in section_names(flown.model) if n in found)


def flown_at(flown: Flown, b: Behaviour) -> tuple[float, float]:
    """(least, greatest) Reynolds number of a section: least chord at the stall, greatest at top speed.

    Where that speed is unknown, the end of what is known of the section.
    """
    plane, f, top = flown.plane, flown.model.fin, flown.performance.top.speed.value
    slow = flown.cases[LOADING].stall.speed.value
    chords = [(f.root_chord + f.tip_chord) / 2] if plane.fin.name == b.name else []
    for s in plane.strips.values():
        i = [x.name for x in s.behaviours].index(b.name)
        chords += s.chord[s.shares[:, i] > SHARE].tolist()
    low, high = slow * min(chords) / flown.air.kinematic, top * max(chords) / flown.air.kinematic
    return low if math.isfinite(low) else b.range[0], high if math.isfinite(high) else b.range[1]


def rows_shown(b: Behaviour, low: float, high: float) -> tuple[int, ...]:
    """Places in b.reynolds of at most LINES Reynolds numbers, evenly among those that low and high stand between."""
    r = b.reynolds
    first = max((i for i in range(r.size) if r[i] <= low), default=0)
    last = min((i for i in range(r.size) if r[i] >= high), default=r.size - 1)
    return tuple(dict.fromkeys(np.linspace(first, max(first, last), LINES).round().astype(int).tolist()))


def polar_lines(b: Behaviour, rows: tuple[int, ...]) -> tuple[Polar, ...]:
    """Polars at some of a section's Reynolds numbers. The band of drag is that of the line in the middle."""
    banded, found = rows[len(rows) // 2], []
    for i in rows:
        kept = {n: np.where(b.within(i), c[i], np.nan) for n, c in b.columns.items()}
        lift, drag, moment = (kept[n] for n in ("lift", "drag", "moment"))
        turns, leaves = ([_somewhere(kept[f"{n}_{side}"]) for side in ("upper", "lower")]
                         for n in ("turns", "parts"))  # fmt: skip
        low, high = (np.where(b.within(i), drag_end, np.nan) for drag_end in b.drag_band[:, i])
        band = (low, high) if i == banded else None
        name = reynolds_name(float(b.reynolds[i]))
        found.append(Polar(name, np.degrees(GRID), lift, drag, moment, turns[0], turns[1], leaves[0], leaves[1],
                           drag_band=band))  # fmt: skip
    return tuple(found)


def _somewhere(places: np.ndarray) -> np.ndarray:
    """Places with NaN where nothing happens before the tail."""
    return np.where(places < 1 - 1e-9, places, np.nan)


def _polars(flown: Flown, b: Behaviour, origin: str) -> Picture:
    section = flown.model.sections[b.name]
    rows = rows_shown(b, *flown_at(flown, b))
    lines = polar_lines(b, rows)
    most = Greatest(b.reynolds, *b.greatest)
    if section.measured:
        points = tuple(_points(section, i) for i in rows)
        state = f"Measured by others, the designer's own table: {b.place_in_it.removeprefix('measured: ')}"
        return polar_picture(Heading(_title(flown, section, "polars"), state, origin), lines, points, most)
    setting = surfaces()[section.surface]
    banded = next(p.name for p in lines if p.drag_band)
    state = (f"Surface {section.surface}: {setting.title}. Worked out by the section flow ({b.key}). Bands: greatest "
             f"lift, and drag at {banded}, surface from rough to smooth and what the method may be off")  # fmt: skip
    return polar_picture(Heading(_title(flown, section, "polars"), state, origin), lines, (), most)


def _points(section: Section, i: int) -> MeasuredPolar:
    m, none = section.measured[i], np.full(len(section.measured[i].angle), np.nan)
    drag, moment = (np.array(v) if v else none for v in (m.drag, m.moment))
    return MeasuredPolar(f"measured, {reynolds_name(m.reynolds)}", np.degrees(m.angle), np.array(m.lift), drag, moment)


def _title(flown: Flown, section: Section, what: str) -> str:
    drawn = f"NACA {section.naca}" if section.naca else "from its own ordinates"
    return f"{flown.model.name}: {what} of section {section.name}, {drawn}"


@dataclass(frozen=True)
class Root:
    """How the root section of the wing that stalls first works in one state."""

    section: Section
    wing: str
    alpha: float = number("rad", "angle at which the section works")
    reynolds: float = number("1", "on the chord there")


def root_at(flown: Flown, moment: Moment) -> Root:
    """The root of the wing that stalls first, just outside the fuselage, in a known state."""
    case = flown.cases[LOADING]
    wing = case.stall.surface
    data = flown.plane.strips[wing]
    works, reynolds = working(case, wing, moment)
    i = int(np.flatnonzero(data.outside)[0])
    name = data.behaviours[int(np.argmax(data.shares[i]))].name
    return Root(flown.model.sections[name], wing, float(works[i]), float(reynolds[i]))


def pressure_pictures(flown: Flown, origin: str, units: Units) -> dict[str, Picture]:
    """The pressure round the root of the wing that stalls first, at cruise and at the stall; none where not known."""
    found = {}
    for state, moment in _moments(flown).items():
        if not no_pressure(flown, moment):
            root = root_at(flown, moment)
            head = _pressure_heading(flown, root, state, moment, origin, units)
            found[f"pressure-{root.section.name}-{state}"] = _pressure(head, root)
    return found


def left_out(flown: Flown) -> tuple[str, ...]:
    """Why there are pictures of pressure that are not drawn, in sentences."""
    whys = {state: no_pressure(flown, moment) for state, moment in _moments(flown).items()}
    return tuple(f"no picture of the pressure at {state}: {why}" for state, why in whys.items() if why)


def _moments(flown: Flown) -> dict[str, Moment]:
    case = flown.cases[LOADING]
    return {"cruise": at_speed(flown, case, cruise_speed(flown)), "stall": at_stall_of(flown, case)}


def no_pressure(flown: Flown, moment: Moment) -> str:
    """Why the pressure of a state cannot be shown, in a sentence; empty where it can."""
    case = flown.cases[LOADING]
    if not case.stall.surface or not moment.known:
        return why_unknown(case, moment) or case.stall.reason or "which wing stalls first is unknown"
    root = root_at(flown, moment)
    if root.section.measured:
        return f"section {root.section.name} is known from the designer's own table, which has no pressures"
    if not REYNOLDS[0] <= root.reynolds <= REYNOLDS[1]:
        return f"Reynolds number {root.reynolds:,.0f} is outside what the section flow knows"
    if not _flow(root.section, root.reynolds, root.alpha)[1].settled:
        return f"the flow round {root.section.name} does not settle at {math.degrees(root.alpha):.1f} deg"
    return ""


@lru_cache(maxsize=8)
def _flow(section: Section, reynolds: float, alpha: float) -> tuple[Ready, Point]:
    """A section's panels, and the flow at one angle, reached from small angles in steps."""
    ready = prepared(section)
    start = math.radians(2.0)
    rungs = max(math.ceil(abs(alpha - start) / RUNG), 1)
    angles = sorted({*np.linspace(start, alpha, rungs + 1).tolist()[:-1], alpha})
    found = polar(ready, reynolds, surfaces()[section.surface].surface, angles)
    return ready, found.points[angles.index(alpha)]


def _pressure(heading: Heading, root: Root) -> Picture:
    return pressure_picture(heading, pressure_of(root))


def pressure_of(root: Root) -> Pressure:
    """The pressure round a root with and without boundary layer, split where the section is foremost."""
    ready, point = _flow(root.section, root.reynolds, root.alpha)
    (turns_up, turns_down), (leaves_up, leaves_down) = (tuple(_somewhere(np.array(p)).tolist())
                                                        for p in (point.turns, point.parts))  # fmt: skip
    (up, down), inviscid = _sides(point.x, point.pressure), _sides(*_without_layer(ready, root.alpha))
    return Pressure(
        Surface(*up, turns_up, leaves_up), Surface(*down, turns_down, leaves_down), curve(root.section),
        (Surface(*inviscid[0]), Surface(*inviscid[1])),
    )  # fmt: skip


def _sides(x: np.ndarray, pressure: np.ndarray) -> tuple[tuple[np.ndarray, np.ndarray], ...]:
    """(x, pressure) of the upper and the lower side of a walk, upper tail first; each from the foremost place aft."""
    nose = int(np.argmin(x))
    return tuple((x[side], pressure[side]) for side in (slice(nose, None, -1), slice(nose, None)))


def _without_layer(ready: Ready, alpha: float) -> tuple[np.ndarray, np.ndarray]:
    """(x, pressure coefficient) of potential flow at the nodes, each speed taken over both panels that meet there."""
    outer = ready.outer
    mu, length = outer.mu(alpha), outer.length
    speed = (mu[2:] - mu[:-2]) / (length[1:] + length[:-1])
    return outer.nodes.real[1:-1], 1 - speed**2


def _pressure_heading(flown: Flown, root: Root, state: str, moment: Moment, origin: str, units: Units) -> Heading:
    _, point = _flow(root.section, root.reynolds, root.alpha)
    wing = root.wing if "wing" in root.wing else f"{root.wing} wing"
    said = [f"Root of the {wing} {'at greatest lift' if state == 'stall' else 'at cruise'}, "
            f"{speed_words(moment.speed, units.speed)}, greatest take-off mass, sea level",
            f"the section works at {figure(math.degrees(root.alpha), 1)} deg, Reynolds number "
            f"{figure(root.reynolds / 1e6, 2)} million, surface {root.section.surface}",
            f"section lift {figure(point.lift, 2)}, drag {figure(point.drag, 4)}"]  # fmt: skip
    if point.parts[0] < 1:
        said.append("separated flow is followed as if it stayed steady and two-dimensional, which is an indication")
    title = _title(flown, root.section, f"pressure at {'the stall' if state == 'stall' else state}")
    return Heading(title.replace(" of section", " round section"), "; ".join(said), origin)
