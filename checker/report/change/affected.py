"""Whom a change of the rules affects, as one document of plain data; and one car's part of it, a line for each.

The document holds counts and the hardest hit, whatever the size of the fleet; every car's own line is written as it
comes (`car_data`), so that nothing is lost that a club may want to go through.
"""

from __future__ import annotations

from fractions import Fraction

from checker.kinds.frame.framed import compare_checks
from checker.kinds.judging.assessment import Amount
from checker.pack.model import Clause, Pack
from checker.quantities.display import decimal_text
from checker.report.amounts import Data, begun, exact_text, margin_data, told_of
from checker.report.change.mending import mending_data
from checker.report.one_car.identity import pack_data
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, unknown_words
from checker.studies.change.affected import Affected, ClauseEffect, Comparator, Deadline, binding_from
from checker.studies.change.bands import Bands, side_by_side
from checker.studies.change.endings import Ending, Unread
from checker.studies.change.pairing import Pair
from checker.studies.change.tally import Fleet, Tally

BANDS = 12
"""How many bands a spread of margins is shown in, at most."""


def affected_document(comparator: Comparator, fleet: Fleet, unusable: int) -> Data:
    """What a change means for a fleet.

    Args:
        unusable: How many declarations could not be judged.
    """
    old, new = comparator.old, comparator.new
    tallies = [tally.settled() for tally in fleet.tallies.values()]
    return {
        **begun("affected"),
        "old": pack_data(old),
        "new": pack_data(new),
        "for": comparator.audience,
        "on": comparator.on.isoformat(),
        "on_before": comparator.on_before.isoformat(),
        "cars": fleet.cars,
        "unusable": unusable,
        **told_of(fleet, "newly_failing", "no_longer_failing", "failing_later", "in_doubt_later"),
        **told_of(fleet, "in_doubt", "unread_later", "changing"),
        "named": [_named_data(car, old, new) for car in fleet.named],
        "clauses": [_clause_data(tally, old, new) for tally in tallies if tally.changed],
        "without_effect": [tally.pair.number for tally in tallies if not tally.changed],
    }


def _named_data(car: Affected, old: Pack, new: Pack) -> Data:
    """A car, with every clause whose outcome changes for it."""
    return {
        "place": car.place,
        "car": {"number": car.number, "name": car.name or None},
        "effects": [_effect_data(effect, old, new) for effect in car.effects],
        "mending": mending_data(car.mending),
        "unread": _unread_data(car.unread),
    }


def _clause(pair: Pair, old: Pack, new: Pack) -> Clause:
    return new.clauses[pair.new] if pair.new is not None else old.clauses[str(pair.old)]


def _clause_data(tally: Tally, old: Pack, new: Pack) -> Data:
    pair = tally.pair
    clause = _clause(pair, old, new)
    return {
        "clause": pair.number,
        "formerly": pair.old if pair.new is not None and pair.old != pair.new else None,
        "title": clause.title,
        "severity": clause.severity,
        "change": _change(pair, old, new),
        "binds": deadline_data(binding_from(old, new, pair)),
        "failing": {"before": tally.failing[0], "after": tally.failing[1]},
        **told_of(tally, "newly_failing", "no_longer_failing", "now_in_doubt"),
        **told_of(tally, "failing_later", "in_doubt_later"),
        "margins": [_margins_data(unit, *sides) for unit, sides in tally.margins.items()],
        "marks": [
            {"unit": unit or None, "cars": [_mark_data(*mark) for mark in marks]}
            for unit, marks in tally.marks.items()
        ],
        "hardest": [_hit_data(car, effect) for car, effect in tally.hardest],
    }


def _change(pair: Pair, old: Pack, new: Pack) -> list[str]:
    """What is different, in the rulebook's words."""
    if pair.old is None:
        return ["new clause"]
    if pair.new is None:
        return ["withdrawn"]
    before, after = old.clauses[pair.old], new.clauses[pair.new]
    words = list(compare_checks(after.check, before.check).words)
    return words or ["what it rests on is different"]


