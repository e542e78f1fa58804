"""Frozen values with slots, as ``dataclasses`` makes them, at a fraction of the cost of loading.

The library compiles half a dozen methods for each class as it is loaded, and the guide has two
hundred classes. Here methods are shared or closed over the fields, and ``__init__`` is compiled
when the first value of a class is made. A type checker sees the library's own decorator, so every
value, field and change is checked as ever. What the program does not use of the library is not
here.
"""

from collections.abc import Callable, Mapping
from operator import attrgetter

from snugset.typed import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import FrozenInstanceError, dataclass, field, replace

__all__ = ["FrozenInstanceError", "dataclass", "field", "names", "replace"]

_Key = Callable[[Any], tuple[Any, ...]]
_NONE: object = object()
"""Stands where there is no default."""


class _Fields:
    """The fields of a class, its bases' first."""

    def __init__(
        self,
        names: tuple[str, ...] = (),
        placed: tuple[str, ...] = (),
        defaults: Mapping[str, object] | None = None,
        hidden: tuple[str, ...] = (),
        aside: tuple[str, ...] = (),
    ) -> None:
        self.names = names
        self.placed = placed
        """Those that may be given by their place."""
        self.defaults = defaults or {}
        """What stands where none is given, or a `_Field` that makes it."""
        self.hidden = hidden
        """Those that are not shown."""
        self.aside = aside
        """Those that do not count when two values are compared."""
        self.key = _key(names)
        """Gives the values of all of them."""


class _Field:
    """What is said of a field beside its type."""

    def __init__(
        self,
        *,
        default_factory: Callable[[], object] | None = None,
        default: object = _NONE,
        repr: bool = True,  # noqa: A002 - as the library says it
        compare: bool = True,
    ) -> None:
        self.make = default_factory
        self.default = default
        self.shown = repr
        self.counts = compare


class _FrozenInstanceError(AttributeError):
    """A value was to be changed after it was made."""


def names(value: object) -> tuple[str, ...]:
    """Name the fields of a value, or of a class of them, in order; none if it is not one."""
    found: _Fields = getattr(value, "__values__", _Fields())
    return found.names


def _replace(value: Any, /, **changes: object) -> object:  # noqa: ANN401 - of any class
    """Give a value again with some fields changed; TypeError for one that it has not."""
    every = value.__values__.names
    given = dict(zip(every, value.__values__.key(value), strict=True))
    given.update(changes)
    made: object = type(value)(**given)
    return made


def _dataclass(
    *,
    slots: bool,
    frozen: bool = False,
    kw_only: bool = False,
    order: bool = False,
    eq: bool = True,
    init: bool = True,
) -> Callable[[type], type]:
    """Decorate a class: made again with slots, and with the methods that it has not itself."""
    if not slots:
        raise TypeError("values have slots")

    def made(plain: type) -> type:
        own = dict(plain.__dict__)
        fields, slotted = _read(plain, own, kw_only=kw_only)
        methods: dict[str, object] = {"__repr__": _shown}
        if init:
            methods["__init__"] = _uncompiled
        if frozen:
            methods |= {"__setattr__": _fixed, "__delattr__": _fixed}
        key = _key(tuple(n for n in fields.names if n not in fields.aside))
        if eq:
            methods |= {"__eq__": _equal(key), "__hash__": _hashed(key) if frozen else None}
        if order:
            methods |= _ordered(key)
        if own.get("__hash__", 0) is None:
            del own["__hash__"]  # the language put it beside the class's own __eq__
        for name in ("__dict__", "__weakref__"):
            own.pop(name, None)
        own |= {"__slots__": slotted, "__values__": fields, "__match_args__": fields.placed}
        own["__qualname__"] = plain.__qualname__
        new = type(plain)(plain.__name__, plain.__bases__, methods | own)
        for method in own.values():
            code = getattr(method, "__code__", None)
            if code is not None and "__class__" in code.co_freevars:  # it says super()
                method.__closure__[code.co_freevars.index("__class__")].cell_contents = new
        return new

    return made


