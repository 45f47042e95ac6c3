"""The drawing set of the demo: clean sheets, every part on one of them, figures from which frames can be built."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import numpy as np
import pytest

import sparwright as sw
from sparwright.base.quantity import parse
from sparwright.family.model import Family, Model
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly
from sparwright.parts.solids import solids
from sparwright.parts.stations import rib_stations
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Circle, Polyline, Sheet, Text
from sparwright.plans.drawings.all import drawing_set
from sparwright.plans.drawings.fuselage import cross_frames, in_body, marked, node_table
from sparwright.plans.drawings.spars import spar_drawing
from sparwright.plans.drawings.together import groups, listed, nested
from sparwright.plans.paper import TitleBlock
from sparwright.plans.printed import id_of
from sparwright.shape.frame import within_body

TITLE = TitleBlock("Whinchat", "W", "Sparwright", "0" * 64)
SIXTY_FOURTH = 0.0254 / 64
EVERYDAY = [("W1", "24x36")]
LONG = [(m, p) for m in ("W1", "W2", "W3") for p in ("24x36", "A1") if (m, p) not in EVERYDAY]
SETS = [*EVERYDAY, *(pytest.param(*x, marks=pytest.mark.long) for x in LONG)]


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


@cache
def _drawn(name: str, paper: str) -> tuple[Model, Assembly, tuple[Sheet, ...]]:
    model = sw.load("examples/whinchat/whinchat.toml").models[name]
    assembly = lay_out(model)
    return model, assembly, drawing_set(model, assembly, {}, TITLE, paper)


def lettering(sheet: Sheet) -> list[str]:
    return [s.content for s in sheet.strokes if isinstance(s, Text)]


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_no_lettering_runs_into_anything(name: str, paper: str) -> None:
    for sheet in _drawn(name, paper)[2]:
        assert clashes(sheet) == (), sheet.title


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_nothing_smaller_than_can_be_read(name: str, paper: str) -> None:
    for sheet in _drawn(name, paper)[2]:
        assert min(s.size for s in sheet.strokes if isinstance(s, Text)) >= 3.5, sheet.title


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_every_part_with_a_body_is_on_a_sheet(name: str, paper: str) -> None:
    """Skins and fabric are told on covering, inspection openings on their templates."""
    _, assembly, sheets = _drawn(name, paper)
    shown = {p for s in sheets for p in s.shows}
    missing = [p.number for p in assembly.parts if p.number not in shown and solids(p)
               and p.form != "skin" and p.purpose not in LEFT_OUT]  # fmt: skip
    assert missing == []


LEFT_OUT = ("inspection", "skin", "nose")


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_what_to_buy_is_said_whole(name: str, paper: str) -> None:
    """A list's stock is never cut short: a wire's cut length stands at its end."""
    _, assembly, sheets = _drawn(name, paper)
    said = " ".join(x for s in sheets for x in lettering(s))
    wires = [p.stock for p in assembly.parts if p.number.split("-")[1] == "wires" and " cut " in p.stock]
    assert wires
    assert [w for w in wires if w not in said] == [] and "…" not in said


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_index_and_blocks_agree(name: str, paper: str) -> None:
    """Every sheet is in the index under its number; from and to are sheets of the set and name each other's numbers."""
    sheets = _drawn(name, paper)[2]
    index = lettering(sheets[0])
    for s in sheets:
        assert s.total == len(sheets) and str(s.number) in index and s.title in index
        for words in lettering(s):
            if found := re.fullmatch(r"(?:From|To) sheets? ([\d, ]+)", words):
                numbers = [int(n) for n in found[1].split(",") if n.strip()]
                assert all(1 <= n <= len(sheets) and n != s.number for n in numbers)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_frame_can_be_built_from_the_table_of_nodes(family: Family, name: str) -> None:
    """Every node of the body within 1/64 in of where it is, from the words alone."""
    model = family.models[name]
    rows = {r[0]: r[1:] for r in node_table(model, "inch").rows}
    for node, place in model.fuselage.nodes.items():
        if within_body(model.fuselage.body, place):
            built = np.array([parse(w.removeprefix("± ").replace("−", "-").replace("″", " in"), "length")
                              for w in rows[node]])  # fmt: skip
            assert np.abs(built - (place[0], abs(place[1]), place[2])).max() <= SIXTY_FOURTH / 2 + 1e-9
            assert rows[node][1].startswith("±") == (abs(place[1]) > 1e-6)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_every_tube_of_the_body_has_one_mark(family: Family, name: str) -> None:
    model = family.models[name]
    tubes = [p for p in lay_out(model).parts if p.form == "tube"]
    marks = marked(model, tubes)
    assert len({m.mark for m in marks}) == len(marks)
    frame = [p for p in tubes if p.group == "fuselage" and p.purpose == "frame"]
    assert sum(m.count for m in marks) == len(frame)
    assert {m.part.number for m in in_body(model, marks)} <= {p.number for p in frame}
    assert len(cross_frames(model, in_body(model, marks))) >= 5


