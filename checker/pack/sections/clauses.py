"""`clauses:` the numbered rules."""

from __future__ import annotations

from collections.abc import Collection

from checker.kinds.contract.check import Check
from checker.kinds.frame.entries import MODES
from checker.kinds.frame.framing import compile_check
from checker.kinds.reading.reader import CheckReader, Surroundings
from checker.pack.model import ADVISORY, MANDATORY, Clause, Earlier, Penalty, Severity
from checker.pack.reading.source import PackSource
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.scope import Binding
from checker.quantities.kind import DATE, NUMBER, Kind
from checker.reading.nearest import did_you_mean
from checker.reading.patterns import pattern
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import replace

KEYS = (
    "title",
    "text",
    "check",
    "severity",
    "consequence",
    "penalty",
    "act",
    "interpretation",
    "instead_of",
    "since",
    "until",
    "earlier",
    "formerly",
)

_EXCESS = pattern(r"\bexcess\b")


def read_clauses(
    source: PackSource, around: Surroundings, only: Collection[str] | None = None
) -> dict[str, Clause]:
    """Every clause that can be used, by number, in the order written; mistakes are noted.

    Args:
        source: Stands at the pack.
        around: What the checks inherit.
        only: Numbers of the clauses to read; None: all.
    """
    found: dict[str, Clause] = {}
    for number in source.mapping("clauses"):
        if only is not None and number not in only:
            continue
        clause = _read(source.of_clause(number), number, replace(around, clause=number))
        if clause is not None:
            found[number] = clause
    _check_instead_of(source)
    return found


def _read(source: PackSource, number: str, around: Surroundings) -> Clause | None:
    path = ("clauses", number)
    given = source.get(*path)
    if not isinstance(given, dict):
        source.problem(108, f"clause {number} needs `title`, `text` and `check`", *path)
        return None
    sound = source.known_keys(KEYS, *path, what="a clause")
    if not number.strip():
        source.key_problem(102, "a clause has a number", *path, hint='"3.1": {...}')
        return None
    if "check" not in given:
        source.key_problem(501, f"clause {number} has no `check`", *path)
        return None
    check = compile_check(CheckReader(source.document, (*path, "check"), around))
    earlier = _earlier(source, number, around)
    penalty = None if check is None else _penalty(source, number, check, around)
    severity = source.word((MANDATORY, ADVISORY), *path, "severity")
    since, until = source.day(*path, "since"), source.day(*path, "until")
    if since and until and until < since:
        source.problem(601, "`until` is before `since`", *path, "until")
    instead_of = _numbers(source, number)
    written = given["check"]
    if instead_of and isinstance(written, dict) and any(mode in written for mode in MODES):
        message = "a check for many cannot take the place of another clause: it would set aside too much"
        source.problem(605, message, *path, "instead_of", hint="say `unless:` in the general clause")
    if check is None or earlier is None or penalty is None or not sound:
        return None
    return Clause(
        number,
        title=source.text(*path, "title"),
        text=source.text(*path, "text"),
        check=check,
        severity=Severity(severity),
        consequence=source.text(*path, "consequence"),
        penalty=penalty,
        act=source.text(*path, "act"),
        interpretation=source.text(*path, "interpretation"),
        instead_of=instead_of,
        since=since,
        until=until,
        earlier=earlier,
        formerly=source.in_quotes(*path, "formerly"),
        span=source.document.key_span(path),
    )


def _numbers(source: PackSource, number: str) -> tuple[str, ...]:
    known = source.mapping("clauses")
    others = [other for other in known if other != number]
    found: list[str] = []
    for where in source.one_or_several("clauses", number, "instead_of"):
        one = source.in_quotes(*where)
        if one in known:
            found.append(one)
        elif one:
            source.problem(602, f"there is no clause {one}", *where, hint=did_you_mean(one, others))
    return tuple(found)


