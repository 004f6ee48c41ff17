"""From a declaration, and what officials measured with what gear, to one car.
Every mistake in all files is found in one run. What is misspelt, doubled, out of range or unreadable is
an error with its place; what is not stated at all is no mistake here, but leaves `Unknown` wherever it is
asked for.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from datetime import date
from functools import cache

from checker.car.car import Car
from checker.car.declaration.assumed import field_defaults, settle
from checker.car.declaration.consistency import check_together
from checker.car.declaration.entries import final_entries, still_to_come
from checker.car.declaration.gear_findings import gear_findings, weighing_premises
from checker.car.declaration.overlaying import Contents, laid_over, read_contents, with_gear
from checker.car.declaration.since import PATH as SINCE
from checker.car.declaration.since import as_weighed
from checker.car.declaration.weight_findings import centre_line_premises, weight_findings, what_if_premises
from checker.car.described.instrument import Instrument
from checker.car.described.planning import Planning
from checker.car.described.standard import WHEELS
from checker.car.described.stated import DECLARED, GEAR, READINGS
from checker.car.described.vocabulary import ENTRANT, Vocabulary
from checker.car.gear.pad_checks import PadCheck
from checker.car.gear.weighing import Weighing
from checker.car.premises import CarNotes, GearTaken, OfGear, Premise
from checker.car.reading.mistakes import Reader, codes_of
from checker.quantities.folding import fold
from checker.reading.document import Document
from checker.reading.plain_text import printable
from checker.reading.problems import InputError, Problem, Problems
from checker.reading.quick_dataclasses import replace

PLANNING = ("planning",)

__all__ = ["Car", "formula_of", "load_car"]


def formula_of(document: Document, code: str = "CD211") -> str:
    """The formula that a car's file names, which tells the pack to judge it by.

    Raises:
        InputError: It names none.
    """
    formula = document.get(("formula",))
    if isinstance(formula, str) and formula.strip():
        return formula.strip()
    hint = "begin the file with the formula's name, as in formula: dunlin"
    message = "the file does not say by which formula to judge"
    if not isinstance(document.data, dict):
        message = "this is not a declaration: it holds no sections"
    raise InputError([Problem(code, message, document.span(("formula",)), hint=hint)])


def load_car(
    document: Document,
    vocabulary: Vocabulary,
    readings: Document | None = None,
    *,
    audience: str = ENTRANT,
    gear: Document | None = None,
    weighed_as: Document | None = None,
) -> Car:
    """The car that a declaration describes, with an official's readings over it.

    Args:
        document: The declaration.
        vocabulary: What the pack lets it say.
        readings: What officials measured or ruled, in the same shape; it counts before the declaration.
        audience: "entrant" or "official". For an official, facts that are not for the entrant to state
            count only from the readings.
        gear: A club's description of its instruments and the checks made of them; it counts before the declaration.
        weighed_as: For a what-if: the declaration of the car that was weighed.

    Raises:
        InputError: With every mistake of all files: codes CDxxx, RDxxx and GRxxx, see `CODES`.
    """
    problems = Problems()
    files = [file for file in (document, readings, gear) if file is not None]
    names = frozenset(vocabulary.instruments).union(*(file.mapping(("instruments",)) for file in files))

    def at(file: Document, origin: str) -> Reader:
        codes = codes_of(origin)
        return Reader(file, codes, problems, vocabulary=vocabulary, origin=origin, instruments=names)

    own = at(document, DECLARED)
    _check_formula(own)
    contents = read_contents(own)
    _check_number(own, contents, audience)
    if gear is not None:
        contents = with_gear(contents, at(gear, GEAR))
    if readings is not None:
        reader = at(readings, READINGS)
        _check_formula(reader)
        official = read_contents(reader)
        _check_same_number(reader, official, contents)
        contents = laid_over(contents, official, reader)
    check_together(contents, vocabulary, problems)
    on_scales = _on_scales(own, weighed_as, readings, at)
    planning = _planning(own, readings, at)
    problems.found.sort(key=_place)
    problems.raise_if_any()
    facts, assumed = settle(contents, vocabulary, audience, problems)
    entries = {
        name: tuple(final_entries(vocabulary.lists[name], drafts)) for name, drafts in contents.lists.items()
    }
    for name, span in contents.unfinished.items():
        if name in entries:
            entries[name] = (*entries[name], still_to_come(name, len(contents.lists[name]), span))
    instruments = {**vocabulary.instruments, **contents.instruments}
    weighing, own_scales = _on_the_packs_scales(contents.weighing, vocabulary)
    used = instruments.get(weighing.instrument)
    weighing = weighing.with_offsets(used.offsets) if used else weighing
    when, on = weighing.when, facts.get("event.date")
    if when is not None and on is not None and when.day > on.value:
        after = f"after {on.value.isoformat()}, the day judged"
        message = f"weighing.when is {when.words}, {after}: it is not counted"
        problems.add("CD222", message, weighing.span, hint="check the year", warning=True)
        weighing = replace(weighing, readings=())
    checks = _made_by(None if on is None else on.value, contents.checks, used, problems)
    before = None
    if on_scales is not None:
        before = load_car(on_scales, vocabulary, readings, audience=audience, gear=gear)

    def notes() -> CarNotes:
        return _notes(car, (*assumed, *field_defaults(entries, vocabulary), *own_scales), weighed_as)

    car = Car(
        vocabulary=vocabulary,
        sha256=document.sha256,
        facts=facts,
        structure=contents.structure,
        tyre_sets=contents.tyre_sets,
        weighing=weighing,
        instruments=instruments,
        all_entries=entries,
        approvals=contents.approvals,
        notes=cache(notes),
        warnings=problems.warnings,
        readings_sha256="" if readings is None else readings.sha256,
        gear_sha256="" if gear is None else gear.sha256,
        tank_levels=contents.tank_levels,
        fluids=contents.fluids,
        raised=contents.raised,
        checks=checks,
        planning=planning,
        weighed_as=before,
    )
    return car


def _notes(car: Car, taken: tuple[Premise, ...], weighed_as: Document | None) -> CarNotes:
    done_since = what_if_premises(car, since=weighed_as is None)
    gear = tuple(gear_findings(car))
    return CarNotes(
        premises=(*taken, *weighing_premises(car, gear), *centre_line_premises(car), *done_since),
        remarks=(*weight_findings(car), *gear),
    )


def _on_scales(
    own: Reader, weighed_as: Document | None, readings: Document | None, at: Callable[[Document, str], Reader]
) -> Document | None:
    """The declaration of the car that stood on the scales, if it is another than is judged."""
    if readings is not None and isinstance(readings.get(("weighing",)), dict):
        if readings.has(SINCE):
            why = "what was weighed is the car as it was presented"
            message = f"weighing.since is for the car's own file: {why}"
            at(readings, READINGS).key_problem(201, message, *SINCE, hint="take it away")
        return weighed_as  # what the officials weighed is the car as it is
    undone = as_weighed(own)
    if weighed_as is None or undone is None:
        return undone or weighed_as
    return as_weighed(at(weighed_as, DECLARED))


def _planning(own: Reader, readings: Document | None, at: Callable[[Document, str], Reader]) -> Planning:
    """What may be done to the car; a file without `planning` pays for nothing."""
    if readings is not None and readings.has(PLANNING):
        message = "planning is for the car's own file"
        at(readings, READINGS).key_problem(201, message, *PLANNING, hint="take it away")
    if not own.document.has(PLANNING):
        return Planning()
    from checker.car.declaration.planning import read_planning

    return read_planning(own, own.document, Planning())


def _on_the_packs_scales(weighing: Weighing, vocabulary: Vocabulary) -> tuple[Weighing, tuple[Premise, ...]]:
    """Single wheels of which nobody says what they were weighed with: on the pack's own gear, where it names some."""
    own = vocabulary.assumptions.weighed_with
    if weighing.instrument or weighing.shape != WHEELS or not own:
        return weighing, ()
    return replace(weighing, instrument=own), (GearTaken(own, OfGear.THE_PACKS),)


