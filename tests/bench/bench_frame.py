"""From exec to the first frame on a pseudo-terminal, against a bare one-widget Textual app."""

from collections.abc import Iterator
from functools import partial

from bench.table import MAIN, Row, interleaved, part_finished, ratio
from bench.terminal import running

RUNS = 15
LIST, OPENED = 1.35, 1.7
BARE = """
from textual.app import App
from textual.widgets import Static

class Bare(App):
    def compose(self):
        yield Static("Bare frame")

Bare().run()
"""


def rows() -> Iterator[Row]:
    """Measure the list, the demo and resuming; of the last two the prompt as well."""
    prompts: dict[str, list[float]] = {"demo": [], "resume": []}
    with part_finished() as data:

        def first(name: str, words: list[str], *marks: str) -> float:
            with running(words, data) as child:
                times = [child.until(mark) for mark in marks]
            prompts.get(name, []).append(times[-1])
            return times[0]

        ours = ["-c", MAIN]
        times = interleaved(
            {
                "bare": partial(first, "bare", ["-c", BARE], "Bare frame"),
                "list": partial(first, "list", ours, "Barn pump"),
                "demo": partial(first, "demo", [*ours, "demo"], "Snugset", "gap@4I"),
                "resume": partial(first, "resume", [*ours, "resume"], "Barn pump", "You are back"),
            },
            RUNS,
        )
    for name, bar in (("list", LIST), ("demo", OPENED), ("resume", OPENED)):
        figure, detail = ratio(times, name, "bare")
        yield Row(f"exec to first frame: {name}", figure, "×", bar, detail)
    for name, found in prompts.items():
        figure, detail = ratio({"bare": times["bare"], name: found[1:]}, name, "bare")
        yield Row(f"exec to the prompt itself: {name}", figure, "×", None, detail)
