from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import Protested
from checker.meeting.session.session import Meeting
from checker.meeting.standing.standing import (
    COMPLIES,
    EXCLUDED,
    FAILS,
    UNSETTLED,
    standing,
    standing_of,
    standing_with,
    standings,
    tally,
)
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.closing import close, reopen
from checker.meeting.taking.measuring import Finding, measure
from checker.meeting.taking.ruling import Ruling, protest, rule
from checker.reading.problems import InputError
from checker.report.meeting.board import board_text, results_text
from checker.report.meeting.document import meeting_document, results_document, slip_document
from checker.report.meeting.slip import slip_text
from checker.report.page import Page
from checker.report.words.findings import found_words
from tests.meeting.days import a_meeting, car_text, refused, weighed

CARS = {"7": car_text(dimensions="{ride_height: 80 mm}"), "8": car_text("8", "Knot")}


def ready(tmp_path: Path) -> Meeting:
    """Car 7 is too low; car 8 complies once its seal is read."""
    meeting = a_meeting(tmp_path, CARS)
    for number in CARS:
        weighed(meeting, number)
        weighed(meeting, number)
        measure(meeting, [Finding(number, "seals.sump", f"SO {number}")], "KV")
        meeting.judge_and_record(meeting.car(number), "KV")
    return meeting


def status(meeting: Meeting, number: str) -> tuple[str, str]:
    found = standing(meeting, meeting.car(number), None)
    return found.computed, found.status


def test_a_ruling_stands_beside_what_was_computed(tmp_path: Path) -> None:
    with ready(tmp_path) as meeting:
        assert status(meeting, "7") == ("no", FAILS)
        number = rule(meeting, Ruling("7", "3", "allow", "a stone under the gauge"), "KV", found_words)
        record = meeting.car("7").rulings()["3"].content
        assert (record.computed, record.found) == (
            "fail",
            "ride height 80 mm is 5 mm below the minimum of 85 mm",
        )
        assert record.rests_on == number - 1
        assert status(meeting, "7") == ("no", COMPLIES)
        rule(meeting, Ruling("7", "3", "stand", "measured again", corrects=number), "KV", found_words)
        assert status(meeting, "7") == ("no", FAILS)
        rule(meeting, Ruling("8", "2", "reject", "seen to move its driver"), "KV", found_words)
        assert status(meeting, "8") == ("yes", EXCLUDED)


@pytest.mark.parametrize(
    ("ruling", "code"),
    [
        (Ruling("7", "3", "allow", " "), "MT206"),
        (Ruling("7", "3", "permit", "why"), "MT209"),
        (Ruling("7", "99", "allow", "why"), "MT212"),
        (Ruling("77", "3", "allow", "why"), "MT203"),
        (Ruling("8", "3", "allow", "why"), "MT209"),
        (Ruling("7", "3", "allow", "why", protest=3), "MT207"),
        (Ruling("7", "3", "allow", "why", corrects=3), "MT207"),
    ],
)
def test_a_decision_that_cannot_be_is_refused(tmp_path: Path, ruling: Ruling, code: str) -> None:
    with ready(tmp_path) as meeting:
        before = meeting.day.number
        with pytest.raises(InputError) as error:
            rule(meeting, ruling, "KV", found_words)
        assert refused(error) == code
        assert meeting.day.number == before


def test_a_protest_is_answered_by_a_ruling(tmp_path: Path) -> None:
    with ready(tmp_path) as meeting:
        number = protest(meeting, Protested("8", "2", "it leans  inwards", "7"), "KV")
        with pytest.raises(InputError):
            rule(meeting, Ruling("7", "3", "stand", "why", protest=number), "KV", found_words)
        rule(
            meeting,
            Ruling("8", "2", "stand", "weighed again in our presence", protest=number),
            "KV",
            found_words,
        )
        assert meeting.car("8").rulings()["2"].content.protest == number
        for content, code in (
            (Protested("8", "99", "words"), "MT212"),
            (Protested("8", "2", " "), "MT209"),
            (Protested("8", "2", "words", "77"), "MT203"),
            (Protested("88", "2", "words"), "MT203"),
        ):
            with pytest.raises(InputError) as error:
                protest(meeting, content, "KV")
            assert refused(error) == code


@pytest.mark.parametrize(
    ("decision", "outcome", "result"),
    [
        ("stand", "fail", "fail"),
        ("stand", "not_shown", "not_shown"),
        ("allow", "fail", "pass"),
        ("reject", "pass", "fail"),
    ],
)
def test_what_a_clause_comes_to_in_a_result(decision: str, outcome: str, result: str) -> None:
    from checker.meeting.record.car_contents import Ruled

    assert (
        standing_with(Ruled("7", "3", decision, "why", computed=outcome, found="", rests_on=1), outcome)
        == result
    )
    assert standing_with(None, outcome) == outcome


def test_advice_and_what_is_open_are_kept_apart(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(body="{sound: false}")}) as meeting:
        weighed(meeting)
        weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "KV")
        found = standing(meeting, meeting.car("7"), None)
        assert (found.status, found.failing, found.unsettled) == (UNSETTLED, (), ("5",))


