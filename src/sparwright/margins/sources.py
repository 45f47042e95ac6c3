"""Where a model's strengths come from, each asked once."""

from __future__ import annotations

from functools import cache

from sparwright.family.model import Model
from sparwright.margins.braces import Strengths
from sparwright.margins.spar_run import Strengths as Grained
from sparwright.strength.allow import allowable, cable_allowable, joint_allowable
from sparwright.strength.allowable import Allowable


def strengths(model: Model) -> Strengths:
    """Where a model's strengths come from, each asked once."""
    return Strengths(
        cache(lambda key, name, thick: allowable(model, key, name, thick)),
        cache(lambda key, name: joint_allowable(model, "bolt", name, fastener=key)),
        cache(lambda construction, diameter: cable_allowable(model, construction, diameter)),
    )


def grained(model: Model) -> Grained:
    """Strength of a wood or ply by material, property, thickness, and the angle of the load to its grain."""

    @cache
    def found(key: str, name: str, thick: float, grain: float) -> Allowable:
        return allowable(model, key, name, thick, grain=grain)

    return found
