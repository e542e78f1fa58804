"""Folding records to a state, against ``json.loads`` of the same bodies."""

import json
from collections.abc import Iterator
from functools import partial
from itertools import cycle, islice
from math import log
from statistics import median

from bench.table import Row, interleaved, part_finished, timed
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.journal.reading import read_records
from snugset.values import replace

SIZES = (1250, 2500, 5000, 10000)
RUNS = 9
TIMES, EXPONENT = 5.0, 1.1


def journals() -> dict[int, list[Record]]:
    """Give journals of several lengths, of the demo's events over and over."""
    with part_finished() as data:
        first, *rest = read_records(data / "builds" / "barn-pump-six-spring-rebuild")
    rest = [record for record in rest if record.kind != "undone"]
    return {
        size: [
            first,
            *(
                replace(again, sequence=number, answer=number if again.answer else 0)
                for number, again in enumerate(islice(cycle(rest), size - 1), 2)
            ),
        ]
        for size in SIZES
    }


def rows() -> Iterator[Row]:
    """Fold every length by turns, and read the longest one's bodies."""
    builds = journals()
    texts = [json.dumps(record.body) for record in builds[SIZES[-1]][1:]]
    cases = {str(size): partial(timed, partial(fold, some)) for size, some in builds.items()}
    read = partial(timed, lambda: [json.loads(text) for text in texts])
    times = interleaved({**cases, "json": read}, RUNS)
    middle = {name: median(found) for name, found in times.items()}
    longest, shortest = middle[str(SIZES[-1])], middle[str(SIZES[0])]
    detail = f"{longest:.1f} ms against {middle['json']:.1f} ms"
    figure = longest / middle["json"]
    yield Row("fold of 10,000 events against `json.loads`", figure, "×", TIMES, detail)
    growth = log(longest / shortest) / log(SIZES[-1] / SIZES[0])
    detail = ", ".join(f"{size}: {middle[str(size)]:.1f} ms" for size in SIZES)
    yield Row("fold, growth exponent to 10,000 events", growth, "", EXPONENT, detail)
