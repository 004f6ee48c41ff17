"""A car's slip as text: what was read, what came of it, what to do; and the short verdict at the scales."""

from __future__ import annotations

from checker.car.described.standard import WHEELS
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, TOO_CLOSE
from checker.meeting.record.chain import printed
from checker.meeting.session.dependence import DECLARED_ONLY, MEASURED, NOT_STATED, PARTLY
from checker.pack.model import ADVISORY
from checker.reading.plain_text import printable, shortened
from checker.report.amounts import Data
from checker.report.meeting.board import (
    COLOURS,
    DECIDED,
    SHOWN,
    defect_words,
    protest_words,
    record_text,
    unsound_text,
)
from checker.report.one_car.columns import HEADS, Columns, figure, in_a_table, put_doubt
from checker.report.one_car.not_met import clause_block
from checker.report.page import BOLD, DIM, RED, YELLOW, Page
from checker.report.wording import CAUTION, OUTCOME_COLOURS, outcome_word, state_word

_SHORT = {
    "front_left": "front left",
    "front_right": "front right",
    "rear_left": "rear left",
    "rear_right": "rear right",
}


def slip_text(document: Data, page: Page) -> None:
    heading, standing = document["meeting"], document["standing"]
    unsound_text(document, page)
    status = standing["status"]
    page.heading(
        f"CAR {standing['number']} {standing['name']}".rstrip(),
        COLOURS.get(status, ""),
        capitals=False,
        figure=SHOWN[status].upper(),
    )
    page.put(f"{_meeting(document)}, {document['occasion']}")
    page.put(
        f"Rules: {heading['pack']} {heading['edition']}, sha256 {heading['pack_sha256'][:12]}", style=DIM
    )
    slip_body(document, page)
    page.code("The record's hash as a code", code_words(document))
    page.put(f"Place and time: {'_' * 12}")
    page.sign("official", "entrant")
    unsigned = [by for by in document["meeting"]["officials"] if by not in document["signing"]]
    if unsigned:
        page.put(f"Not signed by {', '.join(unsigned)}: initials are not proof.", style=DIM)
    page.blank()
    page.put(CAUTION, style=DIM)


def slip_body(document: Data, page: Page) -> None:
    """A slip below its car and its status, down to the record's hash."""
    _result(document, page)
    _weighings(document, page)
    _outcomes(document, page)
    _margins(document, page)
    _rulings(document, page)
    _differences(document, page)
    _notes(document, page)
    _again(document, page)
    _verified(document, page)
    if document["standing"]["next_step"]:
        page.blank()
        page.put(f"Next: {document['standing']['next_step']}", style=BOLD)
    page.blank()
    record_text(document, page)


def _result(document: Data, page: Page) -> None:
    standing = document["standing"]
    if standing["doubt"]:
        doubt = standing["doubt"]
        words = f"{doubt['gear']}, pad {doubt['pad'].replace('_', ' ')}, showed {doubt['shown']} for {doubt['applied']}"
        page.put(f"In doubt: {words}; the car is to be weighed again.", style=RED)
    if standing["open_because"]:
        page.put(f"Open: {standing['open_because']}.", style=YELLOW)
    _defects(standing, page)
    if standing["rulings"] or standing["defects"]:
        computed = state_word(document["inspection"]["complies"])
        below = "the decisions below" if standing["rulings"] else "open defects"
        page.put(f"Computed from what was declared and measured, without {below}: {computed}.")


def _defects(standing: Data, page: Page, indent: int = 0) -> None:
    for one in standing["defects"]:
        words = defect_words(one["clause"], one["text"])
        page.put(f"{words[0].upper()}{words[1:]}.", indent, indent + 2, YELLOW)


