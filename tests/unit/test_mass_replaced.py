"""An allowance goes, visibly, when a weighed thing stands in its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from sparwright.base.problem import FileProblems
from sparwright.family.reader import read
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out

TEXT = (Path(__file__).parents[2] / "examples/whinchat/whinchat.toml").read_text(encoding="utf-8")
ITEM = """
[models.W1.items.weighed_clusters]
mass = "9.5 lb"
place = ["-14 in", "0 in", "-2 in"]
mark = "measured"
replaces = "{}"
"""


def test_a_weighed_thing_takes_the_place_of_its_allowance() -> None:
    before, after = (read(t.encode(), "f.toml").models["W1"] for t in (TEXT, TEXT + ITEM.format("clusters")))
    old, new = weigh(before, lay_out(before)), weigh(after, lay_out(after))
    allowed = next(a for a in before.allowances if a.name == "clusters")
    assert new.empty.value == pytest.approx(old.empty.value - allowed.mass + 9.5 * 0.45359237)
    (line,) = [x for x in new.lines if x.name == "clusters"]
    assert (line.kind, line.mass.value, line.source) == ("replaced", 0.0, "replaced by weighed clusters")


def test_a_name_that_is_no_allowance_is_a_problem() -> None:
    with pytest.raises(FileProblems) as told:
        read((TEXT + ITEM.format("cowlin")).encode(), "f.toml")
    assert "replaces" in str(told.value) and "clusters" in str(told.value)
