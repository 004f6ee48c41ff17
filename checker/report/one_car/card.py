"""A car's pit card: what its crew has to know at a glance, on a sheet that fits a pocket.

Fuel, ballast, the margins that are small, what runs out soon, and what has to be weighed again after which change.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from checker.meeting.session.dependence import on_weights
from checker.pack.model import ADVISORY, Pack
from checker.report.amounts import Data, shown
from checker.report.one_car.columns import HEADS, Columns, in_a_table, put_doubt
from checker.report.page import BOLD, DIM, YELLOW, Page
from checker.report.wording import car_words, listed, put_caution, result_colour, rules_words, verdict_words
from checker.studies.one_car.running_out import RunningOut

CLOSE = Fraction(1, 100)
"""A margin is small below this share of its limit."""
SOON_DAYS = 90
_DIAGONAL = ("cross", "front_left", "front_right", "rear_left", "rear_right", "wedge")


def card_text(
    document: Data,
    fuel: Mapping[str, Sequence[Data]],
    ahead: RunningOut,
    again: Sequence[tuple[str, Sequence[str]]],
    page: Page,
) -> None:
    """Print a pit card.

    Args:
        document: Of the inspection, with where the car carries its weight.
        fuel: Legal levels for each set of tyres, by what they are for: `finish_data` of each.
        ahead: What runs out within `SOON_DAYS`.
        again: As `weigh_again` tells it.
    """
    page.on_paper("a5")
    page.heading(car_words(document), result_colour(document), figure=verdict_words(document))
    page.put(f"{rules_words(document)}, for {document['on']}", style=DIM)
    for when, levels in fuel.items():
        _fuel(when, levels, page)
    _ballast(document, page)
    _margins(document, page)
    _lapses(ahead, page)
    page.heading("Weigh again after")
    for change, clauses in again:
        words = f"clause{'s' * (len(clauses) > 1)} {listed(clauses)}" if clauses else "no clause asks"
        page.row(change, words, 2, 4)
    put_caution(page)


def _fuel(when: str, levels: Sequence[Data], page: Page) -> None:
    page.heading(when)
    for finish in levels:
        tyres = f"{finish['tyres']} tyres" if finish["tyres"] else "as weighed"
        if finish["not_shown"] or not finish["legal_fuel"]:
            lacking = (
                f"not known: {'; '.join(finish['not_shown'])}"
                if finish["not_shown"]
                else "no amount is legal"
            )
            page.row(tyres, lacking, 2, 4, YELLOW)
            continue
        most = finish["most_text"]
        clauses = (
            f" (clause{'s' * (len(finish['clauses']) > 1)} {listed(finish['clauses'])})"
            if finish["clauses"]
            else ""
        )
        page.row(f"{tyres}{clauses}", f"least {shown(finish['fuel'])}, most {most}", 2, 4, BOLD)
        clear = finish["guarded_text"]
        if clear != finish["text"]:
            page.put(f"{clear or 'no amount'} to be clear of measuring error", 4)
    if not levels:
        page.put("No clause of this pack looks at a range of fuel.", 2)


def _ballast(document: Data, page: Page) -> None:
    page.heading("Ballast fitted")
    layout = document["layout"]
    pieces = [one for one in layout["pieces"] if one["kind"] == "ballast"] if layout is not None else []
    for piece in pieces:
        page.row(f"{piece['label']}, {_where(piece)}", shown(piece["mass"]), 2, 4)
    if layout is None:
        page.put("Where it lies is not known: the wheelbase or a track is not stated.", 2, style=YELLOW)
    elif not pieces:
        page.put("None is declared.", 2)


def _where(piece: Data) -> str:
    along, across = piece["behind_front_axle"], piece["left_of_centre"]
    ahead, right = (one["exact"].startswith("-") for one in (along, across))
    far, aside = (shown({**one, "value": one["value"].lstrip("-")}) for one in (along, across))
    side = f"{aside} {'right' if right else 'left'} of the centre line"
    if Fraction(across["exact"]) == 0:
        side = "on the centre line"
    return f"{far} {'ahead of' if ahead else 'behind'} the front axle, {side}"


def _margins(document: Data, page: Page) -> None:
    page.heading("Less than 1 % in hand")
    by_number = {one["clause"]: one for one in document["outcomes"]}
    small = [one for number in document["most_pressing"] if _is_small(one := by_number[number])]
    if not small:
        page.put("No clause.", 2)
    elif page.draws:
        page.table([("clause", *HEADS), *map(in_a_table, small)])
    else:
        columns, column = Columns(small), max(len(o["clause"]) for o in small) + 4
        for one in small:
            page.row(one["title"], columns.figures(one, page), 2, column, label=one["clause"])
            put_doubt(one, page, column)


def _is_small(outcome: Data) -> bool:
    margin, scale = outcome["margin"], outcome["scale"]
    if margin is None or scale is None or margin["unit"] in (None, "days"):
        return False
    return Fraction(margin["exact"]) < abs(Fraction(scale)) * CLOSE


def _lapses(ahead: RunningOut, page: Page) -> None:
    page.heading(f"Runs out within {SOON_DAYS} days")
    for one in ahead.last_days:
        item = (f", {one.item}" if one.item else "") + " (advice)" * (one.clause.severity == ADVISORY)
        days = f"{abs(one.days)} day{'s' * (abs(one.days) != 1)}"
        told = f"ran out {days} ago" if one.days < 0 else f"{days} left, to {one.day.isoformat()}"
        page.row(f"{one.clause.title}{item}", told, 2, 7, label=one.clause.number)
    if not ahead.last_days:
        page.put("Nothing. A season's meetings: checker calendar.", 2)
    if ahead.is_short:
        page.put(
            f"Looked ahead to {ahead.until.isoformat()} alone: there are no rules for the days after it, or none that "
            "the car's file can be read by.",
            2,
            style=YELLOW,
        )


def weigh_again(pack: Pack) -> list[tuple[str, list[str]]]:
    """Changes of a car, each with the clauses for which it has to be weighed again, in the rulebook's order.

    Masses and places make total and shares; springs only share a load out between the diagonals (statics of four
    wheels; common practice, no source).
    """
    bearing = on_weights(pack)
    named = {n: set(_weights(pack, n)) for n in pack.clauses if n in bearing}
    diagonal = [n for n, names in named.items() if names & set(_DIAGONAL)]
    moved = [n for n, names in named.items() if names - {"total"}]
    return [
        ("weight added or taken off, other wheels or tyres", list(named)),
        ("weight, seat, tank or battery moved", moved),
        ("springs, ride height, bars or tyre pressures", diagonal),
    ]


def _weights(pack: Pack, number: str) -> Iterator[str]:
    for name in pack.clauses[number].looks_at:
        section, _, rest = name.partition(".")
        if section in ("weight", "percentage"):
            yield rest