def deadline_data(deadline: Deadline | None) -> Data | None:
    """From which day a clause binds as it newly reads."""
    return None if deadline is None else {"from": deadline.first.isoformat(), "because": deadline.because}


def _mark_data(number: str, name: str, before: Amount | None, after: Amount | None) -> Data:
    return {
        "number": number,
        "name": name or None,
        "before": margin_data(before),
        "after": margin_data(after),
    }


def _margins_data(unit: str, before: Bands, after: Bands) -> Data:
    bands = side_by_side((before, after), BANDS)
    return {
        "unit": unit or None,
        "before": _extremes(before),
        "after": _extremes(after),
        "bands": [
            {
                "from": decimal_text(b.low),
                "below": decimal_text(b.high),
                "before": b.counts[0],
                "after": b.counts[1],
            }
            for b in bands
        ],
    }


def _extremes(bands: Bands) -> Data:
    return {"cars": bands.number, "least": _number(bands.least), "greatest": _number(bands.greatest)}


def _number(number: Fraction | None) -> Data | None:
    return None if number is None else {"value": decimal_text(number, 2), "exact": exact_text(number)}


def _hit_data(car: Affected, effect: ClauseEffect) -> Data:
    later = effect.later
    return {
        "place": car.place,
        "car": {"number": car.number, "name": car.name or None},
        "margin": margin_data(effect.later.margin if effect.later else effect.margin_after),
        "text": found_words(later.finding if later else effect.finding),
        "act": act_words(later.act if later else effect.act),
        "mending": mending_data(later.mending if later else car.mending),
        "until": later.until.isoformat() if later else None,
    }


def car_data(car: Affected, old: Pack, new: Pack) -> Data:
    """What a change means for one car."""
    return {
        **begun("affected_car"),
        "place": car.place,
        "car": {"number": car.number, "name": car.name or None},
        "for": car.audience,
        "on": car.on.isoformat(),
        "effects": [_effect_data(effect, old, new) for effect in car.effects if effect.is_change],
        "mending": mending_data(car.mending),
        "unread": _unread_data(car.unread),
    }


def _unread_data(unread: Unread | None) -> Data | None:
    """From when the car cannot be judged, and what is wrong with its declaration by the rules of that day."""
    if unread is None:
        return None
    told = [
        f"{problem.message}; {problem.hint}" if problem.hint else problem.message
        for problem in unread.problems
    ]
    return {"from": unread.since.isoformat(), "because": told}


def _effect_data(effect: ClauseEffect, old: Pack, new: Pack) -> Data:
    clause, later = _clause(effect.pair, old, new), effect.later
    return {
        "clause": effect.pair.number,
        "title": clause.title,
        "severity": clause.severity,
        **told_of(effect, "before", "after", "newly_fails", "no_longer_fails", "now_in_doubt"),
        "margin_before": margin_data(effect.margin_before),
        "margin_after": margin_data(effect.margin_after),
        "text": found_words(effect.finding),
        "act": act_words(effect.act),
        "not_shown": unknown_words(effect.unknown),
        "binds": deadline_data(binding_from(old, new, effect.pair)),
        "later": None
        if later is None
        else {
            "until": later.until.isoformat(),
            "margin": margin_data(later.margin),
            "text": found_words(later.finding),
            "act": act_words(later.act),
            "mending": mending_data(later.mending),
        },
        "later_doubt": _doubt_data(effect.later_doubt),
    }


def _doubt_data(doubt: Ending | None) -> Data | None:
    """When a clause that is met comes to be in doubt, and what would settle it."""
    if doubt is None:
        return None
    return {
        "until": doubt.until.isoformat(),
        "outcome": doubt.outcome,
        "margin": margin_data(doubt.margin),
        "text": found_words(doubt.finding),
        "act": act_words(doubt.act),
        "not_shown": unknown_words(doubt.unknown),
    }
