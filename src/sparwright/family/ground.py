"""How the aeroplane stands: what its wheels and legs give way under weight, and how far it may be tilted.

The wheels themselves are in model.py: their places and diameters are those of the aeroplane hanging in the air.
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number


@dataclass(frozen=True, kw_only=True)
class Springing:
    """How far a wheel gives way; its name is that of the wheel."""

    name: str = number("", "name of the wheel")
    rim: float | None = number("m", "diameter it stands on with a flat tyre: over the flanges of its rim", None)
    tyre: float | None = number("m", "how far the tyre is pressed in, standing still at the greatest mass", None)
    leg: float | None = number(
        "m", "how far the axle rises by its springing, standing still at the greatest mass", None
    )
    stop: float | None = number(
        "m", "how far the axle can rise, to its stop; for a spring without one, at 1.5 times the weight", None
    )


@dataclass(frozen=True, kw_only=True)
class Ground:
    """How the aeroplane stands on the ground."""

    bank: float | None = number("rad", "how far it may tilt over one main wheel with only wheels touching", None)
    springing: tuple[Springing, ...] = number("", "what wheels and legs give way, by wheel", ())


RECORDS = (Springing, Ground)
