"""Conditions: the states of a car that a clause asks about.
A condition is a box: from so much fuel to so much, driver out or aboard, these tyre sets, from new to
worn. Weights are linear in the amounts and percentages are one linear expression over another, so the
worst of any of them is at a corner of the box, and judging the corners judges every state inside. Where the
fuel's centre moves with its level, the box is cut at each level of the tank's table.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import product

from checker.car.described.asking import Described
from checker.car.described.vocabulary import AS_WEIGHED, Condition
from checker.car.weights.differences import LITRE, litres, wear_in_words
from checker.car.weights.fuel import layers
from checker.car.weights.geometry import MaybeFraction
from checker.car.weights.weights import State
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown
from checker.quantities.literal import parse_quantity
from checker.quantities.misread import LiteralError
from checker.reading.document import Document
from checker.reading.nearest import did_you_mean
from checker.reading.patterns import pattern
from checker.reading.problems import Path, Problems
from checker.reading.quick_dataclasses import replace

EVERY_SET = "every set"
_OR = pattern(r"(?:^|\s)or(?:\s|$)")
_WEAR = {"new": Fraction(0), "worn": Fraction(1)}

_ANY = (
    Condition(
        name,
        ("unusable", "full"),
        driver,
        (EVERY_SET,),
        ("new", "worn"),
        f"fuel unusable to full, driver {' or '.join(driver)}, tyres every set, wear new to worn",
    )
    for name, driver in (("any", ("out", "aboard")), ("any_without_driver", ("out",)))
)
BUILT_IN: Mapping[str, Condition] = {one.name: one for one in (AS_WEIGHED, *_ANY)}
"""Conditions that every pack has; it may define all but `as_weighed` otherwise."""


def states(car: Described, condition: Condition) -> tuple[State, ...]:
    """All corners of the condition for that car; what the car does not declare is unknown in them.

    The order is fixed: tyre sets and driver as they are named, fuel from low to high, new before worn.
    """
    fuels: tuple[MaybeFraction | None, ...] = (None,)
    if condition.fuel is not None:
        fuels = tuple(dict.fromkeys(_fuels(car, *(_fuel(car, end) for end in condition.fuel))))
    facts = _fuel_facts(car, condition)
    return tuple(
        state_of(fuel, driver, tyres, wear, facts.get(fuel, ""))
        for tyres in _tyre_sets(car, condition.tyres)
        for driver in condition.driver or (None,)
        for fuel in fuels
        for wear in _wears(condition)
    )


def partly_as_weighed(car: Described, condition: Condition) -> tuple[State, ...]:
    """States within the condition, beside its corners, that leave parts as they were at the weighing.

    They may be known where a corner is not: what does not change from the weighing is not asked for.
    """
    fuels: tuple[MaybeFraction | None, ...] = (None,)
    if condition.fuel is not None:
        low, high = (_fuel(car, end) for end in condition.fuel)
        fuels = (*_fuels(car, low, high), *_weighed_fuel(car, condition, low, high))
    drivers: tuple[str | None, ...] = condition.driver or (None,)
    if len(drivers) > 1 and isinstance(car.value("weighing.driver"), Unknown):
        drivers = (*drivers, None)
    tyres: tuple[str | Unknown | None, ...] = _tyre_sets(car, condition.tyres)
    fitted = car.value("weighing.tyres")
    if condition.tyres == (EVERY_SET,) and (isinstance(fitted, Unknown) or not car.tyre_sets):
        tyres = (*tyres, None)
    wears = _wears(condition)
    if len(wears) > 1 and isinstance(car.value("weighing.wear"), Unknown):
        wears = (*wears, None)
    apart = set(states(car, condition))
    if car.left_off:  # what was left off is on the car in every state but the weighing
        apart.add(State())
    facts = _fuel_facts(car, condition)
    every = (
        _else_as_weighed(state_of(fuel, driver, tyre_set, wear, facts.get(fuel, "")))
        for fuel, driver, tyre_set, wear in product(dict.fromkeys(fuels), drivers, tyres, wears)
    )
    return tuple(state for state in every if state not in apart)


def _else_as_weighed(state: State) -> State:
    """The state with words for the parts that are as they were, whatever that was."""
    if state.is_as_weighed or None not in (state.fuel, state.driver, state.tyres, state.wear):
        return state
    return replace(state, words=f"{state.words}, otherwise as weighed")


def _weighed_fuel(
    car: Described, condition: Condition, low: MaybeFraction, high: MaybeFraction
) -> tuple[MaybeFraction | None, ...]:
    """The fuel that the car was weighed with, where it is known to lie between the two: as it was read, and, clear of
    both ends, as it was, whose weight no error of that reading bears on."""
    assert condition.fuel is not None
    weighed = car.value("weighing.fuel")
    if isinstance(low, Unknown):
        return ()
    if isinstance(weighed, Unknown):  # whatever it was, it was between nothing and full
        return (None,) if low == 0 and condition.fuel[1] == "full" else ()
    if weighed < low or (isinstance(high, Unknown) and condition.fuel[1] != "full"):
        return ()
    if not isinstance(high, Unknown) and weighed > high:
        return ()
    return (weighed, None) if weighed != low and weighed != high else (weighed,)


def _fuel(car: Described, end: Fraction | str) -> MaybeFraction:
    return end if isinstance(end, Fraction) else car.value(_fact(end))


def _fact(end: str) -> str:
    return "fuel.capacity" if end == "full" else "fuel.unusable"


def _fuel_facts(car: Described, condition: Condition) -> dict[MaybeFraction | None, str]:
    """The facts that say how much fuel is on board at the ends of a condition, by the amount."""
    return {car.value(_fact(end)): _fact(end) for end in condition.fuel or () if isinstance(end, str)}


def _fuels(car: Described, low: MaybeFraction, high: MaybeFraction) -> tuple[MaybeFraction, ...]:
    """Both ends, and between them every level at which the fuel's centre begins to move otherwise."""
    if isinstance(low, Unknown) or isinstance(high, Unknown):
        return low, high
    levels = [layer.low_mm3 for layer in layers(car) if low < layer.low_mm3 < high]
    return low, *levels, high


