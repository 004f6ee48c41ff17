"""How the meeting says no: one table of codes, one way to raise them.

A refusal is told before anything is written, so the record stays as it was. `CODES` is the whole list; the codes
are stable once released.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from checker.reading.problems import InputError, Problem, Span

CODES: Mapping[str, str] = MappingProxyType(
    {
        # the file
        "MT101": "there is no such meeting, or its folder cannot be reached",
        "MT102": "the file is not a meeting",
        "MT103": "a file of that name is there already",
        "MT104": "the disk is full",
        "MT105": "the file may not be written",
        "MT106": "another program holds the file",
        "MT107": "the disk or the file is damaged",
        "MT108": "the meeting was written by a newer program",
        "MT109": "the meeting was written by an older program and cannot be brought up to date here",
        # a procedure, mapping or results file as text, as for every file of the program
        "MT100": "the reader of such files is not installed",
        "MT110": "a file cannot be opened",
        "MT111": "a file is not UTF-8 text",
        "MT112": "a file is not YAML",
        "MT113": "a key is given twice",
        "MT114": "a tag",
        "MT115": "an anchor, alias or merge key",
        "MT116": "a directive or a second document",
        "MT117": "a file is too large or too deep",
        "MT118": "a number out of bounds",
        "MT119": "a key that is not text",
        "MT120": "a file is empty",
        "MT121": "a colon without a blank",
        # what officials ask for
        "MT201": "the meeting is closed",
        "MT202": "no official of that name is signed on",
        "MT203": "the car is not entered",
        "MT204": "the car is entered already",
        "MT205": "the car has withdrawn",
        "MT206": "a correction or a decision needs a reason",
        "MT207": "there is no such entry of the record, or it cannot be corrected",
        "MT208": "no such fact, or not to be stated here",
        "MT209": "a value cannot be read",
        "MT210": "a weighing does not fit the procedure or the ones before it",
        "MT211": "no such gear or pad",
        "MT212": "no such clause",
        "MT213": "the meeting's day, pack or officials are not stated",
        "MT214": "nothing to draw from",
        "MT215": "the frozen pack cannot be used",
        "MT216": "the meeting is open",
        "MT217": "a verdict is outstanding",
        "MT220": "an entry cannot be signed",
        "MT221": "two records cannot be merged, or an entry of another record is out of place",
        "MT222": "two records differ about one thing",
        "MT223": "a form was entered already, or bears no one-time number",
        "MT219": "a protest is unanswered",
        "MT218": "the car has changed since it was looked at",
        # procedure, mapping and results files: 250 to 269
        "MT250": "the procedure is of another formula or holds what is not known",
        "MT251": "the mapping holds what is not known",
        "MT252": "the results cannot be read",
        # tables from a spreadsheet
        "MT301": "the text's encoding is not known",
        "MT302": "the table has no heading or no rows",
        "MT303": "a column is missing or named twice",
        "MT304": "a cell holds a formula",
        "MT305": "a number can be read in two ways",
        "MT306": "a cell cannot be read",
        "MT307": "a day or time cannot be read, or is not of this meeting",
        "MT309": "the car has been weighed as often as the procedure says",
        "MT310": "a row stands twice",
        "MT311": "the file was imported before",
        "MT312": "the loads look as if the pads were swapped",
        "MT313": "the loads look unlike the car",
        "MT314": "the weighings of a car do not go together",
        # what verification finds
        "MT401": "an entry was changed",
        "MT402": "entries were taken away, put in or put in another order",
        "MT403": "a file kept in the record was changed, taken away or put in",
        "MT404": "the file is not as a meeting is kept: its protection was taken away, or it holds something else",
        "MT405": "the printed hash is not in the record",
        "MT406": "a verdict comes out otherwise than it was recorded",
        "MT407": "an entry says what no program of this kind writes",
        "MT408": "the database is damaged",
        "MT409": "the clock was set back",
        "MT412": "a signature is missing or is not the official's",
        "MT410": "an entry that could not have been recorded, or a record that is not sound",
    }
)


def problem(
    code: str,
    message: str,
    hint: str = "",
    span: Span | None = None,
    *,
    clause: str = "",
    warning: bool = False,
) -> Problem:
    """A problem of the meeting; its code must stand in `CODES`."""
    if code not in CODES:
        raise KeyError(code)
    return Problem(code, message, span, hint=hint, clause=clause, warning=warning)


def refusal(
    code: str, message: str, hint: str = "", span: Span | None = None, *, clause: str = ""
) -> InputError:
    """One problem as an error to raise."""
    return InputError([problem(code, message, hint, span, clause=clause)])
