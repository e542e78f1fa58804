"""Deciding what an answer means. Rules run once, here; events keep the outcome."""

from datetime import datetime

from snugset.guide.address import Address
from snugset.guide.answer import LONGEST, Answer
from snugset.guide.begin_again import begin_again
from snugset.guide.beside import hand_over, photograph
from snugset.guide.kinds import KINDS
from snugset.guide.kinds.kind import Kind
from snugset.guide.kinds.second_look import looked_at
from snugset.guide.ruling import Decision, Refusal, Ruling, Stop, effect, stop
from snugset.guide.scene import Occurrence
from snugset.guide.state import State
from snugset.guide.walk import current, find, occurrences
from snugset.plan.plan import Plan
from snugset.trade.fault import FigureError
from snugset.values import replace


def decide(
    plan: Plan, state: State, answer: Answer, now: datetime, *, anywhere: bool = False
) -> Decision | Refusal:
    """Give the events of an answer, or why it changes nothing. Pure: no clock, file or screen.

    `anywhere` lets any open leaf be answered, as a spec sheet does that is filled from a file.
    """
    try:
        return _decide(plan, state, answer, now, anywhere=anywhere)
    except Stop as stopped:
        return stopped.refusal
    except FigureError as error:
        return Refusal(code="figure", words=f"That cannot be worked out: {error}.")


def _decide(plan: Plan, state: State, answer: Answer, now: datetime, *, anywhere: bool) -> Decision:
    _bounded(answer)
    if answer.sequence != state.sequence:
        stop("stale", "The prompt has changed since this was typed; look again and answer it.")
    if answer.verb == "back":
        return _back(state, answer)
    here = current(plan, state, now)
    if (beside := _beside_the_work(plan, state, here, answer, now)) is not None:
        return beside
    restarted = begin_again(plan, state, answer, now)
    if restarted is not None:
        return restarted
    found = find(plan, state, now, answer.address) if anywhere else None
    if found is None:
        found = _found(plan, state, here, _to_the_wait(state, answer), now)
    kind = KINDS[found.step.kind]
    if kind.literal is not None and kind.literal(found):
        answer = _as_typed(answer)
    answer = _as_choice(found, answer)
    if answer.verb == "person":
        return hand_over(found.address, answer)
    if answer.verb == "photo":
        return photograph(found.address, answer)
    if answer.verb == "note":
        return _note(found, answer)
    if answer.verb == "skip":
        return _skip(found, answer, kind)
    if kind.decide is None:
        raise TypeError(found.step.kind)
    early = _before_its_needs(plan, state, found, answer, now)
    answer = replace(answer, reasons=answer.reasons[early.used :])
    if answer.verb != "again" and answer.verb not in kind.verbs:
        # A word that is no verb here is an answer like any other: “none” can be a choice.
        answer = replace(answer, verb="say", text=f"{answer.verb} {answer.text}".strip())
    taken = kind.decide(found, answer)
    return replace(taken, events=(*early.events, *taken.events), said=(*early.said, *taken.said))


def _beside_the_work(
    plan: Plan, state: State, here: Occurrence | None, answer: Answer, now: datetime
) -> Decision | None:
    """Take what needs no open leaf: another person, a photograph of what is finished.

    None where it is an answer to the leaf asked, or to one that takes any words as they are.
    """
    if here is not None and answer.address == here.address:
        return None
    if answer.verb == "person":
        return hand_over(here.address if here else Address("finished"), answer)
    if answer.verb == "photo":
        if not (_is_finished(answer, here) or find(plan, state, now, answer.address)):
            stop("no-such-place", f"There is no {answer.address} in this build as it stands.")
        return photograph(answer.address, answer)
    return None


def _is_finished(answer: Answer, here: Occurrence | None) -> bool:
    return here is None and answer.address.step == "finished"


def _to_the_wait(state: State, answer: Answer) -> Answer:
    """Send ``arrived`` to the one wait there is, from whatever prompt it is typed at."""
    if answer.verb == "arrived" and answer.address not in state.holds and len(state.holds) == 1:
        return replace(answer, address=next(iter(state.holds)))
    return answer


def _as_typed(answer: Answer) -> Answer:
    """Take the words of a text prompt as they are: a source may begin with any word."""
    if answer.verb in ("say", "again"):
        return answer
    word = "not known" if answer.verb == "none" else f"{answer.verb} {answer.text}".strip()
    return replace(answer, verb="say", text=word)


def _as_choice(found: Occurrence, answer: Answer) -> Answer:
    """Take the words of a choice for that choice: “photo taken” is one where it is asked."""
    typed = f"{answer.verb} {answer.text}".strip()
    choices: tuple[str, ...] = getattr(found.step.block, "choices", ())
    if answer.verb in ("person", "photo") and typed in choices:
        return replace(answer, verb="say", text=typed)
    return answer


