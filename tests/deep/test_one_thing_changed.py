"""One thing of a sample car is taken out, misspelt or written another way, and every clause is judged again.

Taking out or misspelling any one thing never turns a clause that fails or is not shown into one that is met; what is
put back never makes a clause that was met not shown; and the same facts in another form give the same outcomes.
"""

from __future__ import annotations

import copy
import json
import random
import re
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.editions.finding import find_pack
from checker.pack.keeping.kept import pack_on
from checker.pack.model import Pack
from checker.reading.printer import to_yaml
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.verdict.inspection import Outcome
from checker.verdict.run import day_for, inspect_document
from tests.conftest import ROOT

pytestmark = [pytest.mark.deep, pytest.mark.usefixtures("at_root")]

CARS = sorted(file.stem for file in (ROOT / "samples/cars").glob("*.yaml"))
STORIES = ("creeping-inside", "hidden-alloy", "light-at-the-flag", "price-rise")
"""Cars of which a clause fails."""
SEED, TRIED = 20260503, 60
Place = tuple[str | int, ...]
Outcomes = Mapping[str, Outcome]


@cache
def data_of(name: str) -> Any:
    return parse_document(Path(f"samples/cars/{name}.yaml").read_bytes(), "car.yaml", "CD").data


@cache
def rules(name: str) -> tuple[Pack, Any]:
    on = day_for(parse_document(Path(f"samples/cars/{name}.yaml").read_bytes(), "car.yaml", "CD"), None, None)
    return pack_on(find_pack("dunlin"), on), on


def judged(name: str, text: str) -> Outcomes | None:
    """By clause; None where the declaration is refused."""
    pack, on = rules(name)
    try:
        found = inspect_document(pack, parse_document(text.encode(), "car.yaml", "CD"), on, "entrant")
    except InputError:
        return None
    return {outcome.clause.number: outcome for outcome in found.outcomes}


@cache
def as_declared(name: str) -> Outcomes:
    found = judged(name, json.dumps(data_of(name)))
    assert found is not None
    return found


def places(value: Any, here: Place = ()) -> Iterator[Place]:
    """Every value but the root, whole sections and entries too."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in inside:
        yield (*here, key)
        yield from places(inner, (*here, key))


def changed(name: str, place: Place, change: Callable[[Any, Any], None]) -> str:
    """The car as JSON, after a change to what holds the place."""
    data = copy.deepcopy(data_of(name))
    holder: Any = data
    for part in place[:-1]:
        holder = holder[part]
    change(holder, place[-1])
    return json.dumps(data)


def taken_out(holder: Any, key: Any) -> None:
    del holder[key]


def key_misspelt(holder: Any, key: Any) -> None:
    if isinstance(holder, dict):
        holder[f"{key[:-1]}q"] = holder.pop(key)


def value_misspelt(holder: Any, key: Any) -> None:
    if isinstance(holder[key], str):
        holder[key] = re.sub(r"[a-zA-Z](?=[^a-zA-Z]*$)", "q", holder[key])


def is_entry(name: str, place: Place) -> bool:
    """A whole entry of a list, or a list: a part that is not declared cannot be seen to breach a rule."""
    value = data_of(name)
    for part in place:
        value = value[part]
    return isinstance(place[-1], int) or isinstance(value, (dict, list))


def wrongly_met(before: Outcomes, after: Outcomes) -> list[str]:
    open_ = (FAIL, NOT_SHOWN, TOO_CLOSE)
    return [n for n in before if before[n].outcome in open_ and after[n].outcome == PASS]


@pytest.mark.parametrize("name", STORIES)
@pytest.mark.parametrize("change", [taken_out, key_misspelt, value_misspelt])
def test_one_thing_taken_out_or_misspelt(name: str, change: Callable[[Any, Any], None]) -> None:
    """Nothing that fails or is not shown becomes met; and what is put back makes nothing that was met not shown."""
    whole, wrong = as_declared(name), []
    facts = [place for place in places(data_of(name)) if not is_entry(name, place)]
    for place in random.Random(SEED).sample(facts, TRIED):
        less = judged(name, changed(name, place, change))
        if less is not None:
            wrong += [(place, number, "met without it") for number in wrongly_met(whole, less)]
            wrong += [
                (place, number, "met until it was put back")
                for number, outcome in less.items()
                if outcome.outcome == PASS and whole[number].outcome == NOT_SHOWN
            ]
    assert wrong == []


def essence(outcomes: Outcomes) -> list[tuple[str, str, Any, str]]:
    return [(n, o.outcome, o.assessment.margin_value, o.assessment.item) for n, o in sorted(outcomes.items())]


def backwards(value: Any) -> Any:
    """Every mapping in the other order; lists keep theirs, for they may be ranked or counted by it."""
    if isinstance(value, dict):
        return {key: backwards(value[key]) for key in reversed(value)}
    return [backwards(one) for one in value] if isinstance(value, list) else value


UNITS = {"mm": ("cm", -1), "kg": ("g", 3), "cc": ("L", -3), "L": ("cc", 3)}
"""Another unit of each, and the power of ten between them."""


def in_other_units(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: in_other_units(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [in_other_units(one) for one in value]
    match = re.fullmatch(r"(\d+(?:\.\d+)?) (mm|kg|cc|L)", value) if isinstance(value, str) else None
    if match is None:
        return value
    unit, power = UNITS[match[2]]
    return f"{Decimal(match[1]).scaleb(power):f} {unit}"


def with_anchors(data: Any) -> str:
    """Each of the first values of a section that stand twice is written once and referred to."""
    text = to_yaml(data)
    number = re.search(r"(?m)^(\s+\S+): (\d+(?:\.\d+)? kg)$", text)
    if number is None:
        return text
    first, rest = text[: number.end()], text[number.end() :]
    first = first[: number.start(2)] + "&same " + number[2]
    return first + re.sub(rf"(?m): {re.escape(number[2])}$", ": *same", rest)


FORMS: dict[str, Callable[[Any], str]] = {
    "yaml": to_yaml,
    "backwards": lambda data: json.dumps(backwards(data)),
    "other units": lambda data: json.dumps(in_other_units(data)),
    "anchors": with_anchors,
}


@pytest.mark.parametrize("name", CARS)
@pytest.mark.parametrize("form", FORMS)
def test_the_same_facts_in_another_form_give_the_same_outcomes(name: str, form: str) -> None:
    found = judged(name, FORMS[form](data_of(name)))
    assert found is not None
    assert essence(found) == essence(as_declared(name))
