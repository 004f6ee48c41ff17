"""A check that combines others: what holds for every combination. A kind says how its branches make the whole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Self

from checker.kinds.contract.check import Check
from checker.kinds.contract.schema import KindSchema
from checker.kinds.contract.slips import Slip, slips_in
from checker.kinds.reading.reader import CheckReader
from checker.quantities.formula.expression import Expression
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.values import Plain


@dataclass(frozen=True, slots=True)
class Combination(Check):
    """Compiled branches, written as a list under the key of the kind."""

    checks: tuple[Check, ...]

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return iter(())

    def branches(self) -> tuple[Check, ...]:
        return self.checks

    def places(self) -> tuple[Path, ...]:
        return tuple((self.kind, place) for place in range(len(self.checks)))

    def having(self, branches: tuple[Check, ...]) -> Self:
        return replace(self, checks=branches)

    def joined(self, word: str) -> str:
        """The sentences of the branches in one."""
        many = len(self.checks) > 1
        return f" {word} ".join(f"({c.sentence()})" if many else c.sentence() for c in self.checks)


@dataclass(frozen=True, slots=True)
class CountedCombination(Combination):
    """Compiled branches, written under `of` beside a `count`."""

    count: int

    def places(self) -> tuple[Path, ...]:
        return tuple((self.kind, "of", place) for place in range(len(self.checks)))

    def slips(self, key: str, written: Plain) -> Iterator[Slip]:
        if isinstance(written, dict):
            yield from slips_in((key, "count"), written.get("count"))


_CHECKS = {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/check"}}


def list_schema(key: str, what: str) -> KindSchema:
    """Schema of a combination that is a list of checks."""
    return {"required": [key], "properties": {key: {**_CHECKS, "description": what}}}


def count_schema(key: str, what: str) -> KindSchema:
    """Schema of a combination that is a count and a list of checks."""
    return {
        "required": [key],
        "properties": {
            key: {
                "type": "object",
                "required": ["count", "of"],
                "additionalProperties": False,
                "description": what,
                "properties": {"count": {"type": "integer", "minimum": 0}, "of": _CHECKS},
            }
        },
    }


def read_counted(reader: CheckReader, key: str) -> tuple[tuple[Check, ...], int] | None:
    """The branches and the count under `key`; None when they cannot be used (the problems are noted)."""
    count = _read_count(reader, key)
    checks = reader.branch_list(key, "of") if count is not None else None
    return None if count is None or checks is None else (checks, count)


def _read_count(reader: CheckReader, key: str) -> int | None:
    """The count under `key`, a whole number of 0 or more; None when it is none (the problem is noted)."""
    given = reader.get(key)
    hint = f"{key}: {{count: 2, of: [first check, second check]}}"
    extra = (
        next((one for one in given if one not in ("count", "of")), None) if isinstance(given, dict) else None
    )
    if extra is not None:
        reader.key_problem(101, f"'{extra}' is not a key of `{key}`", key, extra, hint=hint)
        return None
    if not isinstance(given, dict) or len(given) < 2:
        reader.problem(501, f"`{key}` needs `count` and `of`", key, hint=hint)
        return None
    count = given["count"]
    if isinstance(count, bool) or not isinstance(count, int) or count < 0:
        reader.problem(302, "`count` is a whole number of 0 or more", key, "count")
        return None
    return count
