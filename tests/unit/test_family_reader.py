"""The family file read: values in SI, models laid over the family, lines that are the user's."""

import hashlib
import math
import tomllib
from dataclasses import fields, is_dataclass

import numpy as np
import pytest
from families import DEMO_FILE, PROBE, PROBE_FILE, reading

from sparwright.base.problem import FileProblems
from sparwright.family import model as m
from sparwright.family.entry import entries
from sparwright.family.outline import makeable, unfit
from sparwright.family.places import scan
from sparwright.family.reader import load, read
from sparwright.family.schema import DIMENSION_OF, keys

INCH = 0.0254


@pytest.fixture(scope="module")
def family() -> m.Family:
    return load(PROBE_FILE)


def test_the_family_and_its_models(family: m.Family) -> None:
    assert list(family.models) == ["P1", "P2", "P3"]
    assert [len(x.wings) for x in family.models.values()] == [1, 2, 3]
    assert family.name == "Probe"
    assert family.sha256 == hashlib.sha256(PROBE_FILE.read_bytes()).hexdigest()
    assert len(family.unknowns) == 2 and "spin" in family.unknowns[1]


def test_values_are_si(family: m.Family) -> None:
    p1 = family.models["P1"]
    assert p1.limits.max_mass == pytest.approx(850 * 0.45359237, rel=1e-15)
    outer = p1.wing("wing").panels[1]
    assert (outer.tip_buttline, outer.root_chord) == (pytest.approx(174 * INCH), pytest.approx(56 * INCH))
    assert outer.twist == pytest.approx(math.radians(-1.5))
    assert p1.fuselage.nodes["D1"] == pytest.approx((70 * INCH, 12 * INCH, 10.5 * INCH))
    assert p1.wing("wing").ribs.extra == pytest.approx((96 * INCH,))
    assert p1.engine.curve[0].speed == pytest.approx(3500 / 60)
    assert p1.engine.curve[0].consumption == pytest.approx(0.46 / 3.6e6)
    assert p1.fuselage.covering == pytest.approx(0.07 * 4.88242764, rel=1e-8)


def test_a_model_inherits_overrides_and_adds(family: m.Family) -> None:
    p1, p2 = family.models["P1"], family.models["P2"]
    assert p1.tailplane == p2.tailplane
    assert p1.limits.aft_cg == p2.limits.aft_cg and p1.limits.max_mass < p2.limits.max_mass
    assert {a.name for a in p2.allowances} - {a.name for a in p1.allowances} == {"wing_rivets"}
    assert [x.name for x in p2.loads] == ["pilot", "fuel", "baggage", "oil"]
    assert p1.drawing_units == "inch" and p1.categories[0] == "uk-microlight-600"
    assert (p1.struts[2].fairing, p1.struts[2].faired_width) == ("round", 0.0)


def test_a_model_may_have_its_own_note_units_and_categories() -> None:
    own = 'title = "one wing of wood"\nnote = "n"\ndrawing_units = "millimetre"\ncategories = ["cs-vla"]'
    changed = reading(PROBE.replace('title = "one wing of wood"', own)).models
    assert (changed["P1"].note, changed["P1"].drawing_units, changed["P1"].categories) == (
        "n",
        "millimetre",
        ("cs-vla",),
    )
    assert changed["P2"].drawing_units == "inch" and changed["P2"].note.startswith("For tests")


def test_a_model_may_take_away_what_it_inherits() -> None:
    less = 'title = "one wing of wood"\nwithout = ["items.battery", "loads.baggage"]'
    changed = reading(PROBE.replace('title = "one wing of wood"', less)).models
    assert "battery" not in [i.name for i in changed["P1"].items]
    assert "battery" in [i.name for i in changed["P2"].items]
    assert [x.name for x in changed["P1"].loads] == ["pilot", "fuel"]


def test_a_model_changes_one_number_of_something_inherited() -> None:
    changed = reading(PROBE + '\n[models.P3.tailplane]\nspan = "120 in"\n').models
    assert changed["P3"].tailplane.span == pytest.approx(120 * INCH)
    assert changed["P3"].tailplane.root_chord == changed["P1"].tailplane.root_chord


def test_runs_keep_their_names_when_others_come_and_go(family: m.Family) -> None:
    names = [t.name for t in family.models["P1"].fuselage.tubes]
    assert len(names) == len(set(names))
    assert "sternpost" in names and "uprights_rear:E1-E2" in names
    fewer = reading(PROBE.replace('run = [["D1", "D2"], ["E1", "E2"]', 'run = [["E1", "E2"]'))
    assert "uprights_rear:E1-E2" in [t.name for t in fewer.models["P1"].fuselage.tubes]


def test_runs_with_the_same_ends_are_named_by_all_their_nodes() -> None:
    ways = 'run = [["A2", "AX", "B2"], ["A2", "B1", "B2"]]'
    text = PROBE.replace('run = ["A2", "AX"]', ways).replace(
        'gear_rear = { run = ["B2", "AX"]', 'g = { run = ["C2", "AX"]'
    )
    changed = reading(text.replace('["A2", "B1"], ["B2", "C1"]', '["B2", "C1"]').replace('["B1", "B2"], ', ""))
    names = [t.name for t in changed.models["P1"].fuselage.tubes]
    assert "gear_front:A2-AX-B2" in names and "gear_front:A2-B1-B2" in names


