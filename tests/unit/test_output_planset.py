"""The folder a builder gets: files, manifest, and what becomes of the set before."""

from __future__ import annotations

import csv
import json
import math
from hashlib import sha256
from io import StringIO

import numpy as np
import pytest

from sparwright.output.atomic import CannotWrite
from sparwright.output.csv import HEAD, cut_list_csv
from sparwright.output.manifest import manifest
from sparwright.output.planset import Loose, write_plans
from sparwright.parts.part import Part, Plate, Skin, Straight
from sparwright.plans.cutlist import cut_list, section_sizes
from sparwright.plans.paper import TitleBlock
from sparwright.plans.templates import templates

TITLE = TitleBlock("Whinchat", "T/1", "Sparwright 0.1.0", "ab" * 32)


def part(number: str, shape: object, form: str = "plate", **more: object) -> Part:
    named = dict(
        name="rib",
        group="wing",
        purpose="rib",
        material="m",
        stock='ply, "A" grade',
        places=((0.0, 0.0, 0.0),),
        mass=0.25,
    )
    return Part(number=number, form=form, shape=shape, **(named | more))  # type: ignore[arg-type]


PARTS = (
    part("P", Plate(outline=np.array([[0, 0], [0.3, 0], [0.2, 0.1]]), holes=(), thickness=0.0015), at="BL 12″"),
    part("B", Straight(start=(0, 0, 0), end=(0, 2.54, 0), section="1-1/4 in x 1 in", rings=np.zeros((2, 4, 3))), "bar"),
    part("S", Skin(length=1.0, width=0.5, thickness=0.001), "skin"),
    part("I", None, "item", stock="bought"),
)


def sheets(count: int):
    many = tuple(
        part(f"P{i}", Plate(outline=np.array([[0, 0], [0.7, 0], [0.7, 0.3 - i / 1000]]), holes=(), thickness=0.0015))
        for i in range(count)
    )
    return templates(many, "24x36", TITLE)


def test_set_has_every_file_and_a_true_manifest(tmp_path):
    drawn = (*sheets(2), *templates(PARTS, "A1", TITLE))
    told = []
    paths = write_plans(
        drawn, cut_list(PARTS), tmp_path / "new" / "out", TITLE, lambda done, of: told.append((done, of))
    )
    out = tmp_path / "new" / "out"
    assert sorted(p.name for p in out.iterdir()) == sorted(p.name for p in paths)
    names = {p.name for p in paths}
    assert {
        "T-1-templates-24x36.pdf",
        "T-1-templates-24x36-02.dxf",
        "T-1-templates-24x36-02.svg",
        "T-1-templates-A1.pdf",
        "T-1-templates-A1-01.dxf",
        "T-1-cut-list.csv",
        "manifest.json",
    } <= names
    record = json.loads((out / "manifest.json").read_text(encoding="utf-8"))
    assert {f["file"] for f in record["files"]} == names - {"manifest.json"}
    for f in record["files"]:
        content = (out / f["file"]).read_bytes()
        assert f["sha256"] == sha256(content).hexdigest() and f["bytes"] == len(content) and f["shows"]
    assert (record["model"], record["file_sha256"]) == ("T/1", "ab" * 32)
    assert told and told[-1][0] <= told[-1][1]


def test_same_set_same_bytes(tmp_path):
    for name in ("a", "b"):
        write_plans(sheets(2), cut_list(PARTS), tmp_path / name, TITLE)
    for path in (tmp_path / "a").iterdir():
        assert path.read_bytes() == (tmp_path / "b" / path.name).read_bytes()


def test_sheets_of_a_longer_set_before_go_but_what_somebody_changed_stays(tmp_path):
    write_plans(sheets(3), cut_list(PARTS), tmp_path, TITLE)
    (tmp_path / "notes.txt").write_text("mine")
    changed = tmp_path / "T-1-templates-24x36-03.svg"
    changed.write_bytes(changed.read_bytes() + b"<!-- mine -->")
    write_plans(sheets(1), cut_list(PARTS), tmp_path, TITLE)
    names = {p.name for p in tmp_path.iterdir()}
    assert "T-1-templates-24x36-02.dxf" not in names and "T-1-templates-24x36-03.dxf" not in names
    assert {"notes.txt", changed.name, "T-1-templates-24x36-01.dxf"} <= names


def test_files_in_a_folder_of_the_set_go_with_it_and_nothing_outside_is_touched(tmp_path):
    out, outside = tmp_path / "out", tmp_path / "mine.dxf"
    two = [Loose(f"router/{n}.dxf", n.encode(), n) for n in ("A", "B")]
    assert out / "router" / "B.dxf" in write_plans(sheets(1), (), out, TITLE, loose=two)
    outside.write_bytes(b"mine")
    record = json.loads((out / "manifest.json").read_text(encoding="utf-8"))
    assert {"router/A.dxf", "router/B.dxf"} <= {f["file"] for f in record["files"]}
    far = [str(outside), "../mine.dxf", "router/../../mine.dxf"]
    record["files"] += [{"file": n, "sha256": sha256(b"mine").hexdigest()} for n in far]
    (out / "manifest.json").write_text(json.dumps(record), encoding="utf-8")
    write_plans(sheets(1), (), out, TITLE, loose=two[:1])
    assert [p.name for p in (out / "router").iterdir()] == ["A.dxf"] and outside.read_bytes() == b"mine"


def test_folder_that_cannot_be_made_is_a_sentence(tmp_path):
    (tmp_path / "file").write_bytes(b"x")
    with pytest.raises(CannotWrite, match="cannot be written"):
        write_plans(sheets(1), (), tmp_path / "file" / "out", TITLE)
    assert (tmp_path / "file").read_bytes() == b"x"


def test_cut_list_reads_back_with_units_in_its_head():
    rows = list(csv.DictReader(StringIO(cut_list_csv(cut_list(PARTS)).decode("utf-8"))))
    assert tuple(rows[0]) == HEAD and [r["part number"] for r in rows] == ["P", "B", "S", "I"]
    plate, bar, skin, item = rows
    assert plate["stock"] == 'ply, "A" grade' and plate["place"] == "BL 12 in"
    assert (plate["length in"], plate["length mm"], plate["thickness mm"]) == ("11 13/16 in", "300.0", "1.50")
    assert (bar["length in"], bar["width in"], bar["thickness in"]) == ("100 in", "1 1/4 in", "1.000")
    assert (skin["length mm"], skin["width mm"]) == ("1000.0", "500.0")
    assert item["length mm"] == "" and item["thickness in"] == ""
    assert (plate["mass each kg"], plate["mass each lb"], plate["count"]) == ("0.2500", "0.5512", "1")


def test_section_that_says_nothing_is_unknown_not_nought():
    assert all(map(math.isnan, section_sizes("as found")))
    wide, thick = section_sizes("3/4 in x 0.035 in")
    assert (wide, thick) == (pytest.approx(0.01905, abs=1e-12), pytest.approx(0.000889, abs=1e-12))


def test_manifest_needs_a_word_for_every_file():
    with pytest.raises(KeyError):
        manifest({"a": b""}, {}, family="f", model="m", program="p", file_sha256="0")
