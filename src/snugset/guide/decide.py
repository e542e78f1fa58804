"""Deciding what an answer means. Rules run once, here; events keep the outcome."""

from dataclasses import replace
from datetime import datetime

from snugset.guide.answer import LONGEST, Answer
from snugset.guide.kinds import KINDS
from snugset.guide.kinds.turn import skip_effects
from snugset.guide.ruling import Decision, Refusal, Ruling, Stop, stop
from snugset.guide.scene import Occurrence
from snugset.guide.state import State
from snugset.guide.walk import current, find
from snugset.plan.plan import Plan


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


def _decide(plan: Plan, state: State, answer: Answer, now: datetime, *, anywhere: bool) -> Decision:
    _bounded(answer)
    if answer.verb == "back":
        return _back(state, answer)
    if answer.sequence != state.sequence:
        stop("stale", "The prompt has changed since this was typed; look again and answer it.")
    found = find(plan, state, now, answer.address) if anywhere else None
    if found is None:
        found = _found(plan, state, answer, now)
    if answer.verb == "note":
        return _note(found, answer)
    kind = KINDS[found.step.kind]
    if answer.verb == "skip":
        return _skip(found, answer, skippable=kind.skippable)
    if kind.decide is None:
        raise TypeError(found.step.kind)
    if answer.verb != "again" and answer.verb not in kind.verbs:
        # A word that is no verb here is an answer like any other: “none” can be a choice.
        answer = replace(answer, verb="say", text=answer.verb)
    return kind.decide(found, answer)


def _bounded(answer: Answer) -> None:
    for text in (answer.text, answer.reason):
        if len(text) > LONGEST:
            stop("too-long", f"That is {len(text)} characters; {LONGEST} are the most.")
        wrong = next((c for c in text if not c.isprintable()), None)
        if wrong is not None:
            stop(
                "character",
                f"A character that cannot be seen (U+{ord(wrong):04X}) is in it; type it again.",
            )


def _found(plan: Plan, state: State, answer: Answer, now: datetime) -> Occurrence:
    """Find the leaf that is answered: the one asked, a wait, or a reading to be taken again."""
    here = current(plan, state, now)
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
        if found is not None and answer.verb in ("again", "note") and fact.kind == "reading":
            return found
        if found is not None and answer.verb == "note":
            return found
        again = " To read it again: again and the reading." if fact.kind == "reading" else ""
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


def _known(found: Occurrence | None, answer: Answer) -> Occurrence:
    if found is None:
        stop("no-such-place", f"There is no {answer.address} in this build as it stands.")
    return found


def _back(state: State, answer: Answer) -> Decision:
    """Take back the newest answer that stands. It corrects the record, not the engine."""
    if not state.given:
        stop("nothing-back", "Nothing has been answered yet: there is nothing to take back.")
    newest = state.given[-1]
    ruling = Ruling(answer, answer.address)
    ruling.add("undone", {"answer": newest.number, "at": newest.what})
    ruling.said.append(
        f"Took back {newest.what}. That corrects the record, not the engine: what was done there "
        f"still is."
    )
    return ruling.decision()


def _note(found: Occurrence, answer: Answer) -> Decision:
    if not answer.text:
        stop("empty", "Type the note after the word note.")
    ruling = Ruling(answer, found.address)
    ruling.add("note", {"at": str(found.address), "text": answer.text})
    ruling.said.append("Noted.")
    return ruling.decision()


def _skip(found: Occurrence, answer: Answer, *, skippable: bool) -> Decision:
    if not skippable:
        none = "; type none if you do not have the figure" if found.step.kind == "spec" else ""
        stop("no-skip", f"{found.address} cannot be skipped{none}.")
    if not answer.text:
        stop("reason", "Say why it is skipped, after the word skip; it goes on the build sheet.")
    ruling = Ruling(answer, found.address)
    effects = list(skip_effects(found)) if found.step.kind in ("turn", "crank-turn") else []
    ruling.add("skipped", {"at": str(found.address), "reason": answer.text, "effects": effects})
    ruling.said.append(f"Skipped {found.address}: {answer.text}")
    return ruling.decision()
