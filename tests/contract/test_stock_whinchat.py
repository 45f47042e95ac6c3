"""The demo family's stock: every part somewhere or told, counts right, kept nests taken, sheets clean, same bytes."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from sparwright.cli.main import main
from sparwright.cli.stock import Stocked, router_files, stock_pages, stock_tables, stocked
from sparwright.family.model import Family
from sparwright.family.reader import load
from sparwright.maths.nesting import faults
from sparwright.output.nest_file import nest_json, nest_path
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly
from sparwright.plans.clash import clashes
from sparwright.plans.paper import TitleBlock

WHINCHAT = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
MODELS = ("W1", pytest.param("W2", marks=pytest.mark.long), pytest.param("W3", marks=pytest.mark.long))
PACKAGE = Path(__file__).parents[2] / "src"


@cache
def family() -> Family:
    return load(WHINCHAT)


@cache
def assembly(model: str) -> Assembly:
    return lay_out(family().models[model])


@cache
def made(model: str) -> Stocked:
    return stocked(family(), family().models[model], assembly(model))


@pytest.mark.parametrize("model", MODELS)
def test_every_part_of_sticks_and_sheets_is_cut_as_often_as_it_is_wanted_or_told(model):
    found = made(model)
    told = {t.part for t in (*found.sticks.told, *found.nests.told)}
    cut = Counter((c.part, c.piece) for x in found.sticks.lists for s in x.sticks for c in s.cuts)
    cut += Counter(
        (p.blank.need.part.number, p.blank.span.piece) for n in found.nests.nests for s in n.sheets for p in s
    )
    numbers = {part.number: part for part in assembly(model).to_cut}
    assert {n for n, _ in cut}.isdisjoint(told)
    assert all(count == numbers[n].count for (n, _), count in cut.items())
    bought = {p.number for p in numbers.values() if p.material == "bought"}
    soft = {
        p.number for p in numbers.values() if p.material in ("fabric", "fuel-hose", "nylon", "5052-O", "glass-epoxy")
    }
    assert set(numbers) == {n for n, _ in cut} | told | bought | soft - told


@pytest.mark.parametrize("model", MODELS)
def test_lists_and_nests_keep_to_their_bounds_and_to_kerf_and_gap(model):
    found, c = made(model), made(model).buying.cutting
    for x in found.sticks.lists:
        assert len(x.sticks) >= x.bound and x.used <= x.bought
        for s in x.sticks:
            over = sum(cut.length for cut in s.cuts) + (len(s.cuts) - 1) * c.saw_kerf + 2 * c.end_trim
            assert over <= x.length + 1e-6
    assert all(len(x.sticks) == x.bound for x in found.sticks.lists), "every list of the demo is proved least"
    for n in found.nests.nests:
        assert len(n.sheets) >= n.bound
        shapes = [p.blank.shape for s in n.sheets for p in s]
        from sparwright.maths.nesting import Lying

        places = [(i, p) for i, s in enumerate(n.sheets) for p in s]
        lying = [Lying(k, i, p.way, p.x, p.y) for k, (i, p) in enumerate(places)]
        assert faults(shapes, lying, n.length * 1000, n.width * 1000, c.sheet_gap * 1000, c.sheet_margin * 1000) == ()


@pytest.mark.parametrize("model", MODELS)
def test_the_nests_kept_with_the_design_are_taken_as_they_are(model):
    found = made(model).nests
    assert all(n.kept for n in found.nests), "the design moved on: write them again with plans --keep-nests"
    assert nest_json(found) == nest_path(WHINCHAT, model).read_bytes()


@pytest.mark.parametrize("model", MODELS)
def test_sheets_are_clean_and_files_have_names_of_their_own(model):
    found, title = made(model), TitleBlock("Whinchat", model, "Sparwright", "0" * 64)
    pages = stock_pages(found, title, "24x36", "inch")
    assert [p.name for p in pages] == ["bars-and-tubes", "nests", "bill", "router-check"]
    assert [(p.name, s.number, clashes(s)) for p in pages for s in p.sheets if clashes(s)] == []
    files = router_files(found, "Sparwright")
    names = [f.name for f in files]
    assert len(set(n.lower() for n in names)) == len(names), "also on a disk that does not tell A from a"
    assert all(n.startswith(f"router/{model}-") and n.endswith("_drawn-in-mm.dxf") for n in names)
    assert {t.name for t in stock_tables(found)} == {"bill", "bars-and-tubes"}


@pytest.mark.parametrize("model", MODELS)
def test_the_bill_weighs_what_its_parts_weigh(model):
    found = made(model)
    from sparwright.stock.hardware import is_hardware
    from sparwright.stock.needs import needs

    told = {n.part.number for n in needs(assembly(model).to_cut) if n.stock.form == "unclear"}

    parts = [p for p in assembly(model).to_cut if p.number not in told and not is_hardware(p)]
    assert sum(k.mass for k in found.bill.kits) == pytest.approx(sum(p.mass * p.count for p in parts), rel=1e-9)
    assert sum(x.mass for x in found.bill.lines if x.mass == x.mass) == pytest.approx(
        sum(k.mass for k in found.bill.kits), rel=1e-9
    )


def test_metal_longer_than_any_stick_is_told_with_its_number():
    sentences = [t for t in made("W1").bill.told if "SKIN-NOSE" in t]
    assert sentences == [], "the buying file lets the nose skins be scarfed"
    from sparwright.stock.needs import needs
    from sparwright.stock.sticks import stick_lists

    told = stick_lists(needs(assembly("W2").to_cut), made("W1").buying).told
    assert any(t.sentence.startswith("W2-upper-FRONT-UPPER-CAP-centre is 26′ 0″") for t in told)


def test_a_fault_of_the_buying_file_is_told_before_the_work(tmp_path, capsys):
    (tmp_path / "wren.toml").write_bytes(WHINCHAT.read_bytes())
    (tmp_path / "wren.buying.toml").write_text('[[price]]\nform = "tub"\n', encoding="utf-8")
    assert main(["plans", str(tmp_path / "wren.toml"), "--model", "W1", "--out", str(tmp_path / "out")]) == 2
    said = capsys.readouterr().err
    assert "wren.buying.toml:1: price.form: is one of tube" in said
    assert not (tmp_path / "out").exists()


DRAW = """
import hashlib
import numpy as np
from sparwright.family.buying import Buying
from sparwright.output.bill_csv import bill_csv, stick_csv
from sparwright.output.nest_file import nest_json
from sparwright.output.router_dxf import router_dxf
from sparwright.output.svg import svg
from sparwright.parts.part import Assembly, Part, Plate
from sparwright.plans.bill_page import bill_pages
from sparwright.plans.nest_sheets import nest_sheets
from sparwright.plans.paper import TitleBlock
from sparwright.plans.router_page import router_pages
from sparwright.plans.stick_sheets import stick_sheets
from sparwright.shape.tube import Tube
from sparwright.stock.bill import bill
from sparwright.stock.needs import needs
from sparwright.stock.nests import nests
from sparwright.stock.router import jobs
from sparwright.stock.sticks import stick_lists

