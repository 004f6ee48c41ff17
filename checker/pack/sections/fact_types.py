"""The type of one fact or field: what it is, and what the pack says of it beside."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from checker.car.described.vocabulary import ENTRANT, OFFICIAL, ORGANISER, FactType
from checker.car.described.word_trees import Tree
from checker.pack.reading.literals import literal_value
from checker.pack.reading.source import PackSource
from checker.quantities.folding import fold
from checker.quantities.kind import DATE, NUMBER, TEXT, TRUTH, Kind
from checker.quantities.misread import LiteralError
from checker.quantities.units import MOMENT, MOMENTS, difference_kind
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, replace
from checker.reading.values import Plain

_SORTS = ("unit", "one_of", "grades", "type")
TYPES = {
    "number": NUMBER,
    "count": NUMBER,
    "text": TEXT,
    "truth": TRUTH,
    "date": DATE,
    "moment": MOMENT,
    "material": Kind("text", tree="material"),
    "category": Kind("text", tree="category"),
}
_TRUTHS, _TEXTS = ("several", "optional", "happened"), ("taken", "about", "measured_with")
_ATTRIBUTES = (*_SORTS, "to", *_TRUTHS, "readings", "range", "default", "stated_by", *_TEXTS, "uncertainty")
PRECISIONS = ("day", "month", "year")


@dataclass(frozen=True, slots=True)
class TypeReader:
    """Reads the types of facts and fields."""

    source: PackSource
    trees: Mapping[str, Tree]

    def read(self, name: str, path: Path, standard: FactType | None) -> FactType | None:
        """The type at `path`, over the standard one of that name; None, with problems noted, where it is none."""
        given = self.source.mapping(*path)
        if not isinstance(self.source.get(*path), dict | None):
            return None
        if not self.source.known_keys(_ATTRIBUTES, *path, what="a fact"):
            return None
        sorts = [sort for sort in _SORTS if sort in given]
        if not sorts and standard is not None:
            return self._attributes(standard, path, given)
        if len(sorts) != 1:
            told = f"says {' and '.join(sorts)}" if sorts else "does not say what it is"
            hint = "give one of unit, one_of, grades or type"
            self.source.key_problem(108, f"'{name}' {told}", *path, hint=hint)
            return None
        base = self._sort(name, path, sorts[0])
        if base is None:
            return None
        if standard is not None and not _same(standard, base):
            message = f"'{name}' is {standard.kind} in every pack; here it is {base.kind}"
            self.source.key_problem(302, message, *path, hint="choose another name")
            return None
        if standard is not None:
            base = replace(standard, unit=base.unit or standard.unit, kind=base.kind)
        return self._attributes(base, path, given)

    def _sort(self, name: str, path: Path, sort: str) -> FactType | None:
        if sort == "unit":
            unit = self.source.unit(*path, "unit")
            return None if unit is None else FactType(name, unit.kind, unit)
        if sort in ("one_of", "grades"):
            words = self._words(path, sort)
            kind = Kind("text" if sort == "one_of" else "grade", words=words)
            return None if words is None else FactType(name, kind)
        word = self.source.get(*path, "type")
        if not isinstance(word, str) or word not in TYPES:
            hint = did_you_mean(str(word), TYPES) or f"types: {', '.join(TYPES)}"
            self.source.problem(108, f"'{word}' is no type", *path, "type", hint=hint)
            return None
        return FactType(name, TYPES[word], MOMENTS if word == "moment" else None, whole=word == "count")

    def _words(self, path: Path, key: str) -> tuple[str, ...] | None:
        given = self.source.get(*path, key)
        words = [w for w in given if isinstance(w, str) and w.strip()] if isinstance(given, list) else []
        if not isinstance(given, list) or not given or len(words) < len(given):
            hint = f"{key}: [first, second]"
            self.source.problem(108, f"`{key}` needs a list of words", *path, key, hint=hint)
            return None
        folded = [fold(word) for word in words]
        for place, word in enumerate(words):
            if fold(word) in folded[:place]:
                self.source.problem(202, f"'{word}' stands twice", *path, key, place)
                return None
        return tuple(words)

    def _attributes(self, fact: FactType, path: Path, given: dict[str, Plain]) -> FactType | None:
        source, before = self.source, len(self.source.problems.errors)
        changes: dict[str, Any] = {"span": source.document.key_span(path)}
        changes |= {key: source.truth(*path, key) for key in _TRUTHS if key in given}
        changes |= {key: source.text(*path, key) for key in _TEXTS if key in given}
        if changes.get("happened") and fact.kind.name != "date" and fact.kind != MOMENT:
            self.source.problem(108, "`happened` goes with `type: date` or `type: moment`", *path, "happened")
        self._note_unknown_instrument(path, changes.get("measured_with"))
        if "stated_by" in given:
            changes["stated_by"] = source.word((ENTRANT, OFFICIAL, ORGANISER), *path, "stated_by")
        if "readings" in given:
            changes |= {"several": True, "readings": self._readings(path, given)}
        if "to" in given:
            changes["precision"] = self._precision(fact, path)
        fact = replace(fact, **changes)
        readers = {"range": self._range, "uncertainty": self._uncertainty, "default": self._default}
        for key, read in readers.items():
            if key in given and len(source.problems.errors) == before:
                fact = replace(fact, **(read(fact, path) or {}))
        return fact if len(source.problems.errors) == before else None

    def _note_unknown_instrument(self, path: Path, name: str | None) -> None:
        """A warning: the instrument may be one that declarations describe, or be misspelt."""
        described = self.source.mapping("instruments")
        if name and name not in described:
            hint = did_you_mean(name, described) or "describe it under instruments:"
            message = f"the pack describes no instrument '{name}'; each declaration has to"
            self.source.problem(201, message, *path, "measured_with", hint=hint, warning=True)

    def _readings(self, path: Path, given: dict[str, Plain]) -> int:
        if given.get("several") is False:
            self.source.problem(502, "a fact with several readings is `several: true`", *path, "several")
        return self.source.count(2, *path, "readings")

    def _precision(self, fact: FactType, path: Path) -> tuple[str, ...]:
        given = self.source.get(*path, "to")
        listed = given if isinstance(given, list) else [given]
        words = tuple(word for word in listed if isinstance(word, str) and word in PRECISIONS)
        if fact.kind.name != "date":
            self.source.problem(108, "`to` goes with `type: date`", *path, "to")
        elif not words or len(words) < len(listed):
            self.source.problem(108, "`to` is day, month, year or a list of these", *path, "to")
        return words

    def _range(self, fact: FactType, path: Path) -> dict[str, Any] | None:
        given = self.source.get(*path, "range")
        ordered = fact.kind.is_measure or fact.kind.name == "date"
        if not ordered or not isinstance(given, list) or len(given) != 2:
            self.source.problem(108, "`range` needs two values, the lower first", *path, "range")
            return None
        low, high = (self._value(fact, (*path, "range", place)) for place in (0, 1))
        if low is None or high is None:
            return None
        if low > high:
            self.source.problem(503, "the lower end of the range is above the upper one", *path, "range")
        return {"low": low, "high": high}

    def _uncertainty(self, fact: FactType, path: Path) -> dict[str, Any]:
        difference = replace(fact, kind=difference_kind(fact.kind))
        value = self._value(difference, (*path, "uncertainty")) if fact.kind.is_measure else None
        if not isinstance(value, Fraction) or value < 0:
            message = "`uncertainty` is a standard uncertainty in the fact's unit, 0 or more"
            self.source.problem(108, message, *path, "uncertainty")
        return {"uncertainty": value}

    def _default(self, fact: FactType, path: Path) -> dict[str, Any] | None:
        where: Path = (*path, "default")
        given = self.source.get(*where)
        if fact.several and isinstance(given, list):
            values = [self._value(fact, (*where, place)) for place in range(len(given))]
            return {"default": tuple(values), "default_text": ", ".join(str(v) for v in given)}
        value = self._value(fact, where)
        if value is not None and fact.low is not None and not fact.low <= value <= fact.high:
            self.source.problem(503, "the default is outside the range", *where)
        return {"default": (value,) if fact.several else value, "default_text": self.source.written(*where)}

    def _value(self, fact: FactType, path: Path) -> Any:
        """A literal of the fact's type at `path`; None, with a problem noted, where it is none."""
        source, tree = self.source, self.trees.get(fact.kind.tree or "")
        try:
            return literal_value(source.get(*path), fact, source.written(*path), source.currency, tree)
        except LiteralError as error:
            source.problem(error.code_number, error.message, *path, hint=error.hint)
        return None


def _same(standard: FactType, given: FactType) -> bool:
    if standard.kind.is_word and given.kind.is_word:
        return standard.kind.tree == given.kind.tree
    return standard.kind.name == given.kind.name and standard.kind.dimension == given.kind.dimension
