"""The shipped files as a builder needs them: nuts after the first heat, and the crank turned."""

import re
from collections.abc import Iterator, Mapping

import yaml

from driving import ROOT, Table, table

PROCEDURES = sorted((ROOT / "procedures").glob("*.yaml"))
SHARED = sorted((ROOT / "procedures" / "shared").glob("*.yaml"))
TURNED = re.compile(
    r"(?<!not )\bturn(s)? the crank\b|\bfull turns\b|\bturns by hand\b|\bquarter by hand\b"
    r"|\bBolt a stop over piston\b|\bstarter prime it\b|^Start it\b|\bstart, run it\b",
    re.IGNORECASE,
)
"""Words of a step in which somebody, or the starter, turns the crank."""
ALSO = ("prime", "timing-set", "clearances-due", "clearances-done")
"""Steps that say it in other words."""
NOTHING_DRAWN = (
    "timing-turns",
    "dead-centre",
    "start",
    "room-turns",
    "warm-again",
    "clearances-done",
)
"""No rocker is drawn down yet, it has run, or the step before has waited: nothing to bleed."""


def _shut_down(retorque: str) -> Table:
    """Play the demo up to the end of its first heat, with another word on its nuts."""
    told = "  retorque:\n    value: cold\n    source: gasket maker's sheet (invented)\n"
    more = (
        "  retorque-torque:\n    value: 85 lbf·ft\n    source: gasket maker's sheet (invented)\n"
        "    assumes: engine oil\n"
    )
    cool = "  cool-time:\n    none: yes\n"

    def edit(text: str) -> str:
        assert told + more + cool in text
        kept = (more if retorque in ("hot", "cold") else "") + (cool if retorque == "cold" else "")
        word = f"value: {retorque}\n    source: leaflet" if retorque != "none" else "none: yes"
        return text.replace(told + more + cool, f"  retorque:\n    {word}\n{kept}")

    bench = table(edit=edit).until("shut-down")
    bench.taken("")
    return bench


def _round_the_head(bench: Table, step: str) -> None:
    """Tighten nut by nut to the end; the cover is off meanwhile and then goes on again."""
    assert bench.state.condition.mark("cover-on", "") is None
    for _ in range(14):
        assert bench.at.startswith(f"{step}@1.")
        bench.taken("")
    assert bench.at == "after-heat-cover-on"
    bench.taken("")
    assert bench.at.startswith("after-heat-cover@")


def test_hot_means_at_once_nut_by_nut() -> None:
    bench = _shut_down("hot")
    assert bench.at == "nuts-hot-ready"
    bench.taken("")
    assert "85 lbf·ft" in " ".join(bench.asked.facts)
    _round_the_head(bench, "nuts-hot")


def test_cold_means_that_the_engine_has_cooled() -> None:
    bench = _shut_down("cold")
    assert bench.at == "nuts-cold-wait"
    bench.taken("")
    assert bench.refused("arrived").code == "early"
    bench.taken("arrived ! stood since yesterday")
    assert bench.at == "nuts-cold-ready"
    bench.taken("")
    _round_the_head(bench, "nuts-cold")


def test_never_leaves_the_nuts_alone() -> None:
    assert _shut_down("never").at.startswith("after-heat-cover@1.")


def test_not_known_is_asked_for_and_an_answer_that_comes_then_counts() -> None:
    bench = _shut_down("none")
    assert bench.at == "after-heat-asked"
    bench.taken("again hot; the maker on the telephone", at="spec.retorque")
    assert bench.at == "spec.retorque-torque"
    assert bench.refused("85 lbf·in; the maker; engine oil").code == "wrench-range"
    bench.taken("85 lbf·ft; the maker; engine oil")
    assert bench.at == "nuts-hot-ready"


def _dos(node: object) -> Iterator[Mapping[str, object]]:
    """Give every `do` in a file, however deep."""
    if isinstance(node, Mapping):
        if "do" in node:
            yield node
        for inner in node.values():
            yield from _dos(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _dos(inner)


def test_a_step_in_which_the_crank_is_turned_says_so_and_waits_for_filled_lifters() -> None:
    turning = {
        str(step["do"]): step
        for file in (*PROCEDURES, *SHARED)
        for step in _dos(yaml.safe_load(file.read_text("utf-8")))
        if step["do"] in ALSO or TURNED.search(str(step.get("say", "")))
    }
    assert {*ALSO, "two-turns", "clay-turned", "holds-air", "wipe-pattern"} <= set(turning)
    assert not [name for name, step in turning.items() if step.get("clears") != "crank"]
    loose = {name for name, step in turning.items() if "bled" not in str(step.get("guards", ""))}
    assert loose == set(NOTHING_DRAWN)


def test_a_figure_of_two_shared_files_is_asked_the_same_way() -> None:
    first: dict[str, object] = {}
    several = 0
    for file in SHARED:
        for name, figure in yaml.safe_load(file.read_text("utf-8")).get("figures", {}).items():
            several += name in first
            assert first.setdefault(name, figure) == figure, (file.name, name)
    assert several >= 6
