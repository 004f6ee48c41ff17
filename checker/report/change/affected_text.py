"""Whom a change affects, as text: for a committee by clause, for one car as a list of what to do by when."""

from __future__ import annotations

from checker.kinds.judging.assessment import DISPENSATION, FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS, TOO_CLOSE
from checker.pack.model import ADVISORY
from checker.report.amounts import Data, shown
from checker.report.change.mending import mending_words
from checker.report.page import BOLD, RED, Page
from checker.report.wording import listed, outcome_word, put_caution, rules_words
from checker.studies.change.affected import NO_CLAUSE

LISTED = 8
"""How many of the hardest hit are listed for each clause."""
LISTED_CARS = 40
"""How many cars are named whose outcomes change."""

_COLUMN = 9


def affected_text(document: Data, page: Page) -> None:
    page.heading("Who is affected")
    for label, side in (("before", "old"), ("after", "new")):
        page.labelled(label, rules_words({"pack": document[side]}), _COLUMN, 2)
        if document[side]["because"]:
            page.put(document[side]["because"], _COLUMN)
    viewed = "an entrant, at home" if document["for"] == "entrant" else "an official"
    days = document["on"]
    if document["on_before"] != days:
        days = f"{document['on_before']} by the rules before and for {days} by those after"
    page.labelled("judged", f"each car for {days}, for {viewed}", _COLUMN, 2)
    if page.draws:
        from checker.report.figures.affected import affected_figure

        page.draw(affected_figure(document))
    for clause in document["clauses"]:
        _clause(clause, document["for"], page)
    if document["cars"] and document["without_effect"]:
        page.blank()
        told = listed(document["without_effect"])
        many = "clauses" if len(document["without_effect"]) > 1 else "clause"
        page.put(f"Judged too, without any difference for these cars: {many} {told}.")
    _named(document, page)
    page.heading("Result")
    _result(document, page)
    put_caution(page)


def _named(document: Data, page: Page) -> None:
    """Every car whose outcomes change, with what becomes of which clause, and what it has to do or to state."""
    if not document["named"]:
        return
    page.heading("Cars whose outcomes change")
    for car in document["named"][:LISTED_CARS]:
        page.put(_car(car).removeprefix("car "), 2, style=BOLD)
        for effect in car["effects"]:
            words = f"{effect['clause']} {effect['title']}: {_becomes(effect, document)}"
            page.put(words, 4, 6)
            if told := to_do(effect):
                page.put(told, 6, 8)
        _unread(car, page, 4)
    more = max(document["changing"], document["unread_later"]) - min(len(document["named"]), LISTED_CARS)
    if more:
        page.put(f"and {more} more; --lines FILE writes down every car", 2, 4)


def _unread(car: Data, page: Page, indent: int) -> None:
    """From when a car cannot be judged, and why."""
    if (unread := car["unread"]) is not None:
        words = f"from {unread['from']} cannot be judged: {listed(unread['because'][:_REASONS])}"
        page.put(words, indent, indent + 2, style=RED)


_REASONS = 3
"""How many mistakes are told of a declaration that later rules cannot read."""


def _becomes(effect: Data, document: Data) -> str:
    """What becomes of a clause: "met, now fails"; "met, fails after 2026-10-31"."""
    if (doubt := effect["later_doubt"]) is not None and effect["after"] in _MET:
        now = f"met, {outcome_word(doubt['outcome'], document['for']).lower()} after {doubt['until']}"
        return now + (f", fails after {effect['later']['until']}" if effect["later"] else "")
    before = _word(effect["before"], document)
    if effect["later"] is not None and effect["after"] != FAIL:
        return f"{before}, fails after {effect['later']['until']}"
    return f"{before}, now {_word(effect['after'], document)}"


def _word(outcome: str, document: Data) -> str:
    """What becomes of a clause within a sentence."""
    special = {FAIL: "fails", PASS: "met", NO_CLAUSE: "not in the rules"}
    return special.get(outcome) or outcome_word(outcome, document["for"])


_MET = (PASS, NOT_APPLICABLE, DISPENSATION)


def to_do(effect: Data) -> str:
    """What the car has to do, or what its declaration has to say, so that the clause is met; "" where nothing."""
    later, doubt = effect["later"], effect["later_doubt"]
    if later is not None and effect["after"] != FAIL:
        return str(later["act"] or later["text"])
    if doubt is not None and effect["after"] in _MET:
        return _settles(doubt)
    return _settles(effect) if effect["after"] in (FAIL, TOO_CLOSE, NOT_SHOWN) else ""


