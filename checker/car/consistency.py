"""Checks that a car's facts fit together, once every file has been read."""

from __future__ import annotations

from checker.car.entries import Draft
from checker.car.merge import Contents
from checker.car.standard import AXLES
from checker.car.stated import READINGS, Stated
from checker.car.vocabulary import ListType, Vocabulary
from checker.quantities.words import fold
from checker.reading.nearest import did_you_mean
from checker.reading.problems import Problems, Span


def check_together(contents: Contents, vocabulary: Vocabulary, problems: Problems) -> None:
    """Note what contradicts itself: fuel, tyre sets and sections, labels."""
    _check_fuel(contents, problems)
    _check_tyres(contents, problems)
    for name, drafts in contents.lists.items():
        _check_labels(drafts, vocabulary.lists[name], problems)


def _code(number: int, stated: Stated) -> str:
    return f"{'RD' if stated.origin == READINGS else 'CD'}{number}"


def _check_fuel(contents: Contents, problems: Problems) -> None:
    capacity = contents.facts.get("fuel.capacity")
    for name, what in (("weighing.fuel", "on board when weighed"), ("fuel.unusable", "unusable")):
        fuel = contents.facts.get(name)
        if capacity and fuel and fuel.value > capacity.value:
            problems.add(
                _code(214, fuel),
                f"{name}: {fuel.written} {what} is more than the tank holds, {capacity.written}",
                fuel.span,
                related=_here("the tank's capacity", capacity.span),
            )


def _check_tyres(contents: Contents, problems: Problems) -> None:
    fitted = contents.facts.get("weighing.tyres")
    sets = contents.tyre_sets
    if fitted and sets and fold(fitted.value) not in {fold(name) for name in sets}:
        problems.add(
            _code(214, fitted),
            f"weighing.tyres: no tyre set {fitted.written!r} is described under tyres",
            fitted.span,
            hint=did_you_mean(fitted.value, sets) or f"described are: {', '.join(sets)}",
        )
    for axle in AXLES:
        width = contents.facts.get(f"dimensions.{axle}_width_over_tyres")
        for name in sets:
            section = contents.structure.get(f"tyres.{name}.{axle}.section")
            if width and section and 3 * section.value > width.value:
                problems.add(
                    _code(220, section),
                    f"tyres.{name}.{axle}.section: {section.written} is more than half the track that is left"
                    f" of {width.written} over the tyres",
                    section.span,
                    hint="the section is the width of one tyre",
                    related=_here("width over tyres", width.span),
                )


def _check_labels(drafts: list[Draft], its_list: ListType, problems: Problems) -> None:
    """Entries of one name cannot be told apart in a report; documents of one kind may be many."""
    if its_list.name == "documents":
        return
    first: dict[str, Draft] = {}
    for draft in drafts:
        label = draft.label(its_list)
        if label is None:
            continue
        same = first.setdefault(fold(label), draft)
        if same is not draft:
            stated = draft.fields[its_list.known_by]
            problems.add(
                _code(215, stated),
                f"{its_list.name} has two entries called {label!r}",
                stated.span,
                hint="call them by different names, or write one entry with count: 2",
                related=_here("the first", same.span),
                warning=True,
            )


def _here(what: str, span: Span | None) -> tuple[tuple[str, Span], ...]:
    return ((what, span),) if span else ()
