"""Bench cards: this build's figures, the order of the fasteners, the setting points."""

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from driving import ROOT, small, table
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Plan
from snugset.sheet.card_map import WIDTH as MAP
from snugset.sheet.card_map import fastener_map
from snugset.sheet.cards import Cards, cards_of
from snugset.sheet.cards_text import WIDTH, cards_markdown, cards_text
from snugset.stored import BuildError, compiled

ENGINES = sorted((ROOT / "procedures" / "engines").glob("*.yaml"))
PROCEDURES = sorted((ROOT / "procedures").glob("*.yaml"))


@pytest.fixture(scope="module")
def cards() -> Cards:
    bench = table().until("head-threads")
    return cards_of(bench.plan, bench.records)


def test_a_group_has_its_stages_its_order_and_its_map(cards: Cards) -> None:
    head = next(card for card in cards.fasteners if card.group == "head")
    assert head.stages[-1] == "Stage 3 of 3: 85 lbf·ft = 115 N·m"
    assert [turn.key for turn in head.order][:4] == ["11", "4", "10", "5"]
    assert head.order[0].hole == "dry through"
    assert head.map[0].split()[:4] == ["1(13)", "2(7)", "3(5)", "4(2)"]
    assert head.generated


def test_the_map_holds_every_place_once_with_its_number(cards: Cards) -> None:
    for card in cards.fasteners:
        drawn = " ".join(card.map).split()
        assert sorted(drawn) == sorted(f"{turn.key}({turn.number})" for turn in card.order)


@pytest.mark.parametrize("engine", ENGINES, ids=lambda p: p.stem)
def test_every_shipped_map_fits(engine: Path) -> None:
    plan = next(_plans(engine), None)
    if plan is None:
        pytest.fail(f"no procedure fits {engine.stem}")
    for group in plan.engine.fasteners.values():
        rows = fastener_map(group)
        assert max(map(len, rows)) <= MAP
        assert len(rows) == len({place.y.in_("mm") for place in group.places.values()})


def _plans(engine: Path) -> Iterator[Plan]:
    for path in PROCEDURES:
        procedure = pin(path)
        with suppress(BuildError):
            yield compiled(procedure, pin(engine), pin_shared(path, procedure))


def test_setting_points_are_worked_out_before_the_build_settles_on_them(cards: Cards) -> None:
    """By hand: 58 degrees on a 7 in rim are 58/360 · π · 7 = 3.54 in."""
    first = cards.points[0]
    assert not first.planned
    assert [point.places for point in first.points] == [("1", "5"), ("3", "6"), ("2", "4")]
    text = cards_text(cards)
    assert "6° past to 110° past number one's mark, aim for 58° past" in text
    assert "58° past the 0° mark, 3.54 in = 90 mm round the rim" in text


def test_the_steps_have_this_builds_figures_and_cautions(cards: Cards) -> None:
    text = cards_text(cards)
    assert "stages: 30, 60, 85 lbf·ft = 40.7, 81.3, 115 N·m (head-stages)" in text
    assert "! Pull towards you, feet apart." in text
    assert "Then a second person looks. Initials: ______" in text
    assert "at-most: 0.005 in = 0.127 mm (head-flatness)" in text
    assert "{" not in text


def test_a_figure_that_is_not_there_yet_is_said_so() -> None:
    bench = table(specs=False)
    text = cards_text(cards_of(bench.plan, bench.records))
    assert "not given (head-stages)" in text
    assert "Stage 1 of 1: not given" in text
    assert "They cannot be worked out yet" not in text


def test_a_step_whose_condition_does_not_hold_is_not_on_the_wall() -> None:
    bench = small("- do: one\n  say: Here.\n- do: two\n  if: rockers are shaft\n  say: Not here.\n")
    text = cards_text(cards_of(bench.plan, bench.records))
    assert "Here." in text
    assert "Not here." not in text


def test_what_an_answer_leads_to_stands_below_it() -> None:
    bench = small(
        "- choose: again\n  say: Hot or never?\n  options:\n"
        "    hot: [{do: hot-pull, say: Pull it hot.}]\n    never: []\n"
    )
    text = cards_text(cards_of(bench.plan, bench.records))
    assert "If “hot”:" in text
    assert text.index("Hot or never?") < text.index("hot”:") < text.index("Pull it hot.")


def test_each_card_begins_a_sheet_of_paper(cards: Cards) -> None:
    pages = cards_text(cards).split("\f")
    assert len(pages) == 1 + len(cards.fasteners) + len(cards.points) + len(cards.phases)
    assert all(page.startswith("=" * WIDTH) for page in pages[1:])


def test_no_two_cards_have_the_same_title(cards: Cards) -> None:
    titles = [(card.group, card.title) for card in cards.fasteners]
    titles += [("points", card.title) for card in cards.points]
    assert len(set(titles)) == len(titles)
    assert all(card.step in card.title for card in cards.fasteners)


def test_both_forms_fit_the_paper(cards: Cards) -> None:
    assert max(map(len, cards_text(cards).splitlines())) <= WIDTH
    assert max(map(len, cards_markdown(cards).splitlines())) <= 100


def test_in_markdown_what_people_typed_is_no_markup() -> None:
    evil = "<script>x</script> [a](http://b) *c*"
    bench = small(f'- do: one\n  say: "{evil}"\n  caution: "{evil}"\n')
    text = cards_markdown(cards_of(bench.plan, bench.records))
    assert "<script>" not in text.replace("\\<", "")
    assert "[a](" not in text.replace("\\[", "")
    assert text.startswith("# Bench cards: Test six")
