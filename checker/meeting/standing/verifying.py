"""Verifies a record from itself alone: that nothing was changed, taken out, put in or moved, and that every verdict
comes out again from the frozen pack.

Three things are looked at: the file below the entries (its form, its protection, the files it keeps), the chain of the
entries, and, where these are sound, what the entries say and what was computed from them. A hash that was printed on a
slip or a result settles what a chain cannot show by itself: that no tail was cut and nothing was built anew.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checker.meeting.record.chain import Entry, Fault, faults, from_print
from checker.meeting.record.clock import set_back
from checker.meeting.record.contents import (
    Carried,
    Content,
    Drawn,
    Entered,
    GearChecked,
    Imported,
    Judged,
    NotReadable,
    Opened,
    Ruled,
    read_content,
)
from checker.meeting.record.day import Record, begin
from checker.meeting.record.lots import in_drawn_order
from checker.meeting.record.refusal import refusal
from checker.meeting.record.schema import definitions, expected_definitions, texts_in
from checker.meeting.record.store import Store, digest_of
from checker.meeting.session.gear import kg
from checker.meeting.session.judging import Judgement
from checker.meeting.session.session import Meeting, program_version
from checker.reading.problems import InputError

MOST_FAULTS = 200


@dataclass(frozen=True, slots=True)
class Verification:
    """What verification found."""

    path: str
    entries: int
    hash: str
    """Of the last entry; "" where there is none."""
    faults: tuple[Fault, ...]
    recomputed: int
    """How many recorded verdicts were worked out again."""
    clock: tuple[str, ...] = ()
    """Where the clock was set back: told, but no fault of the record."""
    other_program: str = ""
    """A version that recorded verdicts, where it is not the one that verifies."""
    skipped: str = ""
    """Why no verdict was worked out again."""

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
    wanted = [_hash(text) for text in printed]
    with Store.open(path, writing=False) as store:
        below = list(_below(store))
        try:
            entries = store.entries()
        except InputError as error:
            return Verification(
                store.path, 0, "", (*below, *_as_faults(error)), 0, skipped="the entries cannot be read"
            )
        found = [*below, *faults(entries), *_kept_files(store, entries), *_not_printed(entries, wanted)]
        last = entries[-1].hash if entries else ""
        if not entries:
            found.append(Fault(1, "MT402", "the record is empty: entry 1 is missing"))
        read = _Reading(store, [] if found else entries, recompute)
        found += read.faults
    skipped = "the record is not whole" if recompute and found and not read.recomputed else ""
    return Verification(
        store.path,
        len(entries),
        last,
        tuple(found[:MOST_FAULTS]),
        read.recomputed,
        read.clock,
        read.other,
        skipped,
    )


def _hash(text: str) -> str:
    try:
        return from_print(text)
    except ValueError as error:
        raise refusal("MT209", str(error), "type it as it is printed, blanks do not matter") from None


def _as_faults(error: InputError) -> list[Fault]:
    return [Fault(0, "MT408", problem.message) for problem in error.problems]


# -- below the entries ---------------------------------------------------------------------------------------


def _below(store: Store) -> Iterator[Fault]:
    """Damage of the database, and protection that was taken away."""
    try:
        pages, size = (
            store.database.execute(f"PRAGMA {name}").fetchone()[0] for name in ("page_count", "page_size")
        )
        if os.path.getsize(store.path) != pages * size:
            yield Fault(
                0, "MT408", "the file is longer or shorter than what it holds: bytes were put on or cut off"
            )
        for (line,) in store.database.execute("PRAGMA integrity_check(20)").fetchall():
            if line != "ok":
                yield Fault(0, "MT408", f"the database is damaged: {line}")
        for row in store.database.execute("PRAGMA foreign_key_check").fetchall():
            yield Fault(0, "MT403", f"a row of {row[0]} belongs to no entry")
        have, wanted = definitions(store.database), expected_definitions()
    except (sqlite3.Error, UnicodeDecodeError) as error:
        yield Fault(0, "MT408", f"the database is damaged: {error}")
        return
    for name, text in wanted.items():
        if have.get(name) != text:
            what = "was changed" if name in have else "was taken away"
            yield Fault(0, "MT404", f"the protection of the record, {name}, {what}")
    for name in sorted(set(have) - set(wanted)):
        yield Fault(0, "MT404", f"the file holds something that does not belong there: {name}")


def _kept_files(store: Store, entries: Sequence[Entry]) -> Iterator[Fault]:
    """Files that are not what their name says, that are missing, or that nobody named."""
    named: dict[str, int] = {}
    for entry in entries:
        try:
            texts = texts_in(json.loads(entry.content))
        except ValueError:
            continue
        for text in texts:
            named.setdefault(text, entry.number)
    try:
        kept = store.database.execute(
            "SELECT sha256, entry, bytes FROM file ORDER BY entry, sha256"
        ).fetchall()
    except (sqlite3.Error, UnicodeDecodeError) as error:
        yield Fault(0, "MT408", f"the files cannot be read: {error}")
        return
    for digest, number, data in kept:
        if digest_of(data) != digest:
            yield Fault(number, "MT403", f"a file that entry {number} brought was changed ({digest[:12]}...)")
        elif named.get(digest) != number:
            yield Fault(
                number, "MT403", f"a file stands with entry {number} that did not bring it ({digest[:12]}...)"
            )
    have = {digest for digest, _, _ in kept}
    for entry in entries:
        yield from _missing_files(entry, have)


def _missing_files(entry: Entry, have: set[str]) -> Iterator[Fault]:
    try:
        content = read_content(entry)
    except NotReadable:
        return
    for what, digest in _files_of(content):
        if digest and digest not in have:
            yield Fault(entry.number, "MT403", f"the {what} that entry {entry.number} brought is missing")


def _files_of(content: Content) -> Iterator[tuple[str, str]]:
    """What an entry brought, each with its digest."""
    match content:
        case Opened():
            yield from (("procedure", content.procedure), ("gear's description", content.gear))
            yield from ((f"pack's file {name}", digest) for name, digest in content.pack_files.items())
        case Entered():
            yield "declaration", content.declaration
        case Imported():
            yield from (("table", content.sha256), ("mapping", content.mapping))
        case Carried():
            yield "results file", content.results


def _not_printed(entries: Sequence[Entry], wanted: Sequence[str]) -> Iterator[Fault]:
    for hash_hex in wanted:
        if not any(entry.hash.startswith(hash_hex) for entry in entries):
            why = "entries were cut off at the end, or the record is another"
            message = f"no entry has the printed hash {hash_hex[:20]}: {why}"
            yield Fault(len(entries), "MT405", message)


# -- what the entries say ------------------------------------------------------------------------------------


class _Reading:
    """Goes through sound entries once, working out every verdict at the entry that it rests on."""

    def __init__(self, store: Store, entries: Sequence[Entry], recompute: bool) -> None:
        self.faults: list[Fault] = []
        self.recomputed = 0
        self.clock: tuple[str, ...] = ()
        self.other = ""
        try:
            self._go(store, entries, recompute)
        except NotReadable as error:
            self.faults.append(Fault(0, "MT407", str(error)))
        except InputError as error:
            self.faults += [Fault(0, p.code, p.message) for p in error.problems]

    def _go(self, store: Store, entries: Sequence[Entry], recompute: bool) -> None:
        if not entries:
            return
        due = _due(entries) if recompute else {}
        day = begin(entries[0])
        meeting = Meeting(store, day)
        for entry in entries:
            if entry.number > 1:
                day.add(entry)
            self.faults += _untrue(entry.number, read_content(entry))
            for record in due.get(day.number, ()):
                self._compare(meeting, record)
        self.clock = tuple(found.message for found in set_back(day))

    def _compare(self, meeting: Meeting, record: Record[Judged | Ruled]) -> None:
        recorded = record.content
        car = meeting.day.car(recorded.car)
        if car is None:
            raise NotReadable(
                f"entry {record.number} judges car {recorded.car}, which was not entered before"
            )
        self.recomputed += 1
        if isinstance(recorded, Ruled):
            judgement = meeting.judgement(car, afresh=True)
            now = judgement.as_content("").outcomes.get(recorded.clause)
            if now != recorded.computed:
                message = (
                    f"entry {record.number}, car {recorded.car}: clause {recorded.clause} was recorded as"
                )
                self.faults.append(
                    Fault(record.number, "MT406", f"{message} {recorded.computed} and comes out as {now}")
                )
            return
        judgement = meeting.judgement(car, recorded.occasion, afresh=True)
        if recorded.program != program_version():
            self.other = recorded.program
        for difference in _differences(recorded, judgement):
            message = f"entry {record.number}, car {recorded.car}: {difference}"
            self.faults.append(Fault(record.number, "MT406", message))


def _untrue(number: int, content: Content) -> Iterator[Fault]:
    """What an entry says of itself and cannot be so."""
    if isinstance(content, GearChecked):
        good = abs(kg(content.shown) - kg(content.applied)) <= kg(content.allowed)
        if good != content.good:
            yield Fault(
                number, "MT406", f"entry {number}: the check of {content.gear} is not what it is said to be"
            )
    if isinstance(content, Drawn):
        order = in_drawn_order(content.seed, content.among)
        if content.drawn != order[: len(content.drawn)]:
            yield Fault(number, "MT406", f"entry {number}: the draw does not follow from its seed")


def _due(entries: Sequence[Entry]) -> dict[int, list[Record[Judged | Ruled]]]:
    """Recorded verdicts, and those that rulings stand beside, by the entry they rest on."""
    due: dict[int, list[Record[Judged | Ruled]]] = defaultdict(list)
    for entry in entries:
        content = read_content(entry)
        if isinstance(content, Judged | Ruled):
            if not 0 < content.rests_on < entry.number:
                raise NotReadable(f"entry {entry.number} rests on entry {content.rests_on}, which came later")
            due[content.rests_on].append(Record(entry.number, entry.at, entry.by, content, entry.number))
    return due


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
