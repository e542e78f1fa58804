"""The fields by which a procedure declares a figure."""

from collections.abc import Mapping

from snugset.files.conditions import MOST, Condition, ConditionShape
from snugset.files.figures import FORMS, KINDS, QUANTITIES, Figure, read_value
from snugset.files.problems import Mark, Problems, an, one_of, quote
from snugset.files.shapes import Block, Choice, Field, ListOf, MapOf, Misfit, Text, Word
from snugset.units import UNITS, Quantity, UnitError, read_window


def _figure(
    *,
    kind: str,
    form: str,
    unit: str | None,
    ask: str,
    why: str,
    plausible: str | None,
    choices: tuple[str, ...],
    assumes: str,
    same_assumes: str,
    none: str,
    none_value: str,
    within: str,
    wrench: str,
    mark: Mark,
    **others: tuple[Condition, ...],
) -> Figure:
    if kind not in QUANTITIES:
        if form != "one":
            raise Misfit(f"{an(kind)} has no form but “one”; take this out", "form")
        for name, value in (("unit", unit), ("plausible", plausible), ("within", within)):
            if value:
                raise Misfit(f"{an(kind)} has no “{name}”; take it out", name)
    elif unit is None and kind != "number":
        raise Misfit(f"“unit” is missing here; {an(kind)} takes {one_of(_forms(kind))}")
    elif UNITS[unit or ""] != kind:
        raise Misfit(f"{unit} is no unit of {an(kind)}; write {one_of(_forms(kind))}", "unit")
    if (kind == "choice") != bool(choices):
        if choices:
            raise Misfit(
                f"{an(kind)} has no choices; take them out or write kind: choice", "choices"
            )
        raise Misfit("“choices” is missing here; a choice takes a list of them")
    if same_assumes and not assumes:
        raise Misfit(
            "this holds with nothing; “assumes” must ask what it holds with", "same-assumes"
        )
    if wrench and kind != "torque":
        raise Misfit(f"only a torque names a wrench; this is {an(kind)}", "wrench")
    figure = Figure(
        name="",
        kind=kind,
        form=form,
        unit=unit or "",
        ask=ask,
        why=why,
        plausible=_plausible(plausible, unit or "", kind) if plausible else None,
        choices=choices,
        assumes=assumes,
        same_assumes=same_assumes,
        none=none,
        none_value=none_value,
        within=within,
        wrench=wrench,
        conditions=others["if"],
        mark=mark,
    )
    if none_value:
        _check_none_value(figure)
    return figure


def _forms(kind: str) -> list[str]:
    return [unit or "no unit" for unit, of in UNITS.items() if of == kind]


def _plausible(text: str, unit: str, kind: str) -> tuple[Quantity, Quantity]:
    try:
        return read_window(text, unit=unit, kind=kind, negative=True)
    except UnitError as error:
        raise Misfit(error.message, "plausible") from None


def _check_none_value(figure: Figure) -> None:
    if not figure.none:
        raise Misfit("this is read for want of the figure; “none” must say so aloud", "none-value")
    try:
        read_value(figure, figure.none_value)
    except UnitError as error:
        raise Misfit(error.message, "none-value") from None


_NAME = Word()

FIGURE = Block(
    _figure,
    {
        "kind": Field(Choice(*KINDS), needed=True, help="What sort of figure it is."),
        "form": Field(
            Choice(*FORMS), default="one", help="One value, a window, a rising list, a catalogue."
        ),
        "unit": Field(Choice(*filter(None, UNITS)), help="What a bare figure is taken in."),
        "ask": Field(Text(400), needed=True, help="The question put to the builder."),
        "why": Field(Text(), default="", help="What the figure is for."),
        "plausible": Field(Text(120), help="A window; a value outside it is asked about."),
        "choices": Field(ListOf(Text(120), least=2), default=(), help="The answers to a choice."),
        "assumes": Field(
            Text(400), default="", help="The question on what the value holds with: a lubricant."
        ),
        "same-assumes": Field(_NAME, default="", help="The figure that must hold with the same."),
        "none": Field(
            Text(), default="", help="What follows from not having it; without it, it must be had."
        ),
        "none-value": Field(Text(400), default="", help="Read in its place, as common practice."),
        "within": Field(_NAME, default="", help="The window figure in which the value must lie."),
        "wrench": Field(_NAME, default="", help="The figure that is the wrench's range."),
        "if": Field(
            ListOf(ConditionShape(), lone=True, most=MOST), default=(), help="When it is asked."
        ),
    },
    marked=True,
)
FIGURES = MapOf(FIGURE)


def check_figures(figures: Mapping[str, Figure], into: Problems) -> None:
    """Add a problem for every figure that points at one that is not there or does not fit."""
    for figure in figures.values():
        same = figure.same_assumes
        if same and (same not in figures or not figures[same].assumes):
            into.add(
                figure.mark,
                f"{quote(figure.name)} is to hold with the same as {quote(same)}, and no such "
                "figure says what it holds with",
                (same,),
            )
        for word, other in (("within", figure.within), ("wrench", figure.wrench)):
            if not other:
                continue
            if other not in figures:
                near = into.near(other, figures) or "; declare it under figures"
                into.add(
                    figure.mark,
                    f"“{word}” names {quote(other)}, which is no figure here{near}",
                    (other,),
                )
            elif figures[other].form != "window" or figures[other].kind != figure.kind:
                into.add(
                    figure.mark,
                    f"“{word}” names {quote(other)}, which is no window of {figure.kind}; "
                    "give it that kind and form: window",
                    (other,),
                )
