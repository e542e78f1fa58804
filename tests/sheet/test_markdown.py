"""The sheet in Markdown: what it says, that it fits, that nobody's text acts in it."""

import pytest
from markdown_it import MarkdownIt

from snugset.guide.events import Event
from snugset.sheet import Sheet, markdown, sheet_of
from snugset.sheet.phrases import rule_words
from snugset.values import replace

from .conftest import DIGEST
from .driver import Bench, begin

EVIL = "<b>x</b> | [y](http://x.example) `z` <!-- --> **w** ![i](j) &copy; # v"


def section(text: str, title: str) -> str:
    found = text.partition(f"## {title}\n")[2]
    return found.partition("\n## ")[0]


def flowing(text: str) -> str:
    return " ".join(text.split())


def test_the_top_says_what_matters_first(sheet: Sheet) -> None:
    text = markdown(sheet)
    assert text.startswith("# Build sheet\n\n**Build:** Pump six\n")
    assert text.index("## What matters first") < text.index("## Spec sheet")
    top = flowing(section(text, "What matters first"))
    assert "| 6E | 50.5 ± 3.3 thou | 1.283 mm | in | 10.300 in |" in top
    assert "preload at `gap@6E#2` (exhaust of 6), 50.5 ± 3.3 thou: off its prediction" in top
    assert "`rags-out`: 11 now, 12 before: they must be the same." in top
    assert "`gasket-mark`: no mark on this gasket" in top
    assert "runout at `roll@3E` (exhaust of 3), skipped: plate lent out" in top


def test_the_rows_hold_the_figures(sheet: Sheet) -> None:
    text = markdown(sheet)
    first = section(text, "Readings by round")
    assert "| 4E    | 76.5 ± 3.3 thou | high    | 76; 77 | 2026-03-07 12:07 |" in first
    specs = flowing(section(text, "Spec sheet"))
    assert (
        "head-stages: **30, 60, 85 lbf·ft = 40.7, 81.3, 115 N·m**, with: engine oil. Source: shop "
        "leaflet, p. 4"
    ) in specs
    assert "nut-scatter: **not had**; 0.25 is taken instead (common practice)" in specs
    fasteners = section(text, "Fasteners")
    assert "wet through, not as on the map" in fasteners
    assert "head-tighten Stage 3, 85 lbf·ft" in fasteners
    assert "nuts-cold Stage 1, 85 lbf·ft" in fasteners, "torqued again after the heat"
    pushrods = section(text, "Pushrods fitted")
    assert "How their length is measured: overall, over the oil-hole ends." in pushrods


def test_what_did_not_go_straight_is_told(sheet: Sheet) -> None:
    text = flowing(markdown(sheet))
    assert "`gap@5I#1` (intake of 5): 71.5 thou ± 3.3 thou (typed 71; 72)" in text
    assert "set aside by the rule old: 78.5 thou, predicted 38.5 thou" in text
    assert "`probe-hole@14` (lower row, seventh from the front), 2026-03-07 08:25, Wren: it" in text
    assert "9 days, from 2026-03-07 12:10 (Wren) to 2026-03-16 12:10 (Wren)" in text
    assert "Crank before it at 178° of the second turn: unknown after it." in text
    assert "## Answers taken back: 1" in text
    assert "`post#1` pushrods: 2026-03-07 12:10 to 2026-03-16 12:12, 9 days" in text


def test_it_ends_with_the_digest_and_what_it_is_good_for(sheet: Sheet) -> None:
    end = section(markdown(sheet), "The journal")
    assert f"Digest: `{DIGEST}`" in end
    assert "shows only against this digest, kept elsewhere than the journal." in flowing(end)


def test_every_line_fits_and_both_times_alike(sheet: Sheet, finished: Bench) -> None:
    text = markdown(sheet)
    assert max(map(len, text.splitlines())) <= 100
    assert text == markdown(sheet_of(finished.plan, finished.records, DIGEST))


def test_tables_and_headings_are_such_in_a_renderer(sheet: Sheet) -> None:
    page = MarkdownIt("gfm-like").render(markdown(sheet))
    assert page.count("<h1>") == 1
    assert page.count("<table>") > 8
    assert "<a " not in page