def _settles(found: Data) -> str:
    missing = "; ".join(found["not_shown"])
    return str(found["act"] or (f"say more: {missing}" if missing else found["text"]))


def _result(document: Data, page: Page) -> None:
    cars = document["cars"]
    page.put(f"{cars} car{'' if cars == 1 else 's'} judged by both.", 2)
    if document["unusable"]:
        page.put(f"{document['unusable']} not judged: their files cannot be used.", 2, style=RED)
    if not document["clauses"] and not document["unread_later"]:
        page.put("No car is affected: nothing is judged otherwise." if cars else "No car was judged.", 2)
        return
    for number, words in (
        (document["newly_failing"], "newly fail a clause that counts"),
        (document["no_longer_failing"], "no longer fail a clause that counts"),
        (document["failing_later"], "will fail when a time of grace ends"),
        (document["in_doubt"], "met a clause that counts and are now in doubt of it"),
        (
            document["unread_later"],
            "will not be judged by a text that comes later, and may be in doubt of anything",
        ),
        (document["in_doubt_later"], "will be in doubt of a clause that counts when a time of grace ends"),
    ):
        if "doubt" in words and not number:
            continue
        page.put(
            f"{number} {words if number != 1 else _one(words)}.",
            2,
            style=RED if number and "newly" in words else "",
        )


def _one(words: str) -> str:
    return words.replace(" are ", " is ").replace("fail a", "fails a") if "will" not in words else words


def _clause(clause: Data, to: str, page: Page) -> None:
    advice = " (advice only)" if clause["severity"] == ADVISORY else ""
    number = f"{clause['clause']}, formerly {clause['formerly']}," if clause["formerly"] else clause["clause"]
    page.heading(f"{number} {clause['title']}{advice}")
    page.put("; ".join(clause["change"]), 2, 4)
    if clause["binds"]:
        page.put(clause["binds"]["because"], 2, 4)
    page.labelled("fail:", "{before} before, {after} after".format(**clause["failing"]), 20, 2)
    page.labelled("newly fail:", str(clause["newly_failing"]), 20, 2)
    page.labelled("no longer fail:", str(clause["no_longer_failing"]), 20, 2)
    if clause["now_in_doubt"]:
        many = f"{clause['now_in_doubt']} too close or {outcome_word(NOT_SHOWN, to)}"
        page.labelled("now in doubt:", many, 20, 2)
    if clause["failing_later"]:
        page.labelled("fail later:", f"{clause['failing_later']}, when a time of grace ends", 20, 2)
    if clause["in_doubt_later"]:
        page.labelled("in doubt later:", f"{clause['in_doubt_later']}, when a time of grace ends", 20, 2)
    for margins in clause["margins"]:
        _spread(margins, page)
    _hardest(clause, page)


def _spread(margins: Data, page: Page) -> None:
    """Counts by band before and after, with a bar for each; the line is where legal begins."""
    bands = margins["bands"]
    if not bands:
        return
    page.blank()
    unit = f" in {margins['unit']}" if margins["unit"] else ""
    heads = (f"margin{unit}", "before", "after")
    labels = [f"{band['from']} to {band['below']}" for band in bands]
    if page.draws:
        counts = (
            (label, str(band["before"]), str(band["after"]))
            for label, band in zip(labels, bands, strict=True)
        )
        page.table([heads, *counts])
        return
    first = max(map(len, (heads[0], *labels)))
    most = max(max(band["before"], band["after"]) for band in bands) or 1
    room = (page.width - 2 - first - 2 * 8 - 4) // 2
    page.drawn(
        f"  {heads[0]:<{first}}  {heads[1]:>6}{' ' * (room + 2 if room >= 6 else 2)}{heads[2]:>5}", BOLD
    )
    legal = False
    for band, label in zip(bands, labels, strict=True):
        if not legal and not band["from"].startswith("-"):
            legal = True
            if band is not bands[0]:
                page.drawn("  " + "-" * (first + 17 + (2 * room if room >= 6 else 0)))
        sides = [(band["before"], 6), (band["after"], 5)]
        told = [
            f"{number:>{size}}" + (f" {'#' * -(-number * room // most):<{room}}" if room >= 6 else " ")
            for number, size in sides
        ]
        page.drawn(f"  {label:<{first}}  {' '.join(told)}")


