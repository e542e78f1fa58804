"""Filling a step's words with the names and figures of this build."""

import re
from collections.abc import Callable

from snugset.files.figures import show_value
from snugset.files.naming import BRACES
from snugset.guide.scene import Scene
from snugset.plan.places import fasteners
from snugset.trade.camshaft import companions


def hole_words(scene: Scene) -> str:
    """Give what is known of the hole here: what was probed, else what the map says."""
    site = scene.site
    if site is None or not site.group:
        return ""
    found = scene.state.condition.mark("hole", site.spot)
    return found or map_hole(scene)


def _hole(scene: Scene) -> str:
    """Say the hole here with both words, unknown where one of them is."""
    known = hole_words(scene).split()
    if scene.site is None or not scene.site.group:
        return ""
    wet = next((word for word in known if word in ("wet", "dry")), "unknown")
    blind = next((word for word in known if word in ("blind", "through")), "unknown")
    return "unknown" if wet == blind else f"{wet} {blind}"


def map_hole(scene: Scene) -> str:
    """Give what the map says of the hole here: two words, or what of them is known."""
    if scene.site is None or not scene.site.group:
        return ""
    place = scene.plan.engine.fasteners[scene.site.group].places[scene.site.on_map]
    known = (
        None if place.wet is None else "wet" if place.wet else "dry",
        None if place.blind is None else "blind" if place.blind else "through",
    )
    return " ".join(word for word in known if word)


def _length(scene: Scene) -> str:
    site = scene.site
    if site is None:
        return ""
    if site.over == "fasteners":
        length = scene.plan.engine.fasteners[site.group].places[site.on_map].length
        return str(length) if length else "length on the map"
    chosen = new_length(scene)
    return chosen or "pushrod"


def new_length(scene: Scene) -> str:
    """Give the pushrod length chosen for the valve here in this round, empty without one."""
    if scene.site is None or scene.rounds is None:
        return ""
    for judged in scene.state.judged.values():
        if judged.address.round == scene.round and judged.outcome == "order":
            length = judged.lengths.get(scene.site.key)
            return "" if length is None else str(length)
    return ""


def _companion(scene: Scene) -> str:
    cylinder = scene.site.cylinder if scene.site and scene.site.cylinder else None
    if cylinder is None:
        cylinder = scene.plan.engine.firing_order[0]
    found = companions(scene.plan.engine.firing_order, scene.plan.engine.intervals).get(cylinder)
    return str(found) if found else "none: it fires unevenly"


def _order(scene: Scene) -> str:
    return "-".join(str(n) for n in scene.plan.engine.firing_order)


FIELDS: dict[str, Callable[[Scene], str]] = {
    "place": lambda s: s.site.words if s.site else "",
    "key": lambda s: s.site.on_map if s.site else "",
    "cylinder": lambda s: str(s.site.cylinder) if s.site and s.site.cylinder else "",
    "length": _length,
    "hole": _hole,
    "companion": _companion,
    "order": _order,
}
"""The names that stand in braces in a step's words, besides figure.NAME and count.WHICH."""


def hole_count(scene: Scene, which: str, group: str) -> int:
    """Count the holes of a group that are wet, dry, blind, through, or all of them."""
    sites = fasteners(scene.plan.engine, group) if group else ()
    if which == "all":
        return len(sites)
    return sum(which in hole_words(scene.at(site=site)).split() for site in sites)


def fill(text: str, scene: Scene, group: str = "") -> str:
    """Fill the braces of a step's words; a figure that is not had reads “(not given)”.

    `group` is whose holes are counted where the place says none.
    """

    def put(found: re.Match[str]) -> str:
        name = found[1]
        if name.startswith("figure."):
            spec = scene.state.specs.get(name.removeprefix("figure."))
            return "(not given)" if spec is None or spec.value is None else show_value(spec.value)
        if name.startswith("count."):
            here = scene.site.group if scene.site else ""
            counted = here or group or next(iter(scene.plan.engine.fasteners), "")
            return str(hole_count(scene, name.removeprefix("count."), counted))
        return FIELDS[name](scene)

    filled = BRACES.sub(put, text)
    return filled[:1].upper() + filled[1:]


def took(seconds: float) -> str:
    """Give a span in plain words: “9 days”, “3 hours”, “40 minutes”."""
    for size, name in ((86400, "day"), (3600, "hour"), (60, "minute")):
        if seconds >= size:
            count = int(seconds // size)
            return f"{count} {name}{'s' if count > 1 else ''}"
    return "under a minute"
