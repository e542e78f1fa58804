"""Reads a procedure file: its figures, and the ordered steps in their phases."""

from collections.abc import Mapping
from dataclasses import replace

from snugset.files.engine import FEATURES
from snugset.files.figure_shape import FIGURES, check_figures
from snugset.files.figures import Figure
from snugset.files.problems import Problems
from snugset.files.shapes import Block, Field, ListOf, Schema, Text
from snugset.files.step_shape import StepShape
from snugset.files.steps import VIEWS, KindBlock, Phase, Procedure, Step
from snugset.files.tree import Node
from snugset.files.versions import Version

__all__ = [
    "VIEWS",
    "KindBlock",
    "Phase",
    "Procedure",
    "Step",
    "procedure_schema",
    "read_procedure",
]


def read_procedure(node: Node, kinds: Mapping[str, KindBlock], into: Problems) -> Procedure | None:
    """Return the procedure; None once a problem was added.

    Beyond its fields: every step has its own id and one known kind, needs name steps, figures name
    figures. `kinds` is by the key that gives a step its kind.
    """
    found = into.found
    steps = StepShape(kinds)
    procedure = _shape(steps).read(node, into)
    steps.check_needs(into)
    if procedure is not None:
        check_figures(procedure.figures, into)
    return None if into.found > found else procedure


def procedure_schema(kinds: Mapping[str, KindBlock]) -> Schema:
    """Return the JSON Schema of procedure files with steps of these kinds."""
    steps = StepShape(kinds)
    return {**_shape(steps).schema(), "$defs": {"step": steps.definition()}}


def _expected(**features: object) -> Mapping[str, str]:
    return {name: str(value) for name, value in features.items() if value is not None}


def _procedure(
    *,
    snugset: str,  # noqa: ARG001 -- the version says how to read the rest, and is read
    name: str,
    note: str,
    expects: Mapping[str, str],
    figures: Mapping[str, Figure],
    phases: tuple[Phase, ...],
) -> Procedure:
    return Procedure(
        name=name,
        note=note,
        expects=expects,
        figures={key: replace(figure, name=key) for key, figure in figures.items()},
        phases=phases,
    )


_EXPECTS = Block(_expected, {name: Field(shape) for name, shape in FEATURES.items()})


def _shape(steps: StepShape) -> Block[Procedure]:
    phase = Block(
        Phase,
        {
            "title": Field(Text(120), needed=True, help="What this stretch of the work is called."),
            "steps": Field(ListOf(steps, least=1), needed=True, help="The steps in their order."),
        },
        marked=True,
    )
    return Block(
        _procedure,
        {
            "snugset": Field(Version("procedure"), needed=True, help="Sort and version."),
            "name": Field(Text(120), needed=True, help="What the procedure is called."),
            "note": Field(Text(), default="", help="Anything worth knowing about the file."),
            "expects": Field(_EXPECTS, default={}, help="Engine features that must be so."),
            "figures": Field(FIGURES, default={}, help="The figures that the builder brings."),
            "phases": Field(ListOf(phase, least=1), needed=True, help="The work, in stretches."),
        },
    )
