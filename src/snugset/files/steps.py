"""What a procedure file holds: figures, and the ordered steps in their phases."""

from collections.abc import Mapping

from snugset.files.conditions import Condition
from snugset.files.figures import Figure
from snugset.files.placed import word_marks
from snugset.files.problems import Mark
from snugset.files.shapes import Block
from snugset.files.tree import Fields
from snugset.values import dataclass, field

VIEWS = ("map", "crank", "ledger", "list")


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One entry of a procedure; its kind decides how it is done."""

    kind: str
    id: str
    mark: Mark
    say: str = ""
    """What to do, in the trade's words."""
    why: str = ""
    caution: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    people: int = 1
    needs: tuple[str, ...] = ()
    """Ids of the steps that must be done before."""
    need_marks: tuple[Mark, ...] = ()
    """Where each of `needs` stands."""
    conditions: tuple[Condition, ...] = ()
    """What must be so; where it is not, the step does not exist in that build."""
    second_look: bool = False
    """Whether another person than the one who did it must confirm it."""
    meanwhile: bool = False
    """Whether it is offered while a hold waits."""
    view: str = ""
    """One of `VIEWS`, or empty."""
    block: object = None
    """What the kind makes of its own fields."""
    source: Fields | None = field(default=None, compare=False, repr=False)
    """What it was read from; None for what the guide itself asks."""
    children: Mapping[str, tuple["Step", ...]] = field(default_factory=dict)
    """Steps inside this one, by the field that holds them; none for a field left out."""

    _marks: dict[str, Mark] = field(default_factory=dict, compare=False, repr=False)
    """What `field_marks` found once: a step may be wrong in as many places as it has words."""

    @property
    def field_marks(self) -> Mapping[str, Mark]:
        """Where a word of its fields stands, and ``{word}`` where it is in braces."""
        if not self._marks and self.source is not None:
            self._marks.update(word_marks(self.source, self.kind))
        return self._marks


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """A stretch of the work with a title."""

    title: str
    steps: tuple[Step, ...]
    mark: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class Procedure:
    """The ordered work on one sort of engine."""

    name: str
    note: str
    expects: Mapping[str, str]
    """Engine features that must be so: ``rockers`` is ``bridged``."""
    shared: tuple[tuple[str, Mark], ...] = ()
    """The files of shared groups that it names, each with the place where it does."""
    leaves: tuple[tuple[str, Mark], ...] = ()
    """Groups of the engine's fasteners that it leaves as they are, each with its place."""
    figures: Mapping[str, Figure]
    """Its own, and those of shared files that its steps need."""
    phases: tuple[Phase, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KindBlock:
    """What a step kind adds to the fields that every step has."""

    name: str
    block: Block[object]
    """The kind's own fields."""
    children: tuple[str, ...] = ()
    """Its fields that hold steps, at least one each."""
    optional: tuple[str, ...] = ()
    """Those of `children` that may be left out."""
    branches: str = ""
    """Its field that holds lists of steps by the words of an answer; empty for none."""
