"""Takes in another copy of this record that was carried on elsewhere, as on a second laptop.

What only one side was concerned with goes on. Where both had gone on about one thing, such as a car or a pad, an
official rules with a reason which side stands, or that both do. The other side's entries come whole and in their order,
each with its own time; what is ruled out stays in the record and does not count. All of it is recorded in one go.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from checker.meeting.record.car_contents import Judged, Protested
from checker.meeting.record.car_day import Record
from checker.meeting.record.chain import RecordEntry, parsed
from checker.meeting.record.content_form import NotReadable
from checker.meeting.record.contents import CORRECTABLE, HERE, SIDES, THERE, Brought, Content, Merged, Struck
from checker.meeting.record.day import Day
from checker.meeting.record.refusal import refusal
from checker.meeting.record.schema import texts_in
from checker.meeting.record.store import Store
from checker.meeting.session.rules import Rules
from checker.meeting.session.session import Meeting
from checker.meeting.standing.verifying import verify
from checker.meeting.taking.subjects import CLOSING, by_subject, difference, standing_entry, subject
from checker.quantities.folding import fold
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace

ALL = "all"
"""Rules on whatever is not ruled on by its name."""


@dataclass(frozen=True, slots=True)
class SideRuling:
    """What an official decided where both sides had gone on about one thing."""

    side: str
    """One of `SIDES`."""
    reason: str


class NotRuledOn(InputError):
    """Both sides had gone on about these things, and nobody has ruled which stands."""

    def __init__(self, about: Sequence[str], problems: Sequence[Problem]) -> None:
        super().__init__(problems)
        self.about = tuple(about)
        """What each problem is about, as a ruling names it."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What a merge took in."""

    parted: int
    """The last entry that both records had."""
    brought: int
    left: int
    """How many of these do not count here."""


def merge(
    meeting: Meeting, by: str, other: str, rulings: Mapping[str, SideRuling], *, called: str = ""
) -> TakenIn:
    """Take in another copy of this record; on disk when this returns.

    Args:
        meeting: Open for work.
        by: Initials of the official who merges and rules.
        other: The file of the other record.
        rulings: By what they are about, as the refusal names it, or `ALL`.
        called: What the record says of where it came from; "" for its file's name.

    Raises:
        InputError: MT221 it is no such copy, is not sound or has nothing new; MT222, what is still
            to be ruled on, or a ruling on what does not differ; MT101 to MT109, MT202, MT206.
    """
    _refuse_no_side(rulings)
    found = verify(other)
    if not found.sound:
        message = f"'{other}' is not sound: {found.faults[0].message}"
        raise refusal("MT221", message, "verify it; merge the newest copy that is sound")
    with Meeting.open(other, writing=False) as there:
        if there.day.hash != found.hash:
            raise refusal("MT221", f"'{other}' has just been added to", "merge it when nobody records in it")
        entries, signed = there.store.entries(), there.store.signatures()
        files = _files_of(there.store, entries)
        plans: list[_Plan] = []

        def decide(day: Day) -> Sequence[Content]:
            plans[:] = [_Plan(meeting, by, day, there.day, entries=entries, signed=signed, rulings=rulings)]
            return plans[0].contents(called or other)

        meeting.record(by, decide, files)
    cars = [meeting.day.car(number) for number in plans[0].judged]
    for car in cars:
        if car is not None and not car.withdrawn and meeting.day.last_judged(car) is None:
            meeting.judge_and_record(car, by)
    brought = plans[0].brought
    return TakenIn(plans[0].parted, len(brought), sum(bool(one.left) for one in brought))


def _refuse_no_side(rulings: Mapping[str, SideRuling]) -> None:
    for about, ruling in rulings.items():
        if ruling.side not in SIDES:
            raise refusal("MT222", f"'{ruling.side}' is no side", f"one of: {', '.join(SIDES)}")
        if not ruling.reason.strip():
            raise refusal("MT206", f"why '{about}' is ruled so is not said", "give a reason")


def _files_of(store: Store, entries: Sequence[RecordEntry]) -> list[bytes]:
    """Every file that the entries brought."""
    named = {text for entry in entries for text in texts_in(parsed(entry.content))}
    kept = store.files()
    return [kept[digest] for digest in sorted(named & kept.keys())]


