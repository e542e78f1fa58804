"""The YAML parser's complaints in plain words."""

import yaml

from snugset.files.problems import Mark, quote
from snugset.files.tree import NESTED
from snugset.typed import Any, Literal
from snugset.values import dataclass


@dataclass(frozen=True, slots=True)
class _Rule:
    """What a complaint of either parser, the one in C or the one in Python, comes down to."""

    context: str
    problem: str
    at: Literal["start", "end"]
    """The place to mend: where the parser began with the thing, or where it gave up."""
    words: str


_LINE_UP = "give the fields of one group the same indent"
_RULES = (
    _Rule("", "nesting depth", "end", NESTED),
    _Rule(
        "", "cannot start any token", "end", "a text may not begin with {here}; put it in quotes"
    ),
    _Rule("quoted scalar", "end of stream", "start", "a quote opens here and is never closed"),
    _Rule("quoted scalar", "separator", "start", "a quote opens here and is never closed"),
    _Rule("quoted scalar", "", "end", "“\\” begins nothing known here; write it as “\\\\”"),
    _Rule(
        "flow sequence", "", "start", "a list opens here; check its commas and that “]” closes it"
    ),
    _Rule(
        "flow mapping", "", "start", "a group opens here; check its commas and that “}” closes it"
    ),
    _Rule("flow node", "", "end", "a value is missing here; write it, or take out a comma"),
    _Rule("simple key", "", "start", "a “:” is missing after this name; write it as “name: value”"),
    _Rule("alias", "", "end", "a text may not begin with “*”; put it in quotes"),
    _Rule("anchor", "", "end", "a text may not begin with “&”; put it in quotes"),
    _Rule("tag", "", "start", "a text may not begin with “!”; put it in quotes"),
    _Rule("directive", "", "start", "a line may not begin with “%”; take it out"),
    _Rule("block scalar", "", "end", "the text after “|” or “>” begins in the next line"),
    _Rule(
        "block collection",
        "",
        "end",
        "this does not line up with the list above; begin it with “- ” at the same indent",
    ),
    _Rule(
        "block mapping",
        "",
        "end",
        f"this does not fit under the lines above; {_LINE_UP} and put whole texts in quotes",
    ),
    _Rule("block node", "", "end", "a text may not begin with {here}; put it in quotes"),
    _Rule("", "document start", "end", "something stands after the end; take it out"),
    _Rule("", "", "end", "this cannot be read; check the indent, the quotes and the brackets"),
)


def explain(error: yaml.YAMLError, text: str, file: str) -> tuple[Mark, str]:
    """Return where a file stops being YAML, and a sentence that says what to mend."""
    context = str(getattr(error, "context", None) or "")
    problem = str(getattr(error, "problem", None) or "")
    began, gave_up = getattr(error, "context_mark", None), getattr(error, "problem_mark", None)
    if "mapping values" in problem:
        return _second_colon(gave_up, text, file)
    rule = next(rule for rule in _RULES if rule.context in context and rule.problem in problem)
    mark, rest = _place(began if rule.at == "start" and began else gave_up, text, file)
    if rest.startswith("\t"):
        return mark, "a tab stands here; indent with spaces"
    return mark, rule.words.replace("{here}", quote(rest[:1]) if rest else "a line's end")


def _second_colon(at: Any, text: str, file: str) -> tuple[Mark, str]:  # noqa: ANN401 -- either's mark
    mark, _ = _place(at, text, file)
    before = text.split("\n")[mark.line - 1][: mark.column - 1]
    if ": " in before:
        return mark, "a second “:” stands in this line; put the text after the first in quotes"
    return mark, f"this line does not fit under the one above; {_LINE_UP} and write “:” after each"


def _place(at: Any, text: str, file: str) -> tuple[Mark, str]:  # noqa: ANN401
    """Return a parser's mark as a place that is in the text, and the line from there on."""
    lines = text.split("\n")
    line = min(at.line, len(lines) - 1) if at else 0
    column = min(at.column, len(lines[line])) if at else 0
    return Mark(file, line + 1, column + 1), lines[line][column:]
