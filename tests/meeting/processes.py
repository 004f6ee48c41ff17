"""Processes of their own for tests that kill them, or forbid them something."""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable


def forked(work: Callable[[int], None]) -> tuple[int, int]:
    """A process that does this work with the writing end of a pipe: its id, and the reading end."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        try:
            os.close(reading)
            work(writing)
        except BaseException:
            traceback.print_exc()  # a process that fails by itself is found by its status, and says why
            os._exit(1)
        os._exit(0)
    os.close(writing)
    return process, reading
