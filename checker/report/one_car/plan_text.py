"""A plan of a car's weights, as text that fits a screen."""

from __future__ import annotations

from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, NOT_SHOWN, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data, shown, shown_mass
from checker.report.one_car.fuel import missing_words
from checker.report.one_car.not_reckoned import clauses_named, may_be_done, not_reckoned_words, put_lacking
from checker.report.page import DIM, GREEN, RED, YELLOW, Page
from checker.report.wording import CAUTION, car_words, listed, outcome_word

_AIMS = {
    "least": "as light as may be",
    "inside": "as much weight inside as may be",
    "rear": "as much weight on the rear as may be",
    "low": "as low as may be",
    "fewest-moves": "with as little done as may be",
}
_WEIGH_AGAIN = (
    "Weigh the car again after every change, all four wheels: what is told here is worked out by the lever rules, and "
    "what single wheels and the cross weight come to is never predicted."
)


def plan_text(document: Data, page: Page) -> None:
    page.heading(f"Plan for {car_words(document)}, {_AIMS[document['aim']]}")
    page.put(
        f"Every clause is to be met with {100 * document['confidence']:g} % certainty, measuring error counted.",
        2,
    )
    race = document["race"]
    if race:
        page.put(
            f"Clauses that ask for any fuel are held from start to flag alone: {race['laps']} laps at "
            f"{shown(race['fuel_per_lap'])}. Weighed with more fuel than at the start, or with less than at the flag, "
            "the car may fail: `checker inspect` tells.",
            2,
            style=YELLOW,
        )
    if document["status"] == "not_shown":
        page.heading("Not planned for", YELLOW)
        put_lacking(document, page)
        page.put(
            "State what is missing, and plan again: what is done before that may be wrong by these clauses.",
            2,
        )
    elif document["status"] == "infeasible":
        _none(document, page)
    elif document["status"] == "time" and not any(one["after"] for one in document["clauses"]):
        page.heading("No plan in the time", YELLOW)
        page.put("None was found before the time was up; --seconds gives it more.", 2)
    else:
        _acts(document, page)
    _clauses(document, page)
    _holding(document, page)
    _said(document, page)
    page.heading("Weigh again")
    page.put(_WEIGH_AGAIN, 2)
    if document["written"]:
        page.put(f"The planned car is written to {document['written']}.", 2)
    page.blank()
    page.put(CAUTION, style=DIM)


def _acts(document: Data, page: Page) -> None:
    page.heading("Do", GREEN)
    if not document["acts"]:
        page.put(f"Nothing: the car meets every clause {_which_is_met(document)}.", 2)
    for number, act in enumerate(document["acts"], 1):
        page.labelled(f"{number}.", act_sentence(act), 5, 2)
    race = document["race"]
    if race:
        flag = f"{shown(race['flag'])} are left at the flag"
        page.labelled("race", f"start with {shown(race['start'])}; {flag}", 6, 2)
    mass = shown(document["mass"], signed=True)
    if document["acts"]:
        page.put(
            f"The car's weight changes by {mass if document['mass']['exact'] != '0/1' else 'nothing'}.", 2
        )
    if not document["proven"]:
        page.put(
            "It is the best plan found in the time; that no better one exists is not proven.", 2, style=YELLOW
        )


def _which_is_met(document: Data) -> str:
    """Of a car to which nothing is to be done."""
    unmet = [
        one["clause"]
        for one in document["clauses"]
        if one["severity"] != ADVISORY and one["after"]["outcome"] in (FAIL, TOO_CLOSE, NOT_SHOWN)
    ]
    if not unmet:
        return "on weights as it is"
    return f"that could be planned for as it is, but not {clauses_named(unmet)}"


def act_sentence(act: Data, *, briefly: bool = False) -> str:
    """One thing to do; briefly: a place by its name alone."""
    mass = f", {shown(act['mass'])}" if act["mass"] else ""
    named = briefly or act["place"] == act["at"]
    where = act["place"] if named else f"{act['place']} ({act['at']})"
    if act["do"] == "take_off":
        return f"take off {act['what']}{mass}"
    if act["do"] == "move":
        part = "" if act["part"] is None else f"{100 * act['part']:.3g} % of the way "
        return f"move {act['what']}{mass and f'{mass},'} {part}to {where}"
    if act["cut"]:
        return f"bolt {shown(act['mass'])} of {act['what']} at {where}"
    each = (
        f"{act['count']} x {act['what']}, {shown(act['mass'])} each,"
        if act["count"] > 1
        else f"{act['what']}{mass},"
    )
    return f"bolt {each} at {where}"


def _clauses(document: Data, page: Page) -> None:
    page.heading("Clauses before and after")
    for clause in document["clauses"]:
        before, after = clause["before"], clause["after"]
        if before["outcome"] == NOT_APPLICABLE and (after is None or after["outcome"] == NOT_APPLICABLE):
            continue
        last = before if after is None else after
        advice = " (advice)" if clause["severity"] == ADVISORY else ""
        style = (
            RED if last["outcome"] == FAIL else YELLOW if last["outcome"] in (TOO_CLOSE, NOT_SHOWN) else ""
        )
        open_now = after is not None and after["outcome"] == NOT_SHOWN != before["outcome"]
        then = "after weighing" if open_now else _margin(last)
        told = then if after is None else f"{_margin(before)} -> {then}"
        page.row(f"{clause['title']}{advice}", told, 2, 8, style, label=clause["clause"])
        if last["state"]:
            page.put(last["state"], 8)
        if open_now:
            page.put("only weighing the car again tells", 8)
        elif last["not_shown"]:
            page.put(missing_words(last["not_shown"]), 8)


