"""Works with what files of strangers make: walks it, looks at it from all sides, writes it down."""

import json
import random
from collections.abc import Iterator, Mapping
from datetime import timedelta

from driving import Table
from snugset.files.answers import Say, read_answers
from snugset.files.problems import Problems
from snugset.files.whole import read_whole
from snugset.guide.apply import fold
from snugset.guide.ask import progress, prompt
from snugset.guide.bodies import check_records
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.spec_file import spec_file
from snugset.guide.undoing import undoing
from snugset.journal.coding import GENESIS, decode, encode
from snugset.plain import cue, render, told
from snugset.printable import printable
from snugset.screens import asking
from snugset.screens.beside import VIEWS, beside
from snugset.screens.desk import looked
from snugset.sheet import as_csv, as_json, markdown, sheet_of
from snugset.sheet.cards import cards_of
from snugset.sheet.cards_text import FORMS
from snugset.sheet.order import order_of
from snugset.sheet.order_text import order_json, order_text
from snugset.sheet.page import html

from . import strings

ROOMS = ((38, 18), (30, 10), (80, 40), (20, 3))
"""Cells of the views: beside a prompt in 80 columns, smaller, and larger."""
_VERBS = (
    *("none", "back", "back", "arrived", "stage", "stage 2", "stage 999999", "stage -1", "again"),
    *("skip it is not needed", "skip", "note x", "note", "person Ada", "photo x.png a b", "photo"),
    *("again 35", "again 0", "again 17+18 thou", "order", "repeat", "keep", "yes", "no", "here"),
    *("1", "0", "2", "3", "12", "999999999999", "0.0000001", "-1", "x" * 5000, "! because", " ! "),
    *("dry", "filled", "nothing", "camshaft", "loose", "bottomed", "0 in", "10 in", "360 deg"),
)


class Known:
    """What somebody typed at each address of a build that was walked whole."""

    def __init__(self, text: str) -> None:
        answers = read_whole(text, "answers.yaml", read_answers, Problems())
        assert answers is not None
        self.at: dict[str, list[str]] = {}
        for entry in answers.answers:
            if isinstance(entry, Say):
                self.at.setdefault(entry.at, []).append(entry.text)
        self.every = [text for texts in self.at.values() for text in texts]


def answer(rng: random.Random, asked: Prompt | None, known: Known, right: float) -> str:
    """Write an answer: right so often, as far as somebody once knew it, else wrong or absurd."""
    if asked is None:
        return rng.choice(_VERBS)
    texts = known.at.get(str(asked.address), [])
    if texts and rng.random() < right:
        return rng.choice(texts)
    chance = rng.random()
    if chance < 0.3:
        return asked.proposal if rng.random() < 0.2 else ""
    if asked.choices and chance < 0.5:
        return rng.choice(asked.choices)
    unit = rng.choice(["", asked.unit, "in", "mm", "thou", "deg", "lbf·ft"])
    if chance < 0.75:
        return f"{rng.choice(['0', '1', '7', '.035', '12.5', '40', '1e3', '5;6', '5;6;7'])} {unit}"
    if chance < 0.9:
        return rng.choice(_VERBS)
    return rng.choice(known.every) if rng.random() < 0.5 else strings.noise(rng)


def _at(rng: random.Random, table: Table) -> str:
    """Choose another place than the one that is asked, now and then."""
    if rng.random() > 0.05:
        return ""
    facts = [str(address) for address in (*table.state.facts, *table.state.readings)]
    steps = list(table.plan.steps) or ["x"]
    odd = [rng.choice(steps), f"{rng.choice(steps)}@1I#1", "spec.x", "return", "nowhere@9#9999"]
    return rng.choice([*odd, *facts[-9:], "handover", "finished", f"{rng.choice(steps)}@1.1"])


def walk(rng: random.Random, table: Table, known: Known, most: int, right: float = 0.7) -> None:
    """Answer so many prompts; each is shown, and each refusal says why.

    `right` is how often what somebody knew is answered, where that is known.
    """
    for _ in range(most):
        asked = prompt(table.plan, table.state, table.now)
        if asked is not None:
            assert asked.words.strip()
            counted = progress(table.plan, table.state, table.now)
            assert counted.done <= counted.known
            _shown(render(asked, counted.done, counted.known))
            _shown([cue(asked)])
        typed, at = answer(rng, asked, known, right), _at(rng, table)
        if asked is None and not at:
            at = "finished"
        for _ in range(4):
            outcome = table.say(typed, at)
            _sound(outcome)
            if isinstance(outcome, Decision) or not outcome.overridable or rng.random() < 0.3:
                break
            typed = f"{typed} ! it is so"
        if rng.random() < 0.03:
            table.away(timedelta(hours=rng.choice([0.7, 3, 30, 24 * 400])))
        if rng.random() < 0.05:
            look_round(rng, table)
    look_round(rng, table)


def _sound(outcome: Decision | Refusal) -> None:
    if isinstance(outcome, Refusal):
        assert outcome.code
        assert outcome.words.strip()
    _shown(told(outcome))


def _shown(lines: Iterator[str] | list[str]) -> None:
    for line in lines:
        for part in line.split("\n"):
            assert len(printable(part)) == len(part)


def look_round(rng: random.Random, table: Table) -> None:
    """Draw each view at some size, and say what taking back would come to."""
    records = tuple(table.records)
    look = looked(table.plan, table.state, records, table.now)
    width, height = rng.choice(ROOMS)
    for name in VIEWS:
        drawn = beside(look, name, width, height)
        assert len(drawn.plain.split("\n")) <= height, name
    asking.first(look.prompt, "b", width, whole=rng.random() < 0.5)
    undoing(table.plan, records, table.state, table.now)


def written_down(table: Table, *, page: bool) -> Mapping[str, str]:
    """Write sheet, cards, order and spec sheet in every form; the records read back as they are.

    `page` makes the page too, which takes longer than all the others.
    """
    digest = GENESIS
    for number, row in enumerate(encode(table.records, after=0, digest=GENESIS)):
        assert decode(row, after=number, digest=digest, parts=0) == table.records[number]
        digest = row[-1]
    check_records(table.records)
    assert fold(table.records) == table.state
    sheet = sheet_of(table.plan, table.records, digest)
    cards = cards_of(table.plan, table.records)
    order = order_of(table.plan, table.records)
    return {
        **({"html": html(sheet, {})} if page else {}),
        "md": markdown(sheet),
        "csv": as_csv(sheet),
        "json": json.dumps(json.loads(as_json(sheet))),
        **{f"cards {name}": form(cards) for name, form in FORMS.items()},
        "order": order_text(order),
        "order json": order_json(order),
        "specs": spec_file(table.plan, table.state).text,
    }
