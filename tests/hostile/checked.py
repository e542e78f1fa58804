"""Takes files of strangers through everything that reads them, and works with what is taken."""

import random
import signal
import threading
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import NamedTuple

from driving import Table
from snugset.commands.checker import Checker
from snugset.files.characters import forbidden
from snugset.files.problems import Problem, Problems
from snugset.guide.ask import progress, prompt
from snugset.opening import pin, pin_shared
from snugset.play import read_answers_file
from snugset.stored import BuildError, compiled

from . import mutants, sets, trees, worked

_AT = datetime(2026, 11, 2, 18, 5, tzinfo=UTC)
_LONGEST = 20.0
"""Seconds of the processor after which something counts as without an end."""


class Tally(NamedTuple):
    """What came of many files."""

    files: int
    taken: int
    """Those in which a build could still be begun."""
    slowest: float
    """Milliseconds of the processor for one, checked, begun, or worked with."""


class EndlessError(Exception):
    """Something took the processor for longer than anything may."""


def told(*files: Path) -> list[str]:
    """Check files, and hold what holds of every mistake; their words."""
    checker = Checker()
    for file in files:
        checker.take(str(file))
    return [_sound(one, checker.texts) for one in checker.problems()]


def _sound(problem: Problem, texts: dict[str, str]) -> str:
    assert not [*forbidden(problem.text)], problem
    assert len(problem.text) < 2000, problem
    text = texts[problem.mark.file]
    assert 1 <= problem.mark.line <= text.count("\n") + 1, problem
    assert Problems.caret(problem, text).endswith("^")
    return problem.text


def begun(folder: Path) -> Table | None:
    """Begin a build as far as its first question; None where the files do not let it."""
    try:
        procedure, engine = pin(folder / "procedure.yaml"), pin(folder / "engine.yaml")
        shared = pin_shared(folder / "procedure.yaml", procedure)
        plan = compiled(procedure, engine, shared)
        table = Table(plan, procedure, engine, shared, now=_AT).begin(pin(folder / "specs.yaml"))
        prompt(plan, table.state, _AT)
        progress(plan, table.state, _AT)
        read_answers_file(folder / "answers.yaml")
    except BuildError as error:
        assert str(error)
        assert not [*forbidden(str(error))], str(error)
        return None
    return table


@cache
def nodes() -> list[trees.Place]:
    """Give the nodes of every file, to be put where they do not belong."""
    texts = sets.every_text().values()
    return [place for text in texts for place in trees.places(trees.tree(text))]


@cache
def _known(answers: str) -> worked.Known:
    return worked.Known(answers)


@contextmanager
def ending(*, real: bool = False) -> Iterator[None]:
    """Raise EndlessError out of what takes the processor too long, where that can be done.

    `real` also counts the time in which nothing is done: what waits for ever.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def stop(_number: int, _frame: object) -> None:
        raise EndlessError

    clock = signal.ITIMER_REAL if real else signal.ITIMER_VIRTUAL
    alarm = signal.SIGALRM if real else signal.SIGVTALRM
    before = signal.signal(alarm, stop)
    signal.setitimer(clock, _LONGEST)
    try:
        yield
    finally:
        signal.setitimer(clock, 0)
        signal.signal(alarm, before)


def check_mutants(seeds: Iterable[int], folder: Path) -> Tally:
    """Spoil one file of a build a seed, and read all of it; any other exception is a fault.

    Half are spoiled by line and letter, half by what their lines mean. Where a build can still be
    begun it is worked with for a while, and written down.
    """
    count = taken = 0
    slowest = 0.0
    with sets.remembered():
        for seed in seeds:
            rng = random.Random(seed)
            files = rng.choice(sets.sets())
            name = rng.choice(sorted(sets.kinds(files)))
            try:
                with ending():
                    took, worked_with = _tried(rng, files, name, folder)
            except Exception as error:
                error.add_note(f"seed {seed}, {name}")
                raise
            slowest = max(slowest, took)
            taken += worked_with
            count += 1
    return Tally(count, taken, slowest * 1000)


def _tried(rng: random.Random, files: mutants.Files, name: str, folder: Path) -> tuple[float, bool]:
    """Try one file; the most seconds that anything took, and whether a build was begun."""
    mutants.put(folder, files)
    text = sets.kinds(files)[name]
    by_tree = rng.random() < 0.5
    spoiled = trees.mutant(rng, text, nodes()) if by_tree else mutants.mutant(rng, text)
    (folder / f"{name}.yaml").write_bytes(mutants.written(rng, spoiled))
    started = time.process_time()
    sound = False
    match rng.randrange(4):
        case 0:
            told(folder / "answers.yaml", folder / f"{name}.yaml")
        case 1:
            sound = not told(*(folder / f"{sort}.yaml" for sort in sets.SORTS))
    checked = time.process_time()
    table = begun(folder)
    took = [checked - started, time.process_time() - checked]
    assert table is not None or not sound or name == "answers", "checked, and yet not begun"
    if table is not None:
        started = time.process_time()
        most, right = rng.choice([(1, 0.5), (2, 0.5), (4, 0.7), (8, 0.9), (40, 0.95)])
        worked.walk(rng, table, _known(files.answers), most, right)
        took.append(time.process_time() - started)
        if rng.random() < 0.2:
            started = time.process_time()
            assert all(worked.written_down(table, page=rng.random() < 0.3).values())
            took.append(time.process_time() - started)
    return max(took), table is not None
