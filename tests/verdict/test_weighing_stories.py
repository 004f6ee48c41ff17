"""Two weighings near a limit, told in the samples: pads that disagree, and a car close to the minimum."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.kinds.judging.assessment import FAIL, PASS, TOO_CLOSE
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from checker.report.words.remarks import car_warnings
from checker.verdict.inspection import Outcome
from checker.verdict.run import Request, inspect_request
from tests.building import outcome_of, pack_of_check

pytestmark = pytest.mark.usefixtures("at_root")
RUFF = "samples/cars/close-to-the-minimum.yaml"


def clause(number: str, **request: str) -> Outcome:
    inspection = inspect_request(Request(**request))  # type: ignore[arg-type]
    return next(outcome for outcome in inspection.outcomes if outcome.clause.number == number)


def test_the_pads_disagree_and_the_swap_tells_by_how_much() -> None:
    car = inspect_request(Request("samples/cars/pads-that-disagree.yaml")).car
    first, second = (car.weights(weighing=n) for n in (0, 1))
    assert [w.weight("inside") for w in (first, second)] == [Fraction("308.5"), 311]
    assert [w.weight("total") for w in (first, second)] == [585, Fraction("585.5")]
    mean = car.weights().percentage("inside")
    assert isinstance(mean, Fraction)
    assert round(float(mean) * 100, 2) == 52.93
    (warning,) = car_warnings(car)
    assert "front right pad shows 1.5 kg more than the front left pad" in warning.message


@pytest.mark.deep
def test_what_the_swap_cancels_is_trusted_and_what_it_does_not_is_too_close() -> None:
    car = "samples/cars/pads-that-disagree.yaml"
    assert clause("3.3", car=car).outcome == PASS
    light = clause("3.1", car=car)
    assert light.outcome == TOO_CLOSE
    assert light.assessment.spread is not None
    assert light.assessment.spread.contributions[0].name == "home pads, permissible error"


def test_an_official_does_not_fail_what_an_entrant_should_not_be_content_with() -> None:
    """584.7 kg with u = 0.4 kg: 0.3 kg under the minimum, within 0.66 kg."""
    entrant = clause("3.1", car=RUFF)
    assert entrant.outcome == TOO_CLOSE
    spread = entrant.assessment.spread
    assert spread is not None
    assert spread.variance == Fraction("0.4") ** 2
    assert spread.probability == pytest.approx(0.22663, abs=1e-5)
    readings = "samples/readings/close-to-the-minimum.yaml"
    official = clause("3.1", car=RUFF, readings=readings, audience="official")
    assert official.outcome == PASS
    assert found_words(official.assessment.finding).endswith("the entrant has the benefit of the doubt")


@pytest.mark.parametrize(
    "second",
    [
        "{front_left: 147.5 kg, front_right: 159 kg, rear_left: 141 kg, rear_right: 148.5 kg}",  # by pad
        "{front_left: 59 kg, front_right: 147.5 kg, rear_left: 148.5 kg, rear_right: 141 kg}",  # a digit lost
    ],
)
def test_while_a_reading_is_asked_about_nothing_is_to_be_moved_nor_better_pads_bought(
    tmp_path: Path, second: str
) -> None:
    text = Path("samples/cars/legal.yaml").read_text()
    readings = "    - {front_left: 159.0 kg"
    assert text.count(readings) == 1
    car = tmp_path / "car.yaml"
    car.write_text(text.replace(readings, f"    - {second}\n{readings}"))
    inspection = inspect_request(Request(str(car)))
    told = [act_words(o.assessment.act) for o in inspection.outcomes if o.assessment.act is not None]
    assert told
    assert set(told) == {"first settle whether reading 2 was typed as it stood, and correct it if not"}
    assert inspection.together is None


@pytest.mark.parametrize(
    ("audience", "below", "at_or_below", "above", "at_or_above"),
    [
        ("official", FAIL, "584.34", PASS, "584.35"),  # fails at 584.342 kg and below
        ("entrant", TOO_CLOSE, "585.65", PASS, "585.66"),  # content from 585.658 kg on
        ("entrant", FAIL, "584.34", TOO_CLOSE, "584.35"),
    ],
)
def test_where_the_verdict_turns(
    audience: str, below: str, at_or_below: str, above: str, at_or_above: str
) -> None:
    pack = pack_of_check(
        "{limit: weight.total, at_least: 585 kg, condition: as_weighed}",
        "decision: {official: benefit_to_entrant}",
    )

    def of(total: str) -> str:
        rear_right = Fraction(total) - 449
        car = (
            "instruments: {pads: {uncertainty: 0.2 kg}}\nweighing: {instrument: pads, readings: [{front_left: 155 kg,"
            f" front_right: 144 kg, rear_left: 150 kg, rear_right: {float(rear_right):.2f} kg}}]}}"
        )
        return outcome_of(pack, car, audience=audience).outcome

    assert (of(at_or_below), of(at_or_above)) == (below, above)
