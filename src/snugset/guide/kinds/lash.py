"""lash: the gap at a solid lifter's valve, set or read with feeler leaves, cold or hot."""

import math
from collections.abc import Mapping
from decimal import Decimal
from typing import ClassVar

from snugset.files.shapes import AmountWindow, Block, Choice, Field, Word
from snugset.files.steps import KindBlock
from snugset.guide.answer import Answer
from snugset.guide.kinds.aside import set_aside
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.kinds.large import of
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.guide.state import Reading
from snugset.plan.places import valves
from snugset.trade.exact import tidy
from snugset.trade.fault import FigureError
from snugset.trade.lash import READING, USUAL_DOUBT, Difference, cold_for, hot_for
from snugset.trade.verdict import Verdict
from snugset.trade.verdict import decide as judge
from snugset.trade.wear import LOOK_FIRST, wear
from snugset.typed import Literal
from snugset.units import Quantity, UnitError, check_band, echo, read
from snugset.values import dataclass

TOLERANCE = Quantity(Decimal(1), "thou")
"""How far a lash may be off its setting where no figure is had. Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lash:
    """The block of a lash reading."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "intake": "length/one",
        "exhaust": "length/one",
        "shift": "length/one",
        "tolerance": "length/one",
    }
    STEPS: ClassVar[tuple[str, ...]] = ("before",)

    figure: str
    unit: str
    at: str
    book: str = "hot"
    intake: str = ""
    exhaust: str = ""
    shift: str = ""
    tolerance: str = ""
    how: str = "go-no-go"
    before: str = ""
    plausible: tuple[Quantity, Quantity] | None = None


BLOCK = KindBlock(
    name="lash",
    block=Block(
        Lash,
        {
            "figure": Field(Word(), needed=True, help="the ledger it is written in"),
            "unit": Field(Choice("in", "thou", "mm"), needed=True, help="what bare leaves are in"),
            "at": Field(Choice("cold", "hot"), needed=True, help="the engine as it is now"),
            "book": Field(Choice("cold", "hot"), default="hot", help="what the figures hold for"),
            "intake": Field(Word(), default="", help="the figure of intake valves"),
            "exhaust": Field(Word(), default="", help="the figure of exhaust valves"),
            "shift": Field(Word(), default="", help="the figure that is cold less hot"),
            "tolerance": Field(Word(), default="", help="how far it may be off, either way"),
            "how": Field(
                Choice("go-no-go", "measured"), default="go-no-go", help="set, or read as it is"
            ),
            "before": Field(Word(), default="", help="the lash step it is compared with"),
            "plausible": Field(AmountWindow("thou"), default=None, help="for the unit guard only"),
        },
    ),
)


def _block(found: Occurrence) -> Lash:
    if not isinstance(found.step.block, Lash):
        raise TypeError(found.step.kind)
    return found.step.block


def setting(scene: Scene, block: Lash) -> tuple[Quantity | None, Quantity | None]:
    """Give the book's figure for the valve here, and what it comes to for the engine now."""
    key = scene.site.key if scene.site else ""
    book = scene.length(block.intake if key.endswith("I") else block.exhaust)
    if book is None or block.at == block.book:
        return book, book
    shift = scene.length(block.shift)
    if shift is None:
        return book, None
    difference = Difference(size=shift, uncertainty=USUAL_DOUBT)
    try:
        now = (cold_for if block.at == "cold" else hot_for)(book, difference)
    except FigureError:
        return book, None
    return book, now.setting


def limits(scene: Scene, block: Lash) -> tuple[Quantity | None, Quantity | None]:
    """Give between what the lash of the valve here must be; None where no setting is had."""
    _, now = setting(scene, block)
    if now is None:
        return None, None
    off = (scene.length(block.tolerance) or TOLERANCE).in_(now.unit)
    low = Quantity(tidy(max(now.value - off, Decimal(0))), now.unit)
    return low, Quantity(tidy(now.value + off), now.unit)


def _ask(found: Occurrence) -> Prompt:
    block, scene = _block(found), found.scene
    book, now = setting(scene, block)
    facts = []
    if book is not None and now is not None and now != book:
        facts.append(f"By the book {block.book}: {echo(book)}")
    if now is not None:
        facts.append(f"Set it now, {block.at}, to {echo(now)}")
    else:
        facts.append("No setting for the engine as it is now: it is recorded, not judged.")
    if now is not None and block.how == "go-no-go":
        facts.append(
            "Enter: that leaf drags and the next refuses, the locknut tight. Or type what drags."
        )
    earlier = _before(found)
    if earlier is not None:
        facts.append(f"Read before: {earlier.value}")
    return prompt_for(
        found,
        asks="figure",
        unit=block.unit,
        proposal=str(now) if now is not None and block.how == "go-no-go" else "",
        facts=tuple(facts),
        large=of("set to", now),
        view=found.step.view or "ledger",
    )


