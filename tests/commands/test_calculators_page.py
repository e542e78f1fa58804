"""The page of the calculators is what the declarations make of it."""

import subprocess
import sys
from pathlib import Path

from snugset.commands.reference import page
from snugset.trade.calculators import CALCULATORS

PAGE = Path(__file__).parents[2] / "docs" / "calculators.md"


def test_the_page_is_current() -> None:
    assert PAGE.read_text(encoding="utf-8") == f"{page()}\n", (
        "make it again: python -m snugset.commands.reference > docs/calculators.md"
    )


def test_every_calculator_key_and_output_is_on_it() -> None:
    text = page()
    for calculator in CALCULATORS.values():
        part = text.partition(f"\n## {calculator.name}\n")[2].partition("\n## ")[0]
        assert calculator.source in part
        keys = [one.key for one in calculator.inputs] + [out.key for out in calculator.outputs]
        for key in keys:
            assert f"\n| `{key}` | " in part, (calculator.name, key)
        for line in calculator.formula:
            assert f"\n    {line}\n" in part


def test_it_is_made_by_its_command_and_the_screen_is_not_loaded_for_it() -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "snugset.commands.reference"],
        check=True, capture_output=True, text=True, encoding="utf-8",
    )  # fmt: skip
    assert done.stdout == PAGE.read_text(encoding="utf-8")
    loaded = {line.rpartition("|")[2].strip() for line in done.stderr.splitlines()}
    assert "snugset.trade.calculators" in loaded
    assert not loaded & {"textual", "rich", "yaml", "sqlite3"}
