"""Takes files of strangers through everything that reads them."""

import random
import time
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from snugset.commands.checker import Checker
from snugset.files.characters import forbidden
from snugset.files.problems import Problem, Problems
from snugset.guide.apply import fold
from snugset.guide.ask import progress, prompt
from snugset.opening import pin, pin_shared, spec_records
from snugset.play import read_answers_file
from snugset.stored import BuildError, begun, compiled, head_of

from . import mutants

_AT = datetime(2026, 11, 2, 18, 5, tzinfo=UTC)


class Tally(NamedTuple):
    """What came of many files."""

    files: int
    taken: int
    """Those in which a build could still be begun."""
    slowest: float
    """Milliseconds of the processor for one, checked and begun."""


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


def _begun(folder: Path) -> bool:
    """Begin a build as far as its first question; whether the files let it."""
    try:
        procedure, engine = pin(folder / "procedure.yaml"), pin(folder / "engine.yaml")
        shared = pin_shared(folder / "procedure.yaml", procedure)
        plan = compiled(procedure, engine, shared)
        first = begun("x", procedure, engine, at="2026-11-02T18:04:00Z", person="P", shared=shared)
        records = [first]
        records += spec_records(plan, pin(folder / "specs.yaml"), fold(records), "P", _AT)
        state = fold(records)
        prompt(plan, state, _AT)
        progress(plan, state, _AT)
        head_of(plan, state, _AT)
        read_answers_file(folder / "answers.yaml")
    except BuildError as error:
        assert str(error)
        assert not [*forbidden(str(error))], str(error)
        return False
    return True


def check_mutants(seeds: Iterable[int], folder: Path) -> Tally:
    """Spoil one file of a build a seed, and read all of it; any other exception is a fault."""
    whole = mutants.shipped()
    mutants.put(folder, whole)
    names = [
        "procedure",
        "engine",
        "specs",
        "answers",
        *(f"shared/{name}" for name in whole.shared),
    ]
    count = taken = 0
    slowest = 0.0
    for seed in seeds:
        rng = random.Random(seed)
        name = rng.choice(names)
        file = folder / f"{name}.yaml"
        text = file.read_text("utf-8")
        file.write_bytes(mutants.written(rng, mutants.mutant(rng, text)))
        started = time.process_time()
        try:
            if rng.random() < 0.5:
                told(folder / "answers.yaml", file)
            else:
                told(*(folder / f"{sort}.yaml" for sort in ("procedure", "engine", "specs")))
            taken += _begun(folder)
        except Exception as error:
            error.add_note(f"seed {seed}, {name}")
            raise
        slowest = max(slowest, time.process_time() - started)
        file.write_text(text, "utf-8")
        count += 1
    return Tally(count, taken, slowest * 1000)
