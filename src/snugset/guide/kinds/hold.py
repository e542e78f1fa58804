"""hold: a wait, for parts or for time; other steps are offered meanwhile."""

from collections.abc import Mapping
from datetime import timedelta
from typing import ClassVar

from snugset.files.shapes import Block, Field, Misfit, Text, Word
from snugset.files.steps import KindBlock
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene, age
from snugset.guide.state import Hold
from snugset.guide.words import took
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """The block of a hold."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "time": "time/one",
    }

    STEPS: ClassVar[tuple[str, ...]] = ("since",)

    for_: str = ""
    time: str = ""
    since: str = ""


def _make(**fields: str) -> Wait:
    if fields["since"] and not fields["time"]:
        raise Misfit("“since” counts a time; name the figure under “time”", "since")
    return Wait(for_=fields["for"], time=fields["time"], since=fields["since"])


BLOCK = KindBlock(
    name="hold",
    block=Block(
        _make,
        {
            "for": Field(Text(), default="", help="the parts that are waited for"),
            "time": Field(Word(), default="", help="the figure that says how long"),
            "since": Field(Word(), default="", help="the step here from which the time counts"),
        },
    ),
)


BEGINS = "Enter: the wait begins, and is over once you say so."


def _block(found: Occurrence) -> Wait:
    if not isinstance(found.step.block, Wait):
        raise TypeError(found.step.kind)
    return found.step.block


def left(scene: Scene, block: Wait, since: str) -> timedelta | None:
    """Give how long the wait still lasts; None where it does not end by itself."""
    length = scene.length(block.time)
    if length is None:
        return None
    return timedelta(seconds=length.number("s")) - timedelta(
        seconds=age(scene.state, since, scene.now)
    )


def begun_here(found: Occurrence) -> Hold | None:
    """Give the wait that runs at an occurrence: begun with Enter, or by the step it counts from."""
    scene = found.scene
    held = scene.state.holds.get(found.address)
    block = found.step.block
    if held is not None or not isinstance(block, Wait) or not block.since:
        return held
    here = found.address
    fact = scene.state.facts.get(Address(block.since, here.place, here.round))
    if fact is None or fact.kind == "skipped":
        return None
    return Hold(address=here, what=block.for_ or found.step.id, since=fact.at)


def _running(found: Occurrence) -> Hold:
    begun = begun_here(found)
    if begun is None:
        raise TypeError("no wait runs here")
    return begun


def waiting_words(found: Occurrence) -> str:
    """Give what waits and since when, in words."""
    begun = _running(found)
    since = took(age(found.scene.state, begun.since, found.scene.now))
    rest = left(found.scene, _block(found), begun.since)
    if rest is None:
        return f"{begun.what}, for {since} so far"
    if rest.total_seconds() <= 0:
        return f"{begun.what}, and its time has passed"
    return f"{begun.what}, {took(rest.total_seconds())} to go"


def _ask(found: Occurrence) -> Prompt:
    if begun_here(found) is None:
        return prompt_for(found, facts=(BEGINS,))
    return prompt_for(
        found,
        asks="wait",
        facts=(f"Waiting for {waiting_words(found)}", "Type arrived when the wait is over."),
    )


def _decide(found: Occurrence, answer: Answer) -> Decision:
    block = _block(found)
    ruling = Ruling(answer, found.address)
    begun = begun_here(found)
    if answer.text:
        stop("tick", "A wait takes Enter to begin and the word arrived to end.", "arrived")
    if begun is None:
        if answer.verb == "arrived":
            if found.scene.length(block.time) is not None:
                ruling.rule("early", "The wait has not begun; Enter begins it.")
            ruling.done("arrived")
            return ruling.decision()
        what = block.for_ or found.step.id
        ruling.add("waiting", {"at": str(found.address), "what": what})
        ruling.said.append(f"Waiting: {what}. Type arrived when it is over, at any prompt.")
        return ruling.decision()
    rest = left(found.scene, block, begun.since)
    over = rest is not None and rest.total_seconds() <= 0
    if answer.verb != "arrived" and not over:
        stop(
            "waiting",
            f"Waiting for {waiting_words(found)}. Type arrived when it is over.",
            "arrived",
        )
    if rest is not None and not over:
        ruling.rule("early", f"Waiting for {waiting_words(found)}: it is early.")
    span = took(age(found.scene.state, begun.since, found.scene.now))
    ruling.done(f"after {span}")
    ruling.said.append(f"{begun.what}: over after {span}.")
    return ruling.decision()


KIND = Kind(name="hold", block=BLOCK, ask=_ask, decide=_decide, verbs=frozenset({"say", "arrived"}))
