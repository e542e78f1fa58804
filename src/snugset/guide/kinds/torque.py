"""torque: one place to its figure; tighten: a whole group, stage by stage, fastener by fastener."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from snugset.files.figures import SpecValue
from snugset.files.shapes import Block, Field, Whole, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.events import Body
from snugset.guide.kinds.clamp import clamp_facts
from snugset.guide.kinds.kind import Kind, Unfold, fastener_facts, prompt_for
from snugset.guide.kinds.large import on_wrench
from snugset.guide.kinds.so_far import closing
from snugset.guide.kinds.wrench import range_words, setting_facts, wrench_facts
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.sealant import sealant_past
from snugset.plan.places import Site, fasteners
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """The block of a torque step."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "setting": "torque/one",
        "wrench": "torque/window",
    }

    setting: str
    wrench: str = ""
    screws: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Tighten:
    """The block of a tighten step."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "stages": "torque",
        "wrench": "torque/window",
        "thread": "thread",
        "nut_factor": "number/one",
        "scatter": "number/one",
    }
    GROUPS: ClassVar[tuple[str, ...]] = ("group",)

    group: str
    stages: str
    wrench: str = ""
    thread: str = ""
    nut_factor: str = ""
    scatter: str = ""


TORQUE_BLOCK = KindBlock(
    name="torque",
    block=Block(
        Torque,
        {
            "setting": Field(Word(), needed=True, help="the figure it is drawn to"),
            "wrench": Field(Word(), default="", help="the figure that is the wrench's range"),
            "screws": Field(Whole(1, 20), default=1, help="how many screws at each place"),
        },
    ),
)
TIGHTEN_BLOCK = KindBlock(
    name="tighten",
    block=Block(
        Tighten,
        {
            "group": Field(Word(), needed=True, help="which fasteners"),
            "stages": Field(Word(), needed=True, help="the figure with the torque of each stage"),
            "wrench": Field(Word(), default="", help="the figure that is the wrench's range"),
            "thread": Field(Word(), default="", help="the nut's thread, for the clamp load"),
            "nut-factor": Field(Word(), default="", help="K of the nut as lubricated"),
            "scatter": Field(Word(), default="", help="the scatter of the load, a share"),
        },
    ),
)


def stages(scene: Scene, name: str) -> tuple[Quantity, ...]:
    """Give the torque of each stage; a single figure is one stage."""
    found: SpecValue = scene.state.spec(name)
    if isinstance(found, Quantity):
        return (found,)
    if isinstance(found, tuple):
        return found
    return ()


def _stage_of(key: str) -> int:
    return int(key.partition(".")[0])


def _walk_tighten(step: Step, scene: Scene, _unfold: Unfold) -> Iterator[Occurrence]:
    block = step.block
    if not isinstance(block, Tighten):
        raise TypeError(step.kind)
    for number in range(1, (len(stages(scene, block.stages)) or 1) + 1):
        for site in fasteners(scene.plan.engine, block.group):
            here = scene.at(
                site=Site(
                    over="fasteners",
                    key=f"{number}.{site.key}",
                    words=f"{site.key}, {site.words}",
                    group=block.group,
                    fastener=site.key,
                )
            )
            address = here.address(step)
            yield Occurrence(step=step, address=address, scene=here, open=not scene.closed(address))


def _tighten_block(found: Occurrence) -> Tighten:
    if not isinstance(found.step.block, Tighten):
        raise TypeError(found.step.kind)
    return found.step.block


def _ask_tighten(found: Occurrence) -> Prompt:
    block = _tighten_block(found)
    all_stages = stages(found.scene, block.stages)
    number = _stage_of(found.address.place)
    facts: tuple[str, ...] = ("No torque is on the spec sheet for this.",)
    large = None
    if all_stages:
        setting = all_stages[number - 1]
        span = found.scene.state.spec(block.wrench) if block.wrench else None
        shown = " · ".join(setting_facts(setting, span))
        large = on_wrench("set to", setting, span)
        facts = (
            f"Stage {number} of {len(all_stages)}: {shown}",
            *wrench_facts(found.scene, block.wrench),
            *fastener_facts(found),
            "Enter: this one is done. Type stage: all of this stage are; stage 5: five are so far.",
        )
        if number == len(all_stages):
            facts += clamp_facts(
                found.scene, setting, block.thread, block.nut_factor, block.scatter
            )
    group = found.scene.plan.engine.fasteners[block.group]
    if group.generated:
        facts += ("Order generated from the map: use the maker's diagram if you have one.",)
    return prompt_for(found, facts=facts, large=large, view=found.step.view or "map")


def _wrench(found: Occurrence, setting: SpecValue, wrench: str, ruling: Ruling) -> None:
    """Stop once at a setting the wrench cannot be trusted for."""
    wrong = range_words(setting, found.scene.state.spec(wrench) if wrench else None)
    stage = found.address.place.partition(".")[0]
    known = any(
        o.code == "wrench-range"
        and o.address.step == found.step.id
        and (found.step.kind == "torque" or o.address.place.partition(".")[0] == stage)
        for o in found.scene.state.overrides
    )
    if wrong and not known:
        ruling.rule("wrench-range", wrong)


def _sealant(found: Occurrence, group: str, ruling: Ruling) -> None:
    """Stop once a stage where sealant has been wet past its open time."""
    scene = found.scene
    stage = found.address.place.partition(".")[0]
    if any(
        o.code == "sealant"
        and o.address.step == found.step.id
        and o.address.place.partition(".")[0] == stage
        for o in scene.state.overrides
    ):
        return
    late = sealant_past(scene.plan, scene.state, scene.now, group)
    if late:
        ruling.rule("sealant", late)


def _rest_of_stage(found: Occurrence, block: Tighten) -> list[Address]:
    number = _stage_of(found.address.place)
    every = [
        Address(found.step.id, f"{number}.{site.key}", found.address.round)
        for site in fasteners(found.scene.plan.engine, block.group)
    ]
    return [a for a in every if not found.scene.closed(a)]


def _decide_tighten(found: Occurrence, answer: Answer) -> Decision:
    block = _tighten_block(found)
    ruling = Ruling(answer, found.address)
    all_stages = stages(found.scene, block.stages)
    number = _stage_of(found.address.place)
    if answer.text and answer.verb == "say":
        stop("tick", "Enter when this fastener is done, or stage when the whole stage is.", "stage")
    if not all_stages:
        stop("no-figure", "There is no torque on the spec sheet for this; it can be skipped only.")
    rest = _rest_of_stage(found, block)
    group = found.scene.plan.engine.fasteners[block.group]
    whole = len(group.places)
    now = closing(answer, found.address, rest, whole)
    setting = all_stages[number - 1]
    _wrench(found, setting, block.wrench, ruling)
    _sealant(found, block.group, ruling)
    for address in now:
        last = address == rest[-1] and len(now) == len(rest)
        effects = (effect("stage", block.group, f"{number} of {len(all_stages)}"),) if last else ()
        ruling.done(str(setting), effects, address)
    named = f"Stage {number} of {len(all_stages)}, {setting}"
    if len(now) == len(rest):
        ruling.said.append(f"{named}: every fastener done.")
    elif answer.verb == "stage":
        ruling.said.append(f"{named}: {whole - len(rest) + len(now)} of {whole} done.")
    return ruling.decision()


def _ask_torque(found: Occurrence) -> Prompt:
    block = found.step.block
    if not isinstance(block, Torque):
        raise TypeError(found.step.kind)
    setting = found.scene.length(block.setting)
    screws = f", {block.screws} screws" if block.screws > 1 else ""
    span = found.scene.state.spec(block.wrench)
    shown = " · ".join(setting_facts(setting, span)) if setting else "no torque on the spec sheet"
    told = wrench_facts(found.scene, block.wrench) if setting else ()
    return prompt_for(
        found,
        facts=(f"{found.place.capitalize()}{screws}: {shown}", *told),
        large=on_wrench("set to", setting, span),
    )


def _decide_torque(found: Occurrence, answer: Answer) -> Decision:
    block = found.step.block
    if not isinstance(block, Torque):
        raise TypeError(found.step.kind)
    ruling = Ruling(answer, found.address)
    if answer.text:
        stop("tick", "Only Enter is asked for here, when it is drawn to its torque.")
    setting = found.scene.length(block.setting)
    if setting is None:
        stop("no-figure", "There is no torque on the spec sheet for this; it can be skipped only.")
    _wrench(found, setting, block.wrench, ruling)
    key = found.scene.site.key if found.scene.site else ""
    ruling.done(str(setting), (effect("torqued", key, str(setting)),))
    return ruling.decision()


def _skipped(found: Occurrence) -> tuple[Body, ...]:
    """Close the stage where the fastener that is left out was its last."""
    block = _tighten_block(found)
    if _rest_of_stage(found, block) != [found.address]:
        return ()
    total = len(stages(found.scene, block.stages)) or 1
    return (effect("stage", block.group, f"{_stage_of(found.address.place)} of {total}"),)


TORQUE = Kind(name="torque", block=TORQUE_BLOCK, ask=_ask_torque, decide=_decide_torque)
TIGHTEN = Kind(
    name="tighten",
    block=TIGHTEN_BLOCK,
    walk=_walk_tighten,
    ask=_ask_tighten,
    decide=_decide_tighten,
    skipped=_skipped,
    verbs=frozenset({"say", "stage"}),
)
