"""One car: everything that is stated of it, ready to be asked.

What nobody stated is answered with `Unknown`, which names what is missing; it never turns into a number.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from checker.car.described.instrument import Instrument
from checker.car.described.stated import Entry, Stated
from checker.car.described.vocabulary import Condition, Vocabulary
from checker.car.gear.pad_checks import PadCheck
from checker.car.gear.pad_doubts import Doubt, doubts
from checker.car.gear.weighing import Weighing
from checker.car.weights.centre_of_gravity import HEIGHT, RaisedAxle, height_of_centre
from checker.car.weights.differences import Change
from checker.car.weights.geometry import Amount, Geometry
from checker.car.weights.weights import State, Weights, as_weighed
from checker.quantities.folding import fold
from checker.quantities.kind import Unknown
from checker.reading.problems import Problem

if TYPE_CHECKING:
    from checker.car.gear.error_sources import Lever, Source

WEIGHT_MODEL = ("dimensions.", "fuel.", "driver.", "tyres.", "wear.", "fluids.", "weighing.")
"""Beginnings of the names that weights are worked out from in another state than the weighed one."""


class Car:
    """One car as declared and measured; never changed after it is made."""

    def __init__(
        self,
        *,
        vocabulary: Vocabulary,
        sha256: str,
        facts: Mapping[str, Stated],
        structure: Mapping[str, Stated],
        tyre_sets: tuple[str, ...],
        weighing: Weighing,
        instruments: Mapping[str, Instrument],
        entries: Mapping[str, tuple[Entry, ...]],
        approvals: tuple[str, ...],
        assumed: tuple[str, ...],
        warnings: tuple[Problem, ...],
        readings_sha256: str = "",
        gear_sha256: str = "",
        tank_levels: int = 0,
        fluids: tuple[str, ...] = (),
        raised: tuple[RaisedAxle, ...] = (),
        checks: tuple[PadCheck, ...] = (),
    ) -> None:
        self.vocabulary = vocabulary
        self.sha256 = sha256
        """Of the declaration's bytes, in hex."""
        self.readings_sha256 = readings_sha256
        """Of the bytes of what officials measured; "" where there are no readings."""
        self.gear_sha256 = gear_sha256
        """Of the bytes of a club's gear file; "" where there is none."""
        self.facts = facts
        """Facts of the vocabulary by full name, defaults included."""
        self.structure = structure
        """Places of fuel and driver, tyre sets and wear by dotted name, e.g. "tyres.dry.front.mass"."""
        self.tyre_sets = tyre_sets
        """Names of the tyre sets that are described."""
        self.tank_levels = tank_levels
        """How many levels the tank is described at; 0 where the fuel always acts at one place."""
        self.fluids = fluids
        """Names of fluids that are used up as tyres and brakes wear."""
        self.raised = raised
        """Weighings with an axle raised, for the height of the centre of gravity."""
        self.checks = checks
        """Checks of the pads."""
        self.roll_split = Fraction(0)
        """By how much more of a leaning mass the rear axle takes than its part of the weight."""
        self.weighing = weighing
        self.instruments = instruments
        """By name: those of the files, and those of the pack that no file describes."""
        self._all_entries = entries
        self.lists: Mapping[str, tuple[Entry, ...]] = {
            name: tuple(entry for entry in every if entry.parent is None) for name, every in entries.items()
        }
        """Entries that are not parts, by list: empty where stated empty, absent where not declared."""
        self.approvals = approvals
        """References of the approvals that are cited."""
        self.assumed = assumed
        """Sentences: defaults that were taken, and what was believed though others are to state it."""
        self.warnings = warnings
        self._geometry: Geometry | None = None
        self._as_weighed: dict[int | None, dict[str, Amount]] = {}
        self.changes: dict[tuple[Any, Any], Change | None] = {}
        """Kept by `checker.car.weights.differences`: what each fuel, driver, tyre set and wear changes."""
        self._weights: dict[tuple[State | None, int | None], Weights] = {}
        self._sources: tuple[Source, ...] | None = None
        self._source_places: Mapping[str, Sequence[int]] = {}
        self._moved: dict[tuple[str, int, int], Car] = {}
        self._pad_doubts: tuple[Doubt, ...] | None = None

    @property
    def number(self) -> str:
        """The racing number."""
        return str(self.facts["car.number"].value)

    @property
    def name(self) -> str:
        """What the car is called; "" where that is not stated."""
        stated = self.facts.get("car.name")
        return str(stated.value) if stated else ""

    def value(self, name: str) -> Any:
        """The value of a fact or of a part of the structure, or `Unknown` that names it."""
        stated = self.stated(name)
        return Unknown(absent=(name,)) if stated is None else stated.value

    def stated(self, name: str) -> Stated | None:
        """What is stated under that name, or taken by default."""
        return self.facts.get(name) or self.structure.get(name)

    def entries(self, list_name: str, parts: bool) -> tuple[Entry, ...] | Unknown:
        """The entries of a list (with `parts`, each followed by its parts), or `Unknown` if not declared."""
        every = self._all_entries if parts else self.lists
        found = every.get(list_name)
        return Unknown(absent=(list_name,)) if found is None else found

    @property
    def documents(self) -> tuple[Entry, ...] | Unknown:
        return self.entries("documents", parts=False)

    def instrument(self, name: str) -> Instrument | None:
        return self.instruments.get(name)

    def tyre_set(self, name: str) -> str | None:
        """The name of the tyre set as the file writes it, or None if it describes none such."""
        return next((known for known in self.tyre_sets if fold(known) == fold(name)), None)

    @property
    def weighings(self) -> int:
        """How many repeat readings there are."""
        return len(self.weighing.readings)

    @property
    def geometry(self) -> Geometry:
        """The levers: wheelbase and tracks."""
        if self._geometry is None:
            self._geometry = Geometry(self)
        return self._geometry

    def weights(self, state: State | None = None, weighing: int | None = None) -> Weights:
        """The car's weights in a state (None: as weighed), from one repeat reading (from 0) or their mean."""
        key = (state, weighing)
        if key not in self._weights:
            if weighing not in self._as_weighed:
                self._as_weighed[weighing] = as_weighed(self.weighing, weighing)
            self._weights[key] = Weights(self, state, self._as_weighed[weighing])
        return self._weights[key]

    def states(self, condition: Condition) -> tuple[State, ...]:
        """All corners of a condition, in a fixed order."""
        from checker.car.weights.states import states

        return states(self, condition)

    @property
    def gear(self) -> Instrument | None:
        """What the car was weighed with, where that is stated."""
        return self.instrument(self.weighing.instrument) if self.weighing.instrument else None

    @property
    def pad_doubts(self) -> tuple[Doubt, ...]:
        """What makes one doubt the pads that the car was weighed with."""
        if self._pad_doubts is None:
            self._pad_doubts = doubts(self.weighing, self.gear, self.checks) if self.gear else ()
        return self._pad_doubts

    @property
    def centre_of_gravity_height(self) -> Fraction:
        """mm above the ground: as declared, as found by raising an axle, or as the pack assumes."""
        declared = self.structure.get(HEIGHT)
        if declared is not None:
            return Fraction(declared.value)
        measured = self.measured_height
        return self.vocabulary.assumptions.centre_of_gravity_height_mm if measured is None else measured

    @property
    def measured_height(self) -> Fraction | None:
        """The mean height that raising an axle gave; None where none was raised, or the car's loads are not known."""
        loads, base = self.weights(), self.geometry.wheelbase
        found: list[Fraction] = []
        for raised in self.raised:
            total = loads.weight("total")
            level = loads.weight("front" if raised.axle == "rear" else "rear")
            if isinstance(total, Fraction) and isinstance(level, Fraction) and isinstance(base, Fraction):
                found.append(height_of_centre(raised, total, level, base))
        return sum(found, Fraction(0)) / len(found) if found else None

    # --- sources of error ----------------------------------------------------------------------------------

    @property
    def sources(self) -> tuple[Source, ...]:
        """Every source of error, of single measurements and of the weighing."""
        if self._sources is None:
            from checker.car.gear.error_sources import fact_sources, places_by_name, roll_source
            from checker.car.gear.weighing_errors import weighing_sources

            self._sources = (*fact_sources(self), *roll_source(self), *weighing_sources(self))
            self._source_places = places_by_name(self._sources)
        return self._sources

    def sources_of(self, names: Iterable[str]) -> tuple[Source, ...]:
        """The sources of error that move any of these: see `Source.moves`."""
        sources = self.sources
        places = {place for name in names for place in self._source_places.get(name, ())}
        return tuple(sources[place] for place in sorted(places))

    def every_entry(self, list_name: str) -> tuple[Entry, ...]:
        """The entries of a list with their parts; none where it is not declared."""
        return self._all_entries.get(list_name, ())

    def moved(self, lever: Lever, step: Fraction) -> Car:
        """A copy of this car with one lever moved by `step` base units; kept for the next clause."""
        key = (lever.key, step.numerator, step.denominator)
        if key not in self._moved:
            self._moved[key] = lever.shift(self, step)
        return self._moved[key]

    def with_value(self, name: str, place: int | None, step: Fraction) -> Car:
        """A copy with a fact or a part of the structure moved; of several values the one at `place`."""
        copy = self._copy()
        kept = "facts" if name in self.facts else "structure"
        stated = getattr(self, kept)
        setattr(copy, kept, {**stated, name: _moved(stated[name], place, step)})
        if name.startswith(WEIGHT_MODEL):
            copy._geometry, copy.changes, copy._weights = None, {}, {}
        return copy

    def with_field(self, list_name: str, path: str, field: str, place: int | None, step: Fraction) -> Car:
        """A copy with one field of the entry at `path` moved."""
        entries = tuple(
            replace(entry, fields={**entry.fields, field: _moved(entry.fields[field], place, step)})
            if entry.path == path
            else entry
            for entry in self._all_entries[list_name]
        )
        copy = self._copy()
        copy._all_entries = {**self._all_entries, list_name: entries}
        copy.lists = {**self.lists, list_name: tuple(entry for entry in entries if entry.parent is None)}
        if list_name == "ballast" and self.weighing.without:
            copy.changes, copy._weights = {}, {}
        return copy

    def with_roll_split(self, step: Fraction) -> Car:
        """A copy whose springs put more of a leaning mass on the rear axle."""
        copy = self._copy()
        copy.roll_split += step
        copy._geometry, copy.changes, copy._weights = None, {}, {}
        return copy

    def with_weighing(self, weighing: Weighing) -> Car:
        """A copy that was weighed so, all else alike."""
        copy = self._copy()
        copy.weighing, copy._as_weighed, copy._weights = weighing, {}, {}
        return copy

    def _copy(self) -> Car:
        """The same car, which shares what has been worked out; whoever changes it takes away what no longer holds."""
        copy = object.__new__(Car)
        copy.__dict__.update(self.__dict__)
        copy._moved = {}
        return copy


def _moved(stated: Stated, place: int | None, step: Fraction) -> Stated:
    if not isinstance(stated.value, tuple):
        return replace(stated, value=stated.value + step)
    values = tuple(v + step if place in (None, at) else v for at, v in enumerate(stated.value))
    return replace(stated, value=values)
