"""What changed for a car since an earlier report."""

from __future__ import annotations

from copy import deepcopy
from datetime import date
from typing import Any

from checker.report.one_car.document import inspection_document
from checker.studies.one_car.since import since
from checker.verdict.run import inspect_document
from tests.studies.packs import DAY, car_document, pack

Data = dict[str, Any]


def report(car: Data | None = None, rules: Data | None = None, on: date = DAY) -> Data:
    return inspection_document(inspect_document(pack(rules), car_document(car), on, "entrant"))


def only(earlier: Data, now: Data) -> Data:
    [change] = since(earlier, now)["changes"]
    assert isinstance(change, dict)
    return change


def test_nothing_changed_between_a_report_and_itself() -> None:
    found = since(report(), report())
    assert (found["changes"], found["unchanged"]) == ([], 9)


def test_outcome_value_and_margin_are_told_then_and_now() -> None:
    rules: Data = {'clauses."3"': None}
    change = only(report(rules=rules), report({"frame.width": "1410 mm"}, rules))
    assert (change["change"], change["outcome"]) == ("worse", {"earlier": "pass", "now": "fail"})
    assert change["value"]["now"]["value"] == "1410"
    assert change["by"] == {"exact": "-20/1", "unit": "mm"}
    assert change["bound"] is None
    assert change["act"] == "lower width by 10 mm"


def test_a_bound_that_moved_is_told() -> None:
    change = only(report(), report(rules={'clauses."1".check.at_most': "1420 mm"}))
    assert (change["change"], change["by"]["exact"]) == ("better", "20/1")
    assert [change["bound"][side]["value"] for side in ("earlier", "now")] == ["1400", "1420"]


def test_the_reverse_is_the_other_way_round() -> None:
    one, other = report(), report(rules={'clauses."1".check.at_most': "1380 mm"})
    there, back = only(one, other), only(other, one)
    assert (there["change"], back["change"]) == ("worse", "better")
    assert there["outcome"] == {"earlier": back["outcome"]["now"], "now": back["outcome"]["earlier"]}


def test_clauses_that_came_and_went() -> None:
    changes = since(report(rules={'clauses."7"': None}), report(rules={'clauses."1"': None}))["changes"]
    assert [(c["clause"], c["change"]) for c in changes] == [("7", "added"), ("1", "withdrawn")]


def test_what_is_no_longer_shown_is_worse_than_met_and_better_than_failed() -> None:
    rules: Data = {'clauses."3"': None}
    met, failed = report(rules=rules), report({"frame.width": "1410 mm"}, rules)
    unknown = report({"frame.width": None}, rules)
    assert only(met, unknown)["change"] == "worse"
    assert only(failed, unknown)["change"] == "better"


def test_days_that_pass_are_told() -> None:
    [change] = since(report(), report(on=date(2026, 5, 13)))["changes"]
    assert (change["clause"], change["by"]) == ("6", {"exact": "-10/1", "unit": "days"})


def test_words_alone_are_a_change_too() -> None:
    change = only(report(), report(rules={'clauses."1".title': "Breadth"}))
    assert change["change"] == "changed"
    assert change["words"] == [{"what": "title", "earlier": "Width", "now": "Breadth"}]


def test_the_heading_says_what_both_were_made_of() -> None:
    found = since(report(), report({"frame.width": "1391 mm"}, {"edition": "2"}))
    assert (found["earlier"]["edition"], found["now"]["edition"]) == ("1", "2")
    assert found["earlier"]["car_sha256"] == found["now"]["car_sha256"]  # an edited document keeps its file's
    assert found["earlier"]["on"] == "2026-05-03"


def test_the_reports_stay_as_they_are() -> None:
    one, other = report(), report({"frame.width": "1410 mm"})
    kept = deepcopy((one, other))
    since(one, other)
    assert (one, other) == kept
