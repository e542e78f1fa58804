"""An order of pushrods in words, and the catalogue that it is chosen from."""

from snugset.files.figures import SpecValue
from snugset.files.values import Step as CatalogueStep
from snugset.plan.places import Site
from snugset.trade.allowed import Catalogue
from snugset.trade.pushrods import Order
from snugset.units import Quantity, echo, rounded, signed


def catalogue_of(value: SpecValue) -> Catalogue | None:
    """Give a figure as a catalogue of lengths; None where it is not had."""
    if isinstance(value, CatalogueStep):
        return value.quantity
    if isinstance(value, tuple):
        return value
    return None


def _shown(quantity: Quantity) -> Quantity:
    """Give a quantity as it is read out: its own digits, unless a conversion gave it too many."""
    fewer = rounded(quantity)
    return quantity if fewer.value == quantity.value else fewer


def _at(places: tuple[str, ...], sites: tuple[Site, ...]) -> str:
    """Name places, or say that it is all of them."""
    if len(places) == len(sites):
        return "every place"
    if len(places) > 6:
        return f"{len(places)} of {len(sites)} places"
    return ", ".join(places)


def order_words(found: Order, sites: tuple[Site, ...]) -> tuple[str, ...]:
    """Give an order in words: what, for where, what it should read, and whether that is proved.

    `sites` are all the places of the engine.
    """
    lines = [
        f"Order {len(batch.places)} × {echo(_shown(batch.length))} for "
        f"{'every place' if len(batch.places) == len(sites) else ', '.join(batch.places)}"
        for batch in found.batches
    ]
    kept = tuple(place for place, fit in found.fits.items() if fit.kept)
    if kept:
        lines.append(f"The pushrod in hand stays at {_at(kept, sites)}")
    unread = tuple(site.key for site in sites if site.key not in found.fits)
    if unread:
        lines.append(f"Nothing is known of {_at(unread, sites)}: the old pushrod stays in")
    standard = {
        "proved": "proved inside for every place measured",
        "inside": "nominally inside, not proved",
        "none": f"still outside at {', '.join(found.fails)}",
    }[found.standard]
    low, high = _shown(found.predicted_low), _shown(found.predicted_high)
    lines.append(f"Predicted {signed(low.value)} to {high}: {standard}")
    if found.allowed_low.value <= found.allowed_high.value:
        least, most = _shown(found.allowed_low), _shown(found.allowed_high)
        lines.append(f"One length for all: a change of {signed(least.value)} to {most} is proved")
    elif found.step_for_each is not None and not found.proved:
        lines.append(f"A catalogue step of {found.step_for_each} would surely fit each place")
    lines += [
        f"{_shown(near.length)} instead of {_shown(near.instead_of)}: "
        f"{signed(_shown(near.predicted_low).value)} to {_shown(near.predicted_high)}, fails at "
        f"{_at(near.fails, sites)}"
        for near in found.neighbours
        if near.fails
    ]
    return tuple(lines)
