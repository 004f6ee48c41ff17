"""A car in every condition, as text that fits a screen."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data, fixed_text, one_more, shown
from checker.report.one_car.lacking import Lacking
from checker.report.page import BOLD, RED, YELLOW, Page
from checker.report.wording import car_words, listed, outcome_word, put_caution

_LAPS_SHOWN = 8


def conditions_text(document: Data, page: Page, *, every_corner: bool = False) -> None:
    """Print a car in every condition; with `every_corner`, each of them."""
    page.heading(f"{car_words(document)} in every condition")
    for change in document["what_if"]:
        page.labelled("what if", change, 11, 2, YELLOW)
    lacking = Lacking(_parts(document))
    lacking.put(page)
    if every_corner:
        _every_corner(document, page)
    else:
        _ranges(document, page, lacking)
    _clauses(document, page, lacking)
    _finishes(document, page, lacking)
    if document["race"] is not None:
        _race(document["race"], page, lacking)
        if page.draws:
            from checker.report.figures.race import race_figure

            page.draw(race_figure(document))
    _one_kg(document, page)
    put_caution(page)


def _parts(document: Data) -> Iterator[list[str]]:
    """What each part of the report is not shown for, the total's first."""
    for name in _RANGES:
        yield _lacked(document, name)
    yield from (outcome["not_shown"] for outcome in document["outcomes"])
    yield from (finish["not_shown"] for finish in document["finish"])
    yield from (starts["not_shown"] for starts in (document["race"] or {"starts": ()})["starts"])


def _lacked(document: Data, name: str) -> list[str]:
    return list(dict.fromkeys(says for corner in document["corners"] for says in corner["lacking"][name]))


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


_RANGES = ("total", "inside", "rear")


def _ranges(document: Data, page: Page, lacking: Lacking) -> None:
    """The least and the most of each quantity, with the state it is found in."""
    for name in _RANGES:
        found = [(_of(corner, name), corner["words"]) for corner in document["corners"]]
        known = [(amount, state) for amount, state in found if amount is not None]
        if len(known) < len(found):
            told = f"not known in every condition: {lacking.words(_lacked(document, name))}"
            page.labelled(name, told, 11, 2, YELLOW)
        if known:
            known.sort(key=lambda pair: Fraction(pair[0]["exact"]))
            (least, low), (most, high) = known[0], known[-1]
            page.labelled(name, f"{_outward(least, 'down')} ({low})", 11, 2)
            page.put(f"to {_outward(most, 'up')} ({high})", 11)


def _outward(end: Data, mode: str) -> str:
    """An end of a range, rounded so that the range holds it, as an inspection's readings are towards their limits."""
    places = len(end["value"].partition(".")[2])
    return shown({**end, "value": fixed_text(Fraction(end["exact"]), places, mode)})


def _of(corner: Data, name: str) -> Data | None:
    found: Data | None = corner["kg"][name] if name == "total" else corner["percentage"][name]
    return found


def _clauses(document: Data, page: Page, lacking: Lacking) -> None:
    """What the clauses say, where each turns, and what to do."""
    page.heading("Where the limits are", capitals=True)
    if not document["outcomes"]:
        page.put("No clause of this pack looks at weights in a range of conditions.", 2)
    for outcome in document["outcomes"]:
        lines = [line for line in document["legal_fuel"] if line["clause"] == outcome["clause"]]
        fails = outcome["outcome"] == FAIL
        style = RED if fails else YELLOW if outcome["outcome"] in (TOO_CLOSE, NOT_SHOWN) else ""
        word = {
            FAIL: "FAILS",
            TOO_CLOSE: "too close",
            NOT_SHOWN: outcome_word(NOT_SHOWN, document["for"]),
        }.get(outcome["outcome"], "met")
        advice = " (advice)" if outcome["severity"] == ADVISORY else ""
        page.row(f"{outcome['title']}{advice}", word, 2, 8, style, label=outcome["clause"])
        told = outcome["text"] or lacking.words(outcome["not_shown"])
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


def _finishes(document: Data, page: Page, lacking: Lacking) -> None:
    if not document["finish"]:
        return
    page.heading("Fuel to finish with, worn")
    for finish in document["finish"]:
        tyres = f"{finish['tyres']} tyres" if finish["tyres"] else "as weighed"
        words, style = _levels_words(finish, lacking)
        page.labelled(tyres, words, 15, 2, style)
        if finish["legal_fuel"] and finish["guarded_text"] != finish["text"]:
            page.put(f"{finish['guarded_text'] or 'no amount'} to be clear of measuring error", 15)


def _levels_words(found: Data, lacking: Lacking) -> tuple[str, str]:
    """Levels that are legal and the clauses that ask for them, or why there are none, with the colour of it."""
    clauses = found["clauses"]
    named = f"clause{'s' * (len(clauses) > 1)} {listed(clauses)}"
    if found["not_shown"]:
        return f"not known: {lacking.words(found['not_shown'])}", YELLOW
    if not found["legal_fuel"]:
        return f"no amount of fuel is enough: {named}", RED
    fail = f"{named} fail{'s' * (len(clauses) == 1)}"
    return (f"{found['text']}, or {fail}" if clauses else f"{found['text']}, the unusable rest"), ""


def _race(race: Data, page: Page, lacking: Lacking) -> None:
    page.heading(f"Over {race['laps']} laps at {_shown(race['fuel_per_lap'])} a lap")
    _start(race, page, lacking)
    if all(lap["driver_out"]["kg"]["total"] is None for lap in race["run"]):
        return
    rows = [("lap", "fuel", "total", "inside", "rear", "with driver", "")]
    for lap in _some(race["run"]):
        out, aboard = lap["driver_out"], lap["driver_aboard"]
        broken = f"fails {listed(lap['failing'])}" if lap["failing"] else ""
        rows.append(
            (
                str(lap["lap"]),
                shown(lap["fuel"]),
                *_corner_row(out)[1:],
                _shown(aboard["kg"]["total"]),
                broken,
            )
        )
    if not page.table(rows, 2):
        for number, fuel, total, inside, rear, _, broken in rows[1:]:
            words = f"lap {number}: {fuel}, total {total}, inside {inside}, rear {rear}"
            page.put(f"{words}{f': {broken}' if broken else ''}", 2, 4)


def _start(race: Data, page: Page, lacking: Lacking) -> None:
    for starts in race["starts"]:
        tyres = f" on {starts['tyres']} tyres" if starts["tyres"] else ""
        clauses = starts["clauses"]
        named = f"clause{'s' * (len(clauses) > 1)} {listed(clauses)} fail{'s' * (len(clauses) == 1)}"
        if starts["not_shown"]:
            page.put(f"With how much to start{tyres} is not known: {lacking.words(starts['not_shown'])}.", 2)
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
    unit, known = one_more(document["one_kg"])
    if not known:
        return
    page.heading(f"One {'pound' if unit == 'lb' else 'kilogram'} more, on the car as weighed")
    rows = [
        ("at", "inside", "rear"),
        *((e["place"], _shown(e["inside"], signed=True), _shown(e["rear"], signed=True)) for e in known),
    ]
    if not page.table(rows, 2):
        for place, inside, rear in rows[1:]:
            page.put(f"{place}: inside {inside}, rear {rear}", 2, 4)


def _shown(amount: Data | None, *, signed: bool = False) -> str:
    return shown(amount, signed=signed) or "not known"
