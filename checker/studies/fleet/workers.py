"""Spreads the judging of many cars over the cores of the machine.

Results come in the order of the cars, whoever finished first, so that a report is the same on every machine. Only
a few cars are under way at a time, so that memory does not grow with their number. A handful of cars is judged here:
starting helpers would take longer.
"""

from __future__ import annotations

import gc
import os
import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from itertools import chain, islice
from typing import TYPE_CHECKING, TypeVar, cast

from checker.reading.document import Document
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import dataclass
from checker.studies.fleet.reading import QueuedDeclaration

if TYPE_CHECKING:
    from concurrent.futures import Future

R = TypeVar("R")
Work = Callable[[Document, str], R]
"""From a declaration and its place to a result, or an `InputError`."""

WORTH_IT = 40
"""With fewer cars no helpers are started."""
_AT_A_TIME = 4
"""Cars handed to a helper together."""
_OBJECTS = 50_000
"""So many are made until Python looks for those that only hold each other, which ten cars leave; to look after each few
hundred of them takes a fourth of the time in which a car is read.
"""

_work: Work[object] | None = None
"""In a helper process: what is done with each car."""


@dataclass(frozen=True, slots=True)
class DeclarationProblems:
    """What is wrong with a declaration, on its way from a helper."""

    found: tuple[Problem, ...]


def cores() -> int:
    """How many helpers this process may start at the most."""
    available = getattr(os, "sched_getaffinity", None)
    return len(available(0)) if available is not None else os.cpu_count() or 1


def judge_all(
    records: Iterable[QueuedDeclaration], work: Work[R], make: Callable[[], Work[R]], jobs: int
) -> Iterator[R | InputError]:
    """What becomes of each declaration, in their order; the error of those that cannot be used.

    Args:
        make: Makes the same work in a helper, so it must be a function that can be pickled.
        jobs: How many helpers at the most; 1: none, all is done here.
    """
    waiting = iter(records)
    first = list(islice(waiting, WORTH_IT))
    if jobs < 2 or len(first) < WORTH_IT:
        usual = gc.get_threshold()
        gc.set_threshold(_OBJECTS, *usual[1:])
        try:
            yield from (_one(record, work) for record in chain(first, waiting))
        finally:
            gc.set_threshold(*usual)
        return
    yield from _by_helpers(chain(first, waiting), work, make, jobs)


def _one(record: QueuedDeclaration, work: Work[R]) -> R | InputError:
    try:
        return record.judged(lambda document: work(document, record.place))
    except InputError as error:
        return error


def _by_helpers(
    records: Iterator[QueuedDeclaration], work: Work[R], make: Callable[[], Work[R]], jobs: int
) -> Iterator[R | InputError]:
    """Where a helper is ended from outside, as by a system that lacks memory, what is left is judged here."""
    import multiprocessing  # only where helpers are started
    from concurrent.futures import BrokenExecutor, ProcessPoolExecutor

    in_helper = cast(Callable[[list[QueuedDeclaration]], list[R | DeclarationProblems]], _in_helper)
    pool = ProcessPoolExecutor(jobs, initializer=_begin, initargs=(make,))
    untold: deque[list[QueuedDeclaration]] = deque()
    under_way: deque[Future[list[R | DeclarationProblems]]] = deque()
    try:
        while some := list(islice(records, _AT_A_TIME)):
            untold.append(some)
            under_way.append(pool.submit(in_helper, some))
            if len(under_way) > 2 * jobs:
                found = under_way.popleft().result()
                untold.popleft()
                yield from _told(found)
        while under_way:
            found = under_way.popleft().result()
            untold.popleft()
            yield from _told(found)
    except BrokenExecutor:
        yield from (_one(record, work) for record in chain(*untold, records))
    except BaseException:  # Ctrl-C too: nobody waits for what is under way
        for helper in multiprocessing.active_children():
            helper.terminate()
        raise
    finally:
        pool.shutdown(cancel_futures=True)


def _begin(make: Callable[[], Work[object]]) -> None:
    """In a helper: make ready. Ctrl-C is for the process that the user started; it ends its helpers."""
    from threading import Thread

    global _work
    gc.set_threshold(_OBJECTS, *gc.get_threshold()[1:])
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_the_parent, daemon=True).start()
    _work = make()


def _end_with_the_parent() -> None:
    """In a helper: whatever ends the process that the user started, be it killed, no helper stays behind."""
    from multiprocessing import parent_process

    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _in_helper(records: list[QueuedDeclaration]) -> list[object]:
    """In a helper: the results, with problems as plain data: an exception does not travel well."""
    assert _work is not None
    found = [_one(record, _work) for record in records]
    return [DeclarationProblems(one.problems) if isinstance(one, InputError) else one for one in found]


def _told(found: list[R | DeclarationProblems]) -> Iterator[R | InputError]:
    for one in found:
        yield InputError(one.found) if isinstance(one, DeclarationProblems) else one
