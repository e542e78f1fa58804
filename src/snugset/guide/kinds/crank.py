"""crank: the same steps at every bridge, cylinder or valve, as turning the crank allows."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal

from snugset.files.engine import Engine
from snugset.files.shapes import Block, Choice, Field, Word
from snugset.files.steps import KindBlock, Step
from snugset.guide.answer import Answer
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.kinds.setting import METHODS, Crank, work_out
from snugset.guide.kinds.turn import in_window, point_step, proof, window_words
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import PlannedPoint
from snugset.plan.places import Site, bridges, cylinders, valves
from snugset.trade.circle import plain, wrap
from snugset.trade.points import Point
from snugset.trade.rim import distance, reading
from snugset.units import Quantity

__all__ = ["BLOCK", "KIND", "OVER", "PLAN", "Crank", "point_facts", "point_words", "rim_words"]

OVER = ("bridges", "cylinders", "valves")
BLOCK = KindBlock(
    name="crank",
    block=Block(
        Crank,
        {
            "over": Field(Choice(*OVER), needed=True, help="what is set at each point"),
            "method": Field(
                Choice(*METHODS), default="camshaft", help="how the setting points are found"
            ),
            "events": Field(Word(), default="", help="the figure that is the camshaft card"),
            "margin": Field(Word(), default="", help="the figure that is the least margin"),
            "lifter": Field(Word(), default="", help="filled lifters want pistons well down"),
            "bleed": Field(Word(), default="", help="how long filled lifters take to bleed down"),
        },
    ),
    children=("steps", "after-first"),
    optional=("after-first",),
)


_WHY = "The fewest positions of the crank at which every bridge has both its valves closed."


def plan_step(container: Step) -> Step:
    """Make the step that shows the setting points before the crank is turned."""
    over = getattr(container.block, "over", "")
    return Step(
        kind="crank-plan",
        id=f"{container.id}.plan",
        mark=container.mark,
        say="These are the setting points, in turning order. Enter to go on with them.",
        why=container.why
        or container.say
        or (_WHY if over == "bridges" else "Positions at which the valves there are closed."),
        view="crank",
        block=container.block,
        children={},
    )


def point_words(point: PlannedPoint, over: str = "bridges") -> str:
    """Give a setting point in one line."""
    margin = "" if point.margin is None else f", margin {point.margin:.0f}°"
    what = over if len(point.places) > 1 else over.removesuffix("s")
    places = " and ".join(point.places)
    return f"{point.key}, {what} {places}: {window_words(point)}{margin}"


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
    return f"On the damper: {rim(damper, aim, marks)}."


def rim(damper: Quantity | None, aim: Decimal, marks: tuple[Decimal, ...]) -> str:
    """Give the same without a sentence about it; nothing where the damper is not known."""
    found = reading(aim, marks)
    if damper is None:
        return ""
    if found.past == 0:
        return found.words
    inches = distance(damper.in_("in"), abs(found.past))
    millimetres = distance(damper.in_("mm"), abs(found.past))
    return f"{found.words}, {inches:.2f} in = {millimetres:.0f} mm round the rim"


def point_facts(scene: Scene) -> tuple[str, ...]:
    """Give where to stop: window, aim, from where, and the distance round the rim."""
    point, engine = scene.point, scene.plan.engine
    if point is None:
        return ()
    over = getattr(scene.crank.block, "over", "bridges") if scene.crank else "bridges"
    facts = [point_words(point, over), f"Turn {engine.running}, seen from the front."]
    crank = scene.state.condition.crank
    if crank is not None:
        facts.append(f"From where it stands: {plain(wrap(point.aim - crank))}° on.")
    if engine.damper is not None:
        facts.append(rim_words(engine.damper, point.aim, engine.marks))
    facts.append("Enter: it stands at the aim. Or type the degrees past the mark where it stands.")
    return tuple(facts)


SITES: Mapping[str, Callable[[Engine], tuple[Site, ...]]] = {
    "bridges": bridges,
    "cylinders": cylinders,
    "valves": valves,
}


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    planned = scene.state.planned.get(step.id)
    bare = scene.at(site=None, round=0)
    plan = plan_step(step)
    yield Occurrence(step=plan, address=bare.address(plan), scene=scene, open=planned is None)
    if planned is None:
        return
    over = getattr(step.block, "over", "bridges")
    sites = {site.key: site for site in SITES[over](scene.plan.engine)}
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
    block = _block(found)
    points, _, why = work_out(found.scene, block)
    facts = (why, *(point_words(as_planned(p), block.over) for p in points))
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
