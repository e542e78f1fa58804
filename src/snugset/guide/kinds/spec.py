"""The spec sheet: each figure with its source and what it assumes."""

from collections.abc import Iterator

from snugset.files.conditions import CHANGES, NOTHING
from snugset.files.figures import Figure, SpecValue, Window, read_value, show_value, value_to_json
from snugset.files.steps import Step
from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.kinds.gap import Gap
from snugset.guide.kinds.given_again import follow
from snugset.guide.kinds.kind import Kind, Unfold, prompt_for
from snugset.guide.kinds.rising import falling
from snugset.guide.kinds.wrench import range_words
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Ruling, stop
from snugset.guide.scene import Occurrence, Scene
from snugset.units import Quantity, UnitError
from snugset.values import replace

PARTS = ("source", "assumes")
WORDS = ("text", "thread", "camshaft", "changes")
"""Kinds of figures that are typed in words."""


def _figure(found: Occurrence) -> Figure:
    if not isinstance(found.step.block, Figure):
        raise TypeError(found.step.kind)
    return found.step.block


def _walk(step: Step, scene: Scene, _unfold: Unfold) -> Iterator[Occurrence]:
    """Unfold to the value and then whichever part was left out."""
    figure = step.block
    if not isinstance(figure, Figure):
        raise TypeError(step.kind)
    have = scene.state.specs.get(figure.name)
    yield Occurrence(step=step, address=Address(step.id), scene=scene, open=have is None)
    if have is None:
        return
    for part in PARTS:
        if getattr(have, part) is None:
            yield Occurrence(
                step=step, address=Address(f"{step.id}.{part}"), scene=scene, open=True
            )


def _part(found: Occurrence) -> str:
    last = found.address.step.rpartition(".")[2]
    return last if last in PARTS and found.address.step != found.step.id else ""


def _last(figure: Figure, scene: Scene, part: str) -> str:
    """Give what Enter takes: the last source, or what a figure of the same pair holds with."""
    specs = scene.state.specs
    if part == "assumes":
        pair = [
            f.name for f in scene.plan.procedure.figures.values() if f.same_assumes == figure.name
        ]
        answered = [specs[n].assumes for n in (figure.same_assumes, *pair) if n in specs]
    else:
        answered = [spec.source for spec in specs.values()]
    return next((text for text in reversed(answered) if text), "")


def _from_engine(figure: Figure, scene: Scene) -> str:
    """Give the engine file's own camshaft card as a proposal."""
    card = scene.plan.engine.camshaft
    return str(card) if figure.kind == "camshaft" and card is not None else ""


def _ask(found: Occurrence) -> Prompt:
    figure, part = _figure(found), _part(found)
    if part:
        question = "Where does this figure come from?" if part == "source" else figure.assumes
        return prompt_for(
            found,
            words=question,
            asks="text",
            proposal=_last(figure, found.scene, part),
            facts=(
                f"{figure.name}: {show_value(found.scene.state.spec(figure.name))}",
                figure.ask,
            ),
        )
    facts = [figure.none and f"none (I don't have it): {figure.none}"]
    if figure.choices:
        return prompt_for(
            found, asks="choice", choices=figure.choices, facts=tuple(filter(None, facts))
        )
    wanted = {
        "window": f"Low to high, as low..high {figure.unit}",
        "rising": f"Lowest first, as A, B, C {figure.unit}",
        "catalogue": f"As step A {figure.unit}, or the lengths that can be had: A, B, C",
    }.get(figure.form, f"Typed without a unit: {figure.unit}" if figure.unit else "")
    if figure.kind == "camshaft":
        wanted = "As IVO n IVC n EVO n EVC n at seat, or at advertised, or at .050 in"
    if figure.kind == "changes":
        wanted = f"{NOTHING}, or with commas between: {', '.join(CHANGES)}"
    asks = "text" if figure.kind in WORDS else "figure"
    return prompt_for(
        found,
        asks=asks,
        unit=figure.unit,
        proposal=_from_engine(figure, found.scene),
        facts=tuple(filter(None, (wanted, *facts))),
    )


