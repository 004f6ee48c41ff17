from __future__ import annotations

import pytest

from checker.report.words.findings import found_words
from tests.building import outcome_of, pack_of_check

FACTS = "facts: {body.sound: {type: truth}, body.width: {unit: mm}}"


@pytest.mark.parametrize(
    ("check", "said"),
    [
        ("{when: body.sound, limit: body.width, at_most: 3 mm}", "does not apply: body.sound is false"),
        ("{unless: not body.sound, limit: body.width, at_most: 3 mm}", "does not apply: not false is true"),
        (
            "{when: body.width > 2 mm, limit: body.width, at_most: 3 mm}",
            "does not apply: 1 mm > 2 mm is false",
        ),
        ("{holds: body.sound}", "not so: body.sound"),
        ("{holds: body.sound or body.width > 2 mm}", "not so: false or 1 mm > 2 mm"),
    ],
)
def test_a_statement_that_does_not_hold_is_told_in_words_that_mean_something(check: str, said: str) -> None:
    outcome = outcome_of(pack_of_check(check, FACTS), "body: {sound: false, width: 1 mm}")
    assert found_words(outcome.assessment.finding) == said
