"""What goes wrong around a form: two of them on one file, a file that goes or cannot be read, rules of another formula."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from checker.pages.form.opening import OpenAsked, opened
from checker.reading.problems import InputError
from checker.reading.strict_yaml import read_document
from tests.conftest import ROOT
from tests.pages.form.browsing import PACK, Browser
from tests.pages.form.test_site import verdict


@pytest.fixture
def car(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return Path(shutil.copy(ROOT / "samples" / "cars" / "light-at-the-flag.yaml", "car.yaml"))


@pytest.mark.deep
def test_of_two_tabs_the_second_to_save_is_told(car: Path) -> None:
    browser = Browser(car)
    other_tab = browser.page
    assert browser.send({"car.name": "First"}, "save").status_code == 303
    browser.page = other_tab
    assert browser.send({"car.name": "Second"}, "save").status_code == 200
    assert "was changed by somebody else" in browser.page
    assert 'value="Second"' in browser.page
    assert read_document(car, "CD").get(("car", "name")) == "First"
    browser.send(button="discard")
    assert 'value="First"' in browser.page


@pytest.mark.deep
def test_of_two_programs_on_one_file_the_second_to_save_is_told(car: Path) -> None:
    one, other = Browser(car), Browser(car)
    assert one.send({"car.name": "First"}, "save").status_code == 303
    assert other.send({"engine.rev_cut": "6500"}, "save").status_code == 200
    assert "was changed by somebody else" in other.page
    other.send(button="discard")
    assert other.send({"engine.rev_cut": "6500"}, "save").status_code == 303
    found = read_document(car, "CD")
    assert (found.get(("car", "name")), found.get(("engine", "rev_cut"))) == ("First", "6500 rpm")


@pytest.mark.deep
def test_a_file_that_goes_meanwhile_is_kept_beside(car: Path) -> None:
    browser = Browser(car)
    car.unlink()
    browser.send({"car.name": "Kept"}, "save")
    assert not car.exists()
    browser.send({"car.name": "Kept"}, "beside")
    assert read_document(car.with_name("car.2.yaml"), "CD").get(("car", "name")) == "Kept"
    answer = browser.client.get("/")
    assert answer.status_code == 422
    assert "there is no such file" in answer.text
    assert browser.mistakes == []


@pytest.mark.parametrize(
    ("text", "told"), [("formula: dunlin\ncar: [1, 2\n", "never closed"), ("formula: dunlinn\n", "dunlinn")]
)
def test_a_file_that_cannot_be_read_is_told_before_anything_is_served(
    tmp_path: Path, text: str, told: str
) -> None:
    path = tmp_path / "car.yaml"
    path.write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        opened(str(path), OpenAsked())
    assert told in caught.value.problems[0].message


def test_a_pack_that_cannot_be_read_is_told_with_its_place(car: Path, tmp_path: Path) -> None:
    (tmp_path / "rules.yaml").write_text("pack: x\nclauzes: {}\n", "utf-8")
    with pytest.raises(InputError) as caught:
        opened(str(car), OpenAsked(str(tmp_path / "rules.yaml")))
    assert any("clauzes" in one.message and one.span is not None for one in caught.value.problems)


def test_rules_of_another_formula_judge_nothing(car: Path) -> None:
    browser = Browser(car, OpenAsked(str(ROOT / "tests" / "pack" / "packs" / "short")))
    assert verdict(browser.page) == "UNDECIDED"
    assert "The file is for the formula &#39;dunlin&#39;; the pack is that of &#39;short&#39;" in browser.page
    assert browser.mistakes == []


def test_mistakes_that_stand_in_a_file_are_put_right_in_the_form(tmp_path: Path) -> None:
    path = tmp_path / "car.yaml"
    path.write_text("formula: dunlin\ncar: {number: 7, nam: x}\nengine: 5\n", "utf-8")
    browser = Browser(path, OpenAsked(PACK))
    assert browser.page.count("Cannot be read:</strong>") == 3
    assert "take out <code>nam: x</code>" in browser.page
    browser.send({"car.number": "7", "car|drop": "nam"})
    assert browser.page.count("Cannot be read:</strong>") == 1
    browser.send({"car.number": "7", "car|drop": "nam", "|drop": "engine"}, "save")
    assert read_document(path, "CD").data == {"formula": "dunlin", "car": {"number": "7"}}
