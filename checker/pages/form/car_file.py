"""The car's file while its form is open: what it said when it was shown, and whether it still does.

Nothing is written but by `save`, and never over what somebody else has written meanwhile.
"""

from __future__ import annotations

import hashlib
from pathlib import Path
from threading import RLock

from checker.reading.differences import differences, same
from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.rewriting import rewritten
from checker.reading.strict_yaml import parse_document, read_document
from checker.reading.values import Plain
from checker.reading.whole_file import write_bytes

MOST_STATES = 50
"""So many states that were shown are known again."""


class CarFile:
    """One file of a car.

    Args:
        path: Where it is, or will be.
        begun_with: What a new file begins with; "" where the file is there.
    """

    def __init__(self, path: str, begun_with: str = "") -> None:
        self.path = path
        self._lock = RLock()
        self._states: dict[str, Document] = {}
        self._on_disk: dict[str, str] = {}
        """By the digest of a state: that of the file when it was shown; "" where there was none."""
        if begun_with:
            self.opened = self.latest = self._noted(parse_document(begun_with.encode(), path, "CD"), "")
        else:
            self.opened = self.latest = self._noted(read_document(path, "CD"))

    def begin_again(self, text: str) -> None:
        """Begin a new file otherwise; nothing is written.

        Raises:
            InputError: It is no declaration; or PG204, the file is there.
        """
        with self._lock:
            state = parse_document(text.encode(), self.path, "CD")
            if not self.is_new:
                hint = "compare with that file, or open another name: checker open NEW.yaml --from FILE"
                raise InputError([Problem("PG204", f"'{self.path}' is there already", hint=hint)])
            self.opened = self.latest = self._noted(state, "")

    def kept(self) -> list[tuple[Document, str]]:
        """What the file said earlier, each with what that is called; the latest first."""
        with self._lock:
            own = [one for digest, one in self._states.items() if self._on_disk[digest] == digest]
            between = [one for one in own if one is not self.opened and one is not self.latest]
            numbered = [(one, f"after change {place}") for place, one in enumerate(between, 1)]
            return [(self.latest, "as saved"), *reversed(numbered), (self.opened, "as opened")]

    def state(self, digest: str) -> Document | None:
        """What the file said when a page was shown; None: that is too long ago."""
        with self._lock:
            return self._states.get(digest)

    def is_changed(self, state: Document) -> bool:
        """Whether the file is another than when that state was shown."""
        return _digest_of(self.path) != self._on_disk.get(state.sha256)

    @property
    def is_new(self) -> bool:
        """Whether the latest state was never written."""
        return self._on_disk[self.latest.sha256] == ""

    def reread(self) -> Document:
        """What the file says now.

        Raises:
            InputError: It cannot be read.
        """
        with self._lock:
            if self.is_changed(self.latest):
                self.latest = self._noted(read_document(self.path, "CD"))
            return self.latest

    def save(self, state: Document, text: str) -> Document:
        """Write the file, all of it or nothing.

        Args:
            state: What it said when the page was shown.
            text: What it is to say.

        Raises:
            InputError: PG202, it was changed meanwhile; nothing was written.
            NotWrittenError: It could not be written.
        """
        with self._lock:
            if self.is_changed(state):
                message = f"'{self.path}' was changed by somebody else since this page was shown; it was not written"
                hint = "save what stands here beside it, or take the file as it is now"
                raise InputError([Problem("PG202", message, hint=hint)])
            saved = parse_document(text.encode(), self.path, "CD")
            write_bytes(self.path, text.encode())
            self.latest = self._noted(saved)
            return saved

    def save_beside(self, text: str) -> str:
        """Write what it is to say into a new file beside it; its name.

        Raises:
            NotWrittenError: It could not be written.
        """
        place = Path(self.path)
        names = (place.with_name(f"{place.stem}.{number}{place.suffix}") for number in range(2, 1000))
        name = next(str(one) for one in names if not one.exists())
        write_bytes(name, text.encode())
        return name

    def _noted(self, state: Document, on_disk: str | None = None) -> Document:
        self._states.pop(state.sha256, None)
        self._states[state.sha256] = state
        self._on_disk[state.sha256] = state.sha256 if on_disk is None else on_disk
        for old in list(self._states)[:-MOST_STATES]:
            del self._states[old], self._on_disk[old]
        return state


def text_for(state: Document, data: Plain) -> str:
    """The file's text once it says that, its comments and order as they were.

    It is read again by the reader of every declaration, and says exactly that.

    Raises:
        InputError: PG203, it cannot be written so that it is read back.
    """
    try:
        text = rewritten(state, differences(state.data, data), "PG203")
    except ValueError as error:
        raise InputError([Problem("PG203", f"this cannot be written to a file: {error}")]) from None
    if not same(parse_document(text.encode(), state.name, "CD").data, data):
        raise InputError([Problem("PG203", "what stands here cannot be written so that it is read back")])
    return text


def _digest_of(path: str) -> str:
    """Of a file's bytes; "" where there is none."""
    try:
        return hashlib.sha256(Path(path).read_bytes()).hexdigest()
    except FileNotFoundError:
        return ""
