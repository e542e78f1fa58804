"""What is done and what is to come, step by step."""

from textual.content import Content

from snugset.screens.standing import Standing
from snugset.screens.words import arrowed, joined, short, text, window


def view(standing: Standing, here: str, width: int, height: int) -> Content:
    """Give the phases with their steps about the one asked now, as many lines as fit."""
    rows: list[tuple[str, str]] = []
    at = 0
    shown = ""
    for phase, step in standing.steps:
        if phase and phase != shown:
            rows.append((phase, "bold"))
            shown = phase
        current = step.title == here
        if current:
            at = len(rows)
        sign = "▸" if current else "✓" if step.done == step.known else "·"
        many = f" {step.done}/{step.known}" if step.known > 1 else ""
        title = step.title.removeprefix("spec.")  # its phase says so
        line = f" {sign} {title}{many}"
        if len(line) > width:
            line = f" {sign} {short(title, width - 3 - len(many))}{many}"
        rows.append((line, "bold reverse" if current else ""))
    lines = window(len(rows), at, height)
    drawn = [text(short(rows[number][0], width), rows[number][1]) for number in lines]
    return joined(arrowed(drawn, lines, len(rows)))
