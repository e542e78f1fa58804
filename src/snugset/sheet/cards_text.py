"""Bench cards as plain text and as Markdown; both print on A4 and on Letter."""

import textwrap
from collections.abc import Callable, Iterator, Mapping

from snugset.printable import counted
from snugset.sheet.card_steps import CardStep
from snugset.sheet.cards import Cards, FastenerCard, PointsCard
from snugset.sheet.inert import flat, inert
from snugset.sheet.layout import items, paragraph, table
from snugset.sheet.phrases import clock

WIDTH = 76
SAFETY = (
    "The engine maker's manual, local codes and a licensed mechanic come before this card. Check "
    "each figure against its source."
)
_INDENT = "   "


def cards_text(cards: Cards) -> str:
    """Write the cards as text of 76 columns, each line ending in a new line.

    A form feed stands before each card but the first, so that each begins a sheet of paper.
    """
    pages = [_title(cards)]
    for card in cards.fasteners:
        lines = _head(f"{card.group}: {counted(len(card.order), card.kind)}")
        lines += [card.title, "", *card.stages, ""]
        lines += [f"  {row}" for row in card.map]
        lines += ["  Front at the left. 11(3): fastener 11 is the third.", *_generated(card), ""]
        pages.append([*lines, *(_turn(*each) for each in _turns(card))])
    pages += [[*_head(f"Setting points: {card.title}"), *_points(card)] for card in cards.points]
    pages += [
        [*_head(phase.title), *(line for step in phase.steps for line in _step(step))]
        for phase in cards.phases
    ]
    drawn = {f"  {row}" for card in cards.fasteners for row in card.map}
    texts = (
        "\n".join(each for line in page for each in ([line] if line in drawn else _fold(line)))
        for page in pages
    )
    return "\n\f".join(text.rstrip("\n") for text in texts) + "\n"


def _title(cards: Cards) -> list[str]:
    return [
        f"BENCH CARDS: {cards.build}",
        f"Engine: {cards.engine}",
        f"Procedure: {cards.procedure}",
        f"Figures as of {clock(cards.as_of)} UTC",
        SAFETY,
    ]


def _head(title: str) -> list[str]:
    return ["=" * WIDTH, title.upper(), "-" * WIDTH]


def _generated(card: FastenerCard) -> list[str]:
    made = "  Order generated from the map: use the maker's diagram if you have one."
    return [made] if card.generated else []


def _turns(card: FastenerCard) -> Iterator[tuple[str, str, str]]:
    for each in card.order:
        rest = "; ".join(filter(None, (each.where, each.length, each.hole)))
        yield str(each.number), each.key, rest


def _turn(number: str, key: str, rest: str) -> str:
    return f"  [ ] {number:>3}. {key:<5} {rest}".rstrip()


def _points(card: PointsCard) -> Iterator[str]:
    yield card.why
    if not card.planned and card.points:
        yield "Worked out from the figures as they are now; the build asks again before it turns."
    yield f"Turn {card.running}, seen from the front. Prove number one first."
    if card.damper:
        yield f"Damper: {card.damper} across the rim."
    for point in card.points:
        yield ""
        yield f"[ ] {point.key}: {point.over} {', '.join(point.places)}"
        yield f"{_INDENT} {point.window}"
        if point.margin is not None:
            yield f"{_INDENT} least margin {point.margin.value:.0f}°"
        if point.rim:
            yield f"{_INDENT} {point.rim}"


def _step(step: CardStep) -> Iterator[str]:
    before = _INDENT * step.depth
    box = "[ ] " if step.id else ""
    yield f"{before}{box}{step.words or step.id}"
    inside = f"{before}{_INDENT} "
    yield from (f"{inside}{field}: {shown}" for field, shown in step.figures)
    yield from (f"{inside}! {text}" for text in step.caution)
    if step.tools:
        yield f"{inside}Tools: {', '.join(step.tools)}"
    if step.people > 1:
        yield f"{inside}{step.people} people."
    if step.second_look:
        yield f"{inside}Then a second person looks. Initials: ______"


def _fold(line: str) -> list[str]:
    body = line.lstrip(" ")
    indent = " " * (len(line) - len(body))
    return textwrap.wrap(
        flat(body),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=f"{indent}    ",
        break_on_hyphens=False,
    ) or [""]


def cards_markdown(cards: Cards) -> str:
    """Write the cards as Markdown that reads as plain text; what people typed is no markup."""
    _, *rest, safety = _title(cards)
    lines = [f"# Bench cards: {inert(cards.build)}", "", *items([inert(line) for line in rest])]
    lines += paragraph(f"**{safety}**")
    for card in cards.fasteners:
        lines += [f"## {inert(card.group)}: {counted(len(card.order), inert(card.kind))}", ""]
        lines += paragraph(f"**{inert(card.title)}**")
        lines += items([inert(stage) for stage in card.stages])
        lines += [*(f"    {row}" for row in card.map), ""]
        lines += paragraph("Front at the left. 11(3): fastener 11 is the third.")
        lines += paragraph(_generated(card)[0].strip()) if card.generated else []
        lines += table(
            ("No.", "Fastener", "Where", "Length", "Hole"),
            [
                (str(t.number), inert(t.key), inert(t.where), inert(t.length), inert(t.hole))
                for t in card.order
            ],
        )
    for points in cards.points:
        lines += [f"## Setting points: {inert(points.title)}", ""]
        texts = [line.strip().replace("[ ] ", "") for line in _points(points)]
        head = texts.index("") if "" in texts else len(texts)
        lines += items([inert(text) for text in texts[:head]])
        for point in points.points:
            lines += paragraph(f"**{inert(point.key)}**: {point.over} {', '.join(point.places)}")
            margin = "" if point.margin is None else f"Least margin {point.margin.value:.0f}°"
            lines += items([inert(t) for t in (point.window, margin, point.rim) if t])
    for phase in cards.phases:
        lines += [f"## {inert(phase.title)}", ""]
        for step in phase.steps:
            lines += _item(step)
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


def _item(step: CardStep) -> list[str]:
    first, *rest = (line.strip().removeprefix("[ ] ") for line in _step(step))
    indent = "  " * step.depth
    lines = items([inert(first)], indent=indent)[:-1]
    if rest:
        lines += items([inert(line) for line in rest], indent=f"{indent}  ")[:-1]
    return lines


FORMS: Mapping[str, Callable[[Cards], str]] = {"text": cards_text, "md": cards_markdown}
"""How cards can be written; another form is another line here."""
