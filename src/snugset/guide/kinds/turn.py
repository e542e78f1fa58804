"""turn: the crank, to number one proven, or to a setting point."""

from collections.abc import Iterator
from decimal import Decimal

from snugset.files.shapes import Block, Field, Flag, ListOf, Text
from snugset.files.steps import KindBlock, Step
from snugset.guide.answer import Answer
from snugset.guide.conditions import absent
from snugset.guide.events import Body
from snugset.guide.kinds.do import pick
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.lifters import bleeding
from snugset.guide.prompt import Large, Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import PlannedPoint
from snugset.trade.circle import plain, wrap
from snugset.units import UnitError, read
from snugset.values import dataclass

TURN = Decimal(360)
AT_AIM = "at the aim"
KNOWN = "known"
"""What is typed, with a reason, to go on without the proof."""


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
    return crank is not None and wrap(crank - point.low) <= point.high - point.low


def proof(scene: Scene) -> Iterator[Occurrence]:
    """Yield the step that proves number one, open, because the crank is unknown."""
    for step in scene.plan.steps.values():
        proves = isinstance(step.block, Turn) and step.block.prove
        if proves and not absent(step, scene.plan, scene.state):
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
    still = bleeding(found.scene)
    if still:
        ruling.rule("bleeding", still)
    value = ""
    if answer.text.lower() == KNOWN:
        ruling.rule(
            "not-proven",
            "Number one is not proven. A whole turn out, every rocker is set with its valves open. "
            f"If you know that it stands at its compression dead centre: {KNOWN} ! how you know",
        )
        value = KNOWN
    elif block.choices:
        value = pick(answer.text, block.choices)
        if block.wants and value != block.wants:
            stop(
                "not-proven",
                f"“{value}”: that is not number one on compression. Turn one whole turn on in the "
                f"running direction and look again; it is proven by “{block.wants}”.",
            )
    elif answer.text:
        stop("tick", "Only Enter is asked for here, when number one is proven.")
    ruling.done(value, (effect("crank", "", "0"),))
    ruling.said.append("Number one stands at its compression dead centre: the crank is known.")
    return ruling.decision()


def _past(angle: Decimal) -> str:
    """Say an angle from a mark: 58° past, 10° before."""
    return f"{plain(abs(angle))}° {'before' if angle < 0 else 'past'}"


def turn_of(point: PlannedPoint) -> Decimal:
    """Give where number one's mark last passed before the aim: 0, or 360 in the second turn."""
    return TURN if wrap(point.aim) >= TURN else Decimal(0)


def large_aim(point: PlannedPoint) -> Large:
    """Give where to stop, as it is read from number one's mark."""
    past = wrap(point.aim) - turn_of(point)
    return Large(does="aim for", value=f"{plain(past)}°", unit="past the mark")


def window_words(point: PlannedPoint) -> str:
    """Give a setting point's window and aim as they are read from number one's mark."""
    base = turn_of(point)
    shift = wrap(point.aim) - point.aim - base
    low, high, aim = (each + shift for each in (point.low, point.high, point.aim))
    turn = "second turn, " if base else ""
    marked = ", a mark" if point.marked else ""
    return f"{turn}{_past(low)} to {_past(high)} number one's mark, aim for {_past(aim)}{marked}"


def _point_ask(found: Occurrence) -> Prompt:
    from snugset.guide.kinds.crank import point_facts  # noqa: PLC0415 - crank asks for this kind

    still = bleeding(found.scene)
    facts = (*((still,) if still else ()), *point_facts(found.scene))
    point = found.scene.point
    return prompt_for(
        found,
        asks="figure",
        unit="deg",
        proposal=AT_AIM,
        facts=facts,
        large=None if point is None else large_aim(point),
    )


def _point_decide(found: Occurrence, answer: Answer) -> Decision:
    point = found.scene.point
    if point is None:
        raise TypeError("a turn to a setting point stands in a crank container")
    ruling = Ruling(answer, found.address)
    still = bleeding(found.scene)
    if still:
        ruling.rule("bleeding", still)
    if found.scene.state.condition.crank is None:
        ruling.rule(
            "not-proven",
            "Number one has not been proven, and no step here proves it: find its compression dead "
            "centre first. If the crank is where it should be, say how you know.",
        )
    stood = wrap(point.aim)
    if answer.text and answer.text != AT_AIM:
        try:
            typed = read(answer.text, unit="deg", kind="angle", negative=True)
        except UnitError as error:
            stop(error.code, error.message, *error.suggest)
        stood = wrap(typed.in_("deg") + turn_of(point))
        if not in_window(stood, point):
            stop(
                "outside-window",
                f"{typed} from the mark is outside {point.key}: {window_words(point)}. Overshot: "
                f"go back well past it and come up again in the running direction.",
            )
    ruling.done(str(stood), (effect("crank", "", str(stood)),))
    return ruling.decision()


def _skipped(found: Occurrence) -> tuple[Body, ...]:
    """Give what skipping a turn makes of the crank: where it should be, on the builder's word."""
    point = found.scene.point
    if point is None or found.scene.state.condition.crank is None:
        return ()
    return (effect("crank", "", str(wrap(point.aim))),)


KIND = Kind(
    name="turn",
    block=BLOCK,
    ask=_ask,
    decide=_decide,
    skippable=False,
    instead=f"; if you know where it stands: {KNOWN} ! how you know",
)
POINT = Kind(name="crank-turn", ask=_point_ask, decide=_point_decide, skipped=_skipped)
"""The turn to a setting point, which the crank container asks for itself."""


def point_step(container: Step) -> Step:
    """Make the step that turns the crank to a setting point of a container."""
    return Step(
        kind="crank-turn",
        id=f"{container.id}.turn",
        mark=container.mark,
        say="Turn the crank in its running direction to the setting point.",
        why="At this point the valves named are surely closed, with a margin both ways.",
        caution=(
            "Battery off, plugs out, from the crank bolt, and never the starter.",
            *container.caution,
        ),
        tools=container.tools,
        view="crank",
        children={},
    )
