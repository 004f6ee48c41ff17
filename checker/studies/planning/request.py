"""From file names to a plan."""

from __future__ import annotations

from checker.car.car import Car
from checker.car.declaration.loading import formula_of, load_car
from checker.car.declaration.planning import with_shelf
from checker.car.declaration.weight_findings import weight_findings
from checker.pack.keeping.kept import pack_at, pack_of
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.reading.quick_dataclasses import replace
from checker.reading.strict_yaml import read_document
from checker.studies.planning.looking import Asked
from checker.studies.planning.planner import WeightPlan, plan
from checker.verdict.run import Request, dated, day_for


def plan_request(request: Request, shelf: str | None, asked: Asked) -> WeightPlan:
    """Read the files and plan.

    Args:
        request: Which car, by which rules; without readings and what-ifs, for a plan begins at the car's own file.
        shelf: A file of what may be done, beside what the car's own says.

    Raises:
        InputError: A file cannot be used, or there is nothing to plan with.
    """
    document, car, pack, gear = car_of(request)
    if shelf is not None:
        car = with_its_shelf(document, car, shelf)
    return plan(pack, document, car, car.planning, day_for(document, None, request.on), asked, gear)


def car_of(request: Request) -> tuple[Document, Car, Pack, Document | None]:
    """The declaration, the car, the pack and a club's gear."""
    document = request.declared()
    on = day_for(document, None, request.on)
    pack = pack_at(request.pack, on) if request.pack else pack_of(formula_of(document), on)
    gear = read_document(request.gear, "GR") if request.gear else None
    return document, load_car(dated(document, on), pack.vocabulary, gear=gear), pack, gear


def with_its_shelf(document: Document, car: Car, shelf: str) -> Car:
    """The car with all that may be done, by its own file and a shelf's, and what is to be noticed of that."""
    car = replace(car, planning=with_shelf(read_document(shelf, "SH"), document, car))
    told = car.notes()
    beside = (replace(one, code="SH219") for one in weight_findings(car) if one not in told.remarks)
    notes = told._replace(remarks=(*told.remarks, *beside))
    return replace(car, notes=lambda: notes)
