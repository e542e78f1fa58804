"""The clamp load of a torque, for the prompt of the last stage."""

from decimal import Decimal

from snugset.guide.scene import Scene
from snugset.trade.clamp import SCATTER, clamp
from snugset.trade.fault import FigureError
from snugset.trade.thread import read_thread
from snugset.units import Quantity


def clamp_facts(
    scene: Scene, torque: Quantity, thread: str, nut_factor: str, scatter: str
) -> tuple[str, ...]:
    """Give the clamp load with its scatter, where thread and nut factor are on the spec sheet."""
    written = scene.state.spec(thread) if thread else None
    k = scene.length(nut_factor)
    if not isinstance(written, str) or k is None:
        return ()
    spread = scene.length(scatter)
    try:
        found = clamp(
            torque,
            read_thread(written),
            k=k.value,
            scatter=share(spread) if spread else SCATTER,
        )
    except FigureError as error:
        return (f"Clamp load: {error}",)
    words = (
        f"Clamp load about {found.load}, between {found.load_low} and {found.load_high}: "
        f"F = T/(K·D), K {k.value}, thread {written}"
    )
    return (words,)


def share(figure: Quantity) -> Decimal:
    """Read a share written as a part or in per cent."""
    return figure.value / 100 if figure.value > 1 else figure.value
