"""Where nothing is enough: what could be let be done more of; put into the file it is enough, and a little less is not."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.report.one_car.plan import plan_document
from checker.report.one_car.plan_text import plan_text
from checker.report.page import Page
from checker.studies.planning.passable import WiderPlace, WiderSlide, WiderStart
from checker.studies.planning.planner import WeightPlan
from checker.studies.planning.program import Status
from tests.examples import examples
from tests.report.documents import valid
from tests.studies.planning.cars import at, car, done, planned, rules

TOTAL = "{limit: weight.total, at_least: 660 kg, condition: as_weighed}"
CAPPED: dict[str, Any] = {
    "places": [
        {"name": "nose", "at": at(300), "most": "8 kg"},
        {"name": "tail", "at": at(2000), "most": "6 kg"},
    ],
    "shelf": [{"label": "L", "mass": "2.5 kg", "count": 12}],
}
BACK = "{limit: percentage.front, at_most: 47.1 %, condition: any}"


def told(plan: WeightPlan) -> str:
    page = Page(80)
    plan_text(valid(plan_document(plan)), page)
    return " ".join(page.text().split())


def slide(last_mm: float, **more: Any) -> dict[str, Any]:
    return {"movable": [{"what": "driver", "between": [at(1100), at(last_mm)]}], **more}


SEAT = {"driver": {"mass": "80 kg", "at": at(1120)}}


def test_what_places_would_have_to_carry_is_told_in_pieces_that_there_are() -> None:
    """8 kg carry three pieces and 6 kg two; for eight, 10 kg each are the least."""
    found = planned(rules(TOTAL), car(CAPPED))
    assert found.status is Status.INFEASIBLE
    (change,) = found.wider
    assert sum(one.more_kg for one in change.parts if isinstance(one, WiderPlace)) == 6
    assert change.kg == pytest.approx(6)
    assert "It would be enough for " in told(found)
    assert "and then to bolt " in told(found)


def test_the_number_of_pieces_is_a_limit_too() -> None:
    two = {**CAPPED, "places": [{"name": "nose", "at": at(300), "pieces": 5}]}
    (change,) = planned(rules(TOTAL), car(two)).wider
    assert [
        (one.pieces, one.more_pieces, one.most_kg) for one in change.parts if isinstance(one, WiderPlace)
    ] == [(8, 3, None)]
    assert "for nose to carry 8 pieces, 3 more, and then to bolt 8 x L" in told(
        planned(rules(TOTAL), car(two))
    )


def test_a_seat_that_would_have_to_slide_further() -> None:
    """By the levers: 296.75 kg of 632.5 on the front when empty, and 80 kg of driver, 47.1 % at 1234.9 mm."""
    found = planned(rules(BACK), car(slide(1200), **SEAT))
    assert found.status is Status.INFEASIBLE
    (change,) = found.wider
    (part,) = change.parts
    assert isinstance(part, WiderSlide)
    assert change.kg == pytest.approx(80 * float(part.more_mm) / 2400)
    words = told(found)
    assert "for driver to slide 35 mm further, to 1235 mm behind the front axle" in words
    assert words.index("for driver to slide") < words.index("Or it would be enough to carry")


RACE = {"fuel_per_lap": "0.2 L", "laps": 20}
REAR = "{limit: percentage.rear, at_least: 53.3 %, condition: any_without_driver}"


def test_a_start_with_more_fuel_than_may_be() -> None:
    free = planned(rules(REAR), car({"race": RACE}), race=True)
    held = planned(rules(REAR), car({"race": {**RACE, "start_at_most": "5 L"}}), race=True)
    assert free.found is not None
    assert free.found.run is not None
    (change,) = held.wider
    (part,) = change.parts
    assert isinstance(part, WiderStart)
    assert part.mm3 == free.found.run.start
    assert part.mm3 - part.more_mm3 == 5 * 10**6
    assert f"would be enough to start with as much as {float(part.mm3) / 1e6:g} L" in told(held)


def test_a_start_with_less_fuel_than_may_be() -> None:
    light = rules("{limit: weight.total, at_most: 641 kg, condition: any_without_driver}")
    held = planned(light, car({"race": {**RACE, "start_at_least": "18 L"}}), race=True)
    (change,) = held.wider
    (part,) = change.parts
    assert isinstance(part, WiderStart)
    assert part.more_mm3 < 0
    assert "would be enough to start with as little as 11.3 L, 6.7 L less than may be" in told(held)


def test_where_no_limit_alone_is_enough_all_are_passed_together() -> None:
    both = rules(TOTAL, "{limit: percentage.front, at_most: 48.5 %, condition: any}")
    nose = {"places": [{"name": "nose", "at": at(300), "most": "6 kg"}], "shelf": CAPPED["shelf"]}
    (change,) = planned(both, car(slide(1150, **nose), **SEAT)).wider
    assert {type(part) for part in change.parts} == {WiderPlace, WiderSlide}


def test_what_no_rule_lets_be_carried_is_not_told_as_enough() -> None:
    cap = "{limit: sum(b.mass for b in ballast), at_most: 15 kg}"
    found = planned(rules(TOTAL, cap), car(CAPPED))
    assert found.wider == ()
    assert found.more is None or found.more.off is not None
    assert "carry" not in told(found)


def test_what_is_told_to_be_carried_more_was_judged_and_is_rounded_up() -> None:
    pack = rules(TOTAL, "{limit: percentage.front, at_most: 46.6 %, condition: as_weighed}")
    nose = {**CAPPED, "places": [CAPPED["places"][0]]}
    found = planned(pack, car(nose))
    assert found.more is not None
    assert found.more.tried
    assert "kg more, about" in told(found)


@pytest.mark.deep
@examples(15)
@given(
    most=st.tuples(st.integers(2, 9), st.integers(2, 9)),
    pieces=st.none() | st.integers(1, 2),
    total=st.integers(655, 668),
    front=st.sampled_from(["46.9 %", "47.1 %", "47.4 %"]),
    last=st.sampled_from([1140, 1230]),
)
def test_what_is_told_is_enough_and_a_little_less_is_not(
    most: tuple[int, int], pieces: int | None, total: int, front: str, last: int
) -> None:
    pack = rules(
        f"{{limit: weight.total, at_least: {total} kg, condition: as_weighed}}",
        f"{{limit: percentage.front, at_most: {front}, condition: any}}",
    )
    places = [
        {"name": name, "at": at(place), "most": f"{kg} kg", **({"pieces": pieces} if pieces else {})}
        for name, place, kg in (("nose", 300, most[0]), ("tail", 2000, most[1]))
    ]
    things = slide(last, places=places, shelf=[{"label": "L", "mass": "2.5 kg", "count": 12}])
    found = planned(pack, car(things, **SEAT))
    if found.status is not Status.INFEASIBLE:
        return
    for change in found.wider:
        assert done(planned(pack, car(_with(things, change.parts), **SEAT)))
        for part in change.parts:
            assert (
                planned(pack, car(_with(things, change.parts, less=part), **SEAT)).found is None
                or len(change.parts) > 1
            )


def _with(things: Mapping[str, Any], parts: Any, less: object = None) -> dict[str, Any]:
    """The file with what is told put into it; of one part a step less."""
    places = [dict(place) for place in things["places"]]
    ends = list(things["movable"][0]["between"])
    for part in parts:
        if isinstance(part, WiderSlide):
            mm = part.end.fields["at.behind_front_axle"].value
            ahead = mm < 1100
            ends[0 if ahead else 1] = at(float(mm) + (part is less) * (1 if ahead else -1))
        elif isinstance(part, WiderPlace):
            place = next(one for one in places if one["name"] == part.name)
            if part.most_kg is not None:
                place["most"] = f"{float(part.most_kg) - 0.1 * (part is less):g} kg"
            if part.pieces is not None:
                place["pieces"] = part.pieces - (part is less and part.most_kg is None)
    return {**things, "places": places, "movable": [{"what": "driver", "between": ends}]}