def _before(found: Occurrence) -> Reading | None:
    """Give the reading here that this one is compared with."""
    block = _block(found)
    here = [
        r
        for a, r in found.scene.state.readings.items()
        if block.before and (a.step, a.place) == (block.before, found.address.place)
    ]
    return here[-1] if here else None


def _expected(found: Occurrence, earlier: Reading) -> Quantity | None:
    """Give what the earlier reading leads to expect now; None where cold and hot cannot meet."""
    block = _block(found)
    other = found.scene.plan.steps[block.before].block
    was = other.at if isinstance(other, Lash) else block.at
    if was == block.at:
        return earlier.value
    shift = found.scene.length(block.shift)
    if shift is None:
        return None
    sign = 1 if block.at == "cold" else -1
    unit = earlier.value.unit
    return Quantity(
        tidy(Quantity(earlier.value.value + sign * shift.in_(unit), unit).in_(unit)), unit
    )


def _typed(found: Occurrence, answer: Answer, now: Quantity | None, ruling: Ruling) -> Quantity:
    block = _block(found)
    if not answer.text:
        if now is None or block.how == "measured":
            stop("empty", f"Type the leaf that drags, in {block.unit}.")
        return now
    try:
        value = read(answer.text, unit=block.unit, kind="length")
    except UnitError as error:
        stop(error.code, error.message, *error.suggest)
    if block.plausible and value.value:
        try:
            check_band(value, block.plausible)
        except UnitError as error:
            ruling.unit_error(error)
    return value


def _moved(found: Occurrence, value: Quantity, ruling: Ruling) -> tuple[str, Quantity | None]:
    """Compare with the reading before; tighter beyond the doubt is stopped."""
    earlier = _before(found)
    expected = _expected(found, earlier) if earlier is not None else None
    if expected is None:
        return "", None
    apart = value.in_("thou") - expected.in_("thou")
    doubt = Decimal(str(round(math.sqrt(2) * READING.number("thou"), 2)))
    if abs(apart) <= doubt:
        return "agrees", expected
    flag: Literal["looser", "tighter"] = "looser" if apart > 0 else "tighter"
    words = f"{found.place}: {tidy(abs(apart))} thou {flag} than expected: {LOOK_FIRST[flag]}"
    if flag == "tighter":
        ruling.rule("tighter", f"{words}. Read it again, or go on: {value} ! the reason")
    ruling.said.append(f"{words}.")
    return flag, expected


def _together(found: Occurrence, value: Quantity, expected: Quantity | None) -> list[str]:
    """Say what all valves show against their earlier readings, once the last of them is read."""
    here, state = found.address, found.scene.state
    read = [r for a, r in state.readings.items() if a.step == here.step and a.place != here.place]
    if expected is None or len(read) + 1 < len(valves(found.scene.plan.engine)):
        return []
    now = {r.address.place: r.value for r in read} | {here.place: value}
    before = {r.address.place: r.predicted for r in read if r.predicted is not None}
    return [
        f"All valves read: {each.words}. {each.look_first}."
        for each in wear(now, before | {here.place: expected})
    ]


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Take a lash; where the verdict is not in or inside it is set aside, unless with a reason."""
    block, scene = _block(found), found.scene
    ruling = Ruling(answer, found.address)
    _, now = setting(scene, block)
    value = _typed(found, answer, now, ruling)
    low, high = limits(scene, block)
    verdict = judge(value, READING, low, high)
    shown = f"{echo(value)} ± {READING}: {verdict.words}"
    flag, expected = _moved(found, value, ruling)
    if verdict in (Verdict.LOW, Verdict.HIGH, Verdict.OUTSIDE):
        code = "not-proved" if verdict is Verdict.OUTSIDE else str(verdict)
        words = f"{shown} (wanted {low} to {high}). Set it again, or go on: {value} ! the reason"
        if not ruling.has_reason:
            # As it was found is worth keeping: once it is set, nobody can measure it any more.
            return set_aside(found, answer, value, READING, code, words)
        ruling.rule(code, words)
    ruling.add(
        "reading",
        {
            "at": str(found.address),
            "figure": block.figure,
            "value": value.to_json(),
            "uncertainty": READING.to_json(),
            "typed": answer.text,
            "verdict": str(verdict),
            "low": None if low is None else low.to_json(),
            "high": None if high is None else high.to_json(),
            "flag": flag,
            "provisional": False,
            "reason": ruling.reason,
            "pushrod": None,
            "predicted": None if expected is None else expected.to_json(),
            "working": [shown],
        },
    )
    ruling.said.append(f"{found.place.capitalize()}: {shown}")
    ruling.said += _together(found, value, expected)
    return ruling.decision()


KIND = Kind(name="lash", block=BLOCK, ask=_ask, decide=decide)