def test_every_number_is_finite_and_every_default_is_the_records(family: m.Family) -> None:
    def numbers(record: object) -> None:
        for f in fields(record):  # type: ignore[arg-type]
            value = getattr(record, f.name)
            for each in value if isinstance(value, tuple) else (value,):
                if is_dataclass(each):
                    numbers(each)
                elif isinstance(each, float):
                    assert math.isfinite(each), f.name

    for one in family.models.values():
        numbers(one)
    assert family.models["P1"].wing("wing").ribs.flange == 0.0
    assert family.models["P3"].wing("middle").aileron is None


def test_windows_line_ends_and_byte_order_mark_change_nothing(family: m.Family) -> None:
    windows = read(b"\xef\xbb\xbf" + PROBE.replace("\n", "\r\n").encode("utf-8"), str(PROBE_FILE))
    assert windows.models == family.models
    spoiled = PROBE.replace('span = "112 in"', "span = 112").replace("\n", "\r\n")
    with pytest.raises(FileProblems) as caught:
        reading(spoiled)
    assert caught.value.problems[0].line == PROBE[: PROBE.index('span = "112 in"')].count("\n") + 1


def test_dotted_keys_quotes_and_multiline_lists_read_the_same() -> None:
    other = PROBE.replace("[models.P1.propeller]\n", '[models."P1"."propeller"]\n')
    other = other.replace(
        'place = ["20 in", "32 in", "-34 in"]',
        'place = [ # main wheel\n  \'20 in\',\n\n  "32 in", # out\n  "-34 in",\n]',
    )
    assert reading(other).models == reading(PROBE).models


@pytest.mark.parametrize(
    "text",
    [
        PROBE,
        'a.b."c d" = [ # x\n 1,\n [2, "],}#"],\n]\n'
        '[[t]]\nx = 1\n[[t]]\nx = 2\n[t.u]\ny = {p = "q", r.s = """\nlong # "\n"""}\n',
    ],
)
def test_each_value_is_found_on_its_own_line(text: str) -> None:
    root, lines = entries(tomllib.loads(text), scan(text), text), text.split("\n")
    leaves = [e for e in root.walk() if not isinstance(e.value, (dict, list))]
    assert len(leaves) > 5
    for leaf in leaves:
        name = leaf.key.split(".")[-1]
        wanted = str(leaf.value).split("\n")[0] if name.isdigit() else name
        assert wanted.lower() in lines[leaf.line - 1].lower(), (leaf.key, leaf.line)


def test_every_unit_of_the_model_can_be_written() -> None:
    for record in m.records():
        for f in fields(record):
            assert "meaning" in f.metadata, f"{record.__name__}.{f.name} does not say its meaning"
            unit = f.metadata["unit"]
            assert unit in ("", "1") or unit in DIMENSION_OF, f"{record.__name__}.{f.name}: {unit}"


def test_each_key_has_an_example() -> None:
    for record in m.records():
        if record not in (m.Model, m.Family):
            assert all(k.example for k in keys(record)), record


def test_naca_numbers_agree_with_what_the_shapes_can_make() -> None:
    """Every five-digit number with a constant on file is taken and no other, and each mean line can be made."""
    shapes = pytest.importorskip("sparwright.shape.section")
    for camber in range(1000):
        digits = f"{camber:03d}12"
        place, kind = int(digits[1]), digits[2]
        lines = {"0": shapes.PLAIN, "1": shapes.REFLEX}.get(kind, {})
        assert makeable(digits) == (digits[0] != "0" and place in lines), digits
        if makeable(digits):
            assert all(math.isfinite(v) for v in shapes.naca_line(digits, np.array([0.0, 0.3, 1.0]))[0]), digits
    for camber in range(100):
        digits = f"{camber:02d}12"
        assert makeable(digits) == ((digits[0] == "0") == (digits[1] == "0")), digits
    assert not makeable("4400") and not makeable("23000") and not makeable("64a12")


def test_a_table_of_points_from_a_naca_section_is_fit() -> None:
    shapes = pytest.importorskip("sparwright.shape.section")
    for number in ("0009", "4412", "23012", "6421"):
        points = tuple(map(tuple, shapes.curve(m.Section(name="x", naca=number)).T[::10]))
        assert unfit(points) == ""
        assert "lower side" in unfit(points[::-1])


def test_a_section_table_is_read_as_points() -> None:
    circle = [((1 + math.cos(a)) / 2, 0.05 * math.sin(a)) for a in (2 * math.pi * i / 40 for i in range(41))]
    listed = ", ".join(f"[{x:.6f}, {y:.6f}]" for x, y in circle)
    changed = reading(PROBE.replace('naca = "4412"', f"points = [{listed}]"))
    assert len(changed.models["P1"].sections["lifting"].points) == 41


def test_the_demo_loads() -> None:
    family = load(DEMO_FILE)
    assert family.models and family.unknowns
    assert all(1 <= len(model.wings) <= 3 for model in family.models.values())


def test_materials_that_are_cut_outside_are_the_familys_and_known_ones() -> None:
    assert reading(PROBE).cut_outside == ()
    said = PROBE.replace('name = "Probe"\n', 'name = "Probe"\ncut_outside = ["4130N", "birch-ply"]\n', 1)
    assert reading(said).cut_outside == ("4130N", "birch-ply")
    with pytest.raises(FileProblems, match="is not a material we know"):
        reading(said.replace('"birch-ply"]', '"birch-plyy"]', 1))
