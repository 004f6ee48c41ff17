"""A list of parts, CSV or a workbook, begins a car's components."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from checker.meeting.tables.given import GivenFile
from checker.meeting.tables.mapping import TableMapping
from checker.pages.form.opening import OpenAsked, opened
from checker.pages.form.parts_list import parts_table, read_how, read_parts
from checker.reading.problems import InputError
from tests.pages.form.browsing import PACK
from tests.pages.form.forms import dunlin

WANTED = [
    {
        "name": "front dampers",
        "category": "suspension/damper",
        "count": 2,
        "mass": "1.9 kg",
        "price": "296.00 GBP",
        "materials": ["alloy steel", "aluminium 6082"],
        "original_casting": False,
    },
    {"name": "belts", "category": "safety/belts", "made": "2023-08", "mass": "4 lb"},
]
CSV = """\
name,category,count,mass,price,materials,made,original_casting
front dampers,suspension/damper,2,1.9,296.00,alloy steel; aluminium 6082,,no
belts,safety/belts,,4 lb,,,2023-08,
"""


def parts(file: Path, mapping: Path | None = None) -> object:
    known = dunlin().vocabulary
    how = TableMapping({}) if mapping is None else read_how(known, GivenFile.read(mapping))
    return read_parts(known, parts_table(GivenFile.read(file), how), how)


def test_headings_are_the_names_of_fields(tmp_path: Path) -> None:
    file = tmp_path / "parts.csv"
    file.write_text(CSV, "utf-8")
    assert parts(file) == WANTED


def test_a_workbook_says_the_same(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for row in CSV.splitlines():
        sheet.append([float(cell) if cell in ("2", "1.9") else cell or None for cell in row.split(",")])
    book.save(tmp_path / "parts.xlsx")
    assert parts(tmp_path / "parts.xlsx") == WANTED


def test_a_mapping_says_what_other_headings_mean(tmp_path: Path) -> None:
    file, mapping = tmp_path / "parts.csv", tmp_path / "mapping.yaml"
    file.write_text("Part;Kind;Kilos;Shelf\nseat;safety/seat;5,5;left\n", "utf-8")
    mapping.write_text(
        "import: parts\ncolumns: {name: Part, category: Kind, mass: Kilos}\ndecimal: comma\n", "utf-8"
    )
    assert parts(file, mapping) == [{"name": "seat", "category": "safety/seat", "mass": "5.5 kg"}]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("category\nbrakes/disc\n", "no column tells what a part is called"),
        ("name,colour\nseat,red\n", "the column 'colour' is not known"),
        ("name,mass\nseat,heavy 5\n", "is no number"),
        ("name\n=1+1\n", "holds a formula"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_place(tmp_path: Path, text: str, told: str) -> None:
    file = tmp_path / "parts.csv"
    file.write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        parts(file)
    assert told in caught.value.problems[0].message
    assert caught.value.problems[0].span is not None


def test_what_is_no_workbook_is_told(tmp_path: Path) -> None:
    file = tmp_path / "parts.xlsx"
    file.write_bytes(b"PK\x03\x04 no workbook at all")
    with pytest.raises(InputError, match="1 problem"):
        parts(file)


def test_a_new_car_begins_with_them(tmp_path: Path) -> None:
    file = tmp_path / "parts.csv"
    file.write_text(CSV, "utf-8")
    asked = OpenAsked(PACK, "dunlin", parts=str(file))
    car, _ = opened(str(tmp_path / "new.yaml"), asked)
    assert car.opened.get(("components",)) == WANTED
    assert "\n  - {name: belts, category: safety/belts, mass: 4 lb, made: 2023-08}\n" in car.opened.text


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (OpenAsked(), "checker open"),
        (OpenAsked(formula="dunlinn"), "Did you mean"),
        (OpenAsked(begun_from="samples/cars/no-such.yaml"), ""),
    ],
)
@pytest.mark.usefixtures("at_root")
def test_what_a_new_car_lacks_is_told(tmp_path: Path, asked: OpenAsked, told: str) -> None:
    with pytest.raises(InputError) as caught:
        opened(str(tmp_path / "new.yaml"), asked)
    assert told in caught.value.problems[0].hint
    assert not list(tmp_path.iterdir())


def test_a_car_that_is_there_is_not_begun_anew(tmp_path: Path) -> None:
    path = tmp_path / "car.yaml"
    path.write_text("formula: dunlin\n", "utf-8")
    with pytest.raises(InputError) as caught:
        opened(str(path), OpenAsked(PACK, formula="dunlin"))
    assert caught.value.problems[0].code == "PG204"
    assert path.read_text("utf-8") == "formula: dunlin\n"
