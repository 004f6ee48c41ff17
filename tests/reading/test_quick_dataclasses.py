"""The quick data classes do what those of the standard library do, of which they are held to be the same."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import operator
import pickle
from collections.abc import Callable
from dataclasses import KW_ONLY  # noqa: F401 (looked for here by the name that annotations have)
from itertools import product
from pathlib import Path
from typing import Any, ClassVar  # noqa: F401

import pytest

from checker.reading import constructors, quick_dataclasses
from tests.examples import each_row

CLASSES = """
import sys

@dataclass(frozen=True, slots=True)
class Plain:
    a: int
    b: str = "b"

@dataclass(slots=True)
class Open:
    a: int
    b: list = field(default_factory=list)
    of_class: ClassVar[int] = 3

@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    a: int = 1
    b: int

@dataclass(frozen=True, slots=True)
class Mixed:
    a: int
    b: tuple = ()
    _: KW_ONLY
    c: int
    d: dict = field(default_factory=dict, compare=False, repr=False)

@dataclass(frozen=True, slots=True)
class Worked:
    a: int
    b: int = field(init=False, compare=False)
    c: list = field(init=False, default_factory=list, repr=False)
    def __post_init__(self):
        object.__setattr__(self, "b", self.a + 1)
    def __hash__(self):
        return 7

@dataclass(frozen=True)
class Loose:
    a: int
    b: int = 2

@dataclass(frozen=True, slots=True, eq=False)
class Itself:
    a: int

@dataclass(frozen=True, slots=True, order=True)
class Ordered:
    a: int
    b: int = 2

@dataclass(slots=True)
class Below(Open):
    c: int = 4

@dataclass(frozen=True, slots=True)
class Empty:
    pass
"""

ARGUMENTS: tuple[tuple[tuple[int, ...], dict[str, int]], ...] = (
    *((places, {}) for places in ((), (1,), (1, 2), (1, 2, 3))),
    *(((), names) for names in ({"a": 1}, {"b": 2}, {"a": 5, "b": 2})),
    *((places, {"c": 3}) for places in ((1,), (1, 2))),
    *((places, names) for places in ((1,), (1, 2)) for names in ({"a": 1}, {"z": 1})),
)


def made_by(module: Any) -> dict[str, Any]:
    """The same classes, made by one module or the other."""
    names = {name: getattr(module, name) for name in ("dataclass", "field", "KW_ONLY")}
    space: dict[str, Any] = {**names, "__name__": __name__}
    exec(compile("from __future__ import annotations\n" + CLASSES, "classes", "exec"), space)
    return {name: one for name, one in space.items() if isinstance(one, type) and one.__module__ == __name__}


QUICK, STANDARD = made_by(quick_dataclasses), made_by(dataclasses)


def outcome(action: Callable[..., Any], *places: Any, **names: Any) -> Any:
    """What an action comes to, or the kind of error that it ends in."""
    try:
        return action(*places, **names)
    except (TypeError, AttributeError, ValueError) as error:
        return type(error)


def objects_of(cls: Any) -> list[Any]:
    """Its objects, or the kinds of errors, with every choice of arguments."""
    return [outcome(cls, *places, **names) for places, names in ARGUMENTS]


def seen(cls: Any) -> list[Any]:
    """What can be seen of a class and of its objects."""
    found: list[Any] = [
        list(inspect.signature(cls).parameters),
        cls.__match_args__,
        [(one.name, one.type, one.init, one.kw_only) for one in dataclasses.fields(cls)],
    ]
    for one in objects_of(cls):
        if isinstance(one, type):
            found.append(one)
            continue
        found += [
            repr(one),
            dataclasses.asdict(one),
            repr(copy.deepcopy(one)),
            isinstance(outcome(setattr, one, "a", 9), type),
            isinstance(outcome(delattr, one, "a"), type),
            isinstance(outcome(setattr, one, "strange", 9), type),
            isinstance(outcome(hash, one), int),
            outcome(lambda one: hash(one) == hash(copy.copy(one)), one),
        ]
    return found


def together(cls: Any, replace: Callable[..., Any]) -> list[Any]:
    """How two objects of a class compare, and what one becomes with something replaced."""
    every = [one for one in objects_of(cls) if not isinstance(one, type)]
    found: list[Any] = [(x == y, outcome(operator.lt, x, y)) for x, y in product(every, repeat=2)]
    for one in every:
        for change in ({}, {"a": 8}, {"b": 8}, {"a": 8, "c": 5}, {"z": 1}):
            changed = outcome(replace, one, **change)
            found.append(changed if isinstance(changed, type) else repr(changed))
    return found


@each_row("name", STANDARD)
def test_they_are_as_the_standard_ones(name: str) -> None:
    assert seen(QUICK[name]) == seen(STANDARD[name])


@each_row("name", STANDARD)
def test_they_compare_and_are_replaced_as_the_standard_ones(name: str) -> None:
    expected = together(STANDARD[name], dataclasses.replace)
    assert together(QUICK[name], quick_dataclasses.replace) == expected
    assert together(QUICK[name], dataclasses.replace) == expected
    assert together(STANDARD[name], quick_dataclasses.replace) == expected


def test_there_is_something_to_compare() -> None:
    assert len(STANDARD) == len(QUICK) == CLASSES.count("class ") == 10
    assert all(any(isinstance(one, cls) for one in objects_of(cls)) for cls in QUICK.values())


def test_a_standard_one_may_build_on_a_quick_one() -> None:
    body = {"c": 3, "__annotations__": {"c": "int"}, "__module__": __name__}
    below: Any = type("Below", (QUICK["Plain"],), body)
    made = dataclasses.dataclass(frozen=True)(below)(1, c=5)
    assert (made.a, made.b, made.c) == (1, "b", 5)


def test_they_are_kept_and_read_back(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, cls in QUICK.items():
        monkeypatch.setitem(globals(), name, cls)
        for one in objects_of(cls):
            assert isinstance(one, type) or repr(pickle.loads(pickle.dumps(one))) == repr(one)


def test_constructors_stand_as_they_are_written() -> None:
    text = Path(constructors.__file__).read_text("utf-8")
    assert all(f"\n    {constructors.text(fields, False)},\n" in text for fields in constructors.ALONE)
    assert all(f"\n    {n}: {constructors.text(n, True)},\n" in text for n in constructors.THEN_AFTER)
    assert len(constructors.ALONE) > 20


@each_row("fields", [0, 1, 24, 25, 40])
def test_a_class_may_have_more_fields_than_are_written_out(fields: int) -> None:
    names = [f"field{at}" for at in range(fields)]
    body = {"__annotations__": dict.fromkeys(names, "int"), "__module__": __name__}
    cls: Any = quick_dataclasses.dataclass(frozen=True, slots=True)(type("Many", (), body))
    assert [getattr(cls(*range(fields)), name) for name in names] == list(range(fields))
