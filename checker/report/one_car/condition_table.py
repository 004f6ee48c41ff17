"""A car in every condition: the document, and the text that fits a screen."""

from __future__ import annotations

from fractions import Fraction

from checker import __version__
from checker.car.weights.differences import LITRE
from checker.car.weights.geometry import MaybeFraction as Known
from checker.car.weights.weights import State
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE, LegalFuel
from checker.pack.model import ADVISORY, Clause
from checker.quantities.display import show
from checker.quantities.intervals import Intervals
from checker.quantities.kind import Unknown
from checker.quantities.rounding import round_to
from checker.quantities.units import Unit, parse_unit
from checker.report.amounts import Data, exact_text
from checker.report.one_car.document import pack_data
from checker.report.one_car.fuel import (
    amounts_words,
    crossings,
    least_data,
    legal_words,
    levels_data,
    missing_words,
)
from checker.report.page import BOLD, DIM, RED, YELLOW, Page
from checker.report.wording import CAUTION, car_words, listed
from checker.report.words.acts import act_words
from checker.report.words.findings import found_words
from checker.report.words.units import shown_in
from checker.studies.one_car.condition_table import ConditionTable, Corner, KilogramEffect
from checker.studies.one_car.finish import Finish
from checker.studies.one_car.race import Lap, Race, Starts

VERSION = 1

_KG, _PERCENT = parse_unit("kg", None), parse_unit("%", None)
_LAPS_SHOWN = 8


def conditions_document(table: ConditionTable, race: Race | None = None) -> Data:
    """The document of a car in every condition, with a race where one was asked for."""
    inspection = table.inspection
    return {
        "document": "conditions",
        "version": VERSION,
        "checker": __version__,
        "pack": pack_data(inspection.pack),
        "car": {
            "number": inspection.car.number,
            "name": inspection.car.name or None,
            "sha256": inspection.car.sha256,
        },
        "on": inspection.on.isoformat(),
        "for": inspection.audience,
        "what_if": list(inspection.what_if),
        "corners": [_corner_data(corner) for corner in table.corners],
        "outcomes": [
            {
                "clause": o.clause.number,
                "title": o.clause.title,
                "severity": o.clause.severity,
                "outcome": o.outcome,
                "text": found_words(o.assessment.finding),
                "state": o.assessment.state.words if o.assessment.state else None,
                "not_shown": list(o.assessment.unknown.says),
                "act": act_words(o.assessment.act),
            }
            for o in inspection.outcomes
            if o.clause.number in table.bearing
        ],
        "crossings": [data for clause, line in table.fuel for data in _crossings(clause, line)],
        "legal_fuel": [_line_data(clause, line) for clause, line in table.fuel],
        "finish": [_finish_data(finish) for finish in table.finishes],
        "one_kg": [_effect_data(effect) for effect in table.effects],
        "race": None if race is None else _race_data(race),
        "complies": table.complies,
    }


def _amount(value: Known, unit: Unit, digits: int | None = None, mode: str = "half_even") -> Data | None:
    """A known value as {value, exact, unit}; None for an unknown one.

    Args:
        digits: Decimals to show, all of them; None: as many as it has.
        mode: How it is rounded to them.
    """
    if isinstance(value, Unknown):
        return None
    unit = shown_in(unit) or unit
    if digits is None:
        text = show(value, unit).rpartition(" ")[0]
    else:
        steps = int(round_to(value / unit.factor * 10**digits, Fraction(1), mode))
        whole, part = divmod(abs(steps), 10**digits)
        text = f"{'-' if steps < 0 else ''}{whole}.{part:0{digits}}"
    return {"value": text, "exact": exact_text(value / unit.factor), "unit": unit.name}


def _state_data(state: State) -> Data:
    fuel = state.fuel if isinstance(state.fuel, Fraction) else None
    return {
        "words": state.words,
        "fuel": None if fuel is None else _amount(fuel, LITRE),
        "driver": state.driver,
        "tyres": state.tyres if isinstance(state.tyres, str) else None,
        "wear": None if state.wear is None else exact_text(state.wear),
    }


