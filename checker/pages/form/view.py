"""A form as its page shows it: every field with what stands in it and what is said of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from checker.pages.form.filling import below, entry_of, order_of, parts_of, way_of
from checker.pages.form.inputs import KEY, MORE, NONE, PLUS_MINUS, UNIT, WAY, WITH, Filled, one_of
from checker.pages.form.judging import Remark
from checker.pages.form.parts import Either, Group, Growing, Input, Part
from checker.quantities.days import parse_day
from checker.reading.printer import inline_text
from checker.reading.quick_dataclasses import KW_ONLY, dataclass
from checker.reading.values import Plain

_TOLD = 3
"""An entry is told apart by its first fields."""
_TRUTHS = (("true", "yes"), ("false", "no"))


@dataclass(frozen=True, slots=True)
class FieldView:
    """One field."""

    kind = "field"
    name: str
    label: str
    texts: tuple[str, ...]
    part: Input
    remarks: tuple[Remark, ...]
    _: KW_ONLY
    unit: str = ""
    key: str = ""
    measured_with: str = ""
    plus_minus: str = ""
    is_none: bool = False
    is_brief: bool = False
    """Whether how well it is known is left out while nothing is told of it."""

    @property
    def asks_how_well(self) -> bool:
        told = self.measured_with or self.plus_minus
        return self.part.instrumented and bool(told or not self.is_brief)

    @property
    def choices(self) -> tuple[tuple[str, str], ...]:
        """What to pick from; () where one types. What stands there is always among it."""
        part = self.part
        if part.fact.several:
            return ()
        known = _TRUTHS if part.fact.kind.name == "truth" else tuple((word, word) for word in part.words)
        if not known:
            return ()
        odd = tuple((text, text) for text in self.texts if text and text not in dict(known))
        return (("", "not stated"), *known, *odd)

    @property
    def is_calendar(self) -> bool:
        """Whether a browser's own calendar can hold it, which drops what is no day."""
        fact, text = self.part.fact, next(iter(self.texts), "")
        return fact.kind.name == "date" and fact.precision == ("day",) and (not text or _is_day(text))

    @property
    def form(self) -> str:
        """What may be written there, where that has to be said."""
        return "" if self.is_calendar else self.part.form

    @property
    def rows(self) -> tuple[str, ...]:
        """The texts of a field that takes several, with one to fill in."""
        return (*filter(None, self.texts), "")

    @property
    def is_filled(self) -> bool:
        return any(self.texts) or self.is_none

    @property
    def units(self) -> tuple[str, ...]:
        own = (self.unit,) if self.unit and self.unit not in self.part.units else ()
        return (*own, *self.part.units)


def _is_day(text: str) -> bool:
    try:
        return parse_day(text).isoformat() == text
    except ValueError:
        return False


@dataclass(frozen=True, slots=True)
class GroupView:
    """Fields that stand together."""

    kind = "group"
    name: str
    label: str
    help: str
    parts: tuple[PartView, ...]
    _: KW_ONLY
    rest: tuple[str, ...] = ()
    """Of an entry: the labels of fields that are shown when they are asked for."""
    more: bool = False
    """Whether they were asked for."""
    remarks: tuple[Remark, ...] = ()
    aside: tuple[tuple[str, str], ...] = ()
    """What the file says here that no field holds: each key with its value."""
    title: str = ""
    """Of an entry: what it is called."""
    key: str = ""
    """Of an entry with a name of its own: that name."""
    position: str = ""
    is_place: bool = False
    is_rare: bool = False

    @property
    def filled(self) -> int:
        return sum(_filled(part) for part in self.parts)

    @property
    def total(self) -> int:
        return sum(_total(part) for part in self.parts)

    @property
    def errs(self) -> bool:
        """Whether something in it cannot be read."""
        return any(one.is_error for one in self.remarks) or any(map(_errs, self.parts))


@dataclass(frozen=True, slots=True)
class ListView:
    """A list that grows."""

    kind = "list"
    name: str
    label: str
    part: Growing
    entries: tuple[GroupView, ...]
    remarks: tuple[Remark, ...]
    _: KW_ONLY
    is_none: bool = False
    aside: tuple[tuple[str, str], ...] = ()

    @property
    def errs(self) -> bool:
        return any(one.is_error for one in self.remarks) or any(entry.errs for entry in self.entries)


@dataclass(frozen=True, slots=True)
class EitherView:
    """What may be told in one of several ways; the one that counts is shown."""

    kind = "either"
    name: str
    label: str
    ways: tuple[tuple[str, PartView], ...]
    way: int

    @property
    def remarks(self) -> tuple[Remark, ...]:
        return ()

    @property
    def told(self) -> PartView:
        return self.ways[self.way][1]


