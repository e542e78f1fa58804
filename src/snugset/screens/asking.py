"""A prompt as it stands on the bench: its words first and large, then what belongs to it."""

from textual.content import Content

from snugset.guide.kinds.hold import BEGINS
from snugset.guide.prompt import Prompt
from snugset.screens.words import short, text

CUES = {"tick": "done: Enter ▸", "count": "how many ▸", "wait": "arrived: F10 ▸", "text": "▸"}
FINISHED = "The build is finished."


def first(asked: Prompt | None, build: str, width: int, *, whole: bool) -> list[Content]:
    """Give what comes first: the words, the choices, and the cautions in a line each.

    `whole` gives the cautions in full; else F2 shows what is left out of them.
    """
    if asked is None:
        return [
            text(FINISHED, "bold"),
            text(""),
            text("^S writes its build sheet as a page, and says where."),
            text(f"From the shell: snugset sheet {build} --as md"),
            text("F3 takes back the last answer, F9 shows all of them, Esc leaves."),
        ]
    found = [text(asked.words, "bold")]
    warned = [f"! {caution}" if whole else cautious(caution, width) for caution in asked.caution]
    for group, style in ((choices(asked), "bold"), (warned, "bold $warning")):
        shown = [text(words, style) for words in group]
        if shown:
            found += [text(""), *shown]
    return found


def cautious(caution: str, width: int) -> str:
    """Give a caution in one line; where it is cut, after a word, it says which key shows more."""
    line, rest = f"! {caution}", " … F2"
    if len(line) <= width:
        return line
    kept = short(f"{line} ", max(1, width - len(rest) + 1)).removesuffix("…")
    whole = kept if line[len(kept) :].startswith(" ") else kept.rpartition(" ")[0]
    return f"{(whole if len(whole) > 1 else kept).rstrip()}{rest}"


def detail(asked: Prompt | None) -> list[Content]:
    """Give what belongs to a prompt besides: waits, people, figures."""
    if asked is None:
        return []
    found: list[Content] = []
    for group, style in (
        ([f"Waiting for {held}" for held in asked.waiting], "italic"),
        ([f"{asked.people} people." if asked.people > 1 else "", *asked.facts], ""),
    ):
        shown = [text(words, style) for words in group if words]
        if shown:
            found += [text(""), *shown]
    return found


def words(asked: Prompt | None) -> Content:
    """Give only the words that must always be seen."""
    return text(FINISHED if asked is None else asked.words)


def choices(asked: Prompt) -> list[str]:
    """Give the choices with the digit that gives each."""
    if asked.asks != "choice":
        return []
    return [f"{number}  {choice}" for number, choice in enumerate(asked.choices, 1)]


def cue(asked: Prompt | None) -> str:
    """Give what stands before the cursor: what is asked, and in which unit."""
    if asked is None:
        return "finished ▸"
    if asked.asks == "choice":
        few = len(asked.choices)
        return f"1 to {few} ▸" if few < 10 else "which ▸"
    if asked.facts[:1] == (BEGINS,):
        return "begin: Enter ▸"
    return CUES.get(asked.asks, f"{asked.unit} ▸" if asked.unit else "▸")


def why(asked: Prompt) -> list[Content]:
    """Give the reason of a step, its cautions and tools."""
    found = [text(asked.why or "No reason is given for this step.")]
    found += [text(f"! {caution}", "bold $warning") for caution in asked.caution]
    if asked.tools:
        found.append(text(f"Tools: {', '.join(asked.tools)}"))
    return found