def _corner_data(corner: Corner) -> Data:
    unknown = [value for value in corner.kg.values() if isinstance(value, Unknown)]
    return {
        **_state_data(corner.state),
        "kg": {name: _amount(value, _KG, 2) for name, value in corner.kg.items()},
        "percentage": {name: _amount(value, _PERCENT, 2) for name, value in corner.shares.items()},
        "not_shown": list(dict.fromkeys(says for value in unknown for says in value.says)),
    }


def _crossings(clause: Clause, line: LegalFuel) -> list[Data]:
    """The levels at which a clause stops holding for good, all else as in the line's state."""
    said = {"clause": clause.number, "title": clause.title}
    return [
        {**said, **turn, "state": _state_data(line.state), "text": _fails_words(line)}
        for turn in crossings(line)
    ]


def _line_data(clause: Clause, line: LegalFuel) -> Data:
    return {
        "clause": clause.number,
        "state": _state_data(line.state),
        "levels": levels_data(line.holds),
        "fails": levels_data(line.fails),
        "not_shown": list(line.unknown.says),
        "text": _fails_words(line),
    }


def _fails_words(line: LegalFuel) -> str:
    if not line.fails or line.asked is None:
        return ""
    return f"fails with {amounts_words(line.fails, line.asked)} on board, {line.state.words}"


def _finish_data(finish: Finish) -> Data:
    most = finish.asked.high if finish.asked else None
    return {
        "tyres": finish.tyres,
        "fuel": _least(finish.legal),
        "clause": finish.clauses[0].number if finish.clauses else None,
        "clauses": [clause.number for clause in finish.clauses],
        "legal_fuel": None if finish.legal is None else levels_data(finish.legal),
        "text": None if not finish.legal else legal_words(finish.legal, most),
        "guarded_fuel": _least(finish.guarded),
        "guarded": None if finish.guarded is None else levels_data(finish.guarded),
        "guarded_text": None if not finish.guarded else legal_words(finish.guarded, most),
        "not_shown": list(finish.unknown.says),
    }


def _least(levels: Intervals | None) -> Data | None:
    """The least of the levels, rounded up, and above an end that is not legal itself."""
    return None if not levels else least_data(levels[0])


def _effect_data(effect: KilogramEffect) -> Data:
    return {
        "place": effect.place,
        "inside": _amount(effect.inside, _PERCENT, 3),
        "rear": _amount(effect.rear, _PERCENT, 3),
    }


def _race_data(race: Race) -> Data:
    return {
        "tyres": race.tyres,
        "laps": race.plan.laps,
        "fuel_per_lap": _amount(race.plan.fuel_per_lap_mm3, LITRE),
        "start": _amount(race.start_mm3, LITRE, 2),
        "least_start": _least(race.fitted.legal),
        "over_capacity": race.over_capacity,
        "clause": race.fitted.clauses[0].number if race.fitted.clauses else None,
        "starts": [_starts_data(one) for one in race.starts],
        "legal": race.legal,
        "dry_after": race.dry_after,
        "run": [_lap_data(lap) for lap in race.laps],
    }


def _starts_data(starts: Starts) -> Data:
    return {
        "tyres": starts.tyres,
        "legal_fuel": None if starts.legal is None else levels_data(starts.legal),
        "text": None if not starts.legal else legal_words(starts.legal, starts.most_mm3),
        "clauses": [clause.number for clause in starts.clauses],
        "not_shown": list(starts.unknown.says),
    }


def _lap_data(lap: Lap) -> Data:
    return {
        "lap": lap.number,
        "fuel": _amount(lap.fuel_mm3, LITRE, 2),
        "driver_out": _corner_data(lap.out),
        "driver_aboard": _corner_data(lap.aboard),
        "failing": list(lap.failing),
    }


# -- text --------------------------------------------------------------------------------------------


def conditions_text(document: Data, page: Page, *, every_corner: bool = False) -> None:
    """Print a car in every condition; with `every_corner`, each of them."""
    page.heading(f"{car_words(document)} in every condition")
    for change in document["what_if"]:
        page.labelled("what if", change, 11, 2, YELLOW)
    if every_corner:
        _every_corner(document, page)
    else:
        _ranges(document, page)
    _clauses(document, page)
    _finishes(document, page)
    if document["race"] is not None:
        _race(document["race"], page)
    _one_kg(document, page)
    page.blank()
    page.put(CAUTION, style=DIM)


