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


def run() -> NoReturn:
    """Run the command line that the program was started with, and exit.

    A plain inspection has printed all and holds nothing open: it ends without freeing each object, before and after.
    """
    arguments = sys.argv[1:]
    if not is_plain(arguments):
        code = main(arguments)
        import signal

        signal.signal(signal.SIGINT, signal.SIG_IGN)  # all is said: Ctrl-C now would only hide the code
        sys.exit(code)
    import gc  # part of Python itself

    gc.disable()
    os._exit(main(arguments))


def is_plain(arguments: Sequence[str]) -> bool:
    """Whether a car is to be inspected without options."""
    return len(arguments) == 2 and arguments[0] == "inspect" and not arguments[1].startswith("-")


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
        from checker.cli.exits import INTERRUPTED

        return INTERRUPTED


if __name__ == "__main__":
    run()
