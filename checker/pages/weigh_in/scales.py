"""The desk at the scales: wheel by wheel, the verdict large at once.

Each form is a whole weighing, held by the very desk that the terminal has (`checker.meeting.desk.scales`): what looks
like a slip is asked about before it is stored, and what changed since the form was shown is refused.
"""

from __future__ import annotations

from urllib.parse import urlencode

from starlette.datastructures import FormData
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from checker.car.described.standard import WHEELS
from checker.meeting.desk.conversation import ENTER, MISTYPED
from checker.meeting.desk.scales import DOUBT, REASON, SAID_TO_BE_RIGHT, SLIPS, STATE, VERDICT, ScalesDesk
from checker.meeting.record.car_contents import SCRUTINEERING, Weighed
from checker.meeting.record.car_day import Record
from checker.meeting.session.session import Meeting
from checker.meeting.session.weighing_rules import DRIVER, WEAR
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.weighing import settle, weigh
from checker.pages.serving.application import ServedPage
from checker.pages.weigh_in.cars import choose
from checker.pages.weigh_in.room import (
    WeighInRoom,
    enter,
    for_officials,
    number_in,
    official_page,
    said,
    whole,
)
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field
from checker.report.desk.scales import FINE, UNDECIDED, verdict_lines, weight_word
from checker.report.html.sheet import Sheet

_LOOKS = {FINE: ("met", FINE), UNDECIDED: ("open", "WEIGHT UNDECIDED")}
_STATE = ("fuel", "driver", "tyres", "wear")
_RIGHT = "right"
"""The field by which an official says that what looks like a slip is right."""


@dataclass(slots=True)
class LoadsForm:
    """A weighing that is being typed."""

    car: str
    name: str
    occasion: str
    seen: int
    unit: str
    """What the display shows."""
    _: KW_ONLY
    weighing: int = 0
    due: int = 0
    pads: str = ""
    reason_asked: str = ""
    """What is asked where the car is to be weighed again; "" where nothing is."""
    state: dict[str, str] = field(default_factory=dict)
    words: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """What may be chosen of the car's state; empty where it is taken as it was."""
    loads: dict[str, str] = field(default_factory=dict)
    corrects: int = 0
    doubts: tuple[str, ...] = ()


def pages(room: WeighInRoom) -> list[ServedPage]:
    """The desk, and the verdict on each weighing."""
    return [for_officials(room, "/scales", _show, _take), for_officials(room, "/scales/verdict", _verdict)]


# -- what is typed -------------------------------------------------------------------------------------------


def _show(room: WeighInRoom, request: Request, by: str) -> Response:
    asked = request.query_params
    corrects = whole(asked.get("corrects", ""))
    if corrects:
        view = room.office.ask(lambda meeting: _correction(meeting, corrects))
    elif car := asked.get("car", "").strip():
        at = asked.get("occasion", "").strip() or SCRUTINEERING
        view = room.office.ask(lambda meeting: _form(meeting, by, car, at))
    else:
        return choose(room, request, by, "Scales", "/scales", with_occasion=True)
    return official_page(room, request, "scales", by, form=view, wheels=WHEELS, again="")


def _form(meeting: Meeting, by: str, car: str, occasion: str) -> LoadsForm:
    desk = _desk_with(meeting, by, car, occasion)
    assert desk.car is not None
    view = _begun(meeting, desk.car.number, desk.car.name, occasion)
    view.weighing, view.due = min(desk.weighings + 1, desk.due), desk.due
    if desk.stage == REASON:
        incidents = meeting.procedure.incidents
        view.reason_asked = f"Weighed {desk.weighings} of {desk.due} times already. Why again?" + (
            f" Whatever came out, it may be after: {', '.join(incidents)}" if incidents else ""
        )
        view.weighing = 1
        desk.weigh_again("to be asked")
    view.pads, view.state = desk.pads_stand, dict(desk.state)
    if desk.stage == STATE:
        tyres = meeting.judge.declared(meeting.declaration(desk.car)).tyre_sets
        view.words = {"driver": DRIVER, "tyres": tuple(tyres), "wear": WEAR}
    return view


def _begun(meeting: Meeting, car: str, name: str, occasion: str) -> LoadsForm:
    scales = meeting.scales
    unit = scales.unit.name if scales is not None and scales.unit is not None else "kg"
    return LoadsForm(car, name, occasion, meeting.day.number, unit)


def _desk_with(meeting: Meeting, by: str, car: str, occasion: str) -> ScalesDesk:
    """The desk with that car on the scales.

    Raises:
        InputError: It may not be weighed.
    """
    desk = ScalesDesk(meeting, by, occasion)
    _fill(desk, car)
    return desk


def _fill(desk: ScalesDesk, text: str) -> None:
    desk.fill(text)
    if desk.problems and desk.stage not in (DOUBT, VERDICT):
        raise InputError(desk.problems)


def _correction(meeting: Meeting, number: int) -> LoadsForm:
    record = weighing_at(meeting, number)
    content = record.content
    car = meeting.car(content.car)
    view = _begun(meeting, car.number, car.name, content.occasion)
    view.corrects, view.pads = number, content.pads
    view.loads = {wheel: load.partition(" ")[0] for wheel, load in content.loads.items()}
    view.state = {key: getattr(content, key) for key in _STATE}
    return view


