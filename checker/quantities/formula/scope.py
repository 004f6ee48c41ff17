"""What the names in a formula stand for.

The pack fills a `Scope` with its facts, lists, tables, derived values and trees; a check adds the names it makes (an
entry's fields, `a` and `b`, `run`, `let`). Formulas know nothing of cars: a binding says what kind of value a name has
and how to read it from whatever a formula is evaluated in. That is called the scene; formulas ask only two things of
it: `names`, what is bound, and `bind(name, value)`, the same scene with one name more.

Within one formula no name may mean two things, so there is no search order to learn.
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Callable, Mapping, MutableMapping, Sequence
from fractions import Fraction
from typing import Any, Protocol, TypeVar, cast

from checker.quantities.formula.expression import Expression
from checker.quantities.formula.form import CONSTANT, Form
from checker.quantities.kind import Kind, Unknown
from checker.quantities.units import Unit
from checker.reading.quick_dataclasses import KW_ONLY, dataclass, field, replace

_Named = TypeVar("_Named")

Read = Callable[[Any], Any]
"""From the scene that a formula is evaluated in to a value or Unknown."""


class WordTree(Protocol):
    """A tree of words, as far as a formula needs it."""

    what: str

    def __hash__(self) -> int:
        """What was found in it is remembered."""

    @property
    def words(self) -> tuple[str, ...]: ...

    def canonical(self, word: str) -> str | None: ...

    def belongs(self, word: str, family: str) -> bool | None: ...

    def families(self, word: str) -> tuple[str, ...]: ...

    def meant(self, word: str) -> Sequence[str]: ...


@dataclass(frozen=True, slots=True)
class Binding:
    """One name: its kind, and how its value is read."""

    kind: Kind
    read: Read
    unit: Unit | None = None
    """The unit it is shown in."""
    form: Form = CONSTANT
    """How it depends on the condition the car is in."""
    _: KW_ONLY
    stated: Read | None = None
    """Whether it is stated at all; only facts and fields can be asked."""
    expression: Expression | None = None
    """For derived and let: the expression behind the name, whose written units count."""
    locals: frozenset[str] = frozenset()
    """The names made by a check that it rests on ("" for the check's entry): it has no meaning outside of it."""
    uses: frozenset[str] = frozenset()
    """Full names of facts, lists and tables behind it."""


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a list's entries."""

    kind: Kind
    read: Callable[[Any, Any], Any]
    """From scene and entry to a value or Unknown."""
    stated: Callable[[Any], bool | Unknown]
    """From entry: whether it is stated, not a default."""
    unit: Unit | None = None
    uses: frozenset[str] = frozenset()
    expression: Expression | None = None
    """The formula behind a field that is worked out."""


@dataclass(frozen=True, slots=True)
class Entries:
    """A list whose entries a formula may go through."""

    name: str
    fields: Mapping[str, Field]
    """May be lazy, as `Scope.names`."""
    read: Callable[[Any, bool], Any]
    """From scene, and whether parts are wanted too, to a tuple of entries or Unknown."""
    standing: Callable[[Any], int]
    """How often an entry stands: its count times its parents' counts."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One result cell: its value (or `NoLimit`) and the unit it is written in."""

    value: Any
    unit: Unit | None = None


@dataclass(frozen=True, slots=True)
class TableFunction:
    """A table, called like a function of its keys."""

    name: str
    keys: tuple[tuple[str, Kind], ...]
    columns: Mapping[str, Kind]
    """Of the results."""
    lookup: Callable[[tuple[object, ...]], object]
    """From the values of the keys to a row (mapping of column to `Cell`) or Unknown."""
    _: KW_ONLY
    uses: frozenset[str] = frozenset()
    check_words: Callable[[tuple[Kind, ...]], tuple[int, int, str, str] | None] | None = None
    """From the kinds of the arguments to what is wrong with the words that these can be, if anything: which
    argument, the problem's number, message and hint."""
    words: tuple[tuple[str, ...], ...] = ()
    """For each key the words that its cells name."""
    edges: tuple[tuple[Fraction, ...], ...] = ()
    """For each key the edges of its bands, where they are numbers."""
    degree: int = 1
    """The power of its keys that a result grows with: 2 between rows, for it is a share of two products."""


class NoLimit(Unknown):
    """The cell `no limit`: met by anything as a bound; elsewhere it has no value."""


@dataclass(frozen=True, slots=True)
class Scope:
    """All names that a formula may use."""

    currency: str | None = None
    names: Mapping[str, Binding] = field(default_factory=dict)
    """Bare names and full names of facts ("engine.capacity", "weight.total"). May be lazy: asking for a name may
    raise `FormulaError`, e.g. for a circle; one without problems was reported already. A binding of the kind
    "ambiguous" means two things, so it is refused when it is used."""
    entries: Mapping[str, Entries] = field(default_factory=dict)
    """Lists, and `run` while a check is made for runs."""
    tables: Mapping[str, TableFunction] = field(default_factory=dict)
    trees: Mapping[str, WordTree] = field(default_factory=dict)
    """"material" and "category"."""
    known_sections: frozenset[str] | None = None
    """First parts of the facts, where they are known already; else they are gathered from the names."""

    def having(self, names: Mapping[str, Binding]) -> Scope:
        return replace(self, names=_before(self.names, names))

    def with_entries(self, entries: Mapping[str, Entries]) -> Scope:
        return replace(self, entries=_before(self.entries, entries))

    def sections(self) -> frozenset[str]:
        """First parts of the facts."""
        if self.known_sections is not None:
            return self.known_sections
        return frozenset(name.partition(".")[0] for name in self.names if "." in name)

    def all_names(self) -> tuple[str, ...]:
        """Every name, to find the nearest to one that is misspelt."""
        return (*self.names, *self.entries, *self.tables)


def _before(old: Mapping[str, _Named], new: Mapping[str, _Named]) -> Mapping[str, _Named]:
    """Both, the new first; neither is copied or gone through, because a value may be made only when asked for."""
    return ChainMap(cast(MutableMapping[str, _Named], new), cast(MutableMapping[str, _Named], old))
