"""A blank declaration for a pack: every line that may be filled in, with what it wants and how it is measured.

Lines to fill in are commented out and empty. One that is taken in but left empty is a mistake when the file is read, so
nothing passes by having been left as it was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from textwrap import wrap

from checker.car.described.standard import WHEELS
from checker.car.described.stated import ABOVE, ACROSS, ALONG, FROM_REAR
from checker.car.described.vocabulary import FactType, ListType, Vocabulary
from checker.kinds.contract.check import uses
from checker.pack.model import Pack
from checker.reading.plain_text import printable
from checker.reading.printer import to_yaml
from checker.report.facts import facts_in_order, form_words, how_words

_WIDTH = 100
_PLACE = "at: {behind_front_axle: , left_of_centre: }"
_ALSO = "also as behind_rear_axle, and right_of_centre"

_FIRST = ("car", "event", "weighing", "dimensions", "tyres", "fuel", "driver", "wear")

_MORE = ("fluids", "centre_of_gravity")
"""Sections without facts that come after these."""

_TYRE_SET = ("dry:", "  front: {mass: , section: }    # kg, mm", "  rear: {mass: , section: }")

_STRUCTURE: Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]] = {
    "weighing": (
        ("The pads or scales, by the name that they have under instruments.", ("instrument:    # text",)),
        (
            "A line for each weighing, the car taken off and put back in between. A weighbridge gives "
            "{front: , rear: } or {left: , right: } or {total: } instead. Where pads stood otherwise than marked, the "
            "line says how, as the second one does, or swapped diagonally. Let nobody get in, out or under while the "
            "car is on pads.",
            (
                "readings:",
                "  - {front_left: , front_right: , rear_left: , rear_right: }    # kg",
                "  - {front_left: , front_right: , rear_left: , rear_right: , pads: swapped side to side}    # kg",
            ),
        ),
        (
            "How level the pads are: to within so much from side to side, and from axle to axle. For single wheels and "
            "the cross weight also how far one pad may stand out of the plane of the others, and how stiff one wheel "
            "stands on the ground (spring, bar and tyre).",
            ("floor: {across: , along: , pad_height: , stiffness: }    # mm, mm, mm, N/mm",),
        ),
        (
            "What was done to the car after it was weighed: its weights are then worked out. Weigh it again.",
            (
                "since:",
                "  - {added: }    # the label or name of what is on the car now",
                "  - {moved: , from: {behind_front_axle: , left_of_centre: }}    # mm",
                "  - {taken_off: {label: , mass: , at: {behind_front_axle: , left_of_centre: }}}    # kg, mm",
            ),
        ),
    ),
    "tyres": (
        (
            "A block for each set that you may run, by its name: what one wheel with its tyre weighs, and how wide the "
            "section is. Where those of an axle differ: {left: {mass: , section: }, right: {mass: , section: }}. "
            "A set of the formula that is left out is not declared.",
            _TYRE_SET,
        ),
    ),
    "fuel": ((f"Where the middle of the tank is; {_ALSO}.", (f"{_PLACE}    # mm",)),),
    "driver": ((f"Where the middle of the seated driver is; {_ALSO}.", (f"{_PLACE}    # mm",)),),
    "wear": (
        (
            "What each wheel's tyre and brake lose from new to worn.",
            tuple(f"{wheel}:    # kg" for wheel in WHEELS),
        ),
    ),
    "fluids": (
        (
            "Fluids that are used up as tyres and brakes wear, each by its name: how much is lost, and where.",
            ("water: {lost: , at: {behind_front_axle: , left_of_centre: }}    # kg, mm",),
        ),
    ),
    "centre_of_gravity": (("How high it is above the ground, where that is known.", ("height:    # mm",)),),
    "instruments": (
        (
            "Gear of your own, by its name: one step of its display, and the error that its maker allows.",
            ("home pads: {resolution: , permissible_error: }    # kg",),
        ),
    ),
    "planning": (
        (
            "What may be done about the weights, for checker plan: where ballast may be bolted, with what a piece has "
            "there; pieces on the shelf, or stock that is cut in steps; what may sit elsewhere; what may come off; and "
            "for --race what a lap burns, and the fuel that the start may be made with.",
            (
                "places:",
                "  - {name: , at: {behind_front_axle: , left_of_centre: }, most: , pieces: , fixings: }    # kg",
                "shelf:",
                "  - {label: , mass: , count: }    # kg",
                "  - {label: , step: , most: }    # kg",
                "movable:",
                "  - {what: , to: [{name: , at: {behind_front_axle: , left_of_centre: }}]}",
                "may_come_off:",
                "  - # the label or name of what is on the car",
                "race: {fuel_per_lap: , laps: , start_at_least: , start_at_most: }    # L",
            ),
        ),
    ),
    "unfinished": (
        (
            "A list that is declared is taken for the whole car. Name here what does not hold all yet: what a clause "
            "misses in it is then not declared, instead of not met.",
            ("- components    # or another list",),
        ),
    ),
    "approvals": (("References of approvals that the organising body has given.", ("-    # text",)),),
}
"""What stands in a section beside its facts: remarks, each with the lines to fill in below it."""


def blank_declaration(pack: Pack, day: str | None = None) -> str:
    """The blank as YAML: a declaration of which nothing is shown yet, nor which car it is of.

    Args:
        day: What its rules were asked for, which it is then judged for as well.
    """
    lines = [*_opening(pack), *to_yaml({"formula": pack.name}).splitlines()]
    for section, facts in sections_in_order(pack).items():
        lines += ["", f"{section}:"]
        for remark, fills in _STRUCTURE.get(section, ()):
            blocks = [fills]
            if fills is _TYRE_SET:
                blocks = [(f"{name}:", *fills[1:]) for name in pack.vocabulary.tyre_sets] or blocks
            lines += [*_remark(remark), *(_to_fill(fill) for block in blocks for fill in block)]
        for fact in facts:
            lines += _fact(fact, pack.vocabulary, day)
    for its_list in pack.vocabulary.lists.values():
        lines += ["", f"{its_list.name}:", *_entry(its_list, pack.vocabulary, places_asked(pack, its_list))]
    return "\n".join(lines) + "\n"


def _opening(pack: Pack) -> list[str]:
    words = (
        f"Declaration for {pack.title or pack.name}, edition {pack.edition}. Take the # away in front of a line "
        "and fill in what you know, with the unit that stands behind it or another of its kind (lb for kg, in for mm). "
        "Leave out what you do not know: it is reported as not declared, never as met."
    )
    return [f"# {line}" for line in wrap(printable(words), _WIDTH - 2)]


def sections_in_order(pack: Pack) -> dict[str, list[FactType]]:
    """Every section of a declaration with its facts, in the order in which it is filled in."""
    found: dict[str, list[FactType]] = {}
    for fact in sorted(facts_in_order(pack), key=lambda fact: fact.name != "car.number"):
        found.setdefault(fact.name.partition(".")[0], []).append(fact)
    order = dict.fromkeys((*_FIRST, *_MORE, *found, "instruments", "planning", "unfinished", "approvals"))
    return {section: found.get(section, []) for section in order}


def _fact(fact: FactType, vocabulary: Vocabulary, day: str | None) -> Iterator[str]:
    key = fact.name.partition(".")[2]
    yield from _remark(about(fact))
    if fact.name == "car.number":  # the one thing that every declaration must state
        yield '  number: ""'
    elif fact.name == "event.date" and day is not None:
        yield f"  date: {day}"
    else:
        yield _to_fill(f"{key}:    # {form_words(fact, vocabulary)}")


def places_asked(pack: Pack, its_list: ListType) -> set[str]:
    """Those of where an entry sits that a clause asks for."""
    asked = {name for clause in pack.clauses.values() for name in uses(clause.check)}
    return {key for key in (ALONG, FROM_REAR, ACROSS, ABOVE) if f"{its_list.name}.{key}" in asked}


def _entry(its_list: ListType, vocabulary: Vocabulary, asked: set[str]) -> Iterator[str]:
    """One entry of a list, to be filled in and repeated."""
    yield from _remark("A block for each entry, begun by a dash; [] where there is none.")
    fills = [
        (about(field), f"{field.name}:    # {form_words(field, vocabulary)}")
        for field in its_list.fields.values()
        if field.formula is None
    ]
    fills.append(("How many of it there are; masses and prices are for one.", "count:    # a whole number"))
    if asked or "mass" in its_list.fields:
        spot = _PLACE.replace("}", ", above_ground: }") if ABOVE in asked else _PLACE
        fills.append((f"Where its middle is; {_ALSO}.", f"{spot}    # mm"))
    if its_list.name == "components":
        fills.append(("Parts inside it, in blocks like this one.", "parts:"))
        yield from _remark(f"Categories: {', '.join(vocabulary.categories.words)}.")
        yield from _remark(f"Materials: {', '.join(vocabulary.materials.words)}.")
    for place, (remark, fill) in enumerate(fills):
        yield from _remark(remark)
        yield _to_fill(f"{'  ' if place else '- '}{fill}")


def about(fact: FactType) -> str:
    """What it is, how it is measured and who states it."""
    how = how_words(fact)
    return ". ".join(filter(None, (fact.about, how[:1].upper() + how[1:])))


def _remark(words: str) -> list[str]:
    """Words for the reader, set off from lines to fill in by a blank after the #."""
    return [f"  # {line}" for line in wrap(printable(words), _WIDTH - 4, break_on_hyphens=False)]


def _to_fill(text: str) -> str:
    return f"  #{printable(text)}"
