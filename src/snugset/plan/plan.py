"""Procedure and engine, pinned as text and compiled."""

from collections.abc import Mapping

from snugset.files.engine import Engine, read_engine
from snugset.files.figures import Figure
from snugset.files.naming import every_step
from snugset.files.problems import Problems
from snugset.files.procedure import read_procedure
from snugset.files.shared import Shared, read_shared
from snugset.files.steps import KindBlock, Phase, Procedure, Step
from snugset.files.tree import parse
from snugset.plan.check import check_against, check_procedure, check_shared
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinned:
    """A file as it was on the day the build began."""

    file: str
    """Its name, for messages."""
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """What is to be done, on which engine."""

    procedure: Procedure
    engine: Engine
    steps: Mapping[str, Step]
    """Every step by id, containers and leaves."""
    phase_of: Mapping[str, str]
    """The title of the phase each step stands in."""
    figure_steps: tuple[Step, ...]
    """The spec sheet's prompts, one step for each figure."""
    above: Mapping[str, tuple[Step, ...]]
    """The containers that each step stands in, the outermost first."""

    def phase(self, step: str) -> str:
        """Give the title of the phase that a step stands in; ``points.turn`` stands with points."""
        return self.phase_of.get(step) or self.phase_of.get(step.rpartition(".")[0], "")

    @property
    def phases(self) -> tuple[Phase, ...]:
        """The phases in order."""
        return self.procedure.phases

    def figure(self, name: str) -> Figure:
        """Give a figure by name; KeyError if the procedure asks for none such."""
        return self.procedure.figures[name]


def figure_step(figure: Figure) -> Step:
    """Make the step that asks for one figure of the spec sheet."""
    return Step(
        kind="spec",
        id=f"spec.{figure.name}",
        mark=figure.mark,
        say=figure.ask,
        why=figure.why,
        block=figure,
        conditions=figure.conditions,
        children={},
    )


def compile_plan(procedure: Procedure, engine: Engine) -> Plan:
    """Put procedure and engine together; both were checked when they were read."""
    steps: dict[str, Step] = {}
    phase_of: dict[str, str] = {}
    figure_steps = tuple(figure_step(f) for f in procedure.figures.values())
    for step in figure_steps:
        steps[step.id] = step
        phase_of[step.id] = "Spec sheet"
    for phase in procedure.phases:
        for step in every_step(phase.steps):
            steps[step.id] = step
            phase_of[step.id] = phase.title
    above: dict[str, tuple[Step, ...]] = {}
    for phase in procedure.phases:
        _stand(phase.steps, (), above)
    return Plan(
        procedure=procedure,
        engine=engine,
        steps=steps,
        phase_of=phase_of,
        figure_steps=figure_steps,
        above=above,
    )


def _stand(
    steps: tuple[Step, ...], inside: tuple[Step, ...], above: dict[str, tuple[Step, ...]]
) -> None:
    for step in steps:
        above[step.id] = inside
        for inner in step.children.values():
            _stand(inner, (*inside, step), above)


def read_groups(
    shared: Mapping[str, Pinned], kinds: Mapping[str, KindBlock], into: Problems
) -> Mapping[str, Shared | None]:
    """Read files of shared groups by their bare names; None for one that has mistakes."""
    found: dict[str, Shared | None] = {}
    for name, pinned in shared.items():
        node = parse(pinned.text, pinned.file, into)
        found[name] = None if node is None else read_shared(node, kinds, into)
        if (groups := found[name]) is not None:
            check_shared(groups, into)
    return found


def read_plan(
    procedure: Pinned,
    engine: Pinned,
    kinds: Mapping[str, KindBlock],
    into: Problems,
    shared: Mapping[str, Pinned] | None = None,
) -> Plan | None:
    """Read and compile pinned texts; None once a problem was found.

    `shared` holds the files of shared groups that the procedure names, by their bare names.
    """
    groups = read_groups(shared or {}, kinds, into)
    procedure_node = parse(procedure.text, procedure.file, into)
    engine_node = parse(engine.text, engine.file, into)
    read = None
    if procedure_node is not None:
        read = read_procedure(procedure_node, kinds, into, groups)
    machine = None if engine_node is None else read_engine(engine_node, into)
    if read is None or machine is None or engine_node is None:
        return None
    check_procedure(read, into)
    check_against(read, machine, engine_node.mark, into)
    return None if into.items else compile_plan(read, machine)
