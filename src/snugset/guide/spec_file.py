"""A build's spec sheet as a spec sheet file: what the builder brought, to be used again."""

import json
import re
from collections.abc import Iterator

from snugset.files.figures import Figure, SpecValue, Step, read_value
from snugset.files.problems import Problems
from snugset.files.specs import SpecSheet, read_specs
from snugset.files.tree import Node
from snugset.files.whole import read_whole
from snugset.guide.conditions import hold
from snugset.guide.offers import as_text
from snugset.guide.state import Spec, State
from snugset.plan.plan import Plan
from snugset.units import UnitError
from snugset.values import dataclass, replace

_PLAIN = re.compile(r"[A-Za-z0-9.](?:[A-Za-z0-9 .,·/²³'%()+-]*[A-Za-z0-9.)%])?")
"""Texts that need no quotes in a file; all others get them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """A spec sheet file."""

    text: str
    count: int
    """How many figures stand in it."""
    left_out: tuple[str, ...]
    """Figures that could not be written, each with the reason."""


def spec_file(plan: Plan, state: State) -> Saved:
    """Write the figures that are answered, in the procedure's order.

    What it gives back is what the build has: value, source, what it assumes, “I don't have it”, and
    the reasons for going on against a rule. A figure that a file cannot hold is left out and named.
    """
    entries: list[str] = []
    left_out: list[str] = []
    for figure in plan.procedure.figures.values():
        spec = state.specs.get(figure.name)
        if spec is None:
            if hold(figure.conditions, plan, state):  # else this build does not ask for it
                left_out.append(f"{figure.name}: not answered yet")
            continue
        entry = "\n".join(_entry(figure, spec, _reasons(state, figure.name)))
        wrong = _wrong(figure, spec, entry)
        if wrong:
            left_out.append(f"{figure.name}: {wrong}")
        else:
            entries.append(entry)
    text = "\n".join(
        (
            "snugset: specs/1",
            f"engine: {_quoted(plan.engine.name)}",
            f"note: {_quoted(f'Saved from the build {state.name}.')}",
            *(f"# left out: {one}" for one in left_out),
            "figures:" if entries else "figures: {}",
            *entries,
        )
    )
    return Saved(text=f"{text}\n", count=len(entries), left_out=tuple(left_out))


def _entry(figure: Figure, spec: Spec, reasons: tuple[str, ...]) -> Iterator[str]:
    yield f"  {figure.name}:"
    if not spec.had:
        yield "    none: yes"
    else:
        yield f"    value: {_quoted(_value(figure, spec))}"
        # Nobody is asked where it stands what was changed on an engine.
        source = "answered in the build" if figure.kind == "changes" else ""
        yield f"    source: {_quoted(spec.source or source)}"
        if spec.assumes:
            yield f"    assumes: {_quoted(spec.assumes)}"
    if reasons:
        yield f"    because: [{', '.join(json.dumps(one, ensure_ascii=False) for one in reasons)}]"


def _value(figure: Figure, spec: Spec) -> str:
    """Give the value as it was typed, or rewritten where that alone would not read so again."""
    if _read(figure, spec.typed) == spec.value:
        return spec.typed
    written = as_text(spec.value)
    return f"step {written}" if isinstance(spec.value, Step) else written


def _read(figure: Figure, text: str) -> SpecValue:
    try:
        return read_value(replace(figure, plausible=None), text)
    except UnitError:
        return None


def _reasons(state: State, name: str) -> tuple[str, ...]:
    """Give the reasons with which a figure was given as it stands now."""
    spec, address = state.specs[name], f"spec.{name}"
    return tuple(
        one.reason
        for one in state.overrides
        if (str(one.address) == address and one.at == spec.at)
        or (str(one.address) == f"{address}.assumes" and one.at >= spec.at)
    )


def _wrong(figure: Figure, spec: Spec, entry: str) -> str:
    """Say why a figure cannot stand in a file; empty if it can."""
    if spec.had and spec.source is None:
        return "its source is not answered yet"
    if spec.had and figure.assumes and not spec.assumes:
        return "what it assumes is not answered yet"
    into = Problems()
    # Alone it cannot be held against other figures; together they stand in the build so.
    alone = {figure.name: replace(figure, within="")}

    def read(node: Node, into: Problems) -> SpecSheet | None:
        return read_specs(node, alone, into)

    sheet = read_whole(f"snugset: specs/1\nfigures:\n{entry}\n", "", read, into)
    if sheet is None:
        return into.items[0].text
    same = sheet.figures[figure.name].value == spec.value or not spec.had
    return "" if same else "it does not read back as it stands"


def _quoted(text: str) -> str:
    return text if _PLAIN.fullmatch(text) else json.dumps(text, ensure_ascii=False)
