"""What check refuses in a file being written, though a build could be begun with it."""

from pathlib import Path

import pytest

from snugset.files.engine import Engine, read_engine
from snugset.files.problems import Problems
from snugset.files.procedure import read_procedure
from snugset.files.tree import parse
from snugset.guide.kinds import BLOCKS
from snugset.plan.check import check_against, check_procedure
from snugset.plan.written import check_written, check_written_for
from snugset.shipped import engines

FIGURES = """\
figures:
  way: {kind: choice, choices: [hot, cold], ask: Which?, none: Neither.}
  wish: {kind: length, unit: in, ask: How much?, none: Nothing.}
  card: {kind: camshaft, ask: Which card?, none: None.}
  pull: {kind: torque, unit: lbf·ft, ask: How tight?, none: As it was.}
  wait: {kind: time, unit: min, ask: How long?, none: As it takes.}
  changes: {kind: changes, ask: What was changed?}
  lengths: {kind: length, form: catalogue, unit: in, ask: Which?, none: None.}
"""
USED = """\
      - do: told
        say: "{figure.way} {figure.wish} {figure.card} {figure.pull} {figure.wait} {figure.lengths}"
        if: [changed anything]
"""
PROVE = "- turn: n1\n  prove: yes\n"
TWICE = """\
- each: e
  over: valves
  steps:
  - lash: a
    figure: f
    unit: in
    at: hot
    before: b
  - lash: b
    figure: f
    unit: in
    at: cold
"""
ROUNDS = """\
- rounds: r
  figure: f
  steps:
  - each: e
    over: bridges
    steps:
    - each: v
      over: valves
      steps:
      - preload: a
        figure: f
        unit: thou
        line: b
    - do: b
  judge: [{judge: j, pushrod: wish, catalogue: lengths}]
  again: [{do: n}]
"""
CRANK = "- crank: c\n  over: cylinders\n  steps: [{do: z, say: Look.}]\n"


def procedure(steps: str, head: str = "") -> str:
    inner = "".join(f"      {line}\n" for line in steps.splitlines())
    return (
        f"snugset: procedure/1\nname: p\n{head}{FIGURES}phases:\n  - title: All\n    steps:\n"
        f"{USED}{inner}"
    )


def told(steps: str, head: str = "", engine: Engine | None = None) -> list[str]:
    """Give what is told of steps, each with the line among them and the column."""
    text = procedure(steps, head)
    into = Problems()
    node = parse(text, "p", into)
    assert node is not None, into.items
    found = read_procedure(node, BLOCKS, into)
    assert found is not None, into.items
    check_procedure(found, into)
    assert not into, into.items
    check_written(found, into)
    if engine is not None:
        check_against(found, engine, node.mark, into)
        check_written_for(found, engine, into)
    before = procedure("", head).count("\n")
    return [
        f"{problem.mark.line - before}:{problem.mark.column - 6}: {problem.text}"
        for problem in into.items
    ]


def engine(name: str) -> Engine:
    into = Problems()
    node = parse(Path(engines()[name]).read_text("utf-8"), name, into)
    found = None if node is None else read_engine(node, into)
    assert found is not None
    return found


def test_nothing_is_told_of_steps_in_order() -> None:
    steps = (
        "- do: in\n  count: rags\n- do: out\n  count: rags\n  same-as: in\n  needs: in\n"
        + PROVE
        + CRANK
    )
    assert told(steps) == []


@pytest.mark.parametrize(
    ("steps", "place", "says"),
    [
        (
            "- do: a\n  needs: [told, b]\n- do: b\n",
            "2:17",
            "a: it needs “b”, which stands after it",
        ),
        (
            "- do: a\n  count: rags\n  same-as: b\n- do: b\n  count: rags\n",
            "3:12",
            "a: “same-as” names “b”, which stands after it",
        ),
        (
            "- hold: a\n  time: wait\n  since: b\n- do: b\n",
            "3:10",
            "a: “since” names “b”, which stands after it",
        ),
        (
            TWICE,
            "8:13",
            "a: “before” names “b”, which stands after it",
        ),
        (
            ROUNDS,
            "13:15",
            "a: “line” names “b”, which stands after it",
        ),
        (
            "- choose: q\n  options: {x: [{do: a}], y: [{do: b, needs: a}]}\n",
            "2:46",
            "b: it needs “a”, which stands under another answer of “q”, “x”",
        ),
        (
            "- choose: q\n  options: {x: [{do: a}], y: []}\n- do: b\n  needs: a\n",
            "4:10",
            "b: it needs “a”, which is done only where “q” is answered “x”",
        ),
    ],
)
def test_a_step_that_is_not_done_by_then_is_told(steps: str, place: str, says: str) -> None:
    found = told(steps)
    assert [line for line in found if line.startswith(f"{place}: {says}")], found


