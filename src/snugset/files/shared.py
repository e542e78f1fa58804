"""Shared groups of steps: the reader of their file, and putting them in a procedure's lists."""

import re
from collections.abc import Mapping
from itertools import chain

from snugset.files.figure_shape import FIGURES, check_figures
from snugset.files.figures import Figure
from snugset.files.naming import every_step, needed_figures
from snugset.files.problems import Mark, Problems, quote
from snugset.files.shape import ScalarShape
from snugset.files.shapes import Block, Field, ListOf, MapOf, Schema, Text
from snugset.files.step_fields import USE
from snugset.files.step_shape import StepShape
from snugset.files.steps import KindBlock, Step
from snugset.files.tree import DEEPEST, NESTED, Fields, Items, Node, Scalar
from snugset.files.versions import Version
from snugset.values import dataclass, field, replace

MOST = 20
"""Shared files that a procedure may name."""
_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")


@dataclass(frozen=True, slots=True)
class SharedName(ScalarShape[str]):
    """The bare name of a shared file: never a path."""

    @property
    def wants(self) -> str:
        """In words."""
        return "the bare name of a file in the folder shared"

    def read_text(self, text: str, mark: Mark, into: Problems) -> str | None:
        """Return the name."""
        if _NAME.fullmatch(text):
            return text
        into.add(
            mark,
            f"{quote(text)} is no bare name; write shared/studs.yaml as studs: small letters, "
            "digits and hyphens",
        )
        return None

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": ["string", "integer"], "pattern": f"^{_NAME.pattern}$"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shared:
    """A file of shared groups."""

    name: str
    note: str
    figures: Mapping[str, Figure]
    groups: Mapping[str, tuple[Step, ...]]
    mark: Mark


def names_in(node: Node | None) -> tuple[str, ...]:
    """Give the shared files that a procedure names and that may be looked for, at most `MOST`.

    Says nothing of mistakes: reading the procedure tells them.
    """
    if not isinstance(node, Fields) or "shared" not in node.fields:
        return ()
    found = node.fields["shared"][1]
    items = found.items if isinstance(found, Items) else (found,)
    words = [item.text for item in items if isinstance(item, Scalar)]
    return tuple(dict.fromkeys(word for word in words if _NAME.fullmatch(word)))[:MOST]


def _shared(
    *,
    snugset: str,  # noqa: ARG001 -- the version says how to read the rest, and is read
    name: str,
    note: str,
    figures: Mapping[str, Figure],
    groups: Mapping[str, tuple[Step, ...]],
    mark: Mark,
) -> Shared:
    return Shared(
        name=name,
        note=note,
        figures={key: replace(figure, name=key) for key, figure in figures.items()},
        groups=groups,
        mark=mark,
    )


def _shape(steps: StepShape) -> Block[Shared]:
    return Block(
        _shared,
        {
            "snugset": Field(Version("steps"), needed=True, help="Sort and version."),
            "name": Field(Text(120), needed=True, help="What the groups are called together."),
            "note": Field(Text(), default="", help="Anything worth knowing about the file."),
            "figures": Field(FIGURES, default={}, help="The figures that the groups use."),
            "groups": Field(
                MapOf(ListOf(steps, least=1)), needed=True, help="Lists of steps by id."
            ),
        },
        marked=True,
    )


def read_shared(
    node: Node,
    kinds: Mapping[str, KindBlock],
    into: Problems,
    before: dict[int, Step] | None = None,
) -> Shared | None:
    """Return the groups; None once a problem was added. `before` is `StepShape`'s."""
    found = into.found
    shared = _shape(StepShape(kinds, before)).read(node, into)
    if shared is not None:
        check_figures(shared.figures, into)
    return None if into.found > found else shared


def shared_schema(kinds: Mapping[str, KindBlock]) -> Schema:
    """Return the JSON Schema of files of shared groups with steps of these kinds."""
    steps = StepShape(kinds)
    return {**_shape(steps).schema(), "$defs": steps.definitions()}


@dataclass(slots=True)
class Groups:
    """The groups of all shared files of a procedure, each to be used once."""

    files: Mapping[str, Shared]
    whole: bool
    """Whether every shared file that is named could be read; else nothing is said of what lacks."""
    into: Problems
    used: dict[str, Mark] = field(default_factory=dict)

    def expand(self, steps: tuple[Step, ...], inside: tuple[str, ...] = ()) -> tuple[Step, ...]:
        """Put the steps of shared groups where they are used, their conditions added."""
        return tuple(chain.from_iterable(self._one(step, inside) for step in steps))

    def _one(self, step: Step, inside: tuple[str, ...]) -> tuple[Step, ...]:
        if step.kind != USE:
            if not step.children:
                return (step,)
            inner = {name: self.expand(held, inside) for name, held in step.children.items()}
            return (replace(step, children=inner),)
        group = self._group(step, inside)
        if step.id not in inside:
            self.used.setdefault(step.id, step.mark)
        return tuple(
            replace(each, conditions=(*step.conditions, *each.conditions))
            for each in self.expand(group, (*inside, step.id))
        )

    def _group(self, step: Step, inside: tuple[str, ...]) -> tuple[Step, ...]:
        found = [each.groups[step.id] for each in self.files.values() if step.id in each.groups]
        if step.id in inside:
            self.into.add(
                step.mark,
                f"the group {quote(step.id)} uses itself; take this out of the circle",
                (step.id,),
            )
        elif len(inside) >= DEEPEST:
            self.into.add(step.mark, NESTED, (step.id,))
        elif step.id in self.used:
            first = self.used[step.id]
            self.into.add(
                step.mark,
                f"the group {quote(step.id)} is used twice, first in line {first.line}; its steps "
                "can stand in one place only",
                (step.id,),
            )
        elif found:
            return found[0]
        elif self.whole:
            known = list(chain.from_iterable(shared.groups for shared in self.files.values()))
            near = self.into.near(step.id, known) or "; name the file that has it under “shared”"
            self.into.add(
                step.mark, f"there is no shared group {quote(step.id)}{near}", ("shared", step.id)
            )
        return ()


def check_groups(files: Mapping[str, Shared], into: Problems) -> None:
    """Add a problem for every group that two files of one procedure have."""
    first: dict[str, Shared] = {}
    for shared in files.values():
        for group, steps in shared.groups.items():
            other = first.setdefault(group, shared)
            if other is not shared:
                into.add(
                    steps[0].mark,
                    f"the group {quote(group)} stands in {other.mark.file} too; call one otherwise",
                    (group,),
                )


def check_ids(steps: tuple[Step, ...], into: Problems) -> None:
    """Add a problem for an id that stands in two files of one procedure."""
    first: dict[str, Step] = {}
    for step in every_step(steps):
        other = first.setdefault(step.id, step)
        if other is not step and other.mark.file != step.mark.file:
            into.add(
                step.mark,
                f"the id {quote(step.id)} is given twice, first in {other.mark.file}, line "
                f"{other.mark.line}; each step has its own",
                (step.id,),
            )


def figures_with(
    own: Mapping[str, Figure], files: Mapping[str, Shared], steps: tuple[Step, ...]
) -> Mapping[str, Figure]:
    """Give a procedure's own figures, then those of shared files that its steps need."""
    every = {name: figure for shared in files.values() for name, figure in shared.figures.items()}
    needed = needed_figures(steps, {**every, **own})
    return {**own, **{name: every[name] for name in every if name in needed and name not in own}}
