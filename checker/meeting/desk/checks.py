"""The desk for gauges, seals and papers: one car after the other, each thing of the procedure in its order.

What reads as it should takes one key (`=`), what is left for later none; every answer is on disk before the next thing
is asked. Going back to an answer and typing another records a correction.
"""

from __future__ import annotations

from collections.abc import Iterator

from checker.car.described.vocabulary import OFFICIAL, FactType
from checker.kinds.contract.check import walk
from checker.meeting.desk.conversation import CAR, MISTYPED, Conversation
from checker.meeting.record.car_contents import SCRUTINEERING, Noted
from checker.meeting.record.car_day import CarDay
from checker.meeting.record.refusal import refusal
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting
from checker.meeting.taking.measuring import Finding, measure, note
from checker.pack.model import Clause
from checker.reading.document import Document
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import dataclass

ITEM, DONE = "item", "done"
AS_IT_SHOULD = "="
"""What is typed where a thing reads as it is declared, or as it is entered in the log book."""


@dataclass(frozen=True, slots=True)
class CheckItem:
    """One thing to be measured, read or looked at on a car."""

    step: str
    """The station of the procedure."""
    clause: str
    title: str
    fact: FactType | None
    """What is measured or read; None where the clause is looked at as a whole."""
    expected: str
    """What is declared, or what it is to agree with; "" where nothing is."""


def items_of(meeting: Meeting, car: CarDay) -> tuple[CheckItem, ...]:
    """All that the procedure has officials measure, read and look at on a car, in its order; each fact once."""
    declaration, asked = meeting.declaration(car), set[str]()
    found: list[CheckItem] = []
    for step in meeting.procedure.steps:
        for number in step.clauses:
            clause = meeting.pack.clauses[number]
            facts = [fact for fact in _facts(meeting, clause) if fact.name not in asked]
            asked |= {fact.name for fact in facts}
            if not facts:
                found.append(CheckItem(step.name, number, clause.title, None, ""))
            for fact in facts:
                expected = _expected(declaration, clause, fact)
                found.append(CheckItem(step.name, number, clause.title, fact, expected))
    return tuple(found)


def _facts(meeting: Meeting, clause: Clause) -> list[FactType]:
    """The facts of a clause that officials read or measure with something."""
    named = (meeting.pack.vocabulary.facts.get(name) for name in sorted(clause.looks_at))
    return [
        fact
        for fact in named
        if fact is not None
        and (fact.stated_by == OFFICIAL or fact.measured_with)
        and not fact.name.startswith("weighing.")
    ]


def _expected(declaration: Document, clause: Clause, fact: FactType) -> str:
    """What the declaration states of a fact, or of the fact that the clause holds it to."""
    for name in (fact.name, *_held_to(clause, fact.name)):
        value = declaration.get(tuple(name.split(".")))
        if isinstance(value, list):
            return ", ".join(map(str, value))
        if value is not None and not isinstance(value, dict):
            return str(value)
    return ""


def _held_to(clause: Clause, name: str) -> Iterator[str]:
    for part in walk(clause.check):
        texts = [expression.text for _, expression in part.expressions()]
        if name in texts:
            yield from (text for text in texts if text != name)


class ChecksDesk(Conversation):
    """One official's round of cars with gauges and a list."""

    def __init__(self, meeting: Meeting, by: str, occasion: str = SCRUTINEERING) -> None:
        super().__init__(meeting, by)
        self.occasion = occasion
        self.items: tuple[CheckItem, ...] = ()
        self.at = 0
        """Which of the items is asked for."""
        self.answers: dict[int, str] = {}
        """What was answered, by the place of the item."""
        self.judgement: Judgement | None = None
        self._entries: dict[int, int] = {}

    @property
    def item(self) -> CheckItem:
        return self.items[self.at]

    def enter(self) -> None:
        if self.stage == CAR:
            self._car()
        elif self.stage == ITEM:
            if self.typed.strip() and self.typed != self.answers.get(self.at):
                self._record(self.typed.strip())
            self._go_to(self.at + 1)
        else:
            self._ask_for_a_car()

    def step_back(self) -> None:
        if self.stage == DONE or (self.stage == ITEM and self.at):
            self._go_to(self.at - 1)
        else:
            self._ask_for_a_car()

    def move(self, step: int) -> None:
        if self.stage != CAR:
            self._go_to(max(self.at + step, 0))

    def go_to_item(self, clause: str, fact: str) -> None:
        """To the thing that is asked for under a clause; a clause that is looked at as a whole names no fact.

        Raises:
            InputError: MT212, the procedure asks for no such thing.
        """
        for place, item in enumerate(self.items):
            if (item.clause, item.fact.name if item.fact else "") == (clause, fact):
                self._go_to(place)
                return
        raise refusal("MT212", f"the procedure has nothing looked at under clause {clause} {fact}".rstrip())

    def after_shown(self) -> None:
        """Record the verdict, once the round of a car is done."""
        if self.stage == DONE and self.answers and self.car is not None:
            try:
                self.meeting.judge_and_record(self.car, self.by)
            except InputError as error:
                self.problems = error.problems

    def _ask_for_a_car(self) -> None:
        self.next(CAR)
        self.car, self.items, self.at, self.judgement = None, (), 0, None
        self.answers, self._entries = {}, {}

    def _car(self) -> None:
        if not self.typed.strip():
            return
        car = self.take_car()
        self.items = items_of(self.meeting, car)
        self.car, self.judgement = car, self.meeting.judgement(car)
        self._go_to(0)

    def _go_to(self, place: int) -> None:
        self.at = min(place, len(self.items))
        self.stage = DONE if self.at == len(self.items) else ITEM
        self.typed = self.answers.get(self.at, "")

    def _record(self, typed: str) -> None:
        assert self.car is not None
        item, before = self.item, self._entries.get(self.at, 0)
        reason = MISTYPED if before else ""
        if item.fact is not None:
            value = item.expected if typed == AS_IT_SHOULD and item.expected else typed
            given = with_units(value, item.fact)
            finding = Finding(
                self.car.number, item.fact.name, given, self.occasion, corrects=before, reason=reason
            )
            number = measure(self.meeting, [finding], self.by, seen=self.seen)[0]
        else:
            seen = typed == AS_IT_SHOULD
            noted = Noted(
                car=self.car.number,
                occasion=self.occasion,
                topic="seen" if seen else "defect",
                text="" if seen else typed,
                clause=item.clause,
                state="" if seen else "open",
                corrects=before,
                reason=reason,
            )
            number = note(self.meeting, [noted], self.by)[0]
        self._entries[self.at], self.answers[self.at] = number, typed
        self.seen = number
        self.judgement = self.meeting.judgement(self.car)


def with_units(text: str, fact: FactType) -> str:
    """A value as typed, with the fact's own unit behind each bare number."""
    if fact.unit is None:
        return text
    parts = text.split(",") if fact.several else [text.replace(",", ".")]
    return ", ".join(f"{part.strip()} {fact.unit.name}" if _bare(part) else part.strip() for part in parts)


def _bare(text: str) -> bool:
    return text.strip().replace(".", "", 1).isdigit()
