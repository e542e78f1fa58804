"""Stages done fastener by fastener: to a torque, by an angle, loosened by turns."""

from snugset.guide.answer import Answer
from snugset.guide.events import Body
from snugset.guide.kinds.clamp import clamp_facts
from snugset.guide.kinds.kind import Kind, fastener_facts, prompt_for
from snugset.guide.kinds.large import of, on_wrench
from snugset.guide.kinds.stage_blocks import ANGLE, LOOSEN, TORQUE_TO, Angle, Loosen, TorqueTo
from snugset.guide.kinds.staging import (
    block_of,
    close,
    container_of,
    generated,
    head_line,
    live,
    needed,
    place_of,
    restart_asked,
    sealed_in_time,
    skipped,
    trusted,
    walk_places,
    wrench_of,
    yields,
)
from snugset.guide.kinds.wrench import setting_facts
from snugset.guide.prompt import Large, Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence
from snugset.units import Quantity, UnitError, read

DONE = "Enter: this one is done. Type stage: all of this stage are; stage 5: five are so far."
NONE = "no figure on the spec sheet"
VERBS = frozenset({"say", "stage"})


def _torque_to(found: Occurrence) -> TorqueTo:
    if not isinstance(found.step.block, TorqueTo):
        raise TypeError(found.step.kind)
    return found.step.block


def torque_line(found: Occurrence, setting: Quantity | None) -> str:
    """Give a torque in both systems, and in the wrench's own unit where that is another."""
    if setting is None:
        return "no torque on the spec sheet"
    wrench = wrench_of(found)
    return " · ".join(setting_facts(setting, found.scene.state.spec(wrench) if wrench else None))


def large_torque(found: Occurrence, does: str, setting: Quantity | None) -> Large | None:
    """Give a torque large, in the wrench's own unit."""
    wrench = wrench_of(found)
    return on_wrench(does, setting, found.scene.state.spec(wrench) if wrench else None)


def _ask_torque(found: Occurrence) -> Prompt:
    setting = found.scene.length(_torque_to(found).figure)
    shown = head_line(found, torque_line(found, setting))
    facts: tuple[str, ...] = (shown, *fastener_facts(found), DONE)
    if setting is not None and _last_torque(found):
        block = block_of(container_of(found))
        facts += clamp_facts(found.scene, setting, block.thread, block.nut_factor, block.scatter)
    return prompt_for(
        found,
        facts=(*facts, *generated(found)),
        large=large_torque(found, "set to", setting),
        view=found.step.view or "map",
    )


def _last_torque(found: Occurrence) -> bool:
    """Tell whether no torque and no angle follows: then the torque makes the clamp load."""
    place, scene = place_of(found), found.scene
    every = live(scene.plan, scene.state, container_of(found))
    return not any(p.step.kind in ("torque-to", "angle") for p in every[place.number :])


