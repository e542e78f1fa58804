"""Files spoiled by what stands in them: nodes swapped, dropped, doubled, spliced from elsewhere."""

import copy
import json
import random
import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

import yaml

HIDDEN = (
    *("\0", "\x07", "\x1b[2J", "\x1b]0;owned\x07", "\x7f", "\x85", "\x9b31m", "\r", "\t"),
    *("\u061c", "\u200e", "\u202e", "\u2066", "\u2028", "\ufeff", "\ufff9", "\uffff", "\ud800"),
    *("\u00ad", "\u200b", "\u200d", "\u2060", "\u034f", "\ufe0f", "\U000e0041", "\u0301" * 40),
    *("\U0001f9f0", "שלום", "\u0e33", "ﬁ", "１２", "٣", "\n", "\n\n", " ", "…", "·" * 60),
)
"""Characters that drive a terminal, turn the reading, cannot be seen, or are wide or none."""
WORDS = (
    *("", "0", "-1", "1", "2", "24", "25", "200", "999999999", "9" * 12, "9" * 13, "1e9", "nan"),
    *("none", "yes", "no", "all", "each", "x", "1I", "P1", "head", "spec", "return", "finished"),
    *("0 in", "-1 in", "0.000000000001 in", "999999999999 in", "0..0 in", "2..1 in", "1..1 in"),
    *("0..999999999999 in", "0.0000001..0.0000002 in", "1/3 in", "719.99 deg", "720 deg", "0 d"),
    *(
        "999999999 d",
        "1, 2, 3 lbf·ft",
        "step 0.000001 in",
        "step 999999 in",
        "9999 GPa",
        "0 lbf·ft",
    ),
    *("{figure.x}", "{place}", "{", "}", "{{}}", "{figure.head-stages", "{place.x}", "[b]", "[/]"),
    *("x" * 130, "x" * 5000, "x " * 900, "-" * 64, "a.b", "a@b", "a#1", "../x", "~", "%s", "\\"),
    *("not ", "a is b", "not all", "1 of 9", "2 people", "step"),
)
"""What a text may be given instead."""
EXTREMES = (
    *("0", "-0", "1", "-1", "0.000000000001", "999999999999", "99999999999999", "1e9", "1/3"),
    *("0.5", "12", "25.4", "1000000", "1-1/2", "9" * 300, "∞", "½"),
)
"""What a number in a quantity may become."""
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ./_·-]*[A-Za-z0-9./_·-])?")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_AGAIN = "\ue0ff"
"""Ends a name that is to be written once more beside its like."""


class Verbatim(str):
    """A text that is written without quotes, whatever it is: an alias, an anchor, a tag."""

    __slots__ = ()


class Place(NamedTuple):
    """Where a node stands: in which list or mapping, under which number or name."""

    holder: Any
    key: Any

    @property
    def node(self) -> Any:  # noqa: ANN401 - a tree of lists, mappings and texts
        """What stands there."""
        return self.holder[self.key]

    def put(self, node: object) -> None:
        """Put another node there."""
        self.holder[self.key] = node


def tree(text: str) -> Any:  # noqa: ANN401
    """Read a text as lists, mappings and texts; nothing is guessed."""
    return yaml.load(text, yaml.CBaseLoader)  # noqa: S506 - it makes texts of everything


def written(rng: random.Random, node: object) -> str:
    """Write a tree as a file: lines to a depth, brackets below it."""
    return "\n".join(_lines(node, rng.randint(1, 6), ascii=rng.random() < 0.5)) + "\n"


def _lines(node: object, depth: int, *, ascii: bool) -> Iterator[str]:  # noqa: A002
    if depth == 0 or not node or not isinstance(node, dict | list):
        yield _flow(node, ascii=ascii)
        return
    pairs = node.items() if isinstance(node, dict) else ((None, each) for each in node)
    for name, each in pairs:
        lead = "-" if name is None else f"{_scalar(name, ascii=ascii)}:"
        first, *rest = _lines(each, depth - 1, ascii=ascii)
        if depth == 1 or not each or not isinstance(each, dict | list):
            yield f"{lead} {first}"
            yield from rest
        else:
            yield lead
            yield from (f"  {line}" for line in (first, *rest))


def _flow(node: object, *, ascii: bool) -> str:  # noqa: A002
    if isinstance(node, dict):
        pairs = (f"{_scalar(k, ascii=ascii)}: {_flow(v, ascii=ascii)}" for k, v in node.items())
        return f"{{{', '.join(pairs)}}}"
    if isinstance(node, list):
        return f"[{', '.join(_flow(each, ascii=ascii) for each in node)}]"
    return _scalar(node, ascii=ascii)


