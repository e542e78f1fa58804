"""The reference of the file kinds: its examples are read, and it names everything that is read."""

import ast
import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from snugset.files import answers, engine_shape, figure_shape, groups, specs, step_fields
from snugset.files.answers import read_answers
from snugset.files.conditions import CHANGES, ConditionShape
from snugset.files.engine import read_engine
from snugset.files.figures import FORMS, KINDS
from snugset.files.problems import Mark, Problems
from snugset.files.procedure import VIEWS, Procedure, procedure_schema, read_procedure
from snugset.files.shapes import Field, ListOf, MapOf, Text
from snugset.files.shared import read_shared, shared_schema
from snugset.files.specs import read_specs
from snugset.files.steps import KindBlock
from snugset.files.tree import Node, Scalar, parse
from snugset.guide.codes import CODES
from snugset.guide.kinds import BLOCKS
from snugset.guide.kinds.do import HOLES, MARKS
from snugset.guide.kinds.each import OVER, WHERE
from snugset.journal.shelf import Shelf
from snugset.plan.check import all_steps, check_procedure, check_shared
from snugset.plan.fields import COUNTS, FIELDS
from snugset.plan.plan import Pinned, read_plan
from snugset.plan.written import check_written
from snugset.play import play
from snugset.units import UNITS, read

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "snugset"
PAGE = (ROOT / "docs" / "files.md").read_text("utf-8")
GUARDS: tuple[str, ...] = tuple(BLOCKS["do"].block.fields["guards"].shape.schema()["items"]["enum"])


class Row(NamedTuple):
    """A row of a table: its cells by the heads of their columns."""

    head: str
    cells: Mapping[str, str]

    def names(self, column: str) -> list[str]:
        """Return what is named in a cell."""
        return re.findall(r"`([^`]+)`", self.cells[column])


def section(title: str) -> str:
    """Return what stands under a heading, up to the next one."""
    found = re.search(rf"^##+ {re.escape(title)}\n(.*?)(?=^##|\Z)", PAGE, re.DOTALL | re.MULTILINE)
    assert found, title
    return found[1]


def rows(text: str) -> Iterator[Row]:
    """Yield the rows of all tables in a text."""
    heads: list[str] = []
    for line in text.split("\n"):
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if not line.startswith("|"):
            heads = []
        elif not heads:
            heads = cells
        elif not cells[0].startswith("---"):
            assert len(cells) == len(heads), line
            yield Row(heads[0], dict(zip(heads, cells, strict=True)))


