"""crank: the same steps at every bridge, in the order that turning the crank allows."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar

from snugset.files.figures import Camshaft
from snugset.files.shapes import Block, Choice, Field, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.answer import Answer
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.kinds.turn import in_window, point_step, proof, window_words
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import PlannedPoint
from snugset.plan.places import Site, bridges
from snugset.trade.camshaft import THIN, Events
from snugset.trade.circle import wrap
from snugset.trade.points import MarginError, Point, setting_points
from snugset.trade.rim import distance, reading
from snugset.units import Quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Crank:
    """The block of a crank container."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "events": "camshaft",
        "margin": "angle/one",
        "lifter": "choice",
        "bleed": "time/one",
    }

    over: str
    events: str = ""
    margin: str = ""
    lifter: str = ""
    bleed: str = ""


BLOCK = KindBlock(
    name="crank",
    block=Block(
        Crank,
        {
            "over": Field(Choice("bridges"), needed=True, help="what is set at each point"),
            "events": Field(Word(), default="", help="the figure that is the camshaft card"),
            "margin": Field(Word(), default="", help="the figure that is the least margin"),
            "lifter": Field(Word(), default="", help="filled lifters want pistons well down"),
            "bleed": Field(Word(), default="", help="how long filled lifters take to bleed down"),
        },
    ),
    children=("steps", "after-first"),
    optional=("after-first",),
)


def plan_step(container: Step) -> Step:
    """Make the step that shows the setting points before the crank is turned."""
    return Step(
        kind="crank-plan",
        id=f"{container.id}.plan",
        mark=container.mark,
        say="These are the setting points, in turning order. Enter to go on with them.",
        why="The fewest positions of the crank at which every bridge has both its valves closed.",
        view="crank",
        block=container.block,
        children={},
    )


def work_out(scene: Scene, block: Crank) -> tuple[tuple[Point, ...], str, str]:
    """Give the setting points, the method, and what follows from it, for this engine and card."""
    engine = scene.plan.engine
    card = scene.state.spec(block.events) if block.events else None
    margin = scene.length(block.margin)
    events = None
    if isinstance(card, Camshaft):
        events = Events(ivo=card.ivo, ivc=card.ivc, evo=card.evo, evc=card.evc, lift=card.lift)
    if events is not None:
        try:
            points = setting_points(
                "camshaft",
                engine.firing_order,
                engine.intervals,
                bridged=True,
                events=events,
                marks=engine.marks,
                margin=margin.value if margin else THIN,
                prefer_down=bool(block.lifter) and scene.state.spec(block.lifter) == "filled",
            )
        except MarginError as error:
            why = f"{error}. So each cylinder at its own compression dead centre."
        else:
            why = "From the camshaft card: the fewest points that reach every bridge."
            return points, "camshaft", why
    else:
        why = "No camshaft card: each cylinder at its own compression dead centre."
    if block.lifter and scene.state.spec(block.lifter) == "filled":
        why += (
            " Filled lifters: at dead centre a valve drawn down hard can meet its piston; a "
            "quarter turn of the screws at a time, and wait."
        )
    points = setting_points(
        "firing-order",
        engine.firing_order,
        engine.intervals,
        bridged=True,
        events=events,
        marks=engine.marks,
    )
    return points, "firing-order", why


def point_words(point: PlannedPoint) -> str:
    """Give a setting point in one line."""
    margin = "" if point.margin is None else f", margin {point.margin:.0f}°"
    plural = "s" if len(point.places) > 1 else ""
    places = " and ".join(point.places)
    return f"{point.key}, bridge{plural} {places}: {window_words(point)}{margin}"


def as_planned(point: Point) -> PlannedPoint:
    """Keep of a setting point what the guide needs."""
    return PlannedPoint(
        key=point.key,
        places=point.places,
        low=point.low,
        high=point.high,
        aim=point.aim,
        margin=point.margin,
        marked=point.marked,
    )


def rim_words(damper: Quantity, aim: Decimal, marks: tuple[Decimal, ...]) -> str:
    """Give the aim from the nearest mark on the damper's rim, as an angle and a length."""
    found = reading(aim, marks)
    if found.past == 0:
        return f"On the damper: {found.words}."
    inches = distance(damper.in_("in"), abs(found.past))
    millimetres = distance(damper.in_("mm"), abs(found.past))
    return f"On the damper: {found.words}, {inches:.2f} in = {millimetres:.0f} mm round the rim."


def point_facts(scene: Scene) -> tuple[str, ...]:
    """Give where to stop: window, aim, from where, and the distance round the rim."""
    point, engine = scene.point, scene.plan.engine
    if point is None:
        return ()
    facts = [point_words(point), f"Turn {engine.running}, seen from the front."]
    crank = scene.state.condition.crank
    if crank is not None:
        facts.append(f"From where it stands: {wrap(point.aim - crank):.0f}° on.")
    if engine.damper is not None:
        facts.append(rim_words(engine.damper, point.aim, engine.marks))
    facts.append("Enter: it stands at the aim. Or type the degrees past the mark where it stands.")
    return tuple(facts)


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    planned = scene.state.planned.get(step.id)
    bare = scene.at(site=None, round=0)
    plan = plan_step(step)
    yield Occurrence(step=plan, address=bare.address(plan), scene=scene, open=planned is None)
    if planned is None:
        return
    sites = {site.key: site for site in bridges(scene.plan.engine)}
    first = scene.round in (0, 1)
    turn = point_step(step)
    for point in planned.points:
        at_point = scene.at(crank=step, point=point)
        inside: list[Occurrence] = []
        for key in point.places:
            inside += unfold(step.children["steps"], at_point.at(site=sites[key]))
            if first:
                inside += unfold(step.children.get("after-first", ()), at_point.at(site=None))
                first = False
        needed = any(found.open for found in inside)
        here = at_point.at(site=Site(over="points", key=point.key, words=point.key))
        crank = scene.state.condition.crank
        if needed and crank is None:
            yield from proof(scene)
        yield Occurrence(
            step=turn,
            address=here.address(turn),
            scene=here,
            open=needed and not in_window(crank, point),
        )
        yield from inside


def _ask(found: Occurrence) -> Prompt:
    points, _, why = work_out(found.scene, _block(found))
    facts = (why, *(point_words(as_planned(p)) for p in points))
    return prompt_for(found, facts=facts)


def _block(found: Occurrence) -> Crank:
    if not isinstance(found.step.block, Crank):
        raise TypeError(found.step.kind)
    return found.step.block


def _decide(found: Occurrence, answer: Answer) -> Decision:
    if answer.text:
        stop("tick", "Only Enter is asked for here: the setting points are as shown.")
    points, method, why = work_out(found.scene, _block(found))
    ruling = Ruling(answer, found.address)
    ruling.add(
        "planned",
        {
            "at": str(found.address),
            "step": found.step.id.removesuffix(".plan"),
            "method": method,
            "why": why,
            "points": [
                {
                    "key": p.key,
                    "places": list(p.places),
                    "low": str(p.low),
                    "high": str(p.high),
                    "aim": str(p.aim),
                    "margin": None if p.margin is None else str(p.margin),
                    "marked": p.marked,
                }
                for p in points
            ],
        },
    )
    return ruling.decision()


KIND = Kind(name="crank", block=BLOCK, walk=_walk)
PLAN = Kind(name="crank-plan", ask=_ask, decide=_decide, skippable=False)
