from __future__ import annotations

import re
from datetime import date

import pytest

from checker.meeting.session.procedure import Procedure, Step, Success, read_procedure
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import build_pack
from checker.pack.model import Pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document, read_document
from tests.conftest import ROOT
from tests.meeting.days import PACK, PROCEDURE


@pytest.fixture(scope="module")
def pack() -> Pack:
    return build_pack(parse_document(PACK.encode(), "1.yaml", "PK"))


def read(text: str, pack: Pack) -> Procedure:
    return read_procedure(parse_document(text.encode(), "procedure.yaml", "MT"), pack)


def test_a_whole_procedure_is_read(pack: Pack) -> None:
    assert read(PROCEDURE, pack) == Procedure(
        weighings=2,
        pads="swapped side to side",
        presented={"driver": "out", "wear": "new"},
        reweigh="after a fail",
        reweigh_at_most=1,
        steps=(
            Step("papers", clauses=("5",)),
            Step("scales", weighing=True),
            Step("gauges", clauses=("3", "4")),
        ),
        after_race_weighings=1,
        after_race_clauses=("1",),
        success=Success("results.place", {1: "winner"}, "lower", "results.carried", "ballast_due"),
    )


def test_an_empty_procedure_weighs_once_and_always_again(pack: Pack) -> None:
    assert read("procedure: Plover\n", pack) == Procedure()
    assert (Procedure().weighings_on(True), Procedure(weighings=3).weighings_on(False)) == (1, 1)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("procedure: dunlin", "no procedure of the formula plover"),
        ("weighings: 2", "no procedure of the formula plover"),
        ("procedure: plover\nweighing: 2", "'weighing'"),
        ("procedure: plover\nweighings: 0", "whole number of 1 or more"),
        ("procedure: plover\nweighings: two", "whole number"),
        ("procedure: plover\npads: swapped", "'swapped'"),
        ("procedure: plover\ncounts: best", "'best'"),
        ("procedure: plover\npresented: {colour: red}", "'colour'"),
        ("procedure: plover\nreweigh: {when: sometimes}", "'sometimes'"),
        ("procedure: plover\nprepare: wash it", "a list was wanted"),
        ("procedure: plover\nsteps: [{name: scales}]", "either the weighing or clauses"),
        (
            "procedure: plover\nsteps: [{name: a, weighing: true, clauses: ['1']}]",
            "either the weighing or clauses",
        ),
        ("procedure: plover\nsteps: [{name: a, clauses: ['99']}]", "no clause 99"),
        ("procedure: plover\nsteps: [{name: a, weighing: maybe}]", "true or false"),
        ("procedure: plover\nafter_race: {clauses: ['99']}", "no clause 99"),
        ("procedure: plover\nafter_race: twice", "a mapping was wanted"),
        ("procedure: plover\nsuccess: {place: results.place}", "needs place, places and others"),
        (
            "procedure: plover\nsuccess: {place: results.plac, places: {winner: 1}, others: lower}",
            "no fact 'results.plac'",
        ),
        (
            "procedure: plover\nsuccess: {place: results.place, places: {winner: 1}, others: lower, due: ballast_due}",
            "go together",
        ),
        (
            "procedure: plover\nsuccess: {place: results.place, places: {winner: 1}, others: lower, due: ballast,"
            " carried_over: results.carried}",
            "derives no value 'ballast'",
        ),
    ],
)
def test_what_a_procedure_cannot_say_is_told_with_its_place(text: str, word: str, pack: Pack) -> None:
    with pytest.raises(InputError) as error:
        read(text + "\n", pack)
    problems = error.value.problems
    assert {problem.code for problem in problems} == {"MT250"}
    assert any(word in problem.message for problem in problems)
    assert all(problem.span is not None for problem in problems)


def test_every_mistake_is_told_in_one_run(pack: Pack) -> None:
    with pytest.raises(InputError) as error:
        read("procedure: dunlin\nweighings: 0\ncounts: best\n", pack)
    assert len(error.value.problems) == 3


@pytest.fixture(scope="module")
def dunlin() -> Pack:
    return load_pack(open_folder("rulepacks/dunlin"), date(2026, 5, 24))


def test_the_dunlin_procedure_fits_its_pack(dunlin: Pack) -> None:
    found = read_procedure(read_document("rulepacks/dunlin/procedure.yaml", "MT"), dunlin)
    assert found.weighings == 2
    assert found.success is not None
    assert sum(step.weighing for step in found.steps) == 1


def test_the_example_in_the_language_reference_says_what_it_seems_to_say(dunlin: Pack) -> None:
    text = (ROOT / "rulepacks" / "README.md").read_text("utf-8")
    (example,) = re.findall(r"^```yaml procedure\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    assert read(example, dunlin) == Procedure(
        weighings=2,
        pads="swapped side to side",
        presented={"driver": "out", "wear": "new"},
        reweigh="after a fail",
        reweigh_at_most=1,
        prepare=("Car clean and dry, tyres at racing pressure, nothing loose in it.",),
        steps=(
            Step("papers", clauses=("11.1", "11.2")),
            Step("scales", weighing=True),
            Step("tape and gauges", clauses=("4.1", "4.4")),
        ),
        after_race_prepare=(
            "Straight from the track to the scales; nothing is added, taken off or topped up on the way.",
        ),
        after_race_clauses=("3.1", "3.3"),
        success=Success(
            "results.last_place",
            {1: "winner", 2: "second"},
            "lower",
            "results.carried_over",
            "success_ballast_due",
        ),
    )
