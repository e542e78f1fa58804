"""The procedure for solid lifters on a shaft, walked to its end on every inline engine it fits."""

from functools import cache

import pytest

from driving import ROOT, Table
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Pinned
from snugset.stored import compiled

PROCEDURE = ROOT / "procedures" / "inline-four-solid-shaft.yaml"
SPECS = ROOT / "tests" / "walk" / "inline-four-solid-shaft-specs.yaml"
ENGINES = ("sawmill-four", "dairy-twin", "hay-lift-single", "canal-tug-eight")
LIMIT = 1000
GIVEN = {
    "spec.first-torque": "20 lbf·ft; leaflet; engine oil",
    "spec.second-torque": "40 lbf·ft; leaflet; engine oil",
    "spec.cover-wrench": "20..150 lbf·in; its scale; 4 %",
    "spec.retorque": "hot; leaflet",
    "spec.retorque-torque": "60 lbf·ft; leaflet; engine oil",
    "spec.cool-time": "none",
    "head-tight.second-look": "Linnet",
    "head-flat": "0.001",
    "deck-flat": "0.001",
    "liner": "0.002",
    "coil": "0.070",
    "room-in": "0.120",
    "room-ex": "0.130",
    "neck": "0.430",
    "rags-in": "4",
    "rags-out": "4",
    "roll": "0.001",
    "number-one": "one",
    "number-one-cold": "one",
    "number-one-hot": "one",
    "number-one-single": "still",
    "number-one-single-cold": "still",
    "number-one-single-hot": "still",
    "battery-to-prime": "left off",
    "oil-at-both": "oil",
    "two-turns": "free",
    "holds-air": "holds",
    "leaks-found": "none",
    "clearance": "0.120",
    "contact": "clear",
    "seep-look": "dry",
    "two-turns-again": "free",
    "leaks": "tight",
    "run-again": "even",
}
"""What is typed at a step; Enter at the others."""
WAITS = ("coolant-stand", "bolts-cold-wait")
"""Begun with Enter, then ended before their time, with a reason."""


@cache
def _pinned(engine: str) -> tuple[Pinned, Pinned]:
    return pin(PROCEDURE), pin(ROOT / "procedures" / "engines" / f"{engine}.yaml")


@cache
def _walked(engine: str, *edits: tuple[str, str], **given: str) -> tuple[str, ...]:
    """Walk to the end; give the addresses that were asked, in order."""
    procedure, machine = _pinned(engine)
    shared = pin_shared(PROCEDURE, procedure)
    plan = compiled(procedure, machine, shared)
    text = SPECS.read_text("utf-8")
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    table = Table(plan, procedure, machine, shared).begin(Pinned(file="specs.yaml", text=text))
    valves = str(2 * plan.engine.cylinders)
    bolts = str(len(plan.engine.fasteners["head"].places))
    typed = GIVEN | {
        "lifters-laid": valves,
        "lifters-in": valves,
        "screws-back": valves,
        "bolts-bin": bolts,
        "bolts-new": bolts,
        "bolts-in": bolts,
    }
    typed |= {key.replace("_", "-"): value for key, value in given.items()}
    asked: list[str] = []
    while table.at:
        assert len(asked) < LIMIT
        address = table.asked.address
        asked.append(str(address))
        waiting = address.step in WAITS and asked.count(address.step) > 1
        if address.step == "lash-found":
            typed["lash-found"] = ".012" if address.place.endswith("I") else ".016"
        table.taken("arrived ! looked at it twice" if waiting else typed.get(address.step, ""))
    return tuple(asked)


@pytest.mark.parametrize("engine", ENGINES)
def test_every_valve_of_every_engine_is_set_cold_and_again_hot(engine: str) -> None:
    asked = _walked(engine)
    cylinders = _pinned(engine)[1].text.split("cylinders: ")[1].split()[0]
    places = {f"{n}{valve}" for n in range(1, int(cylinders) + 1) for valve in "IE"}
    for step in ("lash-cold", "lash-hot"):
        read = [at.split("@")[1] for at in asked if at.startswith(f"{step}@")]
        assert sorted(read) == sorted(places)
    assert ("number-one" in asked) == (cylinders != "1")
    assert ("number-one-single" in asked) == (cylinders == "1")