def _scalar(text: object, *, ascii: bool) -> str:  # noqa: A002
    whole = str(text).rstrip(_AGAIN)
    if isinstance(text, Verbatim) or _PLAIN.fullmatch(whole):
        return whole
    return json.dumps(whole, ensure_ascii=ascii)


def places(node: object) -> Iterator[Place]:
    """Give every place below a node, what holds others first."""
    pairs: Iterator[tuple[Any, Any]] = iter(())
    if isinstance(node, dict):
        pairs = iter(list(node.items()))
    elif isinstance(node, list):
        pairs = iter(list(enumerate(node)))
    for key, each in pairs:
        yield Place(node, key)
        yield from places(each)


def _name(place: Place) -> str:
    return place.key if isinstance(place.key, str) else "-"


def _some(rng: random.Random, every: Sequence[Place]) -> Place:
    """Choose a place; fields that are rare as often as those that are not."""
    if rng.random() < 0.5:
        name = rng.choice(sorted({_name(one) for one in every}))
        return rng.choice([one for one in every if _name(one) == name])
    return rng.choice(every)


def _some_text(rng: random.Random, every: Sequence[Place]) -> Place:
    texts = [one for one in every if isinstance(one.node, str)]
    return _some(rng, texts) if texts else _some(rng, every)


