"""A build that nearly every test here looks at; played once."""

import pytest

from snugset.sheet import Sheet, sheet_of

from .driver import Bench, begin

DIGEST = "5f" * 32
GAPS = {"1I": "74; 75", "5I": "71; 72", "4E": "76; 77"}


def eventful() -> Bench:
    """Play a build to its end in which much goes wrong that can."""
    bench = begin()
    bench.gap = lambda at: GAPS.get(at.place, "78; 79") if at.round == 1 else "38; 39"
    bench.replies = {
        "deck-flat": ".0033 ! skimmed twice; allowed by the gasket's maker",
        "probe-hole@9": "wet through",
        "gasket-mark": "skip no mark on this gasket",
        "roll@3E": "skip plate lent out",
        "rags-out": "11 ! one was seen to burn",
    }
    bench.until("probe-hole@14")
    bench.take("note it weeps")
    _head(bench)
    _first_round(bench)
    _second_round(bench)
    bench.until("")
    return bench


def _head(bench: Bench) -> None:
    """Break off the first stage after three nuts; it is voided and done again."""
    bench.until("head-tighten@1.11")
    for _ in range(3):
        bench.take("")
    bench.leave(hours=2)


def _first_round(bench: Bench) -> None:
    """Take one reading back, read one again, order, and wait nine days."""
    bench.until("gap@1E#1")
    bench.take("60; 61")
    bench.take("back")
    bench.until("gap@3I#1")
    bench.take("again 72; 73", at="gap@5I#1")
    bench.until("post#1")
    bench.take("")
    bench.leave(days=9)
    bench.person = "Ash"
    bench.take("")
    bench.take("arrived", at="post#1")


def _second_round(bench: Bench) -> None:
    """Find an old pushrod still in, and keep one reading against its prediction."""
    bench.until("gap@3I#2")
    outcome = bench.say("78; 79")
    assert outcome.code == "old"
    bench.until("gap@6E#2")
    bench.take("50; 51 ! straightedge checked, it is so")


@pytest.fixture(scope="session")
def finished() -> Bench:
    """Give a build that is finished, with all that went wrong on record."""
    return eventful()


@pytest.fixture(scope="session")
def sheet(finished: Bench) -> Sheet:
    """Give its sheet."""
    return sheet_of(finished.plan, finished.records, DIGEST)
