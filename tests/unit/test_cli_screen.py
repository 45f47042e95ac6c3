"""The screen's marks and the progress bar."""

from __future__ import annotations

import io

import pytest

from sparwright.cli import progress, screen
from sparwright.cli.progress import Progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_marks_fall_back_where_the_terminal_lacks_them() -> None:
    assert screen.writable("■ □ −1/8″", "utf-8") == "■ □ −1/8″"
    assert screen.writable("■ □ −1/8″", "ascii") == '# ? -1/8"'
    assert screen.writable("±", None) == "±"
    assert screen.writable("±", "ascii") == "?"
    assert screen.writable("\udcff", "utf-8") == "?"


def test_no_ink_where_the_user_or_the_terminal_wants_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", Terminal())
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert screen.ink("fail", "strong") == "\x1b[1mfail\x1b[0m"
    assert screen.ink("fail", "") == "fail"
    monkeypatch.setenv("NO_COLOR", "1")
    assert screen.ink("fail", "strong") == "fail"
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setattr("sys.stdout", io.StringIO())
    assert screen.ink("fail", "strong") == "fail"


def test_the_bar_is_silent_for_a_second_and_wiped_at_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [0.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    terminal = Terminal()
    with Progress("drawing W1", terminal) as bar:
        bar(0.2, "rib 1")
        assert terminal.getvalue() == ""
        now[0] = 1.5
        bar.count(1, 2)
        said = terminal.getvalue()
        assert said.startswith("\rdrawing W1 ████████████░░░░░░░░░░░░  50% 1 of 2")
    assert terminal.getvalue().endswith("\r")
    assert len(terminal.getvalue().split("\r")[-2]) == len(said) - 1


def test_no_bar_without_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress, "PATIENCE", -1.0)
    out = io.StringIO()
    with Progress("drawing", out) as bar:
        bar(0.5)
    assert out.getvalue() == ""