def test_hostile_text_of_people_does_nothing() -> None:
    bench = begin(EVIL)
    bench.person = f"Mallory {EVIL}"
    bench.replies = {
        "deck-flat": f".0033 ! {EVIL}",
        "manual": f"skip {EVIL}",
    }
    bench.until("deck-scrape")
    bench.take(f"note {EVIL}")
    bench.until("map-read")
    bench.keep((Event("spec-part", {"name": "retorque", "part": "source", "text": EVIL}),), 0)
    bench.take("back")
    text = markdown(sheet_of(bench.plan, bench.records, DIGEST))
    page = MarkdownIt("gfm-like").render(text)
    for tag in ("<b>", "<a ", "<img", "<!--", "<strong>w", "©", "<code>z"):
        assert tag not in page
    assert page.count("&lt;b&gt;x&lt;/b&gt; | [y](http://x.example) `z`") >= 8
    assert page.count("<h1>") == 1


def test_a_second_tightening_of_a_group_has_columns_of_its_own(sheet: Sheet) -> None:
    head = sheet.fasteners[0]
    again = tuple(
        replace(each, stages=(*each.stages, replace(each.stages[-1], step="after-heat", number=1)))
        for each in head.fasteners
    )
    text = markdown(replace(sheet, fasteners=(replace(head, fasteners=again),)))
    fasteners = section(text, "Fasteners")
    assert "head-tighten Stage 3, 85 lbf·ft" in fasteners
    assert "after-heat Stage 1, 85 lbf·ft" in fasteners


def test_nothing_of_a_forged_journal_does_anything(sheet: Sheet) -> None:
    forged = replace(
        sheet,
        breaks=(replace(sheet.breaks[0], stood=EVIL, voided=(EVIL,), loose=(EVIL,)),),
        reopened=(replace(sheet.reopened[0], addresses=(EVIL,), reason=EVIL),),
        overrides=(replace(sheet.overrides[0], address=EVIL, code=EVIL, rule=EVIL),),
        journal=replace(sheet.journal, digest=EVIL),
    )
    page = MarkdownIt("gfm-like").render(markdown(forged))
    assert not any(tag in page for tag in ("<b>", "<a ", "<img", "<!--", "<strong>w", "<code>z"))
    assert page.count("&lt;b&gt;x&lt;/b&gt;") >= 8


def test_a_long_list_of_takes_is_said_in_full_below_its_table() -> None:
    bench = begin()
    bench.gap = lambda _: "17+18+19; 17 thou + 18 thou + 19 thou; 17+18+19.5"
    bench.until("gap@1E#1")
    text = flowing(markdown(sheet_of(bench.plan, bench.records, DIGEST)))
    assert "- 1I, takes: 17+18+19; 17 thou + 18 thou + 19 thou; 17+18+19.5" in text


def test_an_open_build_says_where_it_stands_and_what_is_to_come() -> None:
    bench = begin()
    bench.until("gap@5E#1")
    text = flowing(markdown(sheet_of(bench.plan, bench.records, DIGEST)))
    assert "Stands open at `gap@5E#1` (exhaust of 5), Preload:" in text
    assert "preload, round 1, not come to yet: 5E, 3I, 3E, 6I, 6E, 2I, 2E, 4I, 4E" in text
    assert "Not judged yet." in text


def test_an_empty_build_is_told_without_tables(finished: Bench) -> None:
    text = markdown(sheet_of(finished.plan, finished.records[:1], DIGEST))
    assert "No preload and no lash has been measured yet." in text
    assert "head-stages: not asked yet" in text
    assert "## Pushrods fitted" not in text


def test_a_point_skipped_is_told(sheet: Sheet) -> None:
    points = sheet.points[0]
    turns = tuple(replace(turn, outcome="skipped", value="sure of it") for turn in points.turns)
    text = markdown(replace(sheet, points=(replace(points, turns=turns),)))
    assert "2026-03-07 11:36 skipped" in flowing(section(text, "Setting points"))


@pytest.mark.parametrize(
    ("words", "left"),
    [
        (
            "9 thou: high (at most 4). Put it right, or go on: .009 ! the reason",
            "9 thou: high (at most 4)",
        ),
        (
            "They are another person's. Take over: person NAME. Alone: ! why",
            "They are another person's",
        ),
        ("Bridge 3 is drawn down: finish it first.", "Bridge 3 is drawn down: finish it first"),
        ("go on: 4 ! the reason", "go on: 4 ! the reason"),
    ],
)
def test_a_rule_stands_without_what_the_builder_was_to_type(words: str, left: str) -> None:
    assert rule_words(words) == left
