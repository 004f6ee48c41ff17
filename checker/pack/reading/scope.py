"""The names of a pack as formulas see them.

Facts read from the car, weights from the state it is in, derived values from their own formulas. Derived
values and fields that are worked out may name each other in any order; a circle is found when a formula
asks for a name that is still being made.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from typing import Generic, TypeVar

from checker.car.described.stated import ABOVE, ACROSS, ALONG, DEFAULT, FROM_REAR, RIGHT, Entry, Stated
from checker.car.described.vocabulary import FactType, ListType
from checker.car.scene import ITEM, Scene
from checker.car.weights.places import spot_of
from checker.car.weights.weights import PAIRS
from checker.kinds.frame.condition_range import SINGLE
from checker.kinds.frame.entries import bound_expression
from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.formula import form as forms
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.formula.scope import Binding, Entries, Field
from checker.quantities.kind import PERCENT, TooFew, Unknown, quantity
from checker.quantities.units import Unit, parse_unit

T = TypeVar("T")

WEIGHT_NAMES = (*PAIRS, "inside", "outside", *SINGLE)


class OnDemand(Mapping[str, T], Generic[T]):
    """A mapping whose later values are made when they are first asked for."""

    def __init__(self, ready: Mapping[str, T]) -> None:
        self._ready: dict[str, T] = dict(ready)
        self._makers: dict[str, Callable[[], T | None]] = {}
        self._making: list[str] = []
        self._failed: set[str] = set()

    def later(self, name: str, maker: Callable[[], T | None]) -> None:
        """Make `name` with `maker` when it is asked for; None: it cannot be made, and that is reported already."""
        self._makers[name] = maker

    def __getitem__(self, name: str) -> T:
        if name in self._ready:
            return self._ready[name]
        if name not in self._makers:
            raise KeyError(name)
        if name in self._making:
            circle = " needs ".join([*self._making[self._making.index(name) :], name])
            raise FormulaError(FormulaProblem(203, f"'{name}' goes in a circle: {circle}"))
        if name in self._failed:
            raise FormulaError()
        self._making.append(name)
        try:
            made = self._makers[name]()
        finally:
            self._making.pop()
        if made is None:
            self._failed.add(name)
            raise FormulaError()
        self._ready[name] = made
        return made

    def __getstate__(self) -> dict[str, object]:
        """As it is kept: with everything made that can be, for what makes it is large."""
        for name in tuple(self._makers):
            with suppress(FormulaError):
                self[name]
        left = {name: maker for name, maker in self._makers.items() if name not in self._ready}
        return {"_ready": self._ready, "_makers": left, "_making": [], "_failed": self._failed}

    def __iter__(self) -> Iterator[str]:
        """Every name but those that are being made, which nothing that is asked for meanwhile can rest on."""
        yield from self._ready
        yield from (name for name in self._makers if name not in self._ready and name not in self._making)

    def __len__(self) -> int:
        return len(set(self._ready) | set(self._makers))

    def __contains__(self, name: object) -> bool:
        return name in self._ready or name in self._makers


def fact_bindings(facts: Mapping[str, FactType]) -> dict[str, Binding]:
    return {name: _fact(name, fact) for name, fact in facts.items()}


def _fact(name: str, fact: FactType) -> Binding:
    def read(scene: Scene) -> object:
        return _enough(scene.car.value(name), fact, name)

    def stated(scene: Scene) -> bool | Unknown:
        return _is_stated(scene.car.stated(name))

    return Binding(fact.whole_kind, read, unit=fact.unit, stated=stated)


def _is_stated(found: Stated | None) -> bool | Unknown:
    """Whether it is stated by anybody; not known of what does not count, as a day after the one judged."""
    if found is not None and isinstance(found.value, Unknown):
        return found.value
    return found is not None and found.origin != DEFAULT


def _enough(value: object, fact: FactType, name: str) -> object:
    """The value; unknown where it has fewer readings than it takes."""
    if isinstance(value, tuple) and len(value) < fact.readings:
        return Unknown(too_few=(TooFew(name, len(value), fact.readings),))
    return value


def weight_bindings() -> dict[str, Binding]:
    kg, percent = parse_unit("kg", None), parse_unit("%", None)
    found: dict[str, Binding] = {}
    for name in WEIGHT_NAMES:
        found[f"weight.{name}"] = Binding(quantity(MASS), _weight(name), unit=kg, form=forms.weight(name))
        if name != "total":
            found[f"percentage.{name}"] = Binding(
                PERCENT, _percentage(name), unit=percent, form=forms.percentage(name)
            )
    return found


def _weight(name: str) -> Callable[[Scene], object]:
    return lambda scene: scene.weight(name)


def _percentage(name: str) -> Callable[[Scene], object]:
    return lambda scene: scene.percentage(name)


def list_entries(lists: Mapping[str, ListType]) -> dict[str, tuple[Entries, OnDemand[Field]]]:
    """Every list; the second of each pair takes fields that are worked out."""
    found: dict[str, tuple[Entries, OnDemand[Field]]] = {}
    for name, type_ in lists.items():
        stated = {field: _field(name, field, fact) for field, fact in type_.fields.items()}
        fields = OnDemand({**stated, **{key: _place(name, key) for key in _PLACES}})
        found[name] = (Entries(name, fields, _reader(name), _standing), fields)
    return found


def _reader(name: str) -> Callable[[Scene, bool], tuple[Entry, ...] | Unknown]:
    return lambda scene, parts: scene.car.entries(name, parts)


def _standing(entry: Entry) -> int:
    return entry.standing


def _field(list_name: str, name: str, fact: FactType) -> Field:
    def read(_: Scene, entry: Entry) -> object:
        return _enough(entry.value(name), fact, f"{entry.label}: {name}")

    def stated(entry: Entry) -> bool | Unknown:
        return _is_stated(entry.stated(name))

    return Field(fact.whole_kind, read, stated, fact.unit, frozenset({f"{list_name}.{name}"}))


def _place(list_name: str, key: str) -> Field:
    """Where an entry sits; what lies right of the centre is kept as what lies left of it."""
    kept, sign = (ACROSS, -1) if key == RIGHT else (key, 1)
    axle = _AXLES.get(key)
    told = (kept,) if axle is None else tuple(_AXLES)

    def read(scene: Scene, entry: Entry) -> object:
        if not stated(entry):
            return Unknown(absent=(f"{entry.label}: {key}",))
        if axle is not None:
            return spot_of(scene.car, entry).behind(axle, scene.car.geometry.wheelbase)
        return sign * entry.value(kept)

    def stated(entry: Entry) -> bool:
        return any(entry.stated(one) is not None for one in told)

    uses = frozenset({f"{list_name}.{kept}"})
    return Field(quantity(LENGTH), read, stated, parse_unit("mm", None), uses)


_AXLES = {ALONG: 0, FROM_REAR: 1}
_PLACES = (*_AXLES, ACROSS, RIGHT, ABOVE)


def worked_out_field(list_name: str, name: str, expression: Expression, unit: Unit | None) -> Field:
    """A field given by a formula over the entry's other fields."""

    def read(scene: Scene, entry: Entry) -> object:
        return scene.bind(ITEM, entry).once(expression.evaluate)

    uses = expression.uses | {f"{list_name}.{name}"}
    shown = unit or expression.written_unit(None, (0, 2))
    return Field(expression.kind, read, lambda _: False, shown, uses, expression)


def derived_binding(expression: Expression, unit: Unit | None) -> Binding:
    """A derived value: like its formula, shown in its own unit."""
    bound = bound_expression(expression)
    return Binding(
        bound.kind,
        bound.read,
        unit=unit,
        form=bound.form,
        expression=expression,
        locals=bound.locals,
        uses=bound.uses,
    )
