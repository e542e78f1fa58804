"""What holds the engine together: each fastener's hole, and the stages its torque reached."""

from snugset.files.fasteners import Group, words
from snugset.guide.kinds.do import Do
from snugset.guide.kinds.torque import Tighten, Torque
from snugset.plan.stages import Stage as StageBlock
from snugset.sheet.entries import Entry, View, quantity_of
from snugset.sheet.instruments import wrench_of
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One stage of one fastener."""

    step: str
    number: int
    setting: Quantity | None
    """What it was drawn to; None where it was skipped."""
    wrench: str
    """The figure that is the wrench's range; empty where none is named."""
    entry: Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """One place on the map."""

    key: str
    where: str
    x: Quantity
    """Along the engine, from the front; as the map gives it."""
    y: Quantity
    """Across, from the lower row up."""
    length: Quantity | None
    """As the map gives it."""
    mapped: str
    """The hole as the map has it, ``wet through``; ``unknown`` for what it does not say."""
    hole: Entry | None
    """The hole as it was found; its value says which."""
    sealed: Entry | None
    oiled: Entry | None
    wiped: Entry | None
    fitted: Entry | None
    """The stud, in its hole."""
    stages: tuple[Stage, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerGroup:
    """Fasteners that are tightened together."""

    name: str
    kind: str
    """``stud`` or ``bolt``."""
    order: tuple[str, ...]
    """The order of tightening."""
    generated: bool
    """Whether that order was made from the map, for want of the maker's."""
    fasteners: tuple[Fastener, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Torqued:
    """One place drawn to its torque by itself, such as a rocker bridge."""

    step: str
    place: str
    where: str
    screws: int
    setting: Quantity | None
    """None where it was skipped."""
    wrench: str
    """As of a stage."""
    entry: Entry


def groups(view: View) -> tuple[FastenerGroup, ...]:
    """Give every group of the engine's map."""
    return tuple(_group(view, group) for group in view.plan.engine.fasteners.values())


def _group(view: View, group: Group) -> FastenerGroup:
    marks = _marks(view, group.name)
    stages = _stages(view, group.name)
    return FastenerGroup(
        name=group.name,
        kind=group.kind,
        order=group.order,
        generated=group.generated,
        fasteners=tuple(
            Fastener(
                key=key,
                where=words(group, key),
                x=place.x,
                y=place.y,
                length=place.length,
                mapped=_mapped(place.wet, place.blind),
                hole=marks.get(("hole", key)),
                sealed=marks.get(("sealed", key)),
                oiled=marks.get(("oiled", key)),
                wiped=marks.get(("wiped", key)),
                fitted=marks.get(("stud", key)),
                stages=tuple(stages.get(key, ())),
            )
            for key, place in group.places.items()
        ),
    )


def _mapped(wet: bool | None, blind: bool | None) -> str:  # noqa: FBT001 - as the map gives them
    first = "unknown" if wet is None else "wet" if wet else "dry"
    second = "unknown" if blind is None else "blind" if blind else "through"
    return f"{first} {second}"


def _marks(view: View, group: str) -> dict[tuple[str, str], Entry]:
    """Give what was done at each hole of a group, by (mark, place); the newest counts."""
    found = {}
    for entry in view.entries:
        block, home = view.block(entry.step), view.home(entry.step)
        if (
            isinstance(block, Do)
            and block.marks
            and (home.over, home.group) == ("fasteners", group)
        ):
            found[block.marks, entry.place] = entry
    return found


def _stages(view: View, group: str) -> dict[str, list[Stage]]:
    found: dict[str, list[Stage]] = {}
    for entry in view.entries:
        block = view.block(entry.step)
        if isinstance(block, Tighten) and block.group == group:
            number, _, key = entry.place.partition(".")
            stage = _stage(view, entry, int(number))
            found.setdefault(key, []).append(stage)
        elif isinstance(block, StageBlock) and view.home(entry.step).group == group and entry.place:
            stage = _stage(view, entry, _number(view, entry.step))
            found.setdefault(entry.place, []).append(stage)
    order = list(view.plan.steps)
    for stages in found.values():
        stages.sort(key=lambda stage: (order.index(stage.step), stage.number))
    return found


def _stage(view: View, entry: Entry, number: int) -> Stage:
    return Stage(
        step=entry.step,
        number=number,
        setting=quantity_of(entry.value) if entry.outcome == "done" else None,
        wrench="" if entry.kind in ("angle", "loosen") else wrench_of(view.plan, entry.step),
        entry=entry,
    )


def _number(view: View, step: str) -> int:
    """Give a stage's number in its container, from 1."""
    container = view.plan.above[step][-1]
    return 1 + [each.id for each in container.children["steps"]].index(step)


def torqued(view: View) -> tuple[Torqued, ...]:
    """Give every place that was drawn to a torque by itself, in the order of work."""
    found = []
    for entry in view.entries:
        block = view.block(entry.step)
        if isinstance(block, Torque):
            found.append(
                Torqued(
                    step=entry.step,
                    place=entry.place,
                    where=view.where(entry.step, entry.place),
                    screws=block.screws,
                    setting=quantity_of(entry.value) if entry.outcome == "done" else None,
                    wrench=wrench_of(view.plan, entry.step),
                    entry=entry,
                )
            )
    return tuple(found)
