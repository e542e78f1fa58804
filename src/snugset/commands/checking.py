"""Showing every mistake in files."""

import sys

from snugset.commands.checker import Checker
from snugset.commands.output import say, say_json, warn
from snugset.files.problems import Problem, Problems


def check(files: tuple[str, ...], *, json: bool) -> int:
    """Show every mistake in files; 1 if there is one or a file cannot be had, else 0."""
    checker = Checker()
    lost = 0
    for file in files:
        try:
            checker.take(file)
        except OSError as error:
            lost += 1
            warn(f"snugset: {file}: {error.strerror}; check the path")
    found = checker.problems()
    if json:
        say_json([_as_json(problem) for problem in found])
    else:
        _show(found, checker.texts)
        if sys.stdout.isatty() and not found and not lost:
            count = len(checker.texts)
            say(f"No mistakes in {count} file{'s' if count > 1 else ''}.")
    return 1 if found or lost else 0


def _show(found: tuple[Problem, ...], texts: dict[str, str]) -> None:
    """Show a line for each, and to people also the place that it speaks of."""
    for problem in found:
        say(f"{problem}")
        if sys.stdout.isatty() and problem.mark.file in texts:
            snippet = Problems.caret(problem, texts[problem.mark.file])
            say(*(f"    {line}" for line in snippet.split("\n")))


def _as_json(problem: Problem) -> dict[str, object]:
    mark = problem.mark
    return {"file": mark.file, "line": mark.line, "column": mark.column, "message": problem.text}
