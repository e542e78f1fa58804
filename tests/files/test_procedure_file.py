"""Procedure files: figures, phases, steps with their kinds."""

from decimal import Decimal

import pytest

from snugset.files.figures import Figure
from snugset.files.problems import Problems
from snugset.files.procedure import KindBlock, Procedure, Step, procedure_schema, read_procedure
from snugset.files.shapes import Block, Field, Text
from snugset.files.tree import Node
from snugset.units import Quantity

from .kinds import KINDS
from .reading import PROCEDURE, changed, told, value


def read(node: Node, into: Problems) -> Procedure | None:
    return read_procedure(node, KINDS, into)


def steps(text: str) -> tuple[Step, ...]:
    """Return the steps of a procedure that holds these."""
    head = "snugset: procedure/1\nname: x\nphases:\n- title: t\n  steps:\n"
    return value(head + text, read).phases[0].steps


def test_a_procedure_is_read_whole() -> None:
    procedure = value(PROCEDURE, read)
    assert procedure.expects == {"cylinders": "6", "rockers": "bridged"}
    (phase,) = procedure.phases
    assert phase.title == "Head"
    gasket, studs = phase.steps
    assert (gasket.kind, gasket.id, str(gasket.mark)) == ("do", "lay-gasket", "f:20:9")
    assert gasket.say == "Lay the gasket dry."
    assert gasket.caution == ("Look down every hole.",)
    assert (gasket.people, gasket.meanwhile, gasket.view) == (2, False, "")
    assert gasket.block == {"count": ""}
    assert studs.block == {"over": "fasteners"}
    (depth,) = studs.children["steps"]
    assert (depth.needs, depth.meanwhile, depth.view) == (("lay-gasket",), True, "map")


def test_figures_know_their_names_and_what_they_ask() -> None:
    figures = value(PROCEDURE, read).figures
    assert list(figures) == ["stages", "wrench", "window", "target", "camshaft"]
    stages: Figure = figures["stages"]
    assert (stages.name, stages.form, stages.wrench) == ("stages", "rising", "wrench")
    assert stages.plausible == (Quantity(Decimal(10), "lbf·ft"), Quantity(Decimal(200), "lbf·ft"))
    assert figures["target"].within == "window"
    assert figures["camshaft"].none == "Each cylinder at its own dead centre."


def test_children_that_may_be_left_out_are_empty() -> None:
    (rounds,) = steps("  - rounds: r\n    steps: [{read: a}]\n    judge: [{judge: b}]\n")
    assert [step.id for step in rounds.children["judge"]] == ["b"]
    assert rounds.children["again"] == ()


def test_a_key_that_is_a_kind_and_a_field_of_the_steps_kind_is_the_field() -> None:
    (torque,) = steps("  - torque: t\n    read: gap\n")
    assert (torque.kind, torque.id, torque.block) == ("torque", "t", {"read": "gap"})


