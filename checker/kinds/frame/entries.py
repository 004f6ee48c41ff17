"""Checks for many: which list a check goes through, and what its formulas may then name.

`within` a category, `each` entry of a list, every two entries (`pairs`, called a and b), every run of
neighbours (`runs`, called run).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from checker.car.described.stated import Entry
from checker.car.scene import ITEM, Scene
from checker.kinds.judging.assessment import FAIL, NOT_APPLICABLE, NOT_SHOWN, PASS
from checker.quantities.formula.expression import Expression
from checker.quantities.formula.families import is_one_of
from checker.quantities.formula.form import CONSTANT
from checker.quantities.formula.reductions import in_order
from checker.quantities.formula.scope import Binding, Entries, Field, Scope, WordTree
from checker.quantities.kind import Kind, Unknown
from checker.reading.quick_dataclasses import KW_ONLY, dataclass

MODES = ("within", "each", "pairs", "runs")
IF_NONE = (NOT_SHOWN, PASS, FAIL, NOT_APPLICABLE)


@dataclass(frozen=True, slots=True)
class Many:
    """How a check goes through a list."""

    mode: str = ""
    """One of `MODES`, or "" for a check that goes through none."""
    list_name: str = ""
    category: str = ""
    """For `within`."""
    if_none: str = ""
    """One of `IF_NONE`; "" where the check does not say."""
    _: KW_ONLY
    shortest: int = 2
    longest: int | None = None
    entries: Entries | None = None
    tree: WordTree | None = None
    """The categories, for `within`."""
    by: str = ""
    """For `runs`: the field that the entries are put in order by; "" for the order declared."""

    @property
    def order(self) -> Field | None:
        """The field that the entries are put in order by."""
        return self.entries.fields[self.by] if self.entries is not None and self.by else None

    @property
    def words(self) -> str:
        """In words: "each of joints"."""
        return {
            "within": f"within {self.category}",
            "each": f"each of {self.list_name}",
            "pairs": f"every two of {self.list_name}",
            "runs": f"every run of {self.list_name}{f' by {self.by}' if self.by else ''}",
        }.get(self.mode, "")


@dataclass(frozen=True, slots=True)
class Member:
    """One entry, pair or run that a check is made for."""

    scene: Scene
    label: str
    standing: int
    doubt: Unknown | None = None
    """Why it is not known whether it belongs here at all."""


def item_scope(scope: Scope, many: Many) -> tuple[Mapping[str, Binding], Mapping[str, Entries]]:
    """The names that a check for many adds to its scope."""
    entries = many.entries
    if entries is None:
        return {}, {}
    if many.mode == "pairs":
        return {name: named_entry(name, many.list_name) for name in ("a", "b")}, {}
    if many.mode == "runs":
        run = Entries("run", entries.fields, _in_run, lambda _: 1)
        return {}, {"run": run}
    return _FieldNames(scope, entries.fields), {}


def _in_run(scene: Scene, parts: bool) -> tuple[Entry, ...]:
    """The entries of a run; without parts, none that is inside another of them, which contains its mass and price."""
    run: tuple[Entry, ...] = scene.names["run"]
    if parts:
        return run
    paths = {entry.path for entry in run}
    return tuple(entry for entry in run if paths.isdisjoint(_holders(entry)))


def _holders(entry: Entry) -> Iterator[str]:
    """Paths of everything that an entry is inside of."""
    while entry.parent is not None:
        entry = entry.parent
        yield entry.path


class _FieldNames(Mapping[str, Binding]):
    """The fields of the entry by their bare names, bound when they are asked for: some are still to be worked out."""

    def __init__(self, scope: Scope, fields: Mapping[str, Field]) -> None:
        self._scope = scope
        self._fields = fields

    def __getitem__(self, name: str) -> Binding:
        field = self._fields[name]
        if not is_taken(self._scope, name):
            return _field_binding(field)
        # what something else of the pack is called too: using it is an error
        return Binding(Kind("ambiguous", items=name), lambda _: None, uses=field.uses)

    def __iter__(self) -> Iterator[str]:
        return iter(self._fields)

    def __len__(self) -> int:
        return len(self._fields)

    def __contains__(self, name: object) -> bool:
        return name in self._fields


def is_taken(scope: Scope, name: str) -> bool:
    """Whether a name stands for something already."""
    return name in scope.names or name in scope.entries or name in scope.tables


def bound_expression(expression: Expression) -> Binding:
    """A name for a formula, as if the formula were written in its place."""
    evaluate = expression.evaluate
    return Binding(
        expression.kind,
        evaluate if expression.constant else lambda scene: scene.once(evaluate),
        form=expression.form,
        expression=expression,
        locals=expression.locals,
        uses=expression.uses,
    )


def named_entry(name: str, list_name: str) -> Binding:
    """A name that an entry of a list is bound to."""
    kind = Kind("item", items=list_name)
    return Binding(kind, lambda scene: scene.names[name], locals=frozenset({name}))


def _field_binding(field: Field) -> Binding:
    read, stated = field.read, field.stated
    return Binding(
        field.kind,
        lambda scene: read(scene, scene.names[ITEM]),
        unit=field.unit,
        form=CONSTANT if field.expression is None else field.expression.form,
        expression=field.expression,
        stated=lambda scene: stated(scene.names[ITEM]),
        locals=frozenset({ITEM}),
        uses=field.uses,
    )


def members(many: Many, scene: Scene) -> list[Member] | Unknown:
    """Everything a check is made for, before `where`.

    Returns:
        The members, or Unknown where the list is not declared.
    """
    assert many.entries is not None
    entries = many.entries.read(scene, True)
    if isinstance(entries, Unknown):
        return entries
    standing = many.entries.standing
    if many.mode == "within":
        return list(_within(many, scene, entries, standing))
    if many.mode == "each":
        return [Member(scene.bind(ITEM, e), e.label, standing(e)) for e in entries]
    if many.mode == "pairs":
        doubled = [e for e in entries for _ in range(min(2, standing(e)))]
        return [
            Member(scene.bind("a", first).bind("b", second), f"{first.label} and {second.label}", 1)
            for place, first in enumerate(doubled)
            for second in doubled[place + 1 :]
        ]
    repeated = tuple(e for e in entries for _ in range(standing(e)))
    ordered = repeated if many.order is None else in_order(scene, repeated, many.order.read)
    return ordered if isinstance(ordered, Unknown) else list(_runs(many, scene, ordered))


def stated_empty(many: Many, scene: Scene) -> bool:
    """Whether the list is declared, and declared to be empty."""
    assert many.entries is not None
    entries = many.entries.read(scene, True)
    return not isinstance(entries, Unknown) and not entries


def _within(many: Many, scene: Scene, entries: Any, standing: Any) -> Iterator[Member]:
    for entry in entries:
        category = entry.value("category")
        is_known = not isinstance(category, Unknown)
        belongs = is_one_of(many.tree, category, (many.category,)) if is_known else category
        if belongs:
            doubt = belongs if isinstance(belongs, Unknown) else None
            yield Member(scene.bind(ITEM, entry), entry.label, standing(entry), doubt)


def _runs(many: Many, scene: Scene, entries: tuple[Any, ...]) -> Iterator[Member]:
    longest = len(entries) if many.longest is None else min(many.longest, len(entries))
    for length in range(many.shortest, longest + 1):
        for start in range(len(entries) - length + 1):
            run = tuple(entries[start : start + length])
            label = run[0].label if length == 1 else f"{run[0].label} to {run[-1].label}"
            yield Member(scene.bind("run", run), label, 1)
