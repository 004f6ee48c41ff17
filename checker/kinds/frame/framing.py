"""Compiling a check: which kind it is, and the frame round it.

The frame is everything that may stand beside any kind: the list it is made for, guards, names, conditions.
A kind compiles its own keys only; this module finds the kind, builds the scope that its formulas are read
in, and puts the frame round what the kind made.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from checker.kinds import all_kinds
from checker.kinds.contract.check import Check
from checker.kinds.frame.condition_range import refuse_unjudgeable, settle_conditions
from checker.kinds.frame.days import read_days
from checker.kinds.frame.entries import Many, bound_expression, is_taken, item_scope
from checker.kinds.frame.framed import Framed
from checker.kinds.frame.many import read_many
from checker.kinds.kind_file import KindFile
from checker.kinds.reading.naming import is_name
from checker.kinds.reading.reader import FRAME_KEYS, CheckReader
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.problem import FormulaError
from checker.quantities.formula.scope import Binding
from checker.quantities.kind import TRUTH
from checker.reading.nearest import did_you_mean
from checker.reading.quick_dataclasses import replace
from checker.reading.values import Plain

OF_SEVERAL = ("worst", "mean")
"""What may count of several values."""

_GUARDS = ("when", "unless", "where")
_OF_FORMULAS = "()[]'\"*/+- "
"""Signs that tell the rest of a formula from a misspelt key."""


def compile_check(reader: CheckReader) -> Check | None:
    """Compile the check that `reader` stands at; None when it cannot be used (the problems are noted)."""
    data = reader.document.get(reader.path)
    if not isinstance(data, dict):
        reader.problem(
            501, "a check is a mapping with a kind, e.g. {limit: engine.capacity, at_most: 1725 cc}"
        )
        return None
    kind = _kind_of(reader, data)
    if kind is None or _cut_at_comma(reader, data, kind):
        return None
    sound = _known_keys(reader, data, kind)
    many = read_many(reader, getattr(kind, "COVERS", ""))
    if many is None:
        return None
    inner = replace(_inner_reader(reader, many), compiler=compile_check)
    inner, lets = _read_lets(inner)
    guards = {key: _guard(inner, key) for key in _GUARDS if inner.has(key)}
    conditions = settle_conditions(inner)
    days, days_sound = read_days(inner)
    act = reader.get("act")
    if act is not None and not (isinstance(act, str) and act.strip()):
        reader.problem(108, "`act` is a sentence that says what to do", "act")
        sound = False
    sound = sound and days_sound
    if reader.has("of_several"):
        several = reader.get("of_several")
        if several not in OF_SEVERAL:
            hint = did_you_mean(str(several), OF_SEVERAL)
            reader.problem(502, "`of_several` is worst or mean", "of_several", hint=hint)
            sound, several = False, OF_SEVERAL[0]
        inner = inner.knowing(of_several=several)
    if conditions:
        inner = inner.knowing(frame_condition=True)
    try:
        check = kind.compile(inner)
    except FormulaError as error:  # it looks at a name that could not be made
        inner.note(error, ())
        check = None
    if check is None or not sound or None in guards.values() or lets is None or conditions is None:
        return None
    when, unless, where = map(guards.get, _GUARDS)
    through, names = many if many.mode else None, tuple(lets.items())
    framed = Framed(check, when, unless, where, through, names=names, days=days, act=act or "")
    return refuse_unjudgeable(reader, framed if framed.has_frame else check, conditions)


def _kind_of(reader: CheckReader, data: Mapping[str, Plain]) -> KindFile | None:
    kinds = all_kinds()
    present = [key for key in data if key in kinds]
    if len(present) == 1:
        return kinds[present[0]]
    if not present:
        nearest = next((hint for key in data if (hint := did_you_mean(key, kinds))), "")
        reader.problem(501, "the check has no kind", hint=nearest or f"give one of {', '.join(kinds)}")
        return None
    message = f"the check has two kinds: {' and '.join(present)}"
    reader.key_problem(501, message, present[1], hint="combine them with all_of: [..]")
    return None


def _known_keys(reader: CheckReader, data: Mapping[str, Plain], kind: KindFile) -> bool:
    allowed = _allowed_keys(kind)
    strangers = [key for key in data if key not in allowed]
    for key in strangers:
        hint = did_you_mean(key, allowed)
        reader.key_problem(101, f"'{key}' is not a key of a `{kind.KEY}` check", key, hint=hint)
    return not strangers


def _allowed_keys(kind: KindFile) -> tuple[str, ...]:
    return (*kind.SCHEMA["properties"], *FRAME_KEYS)


def _cut_at_comma(reader: CheckReader, data: Mapping[str, Plain], kind: KindFile) -> bool:
    """Whether a comma inside `{ }` cut a formula in two, so that its rest stands as a key without a value.

    That is one mistake: the halves are no formulas, and nothing else is told of them.
    """
    allowed = _allowed_keys(kind)
    rests = [key for key, value in data.items() if value is None and key not in allowed]
    if not rests or not any(c in key for key in rests for c in _OF_FORMULAS):
        return False
    message = f"'{rests[0]}' is not a key of a `{kind.KEY}` check"
    hint = "a comma inside { } ends a formula: put the formula in quotes, or write the check on several lines"
    reader.key_problem(101, message, rests[0], hint=hint)
    return True


def _inner_reader(reader: CheckReader, many: Many) -> CheckReader:
    if not many.mode:
        return reader
    names, entries = item_scope(reader.scope, many)
    scope = reader.scope.having(names).with_entries(entries)
    return reader.knowing(scope=scope, item_list=many.list_name, many=many.mode, many_here=True)


def _read_lets(reader: CheckReader) -> tuple[CheckReader, dict[str, Expression] | None]:
    """Names made by `let`, each usable in the lines after it; their formulas count as written in their place."""
    if not reader.has("let"):
        return reader, {}
    given = reader.get("let")
    if not isinstance(given, dict) or not given:
        reader.problem(101, "`let` needs names and formulas", "let", hint="let: {span: last(run).position}")
        return reader, None
    rest = next((name for name, value in given.items() if value is None and not is_name(name)), None)
    if rest is not None:
        hint = "a comma inside { } ends a formula: put the formula in quotes, or write `let` on several lines"
        reader.key_problem(101, f"'{rest}' is no name", "let", rest, hint=hint)
        return reader.having(_ToldAlready(given)), None
    made: dict[str, Expression] = {}
    failed: list[str] = []
    for name in given:
        if not is_name(name) or is_taken(reader.scope, name) or name in reader.scope.sections():
            why = "already has a meaning here" if is_name(name) else "cannot be a name"
            reader.key_problem(202, f"'{name}' {why}", "let", name, hint="choose another name")
            failed.append(name)
            continue
        expression = reader.formula("let", name)
        if expression is None:
            failed.append(name)
            reader = reader.having(_ToldAlready([name]))
            continue
        made[name] = expression
        reader = reader.having({name: bound_expression(expression)})
    return reader.having(_ToldAlready(failed)), None if failed else made


class _ToldAlready(Mapping[str, Binding]):
    """Names whose mistake is told where they are made: what uses them has nothing to add."""

    def __init__(self, names: Iterable[str]) -> None:
        self._names = tuple(names)

    def __getitem__(self, name: str) -> Binding:
        if name in self._names:
            raise FormulaError
        raise KeyError(name)

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


def _guard(reader: CheckReader, key: str) -> Expression | None:
    expression = reader.formula(key, expected=TRUTH)
    if expression is not None and expression.constant:
        says = "always" if expression.value is True else "never"
        reader.problem(507, f"`{key}` is {says} true", key, warning=True)
    return expression
