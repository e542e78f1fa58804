"""The house: each room imports only from floors below, and start-up loads only what it needs."""

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from journal.helpers import build
from snugset import typed

ROOT = Path(__file__).parent.parent
SOURCE = ROOT / "src" / "snugset"
ENGINE = ROOT / "procedures" / "engines" / "barn-pump-six.yaml"
SPECS = ROOT / "demo" / "specs.yaml"
FLOORS: tuple[frozenset[str], ...] = (
    frozenset({"typed"}),
    frozenset({"__init__", "clock", "paths", "printable", "values"}),
    frozenset({"units"}),
    frozenset({"trade"}),
    frozenset({"files"}),
    frozenset({"plan"}),
    frozenset({"guide"}),
    frozenset({"journal"}),
    frozenset({"sheet"}),
    frozenset({"stored", "writing"}),
    frozenset({"bench"}),
    frozenset({"filling"}),
    frozenset({"opening"}),
    frozenset({"play", "plain", "revising", "schemas", "sheets", "shipped"}),
    frozenset({"screens", "serving"}),
    frozenset({"commands"}),
    frozenset({"cli"}),
    frozenset({"__main__"}),
)
PURE = ("units", "trade", "files", "plan", "guide", "sheet")
IMPURE = frozenset(
    {
        "os",
        "io",
        "pathlib",
        "sqlite3",
        "subprocess",
        "socket",
        "time",
        "random",
        "tempfile",
        "shutil",
    }
)


def _room(path: Path) -> str:
    inside = path.relative_to(SOURCE)
    return inside.parts[0].removesuffix(".py")


def _floor(room: str) -> int:
    found = [number for number, rooms in enumerate(FLOORS) if room in rooms]
    assert found, f"{room} stands on no floor"
    return found[0]


def _imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            yield node.module or ""


FILES = sorted(SOURCE.rglob("*.py"))


def test_there_is_a_house_to_look_at() -> None:
    assert {_room(path) for path in FILES} >= {"units", "trade", "files", "plan", "guide"}


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_a_room_imports_only_from_floors_below(path: Path) -> None:
    room = _room(path)
    for module in _imports(path):
        parts = module.split(".")
        if parts[0] != "snugset":
            continue
        other = parts[1] if len(parts) > 1 else "__init__"
        assert other == room or _floor(other) < _floor(room), f"{room} may not import {module}"


@pytest.mark.parametrize(
    "path",
    [p for p in FILES if _room(p) in PURE],
    ids=lambda p: str(p.relative_to(SOURCE)),
)
def test_the_core_knows_no_file_clock_or_screen(path: Path) -> None:
    for module in _imports(path):
        assert module.split(".")[0] not in IMPURE | {"textual", "rich"}, module


def test_the_units_are_held_against_a_library_and_need_none() -> None:
    assert not [p for p in FILES if "pint" in {m.split(".")[0] for m in _imports(p)}]


def test_only_serving_imports_the_web_server() -> None:
    web = {"aiohttp", "textual_serve"}
    rooms = {_room(p) for p in FILES if {m.split(".")[0] for m in _imports(p)} & web}
    assert rooms == {"serving"}


def test_only_the_page_imports_the_template_engine() -> None:
    for path in FILES:
        inside = path.relative_to(SOURCE).as_posix()
        if not inside.startswith("sheet/page/"):
            assert not {m.split(".")[0] for m in _imports(path)} & {"jinja2", "markupsafe"}, inside


def _loaded(code: str, data: Path = Path(os.devnull)) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys; print(*sys.modules)"],
        check=True,
        env={**os.environ, "SNUGSET_DATA": str(data)},
        capture_output=True,
        text=True,
    )
    return set(done.stdout.split())


@pytest.mark.parametrize(
    "code",
    [
        "import snugset.cli",
        "import snugset.bench, snugset.play, snugset.plain, snugset.opening",
        "import snugset.trade.calculators",
        "import snugset.sheet, snugset.sheets",
    ],
)
def test_neither_the_screen_nor_the_templates_are_loaded_by_importing(code: str) -> None:
    assert not _loaded(code) & {"textual", "rich", "jinja2"}


def test_only_values_knows_the_library_that_it_stands_for() -> None:
    users = {p.relative_to(SOURCE).as_posix() for p in FILES if "dataclasses" in set(_imports(p))}
    assert users == {"values.py"}


def test_words_for_the_type_checker_come_from_typed_where_it_has_them() -> None:
    users = set()
    for path in FILES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = {alias.name for alias in node.names}
                of = names if isinstance(node, ast.Import) else {node.module}
                if "typing" in of and names & {"typing", *typed.__all__}:
                    users.add(path.name)
    assert users == {"typed.py"}


def _ran(data: Path, *words: str) -> set[str]:
    """Run a command in a Python of its own; the modules that it loaded."""
    return _loaded(
        "import contextlib, io\n"
        "from snugset.cli import main\n"
        "with contextlib.redirect_stdout(io.StringIO()):\n"
        f"    assert main({words!r}) == 0\n",
        data,
    )


@pytest.mark.parametrize(
    "words",
    [("list",), ("list", "--json"), ("check", str(ENGINE), str(SPECS)), ("figure",)],
    ids=" ".join,
)
def test_a_command_that_is_soon_done_never_loads_typing(
    tmp_path: Path, words: tuple[str, ...]
) -> None:
    build(tmp_path / "builds" / "barn")
    assert "typing" not in _ran(tmp_path, *words)


@pytest.mark.parametrize(
    "code",
    [
        "import snugset.bench, snugset.opening, snugset.play",
        "import snugset.commands.checker, snugset.files.engine, snugset.files.specs",
    ],
)
def test_loading_the_guide_or_the_readers_leaves_out_what_is_slow_to_load(code: str) -> None:
    slow = {"dataclasses", "inspect", "statistics", "difflib", "textual"}
    assert not _loaded(code) & slow


def test_checking_an_engine_or_a_spec_sheet_loads_neither_guide_nor_journal(
    tmp_path: Path,
) -> None:
    loaded = _ran(tmp_path, "check", str(ENGINE), str(SPECS))
    rooms = {name.partition(".")[2].partition(".")[0] for name in loaded}
    assert not rooms & {"guide", "plan", "journal", "sheet", "screens"}
    assert not loaded & {"pathlib", "fractions", "urllib.parse", "ipaddress"}


def test_the_bench_loads_what_only_a_key_asks_for_when_it_is_asked() -> None:
    code = "import snugset.screens.app, snugset.screens.bench, snugset.screens.builds"
    late = {"snugset.sheet", "snugset.sheets", "snugset.plain", "snugset.filling", "jinja2"}
    assert not _loaded(code) & late
