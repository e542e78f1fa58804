"""Stages that look back: the same torque again over a group, and what each fastener must reach."""

from collections.abc import Iterator

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.events import Body
from snugset.guide.kinds.do import read_count
from snugset.guide.kinds.kind import Kind, Unfold, fastener_facts, prompt_for
from snugset.guide.kinds.renewing import again
from snugset.guide.kinds.stage_blocks import ACCEPT, VERIFY, Accept, Verify
from snugset.guide.kinds.stage_leaves import VERBS, large_torque, torque_line
from snugset.guide.kinds.staging import (
    close,
    container_of,
    generated,
    head_line,
    live,
    needed,
    place_of,
    reached,
    restart_asked,
    skipped,
    trusted,
    voiding,
    walk_places,
)
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.units import UNITS, UnitError, read

PASSES = 3
"""Passes after which fasteners that still move need another cause looked for."""
MOST = 50


def _verify(found: Occurrence) -> Verify:
    if not isinstance(found.step.block, Verify):
        raise TypeError(found.step.kind)
    return found.step.block


def goes_on(value: str) -> bool:
    """Tell whether a pass leads to another: some moved, and no reason ended it."""
    return value.isdigit() and value != "0"


def _walk_verify(step: Step, scene: Scene, _unfold: Unfold) -> Iterator[Occurrence]:
    for number in range(1, MOST + 1):
        address = Address(step.id, "", number)
        yield Occurrence(step=step, address=address, scene=scene, open=not scene.closed(address))
        fact = scene.state.facts.get(address)
        if fact is None or fact.kind != "done" or not goes_on(fact.value):
            return


def _ask_verify(found: Occurrence) -> Prompt:
    setting = found.scene.length(_verify(found).figure)
    place = place_of(found)
    facts = (
        head_line(found, torque_line(found, setting)),
        f"Pass {found.address.round}, all {len(place.keys)} in order: {', '.join(place.keys)}",
        "Type how many moved before the wrench gave; 0 when none did.",
    )
    return prompt_for(
        found,
        asks="count",
        facts=(*facts, *generated(found)),
        large=large_torque(found, "set to", setting),
        view=found.step.view or "map",
    )


def _decide_verify(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    if restart_asked(found, answer, ruling):
        return ruling.decision()
    place = place_of(found)
    moved = read_count(answer.text, "how many moved")
    if moved > len(place.keys):
        stop("count", f"{moved} of {len(place.keys)} cannot have moved; type how many did.")
    trusted(found, needed(found, _verify(found).figure), ruling)
    value = str(moved)
    if moved and found.address.round >= PASSES:
        ruling.rule(
            "still-moving",
            f"{moved} still move in pass {found.address.round}. Suspect the gasket, a thread, or "
            f"a stud that has bottomed. Begin again: restart ! the reason; or end it: {moved} ! "
            f"the reason",
        )
        value = f"{moved} moved, ended"
    over = not goes_on(value)
    ruling.done(value, (reached(container_of(found), place),) if over else ())
    if not over:
        ruling.said.append(f"{moved} moved: once more round the whole group.")
    return ruling.decision()


def _skipped_verify(found: Occurrence) -> tuple[Body, ...]:
    return (reached(container_of(found), place_of(found)),)


def _accept(found: Occurrence) -> Accept:
    if not isinstance(found.step.block, Accept):
        raise TypeError(found.step.kind)
    return found.step.block


def _ask_accept(found: Occurrence) -> Prompt:
    setting = found.scene.length(_accept(found).figure)
    facts = (
        head_line(found, f"at least {torque_line(found, setting)}"),
        *fastener_facts(found),
        "Enter: it reaches it; stage: all do; stage 5: five do. Or type the torque it has.",
        "renewed: a new one is in, and its stages are done again.",
    )
    return prompt_for(
        found,
        facts=(*facts, *generated(found)),
        large=large_torque(found, "at least", setting),
        view=found.step.view or "map",
    )


def _decide_accept(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    if restart_asked(found, answer, ruling):
        return ruling.decision()
    if answer.text.lower() == "renewed":
        return _renewed(found, ruling)
    least = needed(found, _accept(found).figure)
    value = str(least)
    if answer.text and answer.verb == "say":
        try:
            has = read(answer.text, unit=least.unit, kind=UNITS[least.unit])
        except UnitError as error:
            stop(error.code, error.message, *error.suggest)
        if has.in_(least.unit) < least.value:
            ruling.rule(
                "not-reached",
                f"{has} is under {least}: it has stretched. Put in a new one and type renewed; or "
                f"keep it: {has} ! the reason",
            )
        value = str(has)
    else:
        trusted(found, least, ruling)
    close(found, answer, value, ruling)
    return ruling.decision()


def _renewed(found: Occurrence, ruling: Ruling) -> Decision:
    """Open the stages so far at one fastener, because a new one is in."""
    scene, place, key = found.scene, place_of(found), found.address.place
    before = live(scene.plan, scene.state, container_of(found))[: place.number - 1]
    stages = [Address(p.step.id, key) for p in before if p.group == place.group and key in p.keys]
    first, effects = again(scene, {place.group: (key,)})
    effects.append(effect("new", f"{place.group}:{key}", f"0 of {place.of}"))
    reopened = [*first, *(a for a in stages if scene.closed(a))]
    reason = f"{key}: a new one after {found.step.id}"
    ruling.add("voided", voiding(found.address, reopened, reason, *effects))
    ruling.said.append(f"{found.place}: its stages are done again, at this one alone.")
    return ruling.decision()


VERIFY_KIND = Kind(
    name="verify",
    block=VERIFY,
    walk=_walk_verify,
    ask=_ask_verify,
    decide=_decide_verify,
    skipped=_skipped_verify,
)
ACCEPT_KIND = Kind(
    name="accept",
    block=ACCEPT,
    walk=walk_places,
    ask=_ask_accept,
    decide=_decide_accept,
    skipped=skipped,
    verbs=VERBS,
)
