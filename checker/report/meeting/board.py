"""The board and the results of a meeting as text: every car in a line, the most pressing first."""

from __future__ import annotations

from checker.meeting.record.chain import printed
from checker.meeting.standing.standing import (
    COMPLIES,
    EXCLUDED,
    FAILS,
    IN_DOUBT,
    STATUSES,
    TO_JUDGE,
    UNSETTLED,
    WAITS,
    WEIGHED_PARTLY,
    WITHDRAWN,
    Standing,
)
from checker.report.amounts import Data
from checker.report.page import BOLD, DIM, GREEN, RED, YELLOW, Page
from checker.report.wording import BENEFIT, CAUTION, outcome_word

SHOWN = {
    FAILS: "FAILS",
    EXCLUDED: "EXCLUDED",
    IN_DOUBT: "IN DOUBT",
    UNSETTLED: "UNDECIDED",
    TO_JUDGE: "to judge",
    WEIGHED_PARTLY: "on scales",
    WAITS: "waiting",
    COMPLIES: "COMPLIES",
    WITHDRAWN: "withdrawn",
}
COLOURS = {
    FAILS: RED,
    EXCLUDED: RED,
    IN_DOUBT: RED,
    UNSETTLED: YELLOW,
    TO_JUDGE: YELLOW,
    WEIGHED_PARTLY: BOLD,
    COMPLIES: GREEN,
}

_WIDTHS = (6, 16, 11, 8)


