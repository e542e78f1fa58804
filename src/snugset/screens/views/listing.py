"""What is done and what is to come, step by step."""

from datetime import datetime

from textual.content import Content

from snugset.guide.state import State
from snugset.guide.walk import occurrences
from snugset.plan.plan import Plan


def view(plan: Plan, state: State, moment: datetime, here: str, height: int) -> Content:
    """Give the phases with their steps around the one asked now, as many lines as fit."""
    counts: dict[str, list[int]] = {}
    phases: dict[str, str] = {}
    for found in occurrences(plan, state, moment):
        pair = counts.setdefault(found.step.id, [0, 0])
        pair[0] += not found.open
        pair[1] += 1
        phases.setdefault(found.step.id, plan.phase(found.step.id))
    lines: list[Content] = []
    at = 0
    shown = ""
    for step, (done, known) in counts.items():
        phase = phases[step]
        if phase and phase != shown:
            lines.append(Content.styled(phase, "bold"))
            shown = phase
        current = step == here
        if current:
            at = len(lines)
        sign = "▸" if current else "✓" if done == known else "·"
        many = f" {done}/{known}" if known > 1 else ""
        lines.append(Content.styled(f" {sign} {step}{many}", "bold reverse" if current else ""))
    first = max(0, min(at - height // 3, len(lines) - height))
    return Content("\n").join(lines[first : first + height])
