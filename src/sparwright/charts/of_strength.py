"""Every picture that a model's margins give: the frame by margin, how it bends, the reserve along its spars."""

from __future__ import annotations

import numpy as np

from sparwright.charts.deflected import deflected_picture
from sparwright.charts.frame_margins import ABOVE, AHEAD, SIDE, frame_picture, spoken
from sparwright.charts.page import Heading, Picture
from sparwright.charts.spar_reserve import spar_reserve_picture
from sparwright.charts.units import UNITS
from sparwright.family.model import Model
from sparwright.margins.along import along_spars, used_by_bars
from sparwright.margins.chain import Margins
from sparwright.structure.answered import Answered

STATE = "Greatest over all cases and variants that are worked out, of ultimate strength."


def strength_pictures(model: Model, margins: Margins, origin: str, units: str = "inch") -> dict[str, Picture]:
    """The pictures by short name; none where the frame has no answer."""
    answer = margins.answer
    if answer is None or not answer.laid:
        return {}
    u, spars = UNITS[units], along_spars(model, answer)
    used = used_by_bars(answer, margins.checks, spars)
    told = in_words(answer, used)
    sides = Heading(f"{model.name}: margins of the frame, side and front", STATE, origin)
    above = Heading(f"{model.name}: margins of the frame, from above", STATE, origin)
    bent = Heading(f"{model.name}: how the frame bends", "Limit load, as rigged", origin)
    reserve = Heading(f"{model.name}: what the spars use along their length", STATE, origin)
    return {
        "frame-margins": frame_picture(sides, answer.skeleton, used, (SIDE, AHEAD), told),
        "frame-margins-above": frame_picture(above, answer.skeleton, used, (ABOVE,), told),
        "deflected": deflected_picture(bent, answer, u),
        **({"spar-reserve": spar_reserve_picture(reserve, spars, u)} if spars else {}),
    }


def in_words(answer: Answered, used: np.ndarray) -> str:
    """The members that use most, in words."""
    order = [i for i in np.argsort(-np.nan_to_num(used, nan=-1.0)) if np.isfinite(used[i])]
    most = dict.fromkeys(f"{spoken(answer.skeleton.bars[i])} {used[i]:.0%}" for i in order)
    return f"Members by what they use of their strength; most: {', '.join(list(most)[:6]) or 'none is known'}."
