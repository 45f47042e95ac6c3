"""Polars kept by content: what a key hangs on, what is found again, what an interruption leaves, who works them out.

The crew is real where the test is about its answers; where it is about keeping, polars are made by hand.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import threading
from collections.abc import Generator, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sparwright.air.polars import ANGLES, COLUMNS, KNOTS, Asked, Setting, Table, surfaces
from sparwright.cli import crew, polars, store
from sparwright.cli.alone import alone
from sparwright.cli.polars import Kept, key, question, read, written
from sparwright.family.model import Measured, Section

SECTION = Section(name="tail", naca="0009")
POINTS = tuple((abs(x), (1 - abs(x)) * 0.1 * (1 if x > 0 else -1)) for x in np.linspace(1, -1, 41).tolist())
ONE = Asked(SECTION, "built", KNOTS[7])
THREE = [replace(ONE, reynolds=KNOTS[k]) for k in (7, 8, 9)]
HAND = r"""
import sys
for line in sys.stdin:
    print(ANSWER, flush=True)
"""


def made(seed: float = 0.0) -> Table:
    """A polar by hand: no number round, one unknown, one without end."""
    rows = [np.sin(np.arange(len(ANGLES)) * (i + 1) + seed) / 3 for i in range(len(COLUMNS))]
    rows[1][3], rows[-1][3] = np.nan, np.inf
    return Table(*rows)


def same(a: Table, b: Table) -> bool:
    """Whether two polars are the same to the last bit."""
    return all(np.array_equal(getattr(a, name), getattr(b, name), equal_nan=True) for name in COLUMNS)


class Bench:
    """Stands where the crew stands: polars by hand, counted; `stop` raises before that many."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.stop = 10**9

    def answers(self, questions: Sequence[str]) -> Generator[crew.Answer, None, None]:
        for i, text in enumerate(questions):
            if len(self.asked) == self.stop:
                raise KeyboardInterrupt
            self.asked.append(text)
            yield None
            yield i, written(made(len(text)))


@pytest.fixture
def bench(monkeypatch: pytest.MonkeyPatch) -> Bench:
    """The crew's stand-in."""
    found = Bench()
    monkeypatch.setattr(crew, "answers", found.answers)
    return found


