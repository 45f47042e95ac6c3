"""The JSON Schema, the starter and the page of docs are made from the records, and say the same as the reader."""

import re
import tomllib
from pathlib import Path

import jsonschema
import pytest
from families import DEMO_FILE, PROBE

from sparwright.family import model as m
from sparwright.family.json_schema import schema, text
from sparwright.family.page import page
from sparwright.family.reader import load, read
from sparwright.family.schema import Head, keys, own, top
from sparwright.family.starter import starter_text, write_starter
from sparwright.family.writer import CannotWrite, rewrite, set_value

HERE = Path(__file__).parents[2]
CHECK = jsonschema.Draft202012Validator(schema())
RECORDS = [r for r in m.records() if r not in (m.Model, m.Family)]


@pytest.mark.parametrize("family_text", [PROBE, DEMO_FILE.read_text("utf-8")], ids=["probe", "demo"])
def test_the_schema_is_one_and_good_files_keep_to_it(family_text: str) -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    assert [e.message for e in CHECK.iter_errors(tomllib.loads(family_text))] == []


def test_the_schema_on_disk_is_the_one_we_make() -> None:
    assert (HERE / "examples/whinchat/sparwright.schema.json").read_text("utf-8") == text()


@pytest.mark.parametrize(
    ("key", "new"),
    [
        ("tailplane.span", "112 lb"),
        ("tailplane.span", "-112 in"),
        ("tailplane.span", "112"),
        ("tailplane.hinge", '"0.5"'),
        ("tailplane.hinge", "1.5"),
        ("models.P1.engine.mark", "guessed"),
        ("loads.pilot.kind", "pilots"),
        ("family.drawing_units", "inches"),
        ("family.categories", '["cs-vlb"]'),
        ("models.P1.wings.wing.ribs.sheet.material", "okume-ply"),
        ("fuselage.nodes.A1", '["1 in", "2 in"]'),
        ("fuselage.tubes.sternpost.run", '["S1"]'),
        ("tailplane.spam", '"1 in"'),
        ("models.P1.engine.curve", '[{ speed = "3500 rpm" }]'),
        ("models.P1.spam", "1"),
    ],
)
def test_what_the_schema_refuses_the_reader_refuses_too(key: str, new: str) -> None:
    spoiled = set_value(PROBE, key, new)
    assert list(CHECK.iter_errors(tomllib.loads(spoiled)))
    with pytest.raises(Exception, match=key.split(".")[-1]):
        read(spoiled.encode(), "f.toml")


def test_every_key_of_the_schema_says_its_meaning() -> None:
    def walk(node: object) -> None:
        if isinstance(node, dict):
            for name, child in node.get("properties", {}).items():
                assert child.get("description"), name
            for child in node.values():
                walk(child)

    walk(schema())


def test_the_starter_loads_cleanly_and_says_what_it_does_not_know(tmp_path: Path) -> None:
    family_file, schema_file = write_starter(tmp_path / "new" / "one")
    family = load(family_file)
    assert len(family.models) == 1
    said = " ".join(family.unknowns)
    assert all(word in said for word in ("position error", "engine curve", "weigh"))
    assert schema_file.read_text("utf-8") == text()
    assert [e.message for e in CHECK.iter_errors(tomllib.loads(family_file.read_text("utf-8")))] == []


def test_the_starter_overwrites_nothing(tmp_path: Path) -> None:
    mine = tmp_path / "family.toml"
    mine.write_text("mine", "utf-8")
    with pytest.raises(CannotWrite, match="is there already"):
        write_starter(tmp_path)
    assert mine.read_text("utf-8") == "mine" and len(list(tmp_path.iterdir())) == 1
    with pytest.raises(CannotWrite, match="cannot be made: a part of that path is a file"):
        write_starter(mine / "below")


def test_the_starter_is_both_files_or_neither(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(path: Path, text: str) -> None:
        if path.name == "family.toml":
            raise CannotWrite("full")
        rewrite(path, text)

    monkeypatch.setattr("sparwright.family.starter.rewrite", full)
    with pytest.raises(CannotWrite, match="full"):
        write_starter(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_the_starter_shows_every_key_and_is_short() -> None:
    starter = starter_text()
    assert starter.count("\n") < 520
    names = {k.name for r in (Head, *RECORDS) for k in keys(r)} | {k.name for k in (*top(), *own())} | {"without"}
    assert {n for n in names if n not in starter} == set()


def test_each_key_of_the_starter_is_explained() -> None:
    """By a remark on a line where it stands, or by its name in a remark."""
    explained: set[str] = set()
    for line in starter_text().split("\n"):
        _, _, remark = line.partition("#")
        explained |= set(re.findall(r"[a-z_]+", line if remark else ""))
    named = {k.name for r in (Head, *RECORDS) for k in keys(r)}
    assert named - explained == set()


def test_the_page_of_docs_is_the_one_we_make() -> None:
    assert (HERE / "docs/family-file.md").read_text("utf-8") == page()


def test_the_page_of_docs_names_every_key_with_its_meaning() -> None:
    made = page()
    for record in (Head, *RECORDS):
        for key in keys(record):
            assert f"| `{key.name}` |" in made and key.meaning in made, (record.__name__, key.name)
