"""Weighings of one car that do not go together: compared before they are averaged.

Where they differ by more than the gear explains, where pads disagree, or where the loads look as if they were read in
each other's places, no clause that looks at weights is settled until the car is weighed again, the reading is
corrected, or an official has looked and says why it is right all the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from checker.car.car import Car
from checker.car.gear.pad_doubts import Exchanged, PadFailedCheck, PadsDiffer
from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.session.basis import Basis
from checker.meeting.session.gear import Gear, kg
from checker.meeting.session.likeness import pairs_of, unlike
from checker.meeting.session.reasons import NotSettled
from checker.quantities.amount import Amount, kilograms
from checker.quantities.display import decimal_text
from checker.quantities.reason import Reason


def disagreements(basis: Basis, car: CarDay, occasion: str, read: Car) -> tuple[Reason, ...]:
    """Why the weighings of the set that counts settle nothing; none where they do.

    Args:
        basis: What the meeting is judged by.
        car: The car as the record has it.
        occasion: Whose weighings count.
        read: The same car as it is judged.
    """
    weighings = car.weighings(occasion)
    if not weighings:
        return ()
    return (
        *_differing(weighings, basis.gear.get(weighings[0].content.gear)),
        *(said for doubt in read.pad_doubts for said in _of_pads(doubt.reason)),
        *_unlike(basis, car, weighings, read),
    )


def _unlike(basis: Basis, car: CarDay, weighings: Sequence[Record[Weighed]], read: Car) -> Iterator[Reason]:
    for at, record in enumerate(weighings):
        if not record.content.confirmed:
            for reason in unlike(basis, car, record.content, read, weighings[:at]):
                yield Reason(NotSettled.IN_ENTRY, (record.number, reason))


def _of_pads(reason: PadsDiffer | PadFailedCheck) -> Iterator[Reason]:
    """Why pads are in doubt."""
    if isinstance(reason, PadFailedCheck):
        yield Reason(NotSettled.FAILED_CHECK, (_pad(reason.out.pad), reason.out.check.when.words))
        return
    if isinstance(asked := reason.asked, Exchanged):
        yield Reason(NotSettled.REPEATS_EXCHANGED, (asked.reading, asked.what))
    elif asked is not None:
        shown, first = _kg(asked.shown.value), _kg(asked.first.value)
        yield Reason(NotSettled.MISTYPED, (_pad(asked.load), asked.reading, shown, first))
    for one in reason.differences:
        why = NotSettled.OUT_OF_ORDER if one.is_certain else NotSettled.PERHAPS_OUT
        yield Reason(why, (_pad(one.more), _kg(one.kg), _pad(one.less)))


def _pad(name: str) -> str:
    return name.replace("_", " ")


def _kg(mass: Fraction) -> Amount:
    """To 0.01 kg where it has no end of decimals."""
    return kilograms(Fraction(decimal_text(mass, 2)))


def _differing(weighings: Sequence[Record[Weighed]], gear: Gear | None) -> Iterator[Reason]:
    """The greatest difference between weighings that the gear does not explain.

    Pads that stand as before show their own errors again, so one of their worst errors explains what two readings
    differ by; where they were exchanged, a side or an end is read by other pads, and it takes two.
    """
    loads = [{name: kg(text) for name, text in record.content.loads.items()} for record in weighings]
    exchanged = len({record.content.pads for record in weighings}) > 1
    worst: tuple[Fraction, Reason] | None = None
    for name in pairs_of(loads[0]):
        if name in loads[0] and len(loads[0]) > 2:
            continue  # one wheel alone: its pad is another where they were exchanged
        values = [pairs_of(one)[name] for one in loads]
        counted = [load for place, load in loads[0].items() if name in ("total", place, *place.split("_"))]
        explained = gear.allowance(*counted) if gear else Fraction(len(counted))
        if exchanged and name != "total":
            explained *= 2
        gap = max(values) - min(values)
        if gap > explained and (worst is None or gap > worst[0]):
            shown = tuple(part for value in values for part in (" and ", _kg(value)))[1:]
            worst = gap, Reason(NotSettled.DIFFER, (name, shown, _kg(explained)))
    if worst is not None:
        yield worst[1]
