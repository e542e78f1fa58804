"""The line-by-line front end: the same guide without a screen."""

import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import datetime

from snugset.bench import Bench
from snugset.guide.address import AddressError, addressed
from snugset.guide.ask import progress, prompt
from snugset.guide.people import initials
from snugset.guide.prompt import Prompt
from snugset.guide.ruling import Decision, Refusal
from snugset.guide.state import State
from snugset.guide.undoing import undoing
from snugset.journal.errors import JournalError
from snugset.plain.aside import aside, wrapped
from snugset.plan.plan import Plan
from snugset.printable import printable

Ask = Callable[[str], str]
"""Shows a cue and gives the line typed; EOFError ends the sitting."""
Show = Callable[[str], None]
_LONGEST = 4 * 1024 * 1024
"""Characters of one line from a pipe or a file; no answer is nearly as long."""
ONCE_MORE = "Type back once more to take it back; anything else leaves it."


class EndlessLine(Exception):  # noqa: N818 - it is what came in
    """What is read in place of a keyboard is no lines of text."""


def render(asked: Prompt, done: int, known: int, who: str = "") -> Iterator[str]:
    """Give a prompt as lines of plain text; `who` answers it, where more than one works here."""
    yield ""
    yield f"── {asked.phase} · {asked.address} · {done} of {known} {f'· {who} ' if who else ''}"
    yield from (wrapped(f"Waiting — {held}") for held in asked.waiting)
    yield wrapped(asked.words)
    if asked.people > 1:
        yield wrapped(f"{asked.people} people.", "  ")
    yield from (wrapped(f"Caution: {text}", "  ! ") for text in asked.caution)
    if asked.tools:
        yield wrapped(f"Tools: {', '.join(asked.tools)}", "  ")
    yield from (wrapped(fact, "  ") for fact in asked.facts)
    if asked.choices and asked.asks == "choice":
        yield wrapped(
            "  ".join(f"{number} {word}" for number, word in enumerate(asked.choices, 1)), "  "
        )


def standing(plan: Plan, state: State, moment: datetime) -> Iterator[str]:
    """Give what is asked of a build as lines, for somebody who looks on."""
    asked = prompt(plan, state, moment)
    if asked is None:
        yield "The build is finished."
        return
    counted = progress(plan, state, moment)
    yield from render(asked, counted.done, counted.known)


def cue(asked: Prompt) -> str:
    """Give what stands before the cursor: the unit, and what Enter takes."""
    proposal = f"[{asked.proposal}] " if asked.proposal else ""
    unit = f"{asked.unit} " if asked.unit else ""
    word = {"tick": "Enter when done", "count": "how many", "wait": "arrived"}.get(asked.asks, "")
    return f"{' '.join(part for part in (word, unit.strip(), proposal.strip()) if part)} > "


def told(outcome: Decision | Refusal) -> Iterator[str]:
    """Give what an answer came to, as lines."""
    if isinstance(outcome, Decision):
        yield from (wrapped(line, "  ✓ " if not outcome.code else "  ✗ ") for line in outcome.said)
        return
    yield wrapped(outcome.words, "  ✗ ")
    for text in outcome.suggest:
        yield wrapped(f"type: {text}", "      ")
    if outcome.overridable:
        yield "      or go on: the same answer ! and why"


def sit(bench: Bench, ask: Ask, show: Show, *, patient: bool = False) -> None:
    """Ask and answer until the build is finished, `quit` is typed, or the input ends.

    JournalError when an answer cannot be kept; a `patient` sitting, with somebody there, says so,
    holds on to what was typed, and raises it only when it is left like that.
    """
    shown = warned = -1
    kept_back: tuple[str, JournalError] | None = None
    while True:
        with suppress(JournalError):  # the answer that is refused for it will say so
            bench.notice()
        asked = bench.prompt()
        if asked is None:
            show(wrapped("The build is finished. See it whole: snugset sheet"))
            return
        if shown != asked.sequence:
            counted = progress(bench.plan, bench.state, bench.clock())
            for line in render(asked, counted.done, counted.known, _who(bench)):
                show(line)
            shown = asked.sequence
        try:
            typed = ask(cue(asked)).strip()
        except EOFError:
            typed = "quit"
        if typed.lower() == "quit":
            if kept_back:
                raise kept_back[1]
            return
        if kept_back and not typed:
            typed = kept_back[0]
        if (lines := aside(typed, asked, bench)) is not None:
            for line in lines:
                show(line)
            continue
        whole = typed
        try:
            at, typed = addressed(typed)
        except AddressError as error:
            show(wrapped(str(error), "  ✗ "))
            continue
        if typed.lower() == "back" and warned != bench.state.sequence:
            coming = undoing(bench.plan, bench.records, bench.state, bench.clock())
            if coming.metal:
                warned = bench.state.sequence
                for line in (*coming.lines, ONCE_MORE):
                    show(wrapped(line, "  ! "))
                continue
        try:
            outcome = bench.say(typed, at=at)
        except JournalError as error:
            if not patient:
                raise
            kept_back = (whole, error)
            show(wrapped(f"Not kept: {error.message}.", "  ✗ "))
            show(
                wrapped(
                    f"Enter tries {whole and f'“{whole}” '}again; copy FILE copies the build.",
                    "      ",
                )
            )
            continue
        kept_back = None
        for line in told(outcome):
            show(line)


def _who(bench: Bench) -> str:
    """Give the initials of who answers, where more than one person is on record."""
    short = initials((*bench.state.people, bench.person))
    return short[bench.person] if len(set(short.values())) > 1 else ""


def terminal(bench: Bench) -> None:
    """Sit at this process's own terminal or pipe; what is shown there never drives it."""

    def show(text: str) -> None:
        print(*map(printable, text.split("\n")), sep="\n")

    patient = sys.stdin.isatty()
    if patient:
        with suppress(ImportError):  # line editing, where this Python has it
            import readline  # noqa: F401, PLC0415 - importing it is what turns it on
    read = input if patient else _piped
    sit(bench, lambda asked: read(printable(asked)), show, patient=patient)
    sys.stdout.flush()


def _piped(asked: str) -> str:
    """Read a line as `input` does, but no more of one without end; EOFError, EndlessLine."""
    print(asked, end="", flush=True)
    line = sys.stdin.readline(_LONGEST)
    if not line:
        raise EOFError
    if len(line) == _LONGEST and not line.endswith("\n"):
        raise EndlessLine
    return line.removesuffix("\n")
