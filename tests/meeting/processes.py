"""Processes of their own for tests that kill them, or forbid them something."""

from __future__ import annotations

import os
from collections.abc import Callable


def forked(work: Callable[[int], None]) -> tuple[int, int]:
    """A process that does this work with the writing end of a pipe: its id, and the reading end."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        try:
            os.close(reading)
            work(writing)
        finally:
            os._exit(0)
    os.close(writing)
    return process, reading