def _every_corner(document: Data, page: Page) -> None:
    rows = [("state", "total", "inside", "rear"), *(_corner_row(corner) for corner in document["corners"])]
    if page.table(rows, 2):
        return
    for words, total, inside, rear in rows[1:]:
        page.put(words, 2)
        page.put(f"total {total}, inside {inside}, rear {rear}", 4)


def _corner_row(corner: Data) -> tuple[str, str, str, str]:
    shares = corner["percentage"]
    return corner["words"], _shown(corner["kg"]["total"]), _shown(shares["inside"]), _shown(shares["rear"])


def _shown(amount: Data | None) -> str:
    return "not shown" if amount is None else f"{amount['value']} {amount['unit']}"


def _ranges(document: Data, page: Page) -> None:
    """The least and the most of each quantity, with the state it is found in."""
    for name, words in (("total", "total"), ("inside", "inside"), ("rear", "rear")):
        found = [(_of(corner, name), corner["words"]) for corner in document["corners"]]
        known = [(amount, state) for amount, state in found if amount is not None]
        if len(known) < len(found):
            lacking = dict.fromkeys(says for corner in document["corners"] for says in corner["not_shown"])
            told = f"not shown in every condition: {missing_words(list(lacking))}"
            page.labelled(words, told, 11, 2, YELLOW)
        if known:
            known.sort(key=lambda pair: Fraction(pair[0]["exact"]))
            (least, low), (most, high) = known[0], known[-1]
            page.labelled(words, f"{_shown(least)} ({low})", 11, 2)
            page.put(f"to {_shown(most)} ({high})", 11)


def _of(corner: Data, name: str) -> Data | None:
    found: Data | None = corner["kg"][name] if name == "total" else corner["percentage"][name]
    return found


def _clauses(document: Data, page: Page) -> None:
    """What the clauses say, where each turns, and what to do."""
    page.heading("Where the limits are", capitals=True)
    if not document["outcomes"]:
        page.put("No clause of this pack looks at weights in a range of conditions.", 2)
    for outcome in document["outcomes"]:
        lines = [line for line in document["legal_fuel"] if line["clause"] == outcome["clause"]]
        fails = outcome["outcome"] == FAIL
        style = RED if fails else YELLOW if outcome["outcome"] in (TOO_CLOSE, NOT_SHOWN) else ""
        word = {FAIL: "FAILS", TOO_CLOSE: "too close", NOT_SHOWN: "not shown"}.get(outcome["outcome"], "met")
        advice = " (advice)" if outcome["severity"] == ADVISORY else ""
        page.row(f"{outcome['title']}{advice}", word, 2, 8, style, label=outcome["clause"])
        told = outcome["text"] or missing_words(outcome["not_shown"])
        if told:
            page.put(", ".join(filter(None, (told, None if outcome["not_shown"] else outcome["state"]))), 8)
        for words in _lines_words(lines):
            page.put(words, 8)
        if outcome["act"]:
            page.put(f"do: {outcome['act']}", 8, 12)


def _lines_words(lines: list[Data]) -> list[str]:
    """With how much fuel a clause fails, in every state in which it does; once where it does with any."""
    words = [line["text"] for line in lines if line["text"]]
    always = "fails with any amount of fuel on board"
    if lines and len(words) == len(lines) and all(text.startswith(always) for text in words):
        return [f"{always}, whatever the driver, tyres and wear"] if len(lines) > 1 else words
    return words


def _finishes(document: Data, page: Page) -> None:
    if not document["finish"]:
        return
    page.heading("Fuel to finish with, worn")
    for finish in document["finish"]:
        tyres = f"{finish['tyres']} tyres" if finish["tyres"] else "as weighed"
        words, style = _levels_words(finish)
        page.labelled(tyres, words, 15, 2, style)
        if finish["legal_fuel"] and finish["guarded_text"] != finish["text"]:
            page.put(f"{finish['guarded_text'] or 'no amount'} to be clear of what the gear resolves", 15)


