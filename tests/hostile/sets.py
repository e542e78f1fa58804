"""Every file that is shipped, by the sets that belong together; what of them is read but once."""

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

from driving import ROOT
from snugset.files import shared as shared_files
from snugset.files import tree as located
from snugset.files.problems import Problems
from snugset.files.steps import Step
from snugset.shipped import demo, engines, procedures

from . import trees
from .mutants import Files

_WALKED = ROOT / "tests" / "walk"
_MORE = {"canal-tug-eight", "dairy-twin", "hay-lift-single"}
"""Engines that no answers file plays; they stand in for the engine of every set."""
SORTS = ("procedure", "engine", "specs")
"""The files that a build is begun with."""


def _text(path: Path) -> str:
    return path.read_text("utf-8")


def played(answers: Path) -> Files:
    """Give the files that an answers file names, and itself, naming them as they are put."""
    text = _text(answers)
    named = {sort: re.search(rf"^{sort}: (.*)$", text, re.MULTILINE) for sort in SORTS}
    files = {sort: answers.parent / found[1] for sort, found in named.items() if found}
    beside = files["procedure"].resolve().parent / "shared"
    wanted = trees.tree(_text(files["procedure"])).get("shared", [])
    names = [wanted] if isinstance(wanted, str) else wanted
    return Files(
        shared={name: _text(beside / f"{name}.yaml") for name in names},
        answers=re.sub(r"^(procedure|engine|specs): .*$", r"\1: \1.yaml", text, flags=re.MULTILINE),
        **{sort: _text(file) for sort, file in files.items()},
    )


@cache
def sets() -> tuple[Files, ...]:
    """Give the demo, every build that is walked in the tests, and the engines that are in none."""
    found = [played(path) for path in (demo(), *sorted(_WALKED.glob("*-answers.yaml")))]
    more = [_text(engines()[name]) for name in sorted(_MORE)]
    every = [*found, *(found[n]._replace(engine=text) for n, text in enumerate(more, 1))]
    assert {each.procedure for each in every} == {_text(path) for path in procedures().values()}
    assert {each.engine for each in every} == {_text(path) for path in engines().values()}
    return tuple(every)


def kinds(files: Files) -> dict[str, str]:
    """Give the texts of a set by the names of their files, without the ending."""
    return {
        **{sort: getattr(files, sort) for sort in (*SORTS, "answers")},
        **{f"shared/{name}": text for name, text in files.shared.items()},
    }


@cache
def every_text() -> Mapping[str, str]:
    """Give every text of every set once, by its sort and number."""
    texts: dict[str, str] = {}
    for files in sets():
        for name, text in kinds(files).items():
            texts.setdefault(text, f"{name.partition('/')[0]} {len(texts)}")
    return {name: text for text, name in texts.items()}


@contextmanager
def remembered() -> Iterator[None]:
    """Read each text that is shipped as it is but once: only what is spoiled is read anew.

    A text that had a mistake is never remembered, so every mistake is told every time.
    """
    whole = set(every_text().values())
    nodes: dict[tuple[str, str], located.Node] = {}
    groups: dict[int, Any] = {}
    kept: set[int] = set()
    parse, read_shared = located.parse, shared_files.read_shared

    def parsed(source: str | bytes, file: str, into: Problems) -> located.Node | None:
        text = source.decode("utf-8", "replace") if isinstance(source, bytes) else source
        if text not in whole:
            return parse(source, file, into)
        if (text, file) not in nodes:
            found = parse(source, file, into)
            assert found is not None
            nodes[text, file] = found
            kept.add(id(found))
        return nodes[text, file]

    def read(
        node: located.Node,
        blocks: Mapping[str, Any],
        into: Problems,
        before: dict[int, Step] | None = None,
    ) -> object:
        if id(node) not in groups:
            had = into.found
            found = read_shared(node, blocks, into, before)
            if into.found > had or id(node) not in kept:
                return found
            groups[id(node)] = found
        return groups[id(node)]

    places: tuple[tuple[str, Callable[..., Any]], ...] = (
        *((f"snugset.{name}.parse", parsed) for name in _PARSERS),
        ("snugset.plan.plan.read_shared", read),
        ("snugset.files.shared.read_shared", read),
    )
    with ExitStack() as stack:
        for name, work in places:
            stack.enter_context(patch(name, work))
        yield


_PARSERS = ("plan.plan", "files.whole", "commands.checker", "opening")