@cache
def examples() -> tuple[str, ...]:
    return tuple(re.findall(r"^```yaml\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE))


def example(sort: str) -> str:
    """Return the one example that is a whole file of this sort."""
    (found,) = (text for text in examples() if text.startswith(f"snugset: {sort}/1\n"))
    return found


@cache
def joined() -> str:
    """Return the procedure that the parts of one make together: figures first, then steps."""
    (figures,) = (text for text in examples() if text.startswith("figures:\n"))
    steps = "".join(text for text in examples() if text.startswith("- "))
    return f"snugset: procedure/1\nname: joined\n{figures}phases:\n- title: all\n  steps:\n" + (
        re.sub("^", "  ", steps, flags=re.MULTILINE).rstrip(" ")
    )


def problems(into: Problems) -> list[str]:
    return [str(problem) for problem in into.items]


def parsed(text: str, into: Problems) -> Node:
    node = parse(text, "example", into)
    assert node is not None, problems(into)
    return node


def procedure(text: str, into: Problems) -> Procedure | None:
    """Read a procedure and check its references, as the checker does."""
    found = read_procedure(parsed(text, into), BLOCKS, into)
    if found is not None:
        check_procedure(found, into)
    return found


def test_every_example_is_a_whole_file_or_a_part_of_a_procedure() -> None:
    for text in examples():
        assert re.match(
            r"snugset: (engine|procedure|steps|specs|answers)/1\n|figures:\n|- ", text
        ), text


def test_the_engine_is_read() -> None:
    into = Problems()
    assert read_engine(parsed(example("engine"), into), into), problems(into)


def test_the_procedure_and_its_spec_sheet_are_read() -> None:
    into = Problems()
    found = procedure(example("procedure"), into)
    assert found is not None
    assert not into, problems(into)
    sheet = read_specs(parsed(example("specs"), into), found.figures, into)
    assert sheet is not None, problems(into)
    assert {figure.form for figure in found.figures.values()} == {"one", "rising", "window"}


def test_the_parts_make_a_procedure_for_the_engine() -> None:
    into = Problems()
    found = procedure(joined(), into)
    assert found is not None, problems(into)
    engine = Pinned(file="engine", text=example("engine"))
    plan = read_plan(Pinned(file="joined", text=joined()), engine, BLOCKS, into)
    assert plan is not None, problems(into)
    check_written(plan.procedure, into)
    assert not into, problems(into)
    assert {step.kind for step in all_steps(found)} == set(BLOCKS)
    assert {figure.kind for figure in found.figures.values()} == set(KINDS) - {"text"}
    assert {figure.form for figure in found.figures.values()} == set(FORMS)


def test_the_shared_groups_are_read() -> None:
    into = Problems()
    found = read_shared(parsed(example("steps"), into), BLOCKS, into)
    assert found is not None, problems(into)
    check_shared(found, into)
    assert not into, problems(into)
    told = list(rows(section("Shared groups")))
    fields = shared_schema(BLOCKS)
    assert {name for row in told for name in row.names("field")} == set(fields["properties"])
    needed = {n for row in told for n in row.names("field") if row.cells["default"] == "needed"}
    assert needed == set(fields["required"])


def test_conditions_are_read_as_the_page_says() -> None:
    told = [row for row in rows(section("Conditions")) if row.head == "condition"]
    for text in (name for row in told for name in row.names("condition")):
        into = Problems()
        assert ConditionShape().read_text(text.replace("NAME", "name"), Mark("", 1, 1), into), text
    for word in CHANGES:
        assert f"`{word}`" in section("Conditions")


def test_the_answers_play_the_procedure_to_its_end(tmp_path: Path) -> None:
    into = Problems()
    given = read_answers(parsed(example("answers"), into), into)
    assert given is not None, problems(into)
    for sort, name in (
        ("procedure", given.procedure),
        ("engine", given.engine),
        ("specs", given.specs),
        ("answers", "answers.yaml"),
    ):
        (tmp_path / name).write_text(example(sort), "utf-8")
    played = play(tmp_path / "answers.yaml", Shelf(tmp_path / "data"))
    assert played.finished
    assert played.refused == 1


def test_mistakes_are_told_as_the_page_shows() -> None:
    shown = re.findall(r"^    (\w+)\.yaml:(.*)$", section("What the checker reports"), re.MULTILINE)
    figures = procedure(example("procedure"), Problems())
    assert figures is not None
    mends: Mapping[str, tuple[str, str, Callable[[Node, Problems], object]]] = {
        "engine": ("rockers: bridged", "rockers: bridge", read_engine),
        "procedure": ("tools:", "tool:", lambda node, into: read_procedure(node, BLOCKS, into)),
        "specs": (
            "60 lbf·in",
            "60 thou",
            lambda node, into: read_specs(node, figures.figures, into),
        ),
    }
    assert [sort for sort, _ in shown] == list(mends)
    for sort, said in shown:
        old, new, reader = mends[sort]
        assert old in example(sort)
        into = Problems()
        reader(parsed(example(sort).replace(old, new), into), into)
        assert problems(into) == [f"example:{said}"]


def test_figures_are_read_as_the_page_says() -> None:
    found = [row for row in rows(section("Quantities")) if row.head == "field in"]
    assert found
    for row in found:
        (written,) = row.names("written")
        assert str(read(written, unit=row.cells["field in"])) == row.cells["read as"]


def of_kind(kind: KindBlock) -> Mapping[str, Field]:
    """Return the fields of a step kind, those that hold steps too."""
    held = {
        name: Field(ListOf(Text()), needed=name not in kind.optional, default=())
        for name in kind.children
    }
    branches = {name: Field(MapOf(Text()), needed=True) for name in filter(None, [kind.branches])}
    return {**kind.block.fields, **held, **branches}


WHOLE_FILES = {
    "Engine": (engine_shape.DRAFT, groups._GROUP, groups._PLACE),
    "Figures": (figure_shape.FIGURE,),
    "Spec sheet": (specs.SPECS, specs._SPEC),
    "Answers": (answers.ANSWERS, answers._ENTRY),
}
TABLES: dict[str, list[Mapping[str, Field]]] = {
    **{title: [block.fields for block in blocks] for title, blocks in WHOLE_FILES.items()},
    "Steps": [step_fields.COMMON.fields],
}


def fits(row: Row, field: Field) -> bool:
    """Tell whether a row gives a field's default: needed, nothing, or a text that reads as it."""
    said = row.cells["default"]
    if field.needed or said == "needed":
        return field.needed and said == "needed"
    if said == "—":
        return not field.default
    return field.shape.read(Scalar(said, Mark("", 1, 1), plain=True), Problems()) == field.default


@pytest.mark.parametrize("title", TABLES)
def test_every_field_has_its_row_and_every_row_its_field(title: str) -> None:
    told = [row for row in rows(section(title)) if row.head == "field"]
    named = {name: row for row in told for name in row.names("field")}
    for fields in TABLES[title]:
        assert set(fields) <= set(named), title
    for row in told:
        for name in row.names("field"):
            found = [fields[name] for fields in TABLES[title] if name in fields]
            assert any(fits(row, field) for field in found), f"{title}: {name}"


def test_the_procedure_file_is_told_field_by_field() -> None:
    schema = procedure_schema(BLOCKS)
    told = list(rows(section("Procedure")))
    assert {name for row in told for name in row.names("field")} == set(schema["properties"])
    needed = {
        name for row in told for name in row.names("field") if row.cells["default"] == "needed"
    }
    assert needed == set(schema["required"])
    inner = schema["properties"]["phases"]["items"]["properties"]
    for name in (*inner, *schema["properties"]["expects"]["properties"]):
        assert f"`{name}`" in section("Procedure"), name


@pytest.mark.parametrize("kind", BLOCKS)
def test_every_step_kind_is_told_field_by_field(kind: str) -> None:
    headings = re.findall(r"^### (.*)$", PAGE, re.MULTILINE)
    (title,) = (heading for heading in headings if f"`{kind}`" in heading)
    told = [row for row in rows(section(title)) if "field" in row.cells]
    mine = [row for row in told if kind in (row.names("of") if row.head == "of" else [kind])]
    fields = of_kind(BLOCKS[kind])
    assert sorted(name for row in mine for name in row.names("field")) == sorted(fields)
    for row in mine:
        for name in row.names("field"):
            assert fits(row, fields[name]), f"{kind}: {name}"


def test_words_in_braces_marks_and_guards_are_told() -> None:
    told = {
        head: {name for row in rows(PAGE) if row.head == head for name in row.names(head)}
        for head in ("name", "mark", "guard")
    }
    counts = {f"count.{which}" for which in COUNTS}
    names = {f"{{{name}}}" for name in FIELDS | counts | {"figure.NAME"}}
    assert told == {"name": names, "mark": set(MARKS), "guard": set(GUARDS)}


def test_every_word_to_choose_from_is_told() -> None:
    for word in (*KINDS, *FORMS, *filter(None, UNITS), *VIEWS, *OVER, *WHERE, *BLOCKS):
        assert f"`{word}`" in PAGE, word
    for hole in HOLES:
        assert f"“{hole}”" in PAGE, hole


def codes() -> Iterator[str]:
    """Yield the codes by which answers are refused, as the program spells them."""
    for room in ("files", "guide", "units"):
        for file in sorted((SOURCE / room).rglob("*.py")):
            for call in ast.walk(ast.parse(file.read_text("utf-8"))):
                if not isinstance(call, ast.Call) or not call.args:
                    continue
                name = getattr(call.func, "id", getattr(call.func, "attr", ""))
                code = call.args[0]
                if name in {"stop", "rule", "UnitError"} and isinstance(code, ast.Constant):
                    yield str(code.value)


def test_every_code_of_a_refusal_is_told() -> None:
    head = "code of a refusal"
    told = [
        name for row in rows(section("Answers")) if row.head == head for name in row.names(head)
    ]
    assert len(told) == len(set(told))
    assert {*codes(), *(f"guard-{guard}" for guard in GUARDS)} <= set(told)
    assert set(told) == CODES
