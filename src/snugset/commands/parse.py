"""Reading a command line by the declaration of its command."""

from collections.abc import Iterable, Sequence

from snugset.commands.declare import TOP, Argument, Command, Given, UsageError

SHORT = {"-h": "--help", "-o": "--out"}


def command_word(words: Sequence[str], names: Sequence[str]) -> tuple[str, list[str]]:
    """Give the command's name, empty where there is none, and the other words.

    UsageError for a word that is no command.
    """
    rest = list(words)
    at = 0
    while at < len(rest) and rest[at].startswith("-"):
        at += 2 if any(rest[at] == top.name and top.value for top in TOP) else 1
    if at >= len(rest):
        return "", rest
    word = rest.pop(at)
    if word not in names:
        raise UsageError(
            f"there is no command {quote(word)}{near(word, names)}; see: snugset --help"
        )
    return word, rest


def parse(command: Command, words: Sequence[str]) -> Given:
    """Read the words after a command; UsageError says what is wrong and how it is typed.

    What is missing is not missed where help is asked for.
    """
    options = {a.name: a for a in (*command.arguments, *TOP) if a.is_option}
    found: dict[str, tuple[str, ...]] = {}
    placed: list[str] = []
    left = list(words)
    while left:
        word = left.pop(0)
        if word == "--":
            placed += left
            break
        if not word.startswith("-") or word == "-":
            placed.append(word)
            continue
        long = SHORT.get(word, word)
        name, equals, value = (long if long in options else word).partition("=")
        if name not in options:
            known = near(name, options)
            raise UsageError(
                f"snugset {command.name} has no option {quote(name)}{known}; {_see(command)}"
            )
        if name in found:
            raise UsageError(f"{name} is there twice; leave one out")
        found[name] = _value(command, options[name], left, value if equals else None)
    found |= _by_place(command, placed)
    if "--help" not in found and "--version" not in found:
        for argument in command.arguments:
            if argument.needed and argument.name not in found:
                raise UsageError(f"{argument.name} is missing; type: {command.usage}")
    return Given(found)


def _value(
    command: Command, option: Argument, left: list[str], value: str | None
) -> tuple[str, ...]:
    if not option.value and not option.choices:
        if value is not None:
            raise UsageError(f"{option.name} takes no value; leave out “={value[:20]}”")
        return ()
    if value is None:
        if not left or left[0].startswith("--"):
            raise UsageError(f"{option.name} needs a value; type: {option.typed}")
        value = left.pop(0)
    if not value.strip():
        raise UsageError(f"{option.name} is empty; type: {option.typed}")
    if option.choices and value not in option.choices:
        raise UsageError(
            f"{option.name} is {_either(option.choices)}, not {quote(value)}"
            f"{near(value, option.choices)}; type: {command.usage}"
        )
    return (value,)


def _either(choices: tuple[str, ...]) -> str:
    *most, last = choices
    return f"{', '.join(most)} or {last}"


def _by_place(command: Command, placed: list[str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    left = list(placed)
    for argument in command.arguments:
        if argument.is_option or not left:
            continue
        taken = left if argument.many else left[:1]
        found[argument.name] = tuple(taken)
        left = left[len(taken) :]
    if left:
        raise UsageError(f"{quote(left[0])} is one word too many; type: {command.usage}")
    for name, (first, *_) in found.items():
        if not first.strip():
            raise UsageError(f"{name} is empty; type: {command.usage}")
    return found


def quote(text: str) -> str:
    """Quote what was typed, cut to a readable length."""
    return f"“{text[:60]}”"


def near(word: str, words: Iterable[str]) -> str:
    """Give `` (did you mean “x”?)`` for the nearest of some words, or nothing."""
    from difflib import get_close_matches  # noqa: PLC0415 - needed for a slip only

    found = get_close_matches(word[:60], list(words), n=1)
    return f" (did you mean “{found[0]}”?)" if found else ""


def _see(command: Command) -> str:
    return f"see: snugset {command.name} --help"
