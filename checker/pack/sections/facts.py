"""`facts` and `lists`: what entrants declare, and the types of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from checker.car.described.standard import STRUCTURAL_FIELDS, STRUCTURE, standard_facts, standard_lists
from checker.car.described.vocabulary import ENTRANT, OFFICIAL, ORGANISER, FactType, ListType
from checker.car.described.word_trees import Tree
from checker.pack.reading.literals import literal_value
from checker.pack.reading.source import PackSource
from checker.pack.reading.told_once import ALL_FIELDS
from checker.quantities.folding import fold
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.grammar import PLACE
from checker.quantities.kind import DATE, NUMBER, TEXT, TRUTH, Kind
from checker.quantities.literal import LiteralError
from checker.quantities.units import Unit, UnknownUnit, parse_unit
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path

RESERVED_SECTIONS = ("weight", "percentage")
TYRES = "tyres"
_SORTS = ("unit", "one_of", "grades", "type")
_TYPES = ("number", "count", "text", "truth", "date", "material", "category")
_ATTRIBUTES = (
    *_SORTS,
    "to",
    "several",
    "readings",
    "range",
    "optional",
    "happened",
    "default",
    "stated_by",
    "measured_with",
    "uncertainty",
    "taken",
    "about",
)
_PRECISIONS = ("day", "month", "year")


@dataclass(frozen=True, slots=True)
class FormulaField:
    """A field of a list that is worked out, before its formula is read."""

    list_name: str
    name: str
    path: Path
    unit: Unit | None
    about: str = ""


@dataclass(frozen=True, slots=True)
class FactReader:
    """Reads the types of facts and fields."""

    source: PackSource
    categories: Tree
    materials: Tree
    told: dict[str, set[str]] = field(default_factory=dict)
    """Names that could not be made, their mistake noted: of facts under "", of fields under their list's name; a list
    that has `ALL_FIELDS` could not be read at all. What uses them has nothing to add."""

    # --- facts ---------------------------------------------------------------------------------------------

    def facts(self) -> dict[str, FactType]:
        """The pack's facts over the standard ones, by full name."""
        found = standard_facts()
        for name in self.source.mapping("facts"):
            section, dot, rest = name.partition(".")
            path: Path = ("facts", name)
            if not dot or "." in rest:
                self.source.key_problem(
                    202,
                    f"'{name}' is not the name of a fact",
                    *path,
                    hint="a fact is section.name, e.g. engine.capacity",
                )
                self._tell("", name)
                continue
            named = self.source.name(section, *path, what="a section") and self.source.name(
                rest, *path, what="a fact"
            )
            if not named or self._taken(section, rest, path):
                self._tell("", name)
                continue
            standard = found.get(name)
            fact = self._type(name, path, standard)
            if fact is not None:
                found[name] = fact
            else:
                self._tell("", name)
        return found

    def _tell(self, list_name: str, name: str) -> None:
        self.told.setdefault(list_name, set()).add(name)

    def _taken(self, section: str, rest: str, path: Path) -> bool:
        """Whether the name is one that the language keeps for itself (202 noted)."""
        if section in RESERVED_SECTIONS or section == PLACE:
            message = f"'{section}' has a meaning of its own in formulas; a pack cannot add to it"
            self.source.key_problem(202, message, *path)
            return True
        structure = STRUCTURE.get(section)
        whole = structure == () and section != TYRES  # beside facts of tyres stand the tyre sets
        if structure is not None and (whole or rest in structure):
            self.source.key_problem(
                202, f"'{section}.{rest}' is part of every declaration and cannot be a fact", *path
            )
            return True
        return False

    # --- lists ---------------------------------------------------------------------------------------------

    def lists(self) -> tuple[dict[str, ListType], list[FormulaField]]:
        """The pack's lists over the standard ones, by name, and the fields that are worked out."""
        found = standard_lists(self.source.currency)
        formulas: list[FormulaField] = []
        for name in self.source.mapping("lists"):
            path: Path = ("lists", name)
            if not self.source.name(name, *path, what="a list"):
                continue
            if name in STRUCTURE or name in FUNCTIONS or name == "run":
                self.source.key_problem(202, f"'{name}' already has a meaning and cannot be a list", *path)
                continue
            given = self.source.mapping(*path, what=name)
            if not self.source.known_keys(given, ("known_by", "fields"), *path, what="a list"):
                found.setdefault(name, ListType(name, {}))
                self._tell(name, ALL_FIELDS)
                continue
            standard = found.get(name)
            fields = dict(standard.fields) if standard else {}
            for field_name in self.source.mapping(*path, "fields"):
                self._field(name, field_name, fields, formulas)
            known_by = self.source.text(*path, "known_by") or (standard.known_by if standard else "")
            if known_by and known_by not in fields:
                hint = did_you_mean(known_by, fields)
                self.source.problem(
                    205, f"'{known_by}' is not a field of {name}", *path, "known_by", hint=hint
                )
                known_by = ""
            span = self.source.document.key_span(path)
            found[name] = ListType(name, fields, known_by, span)
        return found, formulas

    def _field(
        self, list_name: str, name: str, fields: dict[str, FactType], formulas: list[FormulaField]
    ) -> None:
        path: Path = ("lists", list_name, "fields", name)
        if name in STRUCTURAL_FIELDS:
            self.source.key_problem(202, f"every entry has '{name}' already; it cannot be a field", *path)
            self._tell(list_name, name)
            return
        if not self.source.name(name, *path, what="a field"):
            return
        if name in FUNCTIONS:
            self.source.key_problem(
                202, f"'{name}' is a function and cannot be a field", *path, hint="choose another name"
            )
            self._tell(list_name, name)
            return
        given = self.source.mapping(*path, what=name)
        if "formula" in given:
            keys = ("formula", "unit", "about")
            sound = self.source.known_keys(given, keys, *path, what="a field that is worked out")
            unit = self._unit(path) if sound and "unit" in given else None
            if sound and ("unit" not in given or unit is not None):
                formulas.append(FormulaField(list_name, name, path, unit, self.source.text(*path, "about")))
            else:
                self._tell(list_name, name)
            return
        fact = self._type(name, path, fields.get(name))
        if fact is not None:
            fields[name] = fact
        else:
            self._tell(list_name, name)

    # --- one type ------------------------------------------------------------------------------------------

    def _type(self, name: str, path: Path, standard: FactType | None) -> FactType | None:
        given = self.source.mapping(*path, what=name)
        if not isinstance(self.source.get(*path), dict | None):
            return None
        if not self.source.known_keys(given, _ATTRIBUTES, *path, what="a fact"):
            return None
        sorts = [sort for sort in _SORTS if sort in given]
        if not sorts and standard is not None:
            base = standard
        else:
            if len(sorts) != 1:
                message = (
                    f"'{name}' says {' and '.join(sorts)}" if sorts else f"'{name}' does not say what it is"
                )
                hint = "give one of unit, one_of, grades or type"
                self.source.key_problem(108, message, *path, hint=hint)
                return None
            settled = self._sort(name, path, sorts[0])
            if settled is None:
                return None
            base = settled
            if standard is not None and not _same(standard, base):
                self.source.key_problem(
                    302,
                    f"'{name}' is {standard.kind} in every pack; here it is {base.kind}",
                    *path,
                    hint="choose another name",
                )
                return None
            if standard is not None:
                base = replace(standard, unit=base.unit or standard.unit, kind=base.kind)
        return self._attributes(base, path, given)

    def _sort(self, name: str, path: Path, sort: str) -> FactType | None:
        if sort == "unit":
            unit = self._unit(path)
            return None if unit is None else FactType(name, unit.kind, unit)
        if sort in ("one_of", "grades"):
            words = self._words(path, sort)
            if words is None:
                return None
            return FactType(name, Kind("text" if sort == "one_of" else "grade", words=words))
        word = self.source.get(*path, "type")
        if word not in _TYPES:
            hint = did_you_mean(str(word), _TYPES) or f"types: {', '.join(_TYPES)}"
            self.source.problem(108, f"'{word}' is no type", *path, "type", hint=hint)
            return None
        kinds = {
            "number": NUMBER,
            "count": NUMBER,
            "text": TEXT,
            "truth": TRUTH,
            "date": DATE,
            "material": Kind("text", tree="material"),
            "category": Kind("text", tree="category"),
        }
        return FactType(name, kinds[word], whole=word == "count")

    def _unit(self, path: Path) -> Unit | None:
        text = self.source.get(*path, "unit")
        try:
            if not isinstance(text, str):
                raise UnknownUnit(str(text), "")
            return parse_unit(text, self.source.currency)
        except UnknownUnit as error:
            self.source.problem(104, f"'{text}' is not a unit", *path, "unit", hint=error.hint)
            return None

    def _words(self, path: Path, key: str) -> tuple[str, ...] | None:
        given = self.source.get(*path, key)
        if (
            not isinstance(given, list)
            or not given
            or not all(isinstance(w, str) and w.strip() for w in given)
        ):
            self.source.problem(
                108, f"`{key}` needs a list of words", *path, key, hint=f"{key}: [first, second]"
            )
            return None
        seen: set[str] = set()
        for place, word in enumerate(given):
            if fold(word) in seen:
                self.source.problem(202, f"'{word}' stands twice", *path, key, place)
                return None
            seen.add(fold(word))
        return tuple(given)

    def _attributes(self, fact: FactType, path: Path, given: dict[str, Any]) -> FactType | None:
        changes: dict[str, Any] = {"span": self.source.document.key_span(path)}
        failed = False
        for key in ("several", "optional", "happened"):
            if key in given:
                if not isinstance(given[key], bool):
                    self.source.problem(108, f"`{key}` is true or false", *path, key)
                    failed = True
                changes[key] = given[key]
        for key in ("taken", "about", "measured_with"):
            if key in given:
                changes[key] = self.source.text(*path, key)
        self._note_unknown_instrument(path, changes.get("measured_with"))
        if "stated_by" in given:
            who = given["stated_by"]
            if who not in (ENTRANT, OFFICIAL, ORGANISER):
                self.source.problem(
                    108, f"'{who}' states nothing", *path, "stated_by", hint="entrant, official or organiser"
                )
                failed = True
            changes["stated_by"] = who
        if "readings" in given:
            failed |= not self._readings(path, given)
            changes |= {"several": True, "readings": given["readings"]}
        if "to" in given:
            precision = self._precision(fact, path)
            failed |= precision is None
            changes["precision"] = precision
        fact = replace(fact, **changes)
        for key, read in (
            ("range", self._range),
            ("uncertainty", self._uncertainty),
            ("default", self._default),
        ):
            if key in given and not failed:
                more = read(fact, path)
                failed |= more is None
                fact = replace(fact, **(more or {}))
        return None if failed else fact

    def _note_unknown_instrument(self, path: Path, name: str | None) -> None:
        """A warning: the instrument may be one that declarations describe, or be misspelt."""
        described = self.source.mapping("instruments")
        if name and name not in described:
            hint = did_you_mean(name, described) or "describe it under instruments:"
            message = f"the pack describes no instrument '{name}'; each declaration has to"
            self.source.problem(201, message, *path, "measured_with", hint=hint, warning=True)

    def _readings(self, path: Path, given: dict[str, Any]) -> bool:
        """Whether the number of readings can be used (else the problem is noted)."""
        count = given["readings"]
        if isinstance(count, bool) or not isinstance(count, int) or count < 2:
            self.source.problem(108, "`readings` is a whole number of 2 or more", *path, "readings")
            return False
        if given.get("several") is False:
            self.source.problem(502, "a fact with several readings is `several: true`", *path, "several")
            return False
        return True

    def _precision(self, fact: FactType, path: Path) -> tuple[str, ...] | None:
        given = self.source.get(*path, "to")
        words = given if isinstance(given, list) else [given]
        if fact.kind.name != "date":
            self.source.problem(108, "`to` goes with `type: date`", *path, "to")
            return None
        if not words or not all(word in _PRECISIONS for word in words):
            self.source.problem(108, "`to` is day, month, year or a list of these", *path, "to")
            return None
        return tuple(words)

    def _range(self, fact: FactType, path: Path) -> dict[str, Any] | None:
        given = self.source.get(*path, "range")
        if (
            not isinstance(given, list)
            or len(given) != 2
            or not (fact.kind.is_measure or fact.kind.name == "date")
        ):
            self.source.problem(108, "`range` needs two values, the lower first", *path, "range")
            return None
        ends = [self._value(fact, (*path, "range", place)) for place in (0, 1)]
        if None in ends:
            return None
        if ends[0] > ends[1]:
            self.source.problem(503, "the lower end of the range is above the upper one", *path, "range")
            return None
        return {"low": ends[0], "high": ends[1]}

    def _uncertainty(self, fact: FactType, path: Path) -> dict[str, Any] | None:
        value = self._value(fact, (*path, "uncertainty")) if fact.kind.is_measure else None
        if not isinstance(value, Fraction) or value < 0:
            self.source.problem(
                108,
                "`uncertainty` is a standard uncertainty in the fact's unit, 0 or more",
                *path,
                "uncertainty",
            )
            return None
        return {"uncertainty": value}

    def _default(self, fact: FactType, path: Path) -> dict[str, Any] | None:
        where: Path = (*path, "default")
        given = self.source.get(*where)
        if fact.several and isinstance(given, list):
            values = [self._value(fact, (*where, place)) for place in range(len(given))]
            if None in values:
                return None
            return {"default": tuple(values), "default_text": ", ".join(str(v) for v in given)}
        value = self._value(fact, where)
        if value is None:
            return None
        outside = fact.low is not None and not fact.low <= value <= fact.high
        if outside:
            self.source.problem(503, "the default is outside the range", *where)
            return None
        text = self.source.written(*where)
        return {"default": (value,) if fact.several else value, "default_text": text}

    def _value(self, fact: FactType, path: Path) -> Any:
        """A literal of the fact's type at `path`; None, with a problem noted, where it is none."""
        source = self.source
        tree = {"category": self.categories, "material": self.materials}.get(fact.kind.tree or "")
        try:
            return literal_value(source.get(*path), fact, source.written(*path), source.currency, tree)
        except LiteralError as error:
            source.problem(error.code_number, error.message, *path, hint=error.hint)
        return None


def _same(standard: FactType, given: FactType) -> bool:
    if standard.kind.is_word and given.kind.is_word:
        return standard.kind.tree == given.kind.tree
    return standard.kind.name == given.kind.name and standard.kind.dimension == given.kind.dimension
