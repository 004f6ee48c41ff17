"""The screen at the scales: the wheels in figures to be read at arm's length, then the verdict on the weights, in
kilograms, apart from what is still to be seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.meeting.desk.conversation import CAR
from checker.meeting.desk.scales import DOUBT, LOADS, REASON, STATE, ScalesDesk
from checker.meeting.session.dependence import on_weights
from checker.pack.model import ADVISORY
from checker.quantities.display import decimal_text
from checker.quantities.kind import Unknown
from checker.report.amounts import PERCENT, Data, beside_limits, shown, shown_mass
from checker.report.desk.figures import large
from checker.report.desk.wheels import wheels_drawn, with_cursor
from checker.report.one_car.columns import put_doubt
from checker.report.one_car.condition_table import limit_data
from checker.report.one_car.document import inspection_document
from checker.report.page import BOLD, GREEN, RED, YELLOW, Page
from checker.studies.one_car.load_limits import limits_of

FINE, UNDECIDED = "WEIGHT OK", "WEIGHT UNDECIDED"
_PLACES = 2
"""Decimals of what the scales show: finer is nothing that a race meeting can use."""
_NAMED = 4
"""So many clauses that fail, or are still to be seen, are named."""


def scales_screen(desk: ScalesDesk, page: Page) -> str:
    """Draw it; what the keys do."""
    if desk.stage in (CAR, REASON, STATE):
        return _question(desk, page)
    if desk.stage in (LOADS, DOUBT):
        return _loads(desk, page)
    return _verdict(desk, page)


def _question(desk: ScalesDesk, page: Page) -> str:
    if desk.stage == REASON:
        if desk.is_doubted:
            page.put(
                "The scales failed a check after this car was weighed: it may be weighed again.", style=YELLOW
            )
        page.put(f"Weighed {desk.weighings} of {desk.due} times already. Why again?")
        if incidents := desk.meeting.procedure.incidents:
            page.put(f"Whatever came out, it may be after: {', '.join(incidents)}")
        page.drawn(f"> {desk.typed}_")
        return "Enter: weigh again   Backspace: another car   Esc: leave"
    page.put("Which car?" if desk.stage == CAR else "Fuel on board, in litres?")
    shown = desk.typed.upper().replace(",", ".")
    for line in large(f"{shown}_", page.width - 2):
        page.drawn(f"  {line}")
    if desk.stage == CAR:
        return "Enter: take the car   Esc: leave"
    if desk.state["fuel"] and not desk.typed:
        page.put(f"Enter alone: {desk.state['fuel']}, as cars are presented")
    page.blank()
    page.put(f"Taken: {_state(desk, fuel=False)}", style=BOLD)
    return "D: driver   T: tyres   W: wear   Enter: on to the wheels   Backspace: another car   Esc: leave"


def _state(desk: ScalesDesk, *, fuel: bool = True) -> str:
    state = desk.state
    told = [state["fuel"]] if fuel else []
    tyres = f"{state['tyres']} tyres" if state["tyres"] else "tyres not said"
    return ", ".join([*told, f"driver {state['driver'] or 'not said'}", tyres, state["wear"]])


def _loads(desk: ScalesDesk, page: Page) -> str:
    if desk.is_correcting:
        page.put(f"Correcting entry {desk.settled.number if desk.settled else ''}", style=YELLOW)
    else:
        at = min(desk.weighings + 1, desk.due)
        page.put(f"Weighing {at} of {desk.due}, pads {desk.pads_stand}, in kg")
        page.put(_state(desk))
    wheels_drawn(
        page,
        with_cursor(desk.loads, desk.wheel, desk.typed) if desk.stage == LOADS else desk.loads,
        desk.wheel if desk.stage == LOADS else "",
        "under the",
    )
    if desk.stage == DOUBT:
        return "Right car, all digits typed? Enter: store it as read   Backspace: back to the wheels   Esc: leave"
    stored = "Enter: store the correction" if desk.is_correcting else "Enter: next wheel"
    return f"{stored}   Backspace: digit, wheel or fuel back   arrows: another wheel   Esc: leave"


def _verdict(desk: ScalesDesk, page: Page) -> str:
    word, colour = weight_word(desk)
    for line in large(word, page.width - 2):
        page.drawn(f"  {line}", colour)
    page.blank()
    verdict_lines(desk, page)
    more = "next weighing" if desk.weighings < desk.due else "next car"
    return f"Enter: {more}   Backspace: correct a wheel   Esc: leave"


def weight_word(desk: ScalesDesk) -> tuple[str, str]:
    """What the weights come to, in a word, and its colour."""
    judgement = desk.judgement
    assert judgement is not None
    weights = on_weights(judgement.inspection.pack)
    counted = _counted(inspection_document(judgement.inspection))
    return _word([one for one in counted if one["clause"] in weights])


def _counted(document: Data) -> list[Data]:
    return [one for one in document["outcomes"] if one["severity"] != ADVISORY]


def verdict_lines(desk: ScalesDesk, page: Page) -> None:
    """What stands below that word: what was measured, what fails and by how much, what is still to be seen."""
    judgement, settled = desk.judgement, desk.settled
    assert judgement is not None
    assert settled is not None
    document = inspection_document(judgement.inspection)
    weights = on_weights(judgement.inspection.pack)
    counted = _counted(document)
    page.put(_measured(desk), style=BOLD)
    failed = [one for one in counted if one["outcome"] == FAIL]
    for place, one in enumerate(failed[:_NAMED]):
        _failed(one, page, with_act=place == 0)
    if len(failed) > _NAMED:
        page.put(f"and {len(failed) - _NAMED} more fail", style=RED)
    if weight_word(desk)[0] == FINE:
        _tightest(document, weights, page)
    waiting = [one for one in counted if one["outcome"] in (TOO_CLOSE, NOT_SHOWN)]
    close = [f"{one['clause']} {one['title']}" for one in waiting if one["clause"] in weights]
    others = [f"{one['clause']} {one['title']}" for one in waiting if one["clause"] not in weights]
    if close:
        page.put(f"undecided on weight: {', '.join(close)}", 0, 2, YELLOW)
    if others:
        page.put(
            f"still to see: {', '.join(others[:4])}{f' and {len(others) - 4} more' if len(others) > 4 else ''}",
            0,
            2,
        )
    page.put(f"Entry {settled.number}, on disk. Weighing {desk.weighings} of {desk.due}.")


def _word(outcomes: list[Data]) -> tuple[str, str]:
    found = {one["outcome"] for one in outcomes}
    if FAIL in found:
        return "WEIGHT FAILS", RED
    return (UNDECIDED, YELLOW) if found & {TOO_CLOSE, NOT_SHOWN} else (FINE, GREEN)


def _measured(desk: ScalesDesk) -> str:
    """What the car weighs as it stands, the mean of its weighings: "On the scales: total 595 kg, inside 51.5 %"."""
    assert desk.judgement is not None
    inspection = desk.judgement.inspection
    weights, limits = inspection.car.weights(), [limit_data(one) for one in limits_of(inspection)]
    told = [("total", weights.weight("total"), shown_mass())]
    told += [(name, weights.percentage(name), PERCENT) for name in ("inside", "rear")]
    words = [
        f"{name} {_beside(value / unit.factor, [one for one in limits if one['of'] == name])} {unit.name}"
        for name, value, unit in told
        if not isinstance(value, Unknown)
    ]
    return f"On the scales: {', '.join(words)}"


def _beside(reading: Fraction, limits: Sequence[Data]) -> str:
    told = decimal_text(reading, _PLACES)
    return told if Fraction(told) == reading else beside_limits(reading, _PLACES, limits)


def _tightest(document: Data, weights: frozenset[str], page: Page) -> None:
    """The weight clause with the least in hand, and the state in which that is."""
    by_number = {one["clause"]: one for one in document["outcomes"]}
    met = (by_number[n] for n in document["most_pressing"] if n in weights)
    one = next((o for o in met if o["outcome"] == PASS and o["margin"]), None)
    if one is not None:
        page.row(f"{one['clause']} {one['title']}, least in hand", shown(one["margin"], signed=True), hang=4)
        put_doubt(one, page, 4)
        if one["condition"]:
            page.put(one["condition"]["state"], 4)


def _failed(one: Data, page: Page, *, with_act: bool) -> None:
    margin = shown(one["margin"], signed=True) if one["margin"] else ""
    page.row(f"{one['clause']} {one['title']}", margin, hang=4, style=RED)
    if with_act and one["act"]:
        page.put(one["act"], 4)
