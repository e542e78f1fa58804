"""Checking a file of 2,000 lines against loading it unchecked with the parser in C."""

from collections.abc import Iterator

import yaml

from bench.table import Row, interleaved, ratio, timed
from files.test_speed import big_engine
from snugset.commands.checker import Checker
from snugset.files.engine import read_engine
from snugset.files.problems import Problems
from snugset.files.tree import parse
from snugset.shipped import procedures

BAR = 3.0
RUNS = 15


def engine(text: str) -> None:
    """Check an engine file; SystemExit if it has a mistake."""
    into = Problems()
    node = parse(text, "engine", into)
    if node is None or read_engine(node, into) is None:
        raise SystemExit(str(into.items))


def whole(file: str) -> tuple[str, ...]:
    """Check a procedure with the shared groups that it uses; the texts that were read."""
    checker = Checker()
    checker.take(file)
    if checker.problems():
        raise SystemExit(str(checker.problems()))
    return tuple(checker.texts.values())


def loaded(texts: tuple[str, ...]) -> float:
    """Load files unchecked; milliseconds."""
    return timed(lambda: [yaml.load(text, Loader=yaml.CSafeLoader) for text in texts])


def rows() -> Iterator[Row]:
    """Check an engine of more than 2,000 lines, and the longest procedure with its groups."""
    large, file = (big_engine(),), str(procedures()["v6-odd-fire-hydraulic"])
    groups = whole(file)
    times = interleaved(
        {
            "engine": lambda: timed(lambda: engine(*large)),
            "engine loaded": lambda: loaded(large),
            "procedure": lambda: timed(lambda: whole(file)),
            "procedure loaded": lambda: loaded(groups),
        },
        RUNS,
    )
    for name, texts in (("engine", large), ("procedure", groups)):
        figure, detail = ratio(times, name, f"{name} loaded")
        count = sum(text.count("\n") for text in texts)
        work = f"check of {count} lines ({name}) against `CSafeLoader`, imports excluded"
        yield Row(work, figure, "×", BAR, detail)
