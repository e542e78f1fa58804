"""What is done and what is to come, step by step."""

from textual.content import Content

from snugset.screens.standing import Standing
from snugset.screens.words import around, joined, short, text


def view(standing: Standing, here: str, width: int, height: int) -> Content:
    """Give the phases with their steps about the one asked now, as many lines as fit."""
    lines: list[Content] = []
    at = 0
    shown = ""
    for phase, step in standing.steps:
        if phase and phase != shown:
            lines.append(text(short(phase, width), "bold"))
            shown = phase
        current = step.title == here
        if current:
            at = len(lines)
        sign = "▸" if current else "✓" if step.done == step.known else "·"
        many = f" {step.done}/{step.known}" if step.known > 1 else ""
        line = f" {sign} {short(step.title, width - 3 - len(many))}{many}"
        lines.append(text(line, "bold reverse" if current else ""))
    return joined(around(lines, at, height))