@pytest.mark.parametrize(
    ("way", "step"), [("hot", "bolts-hot"), ("cold", "bolts-cold"), ("never", "")]
)
def test_only_bolts_that_do_not_yield_are_torqued_again_after_the_heat(way: str, step: str) -> None:
    yields = _walked("sawmill-four")
    edits = (
        ('bolts-yield: {value: "yes"', 'bolts-yield: {value: "no"'),
        ("bolt-neck: {none: yes}", f"retorque: {{value: {way}, source: leaflet}}"),
    )
    others = _walked("sawmill-four", *edits)
    choices = {"bolts-hot", "bolts-cold"}
    assert not choices & {at.partition("@")[0] for at in yields}
    bolts = [at for at in others if at.partition("@")[0] in choices]
    assert len(bolts) == (len([at for at in others if at.startswith("probe-hole@")]) if step else 0)
    assert all(at.startswith(f"{step}@") for at in bolts)
    assert ("bolts-bin" in yields, "bolts-bin" in others) == (True, False)
    assert ("bolts-cleaned" in yields, "bolts-cleaned" in others) == (False, True)


@pytest.mark.parametrize("engine", ["sawmill-four", "hay-lift-single"])
def test_bolts_torqued_again_cold_are_followed_by_every_lash_twice(engine: str) -> None:
    edits = (
        ('bolts-yield: {value: "yes"', 'bolts-yield: {value: "no"'),
        ("bolt-neck: {none: yes}", "retorque: {value: cold, source: leaflet}"),
    )
    asked = [at.partition("@")[0] for at in _walked(engine, *edits)]
    last = len(asked) - asked[::-1].index("bolts-cold")
    cold, hot = asked.index("lash-again"), asked.index("lash-hot")
    proven = max(asked.index(at) for at in asked if at.endswith("-cold") and "number-one" in at)
    assert asked.index("bolts-cold-wait") < last <= proven < cold < hot
    assert asked.count("lash-again") == asked.count("lash-hot") == asked.count("lash-cold")


def test_without_a_word_of_the_makers_no_bolt_is_torqued_again() -> None:
    asked = _walked(
        "sawmill-four",
        ('bolts-yield: {value: "yes"', 'bolts-yield: {value: "no"'),
        ("bolt-neck: {none: yes}", "retorque: {none: yes}"),
    )
    assert "bolts-asked" in asked
    assert "bolts-after-heat" not in asked
    assert not [at for at in asked if at.startswith(("bolts-hot", "bolts-cold"))]


def test_used_bolts_are_measured_only_where_their_maker_gives_a_neck() -> None:
    neck = ("bolt-neck: {none: yes}", "bolt-neck: {value: 0.420 in, source: leaflet}")
    asked = _walked("sawmill-four", neck, bolts_again="measured")
    assert len([at for at in asked if at.startswith("neck@")]) == len(
        [at for at in asked if at.startswith("probe-hole@")]
    )
    assert "bolts-bin" not in asked


def test_without_a_camshaft_card_two_positions_are_not_taken() -> None:
    card = '{value: IVO 12 IVC 48 EVO 50 EVC 14 at seat, source: "camshaft card (invented)"}'
    with_card = _walked("sawmill-four")
    without = _walked("sawmill-four", (f"camshaft: {card}", "camshaft: {none: yes}"))
    for crank in ("cold-points", "hot-points"):
        assert f"{crank}.turn@P4" in without
        assert f"{crank}.turn@P3" not in with_card


def test_with_nothing_changed_the_room_for_the_valves_is_not_measured() -> None:
    edits = (
        ('"camshaft, gasket"', "nothing"),
        ("  room-intake: {none: yes}\n  room-exhaust: {none: yes}\n", ""),
        ('  gasket-tried: {value: 0.060 in, source: "measured on the old one (invented)"}\n', ""),
        ('  coil-room: {value: 0.050 in, source: "camshaft card (invented)"}\n', ""),
    )
    measured = {"room-clay", "room-turns", "coil", "room-in", "room-ex", "room-clean"}
    assert measured <= set(_walked("sawmill-four"))
    assert not measured & set(_walked("sawmill-four", *edits))
