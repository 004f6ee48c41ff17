"""The entry point: runs a command and turns whatever happens into one clear line and an exit code.

Nothing is imported before the guard stands, so that Ctrl-C at any moment ends in the same way.
"""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import NoReturn

_INTERRUPTED = 130
"""As `checker.cli.exits` has it."""


def run() -> NoReturn:
    """Run the command line that the program was started with, and exit.

    A plain inspection has printed all and holds nothing open: it ends without freeing each object, before and after.
    """
    try:
        arguments = sys.argv[1:]
        plain = is_plain(arguments)
        if plain:
            import gc  # part of Python itself

            gc.disable()
        code = main(arguments)
        if not plain:
            import signal

            signal.signal(signal.SIGINT, signal.SIG_IGN)  # all is said: Ctrl-C now would only hide the code
    except KeyboardInterrupt:
        plain, code = True, _broken_off()
    if plain:
        os._exit(code)
    sys.exit(code)


def is_plain(arguments: Sequence[str]) -> bool:
    """Whether one car is to be inspected without options."""
    if len(arguments) != 2 or arguments[0] != "inspect":
        return False
    return not arguments[1].startswith("-") and not arguments[1].endswith(".jsonl")


def main(arguments: Sequence[str]) -> int:
    """Run one command line.

    Args:
        arguments: Without the program's name.

    Returns:
        One of the codes of `checker.cli.exits`.
    """
    try:
        from checker.cli.guard import guarded

        return guarded(arguments, plain=is_plain(arguments))
    except KeyboardInterrupt:
        return _broken_off()


def _broken_off() -> int:
    """Say so, with nothing but what Python has loaded by itself: more may not be there yet."""
    try:  # noqa: SIM105 (contextlib would have to be loaded)
        os.write(2, b"interrupted\n")
    except (OSError, KeyboardInterrupt):
        pass
    return _INTERRUPTED


if __name__ == "__main__":
    run()
