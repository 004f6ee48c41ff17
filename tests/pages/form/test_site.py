"""A car's pages as a browser without script has them."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from checker.pages.form.opening import OpenAsked
from checker.reading.strict_yaml import read_document
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.pages.form.browsing import PACK, Browser

SAMPLES = ROOT / "samples" / "cars"


@pytest.fixture
def car(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """By a name that is the same in every test, so that what comes of it is worked out once."""
    monkeypatch.chdir(tmp_path)
    return Path(shutil.copy(SAMPLES / "light-at-the-flag.yaml", "car.yaml"))


def verdict(page: str) -> str:
    found = re.search(r'<p class="verdict.*?<strong>(\w+)</strong>', page, re.DOTALL)
    assert found is not None
    return found[1]


@pytest.mark.deep
def test_a_page_that_is_sent_as_it_was_shown_leaves_the_file_as_it_is(car: Path) -> None:
    before = car.read_bytes()
    browser = Browser(car)
    assert verdict(browser.page) == "FAILS"
    assert browser.send(button="save").status_code == 303
    assert car.read_bytes() == before
    assert "As saved" in browser.page


def test_a_change_is_judged_without_being_saved_and_saved_alone(car: Path) -> None:
    before = car.read_text("utf-8")
    browser = Browser(car)
    browser.send({"fuel.unusable": "7"})
    assert verdict(browser.page) == "COMPLIES"
    assert "Not saved" in browser.page
    assert car.read_text("utf-8") == before
    browser.send(button="save")
    lines = [line for line in car.read_text("utf-8").splitlines() if line not in before.splitlines()]
    assert len(lines) == 1
    assert "unusable: 7 L" in lines[0]
    assert f"Saved in {car}" in browser.page


@pytest.mark.deep
def test_what_cannot_be_read_is_told_at_its_field_and_stays_typed(car: Path) -> None:
    browser = Browser(car)
    browser.send({"engine.capacity": "1450 hp", "ballast[0].material": "led"})
    assert verdict(browser.page) == "UNDECIDED"
    assert 'value="1450 hp"' in browser.page
    field = browser.page.partition('data-field="engine.capacity"')[2].partition('<div class="field')[0]
    assert 'aria-invalid="true"' in field
    assert "Write it in cc" in field
    field = browser.page.partition('data-field="ballast[0].material"')[2].partition('<div class="field')[0]
    assert "Did you mean &#39;lead&#39;?" in field


@pytest.mark.deep
def test_a_page_loaded_anew_has_what_was_typed(car: Path) -> None:
    browser = Browser(car)
    browser.send({"car.name": "Another"}, address="/judge")
    browser.load()
    assert 'value="Another"' in browser.page
    browser.send(button="discard")
    assert 'value="Another"' not in browser.page


@pytest.mark.deep
def test_what_was_on_its_way_while_the_file_was_saved_is_no_draft(car: Path) -> None:
    browser = Browser(car)
    late = [*browser.fields, ("do", "judge")]
    browser.send({"car.name": "Another"}, "save")
    assert browser.post(late, "/judge").status_code == 200
    browser.load()
    assert 'value="Another"' in browser.page
    assert "was changed by somebody else" not in browser.page


@pytest.mark.deep
def test_a_file_changed_by_somebody_else_is_not_written_over(car: Path) -> None:
    browser = Browser(car)
    car.write_text(car.read_text("utf-8") + "# by hand\n", "utf-8")
    browser.send({"car.name": "Another"}, "save")
    assert "was changed by somebody else" in browser.page
    assert 'value="Another"' in browser.page
    assert car.read_text("utf-8").endswith("# by hand\n")
    assert "Another" not in car.read_text("utf-8")
    browser.send(button="beside")
    assert "name: Another" in car.with_name("car.2.yaml").read_text("utf-8")
    browser.load()
    assert "was changed by somebody else" not in browser.page
    assert browser.send({"car.name": "Third"}, "save").status_code == 303
    assert car.read_text("utf-8").endswith("# by hand\n")
    assert "name: Third" in car.read_text("utf-8")


@pytest.mark.deep
def test_lists_grow_and_shrink_without_script(car: Path) -> None:
    browser = Browser(car)
    browser.send({"car.name": "Another"}, "add ballast")
    assert 'value="Another"' in browser.page
    assert "autofocus" in browser.page.partition('name="ballast[2].label"')[2][:200]
    browser.send({"ballast[2].label": "B9", "ballast[2].mass": "2"}, "save")
    before = read_document(car, "CD").get(("ballast",))
    assert isinstance(before, list)
    assert before[2:] == [{"label": "B9", "mass": "2 kg"}]
    browser.send(button="remove ballast 0")
    browser.send(button="save")
    assert read_document(car, "CD").get(("ballast",)) == before[1:]


@pytest.mark.deep
def test_an_entry_shows_all_that_can_be_said_of_it_when_it_is_asked_for(car: Path) -> None:
    browser = Browser(car)
    assert 'name="components[0].diameter"' not in browser.page
    browser.send(button="more components[0]")
    browser.send({"components[0].diameter": "100"}, "save")
    assert read_document(car, "CD").get(("components", 0, "diameter")) == "100 mm"


def test_a_new_car_from_nothing_to_its_file(tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    browser = Browser(path, OpenAsked(formula="dunlin", pack=PACK))
    assert verdict(browser.page) == "UNDECIDED"
    assert not path.exists()
    assert '<a class="next" href="#f-weighing.readings">Next: Weighing, readings</a>' in browser.page
    missing = browser.page.partition("Fill in next")[2].partition("</ol>")[0]
    assert "3.2 Minimum weight with driver" in missing
    assert '<a href="#f-weighing.fuel">fuel</a>' in missing
    browser.send({"car.number": "7"})
    wheels = {
        f"weighing.readings[0].{one}": "150"
        for one in ("front_left", "front_right", "rear_left", "rear_right")
    }
    browser.send({**wheels, "weighing.fuel": "0", "weighing.driver": "out", "weighing.tyres": "dry"}, "save")
    assert read_document(path, "CD").data == {
        "formula": "dunlin",
        "car": {"number": "7"},
        "weighing": {
            "fuel": "0 L",
            "driver": "out",
            "tyres": "dry",
            "readings": [{name.partition("].")[2]: "150 kg" for name in wheels}],
        },
    }
    assert path.read_text("utf-8").startswith("# Begun with")


@pytest.mark.deep
def test_last_seasons_file_is_gone_on_from(tmp_path: Path, car: Path) -> None:
    path = tmp_path / "new.yaml"
    browser = Browser(path, OpenAsked(pack=PACK, begun_from=str(car)))
    assert "Not saved" in browser.page
    browser.send({"car.name": "Another"}, "save")
    old, new = car.read_text("utf-8").splitlines(), path.read_text("utf-8").splitlines()
    assert len([line for line in new if line not in old]) == 1


@pytest.mark.parametrize(
    ("report", "words"),
    quick_first(
        [
            ("report", "Every clause"),
            ("conditions", "One kilogram more"),
            ("since", "car.name"),
            ("plan", "bolt 4.5 kg of ballast"),
        ],
        0,
    ),
)
def test_reports_are_of_what_stands_in_the_form(car: Path, report: str, words: str) -> None:
    browser = Browser(car)
    answer = browser.send({"car.name": "Another"}, address=f"/{report}")
    assert answer.status_code in (200, 422)
    assert words.lower() in answer.text.lower()
    assert browser.mistakes == []


@pytest.mark.deep
def test_a_report_on_what_cannot_be_read_says_so(car: Path) -> None:
    answer = Browser(car).send({"engine.capacity": "x"}, address="/report")
    assert answer.status_code == 422
    assert "engine.capacity" in answer.text


@pytest.mark.deep
def test_what_if_moves_the_weights(car: Path) -> None:
    browser = Browser(car)
    browser.send({"ballast[0].mass": "10"})
    assert '<span class="margin">-3.43 kg</span>' in browser.page
    browser.send({"ballast[0].mass": "10", "what-if": "yes"})
    assert '<span class="margin">-3.43 kg</span>' not in browser.page
    assert ">+1.57 kg</text>" in browser.page


@pytest.mark.deep
def test_a_page_of_another_run_and_a_forged_one_are_refused(car: Path) -> None:
    before = car.read_bytes()
    browser = Browser(car)
    assert browser.send({"state": "0" * 64, "car.name": "Another"}, "save").status_code == 409
    assert browser.send({"token": "0" * 64, "car.name": "Another"}, "save").status_code == 403
    assert car.read_bytes() == before


@pytest.mark.deep
def test_hostile_words_stay_words(car: Path) -> None:
    browser = Browser(car)
    evil = '"><script>alert(1)</script>\u202e'
    browser.send({"car.name": evil, "noise.readings": evil, "fluids|order": "0", "fluids[0]|key": evil})
    assert "<script>alert" not in browser.page
    assert browser.mistakes == []


@pytest.mark.deep
def test_a_tank_is_told_by_levels_and_its_places_are_on_the_drawing(car: Path) -> None:
    browser = Browser(car)
    browser.send({"fuel.at|way": "1"}, "add fuel.at~1")
    browser.send({"fuel.at~1[0].level": "22", "fuel.at~1[0].behind_front_axle": "1800"})
    browser.send({"fuel.at~1[0].left_of_centre": "0"})
    assert 'data-same="fuel.at~1[0]"' in browser.page
    assert 'data-same="fuel.at"' not in browser.page
    browser.send(button="save")
    level = {"level": "22 L", "behind_front_axle": "1800 mm", "left_of_centre": "0 mm"}
    assert read_document(car, "CD").get(("fuel", "at")) == [level]
