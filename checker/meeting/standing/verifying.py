"""Verifies a record from itself alone: that nothing was changed, taken out, put in or moved, and that every verdict
comes out again from the frozen pack.

Three things are looked at: whether the record is whole (`checker.meeting.record.soundness`), whether each entry could
have been recorded at its place by the rules that took it (`checker.meeting.session.rules`), and, where that is so, what
was computed. A hash that was printed on a
slip or a result settles what a chain cannot show by itself: that no tail was cut and nothing was built anew.
"""

from __future__ import annotations

import os
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from checker.meeting.record.branches import Branch
from checker.meeting.record.car_contents import Judged, Ruled
from checker.meeting.record.car_day import CarDay, Record
from checker.meeting.record.chain import RecordEntry, RecordFault, faults
from checker.meeting.record.clock import oddities
from checker.meeting.record.content_form import NotReadable, read_content
from checker.meeting.record.contents import Closed
from checker.meeting.record.signing import signature_faults
from checker.meeting.record.soundness import flaws
from checker.meeting.record.store import Store
from checker.meeting.session.judging import Judgement
from checker.meeting.session.reading_rules import read_whole
from checker.meeting.session.ruling_rules import refuse_outstanding
from checker.meeting.session.session import Meeting, program_version
from checker.meeting.standing.imports import import_faults
from checker.meeting.standing.printed_hashes import Matched, hash_of_print, matched_by, not_printed
from checker.meeting.standing.standing import recorded_tally, standings
from checker.reading.problems import InputError
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

MOST_FAULTS = 200


@dataclass(frozen=True, slots=True)
class Verification:
    """What verification found."""

    path: str
    entries: int
    hash: str
    """Of the last entry; "" where there is none."""
    faults: tuple[RecordFault, ...]
    _: KW_ONLY
    recomputed: int
    """How many recorded verdicts were worked out again."""
    clock: tuple[str, ...] = ()
    """Where the clock was set back: told, but no fault of the record."""
    other_program: str = ""
    """A version that recorded verdicts, where it is not the one that verifies."""
    skipped: str = ""
    """Why no verdict was worked out again."""
    matched: tuple[Matched, ...] = ()
    signed: int = 0
    """How many entries are signed."""
    unsigned_by: tuple[str, ...] = ()
    """Officials of whom entries are not signed: their initials are no proof."""
    signatures_unchecked: bool = False
    """What checks signatures is not installed."""

    @property
    def sound(self) -> bool:
        return not self.faults


def verify(
    path: str | os.PathLike[str], printed: Sequence[str] = (), *, recompute: bool = True
) -> Verification:
    """Look a record over.

    Args:
        path: The meeting's file.
        printed: Hashes from slips or results, as typed from paper; each must be that of an entry.
        recompute: Work out every verdict again.

    Raises:
        InputError: The file is no meeting or cannot be read at all (MT101 to MT109); MT209, a hash cannot be read.
    """
    wanted = [hash_of_print(text) for text in printed]
    with Store.open(path, writing=False, suspect=True) as store:
        try:
            entries = store.entries()
        except InputError as error:
            faults = (RecordFault(0, "MT408", problem.message) for problem in error.problems)
            found = [*flaws(store, []), *faults]
            return Verification(
                store.path, 0, "", tuple(found), recomputed=0, skipped="the entries cannot be read"
            )
        found = [*flaws(store, entries), *not_printed(entries, wanted)]
        signed, unchecked = store.signatures(), False
        try:
            found += signature_faults(entries, signed, check=bool(signed))
        except InputError:
            unchecked = True
            found += signature_faults(entries, signed, check=False)
        last = entries[-1].hash if entries else ""
        read = _Reading(store, [] if found else entries, recompute)
        found += read.faults
        recomputed = read.recomputed
        for branch in read.branches if not found else ():
            chain, theirs = branch.chain(entries), branch.signatures(signed)
            wrong, again = _merged(
                store, branch, chain, theirs, recompute=recompute, check=bool(theirs) and not unchecked
            )
            found, recomputed = [*found, *wrong], recomputed + again
    skipped = "the record is not whole" if recompute and found and not read.recomputed else ""
    return Verification(
        store.path,
        len(entries),
        last,
        tuple(found[:MOST_FAULTS]),
        recomputed=recomputed,
        clock=read.clock,
        other_program=read.other,
        skipped=skipped,
        matched=tuple(matched_by(entries, wanted)),
        signed=len(signed),
        unsigned_by=tuple(dict.fromkeys(_unsigned(entries, signed, read.branches))),
        signatures_unchecked=unchecked,
    )


def _unsigned(
    entries: Sequence[RecordEntry], signed: Mapping[int, str], branches: Sequence[Branch]
) -> Iterator[str]:
    """Whom the entries that nobody signed are said to be by."""
    yield from (entry.by for entry in entries if entry.number not in signed)
    for branch in branches:
        theirs = branch.signatures(signed)
        yield from (entry.by for entry in branch.entries if entry.number not in theirs)


def _merged(
    store: Store,
    branch: Branch,
    chain: Sequence[RecordEntry],
    signatures: Mapping[int, str],
    *,
    recompute: bool,
    check: bool,
) -> tuple[list[RecordFault], int]:
    """What is wrong with a record that was merged, verified as its own, and how many of its verdicts came out again."""
    found = faults(chain) or signature_faults(chain, signatures, check=check)
    read = _Reading(store, [] if found else chain, recompute, after=branch.parted)
    first = branch.numbers[0]
    where = f"in the record merged from entry {first} on"
    return [
        RecordFault(first, f.code, f"{where}: {f.message}") for f in (*found, *read.faults)
    ], read.recomputed


