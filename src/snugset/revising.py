"""Revising a build: newer files for work that has begun, and what of it is done again."""

from datetime import datetime
from pathlib import Path

from snugset.clock import utc
from snugset.files.problems import Problems
from snugset.files.tree import parse
from snugset.files.versions import sort_of
from snugset.guide.address import Address
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.guide.revised_stages import caught, marks_of_stages
from snugset.guide.state import State
from snugset.guide.walk import occurrences
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Pinned, Plan
from snugset.stored import BuildError, compiled, head_of, stood, texts_of
from snugset.typed import Any
from snugset.values import dataclass

_OWN = ("plan", "turn", "loosen", "renew", "gasket", "marks", "second-look")
"""What containers ask for themselves, by addresses of their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Revised:
    """What came of a revision."""

    files: tuple[str, ...]
    """The files that are new to the build."""
    kept: int
    """Finished leaves that stand."""
    voided: tuple[str, ...]
    """Addresses that are done again, or are no more."""
    figures: tuple[str, ...]
    """Figures that are asked again, or are no more."""


def revise(
    folder: Path, files: tuple[Path, ...], *, reason: str, owner: Owner, moment: datetime
) -> Revised:
    """Keep newer files in a build; BuildError, and nothing is kept, where they do not fit.

    Finished leaves stand whose step is there with the same kind and whose place is still there.
    """
    if not reason.strip() or len(reason) > 400 or not reason.isprintable():
        raise BuildError("A revision needs a reason of 1 to 400 letters that can be seen.")
    with Journal.open(folder, owner=owner) as journal:
        records = list(journal.records())
        old, state = stood(records, folder.name)
        now = texts_of(records)
        new = _with(now, files)
        changed = tuple(name for name in new if new[name] != now.get(name))
        if not changed:
            raise BuildError("These files are as the build has them; nothing is revised.")
        plan = compiled(new["procedure"], new["engine"], _shared(new))
        body = _body(old, plan, state, moment)
        body |= {
            "reason": reason,
            "procedure": _text(new["procedure"]),
            "engine": _text(new["engine"]),
            "shared": {name: _text(pinned) for name, pinned in _shared(new).items()},
        }
        record = Record(
            sequence=state.sequence + 1,
            answer=0,
            at=utc(moment),
            person=owner.person,
            kind="revised",
            body=body,
        )
        after = fold([*records, record])
        journal.append([record], head_of(plan, after, moment))
    return Revised(
        files=tuple(new[name].file for name in changed),
        kept=len(after.facts),
        voided=tuple(body["addresses"]),
        figures=tuple(body["figures"]),
    )


def _with(now: dict[str, Pinned], files: tuple[Path, ...]) -> dict[str, Pinned]:
    """Put files in the place of those that a build has: by their sort, shared ones by name too."""
    new = dict(now)
    for path in files:
        pinned = pin(path)
        into = Problems()
        node = parse(pinned.text, pinned.file, into)
        sort = None if node is None else sort_of(node, into)
        if sort == "procedure":
            new = {name: text for name, text in new.items() if name in ("procedure", "engine")}
            new |= {"procedure": pinned, **_named(pin_shared(path, pinned))}
        elif sort == "engine":
            new["engine"] = pinned
        elif sort == "steps":
            name = f"shared {path.stem}"
            if name not in new:
                raise BuildError(
                    f"{path}: the build's procedure names no shared file {path.stem}; give the "
                    f"procedure too"
                )
            new[name] = Pinned(file=new[name].file, text=pinned.text)
        elif sort is None:
            raise BuildError("\n".join(str(problem) for problem in into.items))
        else:
            raise BuildError(
                f"{path}: a file of the sort {sort} does not revise a build; give a procedure, an "
                f"engine or shared steps"
            )
    return new


def _named(shared: dict[str, Pinned]) -> dict[str, Pinned]:
    return {f"shared {name}": pinned for name, pinned in shared.items()}


def _shared(texts: dict[str, Pinned]) -> dict[str, Pinned]:
    return {
        name.removeprefix("shared "): pinned
        for name, pinned in texts.items()
        if name.startswith("shared ")
    }


def _text(pinned: Pinned) -> dict[str, str]:
    return {"file": pinned.file, "text": pinned.text}


def _body(old: Plan, new: Plan, state: State, moment: datetime) -> dict[str, Any]:
    """Say what of a build no longer stands with newer files."""
    figures = [name for name in state.specs if not _same_figure(old, new, name)]
    gone = [address for address in state.facts if not _same_step(old, new, address.step)]
    left = {address: fact for address, fact in state.facts.items() if address not in set(gone)}
    there: dict[str, set[Address]] = {}
    for found in occurrences(new, state, moment):
        there.setdefault(found.step.id, set()).add(found.address)
    gone += [a for a in left if a.step in there and a not in there[a.step]]
    plans = [step for step in state.planned if not _same_crank(old, new, step)]
    gone += [a for a in state.facts if a.step.removesuffix(".plan") in plans and a not in gone]
    stuck = caught(old, new, state, gone)
    if stuck:
        raise BuildError(stuck)
    return {
        "addresses": sorted(map(str, gone)),
        "figures": sorted(figures),
        "plans": sorted(plans),
        "effects": marks_of_stages(new, state, gone),
    }


def _same_step(old: Plan, new: Plan, step: str) -> bool:
    base, _, own = step.rpartition(".")
    name = base if step not in old.steps and own in _OWN else step
    if name not in old.steps:
        return step == "return"
    return name in new.steps and new.steps[name].kind == old.steps[name].kind


def _same_figure(old: Plan, new: Plan, name: str) -> bool:
    before, after = old.procedure.figures.get(name), new.procedure.figures.get(name)
    if before is None or after is None:
        return False
    return (before.kind, before.form, before.choices) == (after.kind, after.form, after.choices)


def _same_crank(old: Plan, new: Plan, step: str) -> bool:
    """Tell whether the setting points of a crank container stand."""
    before, after = old.engine, new.engine
    same = (before.firing_order, before.intervals, before.rockers) == (
        after.firing_order,
        after.intervals,
        after.rockers,
    )
    return same and step in new.steps and new.steps[step].block == old.steps[step].block
