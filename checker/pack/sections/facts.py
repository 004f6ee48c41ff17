"""`facts` and `lists`: what entrants declare, and the types of it."""

from __future__ import annotations

from checker.car.described.standard import STRUCTURAL_FIELDS, STRUCTURE, standard_facts, standard_lists
from checker.car.described.vocabulary import FactType, ListType
from checker.car.described.word_trees import Tree
from checker.pack.reading.source import PackSource
from checker.pack.reading.told_once import ALL_FIELDS
from checker.pack.sections.fact_types import TypeReader
from checker.quantities.formula.functions import FUNCTIONS
from checker.quantities.formula.grammar import PLACE
from checker.quantities.units import Unit
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Path
from checker.reading.quick_dataclasses import dataclass, field

RESERVED_SECTIONS = ("weight", "percentage")
TYRES = "tyres"


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
            fact = self._types.read(name, path, found.get(name))
            if fact is not None:
                found[name] = fact
            else:
                self._tell("", name)
        return found

    @property
    def _types(self) -> TypeReader:
        return TypeReader(self.source, {"category": self.categories, "material": self.materials})

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
            self.source.mapping(*path)
            if not self.source.known_keys(("known_by", "fields", "unique"), *path, what="a list"):
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
            unique = self.source.text(*path, "unique")
            if unique and (unique not in fields or fields[unique].several):
                hint = did_you_mean(unique, fields) or "name a field that has one value"
                self.source.problem(205, f"'{unique}' is no such field of {name}", *path, "unique", hint=hint)
                unique = ""
            found[name] = ListType(name, fields, known_by, span, unique=unique)
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
        given = self.source.mapping(*path)
        if "formula" in given:
            keys = ("formula", "unit", "about")
            sound = self.source.known_keys(keys, *path, what="a field that is worked out")
            unit = self.source.unit(*path, "unit") if sound and "unit" in given else None
            if sound and ("unit" not in given or unit is not None):
                formulas.append(FormulaField(list_name, name, path, unit, self.source.text(*path, "about")))
            else:
                self._tell(list_name, name)
            return
        fact = self._types.read(name, path, fields.get(name))
        if fact is not None:
            fields[name] = fact
        else:
            self._tell(list_name, name)