def part(number, form, material, shape, count):
    return Part(number=number, name="p", form=form, group="fuselage", purpose="", material=material, stock="s",
                places=((0, 0, 0),) * count, mass=0.1, shape=shape)

ring = np.array([(0, 0), (0.5, 0), (0.5, 0.1), (0.3, 0.1), (0.3, 0.05), (0, 0.05)])
parts = [part(f"T1-P{i}", "plate", "okoume-ply", Plate(outline=ring * (1 + i / 9), holes=(), thickness=0.004), 3)
         for i in range(4)]
parts += [part(f"T1-T{i}", "tube", "4130N", Tube(path=np.array([[0, 0, 0], [0.3 + i / 3, 0, 0]]), outside=0.015875,
          wall=0.000889), 3) for i in range(5)]
a, b, title = Assembly(model="T1", parts=tuple(parts), joints=()), Buying(), TitleBlock("T", "T1", "S", "0" * 64)
n = needs(a.to_cut)
sticks, found, (made, told) = stick_lists(n, b), nests(n, b), jobs(a.to_cut, b)
whole = bill(a, n, sticks, found, b)
sheets = (*stick_sheets(sticks, b, title), *nest_sheets(found, b, title), *bill_pages(whole, title, "inch"),
          *router_pages(made, told, title, "inch"))
for content in (nest_json(found), bill_csv(whole), stick_csv(sticks.lists), *map(router_dxf, made), *map(svg, sheets)):
    print(hashlib.sha256(content).hexdigest())
"""


def drawn(seed: int) -> str:
    env = {**os.environ, "PYTHONHASHSEED": str(seed), "PYTHONPATH": str(PACKAGE)}
    return subprocess.run([sys.executable, "-c", DRAW], env=env, capture_output=True, text=True, check=True).stdout


def test_the_same_parts_give_the_same_bytes_in_any_process():
    first = drawn(0)
    assert len(first.splitlines()) >= 11
    assert drawn(5) == first