def _wears(condition: Condition) -> tuple[Fraction | None, ...]:
    return (None,) if condition.wear is None else tuple(_WEAR[end] for end in condition.wear)


def _tyre_sets(car: Described, names: tuple[str, ...] | None) -> tuple[str | Unknown | None, ...]:
    if names is None:
        return (None,)
    if names != (EVERY_SET,):
        return names
    return car.every_tyre_set or (Unknown(absent=("tyres",)),)


def state_of(
    fuel: MaybeFraction | None = None,
    driver: str | None = None,
    tyres: str | Unknown | None = None,
    wear: Fraction | None = None,
    fuel_fact: str = "",
) -> State:
    """A state with its words; arguments as for `State`."""
    words = []
    if fuel is not None:
        words.append(f"{litres(fuel)} on board" if isinstance(fuel, Fraction) else "full tank")
    if driver is not None:
        words.append(f"driver {driver}")
    if tyres is not None:
        words.append("every tyre set" if isinstance(tyres, Unknown) else f"{tyres} tyres")
    if wear is not None:
        words.append(wear_in_words(wear))
    return State(fuel, driver, tyres, wear, fuel_fact, words=", ".join(words) or "as weighed")


def between(a: State, b: State, fraction: Fraction) -> State:
    """The state so far (0 to 1) on the way from `a` to `b`, which differ only in known amounts of fuel and in wear."""
    if not isinstance(a.fuel, Fraction) or not isinstance(b.fuel, Fraction):
        raise ValueError("both states must have a known amount of fuel")
    wear = None if a.wear is None or b.wear is None else a.wear + fraction * (b.wear - a.wear)
    return state_of(a.fuel + fraction * (b.fuel - a.fuel), a.driver, a.tyres, wear)


# -- reading the pack's `conditions:` ----------------------------------------------------------------


