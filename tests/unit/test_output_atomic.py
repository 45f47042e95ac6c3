"""Files whole or not at all, and a sentence when they cannot be written."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from sparwright.output import atomic
from sparwright.output.atomic import CannotWrite, folder, write, write_all


def test_writes_and_replaces(tmp_path):
    write(tmp_path / "a", b"one")
    write(tmp_path / "a", b"two")
    assert (tmp_path / "a").read_bytes() == b"two" and os.listdir(tmp_path) == ["a"]


def test_full_disk_leaves_all_the_old_files_and_nothing_half_written(tmp_path, monkeypatch):
    for name in "abc":
        write(tmp_path / name, b"old")
    real, calls = os.fsync, []

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 2:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(handle)

    monkeypatch.setattr(atomic.os, "fsync", full)
    with pytest.raises(CannotWrite, match=r"b cannot be written: the disk is full; what was there before is unchanged"):
        write_all({tmp_path / name: b"new" for name in "abc"})
    assert [(tmp_path / name).read_bytes() for name in "abc"] == [b"old"] * 3
    assert sorted(os.listdir(tmp_path)) == ["a", "b", "c"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full on this system")
def test_a_real_full_device_is_reported(tmp_path, monkeypatch):
    """The system's own always-full device stands where the file beside would be."""
    (tmp_path / f".a.{os.getpid()}.part").symlink_to("/dev/full")
    (tmp_path / "a").write_bytes(b"old")
    with pytest.raises(CannotWrite, match="the disk is full"):
        write(tmp_path / "a", b"new" * 10**6)
    assert (tmp_path / "a").read_bytes() == b"old" and os.listdir(tmp_path) == ["a"]


def test_folder_that_is_a_file_and_missing_folder_are_sentences(tmp_path):
    (tmp_path / "f").write_bytes(b"")
    with pytest.raises(CannotWrite, match="a file of that name is in the way"):
        folder(tmp_path / "f")
    with pytest.raises(CannotWrite, match="a part of that path is a file, not a folder"):
        folder(tmp_path / "f" / "g")
    with pytest.raises(CannotWrite, match="there is no such folder"):
        write(tmp_path / "gone" / "a", b"")


def test_refused_permission_is_a_sentence(tmp_path, monkeypatch):
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(CannotWrite, match="permission is refused"):
        write(tmp_path / "a", b"x")
    assert os.listdir(tmp_path) == []


def test_a_folder_where_the_file_should_go_is_a_sentence(tmp_path):
    (tmp_path / "a").mkdir()
    with pytest.raises(CannotWrite, match="a folder of that name is in the way"):
        write(tmp_path / "a", b"x")
    assert os.listdir(tmp_path) == ["a"]
