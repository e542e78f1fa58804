"""stages: a container of stages, and what it asks for itself before it can go on or begin again."""

from collections.abc import Iterator

from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.conditions import hold
from snugset.guide.events import Body
from snugset.guide.kinds.do import pick
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.kinds.renewing import after_restart, again
from snugset.guide.kinds.so_far import closing
from snugset.guide.kinds.stage_blocks import STAGES, Angle
from snugset.guide.kinds.staging import (
    container_of,
    live,
    reached,
    restart,
    voiding,
    yields,
)
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.plan.stages import groups_of, site
from snugset.values import replace

RENEW = ("renewed", "not torque-to-yield")
GASKET = ("stays", "renewed")
MARKS = ("kept", "given PLACES", "lost")


def _own(container: Step, name: str, kind: str, say: str, why: str) -> Step:
    """Make a step that the container asks for itself."""
    return Step(
        kind=kind,
        id=f"{container.id}.{name}",
        mark=container.mark,
        say=say,
        why=why,
        view="map",
        block=container.block,
    )


def _loosen_step(container: Step) -> Step:
    return _own(
        container,
        "loosen",
        "stages-loosen",
        "{place}: loosen it until it is free. All of them, in the reverse order.",
        "It begins again from the first stage, and that needs every fastener free.",
    )


def _renew_step(container: Step, name: str) -> Step:
    return _own(
        container,
        name,
        "stages-renew",
        "Torque-to-yield fasteners are used once: have they been renewed?",
        "One that was stretched does not clamp the same again. Its maker says which sort it is.",
    )


def _gasket_step(container: Step) -> Step:
    return _own(
        container,
        "gasket",
        "stages-gasket",
        "Ask the gasket's maker whether it may be clamped again. Does it stay, or is it renewed?",
        "A gasket that was pressed once has taken a set.",
    )


def _marks_step(container: Step) -> Step:
    return _own(
        container,
        "marks",
        "stages-marks",
        "It was broken off in an angle stage. Are the marks still there, and on which fasteners "
        "is the angle given?",
        "An angle given twice overstretches; it goes on from recorded marks only.",
    )


def _walk(step: Step, scene: Scene, unfold: Unfold) -> Iterator[Occurrence]:
    here = scene.at(stages=step)
    yield from _recovery(step, here)
    if scene.state.condition.mark("marks", step.id) is not None:
        marks = _marks_step(step)
        yield Occurrence(step=marks, address=Address(marks.id), scene=here, open=True)
    for inner in step.children["steps"]:
        yield from unfold((inner,), here)
        if hold(inner.conditions, scene.plan, scene.state):
            mark = scene.state.condition.mark("renew", inner.id)
            renew = replace(_renew_step(step, "renew"), id=f"{inner.id}.renew")
            address = Address(renew.id)
            if mark is not None or scene.closed(address):
                yield Occurrence(step=renew, address=address, scene=here, open=mark is not None)


def _recovery(step: Step, here: Scene) -> Iterator[Occurrence]:
    """Yield what is asked before a container begins again: open, or once done."""
    active = here.state.condition.mark("restart", step.id) is not None
    loosen = _loosen_step(step)
    groups = groups_of(step)
    for group in groups:
        for key in reversed(here.plan.engine.fasteners[group].order):
            shown = key if len(groups) == 1 else f"{group}.{key}"
            at = here.at(site=site(here.plan.engine, group, key, "" if shown == key else shown))
            address = Address(loosen.id, shown)
            if active or here.closed(address):
                yield Occurrence(
                    step=loosen, address=address, scene=at, open=not here.closed(address)
                )
    leaves = [_renew_step(step, "renew")] if yields(here, step) != "no" else []
    for leaf in (*leaves, _gasket_step(step)):
        address = Address(leaf.id)
        if active or here.closed(address):
            yield Occurrence(step=leaf, address=address, scene=here, open=not here.closed(address))


def _ask_loosen(found: Occurrence) -> Prompt:
    facts = ("Enter: this one is free. Type stage: all are; stage 5: five are so far.",)
    return prompt_for(found, facts=facts)