def _cross(figure: Figure, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Hold a figure against the others: target within its window, torque within its wrench."""
    for other in scene.plan.procedure.figures.values():
        for target, window in ((figure, other), (other, figure)):
            if target.within != window.name:
                continue
            inner = value if target is figure else scene.state.spec(target.name)
            outer = value if window is figure else scene.state.spec(window.name)
            if isinstance(inner, Quantity) and isinstance(outer, Window):
                at = inner.in_(outer.low.unit)
                if not outer.low.value <= at <= outer.high.in_(outer.low.unit):
                    ruling.rule(
                        "within",
                        f"{target.name} {inner} lies outside {window.name} {show_value(outer)}.",
                    )
        for torque, wrench in ((figure, other), (other, figure)):
            if torque.wrench != wrench.name:
                continue
            setting = value if torque is figure else scene.state.spec(torque.name)
            span = value if wrench is figure else scene.state.spec(wrench.name)
            wrong = range_words(setting, span)
            if wrong:
                ruling.rule("wrench-range", wrong)


def _window_and_travel(figure: Figure, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    """Hold a preload window against the lifter's whole travel."""
    for step in scene.plan.steps.values():
        block = step.block
        if not isinstance(block, Gap) or figure.name not in (block.window, block.travel):
            continue
        window = value if figure.name == block.window else scene.state.spec(block.window)
        travel = value if figure.name == block.travel else scene.state.spec(block.travel)
        if not isinstance(window, Window) or not isinstance(travel, Quantity):
            continue
        if window.high.in_(travel.unit) > travel.value:
            ruling.rule(
                "travel",
                f"The window's upper limit {window.high} is beyond the lifter's whole travel "
                f"of {travel}: one of the two belongs to another lifter.",
            )


def _rising(figure: Figure, value: SpecValue, scene: Scene, ruling: Ruling) -> None:
    wrong = falling(figure.name, value, scene) if figure.kind == "torque" else ""
    if wrong:
        ruling.rule("rising", f"{wrong}.")


def _same_assumes(figure: Figure, assumes: str, scene: Scene, ruling: Ruling) -> None:
    """Stop where two figures that belong together hold with different things."""
    for other in scene.plan.procedure.figures.values():
        if figure.name != other.same_assumes and other.name != figure.same_assumes:
            continue
        have = scene.state.specs.get(other.name)
        theirs = have.assumes if have is not None and have.had else None
        if theirs and _folded(theirs) != _folded(assumes):
            ruling.rule(
                "assumes-differ",
                f"{figure.name} holds with “{assumes}”, {other.name} with “{theirs}”: the two "
                f"belong together.",
            )


def _folded(text: str) -> str:
    """Fold what does not make two answers different: case, spaces, a full stop at the end."""
    return " ".join(text.casefold().split()).rstrip(".")


def _decide_part(found: Occurrence, answer: Answer, part: str) -> Decision:
    figure = _figure(found)
    ruling = Ruling(answer, found.address)
    text = answer.text or _last(figure, found.scene, part)
    if not text:
        stop(part, f"Type {'where the figure comes from' if part == 'source' else 'the answer'}.")
    if part == "assumes":
        _same_assumes(figure, text, found.scene, ruling)
    ruling.add(
        "spec-part", {"at": str(found.address), "name": figure.name, "part": part, "text": text}
    )
    return ruling.decision()


def decide(found: Occurrence, answer: Answer) -> Decision:
    """Take a figure as ``value; source; assumes``, or `none`."""
    part = _part(found)
    if part:
        return _decide_part(found, answer, part)
    figure, scene = _figure(found), found.scene
    ruling = Ruling(answer, found.address)
    typed, source, assumes = _split(answer.text)
    had = answer.verb != "none" and not (answer.verb == "again" and typed.lower() == "none")
    value: SpecValue = None
    if had:
        if not typed:
            typed, source = _from_engine(figure, scene), source or scene.plan.engine.name
        if not typed:
            stop("empty", f"Type the figure{_unit(figure)}; none, if you do not have it.")
        value = _read(figure, typed, ruling)
    elif not figure.none:
        stop("must-be-had", f"The work cannot be done without this figure: {figure.ask}.")
    elif figure.none_value:
        value, typed = read_value(figure, figure.none_value), figure.none_value
        source = "common practice"
    _cross(figure, value, scene, ruling)
    _rising(figure, value, scene, ruling)
    _window_and_travel(figure, value, scene, ruling)
    if assumes and had:
        _same_assumes(figure, assumes, scene, ruling)
    if not figure.assumes or not had:
        assumes = assumes or ""
    ruling.add(
        "spec",
        {
            "at": str(found.address),
            "name": figure.name,
            "typed": typed,
            "value": value_to_json(value),
            "had": had,
            "source": source or ("" if not had or figure.kind == "changes" else None),
            "assumes": assumes or (None if figure.assumes and had else ""),
        },
    )
    ruling.said.append(
        f"{figure.name}: {show_value(value)}" if had else f"{figure.name}: not had. {figure.none}"
    )
    if figure.name in scene.state.specs:
        follow(figure, value, scene, ruling)
    return ruling.decision()


def _unit(figure: Figure) -> str:
    return f" ({figure.unit})" if figure.unit else ""


def _split(text: str) -> tuple[str, str, str]:
    value, _, rest = text.partition(";")
    source, _, assumes = rest.partition(";")
    return value.strip(), source.strip(), assumes.strip()


def _read(figure: Figure, typed: str, ruling: Ruling) -> SpecValue:
    if (
        figure.choices
        and typed.isascii()
        and typed.isdigit()
        and 1 <= int(typed) <= len(figure.choices)
    ):
        return figure.choices[int(typed) - 1]
    try:
        return read_value(figure, typed)
    except UnitError as error:
        ruling.unit_error(error)
    return _beyond(figure, typed)


def _beyond(figure: Figure, typed: str) -> SpecValue:
    """Read a value outside the plausible band, for which a reason was given."""
    return read_value(replace(figure, plausible=None), typed)


KIND = Kind(
    name="spec",
    walk=_walk,
    ask=_ask,
    decide=decide,
    skippable=False,
    instead="; type none if you do not have the figure",
    literal=lambda found: bool(_part(found)),
    verbs=frozenset({"say", "none"}),
)
