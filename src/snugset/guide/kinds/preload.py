"""preload: how deep a lifter's plunger sits, read with feeler leaves at the scratch line."""

from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.kinds.aside import set_aside
from snugset.guide.kinds.feelers import check_owned, leaves_for
from snugset.guide.kinds.gap import (
    BLOCK,
    Gap,
    before,
    block_of,
    fitted,
    lifter_now,
    ordered,
    window_of,
)
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.kinds.large import between, of
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.trade.fault import FigureError
from snugset.trade.preload import ENOUGH_TAKES, REPEATABILITY, Preload
from snugset.trade.preload import preload as work_out
from snugset.trade.reread import LOOK_FIRST, Reread, reread
from snugset.trade.verdict import Verdict
from snugset.units import Quantity, UnitError, check_band, echo, read_takes, rounded


def _ask(found: Occurrence) -> Prompt:
    block, scene = block_of(found), found.scene
    facts = []
    target = scene.length(block.target)
    window = window_of(scene, block.window)
    if window:
        facts.append(f"Window {window[0]} to {window[1]}")
    if target:
        facts.append(f"Target {echo(target)}")
        facts += leaves_for(target, scene.state.spec(block.leaves))
    judged = ordered(scene)
    if judged and found.address.place in judged.predicted:
        facts.append(f"Predicted {judged.predicted[found.address.place]}")
    if lifter_now(found) == "filled":
        facts.append("The lifter is still filled: provisional until it has bled down.")
    takes = f"{block.takes} takes: 17+18; 18+18" if block.takes > 1 else "leaves: 17+18"
    facts.append(f"Type the leaves in {block.unit}, + between leaves, ; between takes ({takes}).")
    inputs = {
        key: str(value)
        for key, value in (
            ("target", target),
            ("travel", scene.length(block.travel)),
            ("repeatability", scene.length(block.repeatability)),
            ("leaf_tolerance", scene.length(block.leaf)),
        )
        if value is not None
    }
    if window:
        inputs["window"] = f"{window[0]}..{window[1]}"
    return prompt_for(
        found,
        asks="figure",
        unit=block.unit,
        facts=tuple(facts),
        large=between(*window, block.unit)
        if window
        else of("target", None if target is None else rounded(target.to(block.unit))),
        calculator="preload",
        inputs=inputs | {"lifter": lifter_now(found)},
        reading_key="takes",
        view=found.step.view or "ledger",
    )


def _take(found: Occurrence, answer: Answer, ruling: Ruling) -> Preload:
    block, scene = block_of(found), found.scene
    try:
        takes = read_takes(answer.text, unit=block.unit, kind="length")
    except UnitError as error:
        stop(error.code, error.message, *error.suggest)
    try:
        result = work_out(
            takes,
            window=window_of(scene, block.window),
            target=scene.length(block.target),
            travel=_travel(scene, block),
            repeatability=scene.length(block.repeatability) or REPEATABILITY,
            leaf_tolerance=scene.length(block.leaf),
            lifter=lifter_now(found),
        )
    except FigureError as error:
        stop("figure", str(error))
    _drawn(found, ruling)
    if block.plausible and result.verdict is not Verdict.LOOSE:
        for stack in result.takes:
            try:
                check_band(stack, block.plausible)
            except UnitError as error:
                ruling.unit_error(error)
                break
    check_owned(takes, scene.state.spec(block.leaves), ruling)
    few = len(takes) < block.takes and result.verdict.measured
    if few:
        ruling.rule(
            "few-takes",
            f"{block.takes} takes are asked for: lift the straightedge off, set it back, read "
            f"again, and type both with ; between them.",
        )
    if result.too_many_leaves:
        ruling.rule(
            "leaves",
            "More than three leaves in a stack trap oil and read thick: use fewer, thicker ones.",
        )
    if len(takes) >= ENOUGH_TAKES and _wild(result, scene.length(block.repeatability)):
        ruling.rule(
            "takes-wild",
            f"Three takes {result.spread} apart are no reading: scratch a fresh line and measure "
            f"again.",
        )
    if result.another_take:
        ruling.rule(
            "takes-apart",
            f"The takes are {result.spread} apart, more than they should repeat: take a third "
            f"from a fresh line and type all three, ; between them.",
        )
    return result


def _travel(scene: Scene, block: Gap) -> Quantity | None:
    """Give the lifter's travel, where it can hold the window; a reason was given if it cannot."""
    travel, window = scene.length(block.travel), window_of(scene, block.window)
    if travel and window and window[1].in_(travel.unit) > travel.value:
        return None
    return travel


def _wild(result: Preload, repeatability: Quantity | None) -> bool:
    """Tell whether takes lie further apart than twice what they should repeat to."""
    allowed = repeatability or REPEATABILITY
    return result.spread.in_("thou") > 2 * allowed.in_("thou")


def _drawn(found: Occurrence, ruling: Ruling) -> None:
    """Stop a reading where the bridge was not drawn down or no line was scratched."""
    block, scene = block_of(found), found.scene
    bridge = str(scene.site.cylinder) if scene.site else ""
    for step in filter(None, (block.since, block.line)):
        fact = scene.state.facts.get(Address(step, bridge, scene.round))
        if fact is None or fact.kind == "skipped":
            ruling.rule("not-marked", f"{step} was not done at bridge {bridge}: nothing to read.")


