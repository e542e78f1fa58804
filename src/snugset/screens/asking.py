"""A prompt as it stands on the bench: its words first and large, then what belongs to it."""

from textual.content import Content

from snugset.guide.prompt import Prompt
from snugset.screens.words import text

CUES = {"tick": "done: Enter ▸", "count": "how many ▸", "wait": "arrived: F10 ▸", "text": "▸"}
FINISHED = "The build is finished."


def parts(asked: Prompt | None, build: str) -> list[Content]:
    """Give a prompt's parts, its words first."""
    if asked is None:
        return [
            text(FINISHED, "bold"),
            text(""),
            text(f"Its sheet, from the shell: snugset sheet {build} --as md"),
            text("F3 takes back the last answer, F9 shows all of them, Esc leaves."),
        ]
    found = [text(asked.words, "bold")]
    for group, style in (
        (choices(asked), "bold"),
        ([f"Waiting: {held}" for held in asked.waiting], "italic"),
        ([f"{asked.people} people." if asked.people > 1 else "", *asked.facts], ""),
        ([f"! {caution}" for caution in asked.caution], "bold $warning"),
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
    return CUES.get(asked.asks, f"{asked.unit} ▸" if asked.unit else "▸")


def why(asked: Prompt) -> list[Content]:
    """Give the reason of a step, its cautions and tools."""
    found = [text(asked.why or "No reason is given for this step.")]
    found += [text(f"! {caution}", "bold $warning") for caution in asked.caution]
    if asked.tools:
        found.append(text(f"Tools: {', '.join(asked.tools)}"))
    return found
