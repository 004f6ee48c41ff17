"""One car: everything that is stated of it, ready to be asked.

What nobody stated is answered with `Unknown`, which names what is missing; it never turns into a number.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Mapping
from datetime import date
from fractions import Fraction
from functools import cached_property, partial
from typing import Any, TypeVar

from checker.car.described.asking import ROLL_SPLIT, WEIGHTS, Kept, Noting, Worked
from checker.car.described.instrument import Instrument
from checker.car.described.planning import Planning
from checker.car.described.stated import DAY_JUDGED, Entry, Stated, with_moved
from checker.car.described.vocabulary import Condition, Vocabulary
from checker.car.gear.pad_checks import PadCheck
from checker.car.gear.pad_doubts import PadDoubt, doubts
from checker.car.gear.weighing import Weighing
from checker.car.premises import CarNotes
from checker.car.weights.centre_of_gravity import HEIGHT, RaisedAxle, height_of_centre
from checker.car.weights.geometry import Geometry
from checker.car.weights.race_run import RaceRun, on_the_run
from checker.car.weights.states import states
from checker.car.weights.weights import State, Weights
from checker.quantities.folding import spelt_like
from checker.quantities.kind import Unknown
from checker.reading.problems import Problem
from checker.reading.quick_dataclasses import dataclass, field, replace

T = TypeVar("T")


@dataclass(frozen=True, eq=False, kw_only=True)
class Car:
    """One car as declared and measured. It never changes: one with something moved is another car."""

    vocabulary: Vocabulary
    sha256: str
    """Of the declaration's bytes, in hex."""
    readings_sha256: str = ""
    """Of the bytes of what officials measured; "" where there are no readings."""
    gear_sha256: str = ""
    """Of the bytes of a club's gear file; "" where there is none."""
    facts: Mapping[str, Stated]
    """Facts of the vocabulary by full name, defaults included."""
    structure: Mapping[str, Stated]
    """Places of fuel and driver, tyre sets and wear by dotted name, e.g. "tyres.dry.front.mass"."""
    tyre_sets: tuple[str, ...]
    """Names of the tyre sets that are described."""
    tank_levels: int = 0
    """How many levels the tank is described at; 0 where the fuel always acts at one place."""
    fluids: tuple[str, ...] = ()
    """Names of fluids that are used up as tyres and brakes wear."""
    raised: tuple[RaisedAxle, ...] = ()
    """Weighings with an axle raised, for the height of the centre of gravity."""
    checks: tuple[PadCheck, ...] = ()
    """Checks of the pads."""
    roll_split: Fraction = Fraction(0)
    """By how much more of a leaning mass the rear axle takes than its part of the weight."""
    weighing: Weighing
    instruments: Mapping[str, Instrument]
    """By name: those of the files, and those of the pack that no file describes."""
    all_entries: Mapping[str, tuple[Entry, ...]]
    """Entries, each followed by its parts, by list: empty where stated empty, absent where not declared."""
    approvals: tuple[str, ...] = ()
    """References of the approvals that are cited."""
    notes: Callable[[], CarNotes] = CarNotes
    """What is to be told beside a verdict: worked out when it is told, for most cars are judged and nobody reads it."""
    warnings: tuple[Problem, ...] = ()
    """What was found in the files."""
    weighed_as: Car | None = None
    """The car that stood on the scales, where it is another: for a what-if, or where things were done since."""
    planning: Planning = field(default_factory=Planning)
    """What may be added to it, moved on it and taken off it."""
    run: RaceRun | None = None
    """A race that it is judged for alone; None: in all states that the rules ask for."""
    _kept: Kept = field(default_factory=Kept, init=False, repr=False)
    """What has been worked out of it, or holds though something has moved."""
    of_errors: Kept = field(default_factory=Kept, init=False, repr=False)
    """What belongs to this very car, and rests on what some names are out by alone."""
    _own: dict[Hashable, Any] = field(default_factory=dict, init=False, repr=False)
    """What belongs to this very car."""
    _any_day: dict[Hashable, Any] = field(default_factory=dict, init=False, repr=False)
    """What belongs to it on whatever day it is judged."""

    # --- what is stated --------------------------------------------------------------------------------------

    @property
    def number(self) -> str:
        """The racing number; "" in a blank declaration."""
        stated = self.facts.get("car.number")
        return str(stated.value) if stated else ""

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

    @cached_property
    def lists(self) -> Mapping[str, tuple[Entry, ...]]:
        """Entries that are not parts, by list: empty where stated empty, absent where not declared."""
        return {
            name: tuple(entry for entry in every if entry.parent is None)
            for name, every in self.all_entries.items()
        }

    def entries(self, list_name: str, parts: bool) -> tuple[Entry, ...] | Unknown:
        """The entries of a list (with `parts`, each followed by its parts), or `Unknown` if not declared."""
        every = self.all_entries if parts else self.lists
        found = every.get(list_name)
        return Unknown(absent=(list_name,)) if found is None else found

    def every_entry(self, list_name: str) -> tuple[Entry, ...]:
        """The entries of a list with their parts; none where it is not declared."""
        return self.all_entries.get(list_name, ())

    def places(self, list_name: str) -> Mapping[str, int]:
        """Where in `every_entry` each entry of a list stands, by its path; errors of measurement move none."""
        found = self._kept.get(key := ("places", list_name))
        if found is None:
            places = {entry.path: place for place, entry in enumerate(self.every_entry(list_name))}
            found = self._kept.put(key, Worked(places, frozenset(), ()))
        result: Mapping[str, int] = found.result
        return result

    def field(self, entry: Entry, name: str) -> Any:
        """A field of one of the entries, or `Unknown`."""
        return entry.value(name)

    def tyre_set(self, name: str) -> str | None:
        """The name of the tyre set as the file writes it, or None if it describes none such."""
        return spelt_like(name, self.tyre_sets)

    @property
    def every_tyre_set(self) -> tuple[str, ...]:
        """Names of the sets that count: those that the formula runs, described or not; without such, all described."""
        return tuple(self.tyre_set(name) or name for name in self.vocabulary.tyre_sets) or self.tyre_sets

    # --- weights ---------------------------------------------------------------------------------------------

    @property
    def inside(self) -> str:
        """ "left" or "right"."""
        return self.vocabulary.inside

    @property
    def left_off(self) -> tuple[str, ...]:
        """Labels of the ballast that was not on the car when it was weighed."""
        return self.weighing.without

    @property
    def lists_with_mass(self) -> tuple[str, ...]:
        """Lists of what weighs something."""
        return tuple(name for name, its in self.vocabulary.lists.items() if "mass" in its.fields)

    @property
    def weighings(self) -> int:
        """How many repeat readings there are."""
        return len(self.weighing.readings)

    def loads(self, which: int | None) -> Mapping[str, Fraction]:
        """kg that one repeat reading (from 0), or the mean of all, gave, by wheel, axle or side."""
        return self.weighing.loads(which)

    @property
    def geometry(self) -> Geometry:
        """The levers: wheelbase and tracks."""
        return self.worked_out(Geometry).result

    def weights(self, state: State | None = None, weighing: int | None = None) -> Weights:
        """The car's weights in a state (None: as weighed), from one repeat reading (from 0) or their mean."""
        return self.worked_out(Weights, state, weighing).result

    def weights_rest_on(self, state: State | None = None, weighing: int | None = None) -> frozenset[str]:
        """Names of all that these weights are worked out from."""
        return self.worked_out(Weights, state, weighing).names

    def states(self, condition: Condition) -> tuple[State, ...]:
        """All corners of a condition, in a fixed order; on a run those that lie on it."""
        run = self.run
        find = partial(states if run is None else partial(on_the_run, run=run), self, condition)
        # kept with the condition, so that no other has its id
        return self.once((states, id(condition)), lambda: (condition, find()))[1]

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

    # --- gear ------------------------------------------------------------------------------------------------

    def instrument(self, name: str) -> Instrument | None:
        """The one of that name; "" is none."""
        return self.instruments.get(name) if name else None

    @property
    def gear(self) -> Instrument | None:
        """What the car was weighed with, where that is stated."""
        return self.instrument(self.weighing.instrument)

    @cached_property
    def pad_doubts(self) -> tuple[PadDoubt, ...]:
        """What makes one doubt the pads that the car was weighed with."""
        return doubts(self.weighing, self.gear, self.checks) if self.gear else ()

    # --- what has been worked out, and other cars ------------------------------------------------------------

    def worked_out(self, make: Callable[..., T], *of: Hashable) -> Worked[T]:
        """What `make` makes of the car and of these, with the names that it asked for."""
        key = (make, *of)
        return self._kept.get(key) or self._kept.put(key, Noting(self).work_out(make, of))

    def once(self, key: Hashable, make: Callable[[], T], *, any_day: bool = False) -> T:
        """What belongs to this very car, and to none with something moved; `any_day`: whatever day it is judged for."""
        own = self._any_day if any_day else self._own
        if key not in own:
            own[key] = make()
        found: T = own[key]
        return found

    def on_day(self, day: date) -> Car:
        """The same car with another day to judge it for, and nothing of it read anew."""
        stated = self.facts[DAY_JUDGED]._replace(value=day, written=day.isoformat())
        other = self._other(DAY_JUDGED, facts={**self.facts, DAY_JUDGED: stated})
        object.__setattr__(other, "_any_day", self._any_day)
        object.__setattr__(other, "of_errors", self.of_errors)
        return other

    def measured_otherwise(self, names: Collection[str], **fields: Any) -> Car:
        """Another car of which the same values are stated; those of these names are out by something else."""
        other = replace(self, **fields)
        object.__setattr__(other, "_kept", self._kept)
        object.__setattr__(other, "of_errors", Kept(self.of_errors, names))
        return other

    def with_value(self, name: str, place: int | None, step: Fraction) -> Car:
        """Another car with a fact or a part of the structure moved; of several values the one at `place`."""
        kept = "facts" if name in self.facts else "structure"
        before = self.weighed_as
        if before is not None and before.value(name) == self.value(name):
            before = before.with_value(name, place, step)  # what is still on the car is out by the same
        moved = with_moved(getattr(self, kept), name, place, step)
        return self._other(name, **{kept: moved}, weighed_as=before)

    def with_field(self, list_name: str, path: str, name: str, place: int | None, step: Fraction) -> Car:
        """Another car with one field of the entry at `path` moved."""
        every, at = self.all_entries[list_name], self.places(list_name)[path]
        moved = every[at]
        fields = with_moved(moved.fields, name, place, step)
        entries = (*every[:at], replace(moved, fields=fields), *every[at + 1 :])
        before = self.weighed_as
        for twin in before.every_entry(list_name) if before is not None else ():
            if before is not None and twin.label == moved.label and twin.value(name) == moved.value(name):
                before = before.with_field(list_name, twin.path, name, place, step)
        return self._other(list_name, all_entries={**self.all_entries, list_name: entries}, weighed_as=before)

    def with_roll_split(self, step: Fraction) -> Car:
        """Another car whose springs put more of a leaning mass on the rear axle."""
        return self._other(ROLL_SPLIT, roll_split=self.roll_split + step)

    def with_weighing(self, weighing: Weighing) -> Car:
        """Another car that showed other loads when it was weighed, all else alike."""
        return self._other(WEIGHTS, weighing=weighing)

    def _other(self, moved: str, **fields: Any) -> Car:
        """Another car, which has what was worked out of this one and does not rest on what `moved`."""
        other = replace(self, **fields)
        object.__setattr__(other, "_kept", Kept(self._kept, (moved,)))
        return other
