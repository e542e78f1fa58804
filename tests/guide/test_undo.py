"""Undo equals never having answered; the fold equals the live state, whatever is typed."""

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from driving import Table, entries, table
from snugset.guide.apply import apply, fold
from snugset.guide.ruling import Decision
from snugset.guide.state import State
from snugset.values import replace

TYPED = st.sampled_from(
    [
        "", "", "", "1", "2", "yes", "dry through", "wet blind", "one", "5", "12", ".002", "0",
        "20+18; 20+19", "40+33; 40+34", "none", "stage", "arrived", "untouched", "order", "accept",
        "accept ! good enough", "skip no time", "note a remark", "order 10.300 in", "again 4I",
        "72 lbf·in; leaflet", "72 lbf·in", "25 lbf·ft ! it is what I have", "250", "right",
    ]
)  # fmt: skip


def _same_work(state: State) -> State:
    """Leave out what counts answers rather than work."""
    return replace(state, sequence=0, answer=0, last_at="", last_person="")


def _same_but_for_the_crank(after: State, before: State) -> bool:
    """Tell whether an undo equals never having answered.

    Only the crank may differ: an answer that turned it is taken back from the record and not from
    the engine, so where it stands is unknown.
    """
    if after.condition.crank != before.condition.crank:
        assert after.condition.crank is None
        before = replace(before, condition=replace(before.condition, crank=None))
    return _same_work(after) == _same_work(before)


def test_undo_after_every_answer_of_the_demo_equals_never_having_answered() -> None:
    bench = table()
    for number, entry in enumerate(entries()):
        before = bench.state
        bench.enter(entry)
        if number % 5 == 0 and bench.state.given != before.given:
            after, records, moment = bench.state, list(bench.records), bench.now
            if bench.at == "return":
                continue
            bench.taken("back", bench.at or "manual")
            assert _same_but_for_the_crank(bench.state, before)
            bench.state, bench.records, bench.now = after, records, moment


def test_undo_goes_back_answer_by_answer_to_the_first() -> None:
    bench = table(specs=False)
    start = bench.state
    for text in (".005 in; leaflet", ".004 in; leaflet", ".05 in; leaflet"):
        bench.taken(text)
    for _ in range(3):
        bench.taken("back")
    assert _same_work(bench.state) == _same_work(start)
    assert bench.refused("back").code == "nothing-back"


def test_taking_back_a_turn_leaves_the_crank_unknown() -> None:
    bench = table().until("bridge-on@3#1")
    said = bench.taken("back").said
    assert "The crank counts as unknown now" in said[-1]
    assert bench.state.condition.crank is None
    assert bench.at == "number-one"


def test_nothing_of_before_the_break_is_taken_back_at_the_return_prompt() -> None:
    bench = table().until("scratch@3#1")
    bench.away(timedelta(days=1))
    assert bench.refused("back").code == "returning"


def test_undo_says_that_it_corrects_the_record_and_not_the_engine() -> None:
    bench = table().until("parts")
    said = " ".join(bench.taken("back").said)
    assert "Took back plugs-out" in said
    assert "not the engine" in said


def test_a_whole_stage_taken_back_says_how_many_more_there_were() -> None:
    bench = table().until("head-tighten@2.3")
    count = len(bench.plan.engine.fasteners["head"].places)
    bench.taken("back")
    here = bench.at
    bench.taken("stage")
    done = [r for r in bench.records if r.answer == bench.state.given[-1].number]
    assert 1 < len(done) <= count
    said = " ".join(bench.taken("back").said)
    assert f"Took back {here} and {len(done) - 1} more." in said


@settings(max_examples=25, deadline=None)
@given(
    start=st.integers(0, 380),
    typed=st.lists(TYPED, min_size=1, max_size=12),
    pause=st.sampled_from([0, 0, 0, 40 * 60, 9 * 86400]),
)
def test_whatever_is_typed_the_fold_equals_the_live_state_and_undo_takes_it_back(
    start: int, typed: list[str], pause: int
) -> None:
    bench = _from(start)
    states = [bench.state]
    for text in typed:
        if not bench.at:
            break
        if isinstance(bench.say(text), Decision):
            states.append(bench.state)
    assert fold(bench.records) == bench.state
    one_by_one = State()
    for record in bench.records:
        one_by_one = apply(one_by_one, record)
    assert one_by_one == bench.state
    if pause:
        bench.away(timedelta(seconds=pause))
        assert fold(bench.records) == bench.state
        return
    while len(states) > 1:
        states.pop()
        if bench.state.returning:
            return
        bench.taken("back", bench.at or "manual")
        assert _same_but_for_the_crank(bench.state, states[-1])


_PREFIXES: dict[int, Table] = {}


def _from(start: int) -> Table:
    """Give a fresh table that has had so many of the demo's entries."""
    if not _PREFIXES:
        bench = table()
        for number, entry in enumerate(entries()):
            _PREFIXES[number] = replace(bench, records=list(bench.records))
            bench.enter(entry)
    found = _PREFIXES[start % len(_PREFIXES)]
    return replace(found, records=list(found.records))
