"""The bar for checking a file: within three times of loading it unchecked."""

import time
from collections.abc import Callable

import pytest
import yaml

from snugset.files.engine import read_engine
from snugset.files.problems import Problems
from snugset.files.tree import parse

from .reading import ENGINE


def shortest(run: Callable[[], object]) -> float:
    times = []
    for _ in range(9):
        started = time.perf_counter()
        run()
        times.append(time.perf_counter() - started)
    return min(times)


def big_engine() -> str:
    lines = [*ENGINE.partition("fasteners:\n")[0].split("\n")[:-1], "fasteners:"]
    for group in range(14):
        lines += [f"  group-{group}:", "    kind: stud", "    places:"]
        for n in range(28):
            x, y = f"{n // 2 * 2.5}{group:02}", f"{n % 2 * 3}.{n:02}"
            lines += [f"      p{n}:", f"        x: {x} in", f"        y: {y} in"]
            lines += ["        hole: wet through", "        length: 4.25 in"]
    return "\n".join(lines) + "\n"


@pytest.mark.skipif(not hasattr(yaml, "CSafeLoader"), reason="the bar is set by the parser in C")
def test_two_thousand_lines_are_checked_within_three_times_of_loading() -> None:
    text = big_engine()
    assert text.count("\n") > 2000

    def check() -> None:
        into = Problems()
        node = parse(text, "f", into)
        assert node is not None
        assert read_engine(node, into) is not None, into.items

    load = shortest(lambda: yaml.load(text, Loader=yaml.CSafeLoader))
    assert shortest(check) <= 3 * load
