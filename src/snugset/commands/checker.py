"""Checks files: each by itself, and those that belong together against one another.

What reads one sort of file is loaded when there is one: to check an engine file, nothing of the
guide is needed.
"""

import os
from collections.abc import Callable

from snugset.files.partial import Left, second_look, tell
from snugset.files.problems import Mark, Problem, Problems, an, quote
from snugset.files.tabs import check_tabs
from snugset.files.tree import Fields, Node, parse
from snugset.files.versions import sort_of
from snugset.typed import TYPE_CHECKING, TypeVar
from snugset.values import dataclass, replace

if TYPE_CHECKING:
    from snugset.files.answers import Answers
    from snugset.files.engine import Engine
    from snugset.files.shared import Shared
    from snugset.files.specs import SpecSheet
    from snugset.files.steps import Procedure, Step

T = TypeVar("T")
_MOST = 2 * 1024 * 1024 + 1
"""Bytes taken from a file; the reader refuses one that has so many."""


@dataclass(frozen=True, slots=True)
class _Taken:
    """A file that was read as far as it goes by itself."""

    sort: str
    """A key of `FORMS`; empty where it does not say."""
    node: Node | None
    engine: "Engine | None" = None
    procedure: "Procedure | None" = None
    shared: "Shared | None" = None
    left: Left = Left()
    """What was taken out of it because it has a mistake."""


