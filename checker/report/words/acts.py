"""What to do, in words."""

from __future__ import annotations

from checker.car.errors.cures import How
from checker.kinds.judging.acts import Act, Acts, Advice, Do, Room, Unresolved, Untried
from checker.kinds.judging.findings import Offends
from checker.report.words.amounts import least_words, margin_words, value_words
from checker.report.words.findings import found_words, named
from checker.report.words.remedies import remedy_words


def act_words(advice: Advice | None) -> str:
    """Advice as a phrase in the imperative; "" for none."""
    if advice is None:
        return ""
    if isinstance(advice, Acts):
        joint = ", or " if advice.any_one else "; "
        words = joint.join(dict.fromkeys(map(act_words, advice.acts)))
    else:
        words = _one(advice) + ("" if advice.do is Do.NOTHING_HELPS else _why(advice.unresolved))
        words += "".join(_short_of(room) for room in advice.short_of)
        if advice.enough is False and advice.do is not Do.NOTHING_HELPS:
            words += f", which is not enough {'by itself' if advice.do in _DEEDS else 'in every state'}"
        if advice.untried is not None and not (advice.remedy and advice.remedy.how is How.CORRECT_READING):
            words += _AS_FAR if advice.untried is Untried.OPEN else ", which was not tried"
    return f"{advice.item}: {words}" if advice.item and advice.item not in words else words


_DEEDS = (Do.CHANGE, Do.RENEW, Do.PROVIDE, Do.REPLACE, Do.MAKE_OF_ANOTHER, Do.REMOVE_OR_REPLACE)
"""What is done or not, no amount of it."""
_AS_FAR = ", as far as is known"


def _one(act: Act) -> str:
    amount = least_words(act.amount, act.most) if act.amount else ""
    if act.more:
        if act.amount is None or act.amount.value == 0:
            return f"{act.do} {act.what or 'it'}: on the limit is not enough"
        amount = f"more than {amount}"
    each = " each" if act.each else ""
    match act.do:
        case Do.MOVE:
            return f"move {amount} from {act.start} to {act.end}"
        case Do.ADD | Do.REMOVE:
            at = f" at the {act.end}" if act.end else ""
            return f"{act.do} {amount}{each}{at}"
        case Do.TAKE_OFF:
            return f"take off {amount}{each}"
        case Do.TAKE_READINGS:
            return f"take {amount} more reading{'' if amount == '1' else 's'} of {act.what.replace('_', ' ')}"
        case Do.BRING_NEARER:
            return f"bring {act.what} nearer together by {amount}"
        case Do.SHIFT_LOAD:
            return f"shift {amount} of load from the {act.start} wheels to the {act.end}, by the springs"
        case Do.FIT:
            return f"fit {amount} more"
        case Do.SPEND_MORE | Do.SPEND_LESS:
            return f"spend {amount} {act.do.removeprefix('spend_')}{each}"
        case Do.RAISE | Do.LOWER if act.what:
            return f"{act.do} {act.what} by {amount}{each}"
        case Do.RAISE | Do.LOWER:
            return f"bring it {'up' if act.do is Do.RAISE else 'down'} by {amount}{each}"
        case Do.NOTHING_HELPS:
            return _in_vain(act, amount)
        case _:
            return _without_amount(act)


def _in_vain(act: Act, amount: str) -> str:
    """Why no amount is enough, and by how much."""
    guarded = ", with measuring error" if act.unresolved is not None else ""
    if act.target:
        return f"no {act.what} settles it: its limits lie {amount} too near to each other for what can be measured"
    way = f"move between {act.start} and {act.end}" if act.start else "adding or removing"
    return f"no {way} helps: over its states the car varies by {amount} more than the limits allow{guarded}"


def _without_amount(act: Act) -> str:
    wanted = [value_words(one) for one in act.wanted]
    where = f" in {act.start}" if act.start else ""
    match act.do:
        case Do.CHANGE if act.further:
            return f"{act.what}: {wanted[0]} or {act.further}"
        case Do.CHANGE if act.wanted[0].kind.name == "truth":
            return f"{act.what}: {'make it so' if act.wanted[0].value else 'undo it'}"
        case Do.CHANGE:
            return f"{act.what}: make it {wanted[0]}"
        case Do.CHANGE_FROM:
            return f"{act.what}: make it another than {wanted[0]}"
        case Do.REPLACE:
            return f"replace {act.what} by {' or '.join(wanted)}{where}"
        case Do.REMOVE_OR_REPLACE:
            return f"remove or replace {_option(act)}{where}"
        case Do.MAKE_OF_ANOTHER:
            return f"make {act.start or 'it'} of something other than {_option(act)}"
        case Do.PROVIDE:
            few = act.amount is not None and act.amount.value < len(wanted)
            return f"provide {f'{value_words(act.amount)} of ' if few else ''}{', '.join(wanted)}"
        case Do.RENEW:
            return f"renew before {wanted[0]}"
        case Do.FIT_OR_DECLARE:
            return f"fit or declare {act.what}"
        case Do.GIVE_UP:
            few = "one" if act.amount is None or act.amount.value == 1 else value_words(act.amount)
            return f"give up {few} of: {_option(act)}"
        case Do.MEASURE:
            return remedy_words(act.remedy)
        case _:
            return act.what


def _option(act: Act) -> str:
    """What is given up or taken out, by name."""
    return ", ".join(
        one if isinstance(one, str) else named(one) if isinstance(one, Offends) else found_words(one)
        for one in act.options
    )


def _short_of(room: Room) -> str:
    return f"; clause {room.clause} leaves room for {margin_words(room.left).lstrip('+')} of ballast only"


def _why(unresolved: Unresolved | None) -> str:
    """Why the amount is more than the breach, and what else would settle the question."""
    if unresolved is None:
        return ""
    words = f" to be clear of {'measuring error' if unresolved.whole else 'the errors that are stated'}"
    if unresolved.cure:
        return f"{words}; or {remedy_words(unresolved.cure)} (most of the doubt is {unresolved.mostly})"
    if unresolved.mostly:
        advice = f": {remedy_words(unresolved.advice)}" if unresolved.advice else ""
        return f"{words} (mostly {unresolved.mostly}{advice})"
    return words
