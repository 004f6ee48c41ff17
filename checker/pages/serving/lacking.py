"""What a server of pages needs beside the program: the extra `pages`."""

from __future__ import annotations

from importlib.util import find_spec

from checker.reading.problems import InputError, Problem

_NEEDED = ("starlette", "uvicorn", "python_multipart", "segno")


def refuse_lacking() -> None:
    """Refuse to serve without what serves.

    Raises:
        InputError: PG101, something of it is not installed.
    """
    lacking = [name for name in _NEEDED if find_spec(name) is None]
    if lacking:
        message = f"what serves pages is not installed: {', '.join(lacking)}"
        hint = (
            "pip install 'scrutineering-checker[pages]', or in a copy of the project: pip install '.[pages]'"
        )
        raise InputError([Problem("PG101", message, None, hint=hint)])
