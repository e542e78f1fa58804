"""read: one figure measured, judged against a limit of the spec sheet."""

from collections.abc import Mapping
from typing import ClassVar

from snugset.files.figures import Window
from snugset.files.shapes import Block, Field, Flag, Misfit, Text, Word
from snugset.files.steps import KindBlock
from snugset.guide.answer import Answer
from snugset.guide.kinds.kind import Kind, prompt_for
from snugset.guide.kinds.large import between
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.trade.verdict import Verdict
from snugset.trade.verdict import decide as judge
from snugset.units import UNITS, Quantity, UnitError, check_band, echo, read, read_window
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """The block of a read step."""

    FIGURES: ClassVar[Mapping[str, str]] = {
        "at_most": "unit/one",
        "at_least": "unit/one",
        "window": "unit/window",
        "doubt_figure": "unit/one",
    }

    figure: str
    unit: str
    plausible: tuple[Quantity, Quantity] | None = None
    at_most: str = ""
    at_least: str = ""
    window: str = ""
    doubt: Quantity | None = None
    doubt_figure: str = ""
    negative: bool = False
    ask: str = ""


def _make(
    *,
    figure: str,
    unit: str,
    ask: str,
    plausible: str,
    at_most: str,
    at_least: str,
    window: str,
    doubt: str,
    doubt_figure: str,
    negative: bool,
) -> Measure:
    """Read band and doubt in the step's own unit."""
    if unit not in UNITS:
        raise Misfit(f"“{unit}” is no unit; there are {', '.join(filter(None, UNITS))}", "unit")
    field = "plausible"
    try:
        kind = UNITS[unit]
        band = (
            read_window(plausible, unit=unit, kind=kind, negative=negative) if plausible else None
        )
        field = "doubt"
        known = read(doubt, unit=unit, kind=kind) if doubt else None
    except UnitError as error:
        raise Misfit(error.message, field) from error
    return Measure(
        figure=figure,
        unit=unit,
        plausible=band,
        at_most=at_most,
        at_least=at_least,
        window=window,
        doubt=known,
        doubt_figure=doubt_figure,
        negative=negative,
        ask=ask,
    )


BLOCK = KindBlock(
    name="read",
    block=Block(
        _make,
        {
            "figure": Field(Word(), needed=True, help="the ledger it is written in"),
            "unit": Field(Text(), needed=True, help="what a bare figure is taken in"),
            "ask": Field(Text(), default="", help="what is asked, where say is long"),
            "plausible": Field(Text(), default="", help="for the unit guard only: low..high"),
            "at-most": Field(Word(), default="", help="the figure it may not pass"),
            "at-least": Field(Word(), default="", help="the figure it must reach"),
            "window": Field(Word(), default="", help="the figure it must lie in"),
            "doubt": Field(Text(), default="", help="U of the instrument"),
            "doubt-figure": Field(Word(), default="", help="U of the builder's own instrument"),
            "negative": Field(Flag(), default=False, help="whether it can be under zero"),
        },
    ),
)


def limits(scene: Scene, block: Measure) -> tuple[Quantity | None, Quantity | None]:
    """Give the low and high limit, None where there is none or it is not had."""
    window = scene.state.spec(block.window) if block.window else None
    if isinstance(window, Window):
        return window.low, window.high
    return scene.length(block.at_least), scene.length(block.at_most)


def doubt_of(scene: Scene, block: Measure) -> Quantity | None:
    """Give U of the instrument: the builder's own where it is had, else the step's."""
    return scene.length(block.doubt_figure) or block.doubt


def _block(found: Occurrence) -> Measure:
    if not isinstance(found.step.block, Measure):
        raise TypeError(found.step.kind)
    return found.step.block


def ask(found: Occurrence) -> Prompt:
    """Ask for the reading, with its limits and the doubt of the instrument."""
    block = _block(found)
    low, high = limits(found.scene, block)
    facts = [block.ask] if block.ask else []
    facts += [f"At least {echo(low)}"] if low else []
    facts += [f"At most {echo(high)}"] if high else []
    known = doubt_of(found.scene, block)
    facts.append(f"Typed without a unit: {block.unit}")
    facts += [f"Known to ± {known}"] if known else []
    if low is None and high is None:
        facts.append("No limit is on the spec sheet: it is recorded, not judged.")
    inputs = {"uncertainty": str(known)} if known else {}
    if low and high:
        inputs["window"] = f"{low}..{high}"
    elif low or high:
        inputs["low" if low else "high"] = str(low or high)
    return prompt_for(
        found,
        asks="figure",
        unit=block.unit,
        facts=tuple(facts),
        large=between(low, high, block.unit),
        calculator="decide",
        inputs=inputs,
        reading_key="value",
    )


def taken(block: Measure, answer: Answer, ruling: Ruling) -> Quantity:
    """Read what was typed, held against the band of the step."""
    if not answer.text:
        stop("empty", f"Type the reading in {block.unit}; to go on without it: skip and why.")
    try:
        value = read(answer.text, unit=block.unit, kind=UNITS[block.unit], negative=block.negative)
        if block.plausible and value.value:
            try:
                check_band(value, block.plausible)
            except UnitError as error:
                ruling.unit_error(error)
    except UnitError as error:
        stop(error.code, error.message, *error.suggest)
    return value


def settle(
    found: Occurrence,
    block: Measure,
    ruling: Ruling,
    value: Quantity,
    *,
    verdict: Verdict | None = None,
    working: tuple[str, ...] = (),
    advice: str = "",
) -> Decision:
    """Judge a value, by its limits unless that is done, and record it with how it came about.

    `advice` is what would put it right, where more is known of that than to read it again.
    """
    low, high = limits(found.scene, block)
    known = doubt_of(found.scene, block)
    doubt = known or Quantity(value.value * 0, value.unit)
    verdict = verdict or judge(value, doubt, low, high)
    shown = f"{echo(value)}{f' ± {known}' if known else ''}: {verdict.words}"
    if verdict in (Verdict.LOW, Verdict.HIGH, Verdict.OUTSIDE):
        side = f"at least {low}" if low and verdict is not Verdict.HIGH else f"at most {high}"
        code = "not-proved" if verdict is Verdict.OUTSIDE else str(verdict)
        ruling.rule(
            code,
            f"{shown} ({side}). {advice}Put it right and read it again, or go on with a reason: "
            f"{ruling.answer.text} ! the reason",
        )
    ruling.add(
        "reading",
        {
            "at": str(found.address),
            "figure": block.figure,
            "value": value.to_json(),
            "uncertainty": known.to_json() if known else None,
            "typed": ruling.answer.text,
            "verdict": str(verdict),
            "low": None if low is None else low.to_json(),
            "high": None if high is None else high.to_json(),
            "flag": "",
            "provisional": False,
            "reason": ruling.reason,
            "pushrod": None,
            "predicted": None,
            "working": [*working, shown],
        },
    )
    ruling.said.append(shown)
    return ruling.decision()


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Take a reading; a verdict that is not in or inside needs a correction or a reason."""
    block = _block(found)
    ruling = Ruling(answer, found.address)
    return settle(found, block, ruling, taken(block, answer, ruling))


KIND = Kind(name="read", block=BLOCK, ask=ask, decide=decide)
