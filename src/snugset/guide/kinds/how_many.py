"""How many there are of something on the engine, for counts that must be equal to it."""

from snugset.guide.scene import Scene
from snugset.plan.places import fasteners, valves


def how_many(scene: Scene, what: str, group: str) -> int:
    """Count fasteners of a group, valves, cylinders, or the pushrods to be changed this round."""
    engine = scene.plan.engine
    if what == "fasteners":
        named = group or next(iter(engine.fasteners), "")
        return len(fasteners(engine, named)) if named else 0
    if what == "cylinders":
        return engine.cylinders
    if what == "valves":
        return len(valves(engine))
    return sum(to_change(scene, site.key) for site in valves(engine))


def to_change(scene: Scene, key: str) -> bool:
    """Tell whether this round's judgement puts another length at a place than was read there."""
    for judged in scene.state.judged.values():
        if judged.address.round == scene.round and judged.outcome == "order":
            new = judged.lengths.get(key)
            read = [
                r.pushrod
                for r in scene.state.readings.values()
                if r.address.place == key and r.address.round == scene.round
            ]
            return new is not None and new not in read
    return False
