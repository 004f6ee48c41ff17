"""What is to be noticed of a car's weights and gear, in words, each with its cure."""

from __future__ import annotations

from checker.car.car import Car
from checker.car.described.accuracy_classes import AccuracyClass
from checker.car.gear.pad_checks import OutOfOrder
from checker.car.gear.pad_doubts import Exchanged, Mistyped, PadDifference, PadFailedCheck, PadsDiffer
from checker.car.remarks import Notice, Noticed, Remark, Remarked
from checker.quantities.amount import Amount, kilograms
from checker.quantities.display import show
from checker.quantities.rounding import round_to
from checker.reading.problems import Problem
from checker.report.words.amounts import value_words
from checker.report.words.units import shown_in

_BEYOND: dict[Noticed, str] = {
    Noticed.BEHIND: "behind the rear axle",
    Noticed.AHEAD: "ahead of the front axle",
    Noticed.OUTSIDE: "from the centre line, outside the wheels",
}


def car_warnings(car: Car) -> tuple[Problem, ...]:
    """All that is to be noticed of a car: what was found in its files, then what was found of weights and gear."""
    remarked = (_as_problem(one) for one in car.notes().remarks)
    return (*car.warnings, *remarked)


def _as_problem(remarked: Remarked) -> Problem:
    message, cure = remark_words(remarked.remark)
    return Problem(remarked.code, message, remarked.span, cure, warning=True)


def remark_words(remark: Remark) -> tuple[str, str]:
    """A remark as a sentence without its full stop, and its cure."""
    if isinstance(remark, Notice):
        return _notice(remark)
    message, cure = _differing(remark) if isinstance(remark, PadsDiffer) else _failed(remark)
    return f"{remark.gear}: {message}", cure


def _notice(told: Notice) -> tuple[str, str]:
    amount = "" if told.amount is None else value_words(told.amount)
    first, day = told.days or (None, None)
    calibrate = "have it calibrated, or measure with other gear"
    match told.what:
        case Noticed.OFFSETS_OF_NO_PAD:
            message = f"{told.name}: an offset is stated for {', '.join(told.names)}, which no reading names"
            return message, f"the readings name {', '.join(told.others)}"
        case Noticed.CHECKS_OF_NO_PAD:
            message = f"{told.name}: checks are stated of {', '.join(told.names)}, which no reading names"
            return message, f"the readings name {', '.join(told.others)}"
        case Noticed.BEYOND_CLASS:
            made_for = "" if told.accuracy is None else _made_for(told.accuracy)
            message = f"{told.name}: a load of {amount} is more than {made_for}"
            return message, "correct the class or the interval"
        case Noticed.CALIBRATION_OVER:
            return f"{told.name}: its calibration ran out on {first}, before {day}", calibrate
        case Noticed.NOT_YET_CALIBRATED:
            return f"{told.name}: it was not calibrated until {first}, after {day}", calibrate
        case Noticed.SAME_FACTOR:
            much = "little" if amount.startswith("-") else "much"
            much = f"{amount.lstrip('-')} too {much}"
            if len(told.names) == 1:
                message = f"{told.name}: by its checks {told.names[0]} shows {much} under every load"
                return (
                    message,
                    "the whole weighing has that error; weigh on other gear, or have it calibrated",
                )
            message = f"{told.name}: by their checks {', '.join(told.names)} all show {much}"
            return message, "no swap shows that; weigh on other gear, or have the set calibrated as one"
        case Noticed.BEHIND | Noticed.AHEAD | Noticed.OUTSIDE:
            message = f"{told.name} lies {_whole(told.amount)} {_BEYOND[told.what]}"
            return message, "places are measured from an axle, and sideways from the centre line"
        case Noticed.PARTS_ABOVE_WHOLE:
            whole = f"more than the whole car on its pads, {value_words(told.whole)}"
            message = f"the parts, ballast, fuel and driver that are stated weigh {amount} together, {whole}"
            return message, "check their masses and counts; what was not on the car does not belong here"
        case Noticed.NO_SUCH_HEIGHT:
            message = f"centre_of_gravity.raised: it comes out {_whole(told.amount)} above the ground"
            return message, "check which axle was raised, by how much, and what the other carried"


def _made_for(accuracy: AccuracyClass) -> str:
    interval, most = (value_words(kilograms(kg)) for kg in (accuracy.interval_kg, accuracy.most_kg))
    return f"class {accuracy.name} with an interval of {interval} is made for, {most}"


def _failed(reason: PadFailedCheck) -> tuple[str, str]:
    out = reason.out
    at = f"under {_hundredths(reason.under)}" if reason.under.value else "with nothing on it"
    much = f"{_hundredths(reason.error)} too {'much' if reason.error.value > 0 else 'little'}"
    message = f"the {_pad(out.pad)} pad showed {much} {at} on {out.check.when.words}, more than it may"
    return f"{message}: it is out of order {_time(out)}", "weigh again on good pads"


def _differing(reason: PadsDiffer) -> tuple[str, str]:
    asked = "" if reason.asked is None else _asked(reason.asked)
    if not reason.differences:
        return asked, "correct the reading if so"
    told = "; ".join(_difference(one) for one in reason.differences)
    which = f"the {_pad(reason.culprit)} pad" if reason.culprit else "one of them"
    verdict = f"{which} is out of order" if reason.is_certain else f"perhaps {which} is out of order"
    cure = "weigh again on good pads, or find the one that is out with a test weight"
    if not reason.is_certain:
        cure = "a car set down differently shows the same: roll it off and on again, or try a test weight"
    return f"{asked}; else {told}: {verdict}" if asked else f"{told}: {verdict}", cure


def _asked(asked: Exchanged | Mistyped) -> str:
    """What may have been typed wrong, before any pad is blamed."""
    if isinstance(asked, Exchanged):
        return (
            f"are {asked.what} exchanged in reading {asked.reading}, as if it had been entered by pad and not by wheel?"
            f" Exchanged, it repeats the first to within {_hundredths(asked.within)}"
        )
    shown, first = _hundredths(asked.shown), _hundredths(asked.first)
    load = f"the {_pad(asked.load)} load of reading {asked.reading}"
    return f"were all digits typed of {load}? It is {shown}, and {first} in the first"


def _difference(one: PadDifference) -> str:
    kg, allowed, most = (_hundredths(kilograms(x)) for x in (one.kg, one.allowed_kg, one.most_kg))
    explained = most if one.is_certain else f"{allowed}, at the very most {most}"
    return (
        f"the {_pad(one.more)} pad shows {kg} more than the {_pad(one.less)} pad under the same wheel,"
        f" and their stated errors explain {explained}"
    )


def _time(out: OutOfOrder) -> str:
    """For how long: "since its last good check on 2026-05-03 08:40"."""
    since = (
        "and has no good check before"
        if out.since is None
        else f"since its last good check on {out.since.words}"
    )
    return since if out.until is None else f"{since}, until that on {out.until.words}"


def _pad(name: str) -> str:
    return name.replace("_", " ")


def _hundredths(amount: Amount) -> str:
    """The size of a mass to 0.01 of its unit, as near as may be."""
    unit = shown_in(amount.unit)
    assert unit is not None
    return show(round_to(abs(amount.value), unit.factor / 100, "half_even"), unit)


def _whole(amount: Amount | None) -> str:
    """A length that need not be told finely: what has no end of decimals to a whole unit."""
    unit = None if amount is None else shown_in(amount.unit)
    assert amount is not None
    assert unit is not None
    return show(amount.value, unit, 0)
