"""The car of a declaration by an older and a newer text of the rules, read once where that gives the same."""

from __future__ import annotations

from datetime import date

from checker.car.car import Car
from checker.car.declaration.another_day import on_later_day
from checker.car.declaration.another_text import AnotherText
from checker.car.declaration.loading import load_car
from checker.pack.model import Pack
from checker.reading.document import Document
from checker.studies.change.relevance import alike_but_facts, same_vocabulary
from checker.verdict.run import dated


class ReadByBoth:
    """Reads declarations by two packs, each on its own day.

    Args:
        old, on_before: The rules before, and the day to judge by them.
        new, on: The rules after, and the day to judge by them.
        audience: "entrant" or "official".
    """

    def __init__(self, old: Pack, on_before: date, new: Pack, on: date, audience: str) -> None:
        self._old, self._on_before, self._new, self._on = old, on_before, new, on
        self._audience = audience
        self._same_words = same_vocabulary(old, new)
        self._another = AnotherText(new.vocabulary, old.vocabulary) if alike_but_facts(old, new) else None

    def read(self, document: Document) -> tuple[Car, Car]:
        """The car by the newer rules, and by the older.

        Raises:
            InputError: It cannot be used with one of the packs; with every problem found.
        """
        if self._same_words and self._on_before < self._on:
            older = self._by(self._old, document, self._on_before)
            later = on_later_day(older, document, self._on)
            return later or self._by(self._new, document, self._on), older
        car, told = self._by(self._new, document, self._on), None
        if self._on_before == self._on and self._same_words:
            told = car
        elif self._on_before == self._on and self._another is not None:
            told = self._another.car(car, dated(document, self._on), self._audience)
        return car, told or self._by(self._old, document, self._on_before)

    def _by(self, pack: Pack, document: Document, day: date) -> Car:
        return load_car(dated(document, day), pack.vocabulary, audience=self._audience)
