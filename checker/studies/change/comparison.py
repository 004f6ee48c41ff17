"""What a change of the rules is, clause by clause, in the rulebook's words.

Two packs are compared by what they mean: a file in another order, a quantity in another unit, a formula with its terms
turned round say nothing. Kinds of check compare themselves (`compared_with`); what a clause rests on, tables and the
like, is compared in `foundations`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checker.kinds.comparing.changes import compare_formulas, compare_text
from checker.kinds.comparing.comparison import SAME, Comparison, together
from checker.kinds.contract.check import walk
from checker.kinds.frame.framed import Framed, compare_checks
from checker.pack.model import ADVISORY, Clause, Earlier, Pack, Penalty
from checker.reading.quick_dataclasses import dataclass, replace
from checker.studies.change.foundations import Foundations
from checker.studies.change.pairing import Pair, paired
from checker.studies.change.section_changes import section_changes

ADDED, WITHDRAWN, RENUMBERED, REWORDED = "added", "withdrawn", "renumbered", "reworded"
TIGHTENED, RELAXED, CHANGED = "tightened", "relaxed", "changed"
CHANGES = (ADDED, WITHDRAWN, RENUMBERED, REWORDED, TIGHTENED, RELAXED, CHANGED)


@dataclass(frozen=True, slots=True)
class RuleChange:
    """One change of the rules."""

    clause: str
    """Its number, in the newer pack where it stands there; or section.name of what no clause speaks of."""
    change: str
    """One of `CHANGES`."""
    title: str = ""
    old: str = ""
    """What the rule was, in words; "" where there was none."""
    new: str = ""
    by: str = ""
    """By how much, with its unit, where that is the same for every car."""
    words: tuple[str, ...] = ()
    """What changed, each in a phrase."""


def compare(old: Pack, new: Pack) -> tuple[RuleChange, ...]:
    """Everything that one pack says otherwise than another, in the order of the newer."""
    beneath = Foundations(old, new)
    pairs = paired(old, new)
    changes = [
        change for pair in _in_order(old, pairs) for change in _of_pair(pair, pairs, old, new, beneath)
    ]
    parts = [
        RuleChange(part, how, words=words) for part, how, words in section_changes(old, new, beneath.told)
    ]
    return (*changes, *parts)


def _in_order(old: Pack, pairs: tuple[Pair, ...]) -> list[Pair]:
    """The order of the newer pack, each withdrawn clause behind the one that it stood behind."""
    order = [pair for pair in pairs if pair.new is not None]
    numbers = list(old.clauses)
    for pair in pairs:
        if pair.new is not None:
            continue
        before = numbers[: numbers.index(str(pair.old))]
        place = max((n for n, one in enumerate(order) if one.old in before), default=-1)
        order.insert(place + 1, pair)
    return order


def _of_pair(
    pair: Pair, pairs: tuple[Pair, ...], old: Pack, new: Pack, beneath: Foundations
) -> Iterator[RuleChange]:
    before = old.clauses[pair.old] if pair.old is not None else None
    after = new.clauses[pair.new] if pair.new is not None else None
    if before is None and after is not None:
        yield RuleChange(after.number, ADDED, after.title, "", in_words(after))
    elif before is not None and after is None:
        yield RuleChange(before.number, WITHDRAWN, before.title, in_words(before), "")
    elif before is not None and after is not None:
        yield from _of_both(before, after, pairs, beneath)


def _of_both(old: Clause, new: Clause, pairs: tuple[Pair, ...], beneath: Foundations) -> Iterator[RuleChange]:
    if old.number != new.number:
        words = (f"was {old.number}",)
        yield RuleChange(new.number, RENUMBERED, new.title, old.number, new.number, words=words)
    kept, notes = _earlier(old, new)
    found = together(
        [
            compare_checks(new.check, old.check),
            *kept,
            beneath.beneath(old, new),
            _severity(old, new),
            _penalties(old, new),
            compare_text("consequence", old.consequence, new.consequence),
            compare_text("takes the place of", *_places(old, new, pairs)),
            compare_text("in force from", _day(old.since), _day(new.since)),
            compare_text("in force until", _day(old.until), _day(new.until)),
        ]
    )
    if found.change != "same" or notes:
        change = found.change if found.change != "same" else CHANGED
        was, is_now = in_words(old), in_words(new)
        yield RuleChange(new.number, change, new.title, was, is_now, found.by, (*found.words, *notes))
        return
    said = [(getattr(old, part), getattr(new, part)) for part in ("title", "text", "interpretation", "act")]
    said.append((_acts_inside(old), _acts_inside(new)))
    if any(before.split() != after.split() for before, after in said):
        before, after = next(pair for pair in (said[1], *said) if pair[0].split() != pair[1].split())
        yield RuleChange(new.number, REWORDED, new.title, before, after)


def _acts_inside(clause: Clause) -> str:
    """The words for what to do that stand inside its checks."""
    return "; ".join(
        part.act for check in clause.checks for part in walk(check) if isinstance(part, Framed) and part.act
    )


def in_words(clause: Clause) -> str:
    """A clause's check in words, with who is still under an older one, and the days on which it binds."""
    told = clause.check.sentence()
    for entry in clause.earlier:
        rule = "not bound" if entry.check is None else entry.check.sentence()
        told += f"; {_who(entry)}: {rule}"
    days = [f"{word} {day}" for word, day in (("from", clause.since), ("until", clause.until)) if day]
    return f"{told}; in force {' '.join(days)}" if days else told


