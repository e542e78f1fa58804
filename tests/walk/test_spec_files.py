"""Spec sheets saved from builds and filled into them: what goes out comes back the same."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from driving import SPECS, Table, table
from snugset.filling import Answered, changed_lines, proposed, save
from snugset.guide.spec_file import spec_file
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Pinned
from snugset.play import read_answers_file
from snugset.stored import BuildError, compiled
from snugset.units import Quantity

from .test_procedures import PLAYED


def figures(told: Table) -> dict[str, tuple[object, ...]]:
    """Give what the spec sheet says, without when and by whom."""
    return {
        name: (spec.value, spec.had, spec.source, spec.assumes)
        for name, spec in told.state.specs.items()
    }


def through_a_file(told: Table) -> Table:
    """Begin a build of the same procedure with the other's spec sheet saved as a file."""
    found = spec_file(told.plan, told.state)
    assert all(one.endswith(": not answered yet") for one in found.left_out)
    assert found.count == len(told.state.specs)
    again = Table(told.plan, told.procedure, told.engine, told.shared)
    return again.begin(Pinned(file="saved.yaml", text=found.text))


def test_the_demos_spec_sheet_comes_back_the_same() -> None:
    told = table()
    again = through_a_file(told)
    assert figures(again) == figures(told)
    assert again.at == told.at


FIGURES = (
    ("head-flatness", "in", 1, 20),
    ("gasket-thickness", "in", 20, 90),
    ("lifter-travel", "in", 100, 250),
    ("sealant-open-time", "h", 1000, 5000),
)
SOURCE = st.text(
    st.characters(codec="utf-8", exclude_categories=["C", "Z"], exclude_characters=";"),
    min_size=1,
    max_size=40,
)


@settings(max_examples=60, deadline=None)
@given(
    thousandths=st.tuples(*(st.integers(low, high) for _, _, low, high in FIGURES)),
    sources=st.tuples(*(SOURCE for _ in FIGURES)),
    metric=st.booleans(),
)
def test_whatever_was_typed_comes_back_the_same(
    *, thousandths: tuple[int, ...], sources: tuple[str, ...], metric: bool
) -> None:
    told = table()
    for (name, unit, *_), number, source in zip(FIGURES, thousandths, sources, strict=True):
        value = Quantity(Decimal(number) / 1000, unit)
        if metric and unit == "in":
            value = value.to("mm")
        told.taken(f"again {value}; {source}", f"spec.{name}")
    assert figures(through_a_file(told)) == figures(told)


@pytest.mark.parametrize("file", PLAYED, ids=lambda p: p.stem)
def test_the_spec_sheet_of_each_shipped_procedure_comes_back(file: Path) -> None:
    answers = read_answers_file(file)
    path, engine = file.parent / answers.procedure, file.parent / answers.engine
    procedure, machine = pin(path), pin(engine)
    shared = pin_shared(path, procedure)
    told = Table(compiled(procedure, machine, shared), procedure, machine, shared)
    told.begin(pin(file.parent / answers.specs))
    assert told.state.specs
    assert figures(through_a_file(told)) == figures(told)


def test_a_reason_against_a_rule_goes_with_its_figure() -> None:
    told = table()
    told.taken("again 4 in; leaflet ! a very long straightedge", "spec.head-flatness")
    told.taken("again 30, 60, 200 lbf·ft; p. 4; engine oil ! a borrowed wrench", "spec.head-stages")
    told.taken("again 0.070 in; p. 2 ! beyond on purpose", "spec.preload-target")
    again = through_a_file(told)
    assert figures(again) == figures(told)
    reasons = {str(one.address): one.reason for one in again.state.overrides}
    assert reasons["spec.head-flatness"] == "a very long straightedge"
    assert reasons["spec.preload-target"] == "beyond on purpose"


def test_what_is_not_answered_is_named_and_left_out() -> None:
    told = table(specs=False)
    told.taken("0.004 in; leaflet")
    told.taken("0.003 in")
    found = spec_file(told.plan, told.state)
    assert found.count == 1
    assert "deck-flatness: its source is not answered yet" in found.left_out
    assert "head-stages: not answered yet" in found.left_out
    assert "# left out: head-stages: not answered yet" in found.text
    again = Table(told.plan, told.procedure, told.engine, told.shared)
    again.begin(Pinned(file="saved.yaml", text=found.text))
    assert again.at == "spec.deck-flatness"


def fill(told: Table, body: str) -> Answered:
    text = "snugset: specs/1\nfigures:\n" + "".join(f"  {line}\n" for line in body.split("\n"))
    return proposed(told.plan, Pinned(file="s.yaml", text=text), told.state, "Wren", told.now)


def test_only_what_is_new_counts_as_a_change() -> None:
    told = table()
    found = proposed(told.plan, pin(SPECS), told.state, "Wren", told.now)
    assert (found.changes, found.records) == ((), [])
    assert found.same == len(told.state.specs)
    assert changed_lines(found)[-1] == "The file changes nothing."


def test_what_changes_is_said_with_what_follows() -> None:
    told = table().until("gap@4E#1")
    found = fill(
        told, "preload-window: {value: 20..90 thou, source: leaflet, assumes: cold engine}"
    )
    assert changed_lines(found) == [
        "preload-window: 20 to 90 thou — leaflet, assumes cold engine",
        (
            "    now 0.020 to 0.060 in — lifter maker's leaflet (invented), p. 2, "
            "assumes cold engine"
        ),
        "    Round 1 is judged by the new figure.",
    ]


def test_two_figures_that_fit_only_together_change_together() -> None:
    told = table()
    found = fill(
        told,
        "preload-target: {value: 80 thou, source: leaflet}\n"
        "preload-window: {value: 70..90 thou, source: leaflet, assumes: cold engine}",
    )
    assert {one.name for one in found.changes} == {"preload-target", "preload-window"}


def test_every_mistake_is_told_with_its_place_and_nothing_is_taken() -> None:
    told = table()
    with pytest.raises(BuildError) as caught:
        fill(
            told, "head-flatnes: {value: 0.004 in, source: a}\ndeck-flatness: {value: 4, source: b}"
        )
    assert str(caught.value).split("\n") == [
        (
            "s.yaml:3:17: the procedure asks for no figure “head-flatnes” "
            "(did you mean “head-flatness”?)"
        ),
        "  head-flatnes: {value: 0.004 in, source: a}",
        "                ^",
        (
            "s.yaml:4:26: 4 in is outside the plausible 0.0005 to 0.030 in, where 4 thou (that "
            "is 0.004 in) would fit"
        ),
        "  deck-flatness: {value: 4, source: b}",
        "                         ^",
    ]


def test_a_figure_that_a_rule_stops_is_told_at_its_place() -> None:
    told = table()
    with pytest.raises(BuildError, match=r"^s.yaml:3:\d+: .*out of this wrench's reach"):
        fill(told, 'head-stages: {value: "30, 60, 150 lbf·ft", source: a, assumes: engine oil}')


def test_a_file_is_never_written_over(tmp_path: Path) -> None:
    file = tmp_path / "specs.yaml"
    save(file, "one\n")
    with pytest.raises(FileExistsError):
        save(file, "two\n")
    assert file.read_text("utf-8") == "one\n"
