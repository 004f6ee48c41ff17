"""How many examples a law is tried on: all in a deep run, a twentieth in the quick one; always the same, unless `--anew`.

A build that fails by what was drawn that day tells nothing of the change it judges; the search is a run of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from inspect import signature
from typing import Any

import pytest
from hypothesis import settings

ANEW, DEEP, QUICK = "anew", "deep", "quick"
_ALL, _FEW = 100, 5

settings.register_profile(ANEW, deadline=None, max_examples=_ALL)  # how long one takes depends on the machine
settings.register_profile(DEEP, deadline=None, max_examples=_ALL, derandomize=True)
settings.register_profile(QUICK, deadline=None, max_examples=_FEW, derandomize=True)


def draw_nothing_from_the_sources() -> None:
    """Examples without the constants that Hypothesis looks for in all our modules, which takes each process seconds,
    and by which what is drawn would change with every edit of the sources. It has no setting for it."""
    from hypothesis.internal.conjecture import providers

    if hasattr(providers, "is_local_module_file"):
        providers.is_local_module_file = lambda _: False


def examples(number: int) -> settings:
    """For a law that wants another number of examples than 100 in a deep run, and so another in the quick one."""
    return settings(max_examples=max(3, number * settings().max_examples // _ALL))


def quick_first(values: Iterable[Any], quick: int = 2) -> list[Any]:
    """Parameters of a long test, the first of which are tried in the quick run too and the rest in the deep one."""
    every = [one if isinstance(one, tuple) else (one,) for one in values]
    return [
        pytest.param(*one, marks=() if place < quick else pytest.mark.deep) for place, one in enumerate(every)
    ]


def each_row(
    names: str | Sequence[str],
    rows: Iterable[Any],
    ids: Iterable[object] | Callable[[Any], str] | None = None,
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """As `pytest.mark.parametrize`, for many rows that take next to nothing: one test, which tries every row and names
    each that fails. To pytest alone, a test costs more than such a row. What else the test takes is made once for all.
    """
    wanted = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    tried = [tuple(row) if len(wanted) > 1 else (row,) for row in rows]
    assert tried, "a test without rows would always pass"
    called = _called(tried, ids)

    def of_rows(test: Callable[..., None]) -> Callable[..., None]:
        @wraps(test)
        def every(**others: Any) -> None:
            __tracebackhide__ = True
            failed: list[BaseException] = []
            for place, row in enumerate(tried):
                try:
                    test(**others, **dict(zip(wanted, row, strict=True)))
                except (Exception, pytest.fail.Exception) as failure:
                    failure.add_note(f"in row {place}: {called[place]}")
                    failed.append(failure)
            if len(failed) == 1:
                raise failed[0]
            if failed:
                raise BaseExceptionGroup(f"{len(failed)} of {len(tried)} rows fail", failed)

        taken = signature(test)
        others = [one for name, one in taken.parameters.items() if name not in wanted]
        every.__signature__ = taken.replace(parameters=others)  # type: ignore[attr-defined]
        return every

    return of_rows


def _called(
    rows: Sequence[tuple[Any, ...]], ids: Iterable[object] | Callable[[Any], str] | None
) -> Sequence[str]:
    if callable(ids):
        return [" ".join(map(ids, row)) for row in rows]
    return [repr(row)[:200] for row in rows] if ids is None else list(map(str, ids))