def test_a_kind_whose_fields_hide_those_of_every_step_is_a_fault_of_the_program() -> None:
    for name in ("say", "turn", "steps"):
        block: Block[object] = Block(dict, {name: Field(Text())})
        kind = KindBlock(name="turn", block=block, children=("steps",))
        with pytest.raises(ValueError, match=f"kind turn .* {{'{name}'}}"):
            procedure_schema({"turn": kind})


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "- do: lay-gasket",
            "- doo: lay-gasket",
            ["20:9: “doo” is no kind of step (did you mean “do”?)"],
        ),
        (
            "- do: lay-gasket",
            "- do: [lay-gasket]",
            [
                "20:13: a list stands where the id of a do step belongs",
            ],
        ),
        (
            "- do: lay-gasket\n        say",
            "- say",
            [
                (
                    "20:9: this step has no kind; give it an id after do, read, "
                    "judge, torque, each or rounds"
                ),
            ],
        ),
        (
            "- do: lay-gasket",
            "- do: lay-gasket\n        each: x",
            [
                "21:9: “do” and “each” are both kinds; a step has one, and its id stands after it",
            ],
        ),
        (
            "read: depth",
            "read: lay-gasket",
            [
                (
                    "27:19: the id “lay-gasket” is given twice, first in line 20; "
                    "each step has its own"
                ),
            ],
        ),
        (
            "read: depth",
            "read: spec.depth",
            [
                "27:19: the id “spec.depth” is kept for the guide itself; take another",
            ],
        ),
        (
            "needs: lay-gasket",
            "needs: [lay-gaskets]",
            [
                "28:21: there is no step “lay-gaskets” (did you mean “lay-gasket”?)",
            ],
        ),
        (
            "        say: Lay",
            "        sya: Lay",
            ["21:9: “sya” is no field here (did you mean “say”?)"],
        ),
        (
            "over: fasteners",
            "over: fastners",
            [
                "25:15: “fastners” is not fasteners or cylinders (did you mean “fasteners”?)",
            ],
        ),
        ("people: 2", "people: two", ["23:17: “two” is not a whole number from 1 to 6"]),
        (
            "meanwhile: yes",
            "meanwhile: true",
            ["29:24: “true” is neither yes nor no; write one of them"],
        ),
        (
            "expects: {rockers: bridged",
            "expects: {rockres: bridged",
            [
                "3:11: “rockres” is no field here (did you mean “rockers”?)",
            ],
        ),
        (
            "rockers: bridged",
            "rockers: roller",
            ["3:20: “roller” is not bridged, pedestal, shaft or stud"],
        ),
        (
            "    unit: lbf·ft\n",
            "    unit: thou\n",
            [
                "8:11: thou is no unit of a torque; write lbf·ft, lbf·in, N·m or kgf·m",
            ],
        ),
        (
            "    unit: lbf·ft\n",
            "",
            [
                "6:5: “unit” is missing here; a torque takes lbf·ft, lbf·in, N·m or kgf·m",
            ],
        ),
        (
            "kind: camshaft,",
            "kind: camshaft, unit: deg,",
            [
                "16:36: a camshaft has no “unit”; take it out",
            ],
        ),
        (
            "kind: camshaft,",
            "kind: choice,",
            ["16:13: “choices” is missing here; a choice takes a list of them"],
        ),
        (
            "within: window",
            "within: windwo",
            [
                "15:11: “within” names “windwo”, which is no figure here (did you mean “window”?)",
            ],
        ),
        (
            "within: window",
            "within: stages",
            [
                (
                    "15:11: “within” names “stages”, which is no window of "
                    "length; give it that kind and "
                    "form: window"
                ),
            ],
        ),
        (
            "within: window",
            "none-value: 35 thou",
            [
                "15:75: this is read for want of the figure; “none” must say so aloud",
            ],
        ),
        ("within: window", "none: Taken in the middle, none-value: 35 lbf·ft", None),
        (
            "phases:\n",
            "phases: []\nx:\n",
            [
                "17:9: this list has no entry; 1 is needed",
                (
                    "18:1: “x” is no field here; known here are snugset, name, note, "
                    "expects, shared, leaves, figures, phases"
                ),
            ],
        ),
    ],
)
def test_a_mistake_is_told_with_place_and_fix(
    old: str, new: str, expected: list[str] | None
) -> None:
    found = told(changed(PROCEDURE, old, new), read)
    if expected is None:
        assert [line.split(" ")[0] for line in found] == ["f:15:102:"]
    else:
        assert found == [f"f:{line}" for line in expected]


def test_children_that_must_be_there_are_asked_for() -> None:
    text = changed(
        PROCEDURE,
        (
            "          - read: depth\n            needs: lay-gasket\n            "
            "meanwhile: yes\n            view: map\n"
        ),
        "",
    )
    assert told(changed(text, "        steps:\n", ""), read) == [
        "f:24:9: “steps” is missing here; it takes a list of steps"
    ]


def test_mistakes_inside_a_step_without_a_kind_are_told_and_its_id_is_not_missed() -> None:
    text = changed(PROCEDURE, "- each: studs", "- eahc: studs")
    text = changed(text, "needs: lay-gasket", "needs: studs\n            veiw: map")
    assert told(text, read) == [
        "f:24:9: “eahc” is no kind of step (did you mean “each”?)",
        "f:29:13: “veiw” is no field here (did you mean “view”?)",
    ]


def test_a_quantity_in_a_declaration_is_told_at_its_own_place() -> None:
    (line,) = told(changed(PROCEDURE, "plausible: 10..200 lbf·ft", "plausible: 10..200 thou"), read)
    assert line.startswith("f:10:16: ")


def test_the_schema_has_every_kind_and_refers_to_steps_by_name() -> None:
    schema = procedure_schema(KINDS)
    kinds = schema["$defs"]["step"]["oneOf"]
    assert [kind["required"] for kind in kinds][4:] == [
        ["each", "over", "steps"],
        ["rounds", "steps", "judge"],
        ["use"],
    ]
    assert kinds[4]["properties"]["steps"]["items"] == {"$ref": "#/$defs/step"}
    assert "say" in kinds[0]["properties"]
    phase = schema["properties"]["phases"]["items"]
    assert phase["properties"]["steps"]["items"] == {"$ref": "#/$defs/step"}
