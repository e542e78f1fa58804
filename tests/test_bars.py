"""The table of bars: a bar that is missed is told and ends it with 1; no bar is quietly widened."""

import re
import sys
from collections.abc import Iterator
from types import ModuleType

import pytest

from bench import (
    bars,
    bench_append,
    bench_check,
    bench_fold,
    bench_frame,
    bench_hostile,
    bench_keys,
    bench_memory,
    bench_points,
    bench_start,
)
from bench.table import Row, interleaved, percentile, ratio
from driving import ROOT


def planted(monkeypatch: pytest.MonkeyPatch, *figures: float) -> None:
    """Let there be rows named planted, each with a bar of 5."""
    made = ModuleType("bench.bench_planted")

    def rows() -> Iterator[Row]:
        for figure in figures:
            yield Row(f"work {figure}", figure, "×", 5)

    made.rows = rows  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, made.__name__, made)
    monkeypatch.setattr(bars, "NAMES", ["planted"])


@pytest.mark.parametrize(
    ("figures", "missed"),
    [((4.9, 5), []), ((4, 5.001), [5.001]), ((6, 4), [6]), ((float("nan"),), [float("nan")])],
)
def test_one_bar_that_is_missed_is_told_and_fails_the_whole(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    figures: tuple[float, ...],
    missed: list[float],
) -> None:
    planted(monkeypatch, *figures)
    assert bars.main([]) == bool(missed)
    said = capsys.readouterr().out
    assert re.findall(r"work (\S+) \|[^\n]*\| \*\*missed\*\*", said) == [str(one) for one in missed]
    assert said.count("| held |") == len(figures) - len(missed)


def test_rows_that_are_not_there_are_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert bars.main(["append", "nothing"]) == 2
    assert "no rows nothing; there are: append, " in capsys.readouterr().err


def test_runs_alternate_and_the_first_of_each_is_left_out() -> None:
    ran: list[str] = []

    def case(name: str, figures: list[float]) -> float:
        ran.append(name)
        return figures.pop(0)

    one, two = [100.0, 4.0, 6.0, 5.0], [1.0, 2.0, 2.0, 2.0]
    found = interleaved({"one": lambda: case("one", one), "two": lambda: case("two", two)}, 3)
    assert ran == ["one", "two"] * 4
    assert found == {"one": [4, 6, 5], "two": [2, 2, 2]}
    assert ratio(found, "one", "two") == (2.5, "5.0 ms against 2.0 ms")


def test_a_percentile_is_a_figure_that_was_measured() -> None:
    """The nearest rank, NIST/SEMATECH e-Handbook 7.2.6.2 (from memory)."""
    assert percentile(range(1, 101), 0.99) == 99
    assert percentile(range(1, 151), 0.99) == 149
    assert percentile([3, 1, 2], 0.5) == 2
    assert percentile(range(1, 101), 0.07) == 7
    assert percentile([7], 0.99) == 7


def test_no_bar_is_wider_than_the_page_of_results_says() -> None:
    page = (ROOT / "docs" / "performance.md").read_text("utf-8")

    def said(work: str) -> set[str]:
        rows = re.findall(rf"\| [^|]*{work}[^|]*\|[^|]*\|([^|]*)\|", page)
        assert rows, work
        return {each.strip() for each in rows} - {""}

    for work, bar in {
        "durable append": f"{bench_append.BAR:g} ×",
        "check of [^|]* against": f"{bench_check.BAR:g} ×",
        "fold of ": f"{bench_fold.TIMES:g} ×",
        "growth exponent": f"{bench_fold.EXPONENT:g}",
        "first frame: list": f"{bench_frame.LIST:g} ×",
        "first frame: (?:demo|resume)": f"{bench_frame.OPENED:g} ×",
        "99th percentile": f"{bench_keys.SLOWEST:g} ms",
        "the first key": f"{bench_keys.FIRST:g} ms",
        "key to frame, 5000": f"{bench_keys.FLAT:g} ×",
        "processor time of a key": f"{bench_keys.FLAT_WORK:g} ×",
        "slowest (?:of|bomb)": f"{bench_hostile.SLOWEST:g} ms",
        "memory, ": f"{bench_hostile.MOST:g} MiB",
        "memory after": f"{bench_memory.BAR:g} ×",
        "setting points": f"{bench_points.POINTS:g} ms",
        r"step \.010": f"{bench_points.ORDER:g} ms",
        "start of .(?:list|check. of (?:an engine|a spec))": f"{bench_start.BAR:g} ×",
        "faults in ": "0",
        "events lost": "0",
        "do not open": "0",
    }.items():
        assert said(work) == {bar}, work
