"""Whatever a command raises, as a message for its user and an exit code."""

from __future__ import annotations

import os
from collections.abc import Sequence

from checker.cli import exits, output
from checker.cli.progress import working
from checker.reading.document import COMMAND_LINE
from checker.reading.plain_text import printable, shortened
from checker.reading.problems import InputError

TRACEBACK = "CHECKER_TRACEBACK"
"""Environment variable: set it to see where a mistake of this program's own happened."""

COMPLETING = "_CHECKER_COMPLETE"
"""Environment variable in which a shell says what it wants completed."""

_AT_THE_COMMAND_LINE = ("CD198", "CD199")
"""Problems of --set that stand in no file."""


def guarded(arguments: Sequence[str], *, plain: bool = False) -> int:
    """Run one command line; every way in which it may end gives a code of `checker.cli.exits`.

    Args:
        plain: It is `inspect CAR`.
    """
    output.end_with(None)
    code, ended = _ended(arguments, plain)
    if not ended:
        output.say_last_words()
    return code


def _ended(arguments: Sequence[str], plain: bool) -> tuple[int, bool]:
    """The code, and whether the command came to its own end."""
    try:
        output.prepare()
        code, ended = _run(arguments, plain)
        output.flush()
        return code, ended
    except KeyboardInterrupt:
        output.complain("interrupted")
        return exits.INTERRUPTED, False
    except BrokenPipeError:
        output.abandon()
        return exits.PIPE_CLOSED, False
    except output.NotWrittenError as error:
        output.abandon()
        output.complain(str(error))
        return exits.NOT_WRITTEN, False
    except OSError as error:
        _trace(error)
        output.complain(_refused(error))
        return exits.UNREADABLE, False
    except Exception as error:
        strange = [text for text in arguments if not _is_text(text)]
        if isinstance(error, ValueError) and strange:
            _trace(error)
            output.complain(f"'{printable(strange[0])}' on the command line is not text in UTF-8")
            return exits.USAGE, False
        return own_bug(error), False


def _refused(error: OSError) -> str:
    """What the system refused, where no reader told it with its place: a name too long, a folder that is gone."""
    reason = (error.strerror or str(error)).lower()
    if error.filename is None:
        return f"the system refuses: {reason}; is the folder you are in still there?"
    return f"cannot use '{shortened(printable(os.fsdecode(error.filename)), 80)}': {reason}"


def _is_text(text: str) -> bool:
    """Whether an argument could be decoded."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _run(arguments: Sequence[str], plain: bool) -> tuple[int, bool]:
    if asked := os.environ.get(COMPLETING):
        from checker.cli.completion import complete

        return complete(asked, COMPLETING), True
    try:
        with working():
            if plain:
                from checker.cli.plain import inspect

                return inspect(arguments[1]), True
            from checker.cli.command_line import obey

            return obey(arguments), True
    except InputError as error:
        output.show_problems(error.problems)
        return code_of(error), False


def code_of(error: InputError) -> int:
    """The code for input that cannot be used: `USAGE` where all of it stands on the command line."""
    wrong = [problem for problem in error.problems if not problem.warning]
    typed = (p.code in _AT_THE_COMMAND_LINE or (p.span and p.span.file == COMMAND_LINE) for p in wrong)
    return exits.USAGE if wrong and all(typed) else exits.UNREADABLE


def _trace(error: Exception) -> None:
    if os.environ.get(TRACEBACK):
        import traceback

        output.complain("".join(traceback.format_exception(error)).rstrip())


def own_bug(error: Exception) -> int:
    """Tell of a mistake of the program's own."""
    _trace(error)
    output.complain(
        f"checker made a mistake of its own ({type(error).__name__}: {error}). Nothing it printed is a result.\n"
        f"Please report it with the command and the files; with {TRACEBACK}=1 it tells where it happened."
    )
    return exits.BUG
