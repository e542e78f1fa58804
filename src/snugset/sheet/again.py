"""What was gone over again: passes over a group, lash that changed, files that were revised."""

from collections.abc import Iterable

from snugset.guide.kinds.lash import Lash
from snugset.guide.kinds.stage_blocks import Verify
from snugset.guide.kinds.stage_checks import PASSES, goes_on
from snugset.sheet.entries import View
from snugset.trade.wear import wear
from snugset.units import Quantity
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """Once over a whole group with the same torque."""

    number: int
    moved: str
    """How many fasteners moved; as recorded, where a reason ended it. Why, where skipped."""
    skipped: bool
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Passes:
    """The passes of one verifying stage."""

    step: str
    phase: str
    setting: Quantity | None
    """The torque now on the spec sheet."""
    passes: tuple[Pass, ...]
    settled: bool
    """Whether a pass was reached in which none moved."""
    suspect: bool
    """Whether some still moved in the last pass that is normal: gasket, thread, bottomed stud."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LashChange:
    """What lash read again shows against what was expected from the reading before."""

    step: str
    kind: str
    """tighter, looser or all."""
    places: tuple[str, ...]
    size: Quantity
    words: str
    look_first: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """Newer files put in a build."""

    reason: str
    files: tuple[str, ...]
    """Those whose text is another than before, by their names."""
    voided: tuple[str, ...]
    """Addresses that are done again."""
    figures: tuple[str, ...]
    """Figures that are asked again."""
    plans: tuple[str, ...]
    """Crank containers whose setting points are worked out again."""
    kept: int
    """How many closed steps stand."""
    at: str
    person: str


def passes(view: View) -> tuple[Passes, ...]:
    """Give the passes of each verifying stage that was begun, in the order of the procedure."""
    found = []
    for step in view.plan.steps.values():
        entries = [e for e in view.entries if e.step == step.id]
        if not isinstance(step.block, Verify) or not entries:
            continue
        done = tuple(
            Pass(
                number=e.round or 1,
                moved=e.value,
                skipped=e.outcome == "skipped",
                at=e.at,
                person=e.person,
            )
            for e in sorted(entries, key=lambda e: e.round)
        )
        found.append(
            Passes(
                step=step.id,
                phase=view.plan.phase(step.id),
                setting=view.scene.length(step.block.figure),
                passes=done,
                settled=any(each.moved == "0" and not each.skipped for each in done),
                suspect=any(_suspect(each) for each in done),
            )
        )
    return tuple(found)


def _suspect(each: Pass) -> bool:
    return not each.skipped and each.number >= PASSES and (goes_on(each.moved) or each.moved != "0")


def lash_changes(view: View) -> tuple[LashChange, ...]:
    """Give what each lash step that is held against an earlier one shows, step by step."""
    found: list[LashChange] = []
    for step in view.plan.steps.values():
        if not isinstance(step.block, Lash) or not step.block.before:
            continue
        read = [r for r in view.state.readings.values() if r.address.step == step.id]
        now = {r.address.place: r.value for r in read}
        expected = {r.address.place: r.predicted for r in read if r.predicted is not None}
        found += (
            LashChange(
                step=step.id,
                kind=each.kind,
                places=each.places,
                size=each.size,
                words=each.words,
                look_first=each.look_first,
            )
            for each in wear(now, expected)
        )
    return tuple(found)


def revisions(view: View) -> tuple[Revision, ...]:
    """Give every revision of the files, in order."""
    found = []
    texts = dict(_texts(view.records[0].body))
    closed: set[str] = set()
    for record in view.standing:
        body = record.body
        if record.kind in ("done", "reading", "skipped", "judged"):
            closed.add(body["at"])
        closed -= set(body.get("addresses", ()))
        if record.kind != "revised":
            continue
        new = dict(_texts(body))
        changed = [text for name, text in new.items() if texts.get(name) != text]
        found.append(
            Revision(
                reason=body["reason"],
                files=tuple(file for file, _ in changed),
                voided=tuple(body["addresses"]),
                figures=tuple(body["figures"]),
                plans=tuple(body["plans"]),
                kept=len(closed),
                at=record.at,
                person=record.person,
            )
        )
        texts = new
    return tuple(found)


def _texts(body: object) -> Iterable[tuple[str, tuple[str, str]]]:
    """Yield the files that a record holds: which it is, its name and its text."""
    if not isinstance(body, dict):
        return
    for which in ("procedure", "engine"):
        yield which, (str(body[which]["file"]), str(body[which]["text"]))
    for name, held in (body.get("shared") or {}).items():
        yield f"shared {name}", (str(held["file"]), str(held["text"]))