@pytest.mark.parametrize(
    ("steps", "place", "says"),
    [
        (
            "- turn: n1\n  prove: yes\n  if: rockers are bridged\n" + CRANK,
            "4:3",
            (
                "c: the crank can be used here with number one not proven; n1 proves it only where "
                "“rockers are bridged”: give this the same condition"
            ),
        ),
        (
            "- turn: n1\n  prove: yes\n  if: figure way is hot\n"
            "- turn: n2\n  prove: yes\n  if: figure way is cold\n" + CRANK,
            "7:3",
            "n2 proves it only where “figure way is cold”",
        ),
        (
            "- choose: q\n  options: {x: [{turn: n1, prove: yes}], y: []}\n" + CRANK,
            "3:3",
            "n1 proves it only where “q” is answered “x”",
        ),
        (
            "- turn: n1\n  prove: yes\n  if: changed camshaft or head\n"
            + CRANK.replace("over: cyl", "if: changed head or springs\n  over: cyl"),
            "4:3",
            "n1 proves it only where “changed camshaft or head”",
        ),
    ],
)
def test_a_crank_that_can_be_come_to_unproven_is_told(steps: str, place: str, says: str) -> None:
    (found,) = told(steps)
    assert found.startswith(f"{place}: ")
    assert says in found


@pytest.mark.parametrize(
    "steps",
    [
        "- turn: n1\n  prove: yes\n  if: rockers are bridged\n"
        + CRANK.replace("over:", "if: rockers are bridged\n  over:"),
        "- turn: n1\n  prove: yes\n  if: rockers are bridged\n"
        "- turn: n2\n  prove: yes\n  if: rockers are not bridged\n" + CRANK,
        "- turn: n1\n  prove: yes\n  if: changed camshaft or head\n"
        + CRANK.replace("over:", "if: changed head\n  over:"),
        "- choose: q\n  options: {x: [{turn: n1, prove: yes}], y: [{turn: n2, prove: yes}]}\n"
        + CRANK,
        "- choose: q\n  figure: way\n  options: {hot: [{turn: n1, prove: yes}], cold: []}\n"
        + CRANK.replace("over:", "if: figure way is hot\n  over:"),
    ],
)
def test_a_crank_that_is_always_proven_is_not(steps: str) -> None:
    assert told(steps) == []


def test_what_is_expected_of_the_engine_counts_for_the_proof() -> None:
    steps = "- turn: n1\n  prove: yes\n  if: rockers are bridged\n" + CRANK
    assert told(steps, "expects: {rockers: bridged}\n") == []


READ = "- read: {}\n  figure: f\n  unit: {}\n"


@pytest.mark.parametrize(
    ("steps", "place", "says"),
    [
        (
            "- do: a\n- do: b\n  count: rags\n  same-as: a\n",
            "4:12",
            "b: “same-as” names “a”, which counts nothing; give that a “count”",
        ),
        (
            "- do: a\n  count: rags\n- do: b\n  same-as: a\n",
            "4:12",
            "b: “same-as” holds a count against another; say under “count” what is counted",
        ),
        (
            "- do: a\n  equals: valves\n",
            "2:11",
            "a: “equals” holds a count against another",
        ),
        (
            "- do: a\n  count: rags\n  choices: [one, two]\n",
            "2:10",
            "a: it asks for a count and offers choices; a step asks for one of them",
        ),
        (
            "- do: a\n  choices: [hot, hotter, Hot]\n",
            "2:13",
            "a: “Hot” is offered twice; each choice has words of its own",
        ),
        (
            "- do: a\n  choices: [hot]\n",
            "2:13",
            "a: “hot” is its only choice; give two or more, or none",
        ),
        (
            "- do: a\n  marks: hole\n  choices: [hot, cold]\n",
            "3:13",
            "a: “marks: hole” has its own answers; leave the choices out",
        ),
        (
            READ.format("a", "in") + READ.format("b", "lbf·ft"),
            "5:11",
            "b: “f” is a ledger of length, by a, and this reading is of torque",
        ),
        (
            "- do: a\n  guards: [lash]\n",
            "2:12",
            "a: the guard lash can never hold: a lash step must stand before it",
        ),
        (
            "- do: a\n  guards: [bled, preload]\n",
            "2:18",
            "a: the guard preload can never hold: a preload or nut step must stand before it",
        ),
        (
            "- do: a\n  guards: [studs]\n",
            "2:12",
            "a: the guard studs can never hold: a step with “marks: stud” must stand before it",
        ),
        (
            '- do: a\n  say: "see {place"\n',
            "2:8",
            "a: a brace stands alone in its words",
        ),
        (
            '- do: a\n  say: "See {length} of {hole}"\n',
            "2:8",
            "a: {length} reads nothing here: it stands at no place; it reads at fasteners and valv",
        ),
        (
            '- each: e\n  over: valves\n  steps:\n  - do: a\n    say: "{place}: {hole}"\n',
            "5:10",
            "a: {hole} reads nothing here: it stands at valves; it reads at fasteners",
        ),
    ],
)
def test_what_makes_no_sense_together_is_told(steps: str, place: str, says: str) -> None:
    found = told(steps)
    assert [line for line in found if line.startswith(f"{place}: {says}")], found


