"""Spec sheet files: text kept, values read as the procedure's figures ask."""

from decimal import Decimal

import pytest

from snugset.files.figures import Figure, Window
from snugset.files.problems import Problems
from snugset.files.procedure import read_procedure
from snugset.files.specs import SpecSheet, read_specs
from snugset.files.tree import Node
from snugset.units import Quantity

from .kinds import KINDS
from .reading import PROCEDURE, SPECS, changed, told, value

FIGURES = value(PROCEDURE, lambda node, into: read_procedure(node, KINDS, into)).figures


def read(node: Node, into: Problems) -> SpecSheet | None:
    return read_specs(node, FIGURES, into)


def test_values_are_read_as_the_figures_ask() -> None:
    sheet = value(SPECS, read)
    assert (sheet.engine, sheet.note) == ("engines/barn.yaml", "Invented.")
    stages = sheet.figures["stages"]
    assert stages.text == "22, 45, 110 lbf·ft"
    assert stages.value == tuple(Quantity(Decimal(n), "lbf·ft") for n in (22, 45, 110))
    assert (stages.source, stages.assumes, stages.none) == ("leaflet p. 4", "engine oil", False)
    assert str(stages.mark) == "f:5:19"
    assert isinstance(sheet.figures["window"].value, Window)
    assert sheet.figures["target"].value == Quantity(Decimal(35), "thou")
    camshaft = sheet.figures["camshaft"]
    assert (camshaft.none, camshaft.value, camshaft.text) == (True, None, "")


def test_without_a_procedure_the_text_is_kept() -> None:
    sheet = value(SPECS, lambda node, into: read_specs(node, None, into))
    assert sheet.figures["target"].text == "35"
    assert sheet.figures["target"].value is None


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "  stages:",
            "  stagse:",
            ["5:11: the procedure asks for no figure “stagse” (did you mean “stages”?)"],
        ),
        (
            ", source: leaflet p. 4",
            "",
            ["5:11: “source” is missing here; say where the figure stands"],
        ),
        (
            ", assumes: engine oil",
            "",
            [
                (
                    "5:11: “assumes” is missing here; it answers “Lubricant on the "
                    "nut threads and faces?”"
                ),
            ],
        ),
        (
            "22, 45, 110",
            "22, 110, 45",
            [
                (
                    "5:19: 45 lbf·ft comes after 110 lbf·ft; each figure must be "
                    "above the one before it"
                ),
            ],
        ),
        (
            "value: 35",
            "value: 45",
            ["7:19: 45 thou lies outside “window”, 30 to 40 thou; mend one of them"],
        ),
        (
            "{value: 35, source: leaflet p. 9}",
            "{none: yes}",
            [
                "7:11: “target” must be had; the work cannot go on without it",
            ],
        ),
        (
            "{none: yes}",
            "{none: no}",
            [
                "8:13: “value” is missing here; give the figure, or write none: yes",
            ],
        ),
        (
            "{none: yes}",
            "{none: yes, value: x}",
            [
                "8:20: a figure that is not had has no value; take out one of the two",
            ],
        ),
        (
            "{none: yes}",
            "none",
            [
                (
                    "8:13: “none” stands where a group of fields (value, source, "
                    "assumes, none) belongs"
                ),
            ],
        ),
    ],
)
def test_a_mistake_is_told_with_place_and_fix(old: str, new: str, expected: list[str]) -> None:
    assert told(changed(SPECS, old, new), read) == [f"f:{line}" for line in expected]


def test_a_figure_within_a_window_of_another_unit_is_compared_in_one() -> None:
    sheet = changed(SPECS, "value: 35", "value: 0.9 mm")
    assert value(sheet, read).figures["target"].value == Quantity(Decimal("0.9"), "mm")


def test_figures_are_frozen() -> None:
    figure: Figure = FIGURES["target"]
    with pytest.raises(AttributeError):
        figure.ask = "x"  # type: ignore[misc]
