"""What the readings of a round say so far: the probe's verdict, and what it would lead to."""

from snugset.files.steps import Step
from snugset.guide.kinds.judge import Judge, propose_for, readings_of
from snugset.guide.kinds.order_words import order_words
from snugset.guide.ruling import Stop
from snugset.guide.scene import Occurrence
from snugset.trade.fault import FigureError
from snugset.trade.verdict import Verdict


def ledger_facts(found: Occurrence) -> tuple[str, ...]:
    """Give this round's readings so far, and the order that they would lead to if all are alike.

    Empty outside a round of measuring, and for steps that do not show the ledger.
    """
    scene, rounds = found.scene, found.scene.rounds
    if rounds is None or found.step.view != "ledger":
        return ()
    readings = readings_of(scene)
    facts = [
        f"{place}: {r.value} ± {r.uncertainty or '—'}: {Verdict(r.verdict).words}"
        for place, r in readings.items()
    ]
    if not readings or all(r.verdict == "in" for r in readings.values()):
        return tuple(facts)
    judge: Step = rounds.children["judge"][0]
    if isinstance(judge.block, Judge):
        try:
            words = order_words(propose_for(scene, judge.block))
        except (FigureError, Stop):
            return tuple(facts)
        facts.append(f"If the others read alike — {'; '.join(words[:2])}.")
    return tuple(facts)
