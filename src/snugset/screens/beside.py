"""The view beside the prompt, chosen by name."""

from collections.abc import Callable, Mapping

from textual.content import Content

from snugset.guide.address import Address
from snugset.guide.crank_now import crank_now
from snugset.guide.ledger import ledger as ledger_of
from snugset.guide.ruling import Decision
from snugset.guide.tight import tight
from snugset.plan.stages import Stage, keys_of
from snugset.screens.desk import Look
from snugset.screens.views import crank, ledger, listing
from snugset.screens.views import map as fastener_map


def _map(look: Look, width: int, height: int, coming: Decision | None) -> Content:
    """Draw the group of this step, else the first of the engine."""
    asked, engine = look.prompt, look.plan.engine
    step = look.plan.steps.get(asked.address.step) if asked else None
    holder = next(iter(look.plan.above.get(step.id, ())[-1:]), None) if step else None
    name = next(
        (
            group
            for block in (step and step.block, holder and holder.block)
            if (group := getattr(block, "group", ""))
        ),
        next(iter(engine.fasteners), ""),
    )
    if not name:
        return Content("The engine file has no fastener map.")
    group = engine.fasteners[name]
    place = asked.address.place if asked else ""
    # A place such as 2.7 is stage 2, fastener 7: only what this stage has done counts as done.
    stage, staged, key = place.rpartition(".")
    here = key if key in group.places else ""
    done = {
        fact.place.rpartition(".")[2]
        for fact in look.state.facts
        if step is not None and fact.step == step.id and fact.place.rpartition(".")[0] == stage
    }
    order = group.order if staged else tuple(group.places)
    if step is not None and isinstance(step.block, Stage):
        order = keys_of(engine, name, step.block.only, step.block.order)
    at = order.index(here) + 1 if here in order else len(order)
    following = order[at] if at < len(order) else ""
    counted = _closed(coming, step.id, stage) if coming is not None and step is not None else set()
    if not here:
        done |= tight(look.plan, look.state, name)
    drawn = fastener_map.Look(
        group=group,
        current=here,
        done=frozenset(done & set(group.places)),
        following=following,
        counted=frozenset(counted),
    )
    return fastener_map.view(drawn, look.state, width, height)


def _closed(coming: Decision, step: str, stage: str) -> set[str]:
    """Give the fasteners of a stage that an answer would close, where it is a count."""
    done = [Address.parse(e.body["at"]) for e in coming.events if e.kind == "done"]
    if len(done) < 2:
        return set()
    places = [at.place for at in done if at.step == step]
    return {p.rpartition(".")[2] for p in places if p.rpartition(".")[0] == stage}


def _crank(look: Look, width: int, height: int, _coming: Decision | None) -> Content:
    asked = look.prompt.address if look.prompt else None
    step, place = (asked.step, asked.place) if asked else ("", "")
    now = crank_now(look.plan, look.state, step, place)
    return crank.view(now, look.plan.engine, width, height)


def _ledger(look: Look, width: int, height: int, coming: Decision | None) -> Content:
    return _readings(look, (width, height), coming, rounds=False)


def _rounds(look: Look, width: int, height: int, coming: Decision | None) -> Content:
    return _readings(look, (width, height), coming, rounds=True)


def _readings(
    look: Look, room: tuple[int, int], coming: Decision | None, *, rounds: bool
) -> Content:
    asked = look.prompt.address if look.prompt else None
    found = ledger_of(look.plan, look.state, asked, coming.events if coming else ())
    return ledger.view(found, asked.place if asked else "", *room, rounds=rounds)


def _list(look: Look, width: int, height: int, _coming: Decision | None) -> Content:
    here = look.prompt.address.step if look.prompt else ""
    if here not in {step.title for _, step in look.standing.steps}:
        here = here.rpartition(".")[0]  # a second question of the same step
    return listing.view(look.standing, here, width, height)


VIEWS: Mapping[str, Callable[[Look, int, int, Decision | None], Content]] = {
    "map": _map,
    "crank": _crank,
    "ledger": _ledger,
    "rounds": _rounds,
    "list": _list,
}


def views(look: Look, chosen: str) -> tuple[str, str]:
    """Give the view that is shown and the one after it; rounds only where there are two.

    `chosen` is the view that the builder turned to; empty takes the prompt's own.
    """
    found = ledger_of(look.plan, look.state, look.prompt.address if look.prompt else None)
    names = [name for name in VIEWS if name != "rounds" or (found is not None and found.again)]
    own = look.prompt.view if look.prompt and look.prompt.view else "list"
    shown = next(name for name in (chosen, own, "ledger") if name in names)
    return shown, names[(names.index(shown) + 1) % len(names)]


FOLLOWING = ("map", "ledger", "rounds")
"""Views that show what is being typed."""


def beside(
    look: Look, name: str, width: int, height: int, coming: Decision | None = None
) -> Content:
    """Draw one view for a space of so many cells; `coming` is what is being typed."""
    return VIEWS[name](look, width, height, coming)
