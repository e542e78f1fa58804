"""The places of an engine and their names in words."""

from functools import lru_cache

from snugset.files.engine import Engine
from snugset.files.fasteners import words
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """One place that a container unfolds to."""

    over: str
    """fasteners, cylinders, bridges or valves."""
    key: str
    """``7``, ``4``, ``1I``."""
    words: str
    cylinder: int = 0
    """0 for a fastener."""
    group: str = ""
    fastener: str = ""
    """The key on the map, where `key` says more: ``1.7`` is fastener 7 in stage 1."""

    @property
    def spot(self) -> str:
        """What it goes by among all places of the engine: ``head:7``, ``4``, ``1I``."""
        return f"{self.group}:{self.on_map}" if self.group else self.key

    @property
    def on_map(self) -> str:
        """The key of the fastener on its group's map."""
        return self.fastener or self.key


@lru_cache(maxsize=64)
def cylinders(engine: Engine) -> tuple[Site, ...]:
    """Give the cylinders in firing order."""
    return tuple(
        Site(over="cylinders", key=str(n), words=f"cylinder {n}", cylinder=n)
        for n in engine.firing_order
    )


@lru_cache(maxsize=64)
def bridges(engine: Engine) -> tuple[Site, ...]:
    """Give the rocker bridges in firing order; one ties the two rockers of a cylinder."""
    return tuple(
        Site(over="bridges", key=str(n), words=f"bridge {n}", cylinder=n)
        for n in engine.firing_order
    )


@lru_cache(maxsize=64)
def valves(engine: Engine, cylinder: int | None = None) -> tuple[Site, ...]:
    """Give the valves of one cylinder, or of all in firing order; intake first."""
    return tuple(
        Site(over="valves", key=f"{n}{letter}", words=f"{name} of {n}", cylinder=n)
        for n in (engine.firing_order if cylinder is None else (cylinder,))
        for letter, name in (("I", "intake"), ("E", "exhaust"))
    )


@lru_cache(maxsize=64)
def fasteners(engine: Engine, group: str) -> tuple[Site, ...]:
    """Give the fasteners of a group in its tightening order."""
    found = engine.fasteners[group]
    return tuple(
        Site(over="fasteners", key=key, words=words(found, key), group=group) for key in found.order
    )


@lru_cache(maxsize=64)
def on_map(engine: Engine, group: str) -> tuple[Site, ...]:
    """Give the fasteners of a group in the order in which the map lists them."""
    by_key = {site.key: site for site in fasteners(engine, group)}
    return tuple(by_key[key] for key in engine.fasteners[group].places)
