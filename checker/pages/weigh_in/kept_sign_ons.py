"""Wrong PINs and sign-offs, kept beside the record, so that a restart of the pages forgets neither.

Without it a restart would give whoever guesses PINs a new handful, and a session that was ended would count again.
It is the user's alone, and no part of the record.
"""

from __future__ import annotations

import json
import os
import stat
from typing import Any

from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass, field
from checker.reading.whole_file import NotWrittenError, write_bytes

_ENDING = "-sign-ons"


@dataclass(slots=True)
class KeptSignOns:
    """What is remembered of who tried to sign on, and who signed off; times are in seconds since 1970."""

    file: str = ""
    """Where; "" to keep nothing."""
    wrong: dict[str, list[float]] = field(default_factory=dict)
    """When a PIN was wrong, by device and by official."""
    ended: dict[str, float] = field(default_factory=dict)
    """When each session that was ended had begun."""

    @classmethod
    def beside(cls, day: str) -> KeptSignOns:
        """What is kept beside a record; nothing where there is none yet.

        Raises:
            InputError: PG106, it is not what this program wrote, or others can read it.
        """
        file = f"{day}{_ENDING}"
        try:
            number = os.open(file, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o600)
            with open(number, "rb") as opened:
                mode, text = os.fstat(number).st_mode, opened.read()
        except OSError as error:
            raise _refusal(f"'{file}' cannot be used: {error.strerror or error}") from None
        if os.name == "posix" and mode & (stat.S_IRWXG | stat.S_IRWXO):
            raise _refusal(f"others can read or change '{file}', which counts wrong PINs")
        try:
            told: Any = json.loads(text) if text else {"wrong": {}, "ended": {}}
            wrong = {str(name): [float(one) for one in times] for name, times in told["wrong"].items()}
            return cls(file, wrong, {str(name): float(at) for name, at in told["ended"].items()})
        except (ValueError, TypeError, KeyError, AttributeError):
            raise _refusal(f"'{file}' does not hold what counts wrong PINs") from None

    def save(self) -> None:
        """Keep it; on disk when this returns.

        Raises:
            InputError: PG106, it cannot be written.
        """
        if not self.file:
            return
        try:
            write_bytes(self.file, json.dumps({"wrong": self.wrong, "ended": self.ended}).encode())
        except NotWrittenError as error:
            raise _refusal(str(error)) from None


def _refusal(message: str) -> InputError:
    hint = "look who owns it; or take it away, which forgets wrong PINs and sign-offs, and give --new-pins"
    return InputError([Problem("PG106", message, None, hint=hint)])