@pytest.fixture(autouse=True)
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty store."""
    monkeypatch.setenv(store.FOLDER, str(tmp_path / "store"))
    return tmp_path / "store" / "polars"


# ---------------------------------------------------------------- the key


def test_a_name_and_what_was_measured_are_not_in_the_key() -> None:
    measured = Measured(reynolds=1e6, source="x", angle=(0.0,), lift=(0.1,), give_or_take=0.1)
    other = Section(name="other", naca="0009", surface="rough", measured=(measured,))
    assert key(replace(ONE, section=other)) == key(ONE)


@pytest.mark.parametrize(
    "other",
    [
        replace(ONE, section=Section(name="tail", naca="0010")),
        replace(ONE, section=Section(name="tail", points=POINTS)),
        replace(ONE, section=Section(name="tail", points=((1.0, 1e-9), *POINTS[1:]))),
        replace(ONE, surface="rough"),
        replace(ONE, surface="smooth"),
        replace(ONE, reynolds=KNOTS[8]),
    ],
)
def test_each_part_of_what_is_asked_is_in_the_key(other: Asked) -> None:
    points = replace(ONE, section=Section(name="tail", points=POINTS))
    assert key(other) != key(ONE) and (other == points or key(other) != key(points))


@pytest.mark.parametrize("part", ["waves", "upper", "lower"])
def test_the_trips_of_a_surface_are_in_the_key(part: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before, setting = key(ONE), surfaces()["built"]
    other = replace(setting.surface, **{part: getattr(setting.surface, part) + 0.01})
    renamed = {"built": Setting("x", replace(setting.surface, name="x"), setting.source)}
    monkeypatch.setattr(polars, "surfaces", lambda: {"built": replace(setting, surface=other)})
    assert key(ONE) != before
    monkeypatch.setattr(polars, "surfaces", lambda: renamed)
    assert key(ONE) == before


@pytest.mark.parametrize("what", ["a kernel", "angles", "columns", "a library", "how columns are made"])
def test_what_works_a_polar_out_is_in_the_key(what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before = key(ONE)
    polars.program.cache_clear()
    assert key(ONE) == before
    polars.program.cache_clear()
    if what == "a kernel":
        plain = Path.read_bytes
        monkeypatch.setattr(Path, "read_bytes", lambda p: plain(p) + b"#" * (p.name == "closure.py"))
    elif what == "angles":
        monkeypatch.setattr(polars, "ANGLES", ANGLES[1:])
    elif what == "columns":
        monkeypatch.setattr(polars, "COLUMNS", COLUMNS[:-1])
    elif what == "a library":
        plainly = store._version
        monkeypatch.setattr(store, "_version", lambda name: "9.9" if name == "llvmlite" else plainly(name))
    else:
        monkeypatch.setattr(polars.polars, "columns", lambda found: found)
    assert key(ONE) != before
    monkeypatch.undo()
    polars.program.cache_clear()


def test_a_surface_that_is_not_known_is_said() -> None:
    with pytest.raises(KeyError, match="shiny"):
        Kept()([replace(ONE, surface="shiny")])


# ---------------------------------------------------------------- keeping


def test_a_polar_is_written_to_the_last_bit() -> None:
    found = read(written(made()))
    assert found is not None and same(found, made())
    assert not same(made(), made(1e-15)) and not found.lift.flags.writeable


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", "[" * 100_000, written(made()).replace('"drag"', '"drug"')])
def test_what_is_not_a_polar_is_not_read(text: str) -> None:
    assert read(text) is None


def test_a_polar_one_angle_short_is_not_read() -> None:
    assert read(written(Table(*(getattr(made(), name)[1:] for name in COLUMNS)))) is None


def test_what_was_worked_out_is_not_worked_out_again(bench: Bench, shelf: Path) -> None:
    first = Kept()([*THREE, ONE, replace(ONE, section=Section(name="other", naca="0009"))])
    assert len(bench.asked) == 3 and len(first) == 4 and len(list(shelf.glob("*.json"))) == 3
    again = Kept()(THREE)
    assert len(bench.asked) == 3 and all(same(first[one], again[one]) for one in THREE)


def test_fresh_works_each_out_again_once(bench: Bench) -> None:
    Kept()(THREE)
    fresh = Kept(fresh=True)
    fresh(THREE)
    fresh(THREE)
    assert len(bench.asked) == 6


@pytest.mark.parametrize("hurt", ["cut", "digit", "empty", "other"])
def test_a_damaged_entry_is_worked_out_again(bench: Bench, shelf: Path, hurt: str) -> None:
    first = Kept()([ONE])[ONE]
    entry = shelf / f"{key(ONE)}.json"
    whole = entry.read_text("utf-8")
    if hurt == "other":
        store.put(key(ONE), '{"alpha": [0.1]}', store.POLARS)  # sealed, but no polar
    else:
        entry.write_text({"cut": whole[:-9], "digit": whole.replace("0.3", "0.4", 1), "empty": ""}[hurt], "utf-8")
    assert entry.read_text("utf-8") != whole
    assert same(Kept()([ONE])[ONE], first) and len(bench.asked) == 2
    assert entry.read_text("utf-8") == whole


def test_an_interruption_keeps_what_was_done(bench: Bench, shelf: Path) -> None:
    bench.stop = 2
    with pytest.raises(KeyboardInterrupt):
        Kept()(THREE)
    assert len(list(shelf.glob("*.json"))) == 2
    bench.stop = 10**9
    assert len(Kept()(THREE)) == 3 and len(bench.asked) == 3


def test_a_folder_that_cannot_be_written_is_gone_without(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "in_the_way").write_text("a file", "utf-8")
    for n, place in enumerate((str(tmp_path / "in_the_way"), ""), 1):
        monkeypatch.setenv(store.FOLDER, place)
        one = Kept()
        assert len(one(THREE)) == len(one(THREE)) == 3  # the second time out of this process
        assert len(bench.asked) == 3 * n


def test_progress_rises_to_the_end_and_says_what(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(polars, "SLOW", -1.0)
    Kept()(THREE[:1])
    told: list[tuple[float, str]] = []
    Kept()(THREE, lambda part, what: told.append((part, what)))
    parts = [part for part, _ in told]
    assert parts == sorted(parts) and parts[0] == 0 and parts[-1] == 1
    assert told[0][1] == "starting 0 s (new version 1 min)" and told[-1][1] == "2 of 2 polars"
    told.clear()
    Kept()(THREE, lambda part, what: told.append((part, what)))
    assert told == []  # found: nothing to wait for


def test_the_shelves_are_thinned_apart(monkeypatch: pytest.MonkeyPatch, shelf: Path) -> None:
    monkeypatch.setitem(store.MOST, store.POLARS, 2)
    store.put("report", "text")
    for n in range(4):
        store.put(f"k{n}", "text", store.POLARS)
        os.utime(shelf / f"k{n}.json", (n, n))
    assert sorted(p.name for p in shelf.iterdir()) == ["k2.json", "k3.json"] and store.get("report") == "text"
    monkeypatch.setitem(store.MOST, store.REPORTS, 1)
    store.put("another report", "text")
    assert len(list(shelf.iterdir())) == 2 and len(list(shelf.parent.glob("*.json"))) == 1


# ---------------------------------------------------------------- two at once


def test_of_two_at_once_the_second_takes_what_the_first_has_done(bench: Bench, shelf: Path) -> None:
    waiting = threading.Event()
    found: dict[Asked, Table] = {}
    second = threading.Thread(target=lambda: found.update(Kept()(THREE, lambda part, what: waiting.set())))
    with alone(shelf, lambda: True):
        second.start()
        assert waiting.wait(10) and bench.asked == []
        for one in THREE:
            store.put(key(one), written(made()), store.POLARS)
        second.join(10)
        assert not second.is_alive() and len(found) == 3 and bench.asked == []


def test_the_lock_goes_when_its_holder_dies(shelf: Path) -> None:
    code = (
        "import sys, time; from pathlib import Path; from sparwright.cli.alone import alone\n"
        "with alone(Path(sys.argv[1]), lambda: True): print('held', flush=True); time.sleep(60)"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(crew.__file__).parents[2])}
    holder = subprocess.Popen((sys.executable, "-c", code, str(shelf)), stdout=subprocess.PIPE, text=True, env=env)
    assert holder.stdout and holder.stdout.readline() == "held\n"
    naps: list[int] = []

    def wait() -> bool:
        naps.append(1)
        holder.kill()
        return len(naps) < 50

    with alone(shelf, wait):
        assert 1 <= len(naps) < 50
    holder.wait()
    holder.stdout.close()


# ---------------------------------------------------------------- the crew


def by(code: str, questions: Sequence[str]) -> Generator[crew.Answer, None, None]:
    """The answers of hands that run a few lines of Python."""
    return crew.answers(questions, (sys.executable, "-c", code))


def test_every_question_is_answered_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crew, "cores", lambda: 3)
    got = [a for a in by(HAND.replace("ANSWER", "line.strip() * 2"), "abcdefg") if a]
    assert sorted(got) == [(i, 2 * c) for i, c in enumerate("abcdefg")]


def test_a_hand_has_one_thread_and_finds_the_program() -> None:
    look = HAND.replace("ANSWER", "__import__('os').environ['OPENBLAS_NUM_THREADS'], __import__('sparwright') and 1")
    assert [a for a in by(look, "a") if a] == [(0, "1 1")]


@pytest.mark.parametrize("cores", [1, 3])
def test_hands_that_die_leave_their_questions(monkeypatch: pytest.MonkeyPatch, cores: int) -> None:
    monkeypatch.setattr(crew, "cores", lambda: cores)
    dies = HAND.replace("ANSWER", "sys.exit() if line == 'b\\n' else line.strip()")
    got = [a for a in by(dies, "bacd") if a]
    assert (0, "b") not in got and len(got) == (0 if cores == 1 else 3)


def test_no_hand_at_all_gives_no_answer() -> None:
    assert list(crew.answers("ab", ("there is no such program",))) == []


def test_no_hand_outlives_the_work(monkeypatch: pytest.MonkeyPatch) -> None:
    hands: list[subprocess.Popen[str]] = []
    plain = crew._hand
    monkeypatch.setattr(crew, "_hand", lambda command: hands.append(plain(command)) or hands[-1])
    with contextlib.closing(by(HAND.replace("ANSWER", "__import__('time').sleep(60)"), "ab")) as coming:
        assert next(coming) is None
        assert [hand.poll() for hand in hands] == [None] * len(hands) and hands
    assert all(hand.poll() is not None for hand in hands)


def test_where_no_hand_can_answer_this_process_does(monkeypatch: pytest.MonkeyPatch, shelf: Path) -> None:
    monkeypatch.setattr(crew, "answers", lambda questions: (a for a in [None, (0, "")]))
    monkeypatch.setattr(polars, "table", lambda one: made(one.reynolds))
    told: list[str] = []
    found = Kept()(THREE, lambda part, what: told.append(what))
    assert all(same(found[one], made(one.reynolds)) for one in THREE) and len(list(shelf.glob("*.json"))) == 3
    assert [what[:10] for what in told] == ["1 of 3 pol"] + ["tail at Re"] * 3


def test_a_polar_that_cannot_be_had_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crew, "answers", lambda questions: (a for a in ()))
    with pytest.raises(ValueError, match="50,000 to 9,000,000"):
        Kept()([replace(ONE, reynolds=1e4)])


@pytest.mark.long
def test_what_is_kept_is_what_is_worked_out() -> None:
    """To the last bit: with one thread for linear algebra, as hands have it."""
    asked = [ONE, replace(ONE, section=Section(name="wing", naca="4412"), surface="smooth")]
    code = (
        "from sparwright.air.polars import Asked, worked_out\n"
        "from sparwright.cli.polars import written\n"
        "from sparwright.family.model import Section\n"
        f"asked = {asked!r}\n"
        "found = worked_out(asked)\n"
        "for one in asked: print(written(found[one]))"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(crew.__file__).parents[2]), **dict.fromkeys(crew.ONE_THREAD, "1")}
    done = subprocess.run((sys.executable, "-c", code), capture_output=True, text=True, env=env, check=True)
    direct = [read(line) for line in done.stdout.splitlines()]
    kept, again = Kept()(asked), Kept()(asked)
    for one, plain in zip(asked, direct, strict=True):
        assert plain is not None and np.isfinite(plain.lift).sum() > 25
        assert same(kept[one], plain) and same(again[one], plain)


@pytest.mark.long
def test_ctrl_c_stops_the_hands_and_keeps_what_is_done(shelf: Path) -> None:
    asked = [replace(ONE, reynolds=k) for k in KNOTS[3:]]
    kept = Kept()

    def told(part: float, what: str) -> None:
        if part > 0:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        kept(asked, told)
    done = len(list(shelf.glob("*.json")))
    assert 1 <= done < len(asked) and sum(Kept()._found(key(one)) for one in asked) == done


def test_a_question_is_what_a_hand_understands() -> None:
    section = Section(name="tail", points=POINTS)
    seen: list[Asked] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(polars, "table", lambda one: seen.append(one) or made())
        assert read(polars.answer(question(replace(ONE, section=section)))) is not None
    assert seen == [Asked(Section(name="any", points=POINTS), "built", KNOTS[7])]
    assert polars.answer("rubbish") == "" == polars.answer(question(replace(ONE, reynolds=1e4)))
