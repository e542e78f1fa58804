"""Names that steps and figures use, held against what there is."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import chain, dropwhile

from snugset.files.conditions import Condition
from snugset.files.figures import Figure
from snugset.files.naming import figures_of, hangs_on_changes, named
from snugset.files.problems import Problems, all_of, an, one_of, quote
from snugset.files.steps import Step
from snugset.plan.fields import FIELDS, unknown
from snugset.units import UNITS


def known(name: str, there: Collection[str], what: str, step: Step, into: Problems) -> bool:
    """Tell whether a name is one of those there are; add a problem at the step if not."""
    if name not in there:
        into.add(
            step.field_marks.get(name, step.mark),
            f"{step.id}: {what}, {quote(name)}, is not there{into.near(name, there)}",
            (name,),
        )
    return name in there


def check_figure_use(
    steps: Iterable[Step], figures: Mapping[str, Figure], into: Problems
) -> set[str]:
    """Hold the figures and braces of steps against the figures there are; give the names used."""
    steps = list(steps)
    used: set[str] = set()
    changes = _changes(figures)
    for step in steps:
        used |= figures_of(step)
        _check_options(step, figures, into)
        for name, field in named(step, "FIGURES"):
            if known(name, figures, f"the figure that “{field}” names", step, into):
                _fits(figures[name], field, step, into)
        for text in (step.say, step.why, *step.caution):
            for name in unknown(text, figures):
                near = into.near(name, chain(FIELDS, (f"figure.{each}" for each in figures)))
                into.add(
                    step.field_marks.get(f"{{{name}}}", step.mark),
                    f"{step.id}: nothing fills {{{name}}} in its words"
                    f"{near or '; see docs/files.md'}",
                    (name.removeprefix("figure."),),
                )
        for condition in step.conditions:
            _check_condition(condition, figures, into, changes=bool(changes))
    asks = hangs_on_changes(steps) or any(
        c.about == "changed" for figure in figures.values() for c in figure.conditions
    )
    if asks:
        used.update(figure.name for figure in changes)
    for second in changes[1:]:
        into.add(
            second.mark, f"{second.name}: one figure of kind changes is enough; take this out", ()
        )
    return used


def check_agrees(step: Step, figures: Mapping[str, Figure], into: Problems) -> None:
    """Add the answers of a do that the figure it must agree with does not have."""
    figure = figures.get(getattr(step.block, "wants_figure", ""))
    if figure is None or figure.kind != "choice":
        return
    offered: tuple[str, ...] = getattr(step.block, "choices", ())
    if set(offered) != set(figure.choices):
        into.add(
            step.field_marks.get(figure.name, step.mark),
            f"{step.id}: it must agree with {quote(figure.name)}, so its choices are "
            f"{all_of(figure.choices)}",
            (figure.name,),
        )


def _check_options(step: Step, figures: Mapping[str, Figure], into: Problems) -> None:
    """Add the options of a choose that the figure settling it does not have."""
    figure = figures.get(getattr(step.block, "figure", ""))
    if step.kind == "choose" and figure is not None and figure.kind == "choice":
        for word in step.children:
            if word not in figure.choices:
                near = into.near(word, figure.choices)
                into.add(
                    step.mark,
                    f"{step.id}: option {quote(word)} is no choice of {quote(figure.name)}{near}",
                    (figure.name,),
                )


def check_figures_used(figures: Mapping[str, Figure], used: set[str], into: Problems) -> None:
    """Add each figure that nothing uses, hangs on itself or has a choice that cannot be made."""
    changes = bool(_changes(figures))
    for figure in figures.values():
        used.update(filter(None, (figure.within, figure.wrench)))
        used.update(c.figure for c in figure.conditions if c.figure)
        for condition in figure.conditions:
            _check_condition(condition, figures, into, changes=changes)
        if figure.kind == "choice" and "none" in figure.choices:
            into.add(
                figure.mark,
                f"{figure.name}: a choice called none could not be told from not having the "
                f"figure; call it otherwise",
                (figure.name,),
            )
    for name, figure in figures.items():
        if name not in used:
            into.add(
                figure.mark,
                f"the figure {quote(name)} is asked for and never used; take it out or use it",
                (name,),
            )
    hangs = {
        name: tuple(filter(None, (c.figure for c in figure.conditions)))
        for name, figure in figures.items()
    }
    for circle in circles(hangs):
        into.add(
            figures[circle[0]].mark,
            f"the figures {_round(circle)} wait for each other; take out one “if”",
            circle,
        )


def check_needs(steps: Iterable[Step], into: Problems) -> None:
    """Add each circle of steps that need each other."""
    by_id = {step.id: step for step in steps}
    for circle in circles({step.id: step.needs for step in by_id.values()}):
        into.add(
            by_id[circle[0]].mark,
            f"the steps {_round(circle)} need each other; take out one need",
            circle,
        )


def _round(circle: tuple[str, ...]) -> str:
    return " → ".join((*circle, circle[0]))


def circles(after: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """Yield each circle in a graph once, beginning where it was first met."""
    done: set[str] = set()
    for start in after:
        path: dict[str, None] = {}  # in order, and looked up at once
        stack = [(start, iter(after[start]))]
        while stack:
            node, rest = stack[-1]
            path.setdefault(node)
            following = next((n for n in rest if n in after and n not in done), None)
            if following is None:
                stack.pop()
                done.add(path.popitem()[0])
            elif following in path:
                yield tuple(dropwhile(following.__ne__, path))
                done.add(following)
            else:
                stack.append((following, iter(after[following])))


def _changes(figures: Mapping[str, Figure]) -> list[Figure]:
    """Give the figures that ask what was changed: one, where no mistake is made."""
    return [figure for figure in figures.values() if figure.kind == "changes"]


def _check_condition(
    condition: Condition, figures: Mapping[str, Figure], into: Problems, *, changes: bool
) -> None:
    """Hold a condition against the figures; `changes` tells whether one asks what was changed."""
    if condition.about == "changed":
        if not changes:
            into.add(
                condition.mark,
                "no figure asks what was changed; declare one of kind: changes under figures",
                ("changes",),
            )
        return
    if not condition.figure:
        return
    if condition.figure not in figures:
        near = into.near(condition.figure, figures) or "; declare it under figures"
        text = f"{quote(condition.figure)} is no figure here{near}"
        into.add(condition.mark, text, (condition.figure,))
        return
    figure = figures[condition.figure]
    if condition.about == "choice":
        word = condition.words[0]
        if figure.kind != "choice":
            into.add(
                condition.mark,
                f"{quote(figure.name)} is {an(figure.kind)}, no choice; ask only whether it is had",
                (figure.name,),
            )
        elif word not in figure.choices:
            near = into.near(word, figure.choices)
            into.add(
                condition.mark,
                f"{quote(word)} is not {one_of(figure.choices)}{near}",
                (figure.name,),
            )
    elif not figure.none and not figure.conditions:
        into.add(
            condition.mark,
            f"{quote(figure.name)} must be had, so this is no question; give it a “none” or take "
            "the condition out",
            (figure.name,),
        )


def check_choices(figure: Figure, field: str, step: Step, into: Problems) -> None:
    """Add words that a choice offers and the field that names it does not know."""
    known = getattr(step.block, "CHOICES", {}).get(field.replace("-", "_"), ())
    strangers = [word for word in figure.choices if word not in known]
    if known and figure.kind == "choice" and strangers:
        into.add(
            step.field_marks.get(figure.name, step.mark),
            f"{step.id}: “{field}” knows {all_of(known)} only, and {quote(figure.name)} offers "
            f"{all_of(map(quote, strangers))}{into.near(strangers[0], known)}",
            (figure.name,),
        )


def _fits(figure: Figure, field: str, step: Step, into: Problems) -> None:
    """Hold a figure against what the field that names it needs: its kind, and its form."""
    needs: Mapping[str, str] = getattr(step.block, "FIGURES", {})
    attribute = field.replace("-", "_")
    wanted = needs.get(attribute) or needs[f"{attribute}_"]
    if field == "yield" and set(figure.choices) != {"yes", "no"}:
        into.add(step.mark, f"{step.id}: “yield” needs a choice of yes and no", (figure.name,))
        return
    fits = [_as_needed(each, step) for each in wanted.split(" or ")]
    if not any(figure.kind == kind and (not form or figure.form == form) for kind, form in fits):
        said = one_of(f"{kind} {form}".strip() if form != "one" else kind for kind, form in fits)
        into.add(
            step.mark,
            f"{step.id}: “{field}” needs a figure of {said}; {quote(figure.name)} is of "
            f"{figure.kind}{'' if figure.form == 'one' else ' ' + figure.form}",
            (figure.name,),
        )


def _as_needed(text: str, step: Step) -> tuple[str, str]:
    kind, _, form = text.partition("/")
    if kind == "unit":
        kind = UNITS.get(getattr(step.block, "unit", ""), "")
    return kind, form
