"""From file names to an inspection: which pack, which day, which car.

This is the one place that reads the clock, and only where neither the command nor the car's file names a day.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date
from typing import TYPE_CHECKING

from checker.car.car import Car
from checker.car.declaration.loading import formula_of, load_car
from checker.car.described.vocabulary import ENTRANT
from checker.pack.keeping.kept import pack_at, pack_of
from checker.pack.model import Pack
from checker.quantities.days import parse_day
from checker.reading.document import COMMAND_LINE, Document, Edit
from checker.reading.paths import parse_path
from checker.reading.problems import InputError, Problem
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.reading.strict_yaml import parse_document, read_document, read_quickly
from checker.verdict.inspection import Inspection, inspect_car

if TYPE_CHECKING:
    from checker.pack.editions.finding import PackFolder


@dataclass(frozen=True, slots=True)
class Request:
    """What a user asks for."""

    car: str
    pack: str | None = None
    on: str | None = None
    readings: str | None = None
    audience: str = ENTRANT
    what_if: tuple[str, ...] = ()
    """Values in place of the declared ones, each "PATH=VALUE"."""
    gear: str | None = None
    """A club's file of its instruments and the checks made of them."""
    _: KW_ONLY
    declaration: Document | None = None
    """What the car's file says, where that has been read, or is a line of a file of many."""

    def declared(self) -> Document:
        """The car's declaration.

        Raises:
            InputError: It cannot be read.
        """
        return self.declaration or read_quickly(self.car, "CD")

    @property
    def files(self) -> tuple[str | None, ...]:
        """What is read beside the car's own file."""
        return self.pack, self.readings, self.gear


def inspect_request(request: Request) -> Inspection:
    """Read the files and judge the car.

    Raises:
        InputError: A file cannot be used; with every problem found.
    """
    pack, car, on = car_of_request(request)
    judged = inspect_car(pack, car, on, request.audience, request.what_if)
    if judged.complies:
        return judged
    from checker.verdict.advice import advised

    return advised(judged)


def car_of_request(request: Request) -> tuple[Pack, Car, date]:
    """Read the files: the rules, the car, and the day it is judged for.

    Raises:
        InputError: A file cannot be used; with every problem found.
    """
    declared = request.declared()
    document = _with_what_if(declared, request.what_if)
    readings = read_document(request.readings, "RD") if request.readings else None
    on = day_for(document, readings, request.on)
    pack = pack_at(request.pack, on) if request.pack else pack_of(formula_of(document), on)
    gear = read_document(request.gear, "GR") if request.gear else None
    before = declared if request.what_if else None
    car = _car(pack, document, on, request.audience, readings, request.what_if, gear=gear, weighed_as=before)
    return pack, car, on


def folder_of_request(request: Request) -> PackFolder:
    """The folder of the editions that the car is judged by.

    Raises:
        InputError: There is none that can be used.
    """
    from checker.pack.editions.finding import find_pack, open_folder

    if request.pack:
        return open_folder(request.pack)
    return find_pack(formula_of(_with_what_if(request.declared(), request.what_if)))


def inspect_document(
    pack: Pack,
    document: Document,
    on: date,
    audience: str,
    readings: Document | None = None,
    what_if: tuple[str, ...] = (),
    *,
    gear: Document | None = None,
    weighed_as: Document | None = None,
    exact: bool = False,
    only: Collection[str] | None = None,
) -> Inspection:
    """Judge the car of a declaration that has been read.

    Args:
        gear: A club's description of its instruments.
        weighed_as: For a what-if: the declaration of the car that was weighed.
        exact: Take every value as exact.
        only: Numbers of the clauses to judge; None: all.

    Raises:
        InputError: The declaration or the readings cannot be used; with every problem found.
    """
    car = _car(pack, document, on, audience, readings, what_if, gear=gear, weighed_as=weighed_as)
    return inspect_car(pack, car, on, audience, what_if, exact=exact, only=only)


def _car(
    pack: Pack,
    document: Document,
    on: date,
    audience: str,
    readings: Document | None,
    what_if: tuple[str, ...],
    *,
    gear: Document | None,
    weighed_as: Document | None,
) -> Car:
    before = None if weighed_as is None else dated(weighed_as, on)
    document, rules = dated(document, on), pack.vocabulary
    car = load_car(document, rules, readings, audience=audience, gear=gear, weighed_as=before)
    if weighed_as is not None:
        from checker.verdict.what_if import refuse_half_known

        refuse_half_known(pack, car, what_if, weighed_as)
    return car


def day_for(document: Document, readings: Document | None, asked: str | None) -> date:
    """The day judged for: the one asked for, else the event's in the readings or the car's file, else today."""
    if asked is not None:
        return parse_day(asked)
    for file in (readings, document):
        value = file.get(("event", "date")) if file is not None else None
        if isinstance(value, str):
            try:
                return parse_day(value)
            except ValueError:
                break  # told with its place when the car is loaded
    return date.today()


def dated(document: Document, on: date) -> Document:
    """The declaration with the day it is judged for, so that formulas see it as `event.date`."""
    if document.get(("event", "date")) == on.isoformat() or not isinstance(document.data, dict):
        return document
    event = document.get(("event",))
    if event is not None and not isinstance(event, dict):
        return document
    if isinstance(event, dict) and "date" in event and not _is_day(event["date"]):
        return document
    return document.edited([Edit(("event", "date"), on.isoformat())], code="CD199")


def _is_day(value: object) -> bool:
    try:
        return bool(isinstance(value, str) and parse_day(value))
    except ValueError:
        return False


def _with_what_if(document: Document, what_if: tuple[str, ...]) -> Document:
    changes: list[Edit] = []
    for text in what_if:
        path, equals, value = text.partition("=")
        try:
            if not equals:
                raise ValueError("there is no = in it")
            typed = parse_document(value.encode(), COMMAND_LINE, "CD") if value.strip() else None
            changes.append(Edit(parse_path(path.strip()), typed.data if typed else "", typed))
        except UnicodeEncodeError:
            raise  # no text at all: the command line says which argument
        except ValueError as error:
            hint = "write --set engine.capacity='1298 cc'"
            raise InputError([Problem("CD198", f"--set {text}: {error}", hint=hint)]) from None
    return document.edited(changes, code="CD199") if changes else document
