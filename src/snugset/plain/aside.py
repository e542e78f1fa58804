"""The words that are no answer: they show something, and keep nothing."""

import shlex
import textwrap
from collections.abc import Callable, Iterator, Mapping

from snugset.bench import Bench
from snugset.files.engine import Engine
from snugset.guide.prompt import Prompt
from snugset.journal.errors import JournalError
from snugset.paths import typed_path

WIDTH = 78
HELP = """\
Enter            done; or takes what stands in [brackets]
a figure, a word what is asked for; a figure without a unit takes the one that is shown
none             I don't have that figure
back             takes back the newest answer (the record, not the engine); where something
                 was done to the engine it says so first, and back again takes it back
skip WHY         leaves this step undone, with the reason on the build sheet
note TEXT        keeps a remark here
photo PATH WORDS copies a photograph into the build, with what it shows
person NAME      somebody else goes on; their initials stand on each answer
ANSWER ! WHY     goes on against the rule that just stopped it, with a reason
again READING    measures a finished reading anew (@ADDRESS again READING)
arrived          the parts are there, or the wait is over
stage, stage 5   all of this torque stage is done; five of it are so far
@ADDRESS ANSWER  answers at another place, such as @gap@1I#1 again 35
why              why this step, and its cautions again
list             what is done and what is to come
crank            where the crank stands, what may be set there, what opens or closes next
figure           the calculators; figure thread thread=7/16-20 works one out
copy FILE        writes the build as it was kept into a new file, on another disk
quit             leave; everything answered is kept"""


def wrapped(text: str, indent: str = "") -> str:
    """Fold a text to the width of the narrowest terminal."""
    return textwrap.fill(
        text, WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False
    )


def aside(typed: str, asked: Prompt, bench: Bench) -> Iterator[str] | None:
    """Give what a word shows, as lines; None where what is typed is an answer.

    Where any words are an answer, as a source is, a line such as “figure 4, p. 2” is one too.
    """
    word, _, rest = typed.partition(" ")
    word, rest = word.lower(), rest.strip()
    if rest and word in _WITH_TEXT and asked.asks != "text":
        return _WITH_TEXT[word](bench, rest)
    if rest or word not in _ALONE:
        return None
    return _ALONE[word](bench, asked)


def _why(_bench: Bench, asked: Prompt) -> Iterator[str]:
    yield wrapped(asked.why or "No reason is given for this step.", "  ")
    yield from (wrapped(f"Caution: {text}", "  ! ") for text in asked.caution)


def _help(_bench: Bench, _asked: Prompt) -> Iterator[str]:
    yield HELP


def _list(bench: Bench, _asked: Prompt) -> Iterator[str]:
    yield from listing(bench)


def listing(bench: Bench) -> Iterator[str]:
    """Give each step with how many of its places are closed."""
    from snugset.guide.walk import occurrences  # noqa: PLC0415 - only for this word

    counts: dict[tuple[str, str], list[int]] = {}
    for found in occurrences(bench.plan, bench.state, bench.clock()):
        phase = bench.plan.phase(found.step.id)
        pair = counts.setdefault((phase, found.step.id), [0, 0])
        pair[0] += not found.open
        pair[1] += 1
    phase_shown = None
    for (phase, step), (done, known) in counts.items():
        if phase and phase != phase_shown:
            yield phase
            phase_shown = phase
        sign = "✓" if done == known else "·"
        yield f"  {sign} {step}" + (f" {done}/{known}" if known > 1 else "")


def _crank(bench: Bench, asked: Prompt) -> Iterator[str]:
    from snugset.guide.crank_now import crank_now  # noqa: PLC0415 - only for this word

    now = crank_now(bench.plan, bench.state, asked.address.step, asked.address.place)
    yield from (wrapped(line, "  ") for line in now.words)


def _calculators(_bench: Bench, _asked: Prompt) -> Iterator[str]:
    from snugset.trade.calculators import CALCULATORS  # noqa: PLC0415 - only for this word

    for one in CALCULATORS.values():
        yield textwrap.fill(
            f"{one.name}: {one.words}", WIDTH, initial_indent="  ", subsequent_indent="      "
        )
    yield wrapped("figure NAME says what one asks for.", "  ")


def _figure(bench: Bench, rest: str) -> Iterator[str]:
    yield from figured(bench.plan.engine, rest)


def figured(engine: Engine, rest: str) -> Iterator[str]:
    """Work out ``NAME KEY=VALUE…`` with what the engine knows, as lines; so is a mistake."""
    from snugset.files.known import known  # noqa: PLC0415 - only for this word
    from snugset.trade.asked import as_typed, asked  # noqa: PLC0415
    from snugset.trade.calculators import (  # noqa: PLC0415
        CALCULATORS,
        FigureError,
        figure,
        shown_with_doubt,
    )

    try:
        name, *words = shlex.split(rest)
        texts = dict(word.split("=", 1) for word in words)
    except ValueError:
        yield wrapped('Give each as key=value; one with a space as "key=17 thou".', "  ✗ ")
        return
    if name in CALCULATORS and not texts:
        one = CALCULATORS[name]
        yield from (
            wrapped(f"{each.key}: {each.words} · {asked(each)}", "  ") for each in one.inputs
        )
        yield wrapped(f"Such as: figure {name} {' '.join(as_typed(one))}", "  ")
        return
    wanted = {one.key for one in CALCULATORS[name].inputs} if name in CALCULATORS else set()
    had = {key: text for key, text in known(engine).items() if key in wanted}
    try:
        come = figure(name, {**had, **texts})
    except FigureError as error:
        yield wrapped(str(error), "  ✗ ")
        return
    yield from (wrapped(f"{k} {shown_with_doubt(v)}", "  = ") for k, v in come.outputs.items())
    yield from (wrapped(line, "    ") for line in come.working)
    yield wrapped(f"Source: {come.source}", "    ")


def _copy(bench: Bench, name: str) -> Iterator[str]:
    """Copy the build into a new file, and say what came of it."""
    target = typed_path(name).absolute()
    try:
        digest = bench.copy(target)
    except JournalError as error:
        yield wrapped(f"Not copied: {error.message}.", "  ✗ ")
    else:
        yield wrapped(f"Everything that was acknowledged is in {target}; digest {digest}.", "  ✓ ")
        yield from (wrapped(f"Not whole: {words}", "  ✗ ") for words in bench.spoiled())


_ALONE: Mapping[str, Callable[[Bench, Prompt], Iterator[str]]] = {
    "why": _why,
    "help": _help,
    "?": _help,
    "list": _list,
    "crank": _crank,
    "figure": _calculators,
}
_WITH_TEXT: Mapping[str, Callable[[Bench, str], Iterator[str]]] = {
    "copy": _copy,
    "figure": _figure,
}
