"""What an engine file knows of what a calculator asks."""

from snugset.files.engine import Engine
from snugset.trade.camshaft import is_even


def known(engine: Engine) -> dict[str, str]:
    """Give the engine's own figures by a calculator's keys, as texts that its inputs read.

    What the engine has not is left out: intervals that are even, a camshaft card not in the file.
    """
    texts = {"firing_order": "-".join(map(str, engine.firing_order))}
    if not is_even(engine.intervals):
        texts["intervals"] = ", ".join(f"{interval:f}" for interval in engine.intervals)
    if engine.camshaft is not None:
        texts["camshaft"] = str(engine.camshaft)
    return texts
