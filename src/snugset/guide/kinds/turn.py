"""turn: the crank, to number one proven, or to a setting point."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from snugset.files.steps import KindBlock, Step
from snugset.files.shapes import Block, Field, Flag, ListOf, Text
from snugset.guide.answer import Answer
from snugset.guide.kinds.do import pick
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import PlannedPoint
from snugset.units import Quantity, UnitError, read

CIRCLE = Decimal(720)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """The block of a turn step."""

    prove: bool = False
    choices: tuple[str, ...] = ()
    wants: str = ""


BLOCK = KindBlock(
    name="turn",
    block=Block(
        Turn,
        {
            "prove": Field(Flag(), needed=True, help="yes: number one is proven here"),
            "choices": Field(ListOf(Text()), default=(), help="what can be seen"),
            "wants": Field(Text(), default="", help="what proves it"),
        },
    ),
)


def in_window(crank: Decimal | None, point: PlannedPoint) -> bool:
    """Tell whether the crank stands in a setting point's window."""
    return crank is not None and (crank - point.low) % CIRCLE <= point.high - point.low


def proof(scene: Scene) -> Iterator[Occurrence]:
    """Yield the step that proves number one, open, because the crank is unknown."""
    for step in scene.plan.steps.values():
        if isinstance(step.block, Turn) and step.block.prove:
            bare = scene.at(site=None, round=0, rounds=None, crank=None, point=None)
            yield Occurrence(step=step, address=bare.address(step), scene=bare, open=True)
            return


def _ask(found: Occurrence) -> Prompt:
    block = found.step.block
    options = block.choices if isinstance(block, Turn) else ()
    again = found.scene.closed(found.address)
    facts = ("The crank is not known after the break: prove number one again.",) if again else ()
    return prompt_for(found, asks="choice" if options else "tick", choices=options, facts=facts)


def _decide(found: Occurrence, answer: Answer) -> Decision:
    block = found.step.block
    if not isinstance(block, Turn):
        raise TypeError(found.step.kind)
    ruling = Ruling(answer, found.address)
    value = ""
    if block.choices:
        value = pick(answer.text, block.choices)
        if block.wants and value != block.wants:
            ruling.rule(
                "not-proven",
                f"“{value}”: that is not number one on compression. Turn one whole turn on in the "
                f"running direction and look again; it is proven by “{block.wants}”.",
            )
    elif answer.text:
        stop("tick", "Only Enter is asked for here, when number one is proven.")
    ruling.done(value, (effect("crank", "", "0"),))
    ruling.said.append("Number one stands at its compression dead centre: the crank is known.")
    return ruling.decision()


def degrees(value: Decimal) -> str:
    """Give an angle on the 720° circle in plain words from the marks of number one."""
    whole = value % CIRCLE
    turns = " (second turn)" if whole >= CIRCLE / 2 else ""
    shown = (whole % 360).quantize(Decimal(1))
    return f"{shown}° past number one's mark{turns}"


def _point_ask(found: Occurrence) -> Prompt:
    from snugset.guide.kinds.crank import point_facts  # noqa: PLC0415 - crank asks for this kind

    return prompt_for(
        found, asks="figure", unit="deg", proposal="at the aim", facts=point_facts(found.scene)
    )


def _point_decide(found: Occurrence, answer: Answer) -> Decision:
    point = found.scene.point
    if point is None:
        raise TypeError("a turn to a setting point stands in a crank container")
    ruling = Ruling(answer, found.address)
    stood = point.aim
    if answer.text and answer.text != "at the aim":
        try:
            typed = read(answer.text, unit="deg", kind="angle")
        except UnitError as error:
            stop(error.code, error.message, *error.suggest)
        stood = typed.in_("deg") + (CIRCLE / 2 if point.aim % CIRCLE >= CIRCLE / 2 and typed.in_("deg") < CIRCLE / 2 else 0)
        if not in_window(stood, point):
            ruling.rule(
                "outside-window",
                f"{Quantity(typed.value, typed.unit)} past the mark is outside {point.key}, "
                f"{degrees(point.low)} to {degrees(point.high)}. Overshot: go back well past it and "
                f"come up again in the running direction.",
            )
    ruling.done(str(stood), (effect("crank", "", str(stood % CIRCLE)),))
    return ruling.decision()


def skip_effects(found: Occurrence) -> tuple[object, ...]:
    """Give what skipping a turn makes of the crank: where it should be, on the builder's word."""
    aim = Decimal(0) if found.scene.point is None else found.scene.point.aim % CIRCLE
    return (effect("crank", "", str(aim)),)


KIND = Kind(name="turn", block=BLOCK, ask=_ask, decide=_decide)
POINT = Kind(name="crank-turn", ask=_point_ask, decide=_point_decide)
"""The turn to a setting point, which the crank container asks for itself."""


def point_step(container: Step) -> Step:
    """Make the step that turns the crank to a setting point of a container."""
    return Step(
        kind="crank-turn",
        id=f"{container.id}.turn",
        mark=container.mark,
        say="Turn the crank in its running direction to the setting point.",
        why="At this point the valves named are surely closed, with a margin both ways.",
        caution=("Battery off, plugs out, from the crank bolt, and never the starter.",),
        view="crank",
        children={},
    )
