"""A car in every condition, as a document."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.car.weights.differences import LITRE
from checker.car.weights.geometry import MaybeFraction as Known
from checker.car.weights.weights import State
from checker.kinds.judging.assessment import LegalFuel
from checker.pack.model import Clause
from checker.quantities.amount import Amount
from checker.quantities.display import show
from checker.quantities.intervals import Intervals
from checker.quantities.kind import Unknown
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import replace
from checker.report.amounts import KG, PERCENT, Data, begun, beside_limits, bound_data, exact_text, fixed_text
from checker.report.one_car.fuel import crossings, failing_words, least_data, legal_words, levels_data, litres
from checker.report.one_car.identity import pack_data
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words, unknown_words
from checker.report.words.units import shown_in
from checker.studies.one_car.condition_table import ConditionTable, Corner, KilogramEffect
from checker.studies.one_car.finish import Finish
from checker.studies.one_car.load_limits import LoadLimit
from checker.studies.one_car.race import Lap, Race, Starts


def conditions_document(table: ConditionTable, race: Race | None = None) -> Data:
    """The document of a car in every condition, with a race where one was asked for."""
    inspection = table.inspection
    limits = [
        {**limit_data(one), "driver": one.driver if one.of == "total" else None} for one in table.limits
    ]
    return {
        **begun("conditions"),
        "pack": pack_data(inspection.pack),
        "car": {
            "number": inspection.car.number,
            "name": inspection.car.name or None,
            "sha256": inspection.car.sha256,
        },
        "on": inspection.on.isoformat(),
        "for": inspection.audience,
        "what_if": list(inspection.what_if),
        "corners": [_corner_data(corner, limits) for corner in table.corners],
        "outcomes": [
            {
                "clause": o.clause.number,
                "title": o.clause.title,
                "severity": o.clause.severity,
                "outcome": o.outcome,
                "text": found_words(o.assessment.finding),
                "state": o.assessment.state.words if o.assessment.state else None,
                "not_shown": unknown_words(o.assessment.unknown),
                "act": act_words(o.assessment.act),
            }
            for o in inspection.outcomes
            if o.clause.number in table.bearing
        ],
        "crossings": [data for clause, line in table.fuel for data in _crossings(clause, line)],
        "legal_fuel": [_line_data(clause, line) for clause, line in table.fuel],
        "finish": [finish_data(finish) for finish in table.finishes],
        "limits": limits,
        "one_kg": [effect_data(effect) for effect in table.effects],
        "race": None if race is None else _race_data(race, limits),
        "complies": table.complies,
    }


def _amount(value: Known, unit: Unit, digits: int | None = None, *, to_zero: bool = False) -> Data | None:
    """A known value as {value, exact, unit}; None for an unknown one.

    Args:
        digits: Decimals to show, all of them; None: as many as it has.
        to_zero: Round them towards nothing, else to the nearest.
    """
    if isinstance(value, Unknown):
        return None
    unit = shown_in(unit) or unit
    if digits is None:
        text = show(value, unit).rpartition(" ")[0]
    else:
        exactly = value / unit.factor
        toward = ("up" if exactly < 0 else "down") if to_zero else "half_even"
        text = fixed_text(exactly, digits, toward)
    return {"value": text, "exact": exact_text(value / unit.factor), "unit": unit.name}


def state_data(state: State) -> Data:
    """A state by what it names."""
    fuel = state.fuel if isinstance(state.fuel, Fraction) else None
    return {
        "words": state.words,
        "fuel": None if fuel is None else _amount(fuel, LITRE),
        "driver": state.driver,
        "tyres": state.tyres if isinstance(state.tyres, str) else None,
        "wear": None if state.wear is None else exact_text(state.wear),
    }


def _weighed(value: Known, unit: Unit, of: str, limits: Sequence[Data]) -> Data | None:
    """What the total, or a percentage of it, comes to, to be read beside the limits of it."""
    told = _amount(value, unit, 2)
    held = [one for one in limits if one["of"] == of]
    return told and {**told, "value": beside_limits(Fraction(told["exact"]), 2, held)}


def _corner_data(corner: Corner, limits: Sequence[Data]) -> Data:
    unknown = [value for value in corner.kg.values() if isinstance(value, Unknown)]
    return {
        **state_data(corner.state),
        "kg": {
            name: _weighed(value, KG, name if name == "total" else "", limits)
            for name, value in corner.kg.items()
        },
        "percentage": {name: _weighed(value, PERCENT, name, limits) for name, value in corner.shares.items()},
        "not_shown": list(dict.fromkeys(says for value in unknown for says in unknown_words(value))),
        "lacking": {
            name: unknown_words(value) if isinstance(value, Unknown) else []
            for name, value in (("total", corner.kg["total"]), *corner.shares.items())
        },
    }


def _crossings(clause: Clause, line: LegalFuel) -> list[Data]:
    """The levels at which a clause stops holding for good, all else as in the line's state."""
    said = {"clause": clause.number, "title": clause.title}
    return [
        {**said, **turn, "state": state_data(line.state), "text": _fails_words(line)}
        for turn in crossings(line)
    ]


