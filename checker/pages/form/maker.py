"""Makes parts of a form of what a pack says of its facts."""

from __future__ import annotations

from checker.car.declaration.structure import PLACES
from checker.car.described.standard import WHEELS, measured
from checker.car.described.vocabulary import FactType, ListType, Vocabulary
from checker.pages.form.parts import Group, Input, Part
from checker.quantities.kind import NUMBER, TEXT, TRUTH
from checker.quantities.units import MOMENT, units_of
from checker.report.facts import form_words
from checker.report.one_car.blank import about
from checker.report.words.units import shown_in

_COUNT = FactType(
    "count", NUMBER, whole=True, about="How many of it there are; masses and prices are for one"
)


class Maker:
    """Makes parts of facts."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary

    def fact(self, fact: FactType, key: str, *, instrumented: bool = False, help: str = "") -> Input:
        """One fact, or one field of a list."""
        kind, tree = fact.kind, fact.kind.tree or ""
        words = tuple(kind.words or ())
        if fact.name == "weighing.tyres":
            words = self.vocabulary.tyre_sets
        if fact.name == "car.number":
            told = "The car's racing number"
        else:
            told = about(fact)
        return Input(
            key,
            label_of(key),
            fact,
            help=help or told,
            form="" if kind.name in ("truth", "text", "grade") or words else self._form(fact),
            units=self.units(fact),
            words=words,
            tree=tree,
            instrumented=instrumented and kind.is_measure and not fact.whole and kind != MOMENT,
        )

    def _form(self, fact: FactType) -> str:
        words = form_words(fact, self.vocabulary).partition(";")[0]
        name = fact.unit.name if fact.unit is not None else ""
        if not name:
            return words
        told = words.removeprefix(name).removeprefix(", ")
        return f"From {told}" if told else ""

    def units(self, fact: FactType) -> tuple[str, ...]:
        """Units that a value of the fact may be written in, first that of the rules or of the system asked for."""
        if not fact.kind.is_measure or fact.whole or fact.kind == MOMENT:
            return ()
        known = units_of(fact.kind, self.vocabulary.currency)
        first = shown_in(fact.unit)
        return tuple(dict.fromkeys(filter(None, (first.name if first is not None else "", *known))))

    def amount(self, key: str, unit: str, help: str = "", label: str = "", **more: bool) -> Input:
        """A measured amount that is no fact of the pack."""
        fact = measured(key, unit, **more)
        return Input(key, label or label_of(key), fact, help=help, units=self.units(fact), instrumented=True)

    def text(self, key: str, help: str = "", *, words: tuple[str, ...] = (), label: str = "") -> Input:
        return Input(key, label or label_of(key), FactType(key, TEXT), help=help, words=words)

    def texts(self, key: str, help: str = "", words: tuple[str, ...] = ()) -> Input:
        return Input(key, label_of(key), FactType(key, TEXT, several=True), help=help, words=words)

    def truth(self, key: str, help: str) -> Input:
        return Input(key, label_of(key), FactType(key, TRUTH), help=help)

    def count(self) -> Input:
        return Input("count", "How many", _COUNT, help=_COUNT.about)

    def place(self, key: str = "at", help: str = "", *, above: bool = False) -> Group:
        """Where something sits: so far along the car, so far across, and how high."""
        names = list(PLACES)
        along, across = names[:4], names[4:]
        parts = [
            self._told_by(along, "Along the car", "From an axle's hub centre to its middle"),
            self._told_by(across, "Across the car", "From the car's centre line to its middle"),
        ]
        if above:
            parts.append(self.amount("above_ground", "mm", "From the ground to its middle", "Height"))
        return Group(key, "Where it is", tuple(parts), help=help, is_place=True)

    def _told_by(self, keys: list[str], label: str, help: str) -> Input:
        fact = measured(keys[0], "mm", positive=False)
        words = tuple((key, label_of(key).lower()) for key in keys)
        units = self.units(fact)
        return Input(keys[0], label, fact, help=help, keys=words, units=units, instrumented=True)

    def entry(self, its_list: ListType) -> Group:
        fields: list[Part] = [
            self.fact(field, name, instrumented=True)
            for name, field in its_list.fields.items()
            if field.formula is None
        ]
        return Group("", "", (*fields, self.count(), self.place(above=True)))

    def wheels(self, help: str) -> list[Part]:
        return [self.amount(wheel, "kg", help if wheel == WHEELS[0] else "") for wheel in WHEELS]

    def weighing_lists(self) -> tuple[ListType, ...]:
        """Lists of what weighs something, ballast first."""
        lists = [one for one in self.vocabulary.lists.values() if "mass" in one.fields]
        return tuple(sorted(lists, key=lambda one: one.name != "ballast"))

    def by_wheel(self, key: str, label: str, *, unit: str = "", names: tuple[str, ...] = WHEELS) -> Group:
        """Something told of each wheel, or of the pad marked for it: an amount; where `unit` is "", a text."""
        parts = [self.amount(name, unit) if unit else self.text(name) for name in names]
        return Group(key, label, tuple(parts))

    @property
    def ballast(self) -> tuple[Part, ...]:
        """What a piece of ballast tells."""
        return self.entry(self.vocabulary.lists["ballast"]).parts

    @property
    def tyre_sets(self) -> tuple[str, ...]:
        return self.vocabulary.tyre_sets


def label_of(key: str) -> str:
    """A key in words: "Front width over tyres"."""
    words = key.replace("_", " ")
    return words[:1].upper() + words[1:]
