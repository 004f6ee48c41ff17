"""What was found, in a sentence."""

from __future__ import annotations

from fractions import Fraction

from checker.kinds.judging.assessment import NOT_APPLICABLE, PASS
from checker.kinds.judging.findings import (
    AgainstBound,
    All,
    AsFarAsKnown,
    BindsNot,
    Equal,
    Found,
    Guarded,
    Instead,
    InWords,
    MetOf,
    NearEdge,
    NoneOpen,
    NoneThere,
    NotFound,
    NotInForce,
    NotSo,
    Of,
    Offends,
    OtherSide,
    Unlimited,
    ValidUntil,
)
from checker.quantities.amount import Amount, Statement
from checker.quantities.kind import Unknown
from checker.report.words.amounts import distance_words, statement_words, value_words
from checker.report.words.units import shown_in

_NOT_APPLYING = "does not apply: "
_BEYOND: dict[str, str] = {PASS: "met", NOT_APPLICABLE: "it does not apply"}


def found_words(finding: Found | None) -> str:
    """A finding as a sentence without its full stop; "" for none."""
    match finding:
        case None:
            return ""
        case InWords(words):
            return words
        case AgainstBound():
            return _measured(finding)
        case Unlimited(what):
            return f"{what}: no limit" if what else "no limit"
        case Equal(what, value, wanted, met):
            return f"{what} is {value_words(value)}" + ("" if met else f", not {value_words(wanted)}")
        case Offends(_, owner):
            whose = f"{owner}: " if owner else ""
            return f"{whose}{named(finding)} is {'banned' if finding.banned else 'not allowed'}"
        case NotFound(words, so_far):
            listed = ", ".join(words)
            return f"not found so far: {listed}" if so_far else f"{listed} not found"
        case ValidUntil():
            return _valid(finding)
        case NotSo(statement):
            return f"not so: {statement_words(statement)}"
        case Guarded(statement, truth):
            return f"{_NOT_APPLYING}{statement_words(statement)} is {'true' if truth else 'false'}"
        case MetOf(met, count, at_least):
            if at_least:
                return f"{met} of at least {count} are met"
            return f"{f'at most {count}' if count else 'none'} may be met; {met} are met"
        case NoneOpen(ways):
            why = dict.fromkeys(filter(None, (found_words(way).removeprefix(_NOT_APPLYING) for way in ways)))
            return ": ".join(filter(None, ("none of the ways is open to this car", "; ".join(why))))
        case NoneThere(what, mode, chosen):
            of = f"{mode} of " if mode in ("pairs", "runs") else ""
            return f"there are no {of}{what}" + (" that this clause is about" if chosen else "")
        case NearEdge(edge, off, known):
            return f"{edge} is {_two_digits(off)} off the edge, and known to {_two_digits(known)} only"
        case OtherSide(outcome, beyond):
            return f"on the other side: {found_words(beyond) or _BEYOND.get(outcome, outcome)}"
        case NotInForce(since, until):
            return f"in force from {since}" if since else f"in force until {until}"
        case BindsNot(before):
            return f"does not bind cars from before {before.isoformat()}"
        case Instead(clause):
            return f"clause {clause} applies instead"
        case Of(item, one):
            return f"{item}: {found_words(one)}"
        case AsFarAsKnown(one, state):
            return f"as far as known: {found_words(one)}, {state}"
        case All(findings):
            return "; ".join(dict.fromkeys(filter(None, map(found_words, findings))))


def _measured(found: AgainstBound) -> str:
    distance = distance_words(found.margin, found.bound, upper=found.upper)
    words = f"{found.what} {value_words(found.value)} {distance}"
    if found.resolved:
        return words
    if found.margin.value < 0:
        return f"{words}, but by less than measuring error: the entrant has the benefit of the doubt"
    return f"{words}, but by less than measuring error: the rules ask for a proven pass"


def _valid(found: ValidUntil) -> str:
    gone = (found.day - found.last).days
    late = f", {gone} day{'' if gone == 1 else 's'} before {found.day.isoformat()}" if gone > 0 else ""
    return f"valid until {found.last.isoformat()}{late}"


def unknown_words(unknown: Unknown) -> list[str]:
    """What would settle something that is unknown, each a clause of a sentence."""
    return list(unknown.told(lambda part: value_words(part) if isinstance(part, Amount) else str(part)))


def penalty_words(penalty: str | Statement | Unknown) -> str:
    """What a breach costs."""
    if isinstance(penalty, Unknown):
        return f"cannot be worked out: {'; '.join(unknown_words(penalty))}"
    return statement_words(penalty)


def named(found: Offends) -> str:
    """A word with the family that it is banned by: "titanium (exotic)"."""
    return f"{found.word} ({found.family})" if found.family else found.word


def _two_digits(amount: Amount) -> str:
    """To two significant digits: enough for what is near."""
    unit = shown_in(amount.unit)
    factor = unit.factor if unit else Fraction(1)
    rounded = Fraction(f"{float(Fraction(amount.value) / factor):.2g}") * factor
    return value_words(Amount(rounded, amount.kind, unit))
