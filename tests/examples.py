"""How many examples a law is tried on: all in a deep run, new ones every time; a fifth in the quick one, always the same."""

from __future__ import annotations

from hypothesis import settings

DEEP, QUICK = "deep", "quick"
_ALL, _FEW = 100, 20

settings.register_profile(DEEP, deadline=None, max_examples=_ALL)  # how long one takes depends on the machine
settings.register_profile(QUICK, deadline=None, max_examples=_FEW, derandomize=True)


def examples(number: int) -> settings:
    """For a law that wants another number of examples than 100 in a deep run, and so another in the quick one."""
    return settings(max_examples=max(5, number * settings().max_examples // _ALL))