def _weighings(document: Data, page: Page) -> None:
    if not document["weighings"]:
        page.put("Not weighed yet: weights are as declared.", style=YELLOW)
        if document["prepare"]:
            page.heading("Before the scales")
            for words in document["prepare"]:
                page.put(f"- {words}", 2, 4)
        return
    page.heading("Weighed")
    first = document["weighings"][0]
    page.put(
        f"{first['fuel']} on board, driver {first['driver']}, {first['tyres']} tyres, {first['wear']}", 2, 4
    )
    names = list(first["loads"])
    head = ["", *[_SHORT.get(name, name) for name in names], "total"]
    rows = [head] + [
        [f"{at}", *[weighing["loads"][name] for name in names], weighing["total"]]
        for at, weighing in enumerate(document["weighings"], start=1)
    ]
    if len(names) < len(WHEELS) or not page.table(rows, indent=2):
        for at, weighing in enumerate(document["weighings"], start=1):
            loads = ", ".join(f"{_SHORT.get(name, name)} {load}" for name, load in weighing["loads"].items())
            total = "" if names == ["total"] else f"; total {weighing['total']}"
            page.put(f"{at}  {loads}{total}", 2, 5)
    for weighing in document["weighings"]:
        at = weighing["at"].partition("T")[2][:5]
        there = f" ({weighing['there']} in a merged record)" if weighing["there"] else ""
        scales = weighing["gear"] or "scales not named"
        page.put(f"entry {weighing['entry']}{there}, {at} UTC on {scales}, by {weighing['by']}", 2, 4, DIM)
        if weighing["pads"] not in ("", "as marked"):
            page.put(f"{weighing['gear']} {weighing['pads']} in entry {weighing['entry']}", 2, 4, DIM)
    for sentence in document["not_counting"]:
        page.put(f"No longer counts: {sentence}", 2, 4, DIM)
    for warning in document["gear_warnings"]:
        page.put(f"Note: {warning}.", 2, 4, YELLOW)


def _outcomes(document: Data, page: Page) -> None:
    outcomes = document["inspection"]["outcomes"]
    open_because = document["standing"]["open_because"] or ""
    for outcome, title in ((FAIL, "Fails"), (TOO_CLOSE, "Too close to call"), (NOT_SHOWN, "Not yet checked")):
        found = [o for o in outcomes if o["outcome"] == outcome and o["severity"] != ADVISORY]
        if found:
            page.heading(title, RED if outcome == FAIL else YELLOW)
            column = max(len(o["clause"]) for o in found) + 4
            told: dict[tuple[str, ...], str] = {}
            for one in found:
                first = told.setdefault(tuple(one["not_shown"]), one["clause"])
                repeats = first != one["clause"] and len(one["not_shown"]) > 1
                is_open = one["not_shown"] and all(why in open_because for why in one["not_shown"])
                if is_open or repeats:
                    one = {**one, "not_shown": ["open, as told above" if is_open else f"as for {first}"]}
                clause_block(one, page, column, "official")


def _margins(document: Data, page: Page) -> None:
    """What the scales bear on: reading, limit and margin of each clause, met or not."""
    by_number = {o["clause"]: o for o in document["inspection"]["outcomes"]}
    found = [o for number in document["on_weights"] if figure(o := by_number[number])]
    if not found:
        return
    if page.draws:
        page.heading("Margins")
        rows = [("clause", *HEADS), *map(in_a_table, found)]
        page.table(rows, styles=["", *(OUTCOME_COLOURS.get(o["outcome"], "") for o in found)])
        return
    columns, column = Columns(found), max(len(o["clause"]) for o in found) + 4
    columns.heading(page, "Margins")
    for one in found:
        style = OUTCOME_COLOURS.get(one["outcome"], "")
        page.row(one["title"], columns.figures(one, page), 2, column, style, label=one["clause"])
        put_doubt(one, page, column)