def _line_data(clause: Clause, line: LegalFuel) -> Data:
    return {
        "clause": clause.number,
        "state": state_data(line.state),
        "levels": levels_data(line.holds),
        "fails": levels_data(line.fails),
        "not_shown": unknown_words(line.unknown),
        "text": _fails_words(line),
    }


def _fails_words(line: LegalFuel) -> str:
    if not line.fails or line.asked is None:
        return ""
    return f"fails with {failing_words(line)} on board, {line.state.words}"


def finish_data(finish: Finish) -> Data:
    most = finish.asked.high if finish.asked else None
    return {
        "tyres": finish.tyres,
        "fuel": _least(finish.legal),
        "clause": finish.clauses[0].number if finish.clauses else None,
        "clauses": [clause.number for clause in finish.clauses],
        "legal_fuel": None if finish.legal is None else levels_data(finish.legal),
        "text": None if not finish.legal else legal_words(finish.legal, most),
        "guarded_fuel": _least(finish.guarded),
        "guarded": None if finish.guarded is None else levels_data(finish.guarded),
        "guarded_text": None if not finish.guarded else legal_words(finish.guarded, most),
        "most_text": _most_words(finish),
        "not_shown": unknown_words(finish.unknown),
    }


def _most_words(finish: Finish) -> str | None:
    """The most fuel at which every clause is met: rounded down, or as much as the tank holds."""
    if not finish.legal or finish.asked is None:
        return None
    most = finish.legal[-1].high
    if most >= finish.asked.high:
        return "a full tank"
    return f"{litres(most if finish.legal[-1].high_in else most - LITRE.factor / 1000, 'down')} L"


def _least(levels: Intervals | None) -> Data | None:
    """The least of the levels, rounded up, and above an end that is not legal itself."""
    return None if not levels else least_data(levels[0])


def limit_data(limit: LoadLimit) -> Data:
    """A bound on the total or on a percentage, as reports show them."""
    amount, unit = limit.bound.amount, KG if limit.of == "total" else PERCENT
    bound = (
        limit.bound if amount is None else replace(limit.bound, amount=Amount(amount.value, unit.kind, unit))
    )
    return {"clause": limit.clause.number, "of": limit.of, **(bound_data(bound) or {})}


def effect_data(effect: KilogramEffect) -> Data:
    """What one kilogram, or one pound, more at a place changes, in percentage points.

    Rounded towards nothing, so that what is worked out by it as needed is rather too much than too little.
    """
    found = {name: getattr(effect, name) for name in ("inside", "rear", "inside_lb", "rear_lb")}
    return {"place": effect.place, **{n: _amount(by, PERCENT, 3, to_zero=True) for n, by in found.items()}}


def _race_data(race: Race, limits: Sequence[Data]) -> Data:
    return {
        "tyres": race.tyres,
        "laps": race.plan.laps,
        "fuel_per_lap": _amount(race.plan.fuel_per_lap_mm3, LITRE),
        "start": _amount(race.start_mm3, LITRE, 2),
        "least_start": _least(race.fitted.legal),
        "over_capacity": race.over_capacity,
        "clause": race.fitted.clauses[0].number if race.fitted.clauses else None,
        "starts": [_starts_data(one) for one in race.starts],
        "legal": race.legal,
        "dry_after": race.dry_after,
        "run": [_lap_data(lap, limits) for lap in race.laps],
    }


def _starts_data(starts: Starts) -> Data:
    return {
        "tyres": starts.tyres,
        "legal_fuel": None if starts.legal is None else levels_data(starts.legal),
        "text": None if not starts.legal else legal_words(starts.legal, starts.most_mm3),
        "clauses": [clause.number for clause in starts.clauses],
        "not_shown": unknown_words(starts.unknown),
    }


def _lap_data(lap: Lap, limits: Sequence[Data]) -> Data:
    return {
        "lap": lap.number,
        "fuel": _amount(lap.fuel_mm3, LITRE, 2),
        "driver_out": _corner_data(lap.out, limits),
        "driver_aboard": _corner_data(lap.aboard, limits),
        "failing": list(lap.failing),
    }
