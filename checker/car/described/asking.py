"""What is worked out of a car, kept together with the names that were asked for on the way.

Weights and levers are functions of what they ask a car, by name. Each is worked out through a `Noting`, which answers
as the car does and notes every name. Those names tell what the result rests on: which sources of error move it, and
whether a car with one thing moved still has it. Nobody lists them, so nobody can forget one.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Mapping
from fractions import Fraction
from typing import Any, Generic, NamedTuple, Protocol, TypeVar

from checker.car.described.stated import Entry, Stated

T = TypeVar("T")

WEIGHTS = "weight"
"""Stands among names for the loads that were read, which everything named `weight.` or `percentage.` rests on."""
MEAN = "weight, mean of the readings"
"""Stands for what only the mean of the readings rests on."""
ROLL_SPLIT = "roll split"
"""Stands for how the springs share a leaning mass between unequal tracks."""


def single(which: int) -> str:
    """Stands for what only the weights by that one reading (from 0) rest on."""
    return f"weight, reading {which}"


class Worked(NamedTuple, Generic[T]):
    result: T
    names: frozenset[str]
    """All that was asked for on the way."""
    in_order: tuple[str, ...]
    """The same in the order in which they were first asked for."""


class Stating(Protocol):
    """What fuel is worked out from."""

    @property
    def tank_levels(self) -> int: ...
    def value(self, name: str) -> Any: ...
    def stated(self, name: str) -> Stated | None: ...


class Described(Stating, Protocol):
    """What weights and levers are worked out from: a car, or a `Noting` of one.

    What is a property here cannot be moved by an error of measurement, except the roll split; only a car read
    anew has it otherwise.
    """

    @property
    def inside(self) -> str: ...
    @property
    def tyre_sets(self) -> tuple[str, ...]: ...
    @property
    def every_tyre_set(self) -> tuple[str, ...]: ...
    @property
    def fluids(self) -> tuple[str, ...]: ...
    @property
    def left_off(self) -> tuple[str, ...]: ...
    @property
    def lists_with_mass(self) -> tuple[str, ...]: ...
    @property
    def weighed_as(self) -> Described | None: ...
    @property
    def roll_split(self) -> Fraction: ...
    def tyre_set(self, name: str) -> str | None: ...
    def every_entry(self, list_name: str) -> tuple[Entry, ...]: ...
    def field(self, entry: Entry, name: str) -> Any: ...
    def loads(self, which: int | None) -> Mapping[str, Fraction]: ...
    def worked_out(self, make: Callable[..., T], *of: Hashable) -> Worked[T]: ...


class Noting:
    """Answers as a car does, and notes what was asked for."""

    __slots__ = (
        *("_asked", "_car", "fluids", "inside", "left_off", "lists_with_mass"),
        *("tank_levels", "tyre_set", "tyre_sets", "weighed_as"),
    )

    def __init__(self, car: Described) -> None:
        self._car = car
        self._asked: dict[str, None] = {}
        self.inside = car.inside
        self.tyre_sets, self.tyre_set = car.tyre_sets, car.tyre_set
        self.tank_levels, self.fluids, self.left_off = car.tank_levels, car.fluids, car.left_off
        self.lists_with_mass, self.weighed_as = car.lists_with_mass, car.weighed_as

    def note(self, *names: str) -> None:
        self._asked.update(dict.fromkeys(names))

    def work_out(self, make: Callable[..., T], of: tuple[Hashable, ...]) -> Worked[T]:
        """What `make` makes of the car and of these."""
        result = make(self, *of)
        return Worked(result, frozenset(self._asked), tuple(self._asked))

    @property
    def every_tyre_set(self) -> tuple[str, ...]:
        return self._car.every_tyre_set

    @property
    def roll_split(self) -> Fraction:
        self.note(ROLL_SPLIT)
        return self._car.roll_split

    def value(self, name: str) -> Any:
        self.note(name)
        return self._car.value(name)

    def stated(self, name: str) -> Stated | None:
        """What may be left out; it counts as asked for only where it is stated."""
        stated = self._car.stated(name)
        if stated is not None:
            self.note(name)
        return stated

    def every_entry(self, list_name: str) -> tuple[Entry, ...]:
        self.note(list_name)
        return self._car.every_entry(list_name)

    def field(self, entry: Entry, name: str) -> Any:
        self.note(f"{entry.list_name}.{name}")
        return self._car.field(entry, name)

    def loads(self, which: int | None) -> Mapping[str, Fraction]:
        self.note(WEIGHTS, MEAN if which is None else single(which))
        return self._car.loads(which)

    def worked_out(self, make: Callable[..., T], *of: Hashable) -> Worked[T]:
        worked = self._car.worked_out(make, *of)
        self.note(*worked.in_order)
        return worked


class Kept:
    """What has been worked out of one car, for as long as it holds.

    A car with something moved begins with what its origin has, except what rests on the moved things.
    """

    __slots__ = ("_below", "_found", "_moved")

    def __init__(self, below: Kept | None = None, moved: Collection[str] = ()) -> None:
        self._found: dict[Hashable, Worked[Any]] = {}
        self._below = below
        self._moved = frozenset(moved)

    def get(self, key: Hashable) -> Worked[Any] | None:
        found = self._found.get(key)
        if found is None and self._below is not None:
            found = self._below.get(key)
            if found is not None:
                if not self._moved.isdisjoint(found.names):
                    return None
                self._found[key] = found
        return found

    def put(self, key: Hashable, worked: Worked[T]) -> Worked[T]:
        self._found[key] = worked
        return worked

    def once(self, key: Hashable, names: Callable[[], Collection[str]], make: Callable[[], T]) -> T:
        """What is made when it is first asked for, and rests on these names."""
        found: Worked[T] = self.get(key) or self.put(key, Worked(make(), frozenset(names()), ()))
        return found.result
