"""40 clauses with margins beside general-purpose engines of rules: another formula, a car that has been read.

What of these is not installed is left out: `pip install jsonlogic-rs common-expression-language zen-engine`. They know
floats and no uncertainty, and have no word on why or what to do; the schema validator gives no margins either.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator
from random import Random
from time import process_time
from typing import Any

from checker.verdict.inspection import inspect_car
from tests.building import DAY, car_of, pack_of

Values = dict[str, float]
NAMES = tuple(f"x{place}" for place in range(20))
ROUNDS, TIMES = 9, 200


def clauses() -> Iterator[tuple[str, str, str, dict[str, Any]]]:
    """Each clause as a check of ours, and its margin in Python's, in common expression, and as JSON logic."""
    chance = Random(7)

    def var(name: str) -> dict[str, Any]:
        return {"var": name}

    for place, x in enumerate(NAMES):
        y, most = NAMES[(place + 7) % len(NAMES)], chance.randrange(150, 400)
        yield f"limit: f.{x}, at_most: {most}", f"{most}.0 - {x}", f"{most}.0 - {x}", {"-": [most, var(x)]}
        if place % 2:
            ours = f'limit: "abs(f.{x} - f.{y})", at_most: 90'
            apart = f"({x} > {y} ? {x} - {y} : {y} - {x})"
            logic = {"-": [90, {"max": [{"-": [var(x), var(y)]}, {"-": [var(y), var(x)]}]}]}
            yield ours, f"90.0 - abs({x} - {y})", f"90.0 - {apart}", logic
        elif place % 4:
            ours = f'limit: "(f.{x} + f.{y}) / 2", at_least: 180'
            told = f"({x} + {y}) / 2.0 - 180.0"
            yield ours, told, told, {"-": [{"/": [{"+": [var(x), var(y)]}, 2]}, 180]}
        else:
            ours = f'limit: f.{x}, at_least: "0.5 * f.{y} + 20 if f.x1 > 200 else 100"'
            python = f"{x} - (0.5 * {y} + 20.0 if x1 > 200.0 else 100.0)"
            common = f"{x} - (x1 > 200.0 ? 0.5 * {y} + 20.0 : 100.0)"
            chosen = {"if": [{">": [var("x1"), 200]}, {"+": [{"*": [0.5, var(y)]}, 20]}, 100]}
            yield ours, python, common, {"-": [var(x), chosen]}


def _engines(values: Values) -> Iterator[tuple[str, Callable[[], object]]]:
    """Each engine with what gives all margins of a car that it knows; the schema validator whether all hold."""
    _, python, common, logic = zip(*clauses(), strict=True)
    by_hand = eval(f"lambda {', '.join(NAMES)}: ({', '.join(python)})")
    yield "by hand, in floats", lambda: by_hand(**values)
    whole = f"[{', '.join(common)}]"
    for name, module, make in (
        (
            "a JSON-logic engine in Rust",
            "jsonlogic_rs",
            lambda of: lambda: of.apply({"merge": list(logic)}, values),
        ),
        ("a decision engine in Rust", "zen", lambda of: _evaluating(of.compile_expression(whole), values)),
        ("common expressions in Rust", "cel", lambda of: _executing(of.compile(whole), values)),
        ("a schema validator in Rust, 20 bounds", "jsonschema_rs", lambda of: _validating(of, values)),
    ):
        try:
            found = importlib.import_module(module)
        except ImportError:
            continue
        yield name, make(found)


def _evaluating(expression: Any, values: Values) -> Callable[[], object]:
    return lambda: expression.evaluate(values)


def _executing(program: Any, values: Values) -> Callable[[], object]:
    return lambda: program.execute(values)


def _validating(of: Any, values: Values) -> Callable[[], object]:
    chance = Random(7)
    bounds = {name: {"type": "number", "maximum": chance.randrange(150, 400)} for name in NAMES}
    validator = of.validator_for({"type": "object", "properties": bounds, "required": list(NAMES)})
    return lambda: validator.is_valid(values)


def measure(rounds: int = ROUNDS) -> dict[str, float]:
    """Seconds of processor time for the 40 clauses of one car, the least of several rounds, in turns.

    Raises:
        AssertionError: An engine comes to other margins.
    """
    chance = Random(3)
    values = {name: float(chance.randrange(120, 380)) for name in NAMES}
    facts = "facts: {" + ", ".join(f"f.{x}: {{type: number, uncertainty: 0.5}}" for x in NAMES) + "}"
    checks = [ours for ours, *_ in clauses()]
    pack = pack_of(
        "".join(f'"{n}": {{title: T, text: W, check: {{{one}}}}}\n' for n, one in enumerate(checks)), facts
    )
    text = "f: {" + ", ".join(f"{x}: {value}" for x, value in values.items()) + "}"
    every = dict(_engines(values))
    expected = every["by hand, in floats"]()
    spent: dict[str, list[float]] = {}
    for _ in range(rounds):
        for name, judge in every.items():
            if "schema" not in name:
                told = [round(float(one), 9) for one in judge()]  # type: ignore[attr-defined]
                assert told == [round(one, 9) for one in expected], name  # type: ignore[attr-defined]
            began = process_time()
            for _ in range(TIMES):
                judge()
            spent.setdefault(name, []).append((process_time() - began) / TIMES)
        for audience, exact, name in (
            ("entrant", True, "ours, exact"),
            ("entrant", False, "ours, uncertain"),
        ):
            car = car_of(pack, text)
            began = process_time()
            judged = inspect_car(pack, car, DAY, audience, exact=exact)
            spent.setdefault(name, []).append(process_time() - began)
            found = [float(one.assessment.margin.value) for one in judged.outcomes if one.assessment.margin]
            assert [round(one, 9) for one in found] == [round(one, 9) for one in expected]  # type: ignore[attr-defined]
    return {name: min(every) for name, every in spent.items()}


if __name__ == "__main__":
    print(measure())
