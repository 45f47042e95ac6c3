"""The fuel system as the file says it: tank, vent, lines, valve, filter, pump and carburettor.

Places as everywhere: station aft, buttline to the right, waterline up. The tank stands square to these axes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import Sheet, words

Place = tuple[float, float, float]
Fuels = tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Screen:
    """The finger screen in the tank's outlet: a sleeve of wire cloth."""

    diameter: float = number("m", "diameter of the sleeve")
    length: float = number("m", "length of the sleeve that stands in the fuel")
    mesh: float = number("m", "from wire to wire of the cloth")
    wire: float = number("m", "diameter of its wires")


@dataclass(frozen=True, kw_only=True)
class TankHold:
    """How a box tank is held: on padded cross tubes, by a lined strap over it at each."""

    bearers: tuple[str, ...] = words("cross tubes beneath it, each by its two end nodes (N1R-N1L)")
    pad: Sheet = words("sheet of the pads beneath it and of the straps' linings")
    strap: Sheet = words("sheet of the straps")
    strap_width: float = number("m", "width of straps, linings and pads")
    tab: Sheet = words("sheet of the tabs on the bearers that the straps end at")
    tab_height: float = number("m", "height of a tab over its bearer")
    take_up: float = number("m", "from the right tab to the strap's end, for the screw that tightens it")
    bolt: str = words("bolt of the left end, and the screw of the right one; key of a fastener", "AN3")


@dataclass(frozen=True, kw_only=True)
class Tank:
    """A tank with plane walls or a lying cylinder; sizes are inside."""

    shape: Literal["box", "cylinder"] = number("", "a box, or a cylinder that lies")
    axis: Literal["across", "along"] = number("", "how a cylinder lies: across the fuselage or along it", "across")
    place: Place = number("m", "middle of the inside")
    length: float = number("m", "inside length, fore and aft; diameter of a cylinder across")
    width: float = number("m", "inside width; diameter of a cylinder along")
    height: float = number("m", "inside height; diameter of a cylinder")
    material: str = number("", "key of a material")
    wall: float = number("m", "thickness of the walls")
    extra: float = number("1", "seams, flanges, neck, sump, straps: fraction of the walls' weight")
    baffles: int = number("", "baffles across the tank", 0)
    outlet: Place = number("m", "where the fuel leaves, in the tank or in its sump; dry when the fuel falls below it")
    filler: Place = number("m", "lower lip of the filler neck, the level it is filled to on the ground")
    drain: Place = number("m", "the drain, at the lowest point")
    sump: float = number("m3", "what a sump below the tank holds; nought for none", 0.0)
    cap: Literal["body", "wing"] = number("", "what the filler cap lies on top of")
    fuels: Fuels = number("", "fuels it is meant for: avgas, mogas (no alcohol), mogas-e5, mogas-e10")
    hold: TankHold | None = number("", "how a box is held to the frame; left out: it is not drawn", None)
    screen: Screen | None = number("", "finger screen in its outlet", None)


@dataclass(frozen=True, kw_only=True)
class Vent:
    """What lets air into the tank: a tube from its highest point to the outside."""

    run: Mapping[str, Place] = number("m", "where it goes: named places, from the top of the tank to the opening")
    bore: float = number("m", "inside diameter")
    outside: float = number("m", "outside diameter")
    material: str = number("", "key of a material")
    faces: Literal["forward", "aft", "flush"] = number("", "which way the opening looks; flush with a skin")
    reason: str = number("", "why it opens there, for the drawing")

    @property
    def inside(self) -> Place:
        """Where it begins in the tank."""
        return next(iter(self.run.values()))

    @property
    def opening(self) -> Place:
        """Where it opens outside."""
        return list(self.run.values())[-1]


@dataclass(frozen=True, kw_only=True)
class FuelLine:
    """A line from place to place, of one bore; the first begins at the tank's outlet, the last ends at the engine."""

    name: str = number("", "name")
    run: Mapping[str, Place] = number("m", "where it goes: named places in the order of the flow")
    bore: float = number("m", "inside diameter")
    outside: float = number("m", "outside diameter")
    material: str = number("", "key of a material")
    elbows: int = number("", "square elbow fittings", 0)
    bends: int = number("", "square bends of the tube itself, bent to three bores or more", 0)
    half_bends: int = number("", "bends of 45 degrees", 0)
    tees: int = number("", "tees it runs straight through", 0)
    side_tees: int = number("", "tees it leaves or enters by the side", 0)


@dataclass(frozen=True, kw_only=True)
class FuelValve:
    """The valve that shuts the fuel off, fully open."""

    kind: Literal["ball", "plug", "gate", "globe"] = number("", "how it shuts")
    place: Place = number("m", "where it sits; a named place of a line")
    bore: float = number("m", "bore of its opening")
    mass: float = number("kg", "mass")


@dataclass(frozen=True, kw_only=True)
class FuelFilter:
    """A strainer with a bowl; its maker says what it takes at a flow when clean."""

    place: Place = number("m", "where it sits; a named place of a line")
    flow: float = number("m3/s", "flow its maker gives the loss at")
    loss: float = number("Pa", "pressure lost at that flow, clean")
    bowl: float = number("m3", "what its bowl holds for water and dirt; nought for none", 0.0)
    drains: bool = number("", "whether its bowl has a drain", False)
    mass: float = number("kg", "mass")


@dataclass(frozen=True, kw_only=True)
class FuelPump:
    """A pump in the line."""

    drive: Literal["engine", "electric"] = number("", "what drives it")
    place: Place = number("m", "where it sits; a named place of a line")
    flow: float = number("m3/s", "what it moves against the pressure below, at take-off speed and lowest voltage")
    pressure: float = number("Pa", "pressure it adds at that flow")
    shut: float = number("Pa", "pressure it adds when nothing flows")
    mass: float = number("kg", "mass")


@dataclass(frozen=True, kw_only=True)
class Carburettor:
    """Where the fuel goes: the inlet of the carburettor, its float bowl open to the air."""

    place: Place = number("m", "its fuel inlet")
    least: float | None = number("Pa", "least pressure at the inlet for full flow, over the air's", None)
    most: float | None = number("Pa", "greatest pressure the float valve holds, over the air's", None)
    seat: float | None = number("m", "bore of the float valve's seat, where its maker states no least pressure", None)


@dataclass(frozen=True, kw_only=True)
class Fuel:
    """The fuel system, one tank to one carburettor or more at one place."""

    tank: Tank = number("", "the tank")
    vent: Vent | None = number("", "the vent", None)
    lines: tuple[FuelLine, ...] = number("", "the lines, in the order of the flow", ())
    valve: FuelValve | None = number("", "shut-off valve", None)
    filter: FuelFilter | None = number("", "filter or gascolator", None)
    pump: FuelPump | None = number("", "pump; gravity alone without one", None)
    emergency: FuelPump | None = number("", "second pump, of another drive, that takes over when the first stops", None)
    carburettor: Carburettor | None = number("", "the carburettor's fuel inlet", None)
    bank: float | None = number(
        "rad", "bank of the steady side slip that the fuel must still reach the outlet in", None
    )
    replaces: tuple[str, ...] = number("", "items and allowances it stands in place of, which then count no more", ())


RECORDS = (Screen, TankHold, Tank, Vent, FuelLine, FuelValve, FuelFilter, FuelPump, Carburettor, Fuel)
