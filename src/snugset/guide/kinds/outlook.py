"""What the readings of a round say so far: the probe's verdict, and what it would lead to."""

from snugset.files.steps import Step
from snugset.guide.kinds.judging import Judge, propose_for, readings_of
from snugset.guide.kinds.order_words import order_words
from snugset.guide.ruling import Stop
from snugset.guide.scene import Occurrence, Scene, newest
from snugset.guide.state import Reading
from snugset.plan.places import valves
from snugset.trade.fault import FigureError
from snugset.trade.verdict import Verdict


def newest_of(scene: Scene) -> dict[str, Reading]:
    """Give the newest reading of each place that the rounds measured."""
    ledgers = {
        getattr(step.block, "figure", "")
        for step in scene.plan.steps.values()
        if step.kind == "rounds"
    }
    found = newest(r for r in scene.state.readings.values() if r.figure in ledgers)
    return {s.key: found[s.key] for s in valves(scene.plan.engine) if s.key in found}


def ledger_facts(found: Occurrence) -> tuple[str, ...]:
    """Give this round's readings so far, and the order that they would lead to if all are alike.

    Outside rounds the newest reading of each place; nothing for steps that show no ledger.
    """
    scene, rounds = found.scene, found.scene.rounds
    if found.step.view != "ledger":
        return ()
    readings = readings_of(scene) if rounds else newest_of(scene)
    facts = [
        f"{place}: {r.value} ± {r.uncertainty or '—'}: {Verdict(r.verdict).words}"
        for place, r in readings.items()
    ]
    if rounds is None or not readings or all(r.verdict == "in" for r in readings.values()):
        return tuple(facts)
    judge: Step = rounds.children["judge"][0]
    if isinstance(judge.block, Judge):
        try:
            words = order_words(propose_for(scene, judge.block), valves(scene.plan.engine))
        except (FigureError, Stop):
            return tuple(facts)
        said = [words[0], *(w for w in words if w.startswith("Predicted"))]
        facts.append(f"If the others read alike — {'; '.join(said)}.")
    return tuple(facts)