# -- what the entries say ------------------------------------------------------------------------------------


class _Reading:
    """Goes through sound entries once, working out every verdict at the entry that it rests on.

    Args:
        after: Verdicts up to that entry were worked out before.
    """

    def __init__(self, store: Store, entries: Sequence[RecordEntry], recompute: bool, after: int = 0) -> None:
        self.faults: list[RecordFault] = []
        self.recomputed = 0
        self.clock: tuple[str, ...] = ()
        self.other = ""
        self.branches: list[Branch] = []
        """The records that were merged."""
        try:
            self._go(store, entries, recompute, after)
        except NotReadable as error:
            self.faults.append(RecordFault(0, "MT407", str(error)))
        except InputError as error:
            self.faults += [RecordFault(0, p.code, p.message) for p in error.problems]

    def _go(self, store: Store, entries: Sequence[RecordEntry], recompute: bool, after: int) -> None:
        if not entries:
            return
        due = _due(entries[after:]) if recompute else {}
        meeting = Meeting.begun(store, entries)
        for entry in entries:
            if entry.number > 1:
                content = read_content(entry)
                if isinstance(content, Closed) and recompute and entry.number > after:
                    self._compare_tally(meeting, entry.number, content)
                meeting.take(entry)
            if not meeting.faults:
                for record in due.get(entry.number, ()):
                    self._compare(meeting, record)
        self.faults += meeting.faults
        if meeting.day.rows_due:
            message = f"{meeting.day.rows_due} weighings of the last table are missing"
            self.faults.append(RecordFault(meeting.day.number, "MT410", message))
        if recompute and not meeting.faults:
            read_whole(meeting, meeting.day)
            self.faults += import_faults(meeting)
        if meeting.day.branches.due:
            message = f"{meeting.day.branches.due} entries of the last record that was merged are missing"
            self.faults.append(RecordFault(meeting.day.number, "MT410", message))
        self.branches = list(meeting.day.branches.tips.values())
        self.clock = tuple(found.message for found in oddities(meeting.day))

    def _compare_tally(self, meeting: Meeting, number: int, closed: Closed) -> None:
        again = recorded_tally(standings(meeting))
        if again != closed.tally:
            message = f"entry {number}: the tally was recorded as {closed.tally} and comes out as {again}"
            self.faults.append(RecordFault(number, "MT406", message))

    def _compare(self, meeting: Meeting, record: Record[Judged | Ruled]) -> None:
        recorded = record.content
        car = meeting.day.car(recorded.car)
        if car is None:  # entered only after what it rests on, so it could not have been judged
            message = f"entry {record.number} judges car {recorded.car}, which was not entered then"
            self.faults.append(RecordFault(record.number, "MT410", message))
            return
        self.recomputed += 1
        if isinstance(recorded, Ruled):
            judgement = meeting.judgement(car, measured=True)
            now = judgement.as_content("").outcomes.get(recorded.clause)
            if now != recorded.computed:
                message = (
                    f"entry {record.number}, car {recorded.car}: clause {recorded.clause} was recorded as"
                )
                self.faults.append(
                    RecordFault(
                        record.number, "MT406", f"{message} {recorded.computed} and comes out as {now}"
                    )
                )
            return
        judgement = meeting.judgement(car, recorded.occasion, measured=True)
        if recorded.program != program_version():
            self.other = recorded.program
        self.faults += _otherwise(record.number, recorded, judgement)


def recheck(meeting: Meeting, cars: Iterable[CarDay]) -> None:
    """Work the verdicts that stand on these cars out again; what comes out otherwise is a fault of the record."""
    for car in cars:
        last = meeting.day.last_judged(car)
        if last is not None:
            judgement = meeting.judgement(car, last.occasion, measured=True)
            meeting.faults += _otherwise(car.judged[-1].number, last, judgement)


def refuse_due(meeting: Meeting) -> None:
    """Refuse to print results while a verdict is outstanding.

    Raises:
        InputError: MT217.
    """
    refuse_outstanding(meeting.due())


def _due(entries: Sequence[RecordEntry]) -> dict[int, list[Record[Judged | Ruled]]]:
    """Recorded verdicts, and those that rulings stand beside, by the entry they rest on."""
    due: dict[int, list[Record[Judged | Ruled]]] = defaultdict(list)
    for entry in entries:
        content = read_content(entry)
        if isinstance(content, Judged | Ruled):
            due[content.rests_on].append(Record(entry.number, entry.at, entry.by, content, entry.number))
    return due


def _otherwise(number: int, recorded: Judged, judgement: Judgement) -> Iterator[RecordFault]:
    """What comes out otherwise than an entry recorded it."""
    for difference in _differences(recorded, judgement):
        yield RecordFault(number, "MT406", f"entry {number}, car {recorded.car}: {difference}")


def _differences(recorded: Judged, judgement: Judgement) -> Iterator[str]:
    again = judgement.as_content(recorded.program)
    for clause in dict.fromkeys((*recorded.outcomes, *again.outcomes)):
        was, now = recorded.outcomes.get(clause, "nothing"), again.outcomes.get(clause, "nothing")
        if was != now:
            yield f"clause {clause} was recorded as {was} and comes out as {now}"
        elif recorded.margins.get(clause) != again.margins.get(clause):
            margins = recorded.margins.get(clause, "none"), again.margins.get(clause, "none")
            yield f"clause {clause} was recorded with a margin of {margins[0]} and comes out with {margins[1]}"
    if recorded.complies != again.complies:
        yield f"the verdict was recorded as '{recorded.complies}' and comes out as '{again.complies}'"