@dataclass(slots=True)
class _Plan:
    """What a merge would record as the day stands."""

    meeting: Meeting
    by: str
    day: Day
    there: Day
    _: KW_ONLY
    entries: Sequence[RecordEntry]
    """Of the other record."""
    signed: Mapping[int, str]
    rulings: Mapping[str, SideRuling]
    parted: int = 0
    brought: list[Brought] = field(default_factory=list)
    judged: set[str] = field(default_factory=set)
    """Cars that were judged there."""

    def contents(self, file: str) -> list[Content]:
        """What is to be recorded.

        Raises:
            InputError: MT221, MT222.
        """
        came = self._came()
        coming = [self._record(entry) for entry in came]
        here, there = by_subject(self._since_here(), self.day), by_subject(coming, self.there)
        self.judged = {r.content.car for r in coming if isinstance(r.content, Judged)}
        differing = {
            about
            for about, records in there.items()
            if about == CLOSING
            or (about in here and not all(standing_entry(r.content, here[about]) for r in records))
        }
        while True:
            ruled = {about: ruling for about in differing if (ruling := self._ruling(about)) is not None}
            struck = list(self._struck(here, ruled))
            head = Merged(
                file,
                came[-1].hash,
                len(came),
                {about: f"{r.side}: {r.reason}" for about, r in sorted(ruled.items())},
            )
            refused = self._try([*struck, head], came, coming, here, ruled)
            if differing.issuperset(refused):
                break
            differing |= refused.keys()
        open_yet = [about for about in sorted(differing) if about in refused or about not in ruled]
        if open_yet:
            raise NotRuledOn(
                open_yet,
                [difference(a, here.get(a, ()), there.get(a, ()), refused.get(a, "")) for a in open_yet],
            )
        self._refuse_idle(differing)
        return [*struck, head, *self.brought]

    # -- what each side has that the other has not -------------------------------------------------------

    def _came(self) -> list[RecordEntry]:
        known = {
            *self.day.branches.own,
            *(e.hash for b in self.day.branches.tips.values() for e in b.entries),
        }
        if not self.entries or self.entries[0].hash not in known:
            raise refusal("MT221", "the other is the record of another meeting", "name a copy of this record")
        came = [entry for entry in self.entries if entry.hash not in known]
        if not came:
            raise refusal("MT221", "this record has all that the other has", "there is nothing to merge")
        if any(entry.kind in (Merged.KIND, Brought.KIND) for entry in came):
            hint = "merge this one into that one instead, and work on with that one"
            raise refusal("MT221", "the other record has taken in a third", hint)
        self.parted = max(self.day.branches.own.get(entry.hash, 0) for entry in self.entries)
        return came

    def _since_here(self) -> list[Record[Content]]:
        """What stands in this record and not in the other."""
        there = {entry.hash for entry in self.entries}
        own = {number: hash_hex for hash_hex, number in self.day.branches.own.items()}
        brought = {
            n: e.hash
            for b in self.day.branches.tips.values()
            for n, e in zip(b.numbers, b.entries, strict=True)
        }
        found = [r for r in self.day.records() if {own[r.number], brought.get(r.number)}.isdisjoint(there)]
        if not found:
            hint = "work on with that one; it is this one carried on"
            raise refusal("MT221", "nothing was recorded here since the other was copied", hint)
        return found

    def _record(self, entry: RecordEntry) -> Record[Content]:
        record = self.there.record(entry.number)
        assert record is not None
        return record

    def _ruling(self, about: str) -> SideRuling | None:
        return next((r for a, r in self.rulings.items() if fold(a) == fold(about)), self.rulings.get(ALL))

    def _struck(
        self, here: Mapping[str, Sequence[Record[Content]]], ruled: Mapping[str, SideRuling]
    ) -> Iterator[Struck]:
        """What counts here no longer since the other side stands; what both had before stays as it was corrected."""
        for about, ruling in ruled.items():
            if ruling.side == THERE:
                since = {record.number for record in here.get(about, ())}
                for record in here.get(about, ()):
                    root = record
                    while corrected := self.day.record(getattr(root.content, "corrects", 0)):
                        root = corrected
                    counts = self.day.gone_by(record.number) is None
                    if isinstance(record.content, CORRECTABLE) and counts and root.number in since:
                        yield Struck(record.number, ruling.reason)

    def _try(
        self,
        first: Sequence[Content],
        came: Sequence[RecordEntry],
        coming: Sequence[Record[Content]],
        here: Mapping[str, Sequence[Record[Content]]],
        ruled: Mapping[str, SideRuling],
    ) -> dict[str, str]:
        """Go through it on a copy of the day: what the rules refuse that nobody ruled out, and why."""
        day, rules = self.day.copy(), Rules(self.meeting)
        for content in first:
            _go_on(day, rules, self.by, content)
        refused: dict[str, str] = {}
        self.brought = []
        for entry, record in zip(came, coming, strict=True):
            about = subject(record.content, self.there)
            stands, ruling = standing_entry(record.content, here.get(about, ())), ruled.get(about)
            left = f"it stands here as entry {stands}" if stands else refused.get(about, "")
            if ruling is not None and ruling.side == HERE and not isinstance(record.content, Protested):
                left = ruling.reason
            brought = Brought(parsed(entry.text), entry.hash, self.signed.get(entry.number, ""), left)
            try:
                _go_on(day, rules, self.by, brought)
            except (InputError, NotReadable) as error:
                said = error.problems[0].message if isinstance(error, InputError) else str(error)
                refused[about] = said
                _go_on(day, rules, self.by, replace(brought, left=said))
            self.brought.append(brought)
        return refused

    def _refuse_idle(self, differing: set[str]) -> None:
        known = {fold(about) for about in differing} | {ALL}
        for about in self.rulings:
            if fold(about) not in known:
                what = ", ".join(sorted(differing)) or "nothing"
                raise refusal(
                    "MT222", f"the records do not differ about '{about}'", f"they differ about: {what}"
                )


def _go_on(day: Day, rules: Rules, by: str, content: Content) -> None:
    rules.refuse(day, by, content)
    day.go_on(Record(day.number + 1, day.latest_at, by, content, day.number + 1))
