"""A family file changed in one place; written whole or not at all."""

import errno
import os
import tomllib
from pathlib import Path

import pytest
from families import DEMO_FILE, PROBE

from sparwright.family import writer
from sparwright.family.reader import read
from sparwright.family.writer import CannotWrite, NoSuchKey, rewrite, set_value


def changed_lines(old: str, new: str) -> list[str]:
    a, b = old.split("\n"), new.split("\n")
    assert len(a) == len(b)
    return [y for x, y in zip(a, b, strict=True) if x != y]


@pytest.mark.parametrize(
    ("key", "new", "line"),
    [
        ("tailplane.span", "118 in", 'span = "118 in"'),
        ("limits.aft_cg", "0.30", "aft_cg = 0.30"),
        ("fuselage.nodes.A1.2", "9-1/4 in", 'A1 = ["0 in", "11 in", "9-1/4 in"]'),
        (
            "models.P1.engine.curve.1.power",
            "28 hp",
            '  { speed = "4500 rpm", power = "28 hp", consumption = "0.42 kg/kWh" },',
        ),
        ("family.categories", '["cs-vla"]', 'categories = ["cs-vla"]'),
        ("fuselage.open_cockpit", "false", "open_cockpit = false"),
        ("family.note", 'say "so"', 'note = "say \\"so\\""'),
    ],
)
def test_one_line_changes(key: str, new: str, line: str) -> None:
    assert changed_lines(PROBE, set_value(PROBE, key, new)) == [line]


def test_a_comment_behind_the_value_stays() -> None:
    assert set_value('[a]\nx = "1 in"   # why\n', "a.x", "2 in") == '[a]\nx = "2 in"   # why\n'


def test_a_new_key_goes_to_the_end_of_its_table() -> None:
    new = set_value(PROBE, "models.P2.note", "heavier")
    assert 'title = "two wings of metal"\nnote = "heavier"\n' in new
    assert read(new.encode(), "f").models["P2"].note == "heavier"
    inline = set_value(PROBE, "models.P1.wings.wing.panels.outer.sweep", "1 deg")
    assert 'twist = "-1.5 deg", sweep = "1 deg" }' in inline
    assert set_value("a = {}\n", "a.b", "1") == "a = { b = 1 }\n"
    assert set_value("[a]\nb = 1", "a.c", "true") == "[a]\nb = 1\nc = true\n"


def test_windows_line_ends_and_byte_order_mark_stay() -> None:
    text = "\ufeff" + PROBE.replace("\n", "\r\n")
    new = set_value(text, "tailplane.span", "118 in")
    assert new == text.replace('span = "112 in"', 'span = "118 in"')
    assert '\r\nnote = "x"\r\n' in set_value(text, "models.P1.note", "x")


@pytest.mark.parametrize("key", ["tailplane.spam.x", "models.P9.note", "fuselage.nodes.A1.7.x", "nothing.at.all"])
def test_a_key_without_a_table_is_refused_in_a_sentence(key: str) -> None:
    with pytest.raises(NoSuchKey) as caught:
        set_value(PROBE, key, "1 in")
    assert str(caught.value).startswith(key)


@pytest.mark.parametrize("new", ["0.3\nx = 4", "0.3, at = 0.4", "]", "0.3 }, other = { at = 1", ""])
def test_a_value_that_would_change_more_is_refused(new: str) -> None:
    with pytest.raises(ValueError):
        set_value(PROBE, "models.P1.wings.wing.spars.front.at", new)


def test_a_remark_that_would_swallow_the_rest_of_a_list_is_refused() -> None:
    with pytest.raises(ValueError, match="would change more"):
        set_value("a = [\n 1, 2, 3,\n]\n", "a.1", "9 # x")


def test_rewrite_puts_the_text_there_and_leaves_nothing_else(tmp_path: Path) -> None:
    file = tmp_path / "f.toml"
    file.write_text("old", "utf-8")
    file.chmod(0o640)
    rewrite(file, "neu: ü\r\n")
    assert file.read_bytes() == "neu: ü\r\n".encode()
    assert file.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["f.toml"]


def test_rewrite_follows_a_link(tmp_path: Path) -> None:
    file, link = tmp_path / "f.toml", tmp_path / "l.toml"
    file.write_text("old", "utf-8")
    link.symlink_to(file)
    rewrite(link, "new")
    assert link.is_symlink() and file.read_text("utf-8") == "new"


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "f.toml"
    file.write_text("old", "utf-8")

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(writer.os, "fsync", full)
    with pytest.raises(CannotWrite, match="cannot be written: the disk is full; what was there before is unchanged"):
        rewrite(file, "new")
    assert file.read_text("utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["f.toml"]


def test_a_real_full_device_is_a_sentence(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    import signal

    file = tmp_path / "f.toml"
    file.write_text("old", "utf-8")
    before, handler = resource.getrlimit(resource.RLIMIT_FSIZE), signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, before[1]))
    try:
        with pytest.raises(CannotWrite, match="too large for the disk; what was there before is unchanged"):
            rewrite(file, "x" * 5000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)
    assert file.read_text("utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["f.toml"]


def test_a_folder_that_is_not_there_is_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="there is no such folder"):
        rewrite(tmp_path / "none" / "f.toml", "new")


def test_a_note_set_in_the_demo_leaves_every_other_line() -> None:
    text = DEMO_FILE.read_text("utf-8")
    assert changed_lines(text, set_value(text, "family.note", "for a test")) == ['note = "for a test"']


def test_set_to_what_it_is_already_the_demo_stays_byte_for_byte() -> None:
    text = DEMO_FILE.read_text("utf-8")
    name = tomllib.loads(text)["family"]["name"]
    assert set_value(text, "family.name", name) == text