def test_ribs_stand_where_the_sheet_says() -> None:
    """Running figures over the plan are the ribs' buttlines, to half of 1/64 in."""
    model, _, sheets = _drawn("W1", "24x36")
    (plan,) = [s for s in sheets if s.title == "Wing: plan"]
    upright = [s.content for s in plan.strokes if isinstance(s, Text) and s.turn == 90.0 and s.layer == "measure"]
    read = sorted(parse(_feet(w), "length") for w in upright)
    wanted = sorted({r.buttline for r in rib_stations(model.wings[0]) if r.kind in ("wing", "nose")})
    hits = [min(abs(w - r) for r in read) for w in wanted]
    assert max(hits) <= SIXTY_FOURTH / 2 + 1e-9


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_the_index_names_the_sheets_of_every_part(name: str, paper: str) -> None:
    """Read from the sheet as a reader does: group line, number, then what stands on the same line."""
    _, assembly, sheets = _drawn(name, paper)
    on: dict[str, set[str]] = {}
    for sheet in (s for s in sheets if s.title.startswith("Index of parts")):
        cells = [s for s in sheet.drawn if isinstance(s, Text) and not s.bold]
        lines: dict[float, list[Text]] = {}
        for c in cells:
            lines.setdefault(round(c.anchor[1], 3), []).append(c)
        lefts = sorted({round(s.anchor[0], 3) for s in sheet.drawn if isinstance(s, Text) and s.content == "Part"})
        group = ""
        for left in lefts:
            for y in sorted(lines, reverse=True):
                row = [c for c in lines[y] if c.anchor[0] > left - 1e-3]
                first = min(row, key=lambda c: c.anchor[0], default=None)
                if first is None or abs(first.anchor[0] - left) > 1e-2:
                    continue
                if first.content.startswith(f"{name}-"):
                    group = first.content
                    continue
                drawing = min((c for c in row if c is not first), key=lambda c: c.anchor[0]).content
                stem, _, hands = first.content.rpartition("-") if first.content.endswith(("-R/L", "-R", "-L")) else (
                    first.content, "", "")  # fmt: skip
                for hand in hands.split("/"):
                    number = f"{group}{stem}{'-' if hand else ''}{hand}"
                    on.setdefault(number, set()).update(drawing.replace("–", "").replace(",", " ").split())
    shown = {p.number: {str(s.number) for s in sheets if p.number in s.shows} for p in assembly.parts}
    assert {n: on.get(n) for n in shown} == shown


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_every_dimension_is_named_once_and_reads_as_it_is(name: str, paper: str) -> None:
    """Each can be asked for, says where it comes from, and its figure is its length to half of 1/64 in."""
    found = [d for s in _drawn(name, paper)[2] for d in s.dimensions]
    assert all(d.name and d.row and d.because for d in found), [
        d for d in found if not (d.name and d.row and d.because)
    ]
    assert len({id_of(d) for d in found}) == len(found) > 40
    for d in found:
        read = parse(_feet(d.words.split(" = ")[0]), "length")
        assert abs(read - d.value) <= SIXTY_FOURTH / 2 + 1e-9, d


def _feet(words: str) -> str:
    return words.replace("−", "-").replace("′", " ft").replace("″", " in")