def _decide_loosen(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    if answer.text and answer.verb == "say":
        stop("tick", "Enter when this one is free, or stage when all the rest are.", "stage")
    every = [
        o for o in _recovery(container_of(found), found.scene) if o.address.step == found.step.id
    ]
    rest = [o.address for o in every if o.open]
    for address in closing(answer, found.address, rest, len(every)):
        ruling.done("free", (), address)
    return ruling.decision()


def _ask_renew(found: Occurrence) -> Prompt:
    if yields(found.scene, container_of(found)) == "yes":
        return prompt_for(found, facts=("Torque-to-yield: Enter, when all are renewed.",))
    return prompt_for(found, asks="choice", choices=RENEW)


def _decide_renew(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    container = container_of(found)
    value = "renewed"
    if yields(found.scene, container) != "yes":
        value = pick(answer.text, RENEW)
    elif answer.text:
        stop("tick", "Only Enter is asked for here, when all are renewed.")
    stage = found.step.id.removesuffix(".renew")
    if stage == container.id:
        ruling.done(value)
        return ruling.decision()
    ruling.done(value, (effect("renew", stage, None),))
    if value == "renewed":
        every = live(found.scene.plan, found.scene.state, container)
        place = next(p for p in every if p.step.id == stage)
        addresses, effects = again(found.scene, {place.group: place.keys})
        _void_renewed(found, ruling, addresses, effects)
    return ruling.decision()


def _void_renewed(
    found: Occurrence, ruling: Ruling, addresses: list[Address], effects: list[Body]
) -> None:
    if addresses or effects:
        reason = "other fasteners go in"
        ruling.add("voided", voiding(found.address, addresses, reason, *effects))
        ruling.said.append("What is done at each fastener before it goes in is done again first.")


def _skipped_renew(found: Occurrence) -> tuple[Body, ...]:
    stage = found.step.id.removesuffix(".renew")
    return (effect("renew", stage, None),)


def _ask_gasket(found: Occurrence) -> Prompt:
    return prompt_for(found, asks="choice", choices=GASKET)


def _decide_gasket(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    scene, container = found.scene, container_of(found)
    value = pick(answer.text, GASKET)
    ruling.done(value, (effect("restart", container.id, None),))
    renewed = scene.state.facts.get(Address(f"{container.id}.renew"))
    fasteners = renewed is not None and renewed.value == "renewed"
    addresses, effects = after_restart(
        scene, container, fasteners=fasteners, gasket=value == "renewed"
    )
    if value == "renewed":
        reason = "the gasket is renewed"
        ruling.add("voided", voiding(found.address, addresses, reason, *effects))
        ruling.said.append("A new gasket: its steps are done again first.")
    else:
        _void_renewed(found, ruling, addresses, effects)
    return ruling.decision()


def _skipped_gasket(found: Occurrence) -> tuple[Body, ...]:
    return (effect("restart", container_of(found).id, None),)


def _ask_marks(found: Occurrence) -> Prompt:
    stage = found.scene.state.condition.mark("marks", container_of(found).id) or ""
    given = [a.place for a in found.scene.state.facts if a.step == stage]
    facts = (
        f"Recorded in {stage} as given: {', '.join(given) or 'none'}.",
        "kept: the marks are there, and it is given on these alone."
        if given
        else "kept: the marks are there, and none shows an angle.",
        "given 1 2 5: on these, by their marks. lost: loosen all and begin again.",
    )
    return prompt_for(found, asks="choice", choices=MARKS, facts=facts)


def _decide_marks(found: Occurrence, answer: Answer) -> Decision:
    scene, container = found.scene, container_of(found)
    ruling = Ruling(answer, found.address)
    stage = scene.state.condition.mark("marks", container.id) or ""
    place = next(p for p in live(scene.plan, scene.state, container) if p.step.id == stage)
    word, _, rest = answer.text.lower().partition(" ")
    if word == "lost" and not rest:
        restart(scene, container, ruling, "the marks of the angle are lost")
        return ruling.decision()
    recorded = [a.place for a in scene.state.facts if a.step == stage]
    given = recorded
    if word == "given" and rest:
        given = rest.replace(",", " ").split()
        strangers = [key for key in given if key not in place.keys]
        if strangers:
            stop("choice", f"{strangers[0]} is no place of {stage}: {', '.join(place.keys)}.")
    elif word != "kept" or rest:
        stop("choice", "Type kept, or given and the places, or lost.", "kept", "lost")
    whole = set(given) == set(place.keys)
    effects = (
        effect("marks", container.id, None),
        *((reached(container, place),) if whole else ()),
    )
    ruling.done(f"given: {', '.join(given) or 'none'}", effects)
    wanted = scene.length(place.step.block.figure) if isinstance(place.step.block, Angle) else None
    for key in given:
        if key not in recorded:
            ruling.done(f"{wanted}, by its mark", (), Address(stage, key))
    wrong = [Address(stage, key) for key in recorded if key not in given]
    if wrong:
        ruling.add("voided", voiding(found.address, wrong, "no mark shows the angle"))
    return ruling.decision()


KIND = Kind(name="stages", block=STAGES, walk=_walk)
LOOSEN = Kind(
    name="stages-loosen",
    ask=_ask_loosen,
    decide=_decide_loosen,
    verbs=frozenset({"say", "stage"}),
)
RENEW_KIND = Kind(name="stages-renew", ask=_ask_renew, decide=_decide_renew, skipped=_skipped_renew)
GASKET_KIND = Kind(
    name="stages-gasket", ask=_ask_gasket, decide=_decide_gasket, skipped=_skipped_gasket
)
MARKS_KIND = Kind(name="stages-marks", ask=_ask_marks, decide=_decide_marks, skippable=False)
