"""An inspection's document with what a plan says: what to do and where, and where on the picture that takes the car."""

from __future__ import annotations

from fractions import Fraction

from checker.car.car import Car
from checker.car.weights.geometry import Spot
from checker.car.weights.places import spot_told
from checker.kinds.judging.assessment import NOT_SHOWN
from checker.quantities.amount import kilograms
from checker.report.acts import NO_ACT
from checker.report.amounts import MM, PERCENT, Data, amount_data, known_data, shown
from checker.report.one_car.plan import act_data, in_order
from checker.report.one_car.plan_text import act_sentence
from checker.report.one_car.reach import regions_data
from checker.studies.planning.advising import is_broken
from checker.studies.planning.looking import Found
from checker.studies.planning.options import Option
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.reach import Reach


def with_plan(document: Data, plan: WeightPlan, reach: Reach | None = None) -> Data:
    """The document with the acts of a plan at each clause on weights that it mends, and for all of them together.

    Args:
        document: Of the inspection that the plan begins at.
        plan: One that was found.
        reach: What the car can reach, where that is drawn.
    """
    assert plan.found is not None
    asking = _asking(plan)
    told, acts = _to_do(plan.found)
    changed = {**document, "outcomes": [outcome_by_plan(one, plan) for one in document["outcomes"]]}
    if len(asking) > 1:
        open_then = [o for o in plan.found.inspection.outcomes if o.counts and o.on_weights]
        changed["together"] = {
            "enough": set(asking) <= set(plan.clauses),
            "clauses": asking,
            "not_shown": [o.clause.number for o in open_then if o.outcome == NOT_SHOWN],
            "acts": acts,
            "text": told,
        }
    if document["layout"] is not None:
        changed["layout"] = {
            **document["layout"],
            **_destination(plan.found),
            "reach": None if reach is None else regions_data(reach),
        }
    return changed


def outcome_by_plan(outcome: Data, plan: WeightPlan) -> Data:
    """What a document says of a clause, with the acts of a plan that mends it."""
    assert plan.found is not None
    if outcome["clause"] not in plan.clauses or outcome["clause"] not in _asking(plan):
        return outcome
    told, acts = _to_do(plan.found)
    items = [{**item, **_NOTHING_MORE} for item in outcome["items"]]
    return {**outcome, "act": told, "acts": acts, "items": items}


def _asking(plan: WeightPlan) -> list[str]:
    return [o.clause.number for o in plan.before.outcomes if is_broken(o)]


def _to_do(found: Found) -> tuple[str, list[Data]]:
    """What is to be done, in words and as data."""
    acts = [act_data(option, times) for option, times in in_order(found.chosen)]
    return "; ".join(act_sentence(act, briefly=True) for act in acts), [_as_told(act) for act in acts]


_NOTHING_MORE = {"act": "", "acts": []}
"""What entries ask for is told for the whole clause."""


def _as_told(act: Data) -> Data:
    """An act of a plan in the form of those of an inspection."""
    mass, count = act["mass"], act["count"]
    if mass is not None and count > 1:
        kg = Fraction(mass["exact"]) * count
        mass = {**mass, "value": f"{float(kg):g}", "exact": f"{kg.numerator}/{kg.denominator}"}
    return {
        **NO_ACT,
        "do": act["do"],
        "what": act["what"],
        "amount": mass,
        "to": act["place"],
        "enough": True,
        "at": act["at"],
        "count": count,
    }


def _destination(found: Found) -> Data:
    weights = found.inspection.car.weights()
    shares = {name: known_data(weights.percentage(name), PERCENT) for name in ("inside", "rear")}
    planned: Data | None = None
    if all(shares.values()):
        planned = {**shares, "moves": [_move_data(option, times) for option, times in in_order(found.chosen)]}
    return {"planned": planned}


def _move_data(option: Option, times: Fraction) -> Data:
    """From where to where something goes."""
    end = None if option.place is None else spot_told(option.place.fields)
    return {
        "label": " ".join(filter(None, (option.what, shown(amount_data(kilograms(option.kg * times)))))),
        "from": _place_data(option.now, option.car),
        "to": None if option.slides else _place_data(end, option.car),
    }


def _place_data(spot: Spot | None, car: Car) -> Data | None:
    if spot is None:
        return None
    told = {"behind_front_axle": spot.behind(0, car.geometry.wheelbase), "left_of_centre": spot.across}
    known = {name: known_data(value, MM) for name, value in told.items()}
    return known if all(known.values()) else None
