"""Clauses whose text says another number than their check: the printed rule and the judged one must be one rule.

Only amounts with a unit are looked at, and only where the check has an amount of the same kind: a text may well
mention things that no check needs. Plain numbers are left alone, for a text is full of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from checker.kinds.contract.check import walk
from checker.kinds.frame.framed import Framed
from checker.pack.lint.amounts import NUMBER, UNIT, WrittenAmount, amounts_in, unit_as_spelt
from checker.pack.model import Clause, Pack
from checker.quantities.kind import PERCENT, quantity
from checker.reading.patterns import pattern
from checker.reading.problems import Path, Problem
from checker.reading.quick_dataclasses import dataclass, replace

HINT = "correct the text or the check; a bulletin that changes a number changes both"

_MORE = r"above|over|more|great|larg|exceed|higher|longer|wider|heavier|taller|thicker|plus|increas|rais|add"
_LESS = r"below|under|less|small|lower|short|narrow|lighter|thinner|minus|reduc|deduct"
_NEAR = 40
"""Characters round a percentage in which a word tells that it comes on top, or is taken off."""
_STEP = pattern(
    r"(?:steps? of|multiples? of|round\w*(?: up| down)?(?: to)?(?: the)?(?: next| nearest)?"
    r"|to the (?:next|nearest)(?: whole)?|units? of|read to|accurate to|to within)\s*\Z",
    re.IGNORECASE,
)
_APART = pattern(
    r"\s*(?:below|above|under|over|more|less|cooler|colder|warmer|hotter|lower|higher)\b", re.IGNORECASE
)
_BETWEEN = pattern(r"\b(?:differ\w*|difference|spread|apart|within)\s+(?:\w+\s+){0,6}?\Z", re.IGNORECASE)
"""What tells that degrees are between two temperatures: after their amount, and before it."""
_RATE = pattern(
    r"\s*(?:\w+ ){0,2}(?:for each|for every|per|an?|each|every)"
    rf"(?: (?:further|full|started|whole|additional|extra))? (?:({NUMBER})\s*)?({UNIT})(?!\w)"
)


@dataclass(frozen=True, slots=True)
class _Held:
    """What the rules behind a clause say."""

    amounts: tuple[WrittenAmount, ...]
    numbers: frozenset[Fraction]
    """Every number in them, with a unit or without."""
    rounds: bool
    """Something in them is rounded."""

    def has(self, value: Fraction, amount: WrittenAmount) -> bool:
        return any(one.measure == amount.measure and one.value == value for one in self.amounts)


def text_contradictions(pack: Pack) -> tuple[Problem, ...]:
    """Amounts in the text of a clause that its check does not have (509), each with its place."""
    return tuple(problem for clause in pack.clauses.values() for problem in _in_clause(clause, pack))


def _in_clause(clause: Clause, pack: Pack) -> Iterator[Problem]:
    said = list(amounts_in(clause.text, pack.vocabulary.currency))
    if not said:
        return
    held = _held(clause, pack)
    rates = [rate for amount in said if (rate := _rate(clause.text, amount, pack, held))]
    for amount in said:
        amount = _as_step(amount, clause.text, held)
        alike = [other for other in held.amounts if other.measure == amount.measure]
        if not alike or _is_held(amount, clause.text, held):
            continue
        if any(start <= amount.start < end for start, end in rates) or _converts(
            amount, said, clause.text, held
        ):
            continue
        told = ", ".join(dict.fromkeys(other.text for other in alike))
        path: Path = ("clauses", clause.number, "text")
        yield Problem(
            "PK509",
            f"the text says {amount.text}, which the check does not: it has {told}",
            pack.document.span_within(path, amount.start, amount.end),
            hint=HINT,
            clause=clause.number,
            warning=True,
        )


def _held(clause: Clause, pack: Pack) -> _Held:
    texts = list(_rules(clause, pack))
    currency = pack.vocabulary.currency
    return _Held(
        tuple(amount for text in texts for amount in amounts_in(text, currency, formula=True)),
        frozenset(Fraction(number) for text in texts for number in re.findall(r"\d+(?:\.\d+)?", text)),
        any("round" in text for text in texts)
        or bool(_rounded(pack.document.get(("clauses", clause.number)))),
    )


def _rounded(data: object) -> bool:
    if isinstance(data, dict):
        return "rounded" in data or any(map(_rounded, data.values()))
    return isinstance(data, list) and any(map(_rounded, data))


def _is_held(amount: WrittenAmount, text: str, held: _Held) -> bool:
    """Whether the rules have an amount of the text, as it stands or as what it comes to."""
    if held.has(amount.value, amount):
        return True
    if _STEP.search(text[: amount.start]) and not held.rounds:
        return True  # how a value is read off; the check has no step to hold it against
    if amount.kind != PERCENT:
        return False
    near = text[max(0, amount.start - _NEAR) : amount.end + _NEAR].lower()
    meant = {amount.value}
    meant |= {1 + amount.value} if re.search(_MORE, near) else set()
    meant |= {1 - amount.value} if re.search(_LESS, near) else set()
    return any(held.has(value, amount) or value in held.numbers for value in meant)


def _converts(amount: WrittenAmount, said: Sequence[WrittenAmount], text: str, held: _Held) -> bool:
    """Whether an amount tells in another unit, as finely as it is written, what stands before it: "30 mm (1.2 in)"."""
    found = re.search(r"(?:/([0-9]+)|\.([0-9]+))?[^0-9./]*\Z", amount.text)
    below, decimals = (found[1], found[2]) if found else (None, None)
    step = amount.unit.factor / (int(below) if below else 10 ** len(decimals or ""))
    return any(
        one.measure == amount.measure
        and one.unit != amount.unit
        and held.has(one.value, one)
        and _IN_BRACKETS.fullmatch(text[one.end : amount.start])
        and abs(one.value - amount.value) < step
        for one in said
    )


_IN_BRACKETS = pattern(
    r"\s*(?:\(|/|,|\bor\b)?\s*(?:approximately|approx\.?|about|ca\.?|i\.e\.)?\s*", re.IGNORECASE
)
"""What stands between an amount and the same in another unit."""


def _as_step(amount: WrittenAmount, text: str, held: _Held) -> WrittenAmount:
    """An amount as the difference that it is by its words, "10 degC below ambient", where the rules have such."""
    step = amount.unit.step
    near = _APART.match(text, amount.end) or _BETWEEN.search(text[: amount.start])
    if step.kind == amount.kind or not near or not any(one.kind == step.kind for one in held.amounts):
        return amount
    return replace(
        amount, value=(amount.value - amount.unit.zero) / amount.unit.factor * step.factor, kind=step.kind
    )


def _rate(text: str, amount: WrittenAmount, pack: Pack, held: _Held) -> tuple[int, int] | None:
    """Where "2 kg for each 100 cc" stands, if the rules have 0.02 kg/cc."""
    found = _RATE.match(text, amount.end)
    unit = unit_as_spelt(found[2], pack.vocabulary.currency) if found else None
    if found is None or unit is None or amount.kind.name != "quantity" or unit.kind.name != "quantity":
        return None
    per = Fraction(found[1] or 1) * unit.factor
    rate = quantity(amount.kind.dimension / unit.kind.dimension)
    has = any(one.kind.same_measure(rate) and one.value == amount.value / per for one in held.amounts)
    return (amount.start, found.end()) if has and per else None


def _rules(clause: Clause, pack: Pack) -> Iterator[str]:
    """Everything that the clause is judged by, as text: its checks, and the tables, values and fields they use."""
    document = pack.document
    for key in ("check", "earlier", "penalty"):
        yield from texts_in(document.get(("clauses", clause.number, key)))
    for name in sorted(names_behind(clause)):
        for section in ("tables", "derived", "conditions"):
            yield from texts_in(document.get((section, name)))
        head, _, field = name.partition(".")
        yield from texts_in(document.get(("facts", name)))
        yield from texts_in(document.get(("lists", head, "fields", field)))


def names_behind(clause: Clause) -> frozenset[str]:
    """The tables, values, facts, fields and conditions that a clause is judged by."""
    framed = (part for check in clause.checks for part in walk(check) if isinstance(part, Framed))
    return clause.judged_by | {condition.name for part in framed for condition in part.conditions}


def texts_in(data: object) -> Iterable[str]:
    """Every text of a part of a pack, but help and ranges, which are no rules."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for key, value in data.items():
            if key not in ("about", "range"):
                yield from texts_in(value)
    elif isinstance(data, list):
        for value in data:
            yield from texts_in(value)
