"""The walk from an empty file: it is sound after every step, and its trial plays."""

import re
from pathlib import Path
from textwrap import indent

from snugset.files.problems import Problems
from snugset.guide.kinds import BLOCKS
from snugset.journal.shelf import Shelf
from snugset.plan.plan import Pinned, read_plan
from snugset.play import play

PAGE = (Path(__file__).parents[2] / "docs" / "author.md").read_text("utf-8")
SNIPPETS: list[str] = re.findall(r"^```yaml\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)


def whole(sort: str) -> str:
    (found,) = (text for text in SNIPPETS if text.startswith(f"snugset: {sort}/1\n"))
    return found


def grown() -> list[str]:
    """Give the procedure after each step of the walk: figures come with the steps after them."""
    head, _, steps = whole("procedure").partition("phases:\n")
    figures = ""
    found = [head + "phases:\n" + steps]
    for text in SNIPPETS:
        if text.startswith("figures:\n"):
            figures += text.removeprefix("figures:\n")
        elif text.startswith("- "):
            steps += indent(text, "      ")
            shared = "shared: [closing]\n" if "- use: coolant" in steps else ""
            asked = f"figures:\n{figures}" if figures else ""
            found.append(f"{head}{shared}{asked}phases:\n{steps}")
    return found


def test_the_procedure_is_sound_after_every_step() -> None:
    engine = Pinned(file="shed-four.yaml", text=whole("engine"))
    shared = {"closing": Pinned(file="shared/closing.yaml", text=whole("steps"))}
    assert len(grown()) > 6
    for text in grown():
        into = Problems()
        plan = read_plan(Pinned(file="head-on.yaml", text=text), engine, BLOCKS, into, shared)
        assert plan is not None, (text, [str(problem) for problem in into.items])


def test_the_trial_plays(tmp_path: Path) -> None:
    files = {
        "head-on.yaml": grown()[-1],
        "shed-four.yaml": whole("engine"),
        "shared/closing.yaml": whole("steps"),
        "shed-specs.yaml": whole("specs"),
        "trial.yaml": whole("answers"),
    }
    (tmp_path / "shared").mkdir()
    for name, text in files.items():
        assert f"`{name}`" in PAGE
        (tmp_path / name).write_text(text, "utf-8")
    played = play(tmp_path / "trial.yaml", Shelf(tmp_path / "data"))
    assert (played.refused, played.finished) == (3, False)
