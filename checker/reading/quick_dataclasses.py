"""Data classes as the standard library makes them, without what that costs: it writes and compiles the text of six
methods for each, which took a third of the time in which the program starts.

Type checkers see the standard ones, and `fields`, `asdict`, `replace` and sub-classes of the standard library work with
these as with their own. Annotations are texts, as `from __future__ import annotations` makes them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from functools import cache
from operator import attrgetter
from types import CellType, FunctionType, MemberDescriptorType, SimpleNamespace
from typing import TYPE_CHECKING, Any

from checker.reading.constructors import constructor

_NOTHING: Any = object()
_OWN = "__quick_fields__"


class _Field:
    """What is said of one field."""

    __slots__ = ("annotation", "compare", "default", "default_factory", "init", "kw_only", "name", "repr")

    def __init__(
        self,
        *,
        default: Any = _NOTHING,
        default_factory: Any = _NOTHING,
        init: bool = True,
        repr: bool = True,
        compare: bool = True,
    ) -> None:
        self.name, self.annotation, self.kw_only = "", "", False
        self.default, self.default_factory = default, default_factory
        self.init, self.repr, self.compare = init, repr, compare

    @property
    def made_anew(self) -> bool:
        return self.default_factory is not _NOTHING

    @property
    def left_out(self) -> Any:
        """What stands in the signature for a field that is left out; nothing where it must be given."""
        return _ANEW if self.made_anew else self.default


_ANEW: Any = object()


def _dataclass(made: type | None = None, /, **options: bool) -> Any:
    """A data class of this class; with options first, a decorator that makes one."""
    if made is None:
        return lambda made: _class(made, **options)
    return _class(made, **options)


def _class(
    made: type,
    *,
    frozen: bool = False,
    slots: bool = False,
    eq: bool = True,
    order: bool = False,
    kw_only: bool = False,
) -> type:
    namespace = dict(made.__dict__)
    own = _own_fields(namespace, kw_only)
    fields: dict[str, _Field] = {}
    for base in made.__mro__[:0:-1]:
        fields.update(base.__dict__.get(_OWN, {}))
    fields.update(own)
    arguments = sorted((field for field in fields.values() if field.init), key=lambda field: field.kw_only)
    namespace[_OWN] = fields
    namespace["__dataclass_fields__"] = _Standard()
    # what a data class of the standard library asks of one that it builds on
    namespace["__dataclass_params__"] = SimpleNamespace(frozen=frozen)
    namespace["__match_args__"] = tuple(field.name for field in arguments if not field.kw_only)
    namespace.setdefault("__repr__", _told)
    if eq:
        equal, hashed, less = _comparing([name for name, field in fields.items() if field.compare])
        if namespace.get("__hash__") is None:  # as it is where only __eq__ is written out
            namespace["__hash__"] = hashed if frozen else None
        namespace.setdefault("__eq__", equal)
        if order:
            namespace["__lt__"] = less
    if frozen:
        namespace["__setattr__"] = namespace["__delattr__"] = _refuse
    for name, field in own.items():
        namespace.pop(name, None)
        if not slots and field.default is not _NOTHING:
            namespace[name] = field.default
    namespace.pop("__dict__", None)
    namespace.pop("__weakref__", None)
    if slots:
        inherited = {name for base in made.__mro__[1:] for name in base.__dict__.get("__slots__", ())}
        namespace["__slots__"] = tuple(name for name in own if name not in inherited)
        namespace.setdefault("__getstate__", _state)
        namespace.setdefault("__setstate__", _set_state)
    namespace["__init__"] = later = _ConstructorLater(fields.values(), arguments)
    cls = type(made)(made.__name__, made.__bases__, namespace)
    later.cls = cls
    return cls


def _own_fields(namespace: dict[str, Any], kw_only: bool) -> dict[str, _Field]:
    """The fields that a class names itself."""
    found = {}
    for name, annotation in namespace.get("__annotations__", {}).items():
        if annotation == "KW_ONLY":
            kw_only = True
        elif not annotation.startswith("ClassVar"):
            given = namespace.get(name, _NOTHING)
            field = given if isinstance(given, _Field) else _Field(default=given)
            field.name, field.annotation, field.kw_only = name, annotation, kw_only
            found[name] = field
    return found


# --- methods -------------------------------------------------------------------------------------------------


class _ConstructorLater:
    """A constructor that is made when it is first asked for: of most classes a run makes no object."""

    __slots__ = ("arguments", "cls", "fields")
    cls: type

    def __init__(self, fields: Iterable[_Field], arguments: list[_Field]) -> None:
        self.fields, self.arguments = fields, arguments

    def __get__(self, one: object, _: type) -> Any:
        made = _init(self.cls, self.fields, self.arguments)
        self.cls.__init__ = made  # type: ignore[misc]
        return made if one is None else made.__get__(one)


def _init(cls: type, fields: Iterable[_Field], arguments: list[_Field]) -> FunctionType:
    """The constructor: the code for so many arguments, with their names."""
    setters = {field.name: _setter(cls, field) for field in fields}
    anew = [
        (setters[field.name], field.default_factory) for field in fields if not field.init and field.made_anew
    ]
    post = getattr(cls, "__post_init__", None)

    def after(made: Any) -> None:
        for setter, factory in anew:
            setter(made, factory())
        if post is not None:
            post(made)

    template = constructor(len(arguments), bool(anew or post))
    cells = {f"s{at}": setters[field.name] for at, field in enumerate(arguments)} | {"after": after}
    positional = sum(not field.kw_only for field in arguments)
    code = template.replace(
        co_name="__init__",
        co_argcount=1 + positional,
        co_kwonlyargcount=len(arguments) - positional,
        co_varnames=("self", *(field.name for field in arguments)),
        co_qualname=f"{cls.__qualname__}.__init__",
    )
    init = FunctionType(
        code,
        sys.modules[cls.__module__].__dict__,
        "__init__",
        tuple(f.left_out for f in arguments[:positional] if f.left_out is not _NOTHING),
        tuple(CellType(cells[name]) for name in code.co_freevars),
    )
    init.__kwdefaults__ = {f.name: f.left_out for f in arguments[positional:] if f.left_out is not _NOTHING}
    init.__annotations__ = {field.name: field.annotation for field in arguments} | {"return": "None"}
    return init


def _setter(cls: type, field: _Field) -> Callable[[Any, Any], None]:
    """What sets a field of an object, though that is frozen."""
    place = getattr(cls, field.name, None)
    if isinstance(place, MemberDescriptorType):
        setter: Callable[[Any, Any], None] = place.__set__
    else:

        def setter(made: Any, value: Any) -> None:
            object.__setattr__(made, field.name, value)

    if not (field.init and field.made_anew):
        return setter
    factory = field.default_factory
    return lambda made, value: setter(made, factory() if value is _ANEW else value)


def _comparing(names: list[str]) -> tuple[Any, Any, Any]:
    """Equality, hash and order by these fields."""
    get: Callable[[Any], Any] = (
        attrgetter(*names) if len(names) > 1 else lambda one: tuple(getattr(one, name) for name in names)
    )

    def __eq__(self: Any, other: Any) -> Any:
        return get(self) == get(other) if other.__class__ is self.__class__ else NotImplemented

    def __lt__(self: Any, other: Any) -> Any:
        return get(self) < get(other) if other.__class__ is self.__class__ else NotImplemented

    return __eq__, lambda self: hash(get(self)), __lt__


def _told(self: Any) -> str:
    fields = getattr(type(self), _OWN).values()
    inside = ", ".join(f"{field.name}={getattr(self, field.name)!r}" for field in fields if field.repr)
    return f"{type(self).__qualname__}({inside})"


def _refuse(_: Any, name: str, value: Any = _NOTHING) -> None:
    from dataclasses import FrozenInstanceError

    raise FrozenInstanceError(f"cannot {'delete' if value is _NOTHING else 'assign to'} field {name!r}")


def _state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in getattr(type(self), _OWN)]


def _set_state(self: Any, state: list[Any]) -> None:
    cls: type = type(self)
    _restorer(cls)(self, *state)


@cache
def _restorer(cls: type) -> FunctionType:
    """What sets every field of an object at once."""
    fields = getattr(cls, _OWN).values()
    code = constructor(len(fields), False)
    setters = {f"s{at}": CellType(_setter(cls, field)) for at, field in enumerate(fields)}
    return FunctionType(code, {}, closure=tuple(setters[name] for name in code.co_freevars))


def _replace(one: Any, /, **changes: Any) -> Any:
    """Another object of its class with some fields changed."""
    cls: type = type(one)
    if getattr(cls, _OWN, None) is None:  # a kind of somebody else's
        from dataclasses import replace

        return replace(one, **changes)
    given, made, taken = _given(cls)
    for name in changes.keys() & made:
        raise ValueError(f"field {name} is made by its object and cannot be replaced")
    return cls(**{**dict(zip(given, taken(one), strict=True)), **changes})


@cache
def _given(cls: type) -> tuple[tuple[str, ...], frozenset[str], Callable[[Any], tuple[Any, ...]]]:
    """Names of the fields that an object of a class is made of, of those that it makes, and what takes the former."""
    fields = getattr(cls, _OWN).values()
    given = tuple(field.name for field in fields if field.init)
    taken = attrgetter(*given) if len(given) > 1 else lambda one: tuple(getattr(one, name) for name in given)
    return given, frozenset(field.name for field in fields if not field.init), taken


# --- for the standard library --------------------------------------------------------------------------------


class _Standard:
    """The fields as the standard library wants them, made when it asks."""

    def __get__(self, one: object, cls: type) -> dict[str, Any]:
        return _standard_fields(cls)


@cache
def _standard_fields(cls: type) -> dict[str, Any]:
    import dataclasses

    found = {}
    for name, own in getattr(cls, _OWN).items():
        given = {"default": own.default, "default_factory": own.default_factory}
        given = {key: value for key, value in given.items() if value is not _NOTHING}
        found[name] = made = dataclasses.field(
            **given, init=own.init, repr=own.repr, compare=own.compare, kw_only=own.kw_only
        )
        made.name, made.type = name, own.annotation
        made._field_type = dataclasses._FIELD  # type: ignore[attr-defined]
    return found


if TYPE_CHECKING:
    from dataclasses import KW_ONLY as KW_ONLY
    from dataclasses import dataclass as dataclass
    from dataclasses import field as field
    from dataclasses import replace as replace
else:
    KW_ONLY, dataclass, field, replace = None, _dataclass, _Field, _replace
