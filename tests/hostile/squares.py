"""Files in which much is held against much, by how much of it there is.

Each can be made so large that it only just is read; where every thing was held against every other,
that took minutes.
"""

from collections.abc import Callable, Mapping

from .mutants import shipped

_TITLE = "snugset: procedure/1\nname: x\n"
_STEPS = "phases:\n  - title: T\n    steps:\n"


def _figures(count: int, fields: str = "kind: text, ask: q, none: n") -> str:
    return "figures:\n" + "".join(f"  f{n}: {{{fields}}}\n" for n in range(count))


def _steps(count: int, fields: str) -> str:
    """Give steps by their number n, and that of the one before."""
    return "".join(f"      - {{{fields.format(n=n, m=n - 1)}}}\n" for n in range(1, count))


def _procedure(steps: str, figures: str = "") -> str:
    return f"{_TITLE}{figures}{_STEPS}      - {{do: d0, count: all}}\n{steps}"


def _shared(groups: str) -> str:
    return f"snugset: steps/1\nname: x\ngroups:\n{groups}"


def _engine(groups: str) -> str:
    return shipped().engine.split("fasteners:")[0] + f"fasteners:\n{groups}"


def _places(count: int) -> str:
    return ", ".join(f"p{n}: {{x: {n % 40} in, y: {n // 40} in}}" for n in range(count))


def _conditions(count: int) -> str:
    inner = _procedure("")
    for level in range(9):
        pad = " " * (6 + 4 * level)
        held = ", ".join(f"figure f is not w{level * 24 + n}" for n in range(24))
        inner += (
            f"{pad}- each: e{level}\n{pad}  over: cylinders\n{pad}  if: [{held}]\n{pad}  steps:\n"
        )
    pad = " " * 42
    held = ", ".join(f"figure f is not v{n}" for n in range(24))
    return inner + "".join(f"{pad}- {{do: d{n}x, if: [{held}]}}\n" for n in range(count))


SQUARES: Mapping[str, tuple[Callable[[int], str], int]] = {
    "needs": (lambda n: _procedure(_steps(n, "do: d{n}, needs: d{m}")), 9_500),
    "needs of one step": (
        lambda n: _procedure(
            _steps(n, "do: d{n}")
            + f"      - {{do: last, needs: [{', '.join(f'd{k}' for k in range(n))}]}}\n"
        ),
        12_000,
    ),
    "needs that are not there": (
        lambda n: _procedure(
            f"      - {{do: e, needs: [{', '.join(f'q{k}' for k in range(n))}]}}\n"
        ),
        47_500,
    ),
    "steps named": (
        lambda n: _procedure(_steps(n, "do: d{n}, count: all, same-as: d{m}")),
        6_500,
    ),
    "steps named that are not there": (
        lambda n: _procedure(_steps(n, "do: d{n}, count: all, same-as: q{m}")),
        6_500,
    ),
    "what was changed": (
        lambda n: _procedure(
            _steps(n, "do: d{n}, if: changed head, say: '{{figure.f{m}}}'"),
            _figures(n) + "  c: {kind: changes, ask: q}\n",
        ),
        3_000,
    ),
    "figures that hang on one another": (
        lambda n: _procedure(
            "      - {do: d, say: '{figure.f1}'}\n",
            "figures:\n"
            + "".join(
                f"  f{k}: {{kind: text, ask: q, none: n, if: figure f{k + 1} is had}}\n"
                for k in range(n)
            )
            + f"  f{n}: {{kind: text, ask: q, none: n}}\n",
        ),
        4_750,
    ),
    "words of one step that nothing fills": (
        lambda n: _procedure(
            "      - {do: e, caution: [" + ", ".join(f"'{{q{k}}}'" for k in range(n)) + "]}\n"
        ),
        47_500,
    ),
    "choices": (
        lambda n: _procedure(f"      - {{do: e, choices: [{', '.join(['again'] * n)}]}}\n"),
        47_500,
    ),
    "options": (
        lambda n: _procedure(
            "      - choose: c\n        options:\n"
            + "".join(f"          o{k}: [{{do: e{k}}}]\n" for k in range(n))
        ),
        9_500,
    ),
    "conditions under conditions": (_conditions, 1_500),
    "cranks that nothing proves": (
        lambda n: _procedure(
            _steps(n, "turn: t{n}, prove: yes, if: cylinders are 4")
            + "".join(
                f"      - crank: c{k}\n        over: valves\n"
                f"        if: [cylinders are 3, rockers are not bridged]\n"
                f"        steps: [{{do: e{k}}}]\n"
                for k in range(n)
            )
        ),
        2_000,
    ),
    "groups used": (
        lambda n: _shared(
            "".join(f"  g{k}: [{{use: g{k + 1}}}, {{do: d{k}}}]\n" for k in range(n))
        ),
        5_500,
    ),
    "figures brought": (
        lambda n: (
            "snugset: specs/1\nfigures:\n"
            + "".join(f"  f{k}: {{value: 1 in, source: s}}\n" for k in range(n))
        ),
        8_000,
    ),
    "groups of fasteners": (
        lambda n: _engine(
            "".join(f"  g{k}: {{kind: stud, places: {{{_places(200)}}}}}\n" for k in range(n))
        ),
        40,
    ),
    "rows": (
        lambda n: _engine(
            f"  g: {{kind: stud, rows: [{', '.join(['r'] * n)}], places: {{{_places(200)}}}}}\n"
        ),
        45_000,
    ),
    "an order": (
        lambda n: _engine(
            f"  g: {{kind: stud, order: [{', '.join(f'q{k % 3000}' for k in range(n))}],"
            f" places: {{{_places(200)}}}}}\n"
        ),
        45_000,
    ),
    "firing": (
        lambda n: shipped().engine.replace(
            "firing-order: [", f"firing-order: [{', '.join(str(k % 24 + 1) for k in range(n))}, "
        ),
        45_000,
    ),
    "one long line": (
        lambda n: _TITLE + "expects: {" + ", ".join(f"'a{k}': b" for k in range(n)) + "}\n",
        24_000,
    ),
    "one name again and again": (lambda n: _TITLE + "note: y\n" * n, 24_000),
}
"""By name: the text for a count, and the largest count that is read to its end."""
