"""What must be true of the engine before a step that cannot be taken back."""

from snugset.guide.address import Address
from snugset.guide.ruling import Ruling
from snugset.guide.scene import Scene, newest
from snugset.guide.words import hole_words
from snugset.plan.places import fasteners, valves

GUARDS = ("studs", "preload", "counts")


def check_guards(scene: Scene, guards: tuple[str, ...], group: str, ruling: Ruling) -> None:
    """Stop with the first guard that does not hold, unless the answer carries a reason."""
    for guard in guards:
        wrong = {"studs": _studs, "preload": _preload, "counts": _counts}[guard](scene, group)
        if wrong:
            ruling.rule(f"guard-{guard}", wrong)


def _studs(scene: Scene, group: str) -> str:
    """Count sealed against wet, wiped against blind, in against all."""
    group = group or next(iter(scene.plan.engine.fasteners))
    condition = scene.state.condition
    dry_wet, liquid, out = [], [], []
    for site in fasteners(scene.plan.engine, group):
        hole = hole_words(scene.at(site=site)).split()
        if "wet" in hole and condition.mark("sealed", site.key) is None:
            dry_wet.append(site.key)
        if "blind" in hole and condition.mark("wiped", site.key) is None:
            liquid.append(site.key)
        if condition.mark("stud", site.key) is None:
            out.append(site.key)
    parts = [
        f"{what}: {', '.join(keys)}"
        for what, keys in (
            ("wet holes not recorded as sealed", dry_wet),
            ("blind holes not recorded as wiped dry", liquid),
            ("studs not recorded as in", out),
        )
        if keys
    ]
    return f"Before the head goes on: {'; '.join(parts)}. Put them right first." if parts else ""


def _preload(scene: Scene, _group: str) -> str:
    """Tell which places have no reading that stands."""
    have = newest(r for r in scene.state.readings.values())
    missing, bad = [], []
    accepted = {
        place
        for judged in scene.state.judged.values()
        if judged.outcome == "accept"
        for place in judged.lengths
    }
    for site in valves(scene.plan.engine):
        reading = have.get(site.key)
        if reading is None:
            missing.append(site.key)
        elif reading.verdict not in ("in", "inside", "no-limit") and site.key not in accepted:
            bad.append(site.key)
    parts = [
        f"{what}: {', '.join(keys)}"
        for what, keys in (("never measured", missing), ("not accepted", bad))
        if keys
    ]
    return (
        f"Every pushrod is checked before the cover closes; {'; '.join(parts)}." if parts else ""
    )


def _counts(scene: Scene, _group: str) -> str:
    """Tell which counts that should agree do not."""
    wrong = []
    for step in scene.plan.steps.values():
        same_as = getattr(step.block, "same_as", "")
        if not same_as:
            continue
        now = scene.state.facts.get(Address(step.id))
        before = scene.state.facts.get(Address(same_as))
        if now and before and now.value != before.value:
            wrong.append(f"{step.id} {now.value}, {same_as} {before.value}")
    return f"These counts should agree: {'; '.join(wrong)}." if wrong else ""
