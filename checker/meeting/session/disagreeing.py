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
from checker.quantities.display import decimal_text


def disagreements(basis: Basis, car: CarDay, occasion: str, read: Car) -> tuple[str, ...]:
    """Why the weighings of the set that counts settle nothing, each a clause of a sentence; none where they do.

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


def _unlike(basis: Basis, car: CarDay, weighings: Sequence[Record[Weighed]], read: Car) -> Iterator[str]:
    for at, record in enumerate(weighings):
        if not record.content.confirmed:
            for problem in unlike(basis, car, record.content, read, weighings[:at]):
                yield f"in entry {record.number} {problem.message}"


def _of_pads(reason: PadsDiffer | PadFailedCheck) -> Iterator[str]:
    """Why pads are in doubt, as it stands in a record: in kilograms, whatever is asked for on a screen."""
    if isinstance(reason, PadFailedCheck):
        yield f"the {_pad(reason.out.pad)} pad failed its check of {reason.out.check.when.words}"
        return
    if isinstance(reason.asked, Exchanged):
        yield f"reading {reason.asked.reading} repeats the first with {reason.asked.what} exchanged"
    elif reason.asked is not None:
        shown, first = (decimal_text(one.value, 2) for one in (reason.asked.shown, reason.asked.first))
        load = _pad(reason.asked.load)
        yield f"the {load} load of reading {reason.asked.reading} is {shown} kg, and {first} kg in the first"
    for one in reason.differences:
        by = decimal_text(one.kg, 2)
        out = "" if one.is_certain else "perhaps "
        yield (
            f"the {_pad(one.more)} pad shows {by} kg more than the {_pad(one.less)} pad under the same wheel:"
            f" {out}one of them is out of order"
        )


def _pad(name: str) -> str:
    return name.replace("_", " ")


def _differing(weighings: Sequence[Record[Weighed]], gear: Gear | None) -> Iterator[str]:
    """The greatest difference between weighings that the gear does not explain.

    Pads that stand as before show their own errors again, so one of their worst errors explains what two readings
    differ by; where they were exchanged, a side or an end is read by other pads, and it takes two.
    """
    loads = [{name: kg(text) for name, text in record.content.loads.items()} for record in weighings]
    exchanged = len({record.content.pads for record in weighings}) > 1
    worst: tuple[Fraction, str] | None = None
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
            shown = " and ".join(f"{decimal_text(value, 2)} kg" for value in values)
            least = decimal_text(explained, 2)
            words = f"the weighings differ: {name} {shown}, and measuring error explains {least} kg"
            worst = gap, words
    if worst is not None:
        yield worst[1]
