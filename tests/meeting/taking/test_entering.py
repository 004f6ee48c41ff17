from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.store import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.taking.entering import Answer, enter, handed_in, withdraw
from checker.reading.problems import InputError
from tests.meeting.days import a_meeting, car_text, refused


def written(folder: Path, **texts: str) -> Path:
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.yaml").write_text(text)
    return folder


def codes(answer: Answer) -> list[str]:
    return [problem.code for problem in answer.problems]


def test_a_folder_of_declarations_is_entered_and_each_is_answered_for(tmp_path: Path) -> None:
    folder = written(
        tmp_path / "in",
        a=car_text("11", "Tern"),
        b=car_text("12", "Skua").replace("sound: true", "sond: true"),
        c=car_text("13", "Gull").replace("plover", "other"),
        d="not: [yaml",
        e=car_text("11", "Another Tern"),
    )
    (folder / "notes.txt").write_text("no declaration")
    with a_meeting(tmp_path, {}) as meeting:
        answers = enter(meeting, handed_in([folder]), "KV")
        assert [(answer.car, codes(answer)) for answer in answers] == [
            ("11", []),
            ("", ["CD201"]),
            ("", ["CD211"]),
            ("", ["CD112"]),
            ("11", ["MT204"]),
        ]
        assert [car.name for car in meeting.day.cars.values()] == ["Tern"]
        kept = meeting.store.database.execute("SELECT sha256 FROM file WHERE entry > 1").fetchall()
        assert kept == [(digest_of((folder / "a.yaml").read_bytes()),)]


def test_the_declaration_is_kept_to_the_last_byte(tmp_path: Path) -> None:
    data = b"\xef\xbb\xbf# with a byte order mark\r\n" + car_text().encode()
    file = tmp_path / "car.yaml"
    file.write_bytes(data)
    with a_meeting(tmp_path, {}) as meeting:
        enter(meeting, handed_in([file]), "KV")
        file.unlink()
        content = meeting.car("7").entered.content
        assert meeting.store.file(content.declaration) == data
        assert meeting.declaration(meeting.car("7")).name == "car.yaml"


def test_a_list_names_cars_and_their_files(tmp_path: Path) -> None:
    written(tmp_path / "in", a=car_text("11", "Tern"), b=car_text("12", "Skua"))
    table = tmp_path / "in" / "list.csv"
    table.write_text("car;declaration;late\n11;a.yaml;\n13;b.yaml;yes\n")
    with a_meeting(tmp_path, {}) as meeting:
        first, second = enter(meeting, handed_in([table]), "KV")
        assert codes(first) == []
        assert codes(second) == ["MT303"]
        assert second.problems[0].message == "the list says car 13, the declaration is of car 12"
        table.write_text("declaration;late\nb.yaml;yes\n")
        enter(meeting, handed_in([table]), "KV")
        assert meeting.car("12").entered.content.late


@pytest.mark.parametrize(
    "text", ["car;file\n11;a.yaml\n", "car;declaration\n11;\n", "declaration;colour\na.yaml;red\n"]
)
def test_a_list_that_is_not_one_is_told(tmp_path: Path, text: str) -> None:
    table = tmp_path / "list.csv"
    table.write_text(text)
    with pytest.raises(InputError) as error:
        handed_in([table])
    assert refused(error) in ("MT303", "MT306")


def test_a_folder_without_declarations_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError) as error:
        handed_in([tmp_path])
    assert refused(error) == "MT110"


def test_a_car_is_entered_once_unless_it_is_said_why(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        file = written(tmp_path / "in", a=car_text(), b=car_text(engine="{inlet_bore: 34 mm}"))
        same, other = (enter(meeting, handed_in([file / f"{name}.yaml"]), "KV")[0] for name in ("a", "b"))
        assert "with this very file" in same.problems[0].message
        assert "with another declaration" in other.problems[0].message
        (replaced,) = enter(meeting, handed_in([file / "b.yaml"]), "KV", reason="carburettor changed")
        assert replaced.replaced
        assert meeting.car("7").entered.content.reason == "carburettor changed"
        judged = meeting.judgement(meeting.car("7")).inspection.car
        assert judged.value("engine.inlet_bore") == 34


def test_a_withdrawn_car_is_out_until_it_is_said_why_it_is_back(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        for reason, code in (("", "MT206"), (" ", "MT206")):
            with pytest.raises(InputError) as error:
                withdraw(meeting, "7", reason, "KV")
            assert refused(error) == code
        withdraw(meeting, "7", "gearbox", "KV")
        file = written(tmp_path / "in", a=car_text()) / "a.yaml"
        assert codes(enter(meeting, handed_in([file]), "KV")[0]) == ["MT205"]
        enter(meeting, handed_in([file]), "KV", reason="gearbox mended")
        assert meeting.car("7", taking_part=True).withdrawn == ""
        with pytest.raises(InputError):
            withdraw(meeting, "8", "no such car", "KV")


def test_nothing_to_enter_records_nothing(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        before = meeting.day.number
        answers = enter(meeting, handed_in([tmp_path / "nowhere.yaml"]), "KV")
        assert codes(answers[0]) == ["CD110"]
        assert meeting.day.number == before


def test_two_officials_cannot_enter_the_same_car(tmp_path: Path) -> None:
    file = written(tmp_path / "in", a=car_text()) / "a.yaml"
    with a_meeting(tmp_path, {}) as meeting, Meeting.open(tmp_path / "day.meeting") as other:
        assert codes(enter(meeting, handed_in([file]), "KV")[0]) == []
        assert codes(enter(other, handed_in([file]), "TB")[0]) == ["MT204"]
