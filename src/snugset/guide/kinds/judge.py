"""judge: over a whole round of readings, accept them, order pushrods, or measure a place again."""

from collections.abc import Mapping

from snugset.guide.answer import Answer
from snugset.guide.kinds.gap import fitted
from snugset.guide.kinds.judging import (
    BLOCK,
    block_of,
    missing_of,
    propose_for,
    readings_of,
    settled,
    summary,
)
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.kinds.order_words import order_words
from snugset.guide.kinds.patterns import pattern_words
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, Stop, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.plan.places import valves
from snugset.trade.allowed import Catalogue
from snugset.trade.fault import FigureError
from snugset.units import Quantity, UnitError, read, rounded

CHOICES = ("accept", "order", "again PLACE")


def _ask(found: Occurrence) -> Prompt:
    scene = found.scene
    facts = [*summary(scene), *pattern_words(scene, readings_of(scene))]
    good = settled(scene)
    if not good:
        try:
            facts += order_words(propose_for(scene, block_of(found)), valves(scene.plan.engine))
        except FigureError as error:
            facts.append(f"No order can be proposed: {error}")
        except Stop as stopped:
            facts.append(stopped.refusal.words)
    facts.append("accept · order · order LENGTH · again PLACE (measure that bridge again)")
    return prompt_for(
        found,
        asks="choice",
        choices=CHOICES,
        proposal=_proposal(scene, good=good),
        facts=tuple(facts),
        calculator="pushrods",
        view=found.step.view or "ledger",
    )


def _near(scene: Scene) -> tuple[Quantity, Quantity] | None:
    """Give the band of lengths that are pushrods of this engine: by the one in hand."""
    hand = next((h for s in valves(scene.plan.engine) if (h := fitted(scene, s.key))), None)
    if hand is None:
        return None
    half = Quantity(hand.value / 2, hand.unit)
    return half, Quantity(hand.value + half.value, hand.unit)


def _proposal(scene: Scene, *, good: bool) -> str:
    """Give what Enter takes: accept, a provisional place again, or order."""
    provisional = next((p for p, r in readings_of(scene).items() if r.provisional), "")
    return "accept" if good else f"again {provisional}" if provisional else "order"


def _accept(found: Occurrence, ruling: Ruling) -> Decision:
    scene = found.scene
    readings = readings_of(scene)
    bad = {p: r for p, r in readings.items() if r.verdict in ("low", "high", "loose", "bottomed")}
    unproved = [p for p, r in readings.items() if r.verdict == "outside"]
    provisional = [p for p, r in readings.items() if r.provisional]
    missing = missing_of(scene)
    if missing:
        ruling.rule("places-missing", f"Not measured in this round: {', '.join(missing)}.")
    if bad:
        listed = ", ".join(f"{p} {r.value} {r.verdict}" for p, r in bad.items())
        ruling.rule("out-of-window", f"Out of the window: {listed}. Order other pushrods.")
    if unproved:
        ruling.rule(
            "not-proved",
            f"Outside, not proved: {', '.join(unproved)}. Take them again, or order, or say why.",
        )
    if provisional:
        ruling.rule(
            "provisional",
            f"Lifters not bled down at {', '.join(provisional)}: read them again.",
        )
    lengths = {p: r.pushrod for p, r in readings.items() if r.pushrod}
    proved = not (missing or provisional) and all(r.verdict == "in" for r in readings.values())
    return _judged(found, ruling, "accept", lengths, {}, proved=proved, words=())


def _order(found: Occurrence, ruling: Ruling, typed: str) -> Decision:
    scene = found.scene
    missing = missing_of(scene)
    if missing:
        ruling.rule(
            "places-missing",
            f"Before ordering, every place is measured with the pushrods in hand; not measured: "
            f"{', '.join(missing)}.",
        )
    provisional = [p for p, r in readings_of(scene).items() if r.provisional]
    if provisional:
        ruling.rule(
            "provisional",
            f"Lifters not bled down at {', '.join(provisional)}: read them again before ordering.",
        )
    patterns = pattern_words(scene, readings_of(scene))
    if patterns:
        ruling.rule("pattern", f"{' '.join(patterns)} Look there before ordering.")
    lengths: Catalogue | None = None
    if typed:
        try:
            lengths = (read(typed, unit="in", kind="length", band=_near(scene)),)
        except UnitError as error:
            ruling.unit_error(error)
            lengths = (read(typed, unit="in", kind="length"),)
    try:
        decided = propose_for(scene, block_of(found), lengths)
    except FigureError as error:
        stop("figure", str(error))
    if decided.standard == "none":
        ruling.rule(
            "cannot-fit",
            f"These lengths leave {', '.join(decided.fails)} outside the window. "
            f"{' '.join(order_words(decided, valves(scene.plan.engine))[-1:])}",
        )
    words = order_words(decided, valves(scene.plan.engine))
    ruling.said += words
    return _judged(
        found,
        ruling,
        "order",
        {p: fit.length for p, fit in decided.fits.items()},
        {p: rounded(fit.predicted) for p, fit in decided.fits.items()},
        proved=decided.proved,
        words=words,
    )


def _judged(
    found: Occurrence,
    ruling: Ruling,
    outcome: str,
    lengths: Mapping[str, Quantity],
    predicted: Mapping[str, Quantity],
    *,
    proved: bool,
    words: tuple[str, ...],
) -> Decision:
    ruling.add(
        "judged",
        {
            "at": str(found.address),
            "outcome": outcome,
            "lengths": {p: q.to_json() for p, q in sorted(lengths.items())},
            "predicted": {p: q.to_json() for p, q in sorted(predicted.items())},
            "proved": proved,
            "words": list(words),
        },
    )
    if outcome == "accept":
        ruling.said.append(f"Round {found.address.round} accepted.")
    return ruling.decision()


def _again(found: Occurrence, ruling: Ruling, place: str) -> Decision:
    """Open one bridge's steps of this round again."""
    cylinder = place.strip().upper().rstrip("IE")
    known = {str(n) for n in found.scene.plan.engine.firing_order}
    if cylinder not in known:
        stop("no-such-place", f"“{place[:20]}” is no place here; say again 4I, or again 4.")
    wanted = (cylinder, f"{cylinder}I", f"{cylinder}E")
    addresses = [
        str(a)
        for a in found.scene.state.facts
        if a.round == found.address.round and a.place in wanted
    ]
    ruling.add(
        "voided",
        {
            "at": str(found.address),
            "addresses": addresses,
            "reason": f"measured again: {place}",
            "effects": [],
        },
    )
    ruling.said.append(f"Bridge {cylinder} is measured again, from a fresh line.")
    return ruling.decision()


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Accept the round, order pushrods, or open a place again."""
    ruling = Ruling(answer, found.address)
    if answer.verb == "again":
        return _again(found, ruling, answer.text)
    text = answer.text or _proposal(found.scene, good=settled(found.scene))
    word, _, rest = text.partition(" ")
    if word.lower() == "again":
        return _again(found, ruling, rest)
    if word.lower() == "accept" and not rest:
        return _accept(found, ruling)
    if word.lower() == "order":
        return _order(found, ruling, rest.strip())
    stop("choice", f"“{text[:40]}” is none of: accept, order, order LENGTH, again PLACE.", "order")


KIND = Kind(name="judge", block=BLOCK, ask=_ask, decide=decide, skippable=False)
