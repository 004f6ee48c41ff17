"""Finds the word that someone who misspelt it probably meant."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

_LONGEST = 80
"""Longer texts are no misspelt words, and comparing them would take long."""


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice most like `word`, letter case aside; None where none is like it.

    A choice that is a path, as `suspension/damper`, may also be meant by its last part alone.
    """
    by_folded: dict[str, str] = {}
    for choice in choices:
        by_folded.setdefault(choice.casefold(), choice)
    for choice in tuple(by_folded.values()):
        by_folded.setdefault(choice.casefold().rpartition("/")[2], choice)
    folded = word.casefold()
    if folded in by_folded:
        return by_folded[folded]
    if len(folded) > _LONGEST:
        return None
    from difflib import get_close_matches

    found = get_close_matches(folded, by_folded, n=1)
    return by_folded[found[0]] if found else None


def named_with(number: str, titles: Mapping[str, str]) -> str:
    """A hint that names the nearest number with its title; where none is near, the first and the last there are."""
    found = nearest(number, titles)
    if found is not None:
        return f"Did you mean '{found}', {titles[found]}?"
    first, *more = titles or [""]
    return f"There are {first} to {more[-1]}." if more else f"There is only {first}." if first else ""


def did_you_mean(word: str, choices: Iterable[str]) -> str:
    """A hint that names the nearest choice, e.g. "Did you mean 'brakes'?"; "" where none is near.

    What was refused is never its own cure, also where it is a choice that cannot stand here.
    """
    found = nearest(word, (choice for choice in choices if choice != word))
    return "" if found is None else f"Did you mean '{found}'?"
