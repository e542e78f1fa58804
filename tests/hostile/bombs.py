"""Files made to be large, deep or endless, each within 2 MiB; and those that are no text at all."""

from collections.abc import Mapping
from functools import cache

from .mutants import shipped
from .squares import SQUARES

_STEPS = "snugset: procedure/1\nname: x\nphases:\n  - title: T\n    steps:\n"
_MANY = 45_000


def _procedure(lines: str) -> str:
    return f"{_STEPS}{lines}"


@cache
def bombs() -> Mapping[str, bytes]:
    """Give them by name, built anew: together some 60 MB."""
    files = shipped()
    engine, answers = files.engine, files.answers
    conditions = ", ".join(f"cylinders are {n % 24 + 1}" for n in range(_MANY))
    places = ", ".join(f'"{n}": {{x: {n} in, y: {n} in}}' for n in range(7_000))
    digits = "9" * 1_900_000
    powers = "".join(
        f"{chr(98 + n)}: &{chr(98 + n)} [{','.join([f'*{chr(97 + n)}'] * 9)}]\n" for n in range(9)
    )
    texts = {
        "digits": engine.replace("cylinders: 6", f"cylinders: {digits}"),
        "more digits": engine.replace("ratio: ", f"ratio: {digits}"),
        "a figure of digits": engine.replace("stroke: ", f"stroke: {digits}"),
        "a power of powers": engine.replace("cylinders: 6", "cylinders: 9**9**9"),
        "aliases of aliases": f"a: &a [x,x,x,x,x,x,x,x,x]\n{powers}",
        "a merge": "snugset: engine/1\n<<: {name: x}\n",
        "one name again": "snugset: engine/1\n" + "name: x\n" * _MANY,
        "tags": "".join(f"k{n}: !!python/object/apply:os.system [x]\n" for n in range(24_000)),
        "anchors": "".join(f"k{n}: &a{n} x\n" for n in range(_MANY)),
        "deep": "a: " + "[" * 1_900_000,
        "deep lists": "- " * 900_000,
        "deep names": "? " * 900_000,
        "deep groups": "{a: " * 450_000,
        "many lists": "snugset: engine/1\nx: [" + "[]," * 600_000 + "]",
        "many groups": "snugset: engine/1\nx: {"
        + ",".join(f"a{n}: {{}}" for n in range(_MANY))
        + "}",
        "many documents": "---\n" * 500_000,
        "directives": "%TAG ! x\n" * 200_000,
        "escapes": 'name: "' + "\\x1b" * 480_000 + '"',
        "broken lines": 'name: "' + "\\\n" * 900_000 + '"',
        "colons": "a:" * 900_000,
        "a long name": "snugset: engine/1\nname: " + "a b " * 480_000,
        "conditions": _procedure(f"      - do: d\n        if: [{conditions}]\n"),
        "many steps": _procedure("".join(f"      - {{do: d{n}}}\n" for n in range(16_500))),
        "an order of one place": engine.split("fasteners:")[0]
        + "fasteners:\n  g:\n    kind: stud\n    order: ["
        + '"1", ' * _MANY
        + ']\n    places: {"1": {x: 1 in, y: 1 in}}\n',
        "an order of none": engine.split("fasteners:")[0]
        + "fasteners:\n  g:\n    kind: stud\n    order: ["
        + ", ".join(f"z{n}" for n in range(_MANY))
        + ']\n    places: {"1": {x: 1 in, y: 1 in}}\n',
        "a chain of needs that stand before": _procedure(
            "      - {do: d0}\n"
            + "".join(f"      - {{do: d{n}, needs: d{n - 1}}}\n" for n in range(1, 9_500))
        ),
        "needs that are none": _procedure(
            "".join(f"      - {{do: step{n}, needs: stop{n}}}\n" for n in range(9_900))
        ),
        "words that nothing fills": _procedure(
            "".join(
                f'      - {{do: d{n}, say: "{{figure.f{n}}} {{plaxe}}"}}\n' for n in range(7_400)
            )
        ),
        "groups that are none": _procedure(
            "".join(f"      - {{use: gg{n}}}\n" for n in range(16_500))
        ),
        "a chain of needs": _procedure(
            "".join(f"      - {{do: d{n}, needs: d{n + 1}}}\n" for n in range(9_500))
        ),
        "every place inside every place": _procedure(
            "".join(
                f"{'    ' * n}      - each: e{n}\n{'    ' * n}        over: fasteners\n"
                f"{'    ' * n}        steps:\n"
                for n in range(9)
            )
            + f"{'    ' * 9}      - do: d\n"
        ),
        "rounds inside rounds": _procedure(
            "".join(
                f"{'    ' * n}      - rounds: r{n}\n{'    ' * n}        steps:\n" for n in range(9)
            )
            + f"{'    ' * 9}      - do: d\n"
        ),
        "many places": engine.split("fasteners:")[0]
        + f"fasteners:\n  g: {{kind: stud, places: {{{places}}}}}\n",
        "many features": "snugset: procedure/1\nexpects: {"
        + ", ".join(f"x{n}: y" for n in range(24_000))
        + "}\n",
        "many shared files": "snugset: procedure/1\nshared: ["
        + ", ".join(f"s{n}" for n in range(_MANY))
        + "]\n",
        "groups that use groups": "snugset: steps/1\nname: x\ngroups:\n"
        + "".join(f"  g{n}: [{{use: g{n + 1}}}]\n" for n in range(9_500)),
        "many answers": answers.split("answers:")[0]
        + "answers:\n"
        + "  - {at: gap@1I#1, say: x}\n" * 9_500,
        "reading turned": engine.replace("name: ", "name: \u202e\u2066"),
        "a terminal driven": engine.replace("note: ", 'note: "\\e]0;x\\a" #'),
        "a surrogate written": 'snugset: engine/1\nname: "\\ud800"\n',
        "nothing": "",
        "blank": "\n" * 2_000_000,
        "tabs": "\t" * 2_000_000,
        "returns": "\r" * 2_000_000,
        "separators": "\u2028" * 600_000,
    }
    return {
        **{name: text.encode("utf-8") for name, text in texts.items()},
        **{name: make(most).encode("utf-8") for name, (make, most) in SQUARES.items()},
        "a NUL": b"snugset: engine/1\nname: a\0b\n",
        "a byte order mark": b"\xef\xbb\xbfsnugset: engine/1\n",
        "UTF-16": engine.encode("utf-16"),
        "UTF-32": engine.encode("utf-32"),
        "half a character": b"snugset: engine/1\nname: \xed\xa0\x80\n",
        "too large": b"#" * (3 * 1024 * 1024),
        "bytes": bytes(range(256)) * 4000,
    }


TAKEN = ("many steps", "a chain of needs that stand before", "groups that use groups")
"""Those in which there is no mistake: large, and quick all the same."""
