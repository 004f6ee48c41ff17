"""The entry point: runs a command and turns whatever happens into one clear line and an exit code.

Nothing is imported before the guard stands, so that Ctrl-C at any moment ends in the same way.
"""

from __future__ import annotations

import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import NoReturn


def run() -> NoReturn:
    """Run the command line that the program was started with, and exit."""
    sys.exit(main(sys.argv[1:]))


def main(arguments: Sequence[str]) -> int:
    """Run one command line.

    Args:
        arguments: Without the program's name.

    Returns:
        One of the codes of `checker.cli.exits`.
    """
    try:
        from checker.cli.guard import guarded

        return guarded(arguments)
    except KeyboardInterrupt:
        from checker.cli.exits import INTERRUPTED

        return INTERRUPTED


if __name__ == "__main__":
    run()