def _swap(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    one, other = _some(rng, every), _some(rng, every)
    first, second = copy.deepcopy(one.node), copy.deepcopy(other.node)
    one.put(second)
    other.put(first)


def _drop(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    one = _some(rng, every)
    del one.holder[one.key]


def _double(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    one = _some(rng, every)
    again = copy.deepcopy(one.node)
    if isinstance(one.holder, list):
        one.holder.insert(rng.randint(0, len(one.holder)), again)
    else:
        more = rng.choice([_AGAIN, "2", "-x", ""])
        one.holder[f"{one.key}{more}"] = again


def _retype(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    one = _some(rng, every)
    node = one.node
    if isinstance(node, dict):
        one.put(rng.choice([list(node.values()), list(node), [node], str(node)[:200], ""]))
    elif isinstance(node, list):
        named = {str(n): each for n, each in enumerate(node, 1)}
        one.put(rng.choice([named, node[:1] and node[0], ", ".join(map(str, node))[:300], ""]))
    else:
        one.put(rng.choice([[node], {node: node}, [[node]], {"value": node}, [node, node]]))


def _nest(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    one, other = _some(rng, every), _some(rng, every)
    node = copy.deepcopy(one.node)
    match rng.randrange(4):
        case 0:
            inner = [each.node for each in places(node)]
            one.put(rng.choice(inner) if inner else [node])
        case 1:
            for _ in range(rng.choice([1, 2, 5, 22, 40])):
                node = rng.choice([[node], {_name(one): node}])
            one.put(node)
        case _ if isinstance(other.node, list):
            other.node.insert(rng.randint(0, len(other.node)), node)
        case _ if isinstance(other.node, dict):
            other.node[_name(one)] = node
        case _:
            other.put(node)


def _splice(rng: random.Random, every: Sequence[Place], others: Sequence[Place]) -> None:
    """Put a node of another file here, or one more beside it."""
    one, other = _some(rng, every), _some(rng, others)
    node = copy.deepcopy(other.node)
    if isinstance(one.holder, list) and rng.random() < 0.5:
        one.holder.insert(rng.randint(0, len(one.holder)), node)
    elif isinstance(one.holder, dict) and rng.random() < 0.5:
        one.holder[_name(other)] = node
    else:
        one.put(node)


def _alike(rng: random.Random, every: Sequence[Place], others: Sequence[Place]) -> None:
    """Put here what the same field holds elsewhere, in this file or another."""
    one = _some(rng, every)
    from_ = others if rng.random() < 0.6 else every
    alike = [each for each in from_ if _name(each) == _name(one)]
    if alike:
        one.put(copy.deepcopy(rng.choice(alike).node))


def _field(rng: random.Random, every: Sequence[Place], others: Sequence[Place]) -> None:
    """Give a mapping a field that mappings like it have elsewhere."""
    one = _some(rng, every)
    if isinstance(one.holder, dict):
        like = [
            each
            for each in others
            if isinstance(each.holder, dict) and set(each.holder) & set(one.holder)
        ]
        if like:
            other = _some(rng, like)
            one.holder.setdefault(other.key, copy.deepcopy(other.node))


def _figure(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    """Give a number in a quantity an extreme, or a like one."""
    having = [each for each in every if isinstance(each.node, str) and _NUMBER.search(each.node)]
    if not having:
        return
    one = _some(rng, having)
    found = rng.choice(list(_NUMBER.finditer(one.node)))
    number = rng.choice(EXTREMES)
    if rng.random() < 0.5:
        with_zeros = float(found[0][:12]) * 10 ** rng.choice([-6, -3, -1, 1, 1, 3, 6])
        number = f"{with_zeros:.9f}".rstrip("0").rstrip(".")
    one.put(f"{one.node[: found.start()]}{number}{one.node[found.end() :]}")


def _refer(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    """Let a text name something else: a step, figure or place of this file, itself, or nothing."""
    one = _some_text(rng, every)
    names = sorted({_name(each) for each in every if isinstance(each.node, dict)} - {"-"})
    ids = sorted(
        {each.node for each in every if each.key in _NAMING and isinstance(each.node, str)}
    )
    mine = [each for each in ("do", "read", "each", "turn") if isinstance(one.holder, dict)]
    own = [one.holder[each] for each in mine if isinstance(one.holder.get(each), str)]
    one.put(rng.choice([rng.choice(names or [""]), rng.choice(ids or [""]), *own, "no-such-thing"]))


_NAMING = (
    *("do", "read", "torque", "angle", "loosen", "verify", "accept", "turn", "judge", "hold"),
    *("each", "crank", "rounds", "choose", "tighten", "preload", "lash", "group", "use", "of"),
)


def _empty(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    _some(rng, every).put(rng.choice([[], {}, "", Verbatim(""), Verbatim("~"), [""], {"": ""}]))


def _word(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    _some(rng, every).put(copy.deepcopy(rng.choice(WORDS)))


def _long(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    """Make a name or a text as long as nobody writes one."""
    one = _some(rng, every)
    times = rng.choice([5, 20, 200, 3000])
    if isinstance(one.holder, dict) and rng.random() < 0.4:
        one.holder[_name(one) * times] = one.holder.pop(one.key)
    elif isinstance(one.node, str):
        one.put(rng.choice(["", " "]).join([one.node or "x"] * times)[:60_000])
    elif isinstance(one.node, list):
        one.put([copy.deepcopy(each) for _ in range(min(times, 20)) for each in one.node][:400])


def _hide(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    """Put what is not to be seen into one text, or into each."""
    piece = rng.choice(HIDDEN)
    texts = [each for each in every if isinstance(each.node, str)]
    for one in texts if rng.random() < 0.1 else [_some_text(rng, every)]:
        if isinstance(one.node, str):
            at = rng.randint(0, len(one.node))
            one.put(f"{one.node[:at]}{piece}{one.node[at:]}")


def _rename(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    """Give a thing another name, everywhere or here alone."""
    old = _name(_some(rng, every)) if rng.random() < 0.5 else str(_some_text(rng, every).node)
    new = rng.choice(["a", "0", "x-1", "X", "stage", "x" * 64, "x" * 65, "-x", "spec", "none", old])
    new = rng.choice([new, f"{old}x", old[:-1], old.upper()])
    for one in every:
        if one.node == old:
            one.put(new)
        elif isinstance(one.node, dict) and old in one.node and rng.random() < 0.8:
            one.put({(new if name == old else name): each for name, each in one.node.items()})


def _order(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    lists = [each for each in every if isinstance(each.node, list) and len(each.node) > 1]
    if lists:
        rng.shuffle(_some(rng, lists).node)


def _syntax(rng: random.Random, every: Sequence[Place], _others: Sequence[Place]) -> None:
    """Write what the reader refuses though it is YAML."""
    one = _some(rng, every)
    one.put(
        Verbatim(rng.choice(["*a", "&a x", "!t x", "!!python/name:os.system x", "? [x]", "| x"]))
    )


_WAYS: tuple[Callable[[random.Random, Sequence[Place], Sequence[Place]], None], ...] = (
    *(_swap, _drop, _drop, _double, _double, _retype, _nest, _nest, _splice, _empty, _word, _word),
    *(_alike,) * 6,
    *(_field,) * 3,
    *(_figure,) * 6,
    *(_refer,) * 4,
    *(_long, _hide, _hide, _rename, _rename, _order, _order, _syntax),
)


def mutant(rng: random.Random, text: str, others: Sequence[Place]) -> str:
    """Spoil a file's tree in one to three places; `others` are the nodes of files beside it."""
    root = [tree(text)]
    for _ in range(rng.choice([1, 1, 1, 1, 2, 3])):
        every = list(places(root))[1:]
        if not every:
            break
        rng.choice(_WAYS)(rng, every, others)
    return written(rng, root[0])
