"""What many tests ask for alike is worked out once in a process: a pack or a car of one text, an inspection of it.

Packs, cars and inspections never change, so one may stand for all. The deep tests work everything out anew.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar

import pytest

from checker.car.car import Car
from checker.car.declaration import loading as declaration
from checker.car.described.planning import Planning
from checker.car.described.vocabulary import Vocabulary
from checker.pack.editions import loading
from checker.pack.keeping import kept as packs_kept
from checker.pack.model import Pack
from checker.reading.document import Document

if TYPE_CHECKING:
    from checker.studies.planning.looking import Asked
    from checker.verdict.inspection import Inspection

T = TypeVar("T")

_MOST_KEPT = 200


def share() -> None:
    """Before any other module takes these functions by their names."""
    patch = pytest.MonkeyPatch()
    patch.setattr(loading, "build_pack", _shared(loading.build_pack, _pack_key))
    patch.setattr(packs_kept, "_MOST", 60)  # what is shared hangs on the pack that it was judged by
    from checker.verdict import advice, inspection, run

    patch.setattr(advice, "advised", _shared(advice.advised, _advice_key))
    patch.setattr(run, "inspect_document", _shared(run.inspect_document, _inspection_key))
    from checker.meeting.session import judging, reading_rules

    read = _shared(declaration.load_car, _car_key)
    for meeting in (judging, reading_rules):  # a meeting's cars: tests of cars themselves read them anew
        patch.setattr(meeting, "load_car", read)
    patch.setattr(judging, "inspect_car", _shared(inspection.inspect_car, _judged_key))
    from checker.studies.planning import planner, reach, request

    patch.setattr(request, "plan", _shared(planner.plan, _plan_key))  # tests of the planner itself plan anew
    patch.setattr(reach, "reach", _shared(reach.reach, lambda plan, seconds: (id(plan), seconds)))


def _shared(function: Callable[..., T], key_of: Callable[..., Hashable | None]) -> Callable[..., T]:
    kept: dict[Hashable, tuple[T, object]] = {}

    def shared(*args: Any, **more: Any) -> T:
        key = key_of(*args, **more)
        if key not in kept:
            found = function(*args, **more)
            if key is None or _rests_on_more(found, args):
                return found
            kept[key] = found, args  # the arguments too, for some are known by their identity
            if len(kept) > _MOST_KEPT:
                del kept[next(iter(kept))]
        else:
            kept[key] = kept.pop(key)  # the one asked for last at the end
        return kept[key][0]

    return shared


def _rests_on_more(found: object, args: tuple[Any, ...]) -> bool:
    """Whether a pack was made from lists of words beside it, which the key does not tell."""
    return isinstance(found, Pack) and len(found.files) > 1 + len(args[1] if len(args) > 1 else ())


def _told(document: Document | None) -> Hashable:
    """All that a document says, and where."""
    return None if document is None else (document.name, document.sha256, document.text, repr(document.data))


def _pack_key(
    document: Document, others: Any = (), only: Any = None, watch: object = None
) -> Hashable | None:
    if watch is not None:
        return None
    return _told(document), tuple(map(_told, others)), None if only is None else frozenset(only)


def _car_key(
    document: Document, vocabulary: Vocabulary, readings: Document | None = None, **more: Any
) -> Hashable:
    named = tuple((name, _of_argument(value)) for name, value in sorted(more.items()))
    return _told(document), id(vocabulary), _told(readings), named


def _judged_key(pack: Pack, car: Car, *rest: Any, **more: Any) -> Hashable:
    named = tuple((name, _of_argument(value)) for name, value in sorted(more.items()))
    return id(pack), id(car), tuple(map(_of_argument, rest)), named


def _inspection_key(pack: Pack, document: Document, *rest: Any, **more: Any) -> Hashable:
    named = tuple((name, _of_argument(value)) for name, value in sorted(more.items()))
    return id(pack), _told(document), tuple(map(_of_argument, rest)), named


def _plan_key(
    pack: Pack,
    document: Document,
    car: Car,
    planning: Planning,
    on: date,
    asked: Asked,
    gear: Document | None,
) -> Hashable:
    from checker.studies.planning.highs import is_there

    told = _told(document), car.sha256, _told(gear), repr(planning)
    return (id(pack), *told, on, asked) if is_there() else None


def _of_argument(value: Any) -> Hashable:
    if isinstance(value, Document):
        return _told(value)
    return tuple(value) if isinstance(value, list) else frozenset(value) if isinstance(value, set) else value


def _advice_key(inspection: Inspection, only: Any = None) -> Hashable:
    return id(inspection), None if only is None else frozenset(only)
