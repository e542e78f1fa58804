"""each: the same steps at every fastener, cylinder, bridge or valve."""

from collections.abc import Iterator
from typing import ClassVar

from snugset.files.shapes import Block, Choice, Field, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.kinds.how_many import to_change
from snugset.guide.kinds.kind import Kind, Unfold
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.words import hole_words
from snugset.plan.places import Site, bridges, cylinders, on_map, valves
from snugset.values import dataclass

OVER = ("fasteners", "cylinders", "bridges", "valves")
WHERE = ("wet", "dry", "blind", "through", "changed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Each:
    """The block of an each container."""

    GROUPS: ClassVar[tuple[str, ...]] = ("group",)

    over: str
    group: str = ""
    where: str = ""


BLOCK = KindBlock(
    name="each",
    block=Block(
        Each,
        {
            "over": Field(Choice(*OVER), needed=True, help="what it goes through"),
            "group": Field(Word(), default="", help="which fasteners"),
            "where": Field(Choice(*WHERE), default="", help="only those places"),
        },
    ),
    children=("steps",),
)


def sites(over: str, group: str, scene: Scene) -> tuple[Site, ...]:
    """Give the places to go through; inside a cylinder or bridge, only its own valves."""
    engine = scene.plan.engine
    if over == "fasteners":
        return on_map(engine, group or next(iter(engine.fasteners)))
    if over == "valves":
        return valves(engine, scene.site.cylinder if scene.site else None)
    return cylinders(engine) if over == "cylinders" else bridges(engine)


def _here(where: str, scene: Scene) -> bool:
    if where == "changed":
        return scene.site is not None and to_change(scene, scene.site.key)
    return not where or where in hole_words(scene).split()


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    block = step.block
    if not isinstance(block, Each):
        raise TypeError(step.kind)
    for site in sites(block.over, block.group, scene):
        here = scene.at(site=site)
        if _here(block.where, here):
            yield from unfold(step.children["steps"], here)


KIND = Kind(name="each", block=BLOCK, walk=_walk)