def test_a_closed_meeting_takes_nothing_until_it_is_opened_again(tmp_path: Path) -> None:
    with ready(tmp_path) as meeting:
        with pytest.raises(InputError) as error:
            reopen(meeting, "not closed yet", "KV")
        assert refused(error) == "MT216"
        assert close(meeting, "KV") == []
        closed = meeting.day.closed
        assert closed is not None
        assert closed.content.tally == tally(standings(meeting)) == {"fails": 1, "complies": 1}
        for action in (
            lambda: rule(meeting, Ruling("7", "3", "allow", "late"), "KV", found_words),
            lambda: close(meeting, "KV"),
        ):
            with pytest.raises(InputError) as error:
                action()
            assert refused(error) == "MT201"
        with pytest.raises(InputError) as error:
            reopen(meeting, " ", "KV")
        assert refused(error) == "MT206"
        reopen(meeting, "a protest came in time", "KV")
        rule(meeting, Ruling("7", "3", "allow", "late"), "KV", found_words)


def test_closing_tells_which_cars_are_left_open(tmp_path: Path) -> None:
    with a_meeting(tmp_path, CARS) as meeting:
        weighed(meeting)
        assert [(one.car, one.status) for one in close(meeting, "KV")] == [
            ("7", "on the scales"),
            ("8", "waits"),
        ]


def words_of(tell: Callable[[Page], None]) -> str:
    page = Page(100)
    tell(page)
    return " ".join(page.text().split())


def test_a_protest_shows_everywhere_until_it_is_answered_and_holds_the_closing_up(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        for _ in range(2):
            weighed(meeting)
        meeting.judge_and_record(meeting.car("7"), "TB")
        number = protest(meeting, Protested("7", "3", "it scrapes", ""), "KV")

        def told() -> list[str]:
            slip = slip_document(meeting, meeting.car("7"), meeting.judgement(meeting.car("7")), [], [])
            return [
                words_of(lambda page: board_text(meeting_document(meeting), page)),
                words_of(lambda page: results_text(results_document(meeting, meeting.day.number), page)),
                words_of(lambda page: slip_text(slip, page)),
            ]

        assert all("PROTEST" in text and f"(entry {number})" in text for text in told())
        with pytest.raises(InputError) as error:
            close(meeting, "KV")
        assert refused(error) == "MT219"
        assert f"entry {number} against car 7, clause 3" in error.value.problems[0].message
        close(meeting, "KV", provisional=True)
        assert told()[1].startswith("RESULTS, PROVISIONAL")
        reopen(meeting, "the protest is heard", "KV")
        rule(meeting, Ruling("7", "3", "stand", "it does not", number), "KV", found_words)
        assert not any("PROTEST" in text for text in told())
        with pytest.raises(InputError) as error:
            close(meeting, "KV", provisional=True)
        assert refused(error) == "MT219"
        close(meeting, "KV")
        assert told()[1].startswith("RESULTS Plover")
    assert verify(tmp_path / "day.meeting").sound


def test_a_later_ruling_says_which_it_stands_in_place_of_and_both_stay_on_the_slip(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        first = rule(meeting, Ruling("7", "3", "reject", "too low"), "KV", found_words)
        with pytest.raises(InputError) as error:
            rule(meeting, Ruling("7", "3", "stand", "on second thoughts"), "TB", found_words)
        assert refused(error) == "MT207"
        assert error.value.problems[0].hint.endswith(f"--corrects {first}")
        rule(meeting, Ruling("7", "3", "stand", "on second thoughts", corrects=first), "TB", found_words)
        slip = slip_document(meeting, meeting.car("7"), meeting.judgement(meeting.car("7")), [], [])
        told = words_of(lambda page: slip_text(slip, page))
    assert "upheld: on second thoughts" in told
    assert f"in place of excluded by KV, entry {first}: too low" in told


@pytest.mark.parametrize("weighings", [0, 1, 2])
def test_a_ruling_that_excludes_settles_the_car_however_often_it_was_weighed(
    tmp_path: Path, weighings: int
) -> None:
    with a_meeting(tmp_path) as meeting:
        for _ in range(weighings):
            weighed(meeting)
        if weighings == 2:
            meeting.judge_and_record(meeting.car("7"), "KV")
        before = standing_of(meeting, meeting.car("7")).status
        first = rule(meeting, Ruling("7", "3", "reject", "too low"), "KV", found_words)
        found = standing_of(meeting, meeting.car("7"))
        assert (found.status, found.next_step) == (EXCLUDED, "")
        document = meeting_document(meeting)
        assert document["tally"] == {EXCLUDED: 1}
        slip = slip_document(meeting, meeting.car("7"), meeting.judgement(meeting.car("7")), [], [])
        for told in (
            words_of(lambda page: board_text(document, page)),
            words_of(lambda page: results_text(results_document(meeting, meeting.day.number), page)),
            words_of(lambda page: slip_text(slip, page)),
        ):
            assert "EXCLUDED" in told
            assert not any(word in told for word in ("waiting", "WAITING", "on scales", "ON SCALES", "next "))
        assert close(meeting, "KV") == [], "it is not left open"
        reopen(meeting, "on second thoughts", "KV")
        rule(meeting, Ruling("7", "3", "stand", "it is not", corrects=first), "TB", found_words)
        assert standing_of(meeting, meeting.car("7")).status == before
    assert verify(tmp_path / "day.meeting").sound


def test_a_slip_tells_what_was_measured_from_what_was_decided(tmp_path: Path) -> None:
    with a_meeting(tmp_path, {"7": car_text(dimensions="{ride_height: 80 mm}")}) as meeting:
        rule(meeting, Ruling("7", "3", "allow", "the kerb did it"), "KV", found_words)
        slip = slip_document(meeting, meeting.car("7"), meeting.judgement(meeting.car("7")), [], [])
        told = words_of(lambda page: slip_text(slip, page))
    assert "Computed from what was declared and measured, without the decisions below: fails." in told