def code_words(document: Data) -> str:
    """What a code on paper says of the record: the meeting, the car, the entry, and the whole hash as it is typed."""
    told = (
        shortened(printable(one), IN_A_CODE) for one in (_meeting(document), document["standing"]["number"])
    )
    meeting, car = told
    return f"{meeting}\ncar {car}\nentry {document['last_entry']}\n{printed(document['last_hash'], 64)}"


IN_A_CODE = 60
"""Letters of a name: more would make a code too fine to read."""


def _meeting(document: Data) -> str:
    return f"{document['meeting']['title']}, {document['meeting']['on']}"


def _rulings(document: Data, page: Page) -> None:
    for protest in document["standing"]["protests"]:
        page.blank()
        page.put(protest_words(protest), 0, 2, YELLOW)
    rulings = document["standing"]["rulings"]
    if not rulings:
        return
    page.heading("Decided by officials")
    for ruled in rulings:
        computed = outcome_word(ruled["computed"], "official")
        page.put(
            f"{ruled['clause']}  {DECIDED[ruled['decision']]}: {ruled['reason']} (computed: {computed})", 2, 7
        )
        for earlier in ruled["in_place_of"]:
            words = f"{DECIDED[earlier['decision']]} by {earlier['by']}, entry {earlier['entry']}: {earlier['reason']}"
            page.put(f"in place of {words}", 7, 9, DIM)


def _differences(document: Data, page: Page) -> None:
    if not document["differences"]:
        return
    page.heading("Not as declared")
    for one in document["differences"]:
        explains = (
            f"; more than the {one['gear_explains']} that it may be out by the gauges"
            if one["gear_explains"]
            else ""
        )
        name = one["name"].replace("_", " ").replace(".", ", ")
        page.put(f"{name}: declared {one['declared']}, found {one['measured']}{explains}", 2, 4)


def _notes(document: Data, page: Page) -> None:
    if not document["notes"]:
        return
    page.heading("Noted")
    for note in document["notes"]:
        what = " ".join(filter(None, (note["topic"], note["part"], note["state"])))
        carried = " (from the meeting before)" if note["carried"] else ""
        page.put(f"{what}: {note['text']}{carried}" if note["text"] else f"{what}{carried}", 2, 4)


def _again(document: Data, page: Page) -> None:
    if not document["look_again"]:
        return
    page.heading("Re-check")
    for one in document["look_again"]:
        page.put(f"{one['clause']}  {one['title']}: {one['why']}", 2, 7)


def _verified(document: Data, page: Page) -> None:
    """How much of it officials measured, and how much is the entrant's word."""
    counts = document["verified"]
    page.blank()
    total = sum(counts.values()) - counts[NOT_STATED]
    page.put(
        f"Of {total} clauses that rest on what is stated, {counts[MEASURED]} were measured or seen by officials, "
        f"{counts[PARTLY]} partly; {counts[DECLARED_ONLY]} are on the entrant's word.",
        style=DIM,
    )
    if document["not_verified"]:
        page.put(f"Not verified: {', '.join(document['not_verified'])}.", 0, 2, DIM)


def verdict_text(document: Data, standing: Data, page: Page) -> None:
    """The short verdict at the scales: the car's status as the board shows it, what fails, what is open."""
    car, status = document["car"], standing["status"]
    page.put(
        f"CAR {car['number']} {car['name']}: {SHOWN[status].upper()}",
        style=";".join(filter(None, (BOLD, COLOURS.get(status)))),
    )
    for outcome in document["outcomes"]:
        if outcome["outcome"] == FAIL and outcome["severity"] != ADVISORY:
            clause_block(outcome, page, 7, document["for"])
    unsettled = {
        word: [
            o["clause"] for o in document["outcomes"] if o["outcome"] == word and o["severity"] != ADVISORY
        ]
        for word in (TOO_CLOSE, NOT_SHOWN)
    }
    for word, numbers in unsettled.items():
        if numbers:
            page.put(f"{outcome_word(word, document['for'])}: {', '.join(numbers)}", 2, 4)
    _defects(standing, page, 2)
