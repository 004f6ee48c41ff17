"""What lapses when, for one car through a season: the document and the text."""

from __future__ import annotations

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data, begun, margin_data
from checker.report.page import RED, Page
from checker.report.wording import car_words, listed, put_caution, result_colour
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from checker.studies.one_car.lapses import CarAtMeeting, Lapse, Season
from checker.verdict.outcome import Outcome


def calendar_document(season: Season) -> Data:
    return {
        **begun("calendar"),
        "pack": season.pack,
        "car": {"number": season.number, "name": season.name or None},
        "on": season.on.isoformat(),
        "meetings": [_meeting_data(standing) for standing in season.standings],
        "failing": [_failing_data(outcome) for outcome in season.failing],
        "lapses": [_lapse_data(lapse) for lapse in season.lapses],
    }


def _meeting_data(standing: CarAtMeeting) -> Data:
    day = standing.day
    numbers = {kind: [] for kind in (FAIL, NOT_SHOWN, TOO_CLOSE)}  # type: dict[str, list[str]]
    for number, outcome in day.outcomes.items():
        if outcome in numbers and day.pack.clauses[number].severity != ADVISORY:
            numbers[outcome].append(number)
    return {
        "name": standing.meeting.name,
        "date": standing.meeting.day.isoformat(),
        "edition": day.pack.edition,
        "bulletins": list(day.pack.bulletins),
        "complies": day.complies,
        "failing": numbers[FAIL],
        "not_shown": numbers[NOT_SHOWN],
        "too_close": numbers[TOO_CLOSE],
        "not_counted": [told.message for told in day.car.warnings if told.code == _TOO_LATE],
    }


_TOO_LATE = "CD222"
"""Of evidence from after the day that is judged."""


def _failing_data(outcome: Outcome) -> Data:
    clause, found = outcome.clause, outcome.assessment
    return {
        "clause": clause.number,
        "title": clause.title,
        "severity": clause.severity,
        "margin": margin_data(found.margin),
        "text": found_words(found.finding),
        "act": act_words(found.act),
    }


def _lapse_data(lapse: Lapse) -> Data:
    clause, found = lapse.clause, lapse.assessment
    return {
        "clause": clause.number,
        "title": clause.title,
        "severity": clause.severity,
        "item": lapse.item or None,
        "last_day": lapse.last_day.isoformat(),
        "meeting": {"name": lapse.meeting.name, "date": lapse.meeting.day.isoformat()},
        "margin": margin_data(found.margin),
        "text": found_words(found.finding),
        "act": act_words(found.act),
        "because": lapse.because or None,
    }


def calendar_text(document: Data, page: Page) -> None:
    page.heading(f"{car_words(document)} through the season")
    page.put(f"As the car stands, by the rules in force at each meeting from {document['on']} on.", 2)
    _lapses(document, page)
    _failing(document, page)
    page.heading("Meetings")
    for meeting in document["meetings"]:
        _meeting(meeting, page)
    if not document["meetings"]:
        page.put("None from that day on.", 2)
    put_caution(page)


def _lapses(document: Data, page: Page) -> None:
    page.heading("What lapses")
    for lapse in document["lapses"]:
        meeting = lapse["meeting"]
        page.blank()
        item = f"{lapse['item']}, " if lapse["item"] else ""
        advice = " (advice only)" if lapse["severity"] == ADVISORY else ""
        page.put(f"{item}clause {lapse['clause']} {lapse['title']}{advice}", 2, 4)
        page.labelled("last day", lapse["last_day"], 13, 4)
        page.labelled("fails at", f"{meeting['name']}, {meeting['date']}", 13, 4)
        if lapse["because"]:
            page.labelled("because", lapse["because"], 13, 4)
        if lapse["act"]:
            page.labelled("do", lapse["act"], 13, 4)
        elif lapse["text"]:
            page.labelled("found", lapse["text"], 13, 4)
    if not document["lapses"]:
        page.put("Nothing that is met on the first day fails at one of these meetings.", 2)


def _failing(document: Data, page: Page) -> None:
    if not document["failing"]:
        return
    page.heading("Fails already", RED)
    for one in document["failing"]:
        advice = " (advice only)" if one["severity"] == ADVISORY else ""
        page.put(f"clause {one['clause']} {one['title']}{advice}: {one['act'] or one['text']}", 2, 4)


def _meeting(meeting: Data, page: Page) -> None:
    words = meeting["name"]
    if meeting["complies"]:
        told = "complies"
    elif meeting["complies"] is False:
        told = f"fails {listed(meeting['failing'])}"
    else:
        open_ones = (("not_shown", "not declared"), ("too_close", "too close to call"))
        why = [f"{listed(meeting[key])} {state}" for key, state in open_ones if meeting[key]]
        told = f"undecided: {'; '.join(why)}" if why else "undecided"
    page.labelled(meeting["date"], f"{words}: {told}", 13, 2, result_colour(meeting))
    if meeting["complies"] is None:
        for message in meeting["not_counted"]:
            page.put(message, 13, 15)
