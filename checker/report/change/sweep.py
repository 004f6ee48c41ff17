"""How many cars fail at each value of a number: the document, and the curve drawn for a terminal."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from math import ceil

from checker.kinds.judging.assessment import FAIL, OUTCOMES
from checker.pack.model import Pack
from checker.quantities.display import decimal_text
from checker.quantities.kind import DATE
from checker.report.amounts import Data, begun, exact_text, position_of
from checker.report.one_car.identity import pack_data
from checker.report.page import BOLD, RED, Page
from checker.report.wording import put_caution, rules_words
from checker.report.words.units import shown_in
from checker.studies.fleet.sweep import RESOLUTION, Curve, Point
from checker.studies.fleet.swept_number import Number

MOST_STEPS = 24
"""The most steps that the text lists; with more it tells the counts at round values."""

HEIGHT = 10
"""Lines of the drawing."""


def sweep_document(
    pack: Pack,
    number: Number,
    low: Fraction,
    high: Fraction,
    curve: Curve,
    *,
    audience: str | None,
    on: str,
) -> Data:
    """The document of a sweep.

    Args:
        low, high: The ends, in base units; days as ordinals.
        audience: For whom gear was counted; None where values were taken as exact.
        on: The day that every car was judged for.
    """
    return {
        **begun("sweep"),
        "pack": pack_data(pack),
        "for": audience,
        "on": on,
        "clause": number.clause,
        "title": pack.clauses[number.clause].title,
        "path": number.written_path,
        "sense": number.sense or None,
        "unit": unit.name if (unit := shown_in(number.unit)) is not None else None,
        "is_now": _value(number, number.value),
        "from": _value(number, low),
        "to": _value(number, high),
        "cars": sum(curve.first.values()),
        "resolution": None
        if audience is None and all(point.exact for point in curve.points)
        else decimal_text(RESOLUTION * number.step / _step(number)),
        "first": _counts(curve.first),
        "steps": [_step_data(number, point) for point in curve.points],
        "round": [
            {**_value(number, value), "failing": curve.failing(value)}
            for value in round_values(number, low, high)
        ],
    }


def _value(number: Number, value: Fraction) -> Data:
    if number.kind == DATE:
        return {"value": number.show(value), "exact": None}
    unit = shown_in(number.unit)
    amount = (value - (unit.zero if unit is not None else 0)) / _step(number)
    return {"value": decimal_text(amount), "exact": exact_text(amount)}


def _counts(counts: Counter[str]) -> dict[str, int]:
    return {outcome: counts[outcome] for outcome in OUTCOMES}


def _step(number: Number) -> Fraction:
    """One in the unit shown, in base units; one day."""
    unit = shown_in(number.unit)
    return number.step if unit is None else unit.factor


def _step_data(number: Number, point: Point) -> Data:
    return {
        **_value(number, point.value),
        "is_exact": point.exact,
        "failing": {"below": point.below[FAIL], "at": point.at[FAIL], "above": point.above[FAIL]},
        "below": _counts(point.below),
        "at": _counts(point.at),
        "above": _counts(point.above),
        "cars": [
            {
                "number": car.number,
                "name": car.name or None,
                "place": car.place,
                "below": t.below,
                "at": t.at,
                "above": t.above,
            }
            for car, t in point.cars
        ],
    }


def round_values(number: Number, low: Fraction, high: Fraction, most: int = 20) -> list[Fraction]:
    """Round values from low to high, at most so many: steps of 1, 2 or 5 times a power of ten in the unit written."""
    unit = _step(number)
    step = unit * Fraction(1, 10**6) if number.kind != DATE else Fraction(1)
    factors = (2, Fraction(5, 2), 2)
    place = 0
    while (high - low) / step > most - 1:
        step *= factors[place % 3]
        place += 1
    first = ceil(low / step) * step
    if number.kind == DATE:
        return [Fraction(int(low + at * step)) for at in range(int((high - low) / step) + 1)]
    return [first + at * step for at in range(int((high - first) / step) + 1)]


def sweep_text(document: Data, page: Page, *, every_step: bool = False) -> None:
    unit = f" {document['unit']}" if document["unit"] else ""
    page.heading(f"How many cars fail as clause {document['clause']} is varied")
    column = 9
    page.labelled("rules", rules_words(document), column, 2)
    page.labelled("clause", f"{document['clause']} {document['title']}", column, 2)
    page.labelled("varied", f"{document['path']}, now {document['is_now']['value']}{unit}", column, 2)
    page.labelled("judged", _judged_words(document), column, 2)
    page.blank()
    if page.draws:
        from checker.report.figures.sweep import sweep_figure

        page.draw(sweep_figure(document))
    else:
        _draw(document, page)
    steps = document["steps"]
    if not steps:
        page.blank()
        page.put(f"No car's outcome changes: {document['first'][FAIL]} fail at every value.", 2)
    elif len(steps) <= MOST_STEPS or every_step:
        _steps(document, page)
    else:
        _round(document, page)
    if document["resolution"] is not None:
        page.blank()
        told = f"{document['resolution']}{unit}"
        page.put(f"Values marked ~ are closed in on to {told}; all others are exact.", 2)
    put_caution(page)


def _judged_words(document: Data) -> str:
    cars = f"{document['cars']} car{'' if document['cars'] == 1 else 's'}"
    day = f" for {document['on']}"
    if document["for"] is None:
        return f"{cars}{day}, every value taken as exact"
    return f"{cars}{day}, for an {document['for']}, measuring error counted"


def _steps(document: Data, page: Page) -> None:
    page.blank()
    page.put("Where the number changes, and whose outcome does:", 2)
    unit = f" {document['unit']}" if document["unit"] else ""
    for step in document["steps"]:
        mark = "" if step["is_exact"] else "~ "
        failing = step["failing"]
        words = f"{mark}{_short(step)}{unit}: {_failing_words(failing)}"
        cars = ", ".join(" ".join(filter(None, (car["number"], car["name"]))) for car in step["cars"][:6])
        more = f" and {len(step['cars']) - 6} more" if len(step["cars"]) > 6 else ""
        page.put(f"{words} (car{'s' if len(step['cars']) > 1 else ''} {cars}{more})", 2, 6)


def _failing_words(failing: Data) -> str:
    below, at, above = failing["below"], failing["at"], failing["above"]
    if below == at == above:
        return f"{at} fail below, at and above"
    if at == above:
        return f"{below} fail below, {at} from it on"
    if at == below:
        return f"{at} fail up to it, {above} above"
    return f"{below} fail below, {at} at it, {above} above"


def _short(step: Data) -> str:
    """A value to six decimals; the exact one stands in the JSON."""
    if step["exact"] is None:
        return str(step["value"])
    exact = Fraction(step["exact"])
    text = f"{float(exact):.6f}".rstrip("0").rstrip(".")
    return text if Fraction(text) == exact else f"{float(exact):.6f}..."


def _round(document: Data, page: Page) -> None:
    page.blank()
    unit = f" {document['unit']}" if document["unit"] else ""
    page.put(f"At round values ({len(document['steps'])} steps; --steps lists each with its cars):", 2)
    before = None
    for value in document["round"]:
        fewer = "" if before is None or before == value["failing"] else f" ({value['failing'] - before:+d})"
        before = value["failing"]
        page.put(f"{value['value']}{unit}: {value['failing']} fail{fewer}", 4)


# --- the drawing --------------------------------------------------------------------------------------------


def _draw(document: Data, page: Page) -> None:
    """The step curve: columns from the lowest value to the highest, each as high as the most cars failing in it."""
    ends = [position_of(document[key]) for key in ("from", "to")]
    counts = _per_column(document, ends, page)
    most = max(counts)
    if most == 0:
        return
    label = len(str(most))
    page.put("cars that fail", 2, style=BOLD)
    for line in range(HEIGHT, 0, -1):
        mark = str(most) if line == HEIGHT else ""
        bars = "".join("#" if count * HEIGHT > most * (line - 1) else " " for count in counts)
        page.drawn(f"  {mark:>{label}} |{bars}")
    page.drawn(f"  {'0':>{label}} +" + "-" * len(counts))
    _axis(document, ends, len(counts), label, page)


def _per_column(document: Data, ends: list[Fraction], page: Page) -> list[int]:
    columns = page.width - 4 - len(str(document["cars"])) - 2
    low, high = ends
    counts: list[int] = []
    steps = [(position_of(step), step["failing"]) for step in document["steps"]]
    running, place = document["first"][FAIL], 0
    for column in range(columns):
        right = low + (high - low) * (column + 1) / columns
        here = running
        while place < len(steps) and (steps[place][0] < right or column == columns - 1):
            here = max(here, steps[place][1]["at"], steps[place][1]["above"])
            running = steps[place][1]["above"]
            place += 1
        counts.append(here)
    return counts


def _axis(document: Data, ends: list[Fraction], columns: int, label: int, page: Page) -> None:
    """The ends, and where the number stands today."""
    indent = " " * (label + 4)
    now, (low, high) = position_of(document["is_now"]), ends
    unit = f" {document['unit']}" if document["unit"] else ""
    if low <= now <= high:
        at = min(columns - 1, int((now - low) / (high - low) * columns))
        words = f"^ now {document['is_now']['value']}{unit}"
        if at + len(words) > columns:
            words = f"now {document['is_now']['value']}{unit} ^"
            at = max(0, at - len(words) + 1)
        page.drawn(indent + " " * at + words, RED)
    first, last = document["from"]["value"], f"{document['to']['value']}{unit}"
    page.drawn(indent + first + last.rjust(columns - len(first)))
