"""A plan of a car's weights, as a document."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from checker.car.described.planning import BallastPlace, ShelfPiece
from checker.car.described.stated import ACROSS, Stated
from checker.car.weights.differences import LITRE
from checker.kinds.judging.assessment import Assessment
from checker.quantities.amount import Amount, kilograms, millimetres
from checker.report.amounts import (
    Data,
    amount_data,
    begun,
    estimate,
    known_data,
    least_data,
    margin_data,
)
from checker.report.one_car.document import heading_data
from checker.report.words.amounts import near_words
from checker.report.words.findings import found_words, unknown_words
from checker.report.words.units import shown_in
from checker.studies.planning.free import STEP_KG, alike, is_free
from checker.studies.planning.holding import More, Off, Unresolvable
from checker.studies.planning.options import Doing, Option
from checker.studies.planning.passable import WiderPlace, WiderSlide, WiderStart
from checker.studies.planning.planner import WeightPlan, still_failing, weight_outcomes
from checker.studies.planning.widening import Wider
from checker.verdict.outcome import Outcome


def plan_document(plan: WeightPlan, written: str | None = None) -> Data:
    """The document of a plan.

    Args:
        written: The file that the declaration of the planned car was written to.
    """
    found = plan.found
    after = {} if found is None else {o.clause.number: o for o in weight_outcomes(found.inspection, plan)}
    chosen: Mapping[Option, Fraction] = {} if found is None else found.chosen
    return {
        **begun("plan"),
        **heading_data(plan.before),
        "aim": plan.asked.aim.value,
        "confidence": float(plan.before.pack.decision.confidence),
        "status": plan.status.value,
        "proven": found is not None and found.proven,
        "race": _race_data(plan),
        "acts": [act_data(option, times) for option, times in in_order(chosen)],
        "free_ballast": _free_data(plan),
        "mass": _change_data(sum((gain(o) * n for o, n in chosen.items()), Fraction(0))),
        "clauses": [
            _clause_data(outcome, after.get(outcome.clause.number))
            for outcome in weight_outcomes(plan.before, plan)
        ],
        "holding": [{"what": price.group, "kg": estimate(price.kg)} for price in plan.prices],
        "conflict": list(plan.conflict),
        "more": None if plan.more is None else _more_data(plan.more),
        "wider": [_wider_data(change) for change in plan.wider],
        "unresolvable": [_unresolvable_data(one) for one in plan.unresolvable],
        **not_reckoned_data(plan),
        "barred": [
            {
                "what": bar.option.what,
                "place": _place_name(bar.option.place),
                "clause": bar.clause,
                "most": bar.most,
            }
            for bar in plan.barred
        ],
        "freed": [{"clause": o.clause.number, "approval": o.reference} for o in plan.freed],
        "still_failing": [o.clause.number for o in still_failing(plan)],
        "written": written,
        "complies": None if found is None else found.inspection.complies,
    }


def not_reckoned_data(plan: WeightPlan) -> Data:
    """Things and clauses on weights that the plan could not reckon with, and why."""
    return {
        "left_out": [{"what": one.what, "why": unknown_words(one.why)} for one in plan.left_out],
        "declined": [
            {"clause": one.clause, "why": unknown_words(one.why), "not_shown": one.not_shown}
            for one in plan.declined
        ],
    }


def _free_data(plan: WeightPlan) -> Data | None:
    """Where no pieces are told of: in which steps ballast was reckoned with, and what it was taken to be like."""
    model = plan.model
    if not is_free(model.planning):
        return None
    like = alike(model.car)
    return {"step": amount_data(kilograms(STEP_KG)), "like": None if like is None else like.label}


def _race_data(plan: WeightPlan) -> Data | None:
    """The run that the car is held to: as planned, or else with the least fuel that may be."""
    start, run = plan.model.start, plan.before.car.run
    if start is None or run is None:
        return None
    run = plan.found.run if plan.found is not None and plan.found.run is not None else run
    amounts = {"fuel_per_lap": start.race.per_lap, "start": run.start, "flag": run.flag}
    told = {name: known_data(value, LITRE) for name, value in amounts.items()}
    return {**told, "laps": start.race.laps}


def gain(option: Option) -> Fraction:
    """What the car gains in kg each time."""
    return option.kg * {Doing.ADD: 1, Doing.TAKE_OFF: -1, Doing.MOVE: 0}[option.doing]


def in_order(chosen: Mapping[Option, Fraction]) -> list[tuple[Option, Fraction]]:
    """What is taken off first, then what moves, then what is added."""
    first = list(Doing)
    return sorted(chosen.items(), key=lambda one: first.index(one[0].doing))


def act_data(option: Option, times: Fraction) -> Data:
    """One thing to do, that often (of what slides, as far)."""
    is_stock = isinstance(option.of, ShelfPiece) and option.of.is_stock
    one = option.kg * times if is_stock else option.kg
    return {
        "do": option.doing.value,
        "what": option.what,
        "count": 1 if is_stock or option.slides else int(times),
        "mass": _to_weigh_out(kilograms(one)) if option.kg else None,
        "place": None if option.place is None else _place_name(option.place),
        "at": None if option.place is None else _at_words(option.place),
        "part": float(times) if option.slides else None,
        "cut": is_stock,
    }


def _to_weigh_out(mass: Amount) -> Data | None:
    """A mass (or a length) as planned; in another unit rounded up, as all that is to be done."""
    return amount_data(mass) if shown_in(mass.unit) == mass.unit else least_data(mass, None)


def _change_data(kg: Fraction) -> Data | None:
    """What the car gains or loses, as far from nothing as what is to be weighed out."""
    found = _to_weigh_out(kilograms(abs(kg)))
    if found is None or kg >= 0:
        return found
    return {**found, "value": f"-{found['value']}", "exact": f"-{found['exact']}"}


def _place_name(place: BallastPlace | None) -> str | None:
    return None if place is None else place.name or _at_words(place)


def _at_words(place: BallastPlace) -> str:
    """ "560 mm behind the front axle, 528 mm left of the centre line"."""
    told = []
    for key, stated in place.fields.items():
        words = {"at.behind_front_axle": "the front axle", "at.behind_rear_axle": "the rear axle"}.get(key)
        if words:
            told.append(f"{_size(stated)} {'ahead of' if stated.value < 0 else 'behind'} {words}")
        elif key == ACROSS and stated.value:
            told.append(f"{_size(stated)} {'right' if stated.value < 0 else 'left'} of the centre line")
        elif key == ACROSS:
            told.append("on the centre line")
    return ", ".join(told)


def _size(stated: Stated) -> str:
    if stated.unit is None or shown_in(stated.unit) == stated.unit:
        return stated.written.removeprefix("-").strip()
    return near_words(Amount(abs(stated.value), stated.unit.kind, stated.unit))


def _clause_data(before: Outcome, after: Outcome | None) -> Data:
    clause = before.clause
    return {
        "clause": clause.number,
        "title": clause.title,
        "severity": clause.severity,
        "before": _judged(before.assessment),
        "after": None if after is None else _judged(after.assessment),
    }


def _judged(found: Assessment) -> Data:
    return {
        "outcome": found.outcome,
        "margin": margin_data(found.margin),
        "state": found.state.words if found.state else None,
        "text": found_words(found.finding),
        "not_shown": unknown_words(found.unknown),
    }


def _more_data(more: More) -> Data:
    return {
        "kg": estimate(more.kg),
        "mass": _rounded_up(more.kg),
        "places": [{"place": name, "kg": estimate(kg), "mass": _rounded_up(kg)} for name, kg in more.places],
        "at": None if more.places else _spot_words(more),
        "off": None if more.off is None else _off_data(more.off),
        "tried": more.tried,
    }


def _off_data(off: Off) -> Data:
    return {"kg": estimate(off.kg), "mass": _rounded_up(off.kg), "at": _spot_words(off)}


def _rounded_up(kg: float) -> Data:
    """To a tenth of a kilogram."""
    found = _to_weigh_out(kilograms(Fraction(math.ceil(kg * 10 - 1e-5), 10)))
    assert found is not None
    return found


def _wider_data(change: Wider) -> Data:
    places = [one for one in change.parts if isinstance(one, WiderPlace)]
    slides = [one for one in change.parts if isinstance(one, WiderSlide)]
    starts = [one for one in change.parts if isinstance(one, WiderStart)]
    return {
        "kg": estimate(change.kg),
        "places": [
            {
                "place": one.name,
                "most": None if one.most_kg is None else _to_weigh_out(kilograms(one.most_kg)),
                "more": _to_weigh_out(kilograms(one.more_kg)),
                "pieces": one.pieces,
                "more_pieces": one.more_pieces,
            }
            for one in places
        ],
        "slides": [
            {"what": one.what, "to": _at_words(one.end), "more": _to_weigh_out(millimetres(one.more_mm))}
            for one in slides
        ],
        "start": [
            {"at": known_data(one.mm3, LITRE), "more": known_data(one.more_mm3, LITRE)} for one in starts
        ],
        "acts": [act_data(option, times) for option, times in in_order(change.found.chosen)],
    }


def _spot_words(more: More | Off) -> str:
    along, across = round(more.along_mm), round(more.across_mm)
    side = (
        f"{_mm(abs(across))} {'left' if across > 0 else 'right'} of the centre line"
        if across
        else "on the centre line"
    )
    return f"about {_mm(along)} behind the front axle, {side}"


def _mm(whole: int) -> str:
    return near_words(millimetres(Fraction(whole)))


def _unresolvable_data(one: Unresolvable) -> Data:
    return {"clause": one.clause, "window": estimate(float(one.window)), "guard": estimate(float(one.guard))}