def _hardest(clause: Data, page: Page) -> None:
    hit = clause["hardest"]
    if not hit:
        return
    page.blank()
    page.put("What those that fail would have to do, those furthest over first:", 2)
    for one in hit[:LISTED]:
        until = f" (may stay as it is until {one['until']})" if one["until"] else ""
        mended = f"; {words}" if (words := mending_words(one["mending"])) else ""
        words = f"{_car(one)}: {one['act'] or one['text']}{until}{mended}"
        page.row(words, shown(one["margin"], signed=True), 2, 4)
    more = clause["newly_failing"] + clause["failing_later"] - min(len(hit), LISTED)
    if more:
        page.put(f"and {more} more; --lines FILE writes down every car", 2, 4)


def _car(one: Data) -> str:
    return " ".join(filter(None, ("car", one["car"]["number"], one["car"]["name"])))


def todo_text(document: Data, page: Page) -> None:
    """Print what one car has to do by when."""
    page.heading(f"To do for {_car(document)}")
    found_tasks = tasks(document)
    _unread(document, page, 2)
    for when, effect, found in found_tasks:
        page.blank()
        advice = ", advice only" if effect["severity"] == ADVISORY else ""
        page.row(
            f"{when}: clause {effect['clause']} {effect['title']}{advice}",
            shown(found["margin"], signed=True),
            2,
            4,
        )
        page.put(f"do: {found['act'] or found['text']}", 4, 8)
        if found["act"] and found["text"]:
            page.put(f"found: {found['text']}", 4, 8)
        if found["why"]:
            page.put(f"why: {found['why']}", 4, 8)
        if found.get("mending"):
            page.put(f"all together from then on: {mending_words(found['mending'])}", 4, 8)
    if document["mending"] is not None:
        page.put(f"all together: {mending_words(document['mending'])}", 2, 4)
    if not found_tasks and not document["unread"]:
        page.put("Nothing: no clause fails or is in doubt that was met before.", 2)
    for effect in document["effects"]:
        if effect["no_longer_fails"]:
            no_clause = effect["after"] == NO_CLAUSE
            after = "no longer in the rules" if no_clause else outcome_word(effect["after"], document["for"])
            page.blank()
            page.put(f"no longer fails: clause {effect['clause']} {effect['title']} ({after})", 2, 4)
    put_caution(page)


def tasks(document: Data) -> list[tuple[str, Data, Data]]:
    """What one car has to do, the most pressing first: by when in words, the effect, and what was found."""
    told = [task for effect in document["effects"] if (task := _task(effect, document))]
    return [
        (_by_when(day, effect), effect, found)
        for day, effect, found in sorted(told, key=lambda task: (task[0] or "", task[1]["clause"]))
    ]


def _by_when(day: str | None, effect: Data) -> str:
    last = effect["later"] or effect["later_doubt"]
    return "now" if not day else f"by {day}" if last else f"before {day}"


def _task(effect: Data, document: Data) -> tuple[str | None, Data, Data] | None:
    """The last day before which something must be done, and what; None where nothing need be."""
    later, binds = effect["later"], effect["binds"]
    if effect["newly_fails"]:
        found = {"margin": effect["margin_after"], "act": effect["act"], "text": effect["text"]}
        return (binds["from"] if binds else None), effect, {**found, "why": binds["because"] if binds else ""}
    if effect["now_in_doubt"]:
        found = {"margin": effect["margin_after"], "act": to_do(effect), "text": effect["text"]}
        because = f"; {binds['because']}" if binds else ""
        why = f"it is {outcome_word(effect['after'], document['for'])}{because}"
        return (binds["from"] if binds else None), effect, {**found, "why": why}
    doubt = effect["later_doubt"]
    if doubt is not None and effect["after"] in _MET:
        why = f"from the day after {doubt['until']} it is {outcome_word(doubt['outcome'], document['for']).lower()}"
        return doubt["until"], effect, {**doubt, "act": _settles(doubt), "why": why}
    if later is not None:
        why = f"the car may stay as it is until {later['until']}, and no longer"
        return later["until"], effect, {**later, "why": why}
    return None