def _place(problem: Problem) -> tuple[bool, int, int]:
    """Where a problem comes in the list: the car's file from top to bottom, then the others."""
    span = problem.span
    return (problem.code[:2] != "CD", span.line, span.column) if span else (False, 0, 0)


def _check_formula(reader: Reader) -> None:
    code = reader.codes.of(211)
    formula = formula_of(reader.document, code)
    pack = reader.vocabulary.pack
    if fold(formula) != fold(pack):
        message = f"the file is for the formula {formula!r}; the pack is that of {pack!r}"
        span = reader.document.span(("formula",))
        hint = f"judge it by the pack of {formula}, or correct the name"
        raise InputError([Problem(code, message, span, hint=hint)])


def _check_number(reader: Reader, contents: Contents, audience: str) -> None:
    path = ("car", "number")
    if "car.number" in contents.facts:
        number = str(contents.facts["car.number"].value)
        seen = unicodedata.normalize("NFKC", number)
        if not number.isprintable() or number != seen or seen.lstrip().startswith(("=", "+", "-", "@")):
            hint = "write it as it stands on the car, in plain letters and figures"
            message = f"car.number '{printable(number)}' would be taken for another"
            reader.problem(212, message, *path, hint=hint)
        return
    given = reader.get(*path)
    blank = isinstance(given, str) and not given.strip()
    if reader.has(*path) and (audience == ENTRANT or not blank):
        return  # left blank, as an entrant may to begin with, or found wrong when it was read
    hint = 'write car: {number: "27"}'
    reader.problem(212, "car.number is not stated: a report must say which car it is about", *path, hint=hint)


def _made_by(
    on: date | None, checks: tuple[PadCheck, ...], used: Instrument | None, problems: Problems
) -> tuple[PadCheck, ...]:
    """The checks that count on a day: a later one is no evidence of pads in order, only of those that failed it."""
    counted: list[PadCheck] = []
    for check in checks:
        if on is None or check.when.day <= on:
            counted.append(check)
        elif used is not None and check.instrument == used.name:
            failed = [pad for pad in check.pads if check.is_out(pad, used)]
            if failed:
                counted.append(check.of(failed))
                continue
            after = f"after {on.isoformat()}, the day judged"
            message = f"a check of {check.instrument} is of {check.when.words}, {after}: it is not counted"
            problems.add("CD222", message, check.span, hint="check the year", warning=True)
    return tuple(counted)


def _check_same_number(reader: Reader, official: Contents, declared: Contents) -> None:
    theirs, ours = official.facts.get("car.number"), declared.facts.get("car.number")
    if theirs and ours and fold(theirs.value) != fold(ours.value):
        message = f"the readings are of car {theirs.value!r}, the declaration is of car {ours.value!r}"
        related = (("the declaration's number", ours.span),) if ours.span else ()
        reader.problem(212, message, "car", "number", related=related)
