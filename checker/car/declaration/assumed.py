"""What a car is judged by though nobody entitled has stated it.
A default stands where nothing is stated. A fact that the pack keeps for officials or the organiser is
believed from the car's own file only while an entrant looks at home; for an official it is set aside,
with a warning.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from checker.car.declaration.facts import by_default, default_in_words
from checker.car.declaration.overlaying import Contents
from checker.car.described.standard import ANYONE_STATES, AXLES
from checker.car.described.stated import DEFAULT, READINGS, Entry, Stated
from checker.car.described.vocabulary import ENTRANT, ORGANISER, FactType, Vocabulary
from checker.car.premises import Believed, Premise, Taken, TakenAs
from checker.car.reading.mistakes import codes_of
from checker.car.reasons import NotOfCar
from checker.quantities.kind import Unknown
from checker.quantities.moments import day_of
from checker.quantities.reason import Reason
from checker.quantities.units import MOMENT
from checker.reading.problems import Problems


def settle(
    contents: Contents, vocabulary: Vocabulary, audience: str, problems: Problems
) -> tuple[dict[str, Stated], list[Premise]]:
    """The facts that count, defaults included, and what was assumed for them.

    Reserved fields that do not count are taken out of the lists' drafts.
    """
    facts = dict(contents.facts)
    assumed: list[Premise] = []
    on = facts.get("event.date")
    if on is not None:
        _leave_out_tomorrow(on.value, facts, contents, vocabulary, problems)
    for name, stated in contents.facts.items():
        fact = vocabulary.facts[name]
        if name not in facts or not _is_reserved(fact) or stated.origin == READINGS:
            continue
        if audience == ENTRANT:
            assumed.append(Believed(name, stated.written, fact.stated_by))
        else:
            del facts[name]
            _warn(name, fact, stated, problems)
    for name, fact in vocabulary.facts.items():
        default = by_default(fact)
        if name not in facts and default is not None:
            facts[name] = default
            assumed.append(TakenAs(default_in_words(fact), name))
    if (lone := _lone_tyres(contents, facts)) is not None:
        assumed.append(TakenAs(lone, "weighing.tyres"))
    return facts, assumed + _settle_fields(contents, vocabulary, audience, problems)


def _lone_tyres(contents: Contents, facts: Mapping[str, Stated]) -> str | None:
    """The only tyre set described, where the car's widths are taken to have been measured on it."""
    if "weighing.tyres" in facts or len(contents.tyre_sets) != 1:
        return None
    (name,) = contents.tyre_sets
    for axle in AXLES:
        sections = (
            key
            for key in contents.structure
            if key.startswith(f"tyres.{name}.{axle}") and key.endswith(".section")
        )
        if f"dimensions.{axle}_width_over_tyres" in facts and any(sections):
            return name
    return None


def _leave_out_tomorrow(
    on: date, facts: dict[str, Stated], contents: Contents, vocabulary: Vocabulary, problems: Problems
) -> None:
    """Make unknown what is said to have happened after the day judged: it is no evidence on that day.

    Neither is it as if nothing were stated: a repair of tomorrow may be one of last year, with a slip of the pen.
    """
    for name, stated in contents.facts.items():
        if _is_tomorrow(vocabulary.facts[name], stated, on):
            facts[name] = _as_unknown(name, stated, on, problems)
    for list_name, drafts in contents.lists.items():
        happened = {n: its for n, its in vocabulary.lists[list_name].fields.items() if its.happened}
        for draft in (one for top in drafts for one in top.with_parts()) if happened else ():
            for name, stated in list(draft.fields.items()):
                if name in happened and _is_tomorrow(happened[name], stated, on):
                    draft.fields[name] = _as_unknown(f"{list_name}: {name}", stated, on, problems)


def _is_tomorrow(fact: FactType, stated: Stated, on: date) -> bool:
    if not fact.happened:
        return False
    days = stated.value if isinstance(stated.value, tuple) else (stated.value,)
    if fact.kind == MOMENT:
        return any(day_of(moment) > on for moment in days)
    written = stated.written.split(", ") if isinstance(stated.value, tuple) else [stated.written]
    return any(_begins(day, text) > on for day, text in zip(days, written, strict=True))


def _begins(last: date, written: str) -> date:
    """The first day of what is stated as a day, a month or a year."""
    parts = written.strip().count("-")
    return last if parts == 2 else last.replace(day=1) if parts == 1 else last.replace(month=1, day=1)


def _as_unknown(name: str, stated: Stated, on: date, problems: Problems) -> Stated:
    code, why = codes_of(stated.origin).of(222), Reason(NotOfCar.AFTER, (name, stated.written, on))
    problems.add(code, f"{why.told()}: it is not counted", stated.span, hint="check the year", warning=True)
    return stated._replace(value=Unknown(reasons=(why,)))


def _settle_fields(
    contents: Contents, vocabulary: Vocabulary, audience: str, problems: Problems
) -> list[Premise]:
    assumed: list[Premise] = []
    for list_name, drafts in contents.lists.items():
        every = [draft for top in drafts for draft in top.with_parts()]
        for field in vocabulary.lists[list_name].fields.values():
            if not _is_reserved(field):
                continue
            own = [draft for draft in every if field.name in draft.fields]
            own = [draft for draft in own if draft.fields[field.name].origin != READINGS]
            name = f"{list_name}: {field.name}"
            if own and audience == ENTRANT:
                assumed.append(Believed(name, "", field.stated_by))
            elif audience != ENTRANT:
                for draft in own:
                    _warn(name, field, draft.fields.pop(field.name), problems)
    return assumed


def field_defaults(entries: Mapping[str, tuple[Entry, ...]], vocabulary: Vocabulary) -> list[TakenAs]:
    """Each field of a list that was taken by default somewhere."""
    return [
        TakenAs(default_in_words(field), f"{name}: {field.name}", Taken.FIELD)
        for name, every in entries.items()
        for field in vocabulary.lists[name].fields.values()
        if field.default is not None
        and any(s.origin == DEFAULT for entry in every if (s := entry.stated(field.name)) is not None)
    ]


def _is_reserved(fact: FactType) -> bool:
    return fact.stated_by != ENTRANT and fact.name not in ANYONE_STATES


def _warn(name: str, fact: FactType, stated: Stated, problems: Problems) -> None:
    who = "the organiser" if fact.stated_by == ORGANISER else "an official"
    message = f"{name} in the car's own file is not counted: {who} states it"
    problems.add("CD213", message, stated.span, hint="state it in the readings file", warning=True)
