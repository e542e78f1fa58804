"""Addresses as answers files write them, held against what a procedure and an engine have."""

from collections.abc import Mapping
from itertools import chain

from snugset.files.engine import Engine
from snugset.files.problems import all_of, did_you_mean, quote
from snugset.files.steps import Procedure, Step
from snugset.plan.places import bridges, cylinders, valves
from snugset.plan.stages import KINDS, group_of, keys_of

_OWN = {
    "crank": ("plan", "turn"),
    "stages": ("loosen", "renew", "gasket", "marks"),
    **dict.fromkeys(KINDS, ("renew",)),
}
"""What containers and stages ask for themselves, after a point."""
_LOOK = "second-look"
"""What a step asks for that another person must confirm."""
_PARTS = ("", "source", "assumes")


class Addresses:
    """The addresses that builds of a procedure can have, on one engine or on any."""

    def __init__(self, procedure: Procedure, engine: Engine | None) -> None:
        self._procedure = procedure
        self._engine = engine
        self._around: dict[str, tuple[Step, ...]] = {}
        self._steps: dict[str, Step] = {}
        for phase in procedure.phases:
            self._stand(phase.steps, ())

    def _stand(self, steps: tuple[Step, ...], around: tuple[Step, ...]) -> None:
        for step in steps:
            self._steps[step.id], self._around[step.id] = step, around
            for inner in step.children.values():
                self._stand(inner, (*around, step))

    def wrong(self, text: str) -> tuple[str, str]:
        """Say what is wrong with an address, and the name that it hangs on; both empty for nothing.

        `text` is STEP, STEP@PLACE or STEP@PLACE#ROUND.
        """
        bare, _, number = text.partition("#")
        name, _, place = bare.partition("@")
        if name in ("return", "finished"):
            return "", ""
        if name.startswith("spec."):
            return self._figure(name.removeprefix("spec."))
        step, own = self._step(name)
        if step is None:
            ids = chain(self._steps, (f"spec.{figure}" for figure in self._procedure.figures))
            return f"there is no step {quote(name)}{did_you_mean(name, ids)}", name
        passes = step.kind == "verify" or any(s.kind == "rounds" for s in self._around[step.id])
        if number and not passes:
            return f"{quote(name)} stands in no rounds; leave #{number} out", name
        keys = self._keys(step, own)
        if keys is not None and place not in keys:
            return self._no_place(name, place, keys), name
        return "", ""

    @staticmethod
    def _no_place(name: str, place: str, keys: tuple[str, ...]) -> str:
        if keys == ("",):
            return f"{quote(name)} stands at no place; leave @{place} out"
        there = f"; there are {all_of(keys)}"
        if not place:
            return f"{quote(name)} stands at places; name one after it, as {name}@{keys[0]}{there}"
        return f"there is no place {quote(place)} of {quote(name)}{there}"

    def _figure(self, name: str) -> tuple[str, str]:
        figures = self._procedure.figures
        base, _, part = name.rpartition(".")
        if name in figures or (base in figures and part in _PARTS):
            return "", ""
        near = did_you_mean(name, figures)
        return f"the procedure asks for no figure {quote(name)}{near}", name

    def _step(self, name: str) -> tuple[Step | None, str]:
        if name in self._steps:
            step = self._steps[name]
            held = step.kind in ("each", "crank", "rounds", "stages")
            return (None if held else step), ""
        base, _, own = name.rpartition(".")
        step_ = self._steps.get(base)
        if step_ is not None and (
            own in _OWN.get(step_.kind, ()) or (own == _LOOK and step_.second_look)
        ):
            return step_, own
        return None, ""

    def _keys(self, step: Step, own: str) -> tuple[str, ...] | None:
        """Give the places of a step; None where that is not known."""
        engine = self._engine
        if own == _LOOK:
            over = [s for s in self._around[step.id] if s.kind in ("each", "crank")]
            if not over:
                return ("",)
            return None if engine is None else self._sites(over[-1], step, engine)
        if own and own != "loosen":
            return None if own == "turn" else ("",)
        if engine is None or own:
            return None
        if step.kind == "verify":
            return ("",)
        around = self._around[step.id]
        if step.kind in KINDS:
            group = group_of(around[-1], step)
            only, order = getattr(step.block, "only", ()), getattr(step.block, "order", "")
            known = engine.fasteners.get(group)
            return keys_of(engine, group, only, order) if known is not None else None
        if step.kind == "tighten":
            return None
        over = [s for s in around if s.kind in ("each", "crank")]
        if not over:
            return ("",)
        return self._sites(over[-1], step, engine)

    def _sites(self, container: Step, step: Step, engine: Engine) -> tuple[str, ...] | None:
        if container.children.get("after-first") and step in container.children["after-first"]:
            return None
        over = getattr(container.block, "over", "")
        if over == "fasteners":
            group = getattr(container.block, "group", "") or next(iter(engine.fasteners), "")
            known = engine.fasteners.get(group)
            return tuple(known.places) if known is not None else None
        sites: Mapping[str, tuple[str, ...]] = {
            "cylinders": tuple(site.key for site in cylinders(engine)),
            "bridges": tuple(site.key for site in bridges(engine)),
            "valves": tuple(site.key for site in valves(engine)),
        }
        return sites.get(over)
