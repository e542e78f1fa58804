"""Torque into clamp load, and how much of a fastener's proof load that is.

T = K·D·F. The nut factor K holds everything that is not known about friction, so the load is given
with its scatter Γ: from (1 − Γ)·F to (1 + Γ)·F.
"""

import math
from decimal import Decimal

from snugset.trade.exact import nearest
from snugset.trade.fault import FigureError
from snugset.trade.thread import Thread, load_at
from snugset.units import Quantity
from snugset.values import dataclass

SCATTER = Decimal("0.25")
"""Lubricated threads (NSTS 08307 rev. A §3.4); a torque wrench (Machinery's Handbook)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamp:
    """The load in one fastener: lbf for an inch thread, kN for a metric one."""

    load: Quantity
    load_low: Quantity
    load_high: Quantity
    smallest_area: Quantity
    """Of both threads and the shank."""
    proof_load: Quantity | None
    """What the smallest area bears."""
    share: Decimal | None
    """The load as a part of the proof load; 1 is all of it."""
    share_high: Decimal | None
    """The same for the upper end of the scatter."""
    total: Quantity
    """Of all fasteners together."""


def load_for(torque: Quantity, k: float, diameter: Quantity) -> float:
    """Clamp load in lbf that a torque gives: F = T/(K·D)."""
    return torque.number("lbf·in") / (k * diameter.number("in"))


def torque_for(load: Quantity, k: float, diameter: Quantity) -> Quantity:
    """Torque that a clamp load needs: T = K·D·F, in lbf·in."""
    return nearest(k * diameter.number("in") * load.number("lbf"), "lbf·in")


def nut_factor(thread: Thread, *, thread_friction: float, face_friction: float) -> float:
    """Nut factor K from the friction of thread and nut face, 60° thread, face 1.25·d.

    Shigley, Mechanical Engineering Design, 9th ed. eq. 8-26 (from memory).
    """
    d, pitch = thread.diameter.number("in"), thread.pitch.number("in")
    mean = (d + (d - 1.299038 * pitch)) / 2
    lead = pitch / (math.pi * mean)
    sloped = thread_friction / math.cos(math.radians(30))
    return mean / (2 * d) * (lead + sloped) / (1 - lead * sloped) + 0.625 * face_friction


def clamp(
    torque: Quantity,
    thread: Thread,
    *,
    k: Decimal,
    scatter: Decimal = SCATTER,
    proof: Quantity | None = None,
    other_thread: Thread | None = None,
    shank: Quantity | None = None,
    count: int = 1,
) -> Clamp:
    """Work out the clamp load from the thread that turns, and the share of proof it takes.

    The load comes from the nut's thread; the share is on the smallest area of that thread, the
    stud's other end and a waisted shank. FigureError (k, scatter, count, shank) for what cannot be.
    """
    if not Decimal("0.03") <= k <= 1:
        raise FigureError("k", f"{k} is no nut factor; they run from about 0.1 to 0.3")
    if not 0 <= scatter < 1:
        raise FigureError(
            "scatter", f"{scatter} is no scatter; write a part of the load, such as 25 %"
        )
    if count < 1:
        raise FigureError("count", f"{count} fasteners hold nothing; count them, 1 or more")
    unit = "kN" if thread.metric else "lbf"
    load = Quantity(Decimal(repr(load_for(torque, float(k), thread.diameter))), "lbf").number(unit)
    area = _smallest(thread, other_thread, shank)
    bears = load_at(proof, area) if proof is not None else None
    shares: list[Decimal | None] = [None, None]
    if bears is not None:
        whole = bears.number(unit)
        shares = [nearest(x / whole, "", 3).value for x in (load, load * float(1 + scatter))]
    return Clamp(
        load=nearest(load, unit),
        load_low=nearest(load * float(1 - scatter), unit),
        load_high=nearest(load * float(1 + scatter), unit),
        smallest_area=area,
        proof_load=nearest(bears.number(unit), unit) if bears is not None else None,
        share=shares[0],
        share_high=shares[1],
        total=nearest(load * count, unit),
    )


def _smallest(thread: Thread, other: Thread | None, shank: Quantity | None) -> Quantity:
    areas = [thread.stress_area]
    if other is not None:
        areas.append(other.stress_area)
    if shank is not None:
        if shank.value <= 0:
            raise FigureError("shank", f"{shank} is no diameter; measure the shank at its thinnest")
        unit = "mm" if thread.metric else "in"
        areas.append(nearest(math.pi / 4 * shank.number(unit) ** 2, f"{unit}²"))
    return min(areas, key=lambda area: area.number("mm²"))
