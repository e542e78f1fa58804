"""nut: a rocker's adjuster turned from zero lash, and the plunger travel that it makes."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar, cast

from snugset.files.shapes import Block, Choice, Field, Misfit, Word
from snugset.files.steps import KindBlock
from snugset.guide.answer import Answer
from snugset.guide.kinds.gap import window_of
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.kinds.large import of
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, effect, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.trade.fault import FigureError
from snugset.trade.preload import SATURATION
from snugset.trade.thread import read_thread
from snugset.trade.turns import Mount, Turns, turns
from snugset.trade.verdict import Verdict
from snugset.trade.verdict import decide as judge
from snugset.units import Quantity, UnitError, echo, read, rounded
from snugset.values import dataclass

MOUNTS = ("pivot", "pushrod-end", "valve-end")
DOUBT = Decimal("0.125")
"""U of finding zero lash by the feel of the pushrod, in turns. Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nut:
    """The block of a nut step."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "thread": "thread",
        "turns": "number/one",
        "target": "length/one",
        "window": "length/window",
        "travel": "length/one",
        "doubt": "number/one",
        "lifter": "choice",
        "bleed": "time/one",
    }
    CHOICES: ClassVar[Mapping[str, tuple[str, ...]]] = {"lifter": ("dry", "filled")}

    figure: str
    unit: str
    thread: str
    turns: str = ""
    target: str = ""
    window: str = ""
    travel: str = ""
    doubt: str = ""
    mount: str = "pivot"
    lifter: str = ""
    bleed: str = ""


def _make(**fields: str) -> Nut:
    if bool(fields["turns"]) == bool(fields["target"]):
        raise Misfit("a nut has either “turns” or “target”; name one figure of the two")
    return Nut(**fields)


BLOCK = KindBlock(
    name="nut",
    block=Block(
        _make,
        {
            "figure": Field(Word(), needed=True, help="the ledger of the plunger's travel"),
            "unit": Field(Choice("in", "thou", "mm"), needed=True, help="the unit of that ledger"),
            "thread": Field(Word(), needed=True, help="the figure that is the adjuster's thread"),
            "turns": Field(Word(), default="", help="the turns from zero lash"),
            "target": Field(Word(), default="", help="or the preload wanted"),
            "window": Field(Word(), default="", help="the figure that limits the preload"),
            "travel": Field(Word(), default="", help="the lifter's whole travel"),
            "doubt": Field(Word(), default="", help="U of finding zero lash, in turns"),
            "mount": Field(Choice(*MOUNTS), default="pivot", help="where the adjuster acts"),
            "lifter": Field(Word(), default="", help="dry or filled"),
            "bleed": Field(Word(), default="", help="how long filled lifters take to bleed down"),
        },
    ),
)


def _block(found: Occurrence) -> Nut:
    if not isinstance(found.step.block, Nut):
        raise TypeError(found.step.kind)
    return found.step.block


def _pitch(scene: Scene, block: Nut) -> Quantity | None:
    written = scene.state.spec(block.thread)
    return read_thread(written).pitch if isinstance(written, str) else None


def _turned(scene: Scene, block: Nut, turned: Decimal | None, travel: Quantity | None) -> Turns:
    """Work out turns and travel; FigureError where the thread is not had."""
    pitch = _pitch(scene, block)
    if pitch is None:
        raise FigureError("pitch", "the adjuster's thread is not on the spec sheet")
    return turns(
        pitch,
        mount=cast("Mount", block.mount),
        ratio=scene.plan.engine.ratio,
        turned=turned,
        travel=travel,
    )


def wanted(scene: Scene, block: Nut) -> Turns | None:
    """Give the turns asked for and what they make; None where their figure is not had."""
    count, target = scene.length(block.turns), scene.length(block.target)
    if count is None and target is None:
        return None
    try:
        return _turned(scene, block, None if count is None else count.value, target)
    except FigureError:
        return None


def _doubt(scene: Scene, block: Nut, found: Turns) -> Quantity:
    share = scene.length(block.doubt)
    each = found.per_turn
    return rounded(
        Quantity(each.value * (share.value if share else DOUBT), each.unit).to(block.unit)
    )


def _ask(found: Occurrence) -> Prompt:
    block, scene = _block(found), found.scene
    goal = wanted(scene, block)
    facts = ["Zero lash: turn down while you roll the pushrod; stop where it first drags."]
    if goal is not None:
        facts.append(
            f"From there {goal.turns} turn = {goal.angle.value:.0f}°: the plunger goes "
            f"{echo(rounded(goal.plunger.to(block.unit)))}, {goal.per_turn} for a whole turn"
        )
    window = window_of(scene, block.window)
    if window:
        facts.append(f"Window {window[0]} to {window[1]}")
    if block.lifter and scene.state.spec(block.lifter) == "filled":
        facts.append("Filled lifters: a quarter turn at a time, and wait between.")
    facts.append("Enter: turned so far. Or type the turns: 0.75, 3/4, 270 deg.")
    return prompt_for(
        found,
        asks="figure",
        unit="turn",
        proposal="" if goal is None else f"{goal.turns} turn",
        facts=tuple(facts),
        large=None if goal is None else of("turn it on", Quantity(goal.turns, "turn")),
        calculator="turns",
        view=found.step.view or "ledger",
    )


def _typed(found: Occurrence, answer: Answer) -> Decimal:
    goal = wanted(found.scene, _block(found))
    if not answer.text:
        if goal is None:
            stop("no-figure", "No turns are on the spec sheet for this; type how far it is turned.")
        return goal.turns
    text = answer.text.strip()
    part, _, whole = text.partition("/")
    if part.isascii() and part.isdigit() and whole.isascii() and whole.isdigit() and int(whole):
        exact = Fraction(int(part[:4]), int(whole[:4]))
        return Decimal(exact.numerator) / Decimal(exact.denominator)
    try:
        return read(text, unit="turn", kind="angle").in_("turn")
    except UnitError as error:
        stop(error.code, error.message, *error.suggest)


def _bottomed(travel: Quantity | None, plunger: Quantity) -> bool:
    if travel is None:
        return False
    return plunger.in_("thou") >= travel.in_("thou") - SATURATION.in_("thou")


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Take the turns; the preload they make is judged as a reading is."""
    block, scene = _block(found), found.scene
    ruling = Ruling(answer, found.address)
    turned = _turned(scene, block, _typed(found, answer), None)
    plunger = rounded(turned.plunger.to(block.unit))
    doubt = _doubt(scene, block, turned)
    window = window_of(scene, block.window)
    verdict = judge(plunger, doubt, *(window or (None, None)))
    if _bottomed(scene.length(block.travel), plunger):
        verdict = Verdict.BOTTOMED
    shown = f"{turned.turns} turn: {echo(plunger)} ± {doubt}: {verdict.words}"
    if verdict in (Verdict.LOW, Verdict.HIGH, Verdict.OUTSIDE, Verdict.BOTTOMED):
        code = "not-proved" if verdict is Verdict.OUTSIDE else str(verdict)
        limits = f" (window {window[0]} to {window[1]})" if window else ""
        ruling.rule(
            code,
            f"{shown}{limits}. One whole turn is {turned.per_turn} at the plunger. Set it again, "
            f"or go on: {turned.turns} ! the reason",
        )
    filled = bool(block.lifter) and scene.state.spec(block.lifter) == "filled"
    key = scene.site.spot if scene.site else ""
    ruling.add(
        "reading",
        {
            "at": str(found.address),
            "figure": block.figure,
            "value": plunger.to_json(),
            "uncertainty": doubt.to_json() if verdict.measured else None,
            "typed": answer.text,
            "verdict": str(verdict),
            "low": window[0].to_json() if window else None,
            "high": window[1].to_json() if window else None,
            "flag": "",
            "provisional": False,
            "reason": ruling.reason,
            "pushrod": None,
            "predicted": None,
            "working": [shown, f"{turned.turns} × {turned.per_turn}"],
            "effects": [effect("drawn", key)] if filled else [],
        },
    )
    ruling.said.append(f"{found.place.capitalize()}: {shown}")
    return ruling.decision()


KIND = Kind(name="nut", block=BLOCK, ask=_ask, decide=decide)
