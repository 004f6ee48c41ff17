"""Files that are chosen in the page: compared with, begun with, or taken in as parts; never by their names."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from checker import inspect_files
from checker.pages.form.opening import OpenAsked
from checker.pages.form.site import LARGEST_BYTES
from checker.reading.strict_yaml import read_document
from checker.report.one_car.document import inspection_document
from tests.conftest import ROOT
from tests.examples import quick_first
from tests.pages.form.browsing import PACK, Browser

LIGHT = ROOT / "samples" / "cars" / "light-at-the-flag.yaml"
CREEPING = ROOT / "samples" / "cars" / "creeping-inside.yaml"


@pytest.fixture
def car(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """By a name that is the same in every test, so that what comes of it is worked out once."""
    monkeypatch.chdir(tmp_path)
    return Path(shutil.copy(LIGHT, "car.yaml"))


@pytest.fixture
def new(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Browser:
    monkeypatch.chdir(tmp_path)
    return Browser(Path("new.yaml"), OpenAsked(PACK, "dunlin"))


# -- compared with -------------------------------------------------------------------------------------------


@pytest.mark.deep
def test_any_state_since_it_was_opened_is_compared_with(car: Path) -> None:
    browser = Browser(car)
    for amount in ("5", "6"):
        assert browser.send({"fuel.unusable": amount}, "save").status_code == 303
    chosen = browser.page.partition('name="ask-since"')[2].partition("</select>")[0]
    values = [piece.partition('"')[0] for piece in chosen.split('value="')[1:]]
    assert [word.partition("<")[0] for word in chosen.split('">')[1:]] == [
        "as saved",
        "after change 1",
        "as opened",
    ]
    for value, unusable in zip(values, ("6 L", "5 L", "0 L"), strict=True):
        page = browser.send({"fuel.unusable": "7", "ask-since": value}, address="/since").text
        assert "fuel.unusable" in page
        assert unusable in page


@pytest.mark.deep
def test_a_car_of_a_file_is_compared_with(car: Path) -> None:
    answer = Browser(car).hand_in(
        "/since", {"ask-since-file": ("../../etc/harder.yaml", CREEPING.read_bytes())}
    )
    assert answer.status_code == 200
    assert "harder.yaml" in answer.text
    assert "../" not in answer.text
    assert "3.3 Inside weight" in answer.text


@pytest.mark.deep
def test_a_report_that_was_kept_is_compared_with(car: Path) -> None:
    report = json.dumps(inspection_document(inspect_files(str(car), pack=PACK))).encode()
    browser = Browser(car)
    browser.send({"fuel.unusable": "7"})
    answer = browser.hand_in("/since", {"ask-since-file": ("report.json", report)})
    assert answer.status_code == 200
    assert "3.1" in answer.text
    other = report.replace(b'"number": "14"', b'"number": "15"')
    answer = browser.hand_in("/since", {"ask-since-file": ("report.json", other)})
    assert answer.status_code == 422
    assert "no report of car" in answer.text


@pytest.mark.parametrize(
    ("data", "told"),
    quick_first(
        [
            (b"formula: other\ncar: {number: '1'}\n", "other"),
            (b"\xff\xfe\x00", "UTF-16"),
            (b"formula: [", "harder.yaml:1"),
            (b"", "harder.yaml"),
        ],
        0,
    ),
)
def test_what_cannot_be_compared_with_is_told(car: Path, data: bytes, told: str) -> None:
    browser = Browser(car)
    answer = browser.hand_in("/since", {"ask-since-file": ("harder.yaml", data)})
    assert answer.status_code == 422
    assert told in answer.text
    assert browser.mistakes == []


@pytest.mark.deep
def test_a_state_that_never_was_is_refused(car: Path) -> None:
    answer = Browser(car).send({"ask-since": "/etc/passwd"}, address="/since")
    assert answer.status_code == 400


# -- begun with ----------------------------------------------------------------------------------------------


@pytest.mark.deep
def test_a_new_car_begins_with_a_file_of_last_season(new: Browser, tmp_path: Path) -> None:
    answer = new.hand_in("/begin", {"ask-begin": ("last.yaml", LIGHT.read_bytes())})
    assert answer.status_code == 303
    assert 'value="Turnstone"' in new.page
    assert not (tmp_path / "new.yaml").exists()
    new.send({"car.name": "Another"}, "save")
    old, now = LIGHT.read_text("utf-8").splitlines(), (tmp_path / "new.yaml").read_text("utf-8").splitlines()
    assert len([line for line in now if line not in old]) == 1
    assert new.hand_in("/begin", {"ask-begin": ("last.yaml", CREEPING.read_bytes())}).status_code == 422
    assert (tmp_path / "new.yaml").read_text("utf-8").splitlines() == now


@pytest.mark.parametrize(
    "data",
    quick_first([b"", b"formula: [", b"\x00", b"formula: none\ncar: {number: '1'}\n", b"PK\x03\x04"], 0),
)
def test_what_is_no_declaration_begins_nothing(tmp_path: Path, data: bytes) -> None:
    browser = Browser(tmp_path / "new.yaml", OpenAsked(formula="dunlin"))
    before = browser.page
    assert browser.hand_in("/begin", {"ask-begin": ("last.yaml", data)}).status_code == 422
    browser.load()
    assert browser.page.count("<input") == before.count("<input")
    assert browser.mistakes == []


def test_nothing_chosen_is_told(new: Browser) -> None:
    for address in ("/begin", "/parts"):
        answer = new.send(address=address)
        assert answer.status_code == 400
        assert "Choose a" in answer.text


@pytest.mark.deep
def test_what_is_too_much_is_refused(new: Browser) -> None:
    answer = new.hand_in("/begin", {"ask-begin": ("last.yaml", b"#" * (LARGEST_BYTES + 1))})
    assert answer.status_code == 413
    answer = new.hand_in("/begin", {"ask-begin": ("last.yaml", b"#" * (5 * 1024**2))})
    assert answer.status_code == 422
    assert "larger than 4 MiB" in answer.text


# -- parts ---------------------------------------------------------------------------------------------------


@pytest.mark.deep
def test_parts_with_known_headings_stand_in_the_form_at_once(car: Path) -> None:
    before = read_document(car, "CD").get(("components",))
    assert isinstance(before, list)
    browser = Browser(car)
    csv = b"name,category,mass,materials\nbelts,safety/belts,4 lb,nylon\nseat,safety/seat,5.5,\n"
    assert browser.hand_in("/parts", {"ask-parts": ("parts.csv", csv)}).status_code == 303
    assert read_document(car, "CD").get(("components",)) == before
    browser.send(button="save")
    after = read_document(car, "CD").get(("components",))
    assert isinstance(after, list)
    assert after[: len(before)] == before
    assert after[len(before) :] == [
        {"name": "belts", "category": "safety/belts", "mass": "4 lb", "materials": ["nylon"]},
        {"name": "seat", "category": "safety/seat", "mass": "5.5 kg"},
    ]


@pytest.mark.deep
def test_columns_of_a_workbook_are_chosen_in_the_page(new: Browser, tmp_path: Path) -> None:
    book, kept = openpyxl.Workbook(), io.BytesIO()
    for row in (("Part", "Category", "Kilos", "Shelf"), ("seat <b>", "safety/seat", "5,5", "left")):
        book.active.append(row)
    book.save(kept)
    new.send({"car.number": "7"})
    page = new.hand_in("/parts", {"ask-parts": ("parts.xlsx", kept.getvalue())}).text
    assert "Which column is what?" in page
    assert "seat &lt;b&gt;" in page
    assert '<option value="category" selected>' in page
    new.page = page
    answer = new.send({"column-0": "name", "column-2": "mass", "decimal": "comma"}, address="/parts-as")
    assert answer.status_code == 303
    assert not (tmp_path / "new.yaml").exists()
    new.send(button="save")
    data = read_document(tmp_path / "new.yaml", "CD")
    assert data.get(("car", "number")) == "7"
    assert data.get(("components",)) == [{"name": "seat <b>", "category": "safety/seat", "mass": "5.5 kg"}]


@pytest.mark.deep
def test_columns_without_a_name_or_of_a_list_long_gone_are_refused(new: Browser) -> None:
    page = new.hand_in("/parts", {"ask-parts": ("parts.csv", b"a;b\n1;2\n")}).text
    new.page = page
    assert new.send(address="/parts-as").status_code == 400
    assert new.send({"column-0": "name", "column-1": "name"}, address="/parts-as").status_code in (303, 400)
    new.page = page
    assert new.send({"column-0": "name", "table": "0" * 64}, address="/parts-as").status_code == 409


@pytest.mark.deep
def test_a_mapping_is_handed_in_beside_a_list(new: Browser) -> None:
    files = {
        "ask-parts": ("parts.csv", b"Part;Kilos\nseat;5,5\n"),
        "ask-mapping": ("mine.yaml", b"import: parts\ncolumns: {name: Part, mass: Kilos}\ndecimal: comma\n"),
    }
    assert new.hand_in("/parts", files).status_code == 303
    assert 'name="components[0].mass" value="5.5"' in new.page


@pytest.mark.parametrize(
    ("data", "told"),
    quick_first(
        [
            (b"PK\x03\x04 no workbook", "cannot be read as a workbook"),
            (b"name\n=1+1\n", "holds a formula"),
            (b"", "no heading"),
        ],
        1,
    ),
)
def test_what_is_no_list_of_parts_is_told(new: Browser, data: bytes, told: str) -> None:
    answer = new.hand_in("/parts", {"ask-parts": ("parts.csv", data)})
    assert answer.status_code == 422
    assert told in answer.text
    assert new.mistakes == []


@pytest.mark.deep
def test_more_parts_than_a_car_may_have_are_refused(new: Browser) -> None:
    rows = b"name\n" + b"seat\n" * 1001
    answer = new.hand_in("/parts", {"ask-parts": ("parts.csv", rows)})
    assert answer.status_code == 422
    assert "at most 1000" in answer.text


@pytest.mark.deep
def test_a_forged_upload_is_refused(new: Browser) -> None:
    answer = new.hand_in("/begin", {"ask-begin": ("last.yaml", LIGHT.read_bytes())}, token="0" * 64)
    assert answer.status_code == 403
    new.load()
    assert "Turnstone" not in new.page