def test_only_wood_is_sealed(family: Family) -> None:
    for name, wood in (("W1", True), ("W2", False)):
        model = family.models[name]
        drawn = spar_drawing(model, model.wings[0], lay_out(model).parts, model.drawing_units)
        assert any("hole in wood" in x for x in drawn.notes) == wood, name


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_every_rib_of_the_right_half_has_its_mark_on_the_plan(name: str, paper: str) -> None:
    model, assembly, sheets = _drawn(name, paper)
    plans = [s for s in sheets if s.title.endswith("wing: plan") or s.title == "Wing: plan"]
    assert len(plans) == len(model.wings)
    for wing, sheet in zip(model.wings, plans, strict=True):
        mine = [p for p in assembly.parts if p.purpose == "rib" and p.number.startswith(f"{name}-{wing.name}-")]
        asked = Counter({str(i): sum(y > -1e-6 for _, y, _ in p.places) for i, p in enumerate(mine, 1)})
        rings = {(round(s.centre[0], 6), round(s.centre[1], 6)) for s in sheet.strokes if isinstance(s, Circle)}
        found = Counter(s.content for s in sheet.strokes if isinstance(s, Text)
                        and (round(s.anchor[0], 6), round(s.anchor[1] + s.size / 2, 6)) in rings)  # fmt: skip
        assert +found == +asked and sum(asked.values()) > 10, wing.name


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_a_pair_of_tubes_is_one_mark(family: Family, name: str) -> None:
    """Legs of the gear and tubes of the mount: two of each that has a mirror, one of each that lies across."""
    model = family.models[name]
    parts = lay_out(model).parts
    for group in ("fuselage", "mount"):
        tubes = [
            p for p in parts if p.number.startswith(f"{name}-{group}-TUBE-") and (group == "mount" or "AX" in p.number)
        ]
        items = listed(tubes)
        assert sum(i.count for i in items) == len(tubes)
        for i in items:
            nodes = i.name.split("-")[2:]
            swapped = "-".join([name, group, "TUBE", *(n[:-1] + {"R": "L", "L": "R"}.get(n[-1], n[-1]) for n in nodes)])
            twin = swapped != f"{name}-{i.name}" and any(p.number == swapped for p in tubes)
            assert i.count == (2 if twin else 1), i.name
    assert {i.count for i in listed([p for p in parts if "-mount-TUBE-" in p.number])} == {1, 2}


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_struts_and_wires_carry_the_marks_and_their_ends_stand_under_them(family: Family, name: str) -> None:
    """And the length from pin to pin that the list says is between the pins as they stand, to half of 1/64 in."""
    parts = lay_out(family.models[name]).parts
    found = {g.key: g for g in groups(parts) if g.key in ("struts", "tail_bracing")}
    braces = [p for p in parts if p.number.split("-")[1] in ("struts", "wires")]
    assert sorted(p.number for g in found.values() for p in g.parts) == sorted(p.number for p in braces)
    at = {p.number.split("-", 1)[1]: max(p.places, key=lambda q: q[1]) for p in braces}
    for group in found.values():
        items = nested(listed(group.parts))
        for head in (i for i in items if i.own):
            ends = [i for i in items if i.mark != head.mark and i.mark.rstrip("abcdefgh") == head.mark]
            pins = [at[i.name] for i in ends if "-PIN-" in i.name]
            assert len(pins) == 2 and all(i.name.startswith(f"{head.name}-") for i in ends)
            said = re.search(r"pin to pin (.+?″)", head.stock)
            assert said and abs(parse(_feet(said[1]), "length") - np.linalg.norm(np.subtract(*pins))) <= HALF_64


HALF_64 = SIXTY_FOURTH / 2 + 1e-9


def test_every_line_has_two_points() -> None:
    for sheet in _drawn("W1", "24x36")[2]:
        assert all(len(s.points) >= 2 for s in sheet.strokes if isinstance(s, Polyline)), sheet.title


def test_the_same_model_gives_the_same_strokes() -> None:
    model, assembly, sheets = _drawn("W1", "24x36")
    assert drawing_set(model, assembly, {}, TITLE, "24x36") == sheets
