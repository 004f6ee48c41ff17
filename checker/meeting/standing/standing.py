"""Where each car stands: what the board shows, what a result says, and what is to be done with the car next.

All of it comes from what is recorded, without judging anything again: a verdict that something newer bears on is shown
as waiting to be judged, never as it was.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS, TOO_CLOSE
from checker.meeting.record.car_contents import (
    ALLOW,
    REJECT,
    SCRUTINEERING,
    STAND,
    Judged,
    Noted,
    Protested,
    Ruled,
)
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.session.gear import DoubtedWeighing, doubts
from checker.meeting.session.procedure import Step
from checker.meeting.session.session import Meeting
from checker.pack.model import ADVISORY
from checker.quantities.folding import fold
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field

WAITS, WEIGHED_PARTLY, TO_JUDGE = "waits", "on the scales", "to be judged"
IN_DOUBT, FAILS, UNSETTLED, COMPLIES, WITHDRAWN = "in doubt", "fails", "unsettled", "complies", "withdrawn"
EXCLUDED = "excluded"
STATUSES = (FAILS, EXCLUDED, IN_DOUBT, UNSETTLED, TO_JUDGE, WEIGHED_PARTLY, WAITS, COMPLIES, WITHDRAWN)
"""The most pressing first."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Where one car stands."""

    car: str
    name: str
    status: str
    """One of `STATUSES`, officials' rulings taken in: one that excludes settles the car, weighed or not."""
    computed: str
    """"yes", "no", "open", or "" where nothing was computed since the last change."""
    _: KW_ONLY
    failing: tuple[str, ...] = ()
    """Clauses that it fails, rulings taken in."""
    unsettled: tuple[str, ...] = ()
    """Clauses that are too close to call or not shown, or have an open defect that no ruling answers."""
    defects: tuple[Record[Noted], ...] = ()
    """Defects that are open, with a clause or without."""
    margins: Mapping[str, str] = field(default_factory=dict)
    """Margins of the clauses it fails, exact, as recorded: "93/20 kg"."""
    rulings: tuple[Ruled, ...] = ()
    weighings: int = 0
    due: int = 0
    doubt: DoubtedWeighing | None = None
    """A weighing that a bad check of the gear puts in doubt."""
    next_step: str = ""
    late: bool = False
    open_because: str = ""
    """Why the weighings settle nothing, where they do not."""
    protests: tuple[Record[Protested], ...] = ()
    """Those that no ruling has answered."""
    occasion: str = SCRUTINEERING
    in_tally: str = ""
    """The status that the record's tally counts the car under, which knows no exclusion and no defect."""


def standings(meeting: Meeting) -> list[Standing]:
    """Where every car stands, in the order entered."""
    doubted = {fold(doubt.car): doubt for doubt in doubts(meeting.day)}
    return [standing(meeting, car, doubted.get(fold(car.number))) for car in meeting.day.cars.values()]


def standing_of(meeting: Meeting, car: CarDay) -> Standing:
    """Where one car stands, with what a bad check of the gear puts in doubt."""
    return next(one for one in standings(meeting) if one.car == car.number)


def standing(meeting: Meeting, car: CarDay, doubt: DoubtedWeighing | None) -> Standing:
    """Where one car stands."""
    occasion = car.latest_occasion()
    weighings = len(car.weighings(occasion))
    due = meeting.procedure.weighings_on(occasion == SCRUTINEERING)
    judged = meeting.day.last_judged(car)
    rulings = car.rulings()
    failing, unsettled = _settled(meeting, judged, {n: r.content for n, r in rulings.items()})
    status = _status(car, weighings, due, judged, failing, unsettled, doubt)
    defects = tuple(record for record in car.open_notes() if record.content.topic == "defect")
    waiting = _with_defects(meeting, judged, rulings, defects)
    unsettled += tuple(n for n in waiting if n not in (*failing, *unsettled))
    excluded = not car.withdrawn and any(r.content.decision == REJECT for r in rulings.values())
    return Standing(
        car=car.number,
        name=car.name,
        status=EXCLUDED if excluded else UNSETTLED if status == COMPLIES and unsettled else status,
        computed=judged.complies if judged else "",
        failing=failing,
        unsettled=unsettled,
        defects=defects,
        margins={n: judged.margins[n] for n in failing if judged and n in judged.margins},
        rulings=tuple(record.content for record in rulings.values()),
        weighings=weighings,
        due=due,
        doubt=doubt,
        next_step="" if car.withdrawn or excluded else next_step(meeting, car, doubt),
        late=car.entered.content.late,
        open_because=judged.doubt if judged else "",
        protests=tuple(car.open_protests()),
        occasion=occasion,
        in_tally=status,
    )


def tally(found: list[Standing]) -> dict[str, int]:
    """How many cars stand where, without what is nowhere."""
    return _counted(one.status for one in found)