PartView = FieldView | GroupView | ListView | EitherView


def _filled(part: PartView) -> int:
    if isinstance(part, EitherView):
        return _filled(part.told)
    if isinstance(part, FieldView):
        return int(part.is_filled)
    return part.filled if isinstance(part, GroupView) else sum(entry.filled > 0 for entry in part.entries)


def _total(part: PartView) -> int:
    if isinstance(part, EitherView):
        return _total(part.told)
    if isinstance(part, FieldView):
        return 1
    return part.total if isinstance(part, GroupView) else len(part.entries)


def _errs(part: PartView) -> bool:
    if isinstance(part, EitherView):
        return _errs(part.told)
    return any(one.is_error for one in part.remarks) if isinstance(part, FieldView) else part.errs


@dataclass(slots=True)
class Viewing:
    """Puts together what a page shows."""

    filled: Filled
    aside: Mapping[str, Mapping[str, Plain]]
    """By the name of a group: what stands there that no field holds."""
    remarks: Sequence[Remark] = ()
    _is_brief: bool = False
    """Inside an entry of which not everything is asked for."""

    def whole(self, root: Group) -> GroupView:
        """All sections of a form."""
        found = self.part(root, "", 0)
        assert isinstance(found, GroupView)
        return found

    def part(self, part: Part, name: str, deep: int) -> PartView:
        if isinstance(part, Input):
            return self._field(part, name)
        if isinstance(part, Growing):
            return self._list(part, name, deep)
        if isinstance(part, Either):
            ways = [
                (words, self.part(way, way_of(name, at), deep)) for at, (words, way) in enumerate(part.ways)
            ]
            told = one_of(self.filled, name + WAY)
            at = int(told) if told in map(str, range(len(ways))) else 0
            return EitherView(name, part.label, tuple(ways), at)
        parts = tuple(self.part(one, below(name, one.key), deep) for one in part.parts)
        return GroupView(
            name,
            part.label,
            part.help,
            parts,
            remarks=self._of(name),
            aside=self._aside(name),
            is_place=part.is_place,
            is_rare=part.is_rare,
        )

    def _field(self, part: Input, name: str) -> FieldView:
        return FieldView(
            name,
            part.label,
            tuple(self.filled.get(name, ("",))),
            part,
            self._of(name),
            unit=one_of(self.filled, name + UNIT)
            if name + UNIT in self.filled
            else next(iter(part.units), ""),
            key=one_of(self.filled, name + KEY) or part.key,
            measured_with=one_of(self.filled, name + WITH),
            plus_minus=one_of(self.filled, name + PLUS_MINUS),
            is_none=bool(one_of(self.filled, name + NONE)),
            is_brief=self._is_brief,
        )

    def _list(self, part: Growing, name: str, deep: int) -> ListView:
        is_none = bool(one_of(self.filled, name + NONE))
        positions = [at for at in self.filled.get(order_of(name), ()) if at]
        if not positions and part.begun and not is_none:
            positions = ["0"]
        entries = tuple(self._entry(part, name, at, deep) for at in positions)
        return ListView(
            name, part.label, part, entries, self._of(name), is_none=is_none, aside=self._aside(name)
        )

    def _entry(self, part: Growing, name: str, position: str, deep: int) -> GroupView:
        here = entry_of(name, position)
        every = bool(one_of(self.filled, here + MORE))
        around, self._is_brief = self._is_brief, not every
        views = [self.part(one, below(here, one.key), deep + 1) for one in parts_of(part, deep)]
        self._is_brief = around
        at_hand = [
            view
            for place, view in enumerate(views)
            if every
            or place < part.at_hand
            or view.name.rpartition(".")[2] in part.always
            or _filled(view)
            or _errs(view)
        ]
        key = one_of(self.filled, here + KEY)
        told = [text for view in views[:_TOLD] if isinstance(view, FieldView) for text in view.texts if text]
        return GroupView(
            here,
            "",
            "",
            tuple(at_hand),
            more=every,
            rest=tuple(view.label for view in views if view not in at_hand),
            remarks=self._of(here),
            aside=self._aside(here),
            title=", ".join(filter(None, [key, *told[: 2 - bool(key)]])) or f"a new {part.one}",
            key=key,
            position=position,
            is_place=part.entry.is_place,
        )

    def _of(self, name: str) -> tuple[Remark, ...]:
        return tuple(one for one in self.remarks if one.name == name)

    def _aside(self, name: str) -> tuple[tuple[str, str], ...]:
        told = self.aside.get(name, {}).items()
        return tuple((key, inline_text(value)) for key, value in told if (name, key) != ("", "formula"))
