"""The table of exit codes.

Codes above 64 follow the BSD sysexits list (recalled) where it has one, those above 128 the habit of shells: 128
and the number of the signal.
"""

from __future__ import annotations

from collections.abc import Iterable

COMPLIES = 0
"""Every clause that counts is met; or the command did what it was asked for."""
FAILS = 1
"""A clause fails."""
USAGE = 2
"""The command line is wrong: an unknown option or clause, a value of --set that cannot stand."""
UNREADABLE = 3
"""A file cannot be read as what it should be: absent, no YAML, no sound pack or declaration."""
UNSETTLED = 4
"""Nothing fails, but something is too close or not shown, or nothing was judged."""
BUG = 70
"""A mistake of this program's own."""
NOT_WRITTEN = 74
"""The result could not be written: a full disk, a folder without permission."""
INTERRUPTED = 130
"""Ctrl-C."""
PIPE_CLOSED = 141
"""Whoever reads the output stopped reading. Not 0: the result may not have arrived."""

_WORST_FIRST = (USAGE, UNREADABLE, FAILS, UNSETTLED, COMPLIES)


def result(complies: bool | None) -> int:
    """The code of one inspection: None is neither compliance nor breach."""
    if complies is None:
        return UNSETTLED
    return COMPLIES if complies else FAILS


def worst(codes: Iterable[int]) -> int:
    """The code of several cars: the worst of theirs. None judged is never a success."""
    found = set(codes)
    return next((code for code in _WORST_FIRST if code in found), UNSETTLED)
