"""Values behave as those of ``dataclasses`` do, which is the oracle here."""

import dataclasses
from collections.abc import Callable, Mapping
from typing import Any, ClassVar, Generic, TypeVar, get_type_hints

import pytest

from snugset import values
from snugset.typed import Literal, words

T = TypeVar("T")


def _family(made: Any, default: Any) -> dict[str, Any]:  # noqa: ANN401 - either library's decorator
    """Define the same classes with either decorator."""

    @made(frozen=True, slots=True)
    class Placed(Generic[T]):
        WORDS: ClassVar[tuple[str, ...]] = ("a",)
        one: T
        two: int = 2

        def doubled(self) -> int:
            return self.two * 2

    @made(frozen=True, slots=True, kw_only=True)
    class Named(Placed[str]):
        hidden: int = default(repr=False)
        found: Mapping[str, int] = default(default_factory=dict)

    @made(frozen=True, slots=True, order=True)
    class Sorted:
        step: str
        number: int = 0

        def __str__(self) -> str:
            return f"{self.step}@{self.number}"

    @made(slots=True)
    class Moving:
        at: int
        seen: list[int] = default(default_factory=list)

    @made(frozen=True, slots=True, order=True)
    class Aside:
        at: int
        about: str | None = default(default=None, compare=False)

    @made(frozen=True, slots=True, eq=False)
    class Alone:
        at: int

    @made(frozen=True, slots=True)
    class Checked:
        at: int

        def __post_init__(self) -> None:
            if self.at < 0:
                raise ValueError("below nothing")

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Checked) and abs(other.at) == abs(self.at)

        def __hash__(self) -> int:
            return 7

    return {each.__name__: each for each in (Placed, Named, Sorted, Moving, Aside, Alone, Checked)}


OURS = _family(values.dataclass, values.field)
THEIRS = _family(dataclasses.dataclass, dataclasses.field)
SIGHTS: dict[str, Callable[[dict[str, Any]], object]] = {
    "repr": lambda of: repr([of["Placed"]("x"), of["Named"]("x", 3, hidden=1, found={"a": 1})]),
    "str": lambda of: str(of["Sorted"]("gap", 2)),
    "no fields shared": lambda of: of["Moving"](1).seen is of["Moving"](1).seen,
    "equal": lambda of: of["Placed"]("x") == of["Placed"]("x", 2),
    "unequal": lambda of: of["Placed"]("x") == of["Placed"]("x", 3),
    "of another class": lambda of: of["Placed"]("x") == of["Sorted"]("x", 2),
    "one field": lambda of: of["Alone"](1) == of["Alone"](1),
    "set aside": lambda of: (
        of["Aside"](1, "a") == of["Aside"](1, "b"),
        hash(of["Aside"](1, "a")) == hash(of["Aside"](1)),
        of["Aside"](1, "b") < of["Aside"](1, "a"),
        repr(of["Aside"](1)),
        len({of["Aside"](1, "a"), of["Aside"](1, "b")}),
    ),
    "hash": lambda of: hash(of["Placed"]("x")) == hash(of["Placed"]("x")),
    "hashed": lambda of: len({of["Sorted"]("a"), of["Sorted"]("a"), of["Sorted"]("b")}),
    "own equality": lambda of: (of["Checked"](1) == of["Checked"](1), hash(of["Checked"](1))),
    "sorted": lambda of: str(sorted([of["Sorted"]("b"), of["Sorted"]("a", 3), of["Sorted"]("a")])),
    "method": lambda of: of["Named"]("x", hidden=0).doubled(),
    "class's own": lambda of: of["Named"].WORDS,
    "match": lambda of: (of["Placed"].__match_args__, of["Named"].__match_args__),
    "moved": lambda of: setattr(of["Moving"](1), "at", 2),
    "doc": lambda of: of["Placed"].__qualname__,
    "fixed": lambda of: setattr(of["Placed"]("x"), "one", 2),
    "not taken out": lambda of: delattr(of["Placed"]("x"), "one"),
    "no other": lambda of: setattr(of["Moving"](1), "other", 2),
    "too few": lambda of: of["Placed"](),
    "too many": lambda of: of["Placed"](1, 2, 3),
    "by place": lambda of: of["Named"]("x", 2, 3),
    "unknown": lambda of: of["Placed"]("x", three=3),
    "left out": lambda of: of["Named"]("x"),
    "post": lambda of: of["Checked"](-1),
    "moving hash": lambda of: hash(of["Moving"](1)),
    "unsorted": lambda of: of["Sorted"]("a") < 1,
}


def _seen(sight: Callable[[dict[str, Any]], object], of: dict[str, Any]) -> object:
    try:
        return sight(of)
    except (TypeError, ValueError, AttributeError) as error:
        return {base for base in type(error).__mro__ if base.__module__ == "builtins"}


@pytest.mark.parametrize("sight", SIGHTS.values(), ids=SIGHTS)
def test_a_value_behaves_as_the_librarys(sight: Callable[[dict[str, Any]], object]) -> None:
    assert _seen(sight, OURS) == _seen(sight, THEIRS)


def test_a_value_is_made_anew_with_changes() -> None:
    ours, theirs = OURS["Named"]("x", hidden=1), THEIRS["Named"]("x", hidden=1)
    assert repr(values.replace(ours, two=5)) == repr(dataclasses.replace(theirs, two=5))
    with pytest.raises(TypeError):
        values.replace(ours, five=5)


def test_the_fields_are_named_in_their_order() -> None:
    assert values.names(OURS["Named"]("x", hidden=1)) == ("one", "two", "hidden", "found")
    assert values.names("no value") == ()


def test_a_class_under_a_value_says_super() -> None:
    @values.dataclass(frozen=True, slots=True)
    class Below(OURS["Placed"]):  # type: ignore[name-defined, misc, valid-type]
        def doubled(self) -> int:
            return int(super().doubled()) + 1

    assert Below("x").doubled() == 5
    assert not hasattr(Below("x"), "__dict__")


def test_a_class_without_slots_is_refused() -> None:
    with pytest.raises(TypeError, match="slots"):
        values.dataclass(slots=False)


def test_words_that_are_chosen_from_are_told_and_are_no_names_of_types() -> None:
    assert words(Literal["a thing", "b"]) == ("a thing", "b")
    assert words(Literal["one"]) == ("one",)
    assert words(str) == words(list[str]) == ()

    @values.dataclass(frozen=True, slots=True)
    class Marked:
        flag: Literal["a thing"]
        also: tuple[Literal["b"], ...]

    hints = get_type_hints(Marked)
    assert words(hints["flag"]) == ("a thing",)
    assert words(hints["also"].__args__[0]) == ("b",)
