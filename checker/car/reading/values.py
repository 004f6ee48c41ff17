"""Reads one value by the type that the pack gives it.
A bare value, or `{value: 1768 mm, with: steel tape, uncertainty: 0.4 mm}` for what is measured. Nothing
is guessed: a number without its unit, a word that is nearly right, a day that does not exist are errors
with the cure.
"""

from __future__ import annotations

from fractions import Fraction

from checker.car.described.stated import Stated
from checker.car.described.vocabulary import FactType
from checker.car.reading.mistakes import Reader, name_of
from checker.car.reading.single import Single, read_single, wanted
from checker.quantities.folding import spelt_like
from checker.quantities.kind import NUMBER
from checker.quantities.units import difference_kind
from checker.reading.marks import Whereabouts
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.values import Plain


def read_value(reader: Reader, fact: FactType, path: Path) -> Stated | None:
    """The value at `path`; None, with a problem noted, where it cannot be read as the type asks."""
    return read_given(reader, fact, path, reader.get(*path))


def read_given(reader: Reader, fact: FactType, path: Path, data: Plain) -> Stated | None:
    """As `read_value`, where it is known what stands at `path`."""
    if type(data) is str and not fact.several:
        known = reader.vocabulary.remembered.get((id(fact), data))
        if known is not None and known[0] is fact:  # as with most values of most cars
            value, written, unit = known[1]
            place = Whereabouts(reader.document, path)
            origin = reader.origin_at(path)
            return Stated(value, written, unit, origin, place, fact.measured_with, fact.uncertainty)
    value_path, instrument, uncertainty = path, fact.measured_with, fact.uncertainty
    named = isinstance(data, dict) and "with" in data
    if isinstance(data, dict):
        if not fact.kind.is_measure or fact.whole:
            reader.not_wanted(202, wanted(fact), *path)
            return None
        unwrapped = _unwrap(reader, fact, path, data)
        if unwrapped is None:
            return None
        instrument, uncertainty = unwrapped
        value_path = (*path, "value")
        data = data["value"]
    if fact.several and isinstance(data, list):
        ones = [_read_one(reader, fact, (*value_path, at), one) for at, one in enumerate(data)]
    else:
        ones = [_read_one(reader, fact, value_path, data)]
    read = [one for one in ones if one is not None]
    if len(read) < len(ones):
        return None
    return Stated(
        value=tuple(one.value for one in read) if fact.several else read[0].value,
        written=", ".join(one.written for one in read),
        unit=read[0].unit if read else None,
        origin=reader.origin_at(value_path),
        place=Whereabouts(reader.document, value_path),
        instrument=instrument,
        uncertainty=uncertainty,
        names_instrument=named,
    )


def _unwrap(
    reader: Reader, fact: FactType, path: Path, data: dict[str, Plain]
) -> tuple[str, Fraction | None] | None:
    """Instrument and uncertainty beside a value; None, with a problem noted, if they cannot be read."""
    keys = ("value", "with", "uncertainty")
    strangers = [key for key in data if key not in keys]
    for key in strangers:
        reader.unknown_name("key", keys, *path, key)
    if "value" not in data:
        if not strangers:
            reader.problem(202, f"{name_of(path)} has no value", *path, hint="add value:")
        return None
    instrument: str | None = fact.measured_with
    uncertainty = fact.uncertainty
    if "with" in data:
        instrument, uncertainty = read_instrument_name(reader, (*path, "with")), None
    if "uncertainty" in data:
        unit = fact.unit.step if fact.unit is not None else None
        as_stated = FactType(name_of((*path, "uncertainty")), difference_kind(fact.kind), unit, positive=True)
        one = read_single(reader, as_stated, (*path, "uncertainty"), data["uncertainty"])
        uncertainty = one.value if one else None
    return None if strangers or instrument is None else (instrument, uncertainty)


def read_instrument_name(reader: Reader, path: Path) -> str | None:
    """The name at `path` of an instrument that is described; None with a problem noted if none is."""
    name = reader.get(*path)
    if not isinstance(name, str):
        reader.not_wanted(210, "the name of an instrument", *path)
        return None
    if (known := spelt_like(name, reader.instruments)) is not None:
        return known
    hint = did_you_mean(name, reader.instruments) or "describe it under instruments:"
    reader.problem(216, f"{name_of(path)}: no instrument {name!r} is described", *path, hint=hint)
    return None


def _read_one(reader: Reader, fact: FactType, path: Path, data: Plain) -> Single | None:
    """One value, without the wrapping and not several; one in which nothing was wrong is read once for all cars.

    Of a number in quotes it matters how it is written, of a thing without mass who says so.
    """
    kind, remembered = type(data), reader.vocabulary.remembered
    text = data if kind is str or kind is bool else reader.document.number_text(data)
    key = (id(fact), text) if kind is str else (id(fact), text, kind)  # for true is 1, and "1" is none
    known = remembered.get(key)
    if known is not None and known[0] is fact:
        found: Single = known[1]
        return found
    before = reader.problems.times
    one = read_single(reader, fact, path, data)
    if one is None or text is None or reader.problems.times > before or (fact.of_a_thing and one.value == 0):
        return one
    if kind is not str or fact.kind.name != NUMBER.name:
        remembered.put(key, (fact, one))
    return one