def _decide_torque(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    if restart_asked(found, answer, ruling):
        return ruling.decision()
    if answer.text and answer.verb == "say":
        stop("tick", "Enter when this fastener is done, or stage when the whole stage is.", "stage")
    setting = needed(found, _torque_to(found).figure)
    trusted(found, setting, ruling)
    close(found, answer, str(setting), ruling)
    return ruling.decision()


def _angle(found: Occurrence) -> Angle:
    if not isinstance(found.step.block, Angle):
        raise TypeError(found.step.kind)
    return found.step.block


def _ask_angle(found: Occurrence) -> Prompt:
    block, scene = _angle(found), found.scene
    wanted, over = scene.length(block.figure), scene.length(block.tolerance)
    shown = "no angle on the spec sheet" if wanted is None else str(wanted)
    if wanted is not None and over is not None:
        shown += f", {over} more at the most"
    facts = (
        head_line(found, shown),
        *fastener_facts(found),
        "An angle is never given twice: mark each fastener before you turn it on.",
        "Enter: it is given. Or type the angle reached. stage: all have it; stage 5: five have.",
    )
    return prompt_for(
        found,
        asks="figure",
        unit="deg",
        proposal="" if wanted is None else str(wanted),
        facts=(*facts, *generated(found)),
        large=of("turn it on", wanted),
        view=found.step.view or "map",
    )


def _decide_angle(found: Occurrence, answer: Answer) -> Decision:
    block, scene = _angle(found), found.scene
    ruling = Ruling(answer, found.address)
    if restart_asked(found, answer, ruling):
        return ruling.decision()
    wanted = needed(found, block.figure)
    given = wanted
    if answer.text and answer.verb == "say":
        try:
            given = read(answer.text, unit="deg", kind="angle")
        except UnitError as error:
            stop(error.code, error.message, *error.suggest)
        _judge_angle(given, wanted, scene.length(block.tolerance), ruling)
    sealed_in_time(found, ruling)
    close(found, answer, str(given), ruling)
    return ruling.decision()


def _judge_angle(given: Quantity, wanted: Quantity, over: Quantity | None, ruling: Ruling) -> None:
    beyond = given.in_("deg") - wanted.in_("deg")
    if beyond < 0:
        ruling.rule(
            "angle-under",
            f"{given} is less than {wanted}: give it the rest, from its mark, and answer again.",
        )
    elif beyond > (over.in_("deg") if over else 0):
        at_most = f"{wanted}{f' and {over} more' if over else ''}"
        ruling.rule(
            "angle-over",
            f"{given} is more than {at_most}. Loosen it all and begin again: restart ! the reason; "
            f"or keep it: {given} ! the reason",
        )


def _loosen(found: Occurrence) -> Loosen:
    if not isinstance(found.step.block, Loosen):
        raise TypeError(found.step.kind)
    return found.step.block


def free(found: Occurrence) -> bool:
    """Tell whether a loosening was broken off: then each is loosened until it is free."""
    return found.scene.state.condition.mark("free", found.step.id) is not None


def _turns(found: Occurrence) -> str:
    if free(found):
        return "free"
    turns = found.scene.length(_loosen(found).turns)
    if turns is None:
        return NONE
    return str(turns if turns.unit else Quantity(turns.value, "turn"))


def _ask_loosen(found: Occurrence) -> Prompt:
    shown_turns = _turns(found)
    shown = head_line(found, f"loosen: {shown_turns}")
    facts: tuple[str, ...] = (shown, *fastener_facts(found), DONE)
    if free(found):
        facts += ("It was broken off: loosen all free in this order, then it goes on.",)
    value, _, unit = shown_turns.partition(" ")
    return prompt_for(
        found,
        facts=(*facts, *generated(found)),
        large=None if shown_turns == NONE else Large(does="loosen", value=value, unit=unit),
        view=found.step.view or "map",
    )


def _decide_loosen(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    if restart_asked(found, answer, ruling):
        return ruling.decision()
    if answer.text and answer.verb == "say":
        stop("tick", "Enter when this one is loosened, or stage when all the rest are.", "stage")
    if not free(found):
        needed(found, _loosen(found).turns)
    broken = free(found)
    value = _turns(found)
    then: tuple[Body, ...] = ()
    if broken:
        asked = yields(found.scene, container_of(found)) != "no"
        then = (effect("free", found.step.id, None),)
        then += (effect("renew", found.step.id),) if asked else ()
    close(found, answer, value, ruling, then)
    return ruling.decision()


TORQUE_TO_KIND = Kind(
    name="torque-to",
    block=TORQUE_TO,
    walk=walk_places,
    ask=_ask_torque,
    decide=_decide_torque,
    skipped=skipped,
    verbs=VERBS,
)
ANGLE_KIND = Kind(
    name="angle",
    block=ANGLE,
    walk=walk_places,
    ask=_ask_angle,
    decide=_decide_angle,
    skipped=skipped,
    verbs=VERBS,
)
LOOSEN_KIND = Kind(
    name="loosen",
    block=LOOSEN,
    walk=walk_places,
    ask=_ask_loosen,
    decide=_decide_loosen,
    skipped=skipped,
    verbs=VERBS,
)
