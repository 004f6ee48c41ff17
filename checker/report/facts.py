"""What a fact or field is, in words: what may be written there, how it is measured, who states it."""

from __future__ import annotations

from checker.car.described.vocabulary import ENTRANT, FactType, Vocabulary
from checker.pack.model import Pack
from checker.quantities.display import show_value
from checker.quantities.units import MOMENT

MOST_WORDS = 12
"""A longer list of allowed words is told by its number."""


def facts_in_order(pack: Pack) -> list[FactType]:
    """The pack's own facts in its order, then the standard ones that it leaves as they are."""
    facts = pack.vocabulary.facts
    names = [name for name in pack.document.mapping(("facts",)) if name in facts]
    return [facts[name] for name in dict.fromkeys((*names, *facts))]


def form_words(fact: FactType, vocabulary: Vocabulary) -> str:
    """What may be written there: "cc, 500 cc to 3000 cc"; "front, mid or rear"; "a day such as 2026-05-03"."""
    words = _form(fact, vocabulary)
    if fact.low is not None and fact.high is not None:
        low, high = (show_value(end, fact.kind, fact.unit) for end in (fact.low, fact.high))
        words += f", {low} to {high}"
    if fact.readings > 1:
        return f"{words}; {fact.readings} readings or more in [ ]"
    return f"{words}; one, or several in [ ]" if fact.several else words


def _form(fact: FactType, vocabulary: Vocabulary) -> str:
    kind = fact.kind
    if kind == MOMENT:
        return "a day and time such as 2026-05-03 14:30"
    if fact.unit is not None:
        return fact.unit.name
    if kind.tree is not None:
        tree = vocabulary.tree(kind)
        count = len(tree.words) if tree is not None else 0
        return f"a {kind.tree} of the pack ({count} known)"
    if kind.name == "grade":
        return f"{' or '.join(kind.words or ())}, the lowest first"
    if kind.words is not None:
        if len(kind.words) > MOST_WORDS:
            return f"one of {len(kind.words)} words"
        return ", ".join(kind.words[:-1]) + f" or {kind.words[-1]}" if len(kind.words) > 1 else kind.words[0]
    if kind.name == "date":
        return _date_form(fact.precision)
    if kind.name == "number":
        return "a whole number" if fact.whole else "a number"
    return {"truth": "true or false", "text": "text"}.get(kind.name, str(kind))


def _date_form(precision: tuple[str, ...]) -> str:
    examples = {"day": "2026-05-03", "month": "2026-05", "year": "2026"}
    return " or ".join(f"a {one} such as {examples[one]}" for one in precision)


def how_words(fact: FactType) -> str:
    """How it is measured, in which state, who states it, and what is taken where it is not stated."""
    parts = [
        f"measured with the {fact.measured_with}" if fact.measured_with else "",
        fact.taken,
        f"stated by an {fact.stated_by}" if fact.stated_by == "official" else "",
        f"stated by the {fact.stated_by}" if fact.stated_by not in ("official", ENTRANT) else "",
        f"{fact.default_text or show_value(fact.default, fact.kind, fact.unit)} where not stated"
        if fact.default is not None
        else "",
    ]
    return "; ".join(filter(None, parts))