def _margin(judged: Data) -> str:
    word = outcome_word(judged["outcome"], "entrant")
    if judged["margin"] is None or judged["margin"]["unit"] is None:
        return word
    margin = shown(judged["margin"], signed=True)
    return margin if word == "met" else f"{margin} {word}"


def _holding(document: Data, page: Page) -> None:
    if not document["holding"]:
        return
    page.heading("What holds it back")
    unit = shown_mass()
    for price in document["holding"]:
        of_pieces = price["what"].startswith("shelf ")
        bought = price["kg"] / float(unit.factor) if of_pieces else price["kg"]
        room = f"1 {'piece' if of_pieces else unit.name} of room more"
        words = f"{room} would make the car {bought:.3g} {unit.name} lighter"
        page.put(f"{group_words(price['what'])}: {words}, if pieces could be cut to any size", 2, 4)


def group_words(group: str) -> str:
    """What asks for something, in words."""
    what, _, name = group.partition(" ")
    return {
        "clause": f"clause {name}",
        "place": f"what the place {name} may carry",
        "shelf": f"the pieces {name} on the shelf",
        "thing": f"where {name} may sit",
    }[what]


def _none(document: Data, page: Page) -> None:
    tried = may_be_done(document)
    page.heading(f"Nothing that {tried} is enough", RED)
    conflict = [group_words(group) for group in document["conflict"]]
    if len(conflict) == 1:
        page.put(f"{conflict[0][:1].upper()}{conflict[0][1:]} cannot be met by anything that {tried}.", 2)
    elif conflict:
        page.put(
            f"These cannot hold together, with any of them left out the others can, and no fewer are at odds: "
            f"{listed(conflict)}.",
            2,
        )
    more, wider = document["more"], document["wider"]
    told = [(change["kg"], _wider(change)) for change in wider]
    if more is not None:
        off = more["off"]["kg"] if more["off"] else 0.0
        told.append((more["kg"] + off, _more(more)))
    for number, (_, words) in enumerate(sorted(told, key=lambda one: one[0])):
        page.put(f"{'Or it' if number else 'It'} would be enough {words}.", 2, 4)
    if more is None:
        beside = "Beyond that, no" if wider else "No"
        page.put(
            f"{beside} further ballast between the wheels would be enough"
            f"{'' if wider else ' either'}, nor what could come off between them.",
            2,
        )


_TOLD_KG = 0.001


def _more(more: Data) -> str:
    """Further ballast that would be enough, or what would come off."""
    if more["off"]:
        beside = f", and to add {shown(more['mass'])}, {more['at']}" if more["kg"] >= _TOLD_KG else ""
        return f"to take {shown(more['off']['mass'])} off, {more['off']['at']}{beside} (reckoned, not tried)"
    reckoned = "" if more["tried"] else " (reckoned; no car with it was found to hold to every clause)"
    if more["places"]:
        told = listed([f"{shown(one['mass'])} at {one['place']}" for one in more["places"]])
        return f"to carry {told} beyond what is said to be there{reckoned}"
    return f"to carry {shown(more['mass'])} more, {more['at']}{reckoned}"


def _wider(change: Data) -> str:
    """What could be let be done more of, and what then is to be done."""
    words = []
    for place in change["places"]:
        carried = [f"{shown(place['most'])}, {shown(place['more'])} more"] if place["most"] else []
        if place["pieces"]:
            carried.append(f"{place['pieces']} pieces, {place['more_pieces']} more")
        words.append(f"for {place['place']} to carry {' and '.join(carried)}")
    words += [
        f"for {slide['what']} to slide {shown(slide['more'])} further, to {slide['to']}"
        for slide in change["slides"]
    ]
    for start in change["start"]:
        less = start["more"]["exact"].startswith("-")
        words.append(
            f"to start with {'as little' if less else 'as much'} as {shown(start['at'])}, "
            f"{shown(start['more']).removeprefix('-')} {'less' if less else 'more'} than may be"
        )
    acts = "; ".join(act_sentence(act, briefly=True) for act in change["acts"])
    return f"{listed(words)}{f', and then to {acts}' if acts else ''}"


def _said(document: Data, page: Page) -> None:
    """What the plan could not reckon with."""
    told = [
        f"clause {one['clause']} is freed by approval {one['approval']} and not held to"
        for one in document["freed"]
    ]
    free = document["free_ballast"]
    if free:
        like = f", material and the like as of {free['like']}" if free["like"] else ""
        told.append(
            f"no pieces are told of: ballast is taken to be had in any multiple of {shown(free['step'])}{like}"
        )
    told += [
        f"clause {one['clause']}: the window is narrower than measuring error to both sides; weigh with better "
        "scales"
        for one in document["unresolvable"]
    ]
    told += not_reckoned_words(document)
    told += [
        f"{one['what']} does not go to {one['place']} by clause {one['clause']}"
        if one["most"] == 0
        else f"of {one['what']} at most {one['most']} go to {one['place']} by clause {one['clause']}"
        for one in document["barred"]
        if one["place"]
    ]
    failing = document["still_failing"]
    if failing:
        told.append(f"{clauses_named(failing)} fail{'s' * (len(failing) == 1)} whatever is moved")
    if told:
        page.heading("To be noted", YELLOW)
    for words in told:
        page.put(words, 2, 4)
