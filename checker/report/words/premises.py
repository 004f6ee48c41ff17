"""What a verdict rests on beside what is stated, in sentences without their full stop."""

from __future__ import annotations

from checker.car.described.vocabulary import ORGANISER
from checker.car.premises import (
    ApprovalNote,
    Believed,
    ErrorFree,
    GearTaken,
    OfApproval,
    OfGear,
    Premise,
    Taken,
    TakenAs,
    WhatIf,
)
from checker.report.words.amounts import statement_words, value_words
from checker.report.words.error_free import error_free_words
from checker.report.words.findings import unknown_words
from checker.report.words.remarks import remark_words

_OF_GEAR: dict[OfGear, str] = {
    OfGear.DOUBT_WIDENS: "pads that are in doubt are taken to be out by as much as they differ",
    OfGear.CORRECTED: "the readings are corrected by the offsets that are stated for it",
    OfGear.NO_COMMON_ERROR: "common_error is taken as none, as it is not stated; no swap shows a scale that is out by"
    " the same part on all",
    OfGear.TWO_WEIGHINGS: "two weighings hardly tell how they scatter, and up to 8 in 100 lie beyond where 5 should:"
    " weigh a third time",
}
_TIMES = {2: "twice", 4: "four times"}
_BOARDS = "; without boards as high under the other wheels they show too little"


def premise_words(premise: Premise) -> str:
    """A premise as a sentence without its full stop."""
    match premise:
        case TakenAs():
            return " is taken as ".join(taken_words(premise)) + _WHY[premise.what]
        case Believed(name, written, stated_by):
            says = f"{written}, as" if written else "as"
            by = "the organiser states it" if stated_by == ORGANISER else "an official states it"
            return f"{name} is {says} the car's own file says; {by}"
        case GearTaken():
            return _gear_taken(premise)
        case WhatIf(what, moves_loads, since):
            follows = (
                "; its weight is worked out by the lever rules, and nobody has weighed the car so"
                if moves_loads
                else ", and the loads stay as weighed: how they would move with the wheels is not predicted"
            )
            return f"{'since the weighing' if since else 'what if'}: {statement_words(what)}{follows}"
        case ErrorFree(names):
            return f"no error is stated of {', '.join(error_free_words(names))}: taken as exact"
        case ApprovalNote():
            return _approval_words(premise)
        case remark:
            return remark_words(remark)[0]


def _gear_taken(taken: GearTaken) -> str:
    gear = taken.gear
    match taken.how:
        case OfGear.THE_PACKS:
            return f"the car is taken as weighed on {gear}, the rules' own, as no instrument is stated"
        case OfGear.ONE_PLATE:
            counts = f"what it is out by counts {_TIMES[len(taken.loads)]} in the total"
            return f"{gear}: one plate stood under {_listed(taken.loads)} in turn: {counts}{_BOARDS}"
        case OfGear.PADS_IN_TURN:
            counts = "what each is out by counts twice in the total"
            return f"{gear}: two pads stood under the four wheels in turn: {counts}{_BOARDS}"
        case OfGear.PLATES_APART:
            says = f"{gear}: {_listed(taken.loads)} are taken as read on a plate each, as no pads are named"
            named = ", ".join(f"{load}: plate" for load in taken.loads)
            return f"{says}; of one plate under both in turn the error counts twice: say pads: {{{named}}}"
        case OfGear.TESTED_TOO_LIGHT:
            weight, bore = map(value_words, taken.tested or ())
            return f"{gear}: a test weight of {weight} does not prove {_listed(taken.loads)} at the {bore} that it bore"
        case how:
            return f"{gear}: {_OF_GEAR[how]}"


def _listed(names: tuple[str, ...]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


_MIDDLE = "the middle between its contact centres, its tyres being {} and {} wide"
_WHY: dict[Taken, str] = {
    Taken.FACT: ", as it is not stated",
    Taken.FIELD: " where it is not stated",
    Taken.FLOOR: ", as it is not stated",
    Taken.TRACK: ", a narrow one, as it is not known",
    Taken.WHEELBASE: ", a short one, as it is not known",
    Taken.CENTRE_LINE: ", as no offset of it is stated",
}


def taken_words(taken: TakenAs) -> tuple[str, str]:
    """What is taken, and as what: ("the floor under pads", "level to within 0.1 deg")."""
    value = taken.value if isinstance(taken.value, str) else value_words(taken.value)
    match taken.what:
        case Taken.FACT | Taken.FIELD:
            return taken.name, value
        case Taken.FLOOR:
            return f"the floor under {taken.name}", f"level to within {value}"
        case Taken.CENTRE_LINE:
            return f"the centre line at the {taken.name} axle", _MIDDLE.format(
                value, taken.right and value_words(taken.right)
            )
        case Taken.TRACK | Taken.WHEELBASE:
            return f"the {taken.what} on that floor", value


_TOO_BROAD: dict[OfApproval, str] = {
    OfApproval.NAMES_NO_CAR: "names no car",
    OfApproval.NO_LAST_DAY: "has no last day",
    OfApproval.TOO_BROAD: "names no car and has no last day",
}


def _approval_words(note: ApprovalNote) -> str:
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
