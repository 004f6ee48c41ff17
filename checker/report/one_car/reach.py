"""What a car can reach by all that may be done to it: the document, its text and its picture."""

from __future__ import annotations

from fractions import Fraction

from checker.report.amounts import Data, begun, estimate, share_text
from checker.report.figure import Figure
from checker.report.figures.drawing import Drawing
from checker.report.figures.regions import region_notes, region_words
from checker.report.one_car.condition_table import limit_data
from checker.report.one_car.document import heading_data
from checker.report.one_car.not_reckoned import may_be_done, not_reckoned_words, put_lacking
from checker.report.one_car.plan import not_reckoned_data
from checker.report.page import DIM, YELLOW, Page
from checker.report.wording import CAUTION, car_words
from checker.studies.one_car.load_limits import limits_of
from checker.studies.planning.reach import Reach, Reached

_WIDTH, _HEIGHT, _EDGE = 520.0, 420.0, 56.0
_LOOKS = {"possible": "curve other", "legal": "limit"}


def reach_document(found: Reach) -> Data:
    """The document of what a car can reach."""
    return {
        **begun("reach"),
        **heading_data(found.plan.before),
        "now": point_data(found.now),
        "planned": None if found.planned is None else point_data(found.planned),
        **regions_data(found),
        "limits": [limit_data(one) for one in limits_of(found.plan.before) if one.of != "total"],
    }


def regions_data(found: Reach) -> Data:
    """Both regions by their corners, with what could not be reckoned with."""
    return {
        "possible": [point_data(one) for one in found.possible],
        "legal": [point_data(one) for one in found.legal],
        "whole": found.whole,
        **not_reckoned_data(found.plan),
    }


def point_data(one: Reached) -> Data:
    """A set-up by its shares, in percent."""
    return {"inside": estimate(100 * one.inside), "rear": estimate(100 * one.rear)}


def reach_text(document: Data, page: Page) -> None:
    page.heading(f"What {car_words(document)} can reach, as weighed")
    page.labelled("now", _words(document["now"], document), 15, 2)
    if document["planned"]:
        page.labelled("with a plan", _words(document["planned"], document), 15, 2)
    declined = document["declined"]
    lacking = any(one["not_shown"] for one in declined)
    by = " by what can be planned for" if declined and not lacking else ""
    for key, words in (
        ("possible", f"By all that {may_be_done(document)}"),
        ("legal", f"Legal{by}, clear of measuring error"),
    ):
        page.heading(words, capitals=True)
        if key == "legal" and lacking:
            page.put("Not known.", 2, style=YELLOW)
            put_lacking(document, page)
        elif not document[key]:
            page.put("Nothing.", 2)
        else:
            for what in ("inside", "rear"):
                ends = [one[what] for one in document[key]]
                least, most = (
                    share_text(what, Fraction(end(ends)), document["limits"]) for end in (min, max)
                )
                page.labelled(what, f"{least} to {most}", 13, 2)
            rows = [_shares(point, document) for point in document[key]]
            if not page.table([("inside", "rear"), *rows], 2):
                page.put("; ".join(_words(one, document) for one in document[key]), 2)
    for words in not_reckoned_words(document):
        page.put(words, 2, 4, style=YELLOW)
    if not document["whole"]:
        page.put(
            "The time was up before every direction was looked in; --seconds gives it more.", 2, style=YELLOW
        )
    page.blank()
    page.put(CAUTION, style=DIM)


def _words(point: Data, document: Data) -> str:
    inside, rear = _shares(point, document)
    return f"{inside} inside, {rear} rear"


def _shares(point: Data, document: Data) -> tuple[str, str]:
    inside, rear = (share_text(of, Fraction(point[of]), document["limits"]) for of in ("inside", "rear"))
    return inside, rear


def reach_figure(document: Data) -> Figure:
    """Both regions, where the car is and where a plan takes it."""
    points = [document["now"], *document["possible"], *document["legal"]]
    points += [document["planned"]] if document["planned"] else []
    lows = [min(point[key] for point in points) - 0.2 for key in ("inside", "rear")]
    highs = [max(point[key] for point in points) + 0.2 for key in ("inside", "rear")]

    def at(point: Data) -> tuple[float, float]:
        across = (point["inside"] - lows[0]) / (highs[0] - lows[0])
        up = (point["rear"] - lows[1]) / (highs[1] - lows[1])
        return _EDGE + across * (_WIDTH - 2 * _EDGE), _HEIGHT - _EDGE - up * (_HEIGHT - 2 * _EDGE)

    sheet = Drawing("reach", _WIDTH)
    sheet.rect("frame", _EDGE, _EDGE, _WIDTH - 2 * _EDGE, _HEIGHT - 2 * _EDGE)
    for key, look in _LOOKS.items():
        if document[key]:
            sheet.path(look, [at(point) for point in document[key]], closed=True)
    x, y = at(document["now"])
    sheet.cross("mark", x, y, 5)
    sheet.text("small", x + 8, y - 6, "now")
    if document["planned"]:
        x, y = at(document["planned"])
        sheet.circle("mark", x, y, 4)
        sheet.text("small", x + 8, y + 14, "planned")
    for value, across in ((lows[0], _EDGE), (highs[0], _WIDTH - _EDGE)):
        sheet.text("small", across, _HEIGHT - _EDGE + 16, f"{value:.1f} %", "middle")
    for value, down in ((lows[1], _HEIGHT - _EDGE), (highs[1], _EDGE)):
        sheet.text("small", _EDGE - 6, down + 4, f"{value:.1f} %", "end")
    sheet.text("", _WIDTH / 2, _HEIGHT - 14, "inside weight", "middle")
    sheet.text("", _EDGE, _EDGE - 14, "rear weight")
    words, notes = region_words(document), region_notes(document)
    for down, key in enumerate(_LOOKS):
        y = _HEIGHT + 18 * down
        if document[key]:
            sheet.line(_LOOKS[key], _EDGE, y - 4, _EDGE + 26, y - 4)
        sheet.text("small", _EDGE + 32, y, words[key], room=_WIDTH - _EDGE - 32)
    for down, note in enumerate(notes, 2):
        sheet.text("small", _EDGE + 32, _HEIGHT + 18 * down, note, room=_WIDTH - _EDGE - 32)
    rows = [(words[key], *_shares(point, document)) for key in _LOOKS for point in document[key]]
    rows.insert(0, ("now", *_shares(document["now"], document)))
    about = f"Shares of weight inside and on the rear. Broken line: {words['possible']}. Other line: {words['legal']}."
    about += "".join(f" {note[:1].upper()}{note[1:]}." for note in notes)
    height = _HEIGHT + 26 + 18 * len(notes)
    return sheet.done(height, f"What {car_words(document)} can reach", about, ("", "inside", "rear"), rows)
