"""The rigging sheet of the set: every setting is on it, as the geometry has it, with room for what it came to."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

import sparwright as sw
from sparwright.base.quantity import parse, to
from sparwright.family.model import Family, Model
from sparwright.plans.block import numbered
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Text
from sparwright.plans.drawings.rigging import NOT_ON_FILE, rigging_drawing, set_to
from sparwright.plans.paper import TitleBlock
from sparwright.plans.rigging import rigging_sheet
from sparwright.shape.lifting import breaks

NAMES = ("W1", "W2", "W3")
SIXTY_FOURTH = 0.0254 / 64


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


def length(words: str) -> float:
    return parse(words.replace("−", "-").replace("′", " ft").replace("″", " in"), "length")


def lettering(model: Model) -> list[str]:
    return [s.content for s in rigging_drawing(model, "inch").strokes if isinstance(s, Text)]


@pytest.mark.parametrize("name", NAMES)
def test_every_setting_is_on_the_sheet(family: Family, name: str) -> None:
    model = family.models[name]
    said = lettering(model)
    for n, s in enumerate(rigging_sheet(model), 1):
        nominal, tolerance, rise = set_to(s, "inch")
        assert {str(n), nominal, tolerance} <= set(said) and (not rise or rise in said), s.id


@pytest.mark.parametrize("name", NAMES)
def test_every_setting_with_a_place_has_its_number_on_a_view(family: Family, name: str) -> None:
    """All but decalage, which is a difference of two angles."""
    model = family.models[name]
    shown: set[int] = set()
    for s in rigging_drawing(model, "inch").strokes:
        if isinstance(s, Text) and s.bold and re.fullmatch(r"\d+( to \d+)?(, \d+( to \d+)?)*", s.content):
            for part in s.content.split(", "):
                first, *last = map(int, part.split(" to "))
                shown |= set(range(first, (last or [first])[0] + 1))
    settings = dict(enumerate(rigging_sheet(model), 1))
    assert {n for n in settings if n not in shown} == {n for n, s in settings.items() if s.id.startswith("decalage")}


@pytest.mark.parametrize("name", NAMES)
def test_the_words_are_the_geometry(family: Family, name: str) -> None:
    """Dihedral as a rise of the leading edge, incidence as printed, gap and stagger between leading edges."""
    model = family.models[name]
    found = {s.id: set_to(s, "inch") for s in rigging_sheet(model)}
    for wing in model.wings:
        edge, _, _ = breaks(wing)
        words = found[f"incidence.{wing.name}"][0]
        assert math.isclose(float(words.rstrip("°")), to(wing.incidence, "deg"), abs_tol=0.005)
        for i, panel in enumerate(wing.panels):
            label = f"{wing.name}.{panel.name}" if len(wing.panels) > 1 else wing.name
            rise, over = re.split(r" ± .* over ", found[f"dihedral.{label}"][2])
            up, along = edge[2, i + 1] - edge[2, i], edge[1, i + 1] - edge[1, i]
            slope = np.hypot(up, along)  # the sheet's length lies along the slope
            assert abs(length(rise) - up / slope * length(over)) <= SIXTY_FOURTH
    for upper, lower in zip(model.wings, model.wings[1:], strict=False):
        where = max(w.panels[0].root_buttline for w in (upper, lower))
        a, b = (np.array([np.interp(where, breaks(w)[0][1], breaks(w)[0][k]) for k in (0, 2)]) for w in (upper, lower))
        assert abs(length(found[f"stagger.{upper.name}.{lower.name}"][0]) - (b - a)[0]) <= SIXTY_FOURTH
        assert abs(length(found[f"gap.{upper.name}.{lower.name}"][0]) - (a - b)[1]) <= SIXTY_FOURTH


def test_a_tolerance_that_nobody_gave_is_not_made_up(family: Family) -> None:
    from dataclasses import replace

    model = family.models["W2"]
    assert model.rigging is not None
    bare = replace(model, rigging=replace(model.rigging, washout=None))
    told = {s.id: set_to(s, "inch") for s in rigging_sheet(bare)}
    assert told["washout.lower"][1] == NOT_ON_FILE and "±" not in told["washout.lower"][2]
    assert told["incidence.lower"][1] != NOT_ON_FILE
    assert lettering(bare).count(NOT_ON_FILE) > lettering(model).count(NOT_ON_FILE)


@pytest.mark.parametrize("paper", ["24x36", "A1"])
@pytest.mark.parametrize("name", NAMES)
def test_it_fits_both_papers_with_nothing_over_anything(family: Family, name: str, paper: str) -> None:
    drawn = rigging_drawing(family.models[name], "inch", paper)
    (sheet,) = numbered([drawn], TitleBlock("Whinchat", name, "Sparwright", "0" * 64))
    assert clashes(sheet) == ()
