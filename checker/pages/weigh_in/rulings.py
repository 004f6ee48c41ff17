"""One car for officials: its slip, protests and rulings, notes, and entries that no longer count."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from checker.car.described.vocabulary import ORGANISER
from checker.meeting.record.car_contents import SCRUTINEERING, TOPICS, Noted, Protested
from checker.meeting.record.contents import CORRECTABLE
from checker.meeting.session.session import Meeting
from checker.meeting.taking.correcting import strike
from checker.meeting.taking.entering import withdraw
from checker.meeting.taking.measuring import Finding, measure, note
from checker.meeting.taking.ruling import DECISIONS_SAID, Ruling, protest, rule
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.cars import choose
from checker.pages.weigh_in.room import WeighInRoom, entering, for_officials, number_in, official_page, said
from checker.pages.weigh_in.slips import KeptSlips, slip_view
from checker.report.words.findings import found_words


def pages(room: WeighInRoom) -> list[ServedPage]:
    """A car's page, and what is decided on it."""

    slips = KeptSlips(rechecked=False)
    acts = {
        "protest": _protest,
        "ruling": _rule,
        "note": _note,
        "measurement": _measure,
        "strike": _strike,
        "withdrawal": _withdraw,
    }
    return [
        for_officials(room, "/cars", lambda room, request, by: _show(room, request, by, slips)),
        *(entering(room, f"/cars/{what}", act, "/cars", "car") for what, act in acts.items()),
    ]


def _show(room: WeighInRoom, request: Request, by: str, slips: KeptSlips) -> Response:
    number = request.query_params.get("car", "").strip()
    if not number:
        return choose(room, request, by, "Cars", "/cars")
    car = room.office.ask(lambda meeting: _car(meeting, number, slips))
    entry = request.query_params.get("entry", "")
    choices = {"decisions": list(DECISIONS_SAID), "topics": [topic for topic in TOPICS if topic != "seen"]}
    return official_page(room, request, "car", by, entry=entry, car=car, **choices)


def _car(meeting: Meeting, number: str, slips: KeptSlips) -> dict[str, object]:
    """A car with all that may be decided about it."""
    car = meeting.car(number)
    document = slips.document(meeting, car)
    standing = document["standing"]
    pressing = [*(fail["clause"] for fail in standing["fails"]), *standing["unsettled"]]
    titles = {number: clause.title for number, clause in meeting.pack.clauses.items()}
    ordered = dict.fromkeys([*(n for n in pressing if n in titles), *titles])
    return {
        "number": car.number,
        "name": car.name,
        "slip": slip_view(document),
        "clauses": [(n, titles[n]) for n in ordered],  # those that fail or are open first
        "protests": standing["protests"],
        "ruled": [(clause, record.number) for clause, record in car.rulings().items()],
        "entries": [
            (record.number, f"{record.content.KIND} by {record.by}")
            for record in car.records
            if isinstance(record.content, CORRECTABLE)
        ],
        "cars": [one.number for one in meeting.day.cars.values() if one is not car],
        "seen": meeting.day.number,
        "withdrawn": car.withdrawn,
        "facts": [
            name for name, fact in meeting.pack.vocabulary.facts.items() if fact.stated_by != ORGANISER
        ],
        "gear": list(meeting.gear),
        "occasions": list(dict.fromkeys((SCRUTINEERING, *car.occasions()))),
    }


# -- what is decided -----------------------------------------------------------------------------------------


def _protest(meeting: Meeting, form: FormData, by: str) -> None:
    content = Protested(said(form, "car"), said(form, "clause"), said(form, "text"), said(form, "from"))
    protest(meeting, content, by)


def _rule(meeting: Meeting, form: FormData, by: str) -> None:
    decision = DECISIONS_SAID.get(said(form, "decision"))
    if decision is None:
        raise HTTPException(400, "A ruling is uphold, exclude or allow. Nothing was entered.")
    car, clause = said(form, "car"), said(form, "clause")
    standing = meeting.car(car).rulings().get(clause)
    # the ruling that it stands in place of is the one that the page showed, and no later one
    corrects = standing.number if standing is not None and standing.number <= number_in(form, "seen") else 0
    ruling = Ruling(car, clause, decision, said(form, "reason"), number_in(form, "protest"), corrects)
    rule(meeting, ruling, by, found_words)


def _note(meeting: Meeting, form: FormData, by: str) -> None:
    noted = Noted(
        said(form, "car"),
        said(form, "occasion") or SCRUTINEERING,
        said(form, "topic"),
        said(form, "text"),
        clause=said(form, "clause"),
        part=said(form, "part"),
        state=said(form, "state"),
    )
    note(meeting, [noted], by)


def _measure(meeting: Meeting, form: FormData, by: str) -> None:
    """Any fact of the pack, for whatever the procedure does not name."""
    finding = Finding(
        said(form, "car"),
        said(form, "fact"),
        said(form, "value"),
        said(form, "occasion") or SCRUTINEERING,
        gear=said(form, "gear"),
        gauge=said(form, "gauge"),
        new_entry=bool(said(form, "new_entry")),
    )
    measure(meeting, [finding], by, seen=number_in(form, "seen"))


def _strike(meeting: Meeting, form: FormData, by: str) -> None:
    strike(meeting, number_in(form, "struck"), said(form, "reason"), by)


def _withdraw(meeting: Meeting, form: FormData, by: str) -> None:
    withdraw(meeting, said(form, "car"), said(form, "reason"), by)
