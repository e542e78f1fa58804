"""The figure of a prompt that is shown large: what a wrench is set to, what a gap must be."""

from snugset.files.figures import SpecValue, Window
from snugset.guide.prompt import Large
from snugset.trade.wrench import setting as work_out
from snugset.units import Quantity, rounded, signed


def of(does: str, quantity: Quantity | None) -> Large | None:
    """Show a quantity as it stands; nothing where it is not had."""
    if quantity is None:
        return None
    degrees = quantity.unit == "deg"
    return Large(
        does=does,
        value=f"{signed(quantity.value)}{'°' if degrees else ''}",
        unit="" if degrees else quantity.unit,
    )


def on_wrench(does: str, setting: Quantity | None, span: SpecValue) -> Large | None:
    """Show a torque in the unit of the wrench whose range is `span`, else in its own."""
    if setting is not None and isinstance(span, Window) and span.high.unit != setting.unit:
        setting = work_out(setting, scale=(span.low, span.high)).setting
    return of(does, setting)


def between(low: Quantity | None, high: Quantity | None, unit: str) -> Large | None:
    """Show the limits of a reading, in the unit that a bare figure takes."""
    if low is not None and high is not None:
        ends = [signed(rounded(end.to(unit)).value) for end in (low, high)]
        return Large(does="between", value="-".join(ends), unit=unit)
    if low is not None:
        return of("at least", rounded(low.to(unit)))
    return of("at most", None if high is None else rounded(high.to(unit)))
