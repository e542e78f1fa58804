"""An order of pushrods in words, and the catalogue that it is chosen from."""

from snugset.files.figures import SpecValue
from snugset.files.values import Step as CatalogueStep
from snugset.trade.allowed import Catalogue
from snugset.trade.pushrods import Order
from snugset.units import echo


def catalogue_of(value: SpecValue) -> Catalogue | None:
    """Give a figure as a catalogue of lengths; None where it is not had."""
    if isinstance(value, CatalogueStep):
        return value.quantity
    if isinstance(value, tuple):
        return value
    return None


def _at(places: tuple[str, ...], found: Order) -> str:
    """Name places, or say that it is all of them."""
    if len(places) == len(found.fits):
        return "every place"
    if len(places) > 6:
        return f"{len(places)} of {len(found.fits)} places"
    return ", ".join(places)


def order_words(found: Order) -> tuple[str, ...]:
    """Give an order in words: what, for where, what it should read, and whether that is proved."""
    lines = [
        f"Order {len(b.places)} × {echo(b.length)} for "
        f"{'every place' if len(b.places) == len(found.fits) else ', '.join(b.places)}"
        for b in found.batches
    ]
    standard = {
        "proved": "proved inside for every place",
        "inside": "nominally inside, not proved",
        "none": f"still outside at {', '.join(found.fails)}",
    }[found.standard]
    lines.append(f"Predicted {found.predicted_low.value} to {found.predicted_high}: {standard}")
    if found.allowed_low.value <= found.allowed_high.value:
        lines.append(
            f"One length for all: a change of {found.allowed_low.value} to {found.allowed_high} "
            f"is proved"
        )
    elif found.step_for_each is not None and not found.proved:
        lines.append(f"A catalogue step of {found.step_for_each} would surely fit each place")
    lines += [
        f"{near.length} instead of {near.instead_of}: {near.predicted_low.value} to "
        f"{near.predicted_high}, fails at {_at(near.fails, found)}"
        for near in found.neighbours
        if near.fails
    ]
    return tuple(lines)
