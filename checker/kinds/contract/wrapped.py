"""A check with something round it: what it does not say itself is as the check inside says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from checker.kinds.contract.check import Check
from checker.quantities.formula.expression import Expression
from checker.reading.quick_dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Wrapped(Check):
    """Hands on everything that may be asked of a check to the one inside, but how it is judged."""

    check: Check

    @property
    def kind(self) -> str:
        return self.check.kind

    def expressions(self) -> Iterator[tuple[str, Expression]]:
        return self.check.expressions()

    def having(self, branches: tuple[Check, ...]) -> Check:
        return replace(self, check=self.check.having(branches))

    def sentence(self) -> str:
        return self.check.sentence()


def _handed_on(name: str, asked: object) -> Any:
    if isinstance(asked, property):
        return property(lambda self: getattr(self.check, name))
    return lambda self, *given: getattr(self.check, name)(*given)


_JUDGED = ("assess", "clear_margin", "measured")
for _name, _asked in vars(Check).items():
    if not (_name.startswith("_") or _name in _JUDGED or _name in vars(Wrapped)):
        setattr(Wrapped, _name, _handed_on(_name, _asked))
