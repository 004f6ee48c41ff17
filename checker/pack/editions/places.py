"""The folders that are searched for packs. This loads little: a run that finds its pack kept looks at no more."""

from __future__ import annotations

import os
from collections.abc import Iterator

HERE = "rulepacks"


def installed() -> str:
    """The packs that come with the program: in the wheel, or in the source tree of an editable install."""
    program = os.path.realpath(__file__)
    for _ in ("editions", "pack", "checker"):
        program = os.path.dirname(program)
    carried = os.path.join(program, HERE)
    return carried if os.path.isdir(carried) else os.path.join(os.path.dirname(program), HERE)


def places() -> Iterator[str]:
    """The folders that are searched for packs, in order."""
    yield HERE
    own = installed()
    if os.path.realpath(own) != os.path.realpath(HERE):
        yield own
