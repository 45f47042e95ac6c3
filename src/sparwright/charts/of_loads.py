"""What the pictures show of a model's loads: speed and load factor, the air's load along each wing, and flutter."""

from __future__ import annotations

from collections.abc import Sequence

from sparwright.aeroelastic.told import Aeroelastic
from sparwright.charts.envelope import envelope_picture
from sparwright.charts.flutter import flutter_picture
from sparwright.charts.page import Heading, Picture
from sparwright.charts.units import UNITS
from sparwright.charts.wing_loads import wing_loads_picture
from sparwright.family.model import Model
from sparwright.loads.diagram import Envelope
from sparwright.loads.laid_out import LaidOut

SAID = "Every loading; limit load factors, equivalent airspeed, sea level."
ALONG = "Limit loads of the air on one half, weight not taken off; the cases that load some wing most."
FED = "Free, stick held; where a line of damping falls below nought the movement feeds on the air."


def load_pictures(
    model: Model, e: Envelope, laid: Sequence[LaidOut], shaken: Aeroelastic, origin: str, units: str = "inch"
) -> dict[str, Picture]:
    """The pictures, by their short names. origin: as in of_performance."""
    u, wings = UNITS[units], [w.name for w in model.wings]
    spans = [s for name in wings for x in laid for s in x.spans if s.surface == name]
    along = Heading(f"{model.name}: loads along the wings", ALONG, origin)
    return {
        "envelope": envelope_picture(e, Heading(f"{model.name}: speed and load factor", SAID, origin), u),
        "wing-loads": wing_loads_picture(along, spans, u, {x.case.key: x.case.title for x in laid}),
        "flutter": flutter_picture(Heading(f"{model.name}: flutter", FED, origin), shaken.work, u, shaken.why),
    }
