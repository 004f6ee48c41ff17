"""A meeting, a slip and a verification as plain data: the one place that says what is in them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from checker.kinds.contract.check import walk
from checker.kinds.judging.assessment import FAIL, PASS
from checker.kinds.limiting.limited import Limited
from checker.meeting.record.car_contents import SCRUTINEERING, Noted, Ruled, Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.clock import oddities
from checker.meeting.session.dependence import DECLARED_ONLY, MEASURED, NOT_STATED, PARTLY, on_weights
from checker.meeting.session.gear import DoubtedWeighing, kg, notices
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting, program_version
from checker.meeting.standing.after_race import LookAgain, MarginMoved
from checker.meeting.standing.differences import NotAsDeclared
from checker.meeting.standing.not_counting import not_counting
from checker.meeting.standing.standing import Standing, standing_of, standings, tally
from checker.quantities.display import decimal_text
from checker.quantities.kind import NUMBER, Unknown
from checker.reading.quick_dataclasses import replace
from checker.report.amounts import Data, begun, told_of
from checker.report.one_car.document import inspection_document
from checker.report.words.findings import unknown_words
from checker.report.words.recorded import recorded_margin, written
from checker.report.words.remarks import car_warnings, remark_words


def meeting_document(meeting: Meeting) -> Data:
    """Where every car stands, and the state of the gear and the record."""
    found = standings(meeting)
    return {
        **begun("meeting"),
        "program": program_version(),
        "meeting": heading_data(meeting),
        "closed": meeting.day.closed is not None,
        "provisional": meeting.day.closed is not None and meeting.day.closed.content.provisional,
        "tally": tally(found),
        "gear": _gear_data(meeting),
        "gear_warnings": [". ".join(remark_words(one)) for one in notices(meeting.day, meeting.gear)],
        "clock_set_back": [number for number, _ in meeting.day.set_back],
        "times": [found.message for found in oddities(meeting.day)],
        "cars": [standing_data(meeting, one) for one in found],
        **record_data(meeting),
    }


def results_document(meeting: Meeting, entries: int = 0) -> Data:
    """The same with what the results add: the margins that a weighing bears on, and what is on the entrant's word.

    Args:
        entries: How many entries the record has, where the meeting is shown as it stood earlier; 0 where it is not.
    """
    document = meeting_document(meeting)
    bearing = on_weights(meeting.pack)
    for told in document["cars"]:
        car = meeting.car(told["number"])
        judged = meeting.day.last_judged(car)
        margins = judged.margins if judged is not None else {}
        told["weights"] = [
            {
                "clause": number,
                "margin": margin,
                "benefit_of_doubt": judged.outcomes[number] == PASS and margins[number].startswith("-"),
            }
            for number in meeting.pack.clauses
            if judged is not None and number in bearing and (margin := _margin(meeting, number, margins))
        ]
        words = () if judged is None else meeting.judgement(car).verified.values()
        told["entrants_word"] = Counter(words)[DECLARED_ONLY]
    return {**document, "entries_since": max(entries - meeting.day.number, 0)}


def heading_data(meeting: Meeting) -> Data:
    """What the day is judged by."""
    opened = meeting.day.opened.content
    return {
        **told_of(opened, "title", "on", "pack", "edition", "pack_sha256"),
        "officials": list(meeting.day.officials),
    }


def record_data(meeting: Meeting) -> Data:
    """Where the record stands: what is printed so that a cut tail or a rebuilt record can be told."""
    return {
        "last_entry": meeting.day.number,
        "last_hash": meeting.day.hash,
        "signing": list(meeting.day.keys),
        "sound": not meeting.faults,
        "faults": [{"code": f.code, "entry": f.number or None, "message": f.message} for f in meeting.faults],
    }


def standing_data(meeting: Meeting, one: Standing) -> Data:
    """One car."""
    clauses = meeting.pack.clauses
    return {
        "number": one.car,
        **told_of(one, "name", "status", "computed", "occasion", "late", "weighings", "due"),
        "fails": [
            {
                "clause": n,
                "title": clauses[n].title if n in clauses else "",
                "margin": _margin(meeting, n, one.margins),
            }
            for n in one.failing
        ],
        "unsettled": list(one.unsettled),
        "rulings": [
            {
                "clause": r.clause,
                "decision": r.decision,
                "reason": r.reason,
                "computed": r.computed,
                "in_place_of": _earlier_rulings(meeting, r),
            }
            for r in one.rulings
        ],
        "defects": [
            {"entry": r.number, **told_of(r.content, "clause", "text", "carried")} for r in one.defects
        ],
        "open_because": one.open_because,
        "protests": [
            {
                "entry": p.number,
                "clause": p.content.clause,
                "by_car": p.content.by_car,
                "text": p.content.text,
            }
            for p in one.protests
        ],
        "doubt": _doubt_data(one.doubt),
        "next_step": one.next_step,
    }


def _margin(meeting: Meeting, number: str, margins: Mapping[str, str]) -> str:
    """A recorded margin where it is a distance, as in the report: "" where it counts what offends."""
    clause, text = meeting.pack.clauses.get(number), margins.get(number, "")
    if (
        clause is None
        or " " in text
        or any(isinstance(part, Limited) and part.value_kind == NUMBER for part in walk(clause.check))
    ):
        return recorded_margin(text)
    return ""


def _earlier_rulings(meeting: Meeting, ruled: Ruled) -> list[Data]:
    """The rulings that this one stands in place of, the newest first."""
    found: list[Data] = []
    while ruled.corrects and (record := meeting.day.record(ruled.corrects)) is not None:
        assert isinstance(record.content, Ruled)
        ruled = record.content
        found.append(
            {"entry": record.number, "by": record.by, "decision": ruled.decision, "reason": ruled.reason}
        )
    return found


def _doubt_data(doubt: DoubtedWeighing | None) -> Data | None:
    if doubt is None:
        return None
    check = doubt.check.content
    return {
        "weighing": doubt.weighing.number,
        "check": doubt.check.number,
        "gear": check.gear,
        "pad": check.pad,
        "applied": written(check.applied),
        "shown": written(check.shown),
    }


def _gear_data(meeting: Meeting) -> list[Data]:
    """The newest check of every pad, zero and test weight apart."""
    newest: dict[tuple[str, str, bool], Data] = {}
    for record in meeting.day.gear_checks:
        check = record.content
        newest[(check.gear, check.pad, kg(check.applied) > 0)] = {
            "gear": check.gear,
            "pad": check.pad,
            "applied": written(check.applied),
            "shown": written(check.shown),
            "allowed": written(check.allowed),
            "good": check.good,
            "at": record.at,
            "entry": record.number,
        }
    return list(newest.values())


# -- one car's slip ------------------------------------------------------------------------------------------


def slip_document(
    meeting: Meeting,
    car: CarDay,
    judgement: Judgement,
    found: list[NotAsDeclared],
    again: list[LookAgain],
) -> Data:
    """What a car's entrant is handed: readings, verdict, what to do, what was not verified."""
    standing = standing_of(meeting, car)
    because = Unknown(reasons=judgement.open_because)
    if standing.open_because == "; ".join(because.told()):  # the record is in the units of the rules
        standing = replace(standing, open_because="; ".join(unknown_words(because)))
    weighings = car.weighings(judgement.occasion)
    counts = Counter(judgement.verified.values())
    bearing = on_weights(meeting.pack)
    opened = meeting.day.opened.content
    return {
        **begun("slip"),
        "program": program_version(),
        "meeting": heading_data(meeting),
        "standing": standing_data(meeting, standing),
        "occasion": judgement.occasion,
        "weighings": [_weighing_data(record) for record in weighings],
        "inspection": inspection_document(judgement.inspection),
        "verified": {word: counts[word] for word in (MEASURED, PARTLY, DECLARED_ONLY, NOT_STATED)},
        "on_weights": [n for n in meeting.pack.clauses if n in bearing],
        "not_verified": [n for n, word in judgement.verified.items() if word == DECLARED_ONLY],
        "differences": [
            {
                "name": d.name,
                "declared": written(d.declared),
                "measured": written(d.measured),
                "gear_explains": written(d.beyond),
            }
            for d in found
        ],
        "look_again": [
            {"clause": one.clause, "title": one.title, "why": "; ".join(map(_why, one.why))} for one in again
        ],
        "notes": [_note_data(record) for record in car.of(Noted) if record.content.topic != "seen"],
        "not_counting": list(not_counting(meeting, car)),
        "gear_warnings": [one.message for one in car_warnings(judgement.inspection.car)],
        "prepare": list(
            meeting.procedure.prepare
            if judgement.occasion == SCRUTINEERING
            else meeting.procedure.after_race_prepare
        ),
        "declaration_sha256": car.entered.content.declaration,
        "on": opened.on,
        **record_data(meeting),
    }


def _why(why: str | MarginMoved) -> str:
    if isinstance(why, str):
        return why
    was, now = (recorded_margin(margin) or "0" for margin in (why.was, why.now))
    return f"margin {was} at scrutineering, {now} now"


def _weighing_data(record: Record[Weighed]) -> Data:
    content = record.content
    total = sum((kg(load) for load in content.loads.values()), kg("0 kg"))
    return {
        "entry": record.number,
        "at": record.at,
        "by": record.by,
        "loads": {name: written(load) for name, load in content.loads.items()},
        "total": written(f"{decimal_text(total, 2)} kg"),
        **told_of(content, "pads", "gear", "fuel", "driver", "tyres", "wear", "again", "corrects", "source"),
        "there": record.there or None,
    }


def _note_data(record: Record[Noted]) -> Data:
    names = ("topic", "text", "part", "state", "clause", "carried")
    return {"entry": record.number, **told_of(record.content, *names)}


def margin_words(judgement: Judgement) -> dict[str, str]:
    """Margins of the clauses that a judgement fails, as people write them."""
    content = judgement.as_content("")
    return {
        n: recorded_margin(content.margins.get(n, ""))
        for n, outcome in content.outcomes.items()
        if outcome == FAIL
    }