def weighing_at(meeting: Meeting, number: int) -> Record[Weighed]:
    """The weighing that an entry is.

    Raises:
        HTTPException: 404, it is none.
    """
    record = meeting.day.record(number)
    if record is None or not isinstance(record.content, Weighed):
        raise HTTPException(404)
    return record  # type: ignore[return-value]


# -- what is taken -------------------------------------------------------------------------------------------


class DoubtfulReading(Exception):
    """Nothing was recorded: what was typed looks like a slip, and is asked about."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__()
        self.problems = problems


def _take(room: WeighInRoom, request: Request, form: FormData, by: str) -> Response:
    corrects = number_in(form, "corrects")
    act = _correct if corrects else _weigh
    try:
        entry = enter(room, form, by, lambda meeting: act(meeting, form, by))
    except DoubtfulReading as doubtful:
        return _ask(room, request, form, by, tuple(one.message for one in doubtful.problems))
    return RedirectResponse(f"/scales/verdict?entry={entry}", 303)


def _weigh(meeting: Meeting, form: FormData, by: str) -> None:
    desk = _desk_with(meeting, by, said(form, "car"), said(form, "occasion") or SCRUTINEERING)
    desk.seen = number_in(form, "seen")
    asked = {REASON: ("again", "fuel"), STATE: ("fuel",)}.get(desk.stage, ())
    if not all(said(form, name) for name in (*asked, *WHEELS)):
        raise InputError(_UNFINISHED)
    if desk.stage == REASON:
        _fill(desk, said(form, "again"))
    if desk.stage == STATE:
        desk.state.update({key: given for key in _STATE[1:] if (given := said(form, key))})
        _fill(desk, said(form, "fuel").lower().removesuffix("l").strip())
    for wheel in WHEELS:
        _fill(desk, said(form, wheel))
    if desk.stage == DOUBT and said(form, _RIGHT):
        desk.key(ENTER)
    if desk.stage == DOUBT:
        raise DoubtfulReading(desk.problems)
    if desk.stage != VERDICT:
        raise InputError(desk.problems or _UNFINISHED)
    desk.after_shown()


_UNFINISHED = (Problem("MT209", "a field is empty", None, hint="fill in the fuel and all four wheels"),)


def _correct(meeting: Meeting, form: FormData, by: str) -> None:
    number = number_in(form, "corrects")
    content = weighing_at(meeting, number).content
    loads = {wheel: said(form, wheel) for wheel in WHEELS}
    reason = said(form, "reason") or MISTYPED
    confirmed = SAID_TO_BE_RIGHT if said(form, _RIGHT) else ""
    reading = ScaleReading(
        content.car, loads, content.occasion, corrects=number, reason=reason, confirmed=confirmed
    )
    weigh_as_typed(meeting, reading, form, by)


def weigh_as_typed(meeting: Meeting, reading: ScaleReading, form: FormData, by: str) -> None:
    """Record a reading as it was typed.

    Raises:
        DoubtfulReading: It looks like a slip, and nobody has said that it is right.
    """
    slips = [one for one in settle(meeting, meeting.day, reading).warnings if one.code in SLIPS]
    if slips and not reading.confirmed:
        raise DoubtfulReading(tuple(slips))
    weigh(meeting, reading, by, seen=number_in(form, "seen"))


def _ask(room: WeighInRoom, request: Request, form: FormData, by: str, doubts: tuple[str, ...]) -> Response:
    """The same form once more, with what looks wrong."""
    corrects = number_in(form, "corrects")
    if corrects:
        view = room.office.ask(lambda meeting: _correction(meeting, corrects))
    else:
        car, at = said(form, "car"), said(form, "occasion") or SCRUTINEERING
        view = room.office.ask(lambda meeting: _form(meeting, by, car, at))
    view.loads = {wheel: said(form, wheel) for wheel in WHEELS}
    view.state = {key: said(form, key) or view.state.get(key, "") for key in _STATE}
    view.doubts, view.seen = doubts, number_in(form, "seen")
    return official_page(room, request, "scales", by, form=view, wheels=WHEELS, again=said(form, "again"))


# -- what it came to -----------------------------------------------------------------------------------------


def _verdict(room: WeighInRoom, request: Request, by: str) -> Response:
    number = whole(request.query_params.get("entry", ""))
    verdict = room.office.ask(lambda meeting: _told(meeting, by, number))
    ask = urlencode({key: verdict[key] for key in ("car", "occasion")})
    return official_page(room, request, "verdict", by, verdict=verdict, next_weighing=f"/scales?{ask}")


def _told(meeting: Meeting, by: str, number: int) -> dict[str, object]:
    """What a weighing came to; `gone_by`: the entry that stands in its place, if it no longer counts."""
    record = weighing_at(meeting, number)
    desk = ScalesDesk(meeting, by, record.content.occasion)
    desk.look_back(record)
    assert desk.car is not None
    sheet = Sheet()
    verdict_lines(desk, sheet)
    word = weight_word(desk)[0]
    look, shown = _LOOKS.get(word, ("fails", word))
    return {
        "car": desk.car.number,
        "name": desk.car.name,
        "occasion": record.content.occasion,
        "word": shown,
        "look": look,
        "told": sheet.blocks,
        "problems": [problem.message for problem in desk.problems],
        "entry": number,
        "more": desk.weighings < desk.due,
        "by_wheels": set(record.content.loads) == set(WHEELS),
        "gone_by": meeting.day.gone_by(number) or 0,
    }
