"""check: every mistake in the files given."""

from snugset.commands.declare import JSON, Argument, Command, Given, Place


def _run(given: Given, _place: Place) -> int:
    from snugset.commands import checking  # noqa: PLC0415 - loads the readers

    return checking.check(given.many("FILE"), json=given.has("--json"))


COMMAND = Command(
    "check",
    "every mistake in engine, procedure, steps, spec and answers files",
    _run,
    (
        Argument("FILE", "told apart by their line “snugset:”", needed=True, many=True),
        JSON,
    ),
    notes=(
        "A line for each mistake, file:line:column: what is wrong, and the likely fix. Exit 1 if "
        "there is one. With one procedure among the files, the engines and spec sheets given are "
        "held against it too; the files that an answers file names are read with it."
    ),
)
