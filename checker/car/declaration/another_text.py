"""A car that has been read by one text of the rules, for another, without reading its declaration again.

What a declaration may say differs between two texts of a formula mostly in facts that one of them adds, or has measured
with other gear, and in what is taken for granted of a weighing.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

from checker.car.car import Car
from checker.car.declaration.loading import load_car
from checker.car.described.asking import MEAN, WEIGHTS, single
from checker.car.described.standard import WHEELS
from checker.car.described.stated import DEFAULT, Stated
from checker.car.described.vocabulary import FactType, Vocabulary
from checker.reading.document import Document
from checker.reading.quick_dataclasses import replace


class AnotherText:
    """Hands cars from one text to another.

    Args:
        now: By which they were read.
        then: By which they are wanted; it differs in facts and in what is taken for granted of a weighing alone.
    """

    def __init__(self, now: Vocabulary, then: Vocabulary) -> None:
        self._now, self._then = now, then
        both = [
            [name for name in one.facts if name in now.facts and name in then.facts] for one in (now, then)
        ]
        self._same_order = both[0] == both[1]
        pairs = [(name, now.facts.get(name), then.facts.get(name)) for name in {**now.facts, **then.facts}]
        self._differing = [one for one in pairs if _told(one[1]) != _told(one[2])]
        known = [{name.partition(".")[0] for name in one.facts} for one in (now, then)]
        self._sections = known[0] ^ known[1]

    def car(self, car: Car, document: Document, audience: str) -> Car | None:
        """The car as the other text reads it.

        Args:
            document: The declaration that it was read from, alone.

        Returns:
            None where that may be otherwise than told here: then it is to be read anew.
        """
        if not self._same_order or car.weighed_as is not None or document.has(("checks",)):
            return None
        if any(document.has((section,)) for section in self._sections):
            return None
        facts, otherwise = dict(car.facts), set[str]()
        for name, now, then in self._differing:
            section, _, key = name.partition(".")
            stated = facts.get(name)
            if now is None or then is None or _but_gear(now) != _but_gear(then):
                if document.has((section, key)) or any(
                    one is not None and one.default is not None for one in (now, then)
                ):
                    return None
            elif stated is None or stated.origin != DEFAULT:
                if not document.has((section, key)):
                    continue
                read = None if stated is None else self._measured(stated, then, document.get((section, key)))
                if read is None:
                    return None
                facts[name] = read
                otherwise.add(name)
        if self._now.assumptions != self._then.assumptions:
            otherwise |= {WEIGHTS, MEAN, *map(single, range(car.weighings))}
        weighing, gear = car.weighing, {one.assumptions.weighed_with for one in (self._now, self._then)}
        if len(gear) > 1 and weighing.shape == WHEELS and not document.has(("weighing", "instrument")):
            if any(one is not None and one.offsets for one in map(car.instrument, gear)):
                return None
            weighing = replace(weighing, instrument=self._then.assumptions.weighed_with)
        return car.measured_otherwise(
            otherwise,
            vocabulary=self._then,
            facts=facts,
            weighing=weighing,
            notes=lambda: load_car(document, self._then, audience=audience).notes(),
        )

    def _measured(self, stated: Stated, then: FactType, written: object) -> Stated | None:
        """What is stated of a fact that is measured otherwise."""
        values = stated.value if isinstance(stated.value, tuple) else (stated.value,)
        if not all(_is_within(then, value) for value in values):
            return None
        if stated.names_instrument:
            return stated
        gear = self._then.instruments.get(then.measured_with)
        if gear is not None and gear.kind is not None and not gear.kind.same_measure(then.kind):
            return None
        if isinstance(written, dict):
            return None
        return stated._replace(instrument=then.measured_with, uncertainty=then.uncertainty)


def _told(fact: FactType | None) -> FactType | None:
    return None if fact is None else replace(fact, about="", span=None)


def _but_gear(fact: FactType) -> FactType:
    return replace(fact, about="", span=None, measured_with="", uncertainty=None, low=None, high=None)


def _is_within(fact: FactType, value: Any) -> bool:
    """Whether it is neither unknown nor taken for a slip."""
    if not isinstance(value, Fraction | date | str | bool):
        return False
    return (fact.low is None or value >= fact.low) and (fact.high is None or value <= fact.high)