def recorded_tally(found: list[Standing]) -> dict[str, int]:
    """The same as a closing records it and verification works it out again: by `Standing.in_tally`."""
    return _counted(one.in_tally for one in found)


def _counted(statuses: Iterable[str]) -> dict[str, int]:
    counted = Counter(statuses)
    return {status: counted[status] for status in STATUSES if counted[status]}


def _settled(
    meeting: Meeting, judged: Judged | None, rulings: Mapping[str, Ruled]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Clauses that fail, and those that are open, once officials' rulings are taken in; advice never counts."""
    if judged is None:
        return (), ()
    outcomes = {
        number: standing_with(rulings.get(number), outcome)
        for number, outcome in judged.outcomes.items()
        if (clause := meeting.pack.clauses.get(number)) is None or clause.severity != ADVISORY
    }
    failing = tuple(number for number, outcome in outcomes.items() if outcome == FAIL)
    return failing, tuple(n for n, outcome in outcomes.items() if outcome in (TOO_CLOSE, NOT_SHOWN))


def _with_defects(
    meeting: Meeting,
    judged: Judged | None,
    rulings: Mapping[str, Record[Ruled]],
    defects: Iterable[Record[Noted]],
) -> tuple[str, ...]:
    """Clauses with an open defect on which nothing was ruled since, once the car is judged; advice never counts."""
    clauses = meeting.pack.clauses if judged is not None else {}
    return tuple(
        dict.fromkeys(
            number
            for record in defects
            if (number := record.content.clause) in clauses
            and clauses[number].severity != ADVISORY
            and (number not in rulings or rulings[number].number < record.number)
        )
    )


def complies(computed: bool | None, one: Standing) -> bool | None:
    """Whether a car complies as it stands: as computed, or None where it is left to an official all the same."""
    return None if computed and one.unsettled else computed


def standing_with(ruled: Ruled | None, outcome: str) -> str:
    """What a clause comes to once an official has decided: the computed outcome, or what takes its place in a result.

    Returns:
        The outcome itself where it stands; `PASS` where a breach is allowed; `FAIL` where the car is rejected.
    """
    if ruled is None or ruled.decision == STAND:
        return outcome
    return PASS if ruled.decision == ALLOW else FAIL


def _status(
    car: CarDay,
    weighings: int,
    due: int,
    judged: Judged | None,
    failing: tuple[str, ...],
    unsettled: tuple[str, ...],
    doubt: DoubtedWeighing | None,
) -> str:
    if car.withdrawn:
        return WITHDRAWN
    if not weighings:
        return WAITS
    if weighings < due:
        return WEIGHED_PARTLY
    if doubt is not None:
        return IN_DOUBT
    if judged is None:
        return TO_JUDGE
    if failing:
        return FAILS
    return UNSETTLED if unsettled else COMPLIES


def next_step(meeting: Meeting, car: CarDay, doubt: DoubtedWeighing | None) -> str:
    """What the procedure has the car do next; "" where every step is done."""
    if doubt is not None:
        return f"weigh again: {doubt.check.content.gear} failed a check"
    procedure = meeting.procedure
    occasion = car.latest_occasion()
    if occasion != SCRUTINEERING:
        missing = procedure.after_race_weighings - len(car.weighings(occasion))
        return f"weigh ({occasion})" if missing > 0 else ""
    for step in procedure.steps:
        left = _left(meeting, car, step)
        if left:
            return f"{step.name}: {left}"
    if not procedure.steps and len(car.weighings(occasion)) < procedure.weighings:
        return _weighing_left(meeting, car)
    return ""


def _left(meeting: Meeting, car: CarDay, step: Step) -> str:
    """What is left of a step."""
    if step.weighing:
        return _weighing_left(meeting, car)
    stated = {*car.facts(), *meeting.day.announced_for(car.number)}
    left = [number for number in step.clauses if not _looked_at(meeting, car, number, stated)]
    return f"clause{'s' if len(left) > 1 else ''} {', '.join(left)}" if left else ""


def _weighing_left(meeting: Meeting, car: CarDay) -> str:
    procedure = meeting.procedure
    done = len(car.weighings(SCRUTINEERING))
    if done >= procedure.weighings:
        return ""
    pads = f", pads {procedure.pads}" if done and procedure.pads != "as marked" else ""
    return f"weighing {done + 1} of {procedure.weighings}{pads}"


def _looked_at(meeting: Meeting, car: CarDay, number: str, stated: set[str]) -> bool:
    """Whether an official has seen the clause, or stated something that it looks at."""
    if number in car.seen():
        return True
    return not meeting.pack.clauses[number].looks_at.isdisjoint(map(_without_entry, stated))


def _without_entry(name: str) -> str:
    """`components.front discs.thickness` as a clause names it: `components.thickness`."""
    first, _, rest = name.partition(".")
    return f"{first}.{rest.rpartition('.')[2]}"
