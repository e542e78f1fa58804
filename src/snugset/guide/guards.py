"""What must be true of the engine before a step that cannot be taken back."""

from collections.abc import Callable, Mapping

from snugset.guide.address import Address
from snugset.guide.lifters import left_to_bleed
from snugset.guide.ruling import Ruling
from snugset.guide.scene import Scene, newest
from snugset.guide.state import Fact, Reading
from snugset.guide.words import hole_words, took
from snugset.plan.places import fasteners, valves

GUARDS = ("studs", "preload", "counts", "bled", "lash")
SETTLED = ("in", "inside", "no-limit")
"""Verdicts that need no reason."""


def check_guards(scene: Scene, guards: tuple[str, ...], group: str, ruling: Ruling) -> None:
    """Stop with the first guard that does not hold, unless the answer carries a reason."""
    for guard in guards:
        wrong = _CHECKS[guard](scene, group)
        if wrong:
            ruling.rule(f"guard-{guard}", wrong)


def _studs(scene: Scene, group: str) -> str:
    """Count sealed against wet, wiped against blind, in against all."""
    group = group or next(iter(scene.plan.engine.fasteners), "")
    if not group:
        return ""
    condition = scene.state.condition
    dry_wet, liquid, out, unknown = [], [], [], []
    for site in fasteners(scene.plan.engine, group):
        hole = hole_words(scene.at(site=site)).split()
        if not (set(hole) & {"wet", "dry"} and set(hole) & {"blind", "through"}):
            unknown.append(site.key)
        if "wet" in hole and condition.mark("sealed", site.spot) is None:
            dry_wet.append(site.key)
        if "blind" in hole and condition.mark("wiped", site.spot) is None:
            liquid.append(site.key)
        if condition.mark("stud", site.spot) is None:
            out.append(site.key)
    parts = [
        f"{what}: {', '.join(keys)}"
        for what, keys in (
            ("holes not known to be wet or dry, blind or through", unknown),
            ("wet holes not recorded as sealed", dry_wet),
            ("blind holes not recorded as wiped dry", liquid),
            ("studs not recorded as in", out),
        )
        if keys
    ]
    return f"Before the head goes on: {'; '.join(parts)}. Put them right first." if parts else ""


def _bled(scene: Scene, _group: str) -> str:
    """Say which filled lifters have not bled down: at a bridge its own, elsewhere all."""
    here = scene.site.key if scene.site and scene.site.over == "bridges" else ""
    left = left_to_bleed(scene, here)
    if left <= 0:
        return ""
    return f"A filled lifter has not bled down: wait another {took(left)}."


def _preload(scene: Scene, _group: str) -> str:
    """Tell which places have no reading of the measuring rounds that stands."""
    figures = {
        getattr(step.block, "figure", "")
        for step in scene.plan.steps.values()
        if step.kind in ("rounds", "nut")
    }
    have = newest(r for r in scene.state.readings.values() if r.figure in figures)
    accepted = {
        place
        for judged in scene.state.judged.values()
        if judged.outcome == "accept"
        for place in judged.lengths
    }
    keys = [site.key for site in valves(scene.plan.engine)]
    missing = [key for key in keys if key not in have]
    stale = [key for key in keys if key in have and _other_pushrod(scene, have[key])]
    bad = [
        key
        for key in keys
        if key in have
        and key not in stale
        and have[key].verdict not in SETTLED
        and key not in accepted
    ]
    parts = [
        f"{what}: {', '.join(places)}"
        for what, places in (
            ("never measured", missing),
            ("not measured with the pushrod that is in", stale),
            ("not accepted", bad),
        )
        if places
    ]
    return f"Every pushrod is checked before the cover closes; {'; '.join(parts)}." if parts else ""


def _other_pushrod(scene: Scene, reading: Reading) -> bool:
    """Tell whether another pushrod was fitted since a reading was taken."""
    now = scene.state.condition.mark("pushrod", reading.address.place)
    return now is not None and now != str(reading.pushrod)


def count_before(scene: Scene, step: str, round_: int) -> Fact | None:
    """Find a count made before: in the same round, or outside rounds."""
    facts = scene.state.facts
    return facts.get(Address(step, "", round_)) or facts.get(Address(step))


def _counts(scene: Scene, _group: str) -> str:
    """Tell which counts that should agree do not, where no reason was given for it."""
    explained = {o.address for o in scene.state.overrides if o.code == "count"}
    wrong = []
    for address, now in scene.state.facts.items():
        same_as = (
            getattr(scene.plan.steps[address.step].block, "same_as", "")
            if address.step in scene.plan.steps
            else ""
        )
        before = count_before(scene, same_as, address.round) if same_as else None
        if before is None or address in explained:
            continue
        if "skipped" in (now.kind, before.kind):
            wrong.append(f"{address if now.kind == 'skipped' else same_as} was not counted")
        elif now.value != before.value:
            wrong.append(f"{address} {now.value}, {same_as} {before.value}")
    return f"These counts should agree: {'; '.join(wrong)}." if wrong else ""


def _lash(scene: Scene, _group: str) -> str:
    """Tell which valves have no lash reading that stands."""
    steps = {step.id for step in scene.plan.steps.values() if step.kind == "lash"}
    have = {a.place for a in scene.state.readings if a.step in steps}
    missing = [site.key for site in valves(scene.plan.engine) if site.key not in have]
    return f"Every valve's lash is set first; not read: {', '.join(missing)}." if missing else ""


_CHECKS: Mapping[str, Callable[[Scene, str], str]] = {
    "studs": _studs,
    "preload": _preload,
    "counts": _counts,
    "bled": _bled,
    "lash": _lash,
}
