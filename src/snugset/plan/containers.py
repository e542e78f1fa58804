"""What a procedure's containers and leaves must be to each other."""

from collections.abc import Iterable, Iterator

from snugset.files.problems import Problems, all_of, an, quote
from snugset.files.steps import Procedure, Step
from snugset.plan.stages import KINDS as STAGES
from snugset.values import dataclass, replace

VERBS = ("back", "note", "skip", "again", "none", "stage", "arrived")
"""Words of the answers' own grammar; a choice spelled so could never be picked."""


_UNPROVEN = (
    "the crank is used before number one is proven; put a step “turn” with “prove: yes” before it"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What a step stands in."""

    rounds: Step | None = None
    each: bool = False
    over: str = ""
    """What the innermost container of places goes through."""
    stages: bool = False
    judged: bool = False
    """Whether it stands under the rounds' ``judge``."""


def check_containers(procedure: Procedure, into: Problems) -> None:
    """Add each step that stands where it cannot be done, or is put together so that it cannot."""
    ids = {s.id for phase in procedure.phases for s, _ in walk(phase.steps)}
    proven = False
    for phase in procedure.phases:
        for step, around in walk(phase.steps):
            proven = proven or bool(getattr(step.block, "prove", False))
            for wrong in _wrong(step, around, ids, proven=proven):
                about = ("prove",) if wrong == _UNPROVEN else ()
                into.add(step.mark, f"{step.id}: {wrong}", about)


def walk(steps: Iterable[Step], around: Around | None = None) -> Iterator[tuple[Step, Around]]:
    """Walk steps and all they hold, in order of writing, with what each stands in."""
    around = Around() if around is None else around
    for step in steps:
        yield step, around
        for field, inner in step.children.items():
            yield from walk(inner, _inside(step, field, around))


def _inside(step: Step, field: str, around: Around) -> Around:
    if step.kind == "rounds":
        return replace(around, rounds=step, judged=field == "judge")
    if step.kind in ("each", "crank"):
        over = getattr(step.block, "over", "")
        once = field == "after-first"
        return replace(around, each=True, over="" if once else over, judged=False)
    if step.kind == "stages":
        return replace(around, stages=True)
    return around


def _wrong(step: Step, around: Around, ids: set[str], *, proven: bool) -> Iterator[str]:
    block = step.block
    if step.kind in ("preload", "judge") and around.rounds is None:
        yield f"a step of kind {step.kind} stands inside rounds only"
    if step.kind == "judge" and around.rounds is not None and not around.judged:
        yield "a judge stands in the rounds' “judge”, not among its steps"
    if step.kind == "rounds" and [s.kind for s in step.children.get("judge", ())] != ["judge"]:
        yield "“judge” holds one step of kind judge, no other"
    if step.kind == "rounds" and around.rounds is not None:
        yield "rounds cannot stand inside rounds"
    if step.kind == "tighten" and (around.each or around.rounds is not None):
        yield "a whole group is tightened outside containers; inside one, use torque"
    if step.kind in ("lash", "nut") and around.over != "valves":
        yield f"{an(step.kind)} stands at valves: inside each or crank “over: valves”"
    if getattr(block, "method", "") == "valve-by-valve" and getattr(block, "over", "") != "valves":
        yield "valve by valve goes over valves; write “over: valves”"
    if step.kind == "choose":
        yield from _taken(tuple(step.children))
    if step.kind == "stages":
        yield from _stages(step, around, ids)
    if step.kind in STAGES and not around.stages:
        yield f"a step of kind {step.kind} stands in a container “stages” only"
    if around.stages and step.kind not in STAGES:
        yield f"only {all_of(STAGES)} stand in “stages”; put this before or after it"
    if around.over and step.kind == "crank":
        yield "a crank container cannot stand inside places; put it outside"
    if around.over and step.kind == "each" and not _within(block, around.over):
        # An address has one place: all places again at each place would be the same leaves again.
        yield "inside places, an each goes over the valves of a cylinder or bridge, nothing else"
    if step.kind == "crank":
        if not proven:
            yield _UNPROVEN
        for taken in sorted({f"{step.id}.plan", f"{step.id}.turn"} & ids):
            yield f"the id {quote(taken)} is the container's own; give that step another"
    if step.second_look and (taken := f"{step.id}.second-look") in ids:
        yield f"the id {quote(taken)} is its second look's own; give that step another"
    if step.kind == "turn" and getattr(block, "prove", None) is False:
        yield "a turn step proves number one: write “prove: yes”; others are a crank container's"
    if getattr(block, "where", "") == "changed" and around.rounds is None:
        yield "“where: changed” has a meaning inside rounds only"
    yield from _figure(step, around)
    yield from _choices(block)


def _within(block: object, outer: str) -> bool:
    return getattr(block, "over", "") == "valves" and outer in ("cylinders", "bridges")


def _stages(step: Step, around: Around, ids: set[str]) -> Iterator[str]:
    if around.each or around.rounds is not None or around.stages:
        yield "stages stand outside containers of places; inside one, use torque"
    own = {f"{step.id}.{name}" for name in ("loosen", "renew", "gasket", "marks")}
    own |= {f"{inner.id}.renew" for inner in step.children.get("steps", ())}
    for taken in sorted(own & ids):
        yield f"the id {quote(taken)} is the container's own; give that step another"
    inner = [each.kind for each in step.children.get("steps", ())]
    if inner and inner[0] not in ("torque-to", "loosen"):
        yield f"its first stage is {an(inner[0])}; a torque or a loosening comes before it"


def _figure(step: Step, around: Around) -> Iterator[str]:
    if step.kind != "preload" or around.rounds is None:
        return
    own, theirs = getattr(step.block, "figure", ""), getattr(around.rounds.block, "figure", "")
    if own != theirs:
        yield f"it is written in {quote(own)}, the rounds judge {quote(theirs)}; name one ledger"


def _choices(block: object) -> Iterator[str]:
    choices: tuple[str, ...] = getattr(block, "choices", ())
    wants: str = getattr(block, "wants", "")
    if wants and choices and wants not in choices:
        yield f"it wants {quote(wants)}, which is none of its choices"
    if wants and not choices:
        yield f"it wants {quote(wants)} and offers no choices"
    yield from _taken(choices)


def _taken(choices: tuple[str, ...]) -> Iterator[str]:
    verbs = [c for c in choices if c.partition(" ")[0] in VERBS and c != "none"]
    if verbs:
        yield f"{all_of(verbs)} is a word of its own at every prompt; call the choice otherwise"
