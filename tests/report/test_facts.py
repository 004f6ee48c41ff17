"""Facts in words: what may be written, how it is measured, who states it."""

from __future__ import annotations

from checker.report.facts import facts_in_order, form_words, how_words
from tests.building import pack_of_check
from tests.examples import each_row

MORE = """
facts:
  body.width: {unit: mm, range: [900 mm, 2200 mm], measured_with: tape, taken: driver aboard}
  body.layout: {one_of: [front, mid, rear]}
  body.grade: {grades: [C, B, A]}
  body.doors: {type: count}
  body.share: {type: number}
  body.sound: {type: truth, stated_by: official, default: false}
  body.made: {type: date, to: [month, day]}
  body.marks: {type: text, several: true}
  body.metal: {type: material}
  body.place: {type: category, stated_by: organiser}
  body.word: {one_of: [a, b, c, d, e, f, g, h, i, j, k, l, m]}
instruments: {tape: {resolution: 1 mm}}
materials: {steel: [mild steel], wood: []}
categories: [body/panel]
"""
PACK = pack_of_check("{holds: body.sound}", MORE)


@each_row(
    ("name", "form", "how"),
    [
        ("width", "mm, 900 mm to 2200 mm", "measured with the tape; driver aboard"),
        ("layout", "front, mid or rear", ""),
        ("grade", "C or B or A, the lowest first", ""),
        ("doors", "a whole number", ""),
        ("share", "a number", ""),
        ("sound", "true or false", "stated by an official; false where not stated"),
        ("made", "a month such as 2026-05 or a day such as 2026-05-03", ""),
        ("marks", "text; one, or several in [ ]", ""),
        ("metal", "a material of the pack (3 known)", ""),
        ("place", "a category of the pack (2 known)", "stated by the organiser"),
        ("word", "one of 13 words", ""),
    ],
)
def test_a_fact_in_words(name: str, form: str, how: str) -> None:
    fact = PACK.vocabulary.facts[f"body.{name}"]
    assert form_words(fact, PACK.vocabulary) == form
    assert how_words(fact) == how


def test_the_packs_own_facts_come_first_and_in_its_order() -> None:
    names = [fact.name for fact in facts_in_order(PACK)]
    assert names[:2] == ["body.width", "body.layout"]
    assert names.index("body.word") < names.index("car.number")
    assert sorted(names) == sorted(PACK.vocabulary.facts)
