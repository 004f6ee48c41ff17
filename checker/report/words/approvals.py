"""What is to be said of an approval, in a sentence without its full stop."""

from __future__ import annotations

from checker.car.premises import ApprovalNote, OfApproval
from checker.report.words.amounts import statement_words
from checker.report.words.findings import unknown_words

_TOO_BROAD: dict[OfApproval, str] = {
    OfApproval.NAMES_NO_CAR: "names no car",
    OfApproval.NO_LAST_DAY: "has no last day",
    OfApproval.TOO_BROAD: "names no car and has no last day",
}


def approval_words(note: ApprovalNote) -> str:
    """A note on an approval."""
    name = f"approval {note.reference}"
    many = "s" if len(note.names) > 1 else ""
    needless = f"without it, clause{many} {', '.join(note.names)} would not be breached"
    match note.what:
        case OfApproval.NO_REGISTER:
            return f"{name} is cited, but the pack has no register of approvals, so it has no effect"
        case OfApproval.NOT_IN_REGISTER:
            hint = f". {note.hint}" if note.hint else ""
            return f"{name} is cited, but the register does not have it{hint}"
        case OfApproval.FOR_OTHERS:
            return f"{name} is cited, but it is for car{many} {', '.join(note.names)}, so it has no effect"
        case OfApproval.ENDED | OfApproval.BEGINS:
            return f"{name} is cited, but it {note.what} on {note.day}"
        case OfApproval.NOT_SHOWN:
            return f"{name} is cited, but whether it applies is not known: {'; '.join(unknown_words(note.unknown))}"
        case OfApproval.DOES_NOT_APPLY:
            return f"{name} is cited, but does not apply: {statement_words(note.statement)} is false"
        case OfApproval.NOT_CITED:
            return f"{name} is for this car but is not cited, so it has no effect"
        case OfApproval.NOT_NEEDED:
            return f"{name} is cited but not needed: {needless}"
        case OfApproval.BROADER:
            return f"{name} is broader than needed: {needless}"
        case what:
            return f"{name} is too broad: it {_TOO_BROAD[what]}"