def board_text(document: Data, page: Page, most: int | None = None, turn: int = 0) -> None:
    """The board: who is weighed, complies, fails, waits.

    Args:
        document: Of `meeting_document`.
        page: To print on.
        most: How many cars there is room for; None for all.
        turn: Which page of them it is the turn of, from 0; it begins anew behind the last.
    """
    heading = document["meeting"]
    unsound_text(document, page)
    state = "closed" if document["closed"] else "open"
    page.put(f"{heading['title']}, {heading['on']} ({state})", style=BOLD)
    page.put(tally_words(document))
    for words, style in notices(document):
        page.put(words, style=style)
    page.blank()
    page.columns(("CAR", "NAME", "STATUS", "WEIGHED", "WHAT"), _WIDTHS, DIM)
    cars = sorted(document["cars"], key=lambda car: STATUSES.index(car["status"]))
    pages = 1 if most is None else max(-(-len(cars) // most), 1)
    first = (turn % pages) * (most or 0)
    for car in cars[first : None if most is None else first + most]:
        page.columns(_cells(car), _WIDTHS, COLOURS.get(car["status"], ""), cut=1)
    if pages > 1:
        page.drawn(f"page {turn % pages + 1} of {pages}", DIM)


def _cells(car: Data) -> tuple[str, ...]:
    weighed = "" if car["status"] == WITHDRAWN else f"{car['weighings']}/{car['due']}"
    return car["number"], car["name"], SHOWN[car["status"]], weighed, what_words(car)


def what_words(car: Data) -> str:
    """What presses about a car: what it fails, what is open, what comes next."""
    if car["status"] == WITHDRAWN:
        return ""
    told: list[str] = []
    if car["doubt"]:
        told.append(f"{car['doubt']['gear']} failed a check: weigh again")
    told += [f"{fail['clause']} {fail['margin']}".strip() for fail in car["fails"]]
    told += [f"{ruled['clause']} {DECIDED[ruled['decision']]}" for ruled in car["rulings"]]
    told += [f"PROTEST {protest['clause']} (entry {protest['entry']})" for protest in car["protests"]]
    if car["open_because"]:
        told.append(car["open_because"])
    if car["unsettled"] and not car["fails"] and car["status"] != EXCLUDED:
        told.append(f"undecided: {', '.join(car['unsettled'])}")
    told += [defect_words(one["clause"], one["text"]) for one in car["defects"]]
    if car["next_step"] and not car["doubt"]:
        told.append(f"next {car['next_step']}")
    if car["late"]:
        told.append("late entry")
    return "; ".join(told)


DECIDED = {"stand": "upheld", "reject": "excluded", "allow": "allowed"}


_MANY = {FAILS: "fail", COMPLIES: "comply"}


def tally_words(document: Data) -> str:
    """How many cars stand where: "30 cars: 27 comply, 2 fail"."""
    cars = len(document["cars"])
    counts = [
        f"{number} {SHOWN[status].lower() if number == 1 or status not in _MANY else _MANY[status]}"
        for status, number in document["tally"].items()
    ]
    return f"{cars} car{'' if cars == 1 else 's'}: {', '.join(counts) or 'none entered'}"


def notices(document: Data) -> list[tuple[str, str]]:
    """What is wrong with the scales or the times, each with its style."""
    told: list[tuple[str, str]] = []
    for check in document["gear"]:
        if not check["good"]:
            pad = f", pad {check['pad'].replace('_', ' ')}," if check["pad"] else ""
            words = f"{check['gear']}{pad} shows {check['shown']} for {check['applied']} (allowed {check['allowed']})"
            told.append((f"SCALES: {words}", RED))
    told += [(f"SCALES: {words}.", RED) for words in document["gear_warnings"]]
    if not document["gear"]:
        told.append(("The scales have not been checked yet.", YELLOW))
    return told + [(f"TIME: {words}.", YELLOW) for words in document["times"][:_TIMES_TOLD]]


_TIMES_TOLD = 3


def results_text(document: Data, page: Page) -> None:
    """The results: every car with what was computed and what officials decided, and the hash to keep on paper."""
    heading = document["meeting"]
    unsound_text(document, page)
    provisional = "RESULTS, PROVISIONAL" if document["provisional"] else "RESULTS"
    page.put(f"{provisional}  {heading['title']}, {heading['on']}", style=BOLD)
    page.put(f"Judged by {heading['pack']} {heading['edition']}, sha256 {heading['pack_sha256'][:12]}.")
    page.put(f"Officials: {', '.join(heading['officials'])}.")
    if document["entries_since"]:
        since = document["entries_since"]
        page.put(f"As it stood at entry {document['last_entry']}; {since} came since.", style=YELLOW)
    if not document["closed"]:
        page.put("The meeting is not closed; this may change.", style=YELLOW)
    page.blank()
    page.put(tally_words(document))
    page.blank()
    for car in document["cars"]:
        style = COLOURS.get(car["status"], "")
        if page.draws:
            page.row(car["name"], SHOWN[car["status"]], style=style, label=car["number"])
        else:
            page.columns((car["number"], car["name"], SHOWN[car["status"]]), _WIDTHS[:2], style, cut=1)
        for fail in car["fails"]:
            page.row(f"{fail['clause']} {fail['title']}", fail["margin"], indent=6, hang=10)
        if car["weights"]:
            told = ", ".join(_margin_words(one) for one in car["weights"])
            page.put(f"margins on the scales: {told}", 6, 10)
        if car["entrants_word"]:
            page.put(f"on the entrant's word: {car['entrants_word']} clauses", 6, 10)
        if car["unsettled"]:
            page.put(f"undecided: {', '.join(car['unsettled'])}", 6, 10)
        if car["open_because"]:
            page.put(f"open: {car['open_because']}", 6, 10)
        for one in car["defects"]:
            page.put(defect_words(one["clause"], one["text"]), 6, 10)
        for protest in car["protests"]:
            page.put(protest_words(protest), 6, 10)
        for ruled in car["rulings"]:
            words = f"clause {ruled['clause']} {DECIDED[ruled['decision']]} by an official: {ruled['reason']}"
            page.put(f"{words} (computed: {outcome_word(ruled['computed'], 'official')})", 6, 10)
        if car["doubt"]:
            page.put(
                f"weighed on {car['doubt']['gear']} that failed a check (entry {car['doubt']['check']})",
                6,
                10,
            )
    page.blank()
    record_text(document, page, whole=True)
    page.blank()
    page.put(CAUTION, style=DIM)


def _margin_words(told: Data) -> str:
    doubt = f" ({BENEFIT})" if told["benefit_of_doubt"] else ""
    return f"{told['clause']} {told['margin']}{doubt}"


def defect_words(clause: str, text: str) -> str:
    """A defect that is open, with its clause where it names one."""
    return f"open defect: {clause} {text}".replace(":  ", ": ")


def left_words(one: Standing) -> str:
    """A car of which something is open when the meeting is closed, and the open defects that leave it so."""
    told = [
        defect_words(r.content.clause, r.content.text)
        for r in one.defects
        if r.content.clause in one.unsettled
    ]
    return f"{SHOWN[one.status]} ({'; '.join(told)})" if told else SHOWN[one.status]


def protest_words(protest: Data) -> str:
    """A protest that is unanswered."""
    by = f" by car {protest['by_car']}" if protest["by_car"] else ""
    return f"PROTEST unanswered{by}, clause {protest['clause']} (entry {protest['entry']}): {protest['text']}"


def unsound_text(document: Data, page: Page) -> None:
    """Over everything that is printed from a record that is not sound: that it is not, and where."""
    for fault in document["faults"][:_FAULTS_TOLD]:
        page.put(f"RECORD NOT SOUND: {fault['code']} {fault['message']}", 0, 2, f"{BOLD};{RED}")
    more = len(document["faults"]) - _FAULTS_TOLD
    if more > 0:
        page.put(f"... and {more} more; see `meeting verify`.", 2)
    if document["faults"]:
        page.put("Nothing below may be relied on.", style=RED)
        page.blank()


_FAULTS_TOLD = 5


def record_text(document: Data, page: Page, *, whole: bool = False) -> None:
    """Where the record stands, with its hash as it is typed for `meeting verify --hash`."""
    page.put(
        f"Record: entry {document['last_entry']}, hash {printed(document['last_hash'], 64 if whole else 20)}"
    )
