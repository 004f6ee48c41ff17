"""Opens a meeting: the pack as it reads on the day, the procedure, the gear and the officials are frozen."""

from __future__ import annotations

import os
import secrets

from checker.meeting.record.content_form import to_plain
from checker.meeting.record.contents import RULES, Opened, SignedOn
from checker.meeting.record.frozen import freeze, thaw
from checker.meeting.record.refusal import refusal
from checker.meeting.record.rows import Clock, RecordDraft, computer_clock, digest_of
from checker.meeting.record.store import Store
from checker.meeting.session.gear import described_gear
from checker.meeting.session.procedure import read_procedure
from checker.meeting.session.rules import refuse_alike
from checker.meeting.session.session import Meeting, program_version
from checker.pack.editions.finding import PackFolder, open_folder
from checker.pack.editions.procedures import for_edition
from checker.pack.model import Pack
from checker.quantities.days import parse_day
from checker.reading.file_bytes import read_bytes
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.strict_yaml import parse_document


@dataclass(frozen=True, slots=True)
class Opening:
    """What a meeting is opened with."""

    pack: str
    """Path of the pack, or the name of its formula."""
    on: str
    """The day judged for, YYYY-MM-DD."""
    officials: tuple[str, ...]
    """Initials; the first opens the meeting."""
    title: str = ""
    gear: str | None = None
    """A club's gear file: its instruments, and perhaps checks made of them; None: the gear is that of the pack."""
    procedure: str | None = None
    """File with the procedure; None: the one beside the pack, if there is one."""
    name: str = field(default_factory=lambda: secrets.token_hex(16))
    """What makes this record unlike any other; random, except where a day is replayed."""


def open_meeting(path: str | os.PathLike[str], opening: Opening, clock: Clock = computer_clock) -> Meeting:
    """A new meeting, open for work.

    Raises:
        InputError: MT213 a day or an official is missing; MT103 the file is there already; PKxxx, MT250, MT211 for the
            pack, the procedure and the gear.
    """
    try:
        on = parse_day(opening.on)
    except ValueError as error:
        raise refusal("MT213", f"the day of the meeting: {error}", "write it as in 2026-05-03") from None
    officials = _officials(opening.officials)
    folder = open_folder(opening.pack)
    files = freeze(folder)
    pack = thaw(files, on)
    procedure = _procedure(opening, folder, pack)
    gear = _gear(opening.gear, pack) if opening.gear else None
    content = Opened(
        meeting=opening.name,
        title=opening.title or pack.title,
        on=on.isoformat(),
        pack=pack.name,
        edition=pack.edition,
        pack_place=folder.place,
        pack_sha256=pack.sha256,
        pack_files={name: digest_of(data) for name, data in files.items()},
        officials=list(officials),
        program=program_version(),
        gear=digest_of(gear) if gear else "",
        procedure=digest_of(procedure) if procedure else "",
        rules=RULES,
    )
    kept = (*files.values(), *(data for data in (procedure, gear) if data))
    return Meeting.of(
        Store.create(path, [RecordDraft(Opened.KIND, officials[0], to_plain(content), kept)], clock)
    )


def _officials(given: tuple[str, ...]) -> tuple[str, ...]:
    initials = tuple(" ".join(one.split()) for one in given)
    refuse_alike(initials)
    return initials


def sign_on(meeting: Meeting, initials: str, by: str, key: str = "") -> None:
    """Another official joins, or one who has begins to sign; on disk when this returns.

    Args:
        meeting: Open for work.
        initials: Of the new one.
        by: Of one who has signed on already.
        key: The public key that what the official records is signed for; "" where it is not signed.

    Raises:
        InputError: MT213, the initials are empty or taken.
    """

    meeting.record(by, lambda _: [SignedOn(" ".join(initials.split()), key)])


def _procedure(opening: Opening, folder: PackFolder, pack: Pack) -> bytes | None:
    files = (opening.procedure,) if opening.procedure else folder.procedures
    read = {name: read_bytes(name, "MT") for name in files}
    found = [parse_document(data, name, "MT") for name, data in read.items()]
    if len(found) > 1:
        found = for_edition(found, pack.edition)
        if len(found) != 1:
            told = (
                f"{len(found)} of the procedures beside the pack are"
                if found
                else "no procedure beside the pack is"
            )
            hint = "state in each which it is for, editions: [...], or name one with --procedure"
            raise refusal("MT250", f"{told} for edition {pack.edition}", hint)
    for document in found:
        read_procedure(document, pack)
        return read[document.name]
    return None


def _gear(file: str, pack: Pack) -> bytes:
    data = read_bytes(file, "GR")
    described_gear(parse_document(data, file, "GR"), pack.vocabulary.currency)
    return data
