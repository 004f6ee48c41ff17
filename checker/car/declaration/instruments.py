"""Reads `instruments:`, the same in a rule pack, a car's file, a club's gear file and an official's readings.

instruments:
  tape: {resolution: 1 mm, permissible_error: 1 mm}
  club pads: {permissible_error: {class: III, interval: 0.1 kg}, common_error: 0.1 %, calibrated_until: 2027-02-28}
  home pads: {resolution: 0.5 kg, permissible_error: 0.3 %, offset: {front_left: -0.4 kg}}
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from checker.car.described.accuracy_classes import CLASSES, OIML, STANDARDS, TABLES, AccuracyClass
from checker.car.described.instrument import ZERO, Instrument, Permissible
from checker.quantities.days import parse_day
from checker.quantities.dimension import MASS
from checker.quantities.folding import spelt_like
from checker.quantities.kind import NUMBER, Kind, quantity
from checker.quantities.literal import as_meant, parse_literal
from checker.quantities.misread import LiteralError
from checker.quantities.units import TEMPERATURE_POINT, TEMPERATURE_STEP
from checker.reading.file_reader import FileReader, Mistake, name_of
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass

KEYS = (
    *("resolution", "permissible_error", "uncertainty", "common_error", "offset"),
    *("calibrated", "calibrated_until"),
)
_CLASS_KEYS = ("class", "interval", "in_service", "standard")


def instruments_in(
    file: FileReader, currency: str | None, *, bare_numbers: bool = False
) -> dict[str, Instrument]:
    """The file's instruments by name; what cannot be used is noted and left out.

    Args:
        bare_numbers: A number without a unit may stand for what is only counted, as hardness is.
    """
    reader = _InstrumentReader(file, currency, bare_numbers)
    read = {name: reader.read(name, ("instruments", name)) for name in file.mapping("instruments")}
    return {name: instrument for name, instrument in read.items() if instrument is not None}


@dataclass(frozen=True, slots=True)
class _InstrumentReader:
    file: FileReader
    currency: str | None
    bare_numbers: bool

    def read(self, name: str, path: Path) -> Instrument | None:
        """The instrument at `path`; None, with problems noted, where something of it cannot be used."""
        data = self.file.get(*path)
        if not isinstance(data, dict):
            hint = "write it as {resolution: 0.5 kg, permissible_error: 0.5 kg}"
            self._note(Mistake.SHAPE, path, " does not describe an instrument; a mapping was wanted", hint)
            return None
        sound = self.file.known_keys(KEYS, *path, what="an instrument")
        resolution = self._amount((*path, "resolution"))
        if resolution is not None and resolution[0] == 0:
            hint = "state the smallest step that it can show, or take the line away"
            self._note(Mistake.UNREADABLE, (*path, "resolution"), " is nothing; a display has a step", hint)
            return None
        kind = resolution[1] if resolution else None
        permissible = self._permissible((*path, "permissible_error"), kind)
        if resolution is None and permissible and permissible[0].accuracy:
            resolution = (permissible[0].accuracy.interval_kg, quantity(MASS))
        kind = kind or (permissible[1] if permissible else None)
        known = self._amount((*path, "uncertainty"), kind)
        kind = kind or (known[1] if known else None)
        offsets = self._offsets((*path, "offset"), kind)
        common = self._share((*path, "common_error"))
        first, last = self._day(*path, "calibrated"), self._day(*path, "calibrated_until")
        read = (resolution, permissible, known, common, offsets, first, last)
        if not sound or any(found is None and key in data for key, found in zip(KEYS, read, strict=True)):
            return None
        return Instrument(
            name,
            resolution[0] if resolution else ZERO,
            permissible[0] if permissible else Permissible(),
            known[0] if known else ZERO,
            common_error=common or ZERO,
            offsets=offsets or {},
            kind=kind,
            calibrated=first,
            calibrated_until=last,
            error_stated="permissible_error" in data or "uncertainty" in data,
        )

    def _note(self, what: Mistake, path: Path, message: str, hint: str = "") -> None:
        self.file.problem(what, f"{name_of(path)}{message}", *path, hint=hint)

    def _amount(
        self, path: Path, kind: Kind | None = None, *, signed: bool = False
    ) -> tuple[Fraction, Kind] | None:
        """A quantity, of `kind` where that is known already; None where there is none or it cannot be used."""
        given = self.file.get(*path)
        if not self.file.has(*path):
            return None
        value: Fraction | date
        if self.bare_numbers and isinstance(given, (int, Fraction)) and not isinstance(given, bool):
            value, its_kind = Fraction(given), NUMBER
        elif isinstance(given, str):
            try:
                literal = parse_literal(given, self.currency)
            except LiteralError as error:
                what = Mistake.UNIT if error.code_number == 104 else Mistake.UNREADABLE
                self._note(what, path, f": {error.message}", error.hint)
                return None
            value, its_kind = literal.value, literal.kind
            step = as_meant(literal, TEMPERATURE_STEP)
            if step is not None:  # an error of what tells temperatures
                value, its_kind = step.value, TEMPERATURE_POINT
        else:
            self._note(Mistake.UNREADABLE, path, " needs a number with its unit", "write it as in 0.5 kg")
            return None
        if not isinstance(value, Fraction) or (kind is not None and not its_kind.same_measure(kind)):
            wanted = f"{kind} was wanted" if kind else "an amount was wanted"
            self._note(Mistake.OTHER_KIND, path, f": {given} is {its_kind}; {wanted}")
            return None
        if value < 0 and not signed:
            self._note(Mistake.BELOW_ZERO, path, f" is {given}; it cannot be below zero")
            return None
        return value, its_kind

    def _permissible(self, path: Path, kind: Kind | None) -> tuple[Permissible, Kind | None] | None:
        if isinstance(self.file.get(*path), dict):
            return self._by_class(path, kind)
        found = self._amount(path)
        if found is None:
            return None
        value, its_kind = found
        if its_kind.name == "percent" and (kind is None or kind.name != "percent"):
            return (Permissible(share=value), kind) if self._is_share(path, value) else None
        if kind is not None and not its_kind.same_measure(kind):
            told = f": {its_kind} does not fit the rest of the instrument, {kind}"
            self._note(Mistake.OTHER_KIND, path, told)
            return None
        return Permissible(value), its_kind

    def _by_class(self, path: Path, kind: Kind | None) -> tuple[Permissible, Kind] | None:
        """`{class: III, interval: 0.1 kg, in_service: false, standard: NIST Handbook 44}`"""
        data = self.file.get(*path)
        assert isinstance(data, dict)
        if not self.file.known_keys(_CLASS_KEYS, *path, what="an accuracy class"):
            return None
        mass = quantity(MASS)
        interval = self._amount((*path, "interval"), mass)
        if "interval" not in data or (interval and interval[0] == 0):
            self._note(Mistake.UNREADABLE, path, " needs the interval on its plate", "add interval: 0.1 kg")
            return None
        name = self._word((*path, "class"), CLASSES)
        standard = self._word((*path, "standard"), STANDARDS) if "standard" in data else OIML
        in_service = self.file.truth(*path, "in_service") if "in_service" in data else True
        if name is None or standard is None or interval is None:
            return None
        if name not in TABLES[standard]:
            self._note(Mistake.WORD, path, f": {standard} gives no tolerances for class {name} here")
            return None
        if kind is not None and not kind.same_measure(mass):
            self._note(Mistake.OTHER_KIND, path, f": a class weighs; the resolution is {kind}")
            return None
        return Permissible(accuracy=AccuracyClass(name, interval[0], in_service, standard)), mass

    def _word(self, path: Path, words: tuple[str, ...]) -> str | None:
        given = self.file.get(*path)
        text = given if isinstance(given, str) else ""
        if (word := spelt_like(text, words)) is not None:
            return word
        hint = did_you_mean(text, words) or f"write one of: {', '.join(words)}"
        self._note(Mistake.WORD, path, f": {given!r} is not among the words", hint)
        return None

    def _share(self, path: Path) -> Fraction | None:
        found = self._amount(path)
        if found is None:
            return None
        if found[1].name != "percent":
            told = ": an error that all pads share is a percentage of what they show"
            self._note(Mistake.OTHER_KIND, path, told, "write it as in 0.2 %")
            return None
        return found[0] if self._is_share(path, found[0]) else None

    def _is_share(self, path: Path, share: Fraction) -> bool:
        """Whether an error is less than all that is shown; else it is noted as a slip."""
        if share < 1:
            return True
        self._note(Mistake.UNREADABLE, path, f" is {self.file.get(*path)}, as much as all that it shows")
        return False

    def _offsets(self, path: Path, kind: Kind | None) -> dict[str, Fraction] | None:
        """What is added to each pad's reading: one amount for a single plate, or one for each pad by its name."""
        given = self.file.get(*path)
        if not isinstance(given, dict):
            found = self._amount(path, kind, signed=True)
            return None if found is None else {"": found[0]}
        read = {pad: self._amount((*path, pad), kind, signed=True) for pad in given}
        if None in read.values():
            return None
        return {pad: found[0] for pad, found in read.items() if found is not None}

    def _day(self, *path: str | int) -> date | None:
        return self.file.parsed(parse_day, Mistake.DAY, "a day", *path, hint="a day is written 2026-03-01")
