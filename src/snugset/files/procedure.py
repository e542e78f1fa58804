"""Reads a procedure file: its figures, and the ordered steps in their phases."""

from collections.abc import Mapping

from snugset.files.engine import FEATURES
from snugset.files.figure_shape import FIGURES, check_figures
from snugset.files.figures import Figure
from snugset.files.naming import every_step
from snugset.files.problems import Mark, Problems, quote
from snugset.files.shapes import Block, Field, ListOf, Located, Schema, Text, Word
from snugset.files.shared import (
    MOST,
    Groups,
    Shared,
    SharedName,
    check_groups,
    check_ids,
    figures_with,
    names_in,
)
from snugset.files.step_shape import StepShape
from snugset.files.steps import VIEWS, KindBlock, Phase, Procedure, Step
from snugset.files.tree import Node
from snugset.files.versions import Version
from snugset.values import replace

__all__ = [
    "VIEWS",
    "KindBlock",
    "Phase",
    "Procedure",
    "Step",
    "procedure_schema",
    "read_procedure",
]


def read_procedure(
    node: Node,
    kinds: Mapping[str, KindBlock],
    into: Problems,
    shared: Mapping[str, Shared | None] | None = None,
    before: dict[int, Step] | None = None,
) -> Procedure | None:
    """Return the procedure, shared groups in their places; None once a problem was added.

    Beyond its fields: every step has its own id and one known kind, needs name steps, figures name
    figures. `kinds` is by the key that gives a step its kind; `shared` by the bare name of the
    file, None for one that could not be read; `before` is `StepShape`'s, for a file that is read
    again without some of its parts.
    """
    found = into.found
    steps = StepShape(kinds, before)
    procedure = _shape(steps).read(node, into)
    if procedure is None:
        if steps.whole and not names_in(node):
            steps.check_needs(into)
        return None
    files = _files(procedure.shared, shared or {}, into)
    readable = {name: each for name, each in files.items() if each is not None}
    check_groups(readable, into)
    groups = Groups(readable, whole=len(readable) == len(procedure.shared), into=into)
    phases = tuple(replace(phase, steps=groups.expand(phase.steps)) for phase in procedure.phases)
    every = tuple(step for phase in phases for step in phase.steps)
    check_ids(every, into)
    if groups.whole:
        _check_needs(steps, every, into)
    figures = figures_with(procedure.figures, readable, every)
    if groups.whole:
        check_figures(figures, into)
    if into.found > found or not groups.whole:
        return None
    return replace(procedure, phases=phases, figures=figures)


def _files(
    named: tuple[tuple[str, Mark], ...], shared: Mapping[str, Shared | None], into: Problems
) -> Mapping[str, Shared | None]:
    files: dict[str, Shared | None] = {}
    for name, mark in named:
        if name in files:
            into.add(mark, f"{quote(name)} is named twice; once is enough")
        elif name not in shared:
            into.add(
                mark,
                f"there is no file shared/{name}.yaml beside this one; put it there or mend the "
                "name",
                ("shared",),
            )
        else:
            files[name] = shared[name]
    if len(named) > MOST:
        into.add(named[MOST][1], f"{len(named)} shared files are named; {MOST} are the most")
    return files


def _check_needs(own: StepShape, every: tuple[Step, ...], into: Problems) -> None:
    """Hold the needs of the file's own steps and of the shared ones against all ids."""
    ids = dict.fromkeys(step.id for step in every_step(every))
    own.check_needs(into, ids)
    for step in every_step(every):
        if step.id not in own.ids:
            for word, mark in zip(step.needs, step.need_marks, strict=True):
                if word not in ids:
                    near = into.near(word, ids) or "; name a step of the procedure"
                    into.add(mark, f"there is no step {quote(word)}{near}", (word,))


def procedure_schema(kinds: Mapping[str, KindBlock]) -> Schema:
    """Return the JSON Schema of procedure files with steps of these kinds."""
    steps = StepShape(kinds)
    return {**_shape(steps).schema(), "$defs": steps.definitions()}


def _expected(**features: object) -> Mapping[str, str]:
    return {name: str(value) for name, value in features.items() if value is not None}


def _procedure(
    *,
    snugset: str,  # noqa: ARG001 -- the version says how to read the rest, and is read
    name: str,
    note: str,
    expects: Mapping[str, str],
    shared: tuple[tuple[str, Mark], ...],
    leaves: tuple[tuple[str, Mark], ...],
    figures: Mapping[str, Figure],
    phases: tuple[Phase, ...],
) -> Procedure:
    return Procedure(
        name=name,
        note=note,
        expects=expects,
        shared=shared,
        leaves=leaves,
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
            "shared": Field(
                ListOf(Located(SharedName()), lone=True),
                default=(),
                help="Files of shared groups, by their bare names in the folder shared.",
            ),
            "leaves": Field(
                ListOf(Located(Word()), lone=True),
                default=(),
                help="Groups of the engine's fasteners that it leaves as they are.",
            ),
            "figures": Field(FIGURES, default={}, help="The figures that the builder brings."),
            "phases": Field(ListOf(phase, least=1), needed=True, help="The work, in stretches."),
        },
    )