def _before_its_needs(
    plan: Plan, state: State, found: Occurrence, answer: Answer, now: datetime
) -> Ruling:
    """Stop a step whose needs are not done, or were skipped, unless a reason is given."""
    ruling = Ruling(answer, found.address)
    if not found.step.needs:
        return ruling
    missing = [
        str(other.address)
        for other in occurrences(plan, state, now)
        if looked_at(other.step.id) in found.step.needs
        and (other.open or state.facts[other.address].kind == "skipped")
    ]
    if missing:
        first = ", ".join(missing[:4]) + (f" and {len(missing) - 4} more" if missing[4:] else "")
        ruling.rule(
            "needs",
            f"Before {found.address} these must be done: {first}. A skipped one can still be "
            f"done: @{missing[0]} and its answer.",
        )
    return ruling


def _bounded(answer: Answer) -> None:
    for text in (answer.text, *answer.reasons):
        if len(text) > LONGEST:
            stop("too-long", f"That is {len(text)} characters; {LONGEST} are the most.")
        wrong = next((c for c in text if not c.isprintable()), None)
        if wrong is not None:
            stop(
                "character",
                f"A character that cannot be seen (U+{ord(wrong):04X}) is in it; type it again.",
            )


def _found(
    plan: Plan, state: State, here: Occurrence | None, answer: Answer, now: datetime
) -> Occurrence:
    """Find the leaf that is answered: the one asked, a wait, or a reading to be taken again."""
    if here is not None and answer.address == here.address:
        return here
    if answer.verb == "arrived" and answer.address in state.holds:
        return _known(find(plan, state, now, answer.address), answer)
    if answer.verb == "again" and answer.address.step.removeprefix("spec.") in state.specs:
        return _known(find(plan, state, now, answer.address), answer)
    fact = state.facts.get(answer.address)
    asked = f"{here.address} is asked now" if here else "the build is finished"
    if fact is not None:
        found = find(plan, state, now, answer.address)
        again = "again" if fact.kind == "reading" or _redone(found) else ""
        if found is not None and (
            answer.verb == "note" or fact.kind == "skipped" or answer.verb == again
        ):
            return found
        again = f" To do it anew: @{answer.address} again" if again else ""
        stop(
            "finished",
            f"{answer.address} is finished; {asked}.{again} The newest answer goes back with: back",
        )
    if here is None:
        stop("finished", "The build is finished; only back and again are taken.")
    found = find(plan, state, now, answer.address)
    if found is not None:
        stop("not-yet", f"{answer.address} comes later; {asked}.")
    stop("no-such-place", f"There is no {answer.address} in this build as it stands; {asked}.")


def _redone(found: Occurrence | None) -> bool:
    """Tell whether a finished step is one that can be done anew by itself, as sealant is."""
    return found is not None and found.step.kind in ("do", "torque")


def _known(found: Occurrence | None, answer: Answer) -> Occurrence:
    if found is None:
        stop("no-such-place", f"There is no {answer.address} in this build as it stands.")
    return found


def _back(state: State, answer: Answer) -> Decision:
    """Take back the newest answer that stands. It corrects the record, not the engine.

    Where the crank was moved it is unknown after that: no record says where it stands.
    """
    if state.returning:
        stop("returning", "Read what is asked on coming back first, then take back.")
    if not state.given:
        stop("nothing-back", "Nothing has been answered yet: there is nothing to take back.")
    newest = state.given[-1]
    ruling = Ruling(answer, answer.address)
    effects = [effect("crank", "", None)] if newest.turned else []
    ruling.add("undone", {"answer": newest.number, "at": newest.what, "effects": effects})
    ruling.said.append(
        f"Took back {newest.what}{f' and {newest.more} more' if newest.more else ''}. That "
        f"corrects the record, not the engine: what was done there still is."
    )
    if newest.turned:
        ruling.said.append("The crank counts as unknown now: number one is proven again.")
    return ruling.decision()


def _note(found: Occurrence, answer: Answer) -> Decision:
    if not answer.text:
        stop("empty", "Type the note after the word note.")
    ruling = Ruling(answer, found.address)
    ruling.add("note", {"at": str(found.address), "text": answer.text})
    ruling.said.append("Noted.")
    return ruling.decision()


def _skip(found: Occurrence, answer: Answer, kind: Kind) -> Decision:
    if not kind.skippable:
        stop("no-skip", f"{found.address} cannot be skipped{kind.instead}.")
    if not answer.text:
        stop("reason", "Say why it is skipped, after the word skip; it goes on the build sheet.")
    ruling = Ruling(answer, found.address)
    effects = list(kind.skipped(found)) if kind.skipped is not None else []
    ruling.add("skipped", {"at": str(found.address), "reason": answer.text, "effects": effects})
    ruling.said.append(f"Skipped {found.address}: {answer.text}")
    return ruling.decision()