def parse_condition(
    name: str, document: Document, path: Path, problems: Problems, code: str
) -> Condition | None:
    """The condition that a pack defines at `path`, e.g. `{fuel: 4 L, driver: aboard, wear: new}`.

    Returns:
        None, with problems noted, where it cannot be read: an unknown key as 101, an unknown unit as 104, all else
            under `code`.
    """
    data = document.get(path)
    readers = {"fuel": _read_fuel, "driver": _read_driver, "tyres": _read_tyres, "wear": _read_wear}
    if name == AS_WEIGHED.name:
        problems.add(code, "as_weighed is the weighing itself and cannot be defined", document.key_span(path))
        return None
    if not isinstance(data, dict) or not data:
        hint = "write it as {fuel: unusable to full, driver: out, tyres: every set, wear: new to worn}"
        problems.add(code, f"the condition {name} says nothing of the car", document.span(path), hint=hint)
        return None
    read: dict[str, object] = {}
    for key, value in data.items():
        here = (*path, key)
        if key not in readers:
            hint = did_you_mean(key, readers) or f"it may name {', '.join(readers)}"
            problems.add("PK101", f"{key!r} is no part of a condition", document.key_span(here), hint=hint)
            continue
        try:
            text = value if isinstance(value, str) else document.written(here)
            read[key] = readers[key](text)
        except _NotRead as error:
            problems.add(error.code or code, f"{key}: {error}", document.span(here), hint=error.hint)
    if len(read) < len(data):
        return None
    words = ", ".join(f"{key} {data[key]}" for key in readers if key in data)
    return Condition(name, words=words, **read)  # type: ignore[arg-type]


class _NotRead(Exception):
    def __init__(self, message: str, hint: str, code: str = "") -> None:
        super().__init__(message)
        self.hint = hint
        self.code = code


def _read_fuel(text: str) -> tuple[Fraction | str, Fraction | str]:
    ends = [_read_fuel_end(part) for part in text.split(" to ")]
    if len(ends) > 2:
        raise _NotRead(f"{text!r} is no range", "write it as in unusable to full")
    low, high = ends[0], ends[-1]
    if isinstance(low, Fraction) and isinstance(high, Fraction):
        backwards = low > high
    else:
        backwards = low != high and (low == "full" or high == "unusable")
    if backwards:
        raise _NotRead(f"{text!r} runs from more to less", "write the lower amount first")
    return low, high


def _read_fuel_end(text: str) -> Fraction | str:
    word = fold(text)
    if word in ("unusable", "empty"):
        return "unusable"
    if word == "full":
        return "full"
    try:
        literal = parse_quantity(text.strip(), LITRE.kind, None)
    except LiteralError as error:
        hint = error.hint or "write unusable, empty, full or an amount as in 4 L"
        raise _NotRead(error.message, hint, "PK104" if error.code_number == 104 else "") from None
    if not isinstance(literal.value, Fraction) or literal.value < 0:
        raise _NotRead(f"{text.strip()} is below zero", "write 0 L or more")
    return literal.value


def _read_driver(text: str) -> tuple[str, ...]:
    found = tuple(fold(part) for part in _OR.split(text))
    if not set(found) <= {"out", "aboard"} or len(set(found)) < len(found):
        raise _NotRead(f"{text!r} cannot be read", "write out, aboard, or out or aboard")
    return found


def _read_tyres(text: str) -> tuple[str, ...]:
    if fold(text) == EVERY_SET:
        return (EVERY_SET,)
    found = tuple(" ".join(part.split()) for part in _OR.split(text))
    if not all(found) or EVERY_SET in map(fold, found) or len(set(map(fold, found))) < len(found):
        raise _NotRead(f"{text!r} cannot be read", "write every set, or names of sets as in dry or wet")
    return found


def _read_wear(text: str) -> tuple[str, ...]:
    found = tuple(fold(part) for part in text.split(" to "))
    if found not in (("new",), ("worn",), ("new", "worn")):
        raise _NotRead(f"{text!r} cannot be read", "write new, worn, or new to worn")
    return found
