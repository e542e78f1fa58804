"""The words of ``typing`` that files need to load; the library itself waits until it is needed.

It takes a twentieth of the start of a command that is soon done, and what it gives is for the type
checker, which sees the library's own words here. While the program runs they only stand for
themselves.
"""

TYPE_CHECKING = False

if TYPE_CHECKING:
    from typing import Any, Generic, Literal, Self, TypeAlias, TypeVar
else:
    from types import GenericAlias

    Any = Self = TypeAlias = object

    class Literal:
        """``Literal["a", "b"]`` keeps its words, which are no names of types."""

        def __class_getitem__(cls, given: object) -> GenericAlias:
            several = given if isinstance(given, tuple) else (given,)
            if isinstance(several[0], tuple):
                several = several[0]  # who resolves hints takes in brackets what was kept
            return GenericAlias(cls, (several,))

    class Generic:
        """A base that takes types in brackets."""

        __slots__ = ()
        __class_getitem__ = classmethod(GenericAlias)

    def TypeVar(_name: str, **_kinds: object) -> type:  # noqa: N802 - a class in the library
        """Any type stands where a type will."""
        return object


def words(hint: Any) -> tuple[Any, ...]:
    """Give the words of a ``Literal``, none of anything else."""
    found: tuple[Any, ...] = hint.__args__[0] if getattr(hint, "__origin__", 0) is Literal else ()
    return found


__all__ = ["TYPE_CHECKING", "Any", "Generic", "Literal", "Self", "TypeAlias", "TypeVar", "words"]