def _levels_words(found: Data) -> tuple[str, str]:
    """Levels that are legal and the clauses that ask for them, or why there are none, with the colour of it."""
    clauses = found["clauses"]
    named = f"clause{'s' * (len(clauses) > 1)} {listed(clauses)}"
    if found["not_shown"]:
        return f"not shown: {missing_words(found['not_shown'])}", YELLOW
    if not found["legal_fuel"]:
        return f"no amount of fuel is enough: {named}", RED
    fail = f"{named} fail{'s' * (len(clauses) == 1)}"
    return (f"{found['text']}, or {fail}" if clauses else f"{found['text']}, the unusable rest"), ""


def _race(race: Data, page: Page) -> None:
    page.heading(f"Over {race['laps']} laps at {_shown(race['fuel_per_lap'])} a lap")
    _start(race, page)
    if all(lap["driver_out"]["kg"]["total"] is None for lap in race["run"]):
        return
    rows = [("lap", "fuel", "total", "inside", "rear", "with driver", "")]
    for lap in _some(race["run"]):
        out, aboard = lap["driver_out"], lap["driver_aboard"]
        broken = f"fails {listed(lap['failing'])}" if lap["failing"] else ""
        rows.append(
            (
                str(lap["lap"]),
                _shown(lap["fuel"]),
                *_corner_row(out)[1:],
                _shown(aboard["kg"]["total"]),
                broken,
            )
        )
    if not page.table(rows, 2):
        for number, fuel, total, inside, rear, _, broken in rows[1:]:
            words = f"lap {number}: {fuel}, total {total}, inside {inside}, rear {rear}"
            page.put(f"{words}{f': {broken}' if broken else ''}", 2, 4)


def _start(race: Data, page: Page) -> None:
    for starts in race["starts"]:
        tyres = f" on {starts['tyres']} tyres" if starts["tyres"] else ""
        clauses = starts["clauses"]
        named = f"clause{'s' * (len(clauses) > 1)} {listed(clauses)} fail{'s' * (len(clauses) == 1)}"
        if starts["not_shown"]:
            page.put(f"With how much to start{tyres} is not shown: {missing_words(starts['not_shown'])}.", 2)
        elif not starts["legal_fuel"]:
            page.put(f"However much is carried at the start, {named} on the way{tyres}.", 2, style=RED)
        else:
            why = f", or {named} on the way" if clauses else ""
            least = "" if " to " in starts["text"] else "at least "
            style = BOLD if starts["tyres"] == race["tyres"] else ""
            page.put(f"Start with {least}{starts['text']}{tyres}{why}.", 2, style=style)
    if race["over_capacity"]:
        page.put(f"The run below starts with {_shown(race['start'])}.", 2, style=YELLOW)
    elif race["legal"] is False:
        page.put(
            f"The run below, with {_shown(race['start'])} at the start, is not legal all the way.",
            2,
            style=RED,
        )
    if race["dry_after"] is not None:
        page.put(f"The fuel gives out on lap {race['dry_after']}.", 2, style=RED)


def _some(run: list[Data]) -> list[Data]:
    """The start, the flag, what lies evenly between, and the first lap on which the failing clauses change."""
    kept = {round(n * (len(run) - 1) / (_LAPS_SHOWN - 1)) for n in range(_LAPS_SHOWN)}
    kept |= {n for n in range(1, len(run)) if run[n]["failing"] != run[n - 1]["failing"]}
    return [run[n] for n in sorted(kept)]


def _one_kg(document: Data, page: Page) -> None:
    known = [e for e in document["one_kg"] if e["inside"] is not None or e["rear"] is not None]
    if not known:
        return
    page.heading("One kilogram more, on the car as weighed")
    rows = [
        ("at", "inside", "rear"),
        *((e["place"], _signed(e["inside"]), _signed(e["rear"])) for e in known),
    ]
    if not page.table(rows, 2):
        for place, inside, rear in rows[1:]:
            page.put(f"{place}: inside {inside}, rear {rear}", 2, 4)


def _signed(amount: Data | None) -> str:
    if amount is None:
        return "not shown"
    return f"{'+' if Fraction(amount['exact']) > 0 else ''}{_shown(amount)}"
