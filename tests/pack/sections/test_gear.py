"""`gear:` and `instruments:` of a pack: what is read, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.car.described.accuracy_classes import AccuracyClass
from checker.reading.problems import InputError
from tests.building import pack_of_check
from tests.examples import each_row

CHECK = "{limit: engine.mass, at_least: 1 kg}"
FACTS = "facts: {engine.mass: {unit: kg}}\n"


def codes(more: str) -> list[tuple[str, str]]:
    with pytest.raises(InputError) as raised:
        pack_of_check(CHECK, FACTS + more)
    return [(problem.code, problem.message) for problem in raised.value.problems]


def test_what_a_pack_takes_for_granted_of_a_weighing() -> None:
    stated = pack_of_check(
        CHECK, FACTS + "gear: {floor_out_of_level: 0.2 deg, centre_of_gravity_height: 42 cm}"
    )
    assumed = stated.vocabulary.assumptions
    assert [assumed.floor_out_of_level_deg, assumed.centre_of_gravity_height_mm] == [Fraction(1, 5), 420]
    silent = pack_of_check(CHECK, FACTS).vocabulary.assumptions
    assert silent.floor_out_of_level_deg > 0
    assert silent.centre_of_gravity_height_mm > 0


@pytest.mark.parametrize(
    ("gear", "code", "words"),
    [
        ("{floor_out_of_level: 0 deg}", "PK503", "never nothing"),
        ("{centre_of_gravity_height: -3 mm}", "PK503", "never nothing"),
        ("{centre_of_gravity_height: 3 kg}", "PK103", "3 kg"),
        ("{centre_of_gravity_height: 300}", "PK103", "300"),
        ("{floor: 1 deg}", "PK101", "'floor'"),
        ("0.1 deg", "PK108", "gear holds"),
    ],
)
def test_what_cannot_be_taken_for_granted_is_refused(gear: str, code: str, words: str) -> None:
    found = codes(f"gear: {gear}")
    assert [c for c, _ in found] == [code]
    assert words in found[0][1]


def test_an_instrument_of_a_pack_may_be_verified_or_show_bare_numbers() -> None:
    more = (
        "instruments: {pads: {permissible_error: {class: III, interval: 0.1 kg}}, tester: {resolution: 0.5}}"
    )
    instruments = pack_of_check(CHECK, FACTS + more).vocabulary.instruments
    assert instruments["pads"].permissible_error.accuracy == AccuracyClass("III", Fraction(1, 10))
    assert instruments["tester"].resolution == Fraction(1, 2)


@each_row(
    ("gear", "code"),
    [
        ("{resolution: 0.5 kgs}", "PK104"),
        ("{resolution: 0.5 kg, permissible_error: 1 mm}", "PK301"),
        ("{accuracy: 0.5 kg}", "PK101"),
        ("{permissible_error: {class: VI, interval: 1 kg}}", "PK204"),
        ("{calibrated: yesterday}", "PK106"),
        ("{uncertainty: -1 kg}", "PK503"),
        ("{permissible_error: {class: III, interval: 1 kg, in_service: often}}", "PK303"),
        ("5 kg", "PK108"),
    ],
)
def test_an_instrument_that_cannot_be_is_refused(gear: str, code: str) -> None:
    assert [c for c, _ in codes(f"instruments: {{pads: {gear}}}")] == [code]