def _read(plain: type, own: dict[str, Any], *, kw_only: bool) -> tuple[_Fields, tuple[str, ...]]:
    """Take the fields out of a class's body; all of them, and the names that are new."""
    base: _Fields = getattr(plain, "__values__", _Fields())
    defaults, hidden, aside = dict(base.defaults), base.hidden, base.aside
    mine = []
    for name, hint in own.get("__annotations__", {}).items():
        if str(hint).startswith("typing.ClassVar"):
            continue
        if name not in base.names:
            mine.append(name)
        if name in own:
            said = own.pop(name)
            found = said if isinstance(said, _Field) else _Field(default=said)
            hidden += () if found.shown else (name,)
            aside += () if found.counts else (name,)
            if found.make:
                defaults[name] = found
            elif found.default is not _NONE:
                defaults[name] = found.default
    new = tuple(mine)
    placed = base.placed if kw_only else (*base.placed, *new)
    every = (*base.names, *new)
    return _Fields(every, placed, defaults, hidden, aside), new


def _key(every: tuple[str, ...]) -> _Key:
    """Give what takes the values of some fields out of one value, as a tuple."""
    if len(every) > 1:
        return attrgetter(*every)
    return lambda value: tuple(getattr(value, name) for name in every)


def _uncompiled(self: Any, *args: object, **given: object) -> None:  # noqa: ANN401
    """Compile the ``__init__`` of this class, which stands in this one's place from then on."""
    cls: Any = type(self)
    while cls.__dict__.get("__init__") is not _uncompiled:  # a class of its own below a value's
        cls = cls.__base__
    init = _compiled(cls, cls.__values__)
    cls.__init__ = init
    init(self, *args, **given)


def _compiled(cls: Any, fields: _Fields) -> Callable[..., None]:  # noqa: ANN401
    place: dict[str, Any] = {}
    placed: list[str] = []
    keyed: list[str] = []
    lines: list[str] = []
    for name in fields.names:
        place[f"_set_{name}"] = getattr(cls, name).__set__
        taken, value = name, name
        if name in fields.defaults:
            default = fields.defaults[name]
            place[f"_default_{name}"] = default
            taken = f"{name}=_default_{name}"
            if isinstance(default, _Field):
                value = f"{name} if {name} is not _default_{name} else _default_{name}.make()"
        (placed if name in fields.placed else keyed).append(taken)
        lines.append(f" _set_{name}(self, {value})")
    if hasattr(cls, "__post_init__"):
        lines.append(" self.__post_init__()")
    head = ", ".join(["self", *placed, *(["*", *keyed] if keyed else [])])
    body = "\n".join(lines or [" pass"])
    exec(f"def __init__({head}):\n{body}\n", place)  # noqa: S102 - made of names of fields
    init: Callable[..., None] = place["__init__"]
    init.__qualname__ = f"{cls.__qualname__}.__init__"
    return init


def _equal(key: _Key) -> Callable[[object, object], bool]:
    def __eq__(self: object, other: object) -> bool:  # noqa: N807
        if other.__class__ is self.__class__:
            return key(self) == key(other)
        return NotImplemented

    return __eq__


def _hashed(key: _Key) -> Callable[[object], int]:
    def __hash__(self: object) -> int:  # noqa: N807
        return hash(key(self))

    return __hash__


def _ordered(key: Any) -> dict[str, object]:  # noqa: ANN401
    """Give ``<``; the program sorts, and needs no other."""

    def __lt__(self: object, other: object) -> bool:  # noqa: N807
        if other.__class__ is self.__class__:
            return bool(key(self) < key(other))
        return NotImplemented

    return {"__lt__": __lt__}


def _fixed(self: object, name: str, _value: object = None) -> None:
    raise _FrozenInstanceError(f"{type(self).__name__}.{name} is fixed")


def _shown(self: Any) -> str:  # noqa: ANN401
    fields: _Fields = self.__values__
    parts = (f"{n}={getattr(self, n)!r}" for n in fields.names if n not in fields.hidden)
    return f"{type(self).__qualname__}({', '.join(parts)})"


if not TYPE_CHECKING:
    FrozenInstanceError, dataclass, field, replace = (
        _FrozenInstanceError,
        _dataclass,
        _Field,
        _replace,
    )
