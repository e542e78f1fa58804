"""What a prompt says where the procedure gives its step no words, by the step's kind."""

from collections.abc import Mapping

from snugset.files.problems import one_of
from snugset.files.steps import Step

_USUAL: Mapping[str, str] = {
    "torque": "Draw it to {setting}.",
    "tighten": "Draw it to the torque of this stage.",
    "torque-to": "Draw it to {figure}.",
    "angle": "Turn it on by {figure}.",
    "loosen": "Loosen it by {turns}.",
    "verify": "Give {figure} again, and watch what moves.",
    "accept": "See that it reaches {figure}.",
    "turn": "Bring number one to its compression dead centre, and prove it.",
    "hold": "Wait: {for_}.",
    "judge": "Judge the readings of this round.",
    "clay": "Measure the clay where it is thinnest.",
    "preload": "Read how deep the plunger sits.",
    "nut": "Turn the adjuster down from zero lash.",
}
"""Fields of the block in braces: a figure is shown with its value."""
_LASH = {"go-no-go": "Set the lash.", "measured": "Read the lash as it is."}


def usual_words(step: Step) -> str:
    """Give the words for a step without any, with names in braces still to be filled."""
    words = _words(step)
    return words if step.kind in _NOWHERE else f"{{place}}: {words}"


_NOWHERE = frozenset({"choose", "judge", "turn", "verify"})
"""Kinds that stand at no one place."""


def _words(step: Step) -> str:
    block = step.block
    named = step.id.replace("-", " ").replace(".", " ").capitalize()
    match step.kind:
        case "choose":
            return f"{named}: {one_of(step.children)}?"
        case "lash":
            return _LASH[getattr(block, "how", "go-no-go")]
        case "do" if getattr(block, "count", ""):
            return f"Count: {block.count}."  # type: ignore[attr-defined]
        case "read":
            return str(getattr(block, "ask", "")) or f"Read: {named.lower()}."
    found = _USUAL.get(step.kind, f"{named}.")
    for field in ("setting", "figure", "turns"):
        found = found.replace(f"{{{field}}}", f"{{figure.{getattr(block, field, '')}}}")
    return found.replace("{for_}", getattr(block, "for_", "") or named.lower())