def test_a_word_used_where_it_reads_something_is_not_told() -> None:
    steps = (
        "- each: e\n  over: fasteners\n  steps:\n"
        '  - do: a\n    say: "{place} {key} {length} {hole}"\n'
        '- each: v\n  over: valves\n  steps:\n  - do: b\n    say: "{place} {length} {cylinder}"\n'
        '- tighten: t\n  group: head\n  stages: pull\n  say: "{place} {length}"\n'
        + READ.format("x", "in")
        + READ.format("y", "thou").replace("figure: f", "figure: f")
    )
    assert told(steps) == []


LASH = """- each: e
  over: valves
  steps:
  - lash: a
    figure: f
    unit: in
    at: hot
"""


@pytest.mark.parametrize(
    ("steps", "name", "says"),
    [
        (
            PROVE + CRANK.replace("cylinders", "bridges"),
            "sawmill-four",
            "3:3: c: it goes over bridges, and this engine's rockers are on a shaft; go over",
        ),
        (
            LASH,
            "barn-pump-six",
            "4:5: a: a lash is for solid lifters, and this engine's are hydraulic",
        ),
        (
            LASH.replace("lash: a", "nut: a").replace("at: hot", "thread: thread\n    turns: n"),
            "sawmill-four",
            "4:5: a: a nut is for hydraulic lifters, and this engine's are solid",
        ),
    ],
)
def test_a_step_that_the_engine_has_no_place_for_is_told(
    steps: str, name: str, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    if "nut: a" in steps:
        more = "  thread: {kind: thread, ask: Which?}\n  n: {kind: number, ask: How many?}\n"
        monkeypatch.setitem(globals(), "FIGURES", FIGURES + more)
    found = told(steps, "leaves: [head, cover, rocker-shaft]\n", engine(name))
    assert [line for line in found if line.startswith(says)], found
    feature = "rockers are bridged" if "bridges" in steps else "lifters are solid"
    wanted = "lifters are hydraulic" if "nut: a" in steps else feature
    kept = steps.replace("  over:", f"  if: {wanted}\n  over:", 1)
    assert told(kept, "leaves: [head, cover, rocker-shaft]\n", engine(name)) == []


def test_a_step_that_expects_rule_out_is_told_without_an_engine() -> None:
    assert told(LASH, "expects: {lifters: hydraulic}\n") == [
        (
            "4:5: a: a lash is for solid lifters, and by “expects” they are hydraulic: a hydraulic "
            "lifter has no lash to set; write “if: lifters are solid”, or take it out"
        )
    ]


def test_a_group_that_is_neither_tightened_nor_left_is_told() -> None:
    shaft = engine("sawmill-four")
    tighten = "- tighten: t\n  group: head\n  stages: pull\n"
    found = told(tighten, "leaves: covr\n", shaft)
    assert [line.partition(": ")[2] for line in found] == [
        (
            f"no step of the procedure tightens the group “{name}”; give it a tighten or stages "
            f"there, or say under “leaves” that it stays as it is: leaves: [{name}]{near}"
        )
        for name, near in (("rocker-shaft", ""), ("cover", " (did you mean “covr”?)"))
    ]
    assert told(tighten, "leaves: [cover, rocker-shaft]\n", shaft) == []
    (one,) = told(tighten, "leaves: [cover, rocker-shaft, head]\n", shaft)
    assert "“head” stands under “leaves”, and a step tightens it; take it out here" in one
    never = tighten.replace("  group", "  if: rockers are bridged\n  group")
    (one,) = told(never, "leaves: [cover, rocker-shaft]\n", shaft)
    assert "no step of the procedure tightens the group “head”" in one


def test_a_preload_in_a_unit_that_is_no_length_is_told() -> None:
    assert told(ROUNDS.replace("unit: thou", "unit: cc").replace("        line: b\n", "")) == [
        "12:15: a: “cc” is not in, thou or mm"
    ]


@pytest.mark.parametrize("line", ["caution: Hot.", "tools: wrench", "people: 2", "needs: told"])
def test_what_a_container_cannot_say_is_told(line: str) -> None:
    name = line.partition(":")[0]
    steps = f"- each: e\n  over: valves\n  {line}\n  steps: [{{do: q}}]\n"
    (found,) = told(steps)
    assert found.startswith("3:3: ")
    assert found.endswith(f"e: “{name}” is not used on an each; put it on a step that it holds")
