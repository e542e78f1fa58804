"""do: a thing to be done, ticked with one key; or a choice, or a count."""

from collections.abc import Mapping
from typing import ClassVar

from snugset.files.problems import did_you_mean
from snugset.files.shapes import Block, Choice, Field, ListOf, Text, Word
from snugset.files.steps import KindBlock
from snugset.guide.answer import Answer
from snugset.guide.events import Body
from snugset.guide.guards import GUARDS, check_guards, count_before
from snugset.guide.kinds.how_many import how_many
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.kinds.outlook import ledger_facts
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence
from snugset.guide.words import map_hole, new_length
from snugset.values import dataclass

EQUALS = ("fasteners", "valves", "cylinders", "changed")
HOLES = ("wet through", "wet blind", "dry through", "dry blind")
MARKS = (
    "hole", "sealed", "oiled", "wiped", "stud", "head-on", "pushrod", "lifters", "drawn",
    "cover-on",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Do:
    """The block of a do step."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "open_time": "time/one",
        "wants_figure": "choice",
    }
    GROUPS: ClassVar[tuple[str, ...]] = ("group",)
    STEPS: ClassVar[tuple[str, ...]] = ("same_as",)

    choices: tuple[str, ...] = ()
    wants: str = ""
    wants_figure: str = ""
    count: str = ""
    same_as: str = ""
    equals: str = ""
    marks: str = ""
    clears: str = ""
    guards: tuple[str, ...] = ()
    group: str = ""
    open_time: str = ""


BLOCK = KindBlock(
    name="do",
    block=Block(
        Do,
        {
            "choices": Field(ListOf(Text()), default=(), help="the answers it takes"),
            "wants": Field(Text(), default="", help="the one that goes on; others are stopped"),
            "wants-figure": Field(
                Word(), default="", help="the choice of the spec sheet that it must agree with"
            ),
            "count": Field(Text(), default="", help="what is counted"),
            "same-as": Field(Word(), default="", help="the step whose count it must equal"),
            "equals": Field(
                Choice(*EQUALS), default="", help="what of the engine the count must be"
            ),
            "marks": Field(Choice(*MARKS), default="", help="what it makes true of the engine"),
            "clears": Field(
                Choice(*MARKS, "crank"), default="", help="what is not true of it any more"
            ),
            "guards": Field(ListOf(Choice(*GUARDS)), default=(), help="what must hold first"),
            "group": Field(Word(), default="", help="the fasteners that the guards look at"),
            "open-time": Field(
                Word(), default="", help="the figure that is the sealant's open time"
            ),
        },
    ),
)


def choices(found: Occurrence) -> tuple[str, ...]:
    """Give the answers this occurrence takes; none for a tick or a count."""
    block = found.step.block
    if not isinstance(block, Do):
        return ()
    return HOLES if block.marks == "hole" else block.choices


def _ask(found: Occurrence) -> Prompt:
    block = found.step.block
    if isinstance(block, Do) and block.count:
        return prompt_for(found, asks="count", facts=(f"Count: {block.count}.",))
    options = choices(found)
    if options:
        proposal = _from_map(found)
        return prompt_for(found, asks="choice", choices=options, proposal=proposal)
    return prompt_for(found, facts=ledger_facts(found))


def _from_map(found: Occurrence) -> str:
    """Give what the map says of a hole, where it says all of it, to be taken with Enter."""
    if getattr(found.step.block, "marks", "") != "hole":
        return ""
    said = map_hole(found.scene)
    return said if said in HOLES else ""


def pick(text: str, options: tuple[str, ...]) -> str:
    """Read a choice by its words, its number or a beginning that only one has."""
    lowered = " ".join(text.lower().split())
    if lowered.isascii() and lowered.isdigit() and 1 <= int(lowered) <= len(options):
        return options[int(lowered) - 1]
    starts = [o for o in options if o.lower().startswith(lowered)]
    exact = [o for o in options if o.lower() == lowered]
    if len(exact or starts) == 1:
        return (exact or starts)[0]
    near = did_you_mean(lowered, options)
    listed = ", ".join(f"{i} {o}" for i, o in enumerate(options, 1))
    stop("choice", f"“{text[:40]}” is none of the answers here: {listed}{near}.", *options)


def read_count(text: str, what: str) -> int:
    """Read a whole number from 0 to 9999."""
    if not (text.isascii() and text.isdigit() and len(text) <= 4):
        stop("count", f"“{text[:40]}” is no count; type a whole number: {what}.")
    return int(text)


def _counted(found: Occurrence, block: Do, answer: Answer, ruling: Ruling) -> str:
    count = read_count(answer.text, block.count)
    wanted = how_many(found.scene, block.equals, block.group) if block.equals else count
    if count != wanted:
        ruling.rule("count", f"{count}, and it should be {wanted}. Count again, or find the rest.")
    if block.same_as:
        before = count_before(found.scene, block.same_as, found.address.round)
        if before is not None and before.kind == "done" and before.value != str(count):
            ruling.rule(
                "count",
                f"{count} now, {before.value} before: they must be the same. Find the difference "
                f"before going on.",
            )
    return str(count)


def _agrees(found: Occurrence, block: Do, value: str, ruling: Ruling) -> None:
    said = found.scene.state.spec(block.wants_figure) if block.wants_figure else None
    if isinstance(said, str) and said != value:
        ruling.rule(
            "not-right",
            f"“{value}”, and the spec sheet says {said}. What follows is worked out from that: put "
            f"it right here, or there with @spec.{block.wants_figure} again {value}",
        )


def _effects(found: Occurrence, block: Do, value: str) -> tuple[Body, ...]:
    key = found.scene.site.spot if found.scene.site else ""
    effects = (
        [effect(block.clears, "" if block.clears == "crank" else key, None)] if block.clears else []
    )
    marked = new_length(found.scene) if block.marks == "pushrod" else value or "yes"
    if block.marks and marked:
        effects.append(effect(block.marks, key, marked))
    return tuple(effects)


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Close a tick, take a choice or a count, or say why not."""
    block = found.step.block
    if not isinstance(block, Do):
        raise TypeError(found.step.kind)
    ruling = Ruling(answer, found.address)
    value = ""
    options = choices(found)
    if block.count:
        value = _counted(found, block, answer, ruling)
    elif options:
        proposal = _from_map(found)
        value = pick(answer.text, options) if answer.text or not proposal else proposal
        if block.wants and value != block.wants:
            ruling.rule(
                "not-right", f"“{value}”: put it right first; it goes on at “{block.wants}”."
            )
        _agrees(found, block, value, ruling)
    elif answer.text:
        stop(
            "tick",
            "Only Enter is asked for here, when it is done. To keep a remark, type: note "
            + answer.text[:60],
        )
    check_guards(found.scene, block.guards, block.group, ruling)
    ruling.done(value, _effects(found, block, value))
    if value:
        ruling.said.append(f"{found.place or found.step.id}: {value}")
    return ruling.decision()


KIND = Kind(name="do", block=BLOCK, ask=_ask, decide=decide)
