"""JSON Schemas: current, sound, and true of every file that is shipped."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from snugset.schemas import schemas, written

ROOT = Path(__file__).parents[2]
SHIPPED = sorted(
    file for folder in ("procedures", "demo") for file in (ROOT / folder).rglob("*.yaml")
)
PAGE = (ROOT / "docs" / "files.md").read_text("utf-8")


class Core(yaml.CSafeLoader):
    """Reads plain texts as editors do, by YAML 1.2: yes, dates and 1:30 stay texts."""

    yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}  # noqa: RUF012


for tag, form, first in (
    ("bool", r"^(?:true|false)$", "tf"),
    ("null", r"^(?:~|null|)$", ["~", "n", ""]),
    ("int", r"^[-+]?[0-9]+$", "-+0123456789"),
    ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)$", "-+.0123456789"),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(form), list(first))


def wrong(text: str) -> list[str]:
    """Give what a schema says of a file, chosen by its first line as an editor is told to."""
    body: Any = yaml.load(text, Core)  # noqa: S506 - a safe loader
    sort = body["snugset"].partition("/")[0]
    validator = Draft202012Validator(schemas()[sort])
    return [error.message for error in validator.iter_errors(body)]


@pytest.mark.parametrize("name", written())
def test_a_committed_schema_is_current(name: str) -> None:
    committed = (ROOT / "docs" / "schemas" / name).read_text("utf-8")
    assert committed == written()[name], "write them: python -m snugset.schemas docs/schemas"


@pytest.mark.parametrize("sort", schemas())
def test_a_schema_is_a_schema(sort: str) -> None:
    Draft202012Validator.check_schema(schemas()[sort])


@pytest.mark.parametrize("file", SHIPPED, ids=lambda f: str(f.relative_to(ROOT)))
def test_what_is_shipped_holds_to_its_schema(file: Path) -> None:
    assert not wrong(file.read_text("utf-8"))


def test_the_examples_of_the_reference_hold_to_their_schemas() -> None:
    found = re.findall(r"^```yaml\n(snugset:.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)
    assert len(found) == 5
    for text in found:
        assert not wrong(text), text


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("say: ", "sya: "),
        ("- do: cover-gasket", "- dou: cover-gasket"),
        ("form: rising", "form: raising"),
        ("unit: lbf·in", "unit: lbf.in"),
        ("group: cover", "group: [cover]"),
        ("title: Cover", "name: Cover"),
    ],
)
def test_a_mistake_is_seen_by_an_editor(old: str, new: str) -> None:
    (text,) = re.findall(r"^```yaml\n(snugset: procedure.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)
    assert old in text
    assert wrong(text.replace(old, new, 1))
