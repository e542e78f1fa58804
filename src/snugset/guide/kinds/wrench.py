"""Whether a wrench can be trusted at a setting; common to the spec sheet and the torque steps."""

from snugset.files.figures import SpecValue, Window
from snugset.guide.scene import Scene
from snugset.trade.wrench import setting as work_out
from snugset.units import Quantity, echo, rounded


def range_words(setting: SpecValue, span: SpecValue) -> str:
    """Give what is wrong with a setting, or several, on a wrench; empty if nothing is."""
    if not isinstance(span, Window):
        return ""
    for each in setting if isinstance(setting, tuple) else (setting,):
        if not isinstance(each, Quantity):
            continue
        found = work_out(each, scale=(span.low, span.high))
        if found.in_range is False and found.usable is not None:
            return (
                f"{each} is out of this wrench's reach: {span.low.value} to {span.high} is good "
                f"for {found.usable[0].value.normalize():f} to {found.usable[1]} (from a fifth of "
                f"full scale). A wrench whose full scale lies between "
                f"{_own(found.needed[0], each)} and {_own(found.needed[1], each)} is needed."
            )
    return ""


def _own(quantity: Quantity, like: Quantity) -> Quantity:
    """Give a quantity in the unit that another was typed in."""
    return rounded(quantity.to(like.unit))


def setting_facts(setting: Quantity, span: SpecValue) -> tuple[str, ...]:
    """Give a setting in both systems, and in the wrench's own unit where that is another."""
    facts = [echo(setting)]
    if isinstance(span, Window) and span.high.unit != setting.unit:
        facts.append(f"On the wrench: {work_out(setting, scale=(span.low, span.high)).setting}")
    return tuple(facts)


def wrench_facts(scene: Scene, wrench: str) -> tuple[str, ...]:
    """Give what the builder said of the wrench: its accuracy, and when it was last checked."""
    found = scene.state.specs.get(wrench)
    return (f"Wrench: {found.assumes}",) if found and found.had and found.assumes else ()
