"""Two weighings of one car, held against each other: the document and the text."""

from __future__ import annotations

from fractions import Fraction

from checker.reading.printer import to_yaml
from checker.reading.values import Plain
from checker.report.amounts import PERCENT, Data, begun, estimate, exact_text, fixed_text, shown_mass
from checker.report.page import RED, YELLOW, Page
from checker.report.wording import car_words, put_caution, times_in
from checker.report.words.amounts import statement_words
from checker.report.words.findings import unknown_words
from checker.studies.one_car.weighing_comparison import WeighingComparison, WeightDifference


def comparison_document(found: WeighingComparison) -> Data:
    home, mass = found.home, shown_mass()
    return {
        **begun("weighing_comparison"),
        "car": {"number": home.number, "name": home.name or None, "sha256": home.sha256},
        "readings": {"sha256": found.club.readings_sha256},
        "gear": {
            which: car.weighing.instrument or None for which, car in (("home", home), ("club", found.club))
        },
        "corrected_by": [statement_words(change.words) for change in found.changes],
        "differences": [_difference_data(difference, found.confidence) for difference in found.differences],
        "not_shown": unknown_words(found.not_shown),
        "offsets": [
            {
                "pad": pad or None,
                "value": fixed_text(kg / mass.factor, 1),
                "exact": exact_text(kg / mass.factor),
                "unit": mass.name,
            }
            for pad, kg in found.offsets.items()
        ],
        "set_down_differently": found.set_down_differently,
        "unstated_gear": list(found.unstated_gear),
        "agrees": found.agrees,
    }


def _difference_data(found: WeightDifference, covers: Fraction) -> Data:
    unit = shown_mass() if found.name.startswith("weight.") else PERCENT
    factor = float(unit.factor)
    return {
        "name": found.name,
        **{
            key: {
                "value": fixed_text(value / unit.factor, 2),
                "exact": exact_text(value / unit.factor),
                "unit": unit.name,
            }
            for key, value in (("home", found.home), ("club", found.club), ("offset", found.offset))
        },
        "uncertainty": {
            "standard": estimate(float(found.variance) ** 0.5 / factor),
            "expanded": estimate(float(found.expanded) / factor),
            "k": estimate(float(found.factor)),
            "covers": estimate(float(covers)),
            "unit": unit.name,
        },
        "is_real": found.is_real,
    }


# -- text --------------------------------------------------------------------------------------------


def comparison_text(document: Data, page: Page) -> None:
    page.heading(f"{car_words(document)} weighed at home and at the club")
    gear = document["gear"]
    page.labelled("home", gear["home"] or "no instrument is stated", 11, 2)
    page.labelled("club", gear["club"] or "no instrument is stated", 11, 2)
    if document["corrected_by"]:
        page.labelled(
            "corrected",
            f"the club's weighing, to the condition at home: {'; '.join(document['corrected_by'])}",
            13,
            2,
        )
    for says in document["not_shown"]:
        page.labelled("not known", says, 13, 2, YELLOW)
    _table(document, page)
    _verdict(document, page)
    put_caution(page)


def _table(document: Data, page: Page) -> None:
    if not document["differences"]:
        return
    page.blank()
    judged = not document["unstated_gear"]
    rows = [("", "home", "club", "home shows", *(("give or take", "") if judged else ()))]
    rows += [_row(found, judged) for found in document["differences"]]
    if not page.table(rows, 2):
        for name, home, club, more, *known in rows[1:]:
            give = f", give or take {known[0]}" if known else ""
            page.put(f"{name}: home {home}, club {club}; {more}{give}", 2, 4)
    if judged:
        covers = document["differences"][0]["uncertainty"]["covers"]
        page.put(f"What is given or taken covers the difference {times_in(covers)}.", 2)
    if any(found["name"] == "weight.front_left" for found in document["differences"]):
        words = (
            "What one wheel carries also changes with how the car was set down: roll it off and on between."
        )
        page.put(words, 2)


def _row(found: Data, judged: bool) -> tuple[str, ...]:
    unit = found["home"]["unit"]
    step = "points" if unit == "%" else unit
    loads = (f"{found[key]['value']} {unit}" for key in ("home", "club"))
    row = (_named(found["name"]), *loads, _more(found["offset"]["value"], step))
    if not judged:
        return row
    return (*row, f"{found['uncertainty']['expanded']:.2f} {step}", "real" if found["is_real"] else "")


def _more(offset: str, unit: str) -> str:
    if not offset.strip("-0."):
        return "the same"
    return f"{offset.lstrip('-')} {unit} {'less' if offset.startswith('-') else 'more'}"


def _named(name: str) -> str:
    what, _, which = name.partition(".")
    return f"{which.replace('_', ' ')}{'' if what == 'weight' else ' part'}"


def _verdict(document: Data, page: Page) -> None:
    page.blank()
    if document["agrees"] is None:
        unstated = document["unstated_gear"]
        if not document["differences"]:
            page.put("The two weighings cannot be compared.", style=YELLOW)
        else:
            words = " and ".join(unstated)
            page.put(
                "Nobody can tell whether this means anything: how far what was weighed with at"
                f" {words} may be out is not stated.",
                style=YELLOW,
            )
            page.put(
                "Describe it under instruments with its permissible_error, and name it under weighing.instrument.",
                2,
            )
        return
    if document["agrees"] and document["unstated_gear"]:
        page.put("They agree: every figure is the same. Enter no offset at home.")
        return
    if document["agrees"]:
        some = document["not_shown"]
        who = "What can be compared agrees" if some else "They agree"
        rest = " The rest is not known to agree." if some else ""
        page.put(f"{who} within measuring error. Enter no offset at home.{rest}")
        return
    page.put("They differ by more than measuring error: what is marked real.", style=RED)
    if document["set_down_differently"]:
        page.put(
            "Axles and sides agree, and one diagonal carries what the other lacks: the car was set down differently."
            " No pad needs an offset. Roll it off and on again, and weigh once more.",
            2,
        )
        return
    if not document["offsets"]:
        page.put("The totals agree, so no one offset sets it right: level both floors and weigh again.", 2)
        return
    page.put(
        "To show at home what the club shows, enter this in the car's file, and set nothing on the pads:", 2
    )
    by_pad = {o["pad"]: f"{o['value']} {o['unit']}" for o in document["offsets"]}
    offset: Plain = by_pad.get(None, {**by_pad})
    for line in to_yaml({"instruments": {document["gear"]["home"]: {"offset": offset}}}).splitlines():
        page.drawn(f"    {line}")
    page.put("Which of the two is right, only a known weight on each pad can tell.", 2)
