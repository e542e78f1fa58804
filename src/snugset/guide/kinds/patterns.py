"""What a round's readings have in common, in words, each with its first thing to check."""

from collections.abc import Mapping

from snugset.guide.scene import Scene
from snugset.guide.state import Reading
from snugset.trade.pattern import pattern


def pattern_words(scene: Scene, readings: Mapping[str, Reading]) -> tuple[str, ...]:
    """Give one line for each pattern in the readings that are measurements."""
    measured = {p: r.value for p, r in readings.items() if r.uncertainty is not None}
    return tuple(
        f"Pattern: {found.words}. Look first: {found.look_first}."
        for found in pattern(measured, banks=scene.plan.engine.banks or None)
    )
