"""A spec sheet file: the figures that a builder brings, each with its source."""

from collections.abc import Mapping

from snugset.files.figures import Figure, SpecValue, Window, read_value, show_value
from snugset.files.problems import Mark, Problems, quote
from snugset.files.shapes import Block, Field, Flag, ListOf, Located, MapOf, Misfit, Text
from snugset.files.tree import Node
from snugset.files.versions import Version
from snugset.units import Quantity, UnitError
from snugset.values import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """One figure as it was brought."""

    name: str
    text: str
    """As typed; empty when it is not had."""
    none: bool
    """Whether the answer is “I don't have it”."""
    source: str
    """Where the figure stands, in the builder's words."""
    assumes: str
    """What the value holds with, as the figure asks: a lubricant, hot or cold."""
    reasons: tuple[str, ...]
    """Why it stands although a rule stops it, one for each rule; empty where none does."""
    value: SpecValue
    """What was read; None without the procedure's figures and when it is not had."""
    mark: Mark
    """Where the value stands in the file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecSheet:
    """What the builder brings to one engine."""

    engine: str
    """The engine it is for, as typed; empty when it says none."""
    note: str
    figures: Mapping[str, Spec]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Draft:
    value: tuple[str, Mark] | None
    none: bool
    source: str
    assumes: str
    because: tuple[str, ...]
    mark: Mark


def _draft(
    *,
    value: tuple[str, Mark] | None,
    none: bool,
    source: str,
    assumes: str,
    because: tuple[str, ...],
    mark: Mark,
) -> _Draft:
    if value is None and not none:
        raise Misfit("“value” is missing here; give the figure, or write none: yes")
    if value is not None and none:
        raise Misfit("a figure that is not had has no value; take out one of the two", "none")
    if value is not None and not source:
        raise Misfit("“source” is missing here; say where the figure stands")
    return _Draft(
        value=value, none=none, source=source, assumes=assumes, because=because, mark=mark
    )


_SPEC = Block(
    _draft,
    {
        "value": Field(Located(Text(600)), help="The figure with its unit."),
        "source": Field(Text(400), default="", help="Where the figure stands."),
        "assumes": Field(
            Text(400), default="", help="What it holds with: a lubricant, hot or cold."
        ),
        "none": Field(Flag(), default=False, help="yes for a figure that is not had."),
        "because": Field(
            ListOf(Text(400), lone=True),
            default=(),
            help="Why it stands although a rule stops it; one reason for each rule.",
        ),
    },
    marked=True,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    snugset: str
    engine: str
    note: str
    figures: Mapping[str, _Draft]


SPECS = Block(
    _Sheet,
    {
        "snugset": Field(Version("specs"), needed=True, help="The sort of file and its version."),
        "engine": Field(Text(400), default="", help="The engine that the figures are for."),
        "note": Field(Text(), default="", help="Anything worth knowing about the figures."),
        "figures": Field(MapOf(_SPEC), needed=True, help="The figures by name."),
    },
)


def read_specs(
    node: Node, figures: Mapping[str, Figure] | None, into: Problems
) -> SpecSheet | None:
    """Return the spec sheet; None once a problem was added.

    With the figures of a procedure each value is read as its figure asks; without them the text is
    kept and every value is None.
    """
    found = into.found
    sheet = SPECS.read(node, into)
    if sheet is None:
        return None
    specs = {name: _read(name, draft, figures, into) for name, draft in sheet.figures.items()}
    if figures is not None:
        _check_within(specs, figures, into)
    if into.found > found:
        return None
    return SpecSheet(engine=sheet.engine, note=sheet.note, figures=specs)


def _read(name: str, draft: _Draft, figures: Mapping[str, Figure] | None, into: Problems) -> Spec:
    text, mark = draft.value or ("", draft.mark)
    value: SpecValue = None
    if figures is not None and name not in figures:
        near = into.near(name, figures) or "; take it out"
        into.add(draft.mark, f"the procedure asks for no figure {quote(name)}{near}", (name,))
    elif figures is not None:
        value = _value(figures[name], draft, into)
    return Spec(
        name=name,
        text=text,
        none=draft.none,
        source=draft.source,
        assumes=draft.assumes,
        reasons=draft.because,
        value=value,
        mark=mark,
    )


def _value(figure: Figure, draft: _Draft, into: Problems) -> SpecValue:
    if draft.value is None:
        if not figure.none:
            into.add(
                draft.mark,
                f"{quote(figure.name)} must be had; the work cannot go on without it",
                (figure.name,),
            )
        return None
    if figure.assumes and not draft.assumes:
        text = f"“assumes” is missing here; it answers {quote(figure.assumes)}"
        into.add(draft.mark, text, (figure.name,))
    text, mark = draft.value
    try:
        # A reason lets a value stand outside the plausible band, as it does at the bench.
        return read_value(replace(figure, plausible=None) if draft.because else figure, text)
    except UnitError as error:
        into.add(mark, error.message, (figure.name,))
        return None


def _check_within(specs: Mapping[str, Spec], figures: Mapping[str, Figure], into: Problems) -> None:
    for name, spec in specs.items():
        window = specs.get(figures[name].within) if name in figures else None
        if window is None or not isinstance(window.value, Window):
            continue
        if not isinstance(spec.value, Quantity) or spec.reasons or window.reasons:
            continue
        low, high, unit = window.value.low, window.value.high, spec.value.unit
        if not low.in_(unit) <= spec.value.value <= high.in_(unit):
            into.add(
                spec.mark,
                f"{spec.value} lies outside {quote(window.name)}, {show_value(window.value)}; "
                "mend one of them",
                (name, window.name),
            )
