"""second-look: another person than the one who did a step confirms it, before work goes on."""

from collections.abc import Iterator

from snugset.files.steps import Step
from snugset.guide.answer import Answer
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.people import LONGEST, folded, initials
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.values import dataclass

SUFFIX = ".second-look"


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What a second look is at."""

    people: tuple[str, ...]
    """Who did the step, in the order of its places."""


def looked_at(step: str) -> str:
    """Give the step that a second look is at; any other step is itself."""
    return step.removesuffix(SUFFIX)


def with_second_look(
    step: Step, scene: Scene, leaves: Iterator[Occurrence]
) -> Iterator[Occurrence]:
    """Yield the leaves of a step, and after them the look of a second person.

    It is open until it is newer than all that it is at: what is done again is looked at again.
    Where nothing was done, all left out, there is nothing to look at.
    """
    facts = scene.state.facts
    newest, some_open = 0, False
    people: dict[str, None] = {}
    for found in leaves:
        yield found
        some_open = some_open or found.open
        fact = facts.get(found.address)
        if fact is not None and fact.kind != "skipped":
            newest = max(newest, fact.sequence)
            people[fact.person] = None
    if not newest and not some_open:
        return
    look = Step(
        kind="second-look",
        id=f"{step.id}{SUFFIX}",
        mark=step.mark,
        say="A second person looks at what was just done, and says so here.",
        why="Who did it sees what was meant; another sees what is there.",
        view=step.view,
        block=Looked(people=tuple(people)),
    )
    address = scene.address(look)
    given = facts.get(address)
    yield Occurrence(
        step=look,
        address=address,
        scene=scene,
        open=some_open or given is None or given.sequence < newest,
    )


def _looked(found: Occurrence) -> Looked:
    if not isinstance(found.step.block, Looked):
        raise TypeError(found.step.kind)
    return found.step.block


def _ask(found: Occurrence) -> Prompt:
    scene = found.scene
    step = scene.plan.steps[looked_at(found.step.id)]
    people = " and ".join(_looked(found).people)
    at = f", {found.place}" if found.place else ""
    facts = (
        f"Looked at: {looked_at(found.step.id)}{at}; done by {people}.",
        "The second person types their name, or Enter after: person NAME.",
        "Not right? Put it right first: the newest answer goes back with back.",
        "Alone? ! and why; it stands on the build sheet.",
    )
    return prompt_for(found, asks="text", facts=facts, tools=step.tools)


def _decide(found: Occurrence, answer: Answer) -> Decision:
    ruling = Ruling(answer, found.address)
    name = " ".join(answer.text.split()) or answer.person
    if len(name) > LONGEST:
        stop("too-long", f"That is {len(name)} letters; a person's name has {LONGEST} at the most.")
    people = _looked(found).people
    name = _by_initials(name, found.scene)
    if folded(name) in map(folded, people):
        ruling.rule(
            "same-person",
            f"{name} did this; the second look is another person's. They type their name, or take "
            f"over: person NAME. Alone, it goes on with a reason: ! why",
        )
        ruling.done("")
        ruling.said.append("No second person looked; the reason stands on the build sheet.")
    else:
        ruling.done(name)
        ruling.said.append(f"Looked at by {name}.")
    return ruling.decision()


def _by_initials(name: str, scene: Scene) -> str:
    """Take the initials of somebody who is on record for their name."""
    known = initials(scene.state.people)
    return next((who for who, short in known.items() if short == name.upper()), name)


KIND = Kind(
    name="second-look",
    ask=_ask,
    decide=_decide,
    skippable=False,
    instead="; alone, go on with a reason: ! why",
)