class Checker:
    """Collects the mistakes of all files that it takes."""

    def __init__(self) -> None:
        self.texts: dict[str, str] = {}
        """By the name that mistakes are told with."""
        self._into = Problems()
        self._taken: dict[str, _Taken] = {}
        self._given: list[_Taken] = []
        self._paired: list[_Taken] = []

    def take(self, file: str) -> None:
        """Take a file and those that it names; OSError if it cannot be read."""
        self._given.append(self._take(file))

    def problems(self) -> tuple[Problem, ...]:
        """Give every mistake by file, line and column, once all files are taken."""
        procedures = [one for one in self._given if one.sort == "procedure"]
        if len(procedures) == 1:
            for other in self._given:
                self._hold(procedures[0], other)
            engines = [one.engine for one in self._given if one.engine is not None]
            if len(engines) == 1:
                self._rule(procedures[0], engines[0])
        for one in self._taken.values():
            if one.sort == "specs" and not any(one is paired for paired in self._paired):
                self._read_specs(one, None)
        return tuple(dict.fromkeys(self._into.items))

    def _take(self, path: str) -> _Taken:
        where = os.path.realpath(path)
        if where not in self._taken:
            with open(path, "rb") as source:  # noqa: PTH123 - what opens by a Path loads for long
                content = source.read(_MOST)
            self.texts[path] = content.decode("utf-8", "replace")
            node = parse(content, path, self._into)
            if node is not None:
                check_tabs(self.texts[path], path, self._into)
            sort = None if node is None else sort_of(node, self._into)
            taken = _Taken(sort or "", node)
            self._taken[where] = taken
            self._taken[where] = self._read(taken, path)
        return self._taken[where]

    def _read(self, taken: _Taken, path: str) -> _Taken:
        """Read what a file says by itself; a spec sheet waits for the procedure it may go with."""
        node = taken.node
        if node is None:
            return taken
        if taken.sort == "engine":
            from snugset.files.engine import read_engine  # noqa: PLC0415
            from snugset.files.engine_sizes import check_sizes  # noqa: PLC0415

            def sized(node: Node, into: Problems) -> "Engine | None":
                engine = read_engine(node, into)
                if engine is not None:
                    check_sizes(engine, node, into)
                return engine

            engine, left = self._whole_or_rest(taken, sized)
            return replace(taken, engine=engine, left=left)
        if taken.sort == "procedure":
            from snugset.files.procedure import read_procedure  # noqa: PLC0415
            from snugset.files.shared import names_in  # noqa: PLC0415
            from snugset.guide.kinds import BLOCKS  # noqa: PLC0415
            from snugset.plan.check import check_procedure  # noqa: PLC0415
            from snugset.plan.written import check_written  # noqa: PLC0415

            beside = {name: self._beside(path, name) for name in names_in(node)}
            shared = {name: one.shared for name, one in beside.items() if one is not None}
            before: dict[int, Step] = {}

            def both(node: Node, into: Problems) -> "Procedure | None":
                procedure = read_procedure(node, BLOCKS, into, shared, before)
                if procedure is not None:
                    check_procedure(procedure, into)
                    check_written(procedure, into)
                return procedure

            found, left = self._whole_or_rest(taken, both, *filter(None, beside.values()))
            return replace(taken, procedure=found, left=left)
        if taken.sort == "steps":
            from snugset.files.shared import read_shared  # noqa: PLC0415
            from snugset.guide.kinds import BLOCKS  # noqa: PLC0415
            from snugset.plan.check import check_shared  # noqa: PLC0415

            seen: dict[int, Step] = {}

            def with_names(node: Node, into: Problems) -> "Shared | None":
                shared = read_shared(node, BLOCKS, into, seen)
                if shared is not None:
                    check_shared(shared, into)
                return shared

            groups, left = self._whole_or_rest(taken, with_names)
            return replace(taken, shared=groups, left=left)
        if taken.sort == "answers":
            from snugset.files.answers import read_answers  # noqa: PLC0415

            answers = read_answers(node, self._into)
            self._follow(node, path, answers)
        return taken

    def _whole_or_rest(
        self, taken: _Taken, read: Callable[[Node, Problems], T | None], *others: _Taken
    ) -> tuple[T | None, Left]:
        """Read a file; where it has a mistake, what is left of it without that.

        What was taken out of `others`, which it uses, is unknown in it too.
        """
        left = Left()
        for other in others:
            left = left.with_(other.left)
        if taken.node is None:
            return None, left
        first = Problems()
        found = read(taken.node, first)
        tell(first, left, self._into, whole=True)
        if found is not None or first.full:  # of so many, none behind them is told
            return found, left
        marks = {problem.mark for problem in first.items}
        return second_look(taken.node, taken.sort, marks, read, self._into, left)

    def _beside(self, path: str, name: str) -> _Taken | None:
        """Take a file of shared groups that a procedure names; None if it is not there."""
        from pathlib import Path  # noqa: PLC0415

        file = Path(path).parent / "shared" / f"{name}.yaml"
        try:
            return self._take(str(file)) if file.is_file() else None
        except OSError:
            return None

    def _follow(self, node: Node, path: str, answers: "Answers | None") -> None:
        """Read the files that an answers file names, and hold them together."""
        named = {sort: self._named(node, path, sort) for sort in ("procedure", "engine", "specs")}
        procedure = named["procedure"]
        if procedure is not None:
            for other in named.values():
                if other is not None:
                    self._hold(procedure, other)
            if answers is not None:
                self._addresses(answers, procedure, named["engine"])

    def _addresses(self, answers: "Answers", one: _Taken, other: _Taken | None) -> None:
        """Hold the addresses and codes of an answers file against what there is."""
        from snugset.files.answers import Say  # noqa: PLC0415
        from snugset.guide.codes import CODES  # noqa: PLC0415
        from snugset.plan.addresses import Addresses  # noqa: PLC0415

        trial = Problems()
        engine = other.engine if other is not None else None
        there = None if one.procedure is None else Addresses(one.procedure, engine)
        for entry in answers.answers:
            if trial.full:
                break
            if not isinstance(entry, Say):
                continue
            wrong, name = ("", "") if there is None else there.wrong(entry.at)
            if wrong:
                trial.add(entry.mark, f"{entry.at}: {wrong}", (name,))
            if entry.refused and entry.refused not in CODES:
                near = trial.near(entry.refused, CODES) or "; docs/files.md has them"
                trial.add(entry.mark, f"{quote(entry.refused)} is no code of a refusal{near}", ())
        left = one.left.with_(other.left) if other is not None else one.left
        tell(trial, left, self._into)

    def _named(self, node: Node, path: str, sort: str) -> _Taken | None:
        """Take the file that a field names; None, with a problem there, if that is none."""
        from pathlib import Path  # noqa: PLC0415

        if not isinstance(node, Fields) or sort not in node.fields:
            return None
        value = node.fields[sort][1]
        name = getattr(value, "text", "")
        file = Path(os.path.normpath(Path(path).parent / name))
        wrong = "is no file"
        try:
            if file.is_file():
                taken = self._take(str(file))
                if taken.sort in (sort, ""):
                    return taken
                wrong = f"is a file of the sort {taken.sort}"
        except OSError as error:
            wrong = f"cannot be read ({error.strerror})"
        self._into.add(
            value.mark,
            f"{quote(name)} {wrong}; {an(sort)} file belongs here, its path from this file's "
            "folder",
        )
        return None

    def _hold(self, one: _Taken, other: _Taken) -> None:
        """Hold an engine or a spec sheet against the procedure that it goes with."""
        if one.procedure is None:
            return
        if other.sort == "specs":
            self._read_specs(other, one)
        elif other.engine is not None and other.node is not None:
            from snugset.plan.check import check_against  # noqa: PLC0415
            from snugset.plan.written import check_written_for  # noqa: PLC0415

            mark: Mark = other.node.mark
            trial = Problems()
            check_against(one.procedure, other.engine, mark, trial)
            check_written_for(one.procedure, other.engine, trial)
            tell(trial, one.left.with_(other.left), self._into)

    def _rule(self, one: _Taken, engine: "Engine") -> None:
        """Answer each spec sheet's prompts, as a build begun with it would."""
        sheets = [other for other in self._given if other.sort == "specs" and other.node]
        if one.procedure is None or self._into.items or not sheets:
            return
        from snugset.files.specs import read_specs  # noqa: PLC0415
        from snugset.opening import broken_rules  # noqa: PLC0415
        from snugset.plan.plan import compile_plan  # noqa: PLC0415

        plan = compile_plan(one.procedure, engine)
        for other in sheets:
            sheet = (
                read_specs(other.node, plan.procedure.figures, Problems()) if other.node else None
            )
            for problem in broken_rules(plan, sheet) if sheet else ():
                self._into.add(problem.mark, problem.text)

    def _read_specs(self, sheet: _Taken, of: _Taken | None) -> None:
        from snugset.files.specs import read_specs  # noqa: PLC0415

        if sheet.node is not None:
            self._paired.append(sheet)
            figures = of.procedure.figures if of is not None and of.procedure else None

            def read(node: Node, into: Problems) -> "SpecSheet | None":
                return read_specs(node, figures, into)

            self._whole_or_rest(sheet, read, *((of,) if of is not None else ()))
