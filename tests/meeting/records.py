"""Bare records for tests of the store and the chain: entries that say little, and a clock that is told the time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from checker.meeting.record.chain import RecordEntry
from checker.meeting.record.content_form import to_plain
from checker.meeting.record.contents import Announced, Opened
from checker.meeting.record.rows import RecordDraft
from checker.meeting.record.store import Store

MORNING = datetime(2026, 5, 3, 7, 0, tzinfo=UTC)


class ToldClock:
    """A clock that moves on by a second whenever it is looked at."""

    def __init__(self, start: datetime = MORNING, step: timedelta = timedelta(seconds=1)) -> None:
        self.now = start
        self.step = step

    def __call__(self) -> datetime:
        self.now += self.step
        return self.now


def opened(**changes: object) -> RecordDraft:
    """The first entry of a record that is judged by nothing."""
    content = Opened(
        meeting="m",
        title="a day",
        on="2026-05-03",
        pack="none",
        edition="1",
        pack_place="none",
        pack_sha256="0" * 64,
        pack_files={},
        officials=["KV", "TB"],
        program="test",
    )
    return RecordDraft(Opened.KIND, "KV", {**to_plain(content), **changes})


def said(text: str, by: str = "KV", files: tuple[bytes, ...] = ()) -> RecordDraft:
    """An entry that says something short."""
    return RecordDraft(Announced.KIND, by, to_plain(Announced("event.session", text)), files)


def new_record(path: Path, texts: Sequence[str] = (), clock: ToldClock | None = None) -> Store:
    """A record with these entries after the first."""
    store = Store.create(path, [opened()], clock or ToldClock())
    for text in texts:
        append(store, said(text))
    return store


def append(store: Store, *drafts: RecordDraft) -> list[RecordEntry]:
    with store.appending() as held:
        return held.append(drafts)
