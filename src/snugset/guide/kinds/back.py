"""return: the first prompt after a break."""

from datetime import timedelta

from snugset.files.problems import Mark
from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.begun import Begun, begun_places
from snugset.guide.kinds.do import pick
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene, age, went_back, when
from snugset.guide.state import Break
from snugset.guide.words import took

SHORT = timedelta(hours=1)
"""A break under this, by the same person, leaves the crank to one question."""
CHOICES = ("untouched", "moved")
STEP = Step(
    kind="return",
    id="return",
    mark=Mark(file="", line=0, column=0),
    say="You are back. Read this before touching anything.",
    children={},
)


def can_confirm_crank(scene: Scene) -> bool:
    """Tell whether one key may say that the crank is as it was."""
    last = scene.state.breaks[-1]
    away = scene.now - when(last.before)
    same = last.person == last.last_person == scene.state.last_person
    short = away < SHORT and not went_back(last.before, scene.now)
    return last.crank is not None and short and same


def _facts(scene: Scene, last: Break) -> tuple[str, ...]:
    """Give where it stood, what is loose, what has waited, what to re-check, who was here."""
    state = scene.state
    away = took((scene.now - when(last.before)).total_seconds())
    if went_back(last.before, scene.now):
        away = "for a time that is not known"
    facts = [f"You were away {away}; last here: {last.last_person}."]
    if last.stood:
        title = scene.plan.phase(Address.parse(last.stood).step)
        facts.append(f"You stood at {last.stood}{f' ({title})' if title else ''}.")
    facts += [f"Loose: {words}." for words in last.loose]
    facts += [
        f"Waiting: {held.what}, for {took(age(state, held.since, scene.now))}."
        for held in state.holds.values()
    ]
    facts += [f"First: {words}." for words in last.advice]
    if last.crank is not None and not can_confirm_crank(scene):
        facts.append("The crank counts as unknown: number one is proven again before it is used.")
        facts += [_take_off(each, scene) for each in begun_places(scene.plan, state)]
    return tuple(facts)


def _take_off(begun: Begun, scene: Scene) -> str:
    engine, where = scene.plan.engine, begun.site.words.capitalize()
    if engine.rockers == "bridged":
        first = (
            "loosen both its screws, a turn each, and take it off before the crank is turned"
            if begun.site.over != "valves"
            else "loosen its bridge and take it off before the crank is turned"
        )
    elif engine.lifters == "hydraulic":
        first = "slacken its rockers until their pushrods are loose before the crank is turned"
    else:
        return f"{where} was begun: it is done again from the start."
    return f"{where} was begun: {first}. It is done again from the start."


def _ask(found: Occurrence) -> Prompt:
    facts = _facts(found.scene, found.scene.state.breaks[-1])
    if can_confirm_crank(found.scene):
        words = f"{STEP.say} Is the crank untouched, the mark still where it was?"
        return prompt_for(
            found, asks="choice", phase="Coming back", words=words, choices=CHOICES, facts=facts
        )
    return prompt_for(found, phase="Coming back", facts=facts)


def _decide(found: Occurrence, answer: Answer) -> Decision:
    state = found.scene.state
    ruling = Ruling(answer, found.address)
    known: str | None = None
    asked = can_confirm_crank(found.scene)
    if asked:
        crank = state.breaks[-1].crank
        known = None if pick(answer.text, CHOICES) == "moved" else str(crank)
    elif answer.text:
        stop("tick", "Only Enter is asked for here, when you have read it.")
    effects = [effect("crank", "", known)] if asked else []
    ruling.add("returned", {"at": str(found.address), "effects": effects})
    if known is None:
        _begun_again(found, ruling)
    return ruling.decision()


def _begun_again(found: Occurrence, ruling: Ruling) -> None:
    """Void the steps of places that were begun: the crank is turned to be proven, under them."""
    for each in begun_places(found.scene.plan, found.scene.state):
        ruling.add(
            "voided",
            {
                "addresses": [str(address) for address in each.addresses],
                "reason": f"{each.site.words} was begun before the break",
                "effects": [effect("drawn", place, None) for place in each.marks],
            },
        )
        ruling.said.append(_take_off(each, found.scene))


KIND = Kind(name="return", ask=_ask, decide=_decide, skippable=False)