def _check_instead_of(source: PackSource) -> None:
    """No clause may stand in its own place, directly or in a circle (603)."""
    places: dict[str, list[str]] = {}
    for number, clause in source.mapping("clauses").items():
        given = clause.get("instead_of", []) if isinstance(clause, dict) else []
        places[number] = [n for n in (given if isinstance(given, list) else [given]) if isinstance(n, str)]
    told: set[str] = set()
    for number in places:
        waiting = list(places[number])
        seen: set[str] = set()
        while waiting:
            here = waiting.pop()
            if here == number and number not in told:
                told |= seen | {number}
                through = f" through {', '.join(sorted(seen))}" if seen else ""
                message = f"clause {number} stands in its own place{through}"
                source.of_clause(number).problem(603, message, "clauses", number, "instead_of")
                break
            if here not in seen and here in places:
                seen.add(here)
                waiting.extend(places[here])


def _earlier(source: PackSource, number: str, around: Surroundings) -> tuple[Earlier, ...] | None:
    path = ("clauses", number, "earlier")
    listed = source.listed(*path, hint="earlier: [{before: 2021-01-01, check: none}]")
    read = [_one_earlier(source, (*path, place), around) for place in range(len(listed))]
    found = tuple(earlier for earlier in read if earlier is not None)
    return found if len(found) == len(read) else None


def _one_earlier(source: PackSource, path: Path, around: Surroundings) -> Earlier | None:
    given = source.mapping(*path)
    if not source.known_keys(("before", "by", "until", "check"), *path, what="`earlier`"):
        return None
    before, until = source.day(*path, "before"), source.day(*path, "until")
    if before is None or "check" not in given:
        if not ("before" in given and before is None):
            source.problem(604, "`earlier` needs `before` and `check`", *path)
        return None
    by = (
        source.formula(around.scope, *path, "by", expected=DATE)
        if "by" in given
        else compile_formula("car.chassis_built", around.scope)
    )
    if by is None:
        return None
    if given["check"] == "none":
        return Earlier(before, by, until, None)
    check = compile_check(CheckReader(source.document, (*path, "check"), around))
    return None if check is None else Earlier(before, by, until, check)


def _penalty(source: PackSource, number: str, check: Check, around: Surroundings) -> str | Penalty | None:
    path = ("clauses", number, "penalty")
    given = source.get(*path)
    if given is None or isinstance(given, str):
        return given or ""
    if not isinstance(given, dict) or "amount" not in given:
        source.problem(108, "`penalty` is text, or {amount: formula, unit: laps}", *path)
        return None
    if not source.known_keys(("amount", "unit"), *path, what="a penalty"):
        return None
    kind = margin_kind(check)
    names = {}
    if kind is not None:
        names["excess"] = Binding(kind, lambda scene: scene.names["excess"], locals=frozenset({"excess"}))
    elif isinstance(given["amount"], str) and _EXCESS.search(given["amount"]):
        message = "the margins of this check have no one kind, so there is no `excess`"
        source.problem(302, message, *path, "amount")
        return None
    amount = source.formula(around.scope.having(names), *path, "amount")
    if amount is None:
        return None
    if not amount.kind.is_measure:
        message = f"a penalty's amount is a number or quantity, not {amount.kind}"
        source.problem(302, message, *path, "amount")
        return None
    if "unit" in given and amount.kind != NUMBER:
        message = f"the amount is {amount.kind}; beside `unit` it is a plain number"
        hint = "divide by what counts as one: excess / 20 mm; or take `unit` away"
        source.problem(301, message, *path, "amount", hint=hint)
        return None
    return Penalty(amount, source.text(*path, "unit"))


def margin_kind(check: Check) -> Kind | None:
    """The kind that every margin of the check has; None where they differ, there is none, or it does not tell."""
    kinds = check.margin_kinds()
    return next(iter(kinds)) if kinds is not None and len(kinds) == 1 else None
