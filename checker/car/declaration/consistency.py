"""Checks that a car's facts fit together, once every file has been read."""

from __future__ import annotations

from checker.car.declaration.entries import EntryDraft
from checker.car.declaration.overlaying import Contents
from checker.car.described.standard import AXLES, SIDES
from checker.car.described.stated import Stated
from checker.car.described.vocabulary import ListType, Vocabulary
from checker.car.reading.mistakes import codes_of
from checker.quantities.dimension import LENGTH, MASS
from checker.quantities.folding import fold, spelt_like
from checker.quantities.kind import quantity
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Problems, Span

_OF_ONE = tuple(f".{side}" for side in SIDES)


def check_together(contents: Contents, vocabulary: Vocabulary, problems: Problems) -> None:
    """Note what contradicts itself: fuel, tank, tyre sets and sections, ballast left off, labels."""
    _check_fuel(contents, problems)
    _check_tank(contents, problems)
    _check_left_off(contents, vocabulary, problems)
    _check_gear(contents, vocabulary, problems)
    _check_tyres(contents, vocabulary, problems)
    for name, drafts in contents.lists.items():
        _check_labels(drafts, vocabulary.lists[name], problems)
        _check_unique(drafts, vocabulary.lists[name], problems)


def _check_unique(drafts: list[EntryDraft], its_list: ListType, problems: Problems) -> None:
    """A value that may stand once in a list stands once: not in two entries, nor in one that stands twice."""
    field = its_list.unique
    seen: dict[object, Stated] = {}
    for draft in (one for top in drafts for one in top.with_parts()):
        stated = draft.fields.get(field)
        if stated is None:
            continue
        value = fold(stated.value) if isinstance(stated.value, str) else stated.value
        before = seen.setdefault(value, stated)
        often = draft.count is not None and draft.count.value > 1
        if before is not stated or often:
            message = f"{its_list.name}: {field} {stated.written} stands more than once, and may stand once"
            hint = "take `count` away" if before is stated else "correct one of them"
            other = None if before is stated else before.span
            _note(problems, 209, stated, message, hint, beside=("the other", other))


def _note(
    problems: Problems,
    number: int,
    stated: Stated,
    message: str,
    hint: str = "",
    *,
    beside: tuple[str, Span | None] = ("", None),
    warning: bool = False,
) -> None:
    """Note what is wrong with a value, under the code of the file that it stands in; `beside` is to be seen with it."""
    what, span = beside
    related = () if span is None else ((what, span),)
    code = codes_of(stated.origin).of(number)
    problems.add(code, message, stated.span, hint=hint, related=related, warning=warning)


def _check_fuel(contents: Contents, problems: Problems) -> None:
    capacity = contents.facts.get("fuel.capacity")
    for name, what in (("weighing.fuel", "on board when weighed"), ("fuel.unusable", "unusable")):
        fuel = contents.facts.get(name)
        if capacity and fuel and fuel.value > capacity.value:
            message = f"{name}: {fuel.written} {what} is more than the tank holds, {capacity.written}"
            _note(problems, 214, fuel, message, beside=("the tank's capacity", capacity.span))


def _check_tank(contents: Contents, problems: Problems) -> None:
    """A table of levels reaches up to the top of the tank."""
    capacity = contents.facts.get("fuel.capacity")
    highest = contents.structure.get(f"fuel.at[{contents.tank_levels - 1}].level")
    if capacity and highest and highest.value < capacity.value:
        message = f"fuel.at ends at {highest.written}, and the tank holds {capacity.written}"
        hint = "add the centre of all the fuel in the full tank"
        _note(problems, 219, highest, message, hint, beside=("the tank's capacity", capacity.span))


