"""A published list of crank positions and the valves set at them, held against the card."""

import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

from snugset.commands.declare import MistakesError
from snugset.commands.layout import columns
from snugset.commands.output import say, say_json
from snugset.files.engine import Engine
from snugset.files.problems import Mark, Problems, did_you_mean, quote
from snugset.files.tree import Fields, Items, Node, Scalar, parse
from snugset.opening import pin
from snugset.trade.camshaft import Events, ListCheck, arcs, check_list
from snugset.trade.circle import CYCLE, plain

Line = tuple[Decimal, tuple[str, ...]]
"""An angle, and the valves that are set there."""

_ANGLE = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,3})?)\s*(?:°|deg)?")
_FORM = "0: 1I 1E 2I, an angle, a colon and the valves"


def check(path: Path, engine: Engine, events: Events, margin: Decimal, *, json: bool) -> int:
    """Show the margin of every valve in a list; 1 if it cannot be worked by, else 0."""
    closed = arcs(engine.firing_order, engine.intervals, events, bridged=False)
    found = check_list(_read(path, tuple(closed)), closed, thin=margin)
    parted = _parted(found) if engine.rockers == "bridged" else ()
    if json:
        say_json(_as_json(path, engine, found, parted))
    else:
        _show(engine, found, parted)
    bad = any(claim.margin < 0 for claim in found.claims) or found.missing or parted
    return 1 if bad else 0


def _read(path: Path, valves: tuple[str, ...]) -> list[Line]:
    """Read a list file; MistakesError with every mistake in it."""
    pinned, into = pin(path, str(path)), Problems()
    node = parse(pinned.text, pinned.file, into)
    lines = [] if node is None else list(_lines(node, valves, into))
    if into:
        raise MistakesError(into.items)
    return lines


def _lines(node: Node, valves: tuple[str, ...], into: Problems) -> Iterator[Line]:
    if not isinstance(node, Fields) or not node.fields:
        into.add(node.mark, f"a line belongs here such as {_FORM}")
        return
    for text, (key, value) in node.fields.items():
        angle = _ANGLE.fullmatch(text.strip())
        if angle is None or Decimal(angle[1]) > CYCLE:
            into.add(key.mark, f"{quote(text)} is no angle from 0 to 720; write {_FORM}")
            continue
        named = [
            valve
            for word, mark in _words(value, into)
            for valve in _valves(word, mark, valves, into)
        ]
        yield Decimal(angle[1]), tuple(named)


def _words(node: Node, into: Problems) -> Iterator[tuple[str, Mark]]:
    """Yield the places of a line: one text, or a list of texts."""
    for part in node.items if isinstance(node, Items) else (node,):
        if not isinstance(part, Scalar) or not part.text.strip():
            into.add(part.mark, f"valves belong here; write {_FORM}")
            continue
        yield from ((word, part.mark) for word in part.text.replace(",", " ").split())


def _valves(word: str, mark: Mark, valves: tuple[str, ...], into: Problems) -> tuple[str, ...]:
    """Give the valve that a word names, or both of a cylinder's."""
    named = word.upper()
    if named in valves:
        return (named,)
    both = (f"{named}I", f"{named}E")
    if both[0] in valves:
        return both
    near = did_you_mean(named, valves) or "; write 1I, 1E, or 1 for both of number one's"
    into.add(mark, f"the engine has no valve {quote(word)}{near}")
    return ()


def _parted(found: ListCheck) -> tuple[int, ...]:
    """Give the cylinders whose two valves are never set at one position."""
    angles: dict[str, set[Decimal]] = {}
    for claim in found.claims:
        angles.setdefault(claim.place, set()).add(claim.angle)
    cylinders = dict.fromkeys(int(place[:-1]) for place in angles)
    return tuple(
        one
        for one in cylinders
        if not angles.get(f"{one}I", set()) & angles.get(f"{one}E", set())
        and {f"{one}I", f"{one}E"} <= angles.keys()
    )


def _show(engine: Engine, found: ListCheck, parted: tuple[int, ...]) -> None:
    say(f"{engine.name}, camshaft {engine.camshaft}", "")
    say(
        *columns(
            (f"{plain(claim.angle)}°", claim.place, f"{plain(claim.margin)}°", claim.warning)
            for claim in found.claims
        )
    )
    rest = [
        f"{one}I and {one}E are never set together, and their rocker bridge needs both closed"
        for one in parted
    ]
    if found.missing:
        rest.append(f"Never set: {', '.join(found.missing)}")
    if found.repeated:
        rest.append(f"Set more than once: {', '.join(found.repeated)}")
    if not (rest or any(claim.warning for claim in found.claims)):
        rest.append("Every valve is closed at its position, with the margin asked for.")
    say("", *rest)


def _as_json(
    path: Path, engine: Engine, found: ListCheck, parted: tuple[int, ...]
) -> dict[str, object]:
    return {
        "engine": engine.name,
        "list": str(path),
        "claims": [
            {
                "angle": claim.angle,
                "place": claim.place,
                "margin": claim.margin,
                "warning": claim.warning,
            }
            for claim in found.claims
        ],
        "missing": found.missing,
        "repeated": found.repeated,
        "parted": parted,
    }
