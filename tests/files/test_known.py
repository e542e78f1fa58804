"""What an engine file knows of what a calculator asks."""

from decimal import Decimal
from pathlib import Path

from snugset.files.engine import Engine, read_engine
from snugset.files.known import known
from snugset.files.problems import Problems
from snugset.files.tree import parse
from snugset.trade.calculators import figure

FILE = Path(__file__).parents[2] / "procedures" / "engines" / "barn-pump-six.yaml"
TEXT = FILE.read_text(encoding="utf-8")


def engine(text: str) -> Engine:
    into = Problems()
    node = parse(text, "engine.yaml", into)
    assert node is not None
    found = read_engine(node, into)
    assert found is not None, into.items
    return found


def test_an_engine_file_is_enough_for_its_valves() -> None:
    pump = known(engine(TEXT))
    assert pump == {
        "firing_order": "1-5-3-6-2-4",
        "camshaft": "IVO 10 IVC 46 EVO 50 EVC 8 at seat",
    }
    result = figure("valves", {"engine": "pump", "angle": "0"}, engines=lambda _: pump)
    assert result.working[0] == "number one: at top on compression, both valves closed"


def test_uneven_intervals_are_told_and_a_card_that_is_not_there_is_not() -> None:
    text = TEXT.replace("[120, 120, 120, 120, 120, 120]", "[150, 90, 150, 90, 150, 90]")
    text = "\n".join(line for line in text.split("\n") if not line.startswith("camshaft:"))
    found = engine(text)
    assert found.intervals[0] == Decimal(150)
    assert known(found) == {
        "firing_order": "1-5-3-6-2-4",
        "intervals": "150, 90, 150, 90, 150, 90",
    }