def _check_left_off(contents: Contents, vocabulary: Vocabulary, problems: Problems) -> None:
    """Ballast that was not on the car when it was weighed is described under ballast."""
    drafts = contents.lists.get("ballast", ())
    labels = [draft.label(vocabulary.lists["ballast"]) for draft in drafts]
    known, codes = [label for label in labels if label is not None], codes_of(contents.weighing.origin)
    for label in contents.weighing.without:
        if spelt_like(label, known) is None:
            message = f"weighing.without: no ballast {label!r} is described under ballast"
            hint = did_you_mean(label, known) or f"described are: {', '.join(known) or 'none'}"
            problems.add(codes.of(214), message, contents.weighing.span, hint=hint)


def _check_gear(contents: Contents, vocabulary: Vocabulary, problems: Problems) -> None:
    """Gear measures what it is said to have measured: a tape weighs nothing."""
    instruments = {**vocabulary.instruments, **contents.instruments}
    named = [
        (name, one, vocabulary.facts[name].kind) for name, one in contents.facts.items() if one.instrument
    ]
    for name, drafts in contents.lists.items():
        fields = vocabulary.lists[name].fields
        every = (item for top in drafts for one in top.with_parts() for item in one.fields.items())
        named += [
            (f"{name}: {key}", stated, fields[key].kind if key in fields else quantity(LENGTH))
            for key, stated in every  # what is no field of the list is where the entry sits
            if stated.instrument
        ]
    for name, stated, kind in named:
        gear = instruments.get(stated.instrument)
        if gear and gear.kind is not None and not gear.kind.same_measure(kind):
            message = f"{name}: {gear.name} measures {gear.kind}, and this is {kind}"
            _note(problems, 204, stated, message, "name the gear that it was measured with")
    gear, mass = instruments.get(contents.weighing.instrument), quantity(MASS)
    if gear and gear.kind is not None and not gear.kind.same_measure(mass):
        message = f"weighing.instrument: {gear.name} measures {gear.kind}, and a weighing is {mass}"
        code = codes_of(contents.weighing.origin).of(204)
        problems.add(code, message, contents.weighing.span, hint="name the pads or scales")


def _check_tyres(contents: Contents, vocabulary: Vocabulary, problems: Problems) -> None:
    fitted = contents.facts.get("weighing.tyres")
    sets = contents.tyre_sets
    run = vocabulary.tyre_sets
    if fitted and run and spelt_like(fitted.value, run) is None:
        message = f"weighing.tyres: the formula runs no tyre set {fitted.written!r}"
        hint = did_you_mean(fitted.value, run) or f"it runs: {', '.join(run)}"
        _note(problems, 214, fitted, message, hint)
        return
    if fitted and sets and not run and spelt_like(fitted.value, sets) is None:
        message = f"weighing.tyres: no tyre set {fitted.written!r} is described under tyres"
        hint = did_you_mean(fitted.value, sets) or f"described are: {', '.join(sets)}"
        _note(problems, 214, fitted, message, hint)
    for axle in AXLES:
        width = contents.facts.get(f"dimensions.{axle}_width_over_tyres")
        for name in (f"tyres.{name}.{axle}{side}.section" for name in sets for side in ("", *_OF_ONE)):
            section = contents.structure.get(name)
            if width and section and 3 * section.value > width.value:
                left = f"half the track that is left of {width.written} over the tyres"
                message = f"{name}: {section.written} is more than {left}"
                hint = "the section is the width of one tyre"
                _note(problems, 220, section, message, hint, beside=("width over tyres", width.span))


def _check_labels(drafts: list[EntryDraft], its_list: ListType, problems: Problems) -> None:
    """Entries of one name cannot be told apart in a report; documents of one kind may be many."""
    if its_list.name == "documents":
        return
    first: dict[str, EntryDraft] = {}
    for draft in drafts:
        label = draft.label(its_list)
        if label is None:
            continue
        same = first.setdefault(fold(label), draft)
        if same is not draft:
            stated, message = (
                draft.fields[its_list.known_by],
                f"{its_list.name} has two entries called {label!r}",
            )
            hint = "call them by different names, or write one entry with count: 2"
            _note(problems, 215, stated, message, hint, beside=("the first", same.span), warning=True)