def _compare(found: Occurrence, result: Preload) -> Reread | None:
    """Hold a reading against what was predicted when its pushrod was ordered."""
    judged, old = ordered(found.scene), before(found)
    if judged is None or old is None:
        return None
    predicted = judged.predicted.get(found.address.place)
    if predicted is None:
        return None
    unit = old.value.unit
    change = Quantity(predicted.in_(unit) - old.value.value, unit)
    return reread(old.value, change, result.mean, result.uncertainty)


def _again_alike(found: Occurrence, result: Preload) -> bool:
    """Tell whether the same place was read before in this round and set aside at this figure."""
    unit = result.mean.unit
    return any(
        s.address == found.address
        and s.code == "off"
        and abs(s.value.in_(unit) - result.mean.value) <= result.uncertainty.in_(unit)
        for s in found.scene.state.set_aside
    )


def _doubts(found: Occurrence, result: Preload, compared: Reread | None) -> tuple[str, str]:
    """Give why a reading cannot stand as it is, as a code and in words; empty if it can."""
    if not result.verdict.measured:
        first = "no gap at all" if result.verdict is Verdict.LOOSE else "at the end of its travel"
        oil = (
            " Loosen this bridge before the crank is turned."
            if result.verdict is Verdict.BOTTOMED
            else ""
        )
        return str(result.verdict), (
            f"{result.mean}: {first}, which is no measurement but a bound.{oil} Read it again, or "
            f"keep it with a reason: the figure ! the reason"
        )
    if compared is None or compared.flag == "agrees":
        return "", ""
    if compared.flag == "off" and _again_alike(found, result):
        return "", ""
    what = "reads as it did before" if compared.flag == "old" else f"{compared.difference} off"
    return compared.flag, (
        f"{result.mean}, predicted {compared.predicted}: {what}. Look first: "
        f"{LOOK_FIRST[compared.flag]}. Then read it again, or keep it: the figure ! the reason"
    )


def _after_judgement(found: Occurrence, ruling: Ruling) -> None:
    """Refuse to change a round that was ordered on; take back an acceptance."""
    for judged in found.scene.state.judged.values():
        if judged.address.round != found.address.round:
            continue
        if judged.outcome == "order":
            stop(
                "judged",
                f"Pushrods were ordered on round {found.address.round}: it stays as it was read. "
                f"Read this place in the round that is open now.",
            )
        ruling.add(
            "voided",
            {
                "at": str(found.address),
                "addresses": [str(judged.address)],
                "reason": f"{found.address} was read again",
                "effects": [],
            },
        )
        ruling.said.append("The round is judged again, with this reading.")


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Take a reading, or set it aside and say what to look at."""
    block, scene = block_of(found), found.scene
    ruling = Ruling(answer, found.address)
    if found.scene.closed(found.address):
        _after_judgement(found, ruling)
    if not answer.text:
        stop("empty", f"Type what the leaves read in {block.unit}, such as 17+18; 18+18")
    result = _take(found, answer, ruling)
    compared = _compare(found, result)
    code, words = _doubts(found, result, compared)
    if code and not ruling.has_reason:
        doubt = result.uncertainty if result.verdict.measured else None
        return set_aside(found, answer, result.mean, doubt, code, words)
    if code:
        ruling.rule(code, words)
    change = f"; {result.change} to the target" if result.change is not None else ""
    share = f"; {result.share * 100:.0f} % of the travel" if result.share is not None else ""
    measured = f"± {result.uncertainty}" if result.verdict.measured else "(a bound)"
    working = (
        " ; ".join(str(t) for t in result.takes),
        f"mean {rounded(result.mean)} {measured}{share}{change}",
    )
    window = window_of(scene, block.window)
    ruling.add(
        "reading",
        {
            "at": str(found.address),
            "figure": block.figure,
            "value": rounded(result.mean).to_json(),
            "uncertainty": result.uncertainty.to_json() if result.verdict.measured else None,
            "typed": answer.text,
            "verdict": str(result.verdict),
            "low": _json(window[0] if window else None),
            "high": _json(window[1] if window else None),
            "flag": compared.flag if compared else "",
            "provisional": result.provisional,
            "reason": ruling.reason,
            "pushrod": _json(fitted(scene, found.address.place)),
            "predicted": _json(compared.predicted if compared else None),
            "working": list(working),
        },
    )
    flag = ", provisional" if result.provisional else ""
    against = f"; predicted {compared.predicted}: {compared.flag}" if compared else ""
    ruling.said.append(
        f"{found.place.capitalize()}: {echo(rounded(result.mean))} {measured}: "
        f"{result.verdict.words}{flag}{against}{share}"
    )
    return ruling.decision()


def _json(quantity: Quantity | None) -> object:
    return None if quantity is None else quantity.to_json()


KIND = Kind(name="preload", block=BLOCK, ask=_ask, decide=decide)