# --- older cars ------------------------------------------------------------------------------------------------


def _earlier(old: Clause, new: Clause) -> tuple[list[Comparison], tuple[str, ...]]:
    """What became of older cars, and notes on those for whom nothing changed though the clause did."""
    found: list[Comparison] = []
    notes: list[str] = []
    before, after = ({_key(entry): entry for entry in clause.earlier} for clause in (old, new))
    for key, entry in after.items():
        same = before.get(key)
        if same is not None:
            found += _same_cars(same, entry)
            continue
        words = f"{_who(entry)}: {_rule(entry)}"
        kept = _against(entry, old)
        if kept.change == "same":
            notes.append(f"{_who(entry)} keep {_rule(entry)}")
        else:
            found.append(Comparison(kept.change, (words,)))
    for key, entry in before.items():
        if key in after:
            continue
        lost = _against(entry, new)
        if lost.change == "same":
            notes.append(f"{_who(entry)} no longer have a rule of their own")
        else:
            turned = {TIGHTENED: RELAXED, RELAXED: TIGHTENED}.get(lost.change, lost.change)
            found.append(Comparison(turned, (f"{_who(entry)}: {_rule(entry)} is gone",)))
    return found, tuple(notes)


def _key(entry: Earlier) -> tuple[date, str]:
    return entry.before, entry.by.text


def _against(entry: Earlier, clause: Clause) -> Comparison:
    """How the rule for older cars differs from a clause's own."""
    return Comparison(RELAXED) if entry.check is None else compare_checks(entry.check, clause.check)


def _same_cars(old: Earlier, new: Earlier) -> list[Comparison]:
    found: list[Comparison] = []
    if old.check is None or new.check is None:
        if old.check is not new.check:
            change = RELAXED if new.check is None else TIGHTENED
            found.append(Comparison(change, (f"{_who(new)}: {_rule(old)} becomes {_rule(new)}",)))
    else:
        checks = compare_checks(new.check, old.check)
        found.append(replace(checks, words=tuple(f"{_who(new)}: {one}" for one in checks.words)))
    if old.until != new.until:
        longer = new.until is None or (old.until is not None and new.until > old.until)
        ends = f"until {_day(old.until)} becomes {_day(new.until)}"
        words = f"cars from before {new.before.isoformat()}: {ends}"
        found.append(Comparison(RELAXED if longer else TIGHTENED, (words,)))
    return found


def _who(entry: Earlier) -> str:
    by = "" if entry.by.text == "car.chassis_built" else f" by {entry.by.text}"
    until = "" if entry.until is None else f", until {entry.until.isoformat()}"
    return f"cars from before {entry.before.isoformat()}{by}{until}"


def _rule(entry: Earlier) -> str:
    return "not bound" if entry.check is None else entry.check.sentence()


# --- the rest of a clause --------------------------------------------------------------------------------------


def _severity(old: Clause, new: Clause) -> Comparison:
    if old.severity == new.severity:
        return SAME
    change = RELAXED if new.severity == ADVISORY else TIGHTENED
    return Comparison(change, (f"{old.severity} becomes {new.severity}",))


def _penalties(old: Clause, new: Clause) -> Comparison:
    before, after = old.penalty, new.penalty
    if isinstance(before, Penalty) and isinstance(after, Penalty) and before.unit == after.unit:
        return compare_formulas("penalty", before.amount, after.amount)
    return compare_text("penalty", _penalty(before), _penalty(after))


def _penalty(penalty: str | Penalty) -> str:
    return f"{penalty.amount.text} {penalty.unit}".strip() if isinstance(penalty, Penalty) else penalty


def _places(old: Clause, new: Clause, pairs: tuple[Pair, ...]) -> tuple[str, str]:
    """What either takes the place of, by the numbers of the newer pack."""
    now = {pair.old: pair.new or pair.old for pair in pairs if pair.old is not None}
    before = sorted(str(now.get(number, number)) for number in old.instead_of)
    return ", ".join(before), ", ".join(sorted(new.instead_of))


def _day(day: date | None) -> str:
    return "further notice" if day is None else day.isoformat()
