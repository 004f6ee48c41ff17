from __future__ import annotations

from pathlib import Path

import pytest

from checker.meeting.record.rows import digest_of
from checker.meeting.session.session import Meeting
from checker.meeting.tables.mapping import ENTRIES, read_mapping
from checker.meeting.taking.entering import HANDED_IN_LATER, Answer, enter, handed_in, withdraw
from checker.meeting.taking.entry_lists import things
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
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
        answers = enter(meeting, handed_in(meeting, [folder]), "KV")
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
        enter(meeting, handed_in(meeting, [file]), "KV")
        file.unlink()
        content = meeting.car("7").entered.content
        assert meeting.store.file(content.declaration) == data
        assert meeting.declaration(meeting.car("7")).name == "car.yaml"


def test_a_list_names_cars_and_their_files(tmp_path: Path) -> None:
    written(tmp_path / "in", a=car_text("11", "Tern"), b=car_text("12", "Skua"))
    table = tmp_path / "in" / "list.csv"
    table.write_text("car;declaration;late\n11;a.yaml;\n13;b.yaml;yes\n")
    with a_meeting(tmp_path, {}) as meeting:
        first, second = enter(meeting, handed_in(meeting, [table]), "KV")
        assert codes(first) == []
        assert codes(second) == ["MT303"]
        assert second.problems[0].message == "the list says car 13, the declaration is of car 12"
        table.write_text("declaration;late\nb.yaml;yes\n")
        enter(meeting, handed_in(meeting, [table]), "KV")
        assert meeting.car("12").entered.content.late


@pytest.mark.parametrize(
    "text",
    ["car;file\n11;a.yaml\n", "car;declaration\n;\n", "declaration;colour\na.yaml;red\n", "name\nTern\n"],
)
def test_a_list_that_is_not_one_is_told(tmp_path: Path, text: str) -> None:
    table = tmp_path / "list.csv"
    table.write_text(text)
    with a_meeting(tmp_path, {}) as meeting, pytest.raises(InputError) as error:
        handed_in(meeting, [table])
    assert refused(error) in ("MT303", "MT306", "MT302")


def test_a_car_without_a_file_is_entered_with_what_its_row_states(tmp_path: Path) -> None:
    table = tmp_path / "entries.csv"
    table.write_text("car,name,engine.inlet_bore,body.sound\n21,Tern,35.5,yes\n22,,,\n")
    with a_meeting(tmp_path, {}) as meeting:
        assert [codes(answer) for answer in enter(meeting, handed_in(meeting, [table]), "KV")] == [[], []]
        declared = meeting.declaration(meeting.car("21"))
        assert declared.get(("engine", "inlet_bore")) == "35.5 mm"
        assert declared.get(("body", "sound")) is True
        assert meeting.car("21").name == "Tern"
        assert meeting.car("22").entered.content.file == "entries.csv, line 3"
        outcomes = {
            o.clause.number: o.outcome for o in meeting.judgement(meeting.car("22")).inspection.outcomes
        }
        assert "pass" not in outcomes.values(), "nothing that is not stated is met"


def test_the_declaration_of_a_listed_car_comes_later_without_a_reason_but_only_once(tmp_path: Path) -> None:
    written(tmp_path / "in", a=car_text("21", "Tern"), b=car_text("21", "Tern", body="{sound: false}"))
    table = tmp_path / "entries.csv"
    table.write_text("car\n21\n")
    with a_meeting(tmp_path, {}) as meeting:
        enter(meeting, handed_in(meeting, [table]), "KV")
        (answer,) = enter(meeting, handed_in(meeting, [tmp_path / "in" / "a.yaml"]), "KV")
        assert (codes(answer), answer.replaced) == ([], True)
        assert meeting.car("21").entered.content.reason == HANDED_IN_LATER
        (answer,) = enter(meeting, handed_in(meeting, [tmp_path / "in" / "b.yaml"]), "KV")
        assert codes(answer) == ["MT204"]


def test_a_mapping_gives_a_list_headings_of_its_own(tmp_path: Path) -> None:
    table = tmp_path / "entries.csv"
    table.write_text("No;Who;Bore;Club\n21;Tern;35,5;east\n")
    with a_meeting(tmp_path, {}) as meeting:
        text = "import: entries\ncolumns: {car: No, name: Who, engine.inlet_bore: Bore}\ndecimal: comma\n"
        mapping = read_mapping(parse_document(text.encode(), "m.yaml", "MT"), ENTRIES, things(meeting))
        (answer,) = enter(meeting, handed_in(meeting, [table], mapping=mapping), "KV")
        assert codes(answer) == []
        assert meeting.declaration(meeting.car("21")).get(("engine", "inlet_bore")) == "35.5 mm"
        wrong = text.replace("engine.inlet_bore", "engine.inlet_bor")
        with pytest.raises(InputError) as error:
            read_mapping(parse_document(wrong.encode(), "m.yaml", "MT"), ENTRIES, things(meeting))
        assert "inlet_bore" in error.value.problems[0].hint


def test_a_folder_without_declarations_is_told(tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    with a_meeting(tmp_path, {}) as meeting, pytest.raises(InputError) as error:
        handed_in(meeting, [empty])
    assert refused(error) == "MT110"


def test_a_car_is_entered_once_unless_it_is_said_why(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        file = written(tmp_path / "in", a=car_text(), b=car_text(engine="{inlet_bore: 34 mm}"))
        same, other = (
            enter(meeting, handed_in(meeting, [file / f"{name}.yaml"]), "KV")[0] for name in ("a", "b")
        )
        assert "with this very file" in same.problems[0].message
        assert "with another declaration" in other.problems[0].message
        (replaced,) = enter(
            meeting, handed_in(meeting, [file / "b.yaml"]), "KV", reason="carburettor changed"
        )
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
        assert codes(enter(meeting, handed_in(meeting, [file]), "KV")[0]) == ["MT205"]
        enter(meeting, handed_in(meeting, [file]), "KV", reason="gearbox mended")
        assert meeting.car("7", taking_part=True).withdrawn == ""
        with pytest.raises(InputError):
            withdraw(meeting, "8", "no such car", "KV")


def test_nothing_to_enter_records_nothing(tmp_path: Path) -> None:
    with a_meeting(tmp_path) as meeting:
        before = meeting.day.number
        answers = enter(meeting, handed_in(meeting, [tmp_path / "nowhere.yaml"]), "KV")
        assert codes(answers[0]) == ["CD110"]
        assert meeting.day.number == before


def test_two_officials_cannot_enter_the_same_car(tmp_path: Path) -> None:
    file = written(tmp_path / "in", a=car_text()) / "a.yaml"
    with a_meeting(tmp_path, {}) as meeting, Meeting.open(tmp_path / "day.meeting") as other:
        assert codes(enter(meeting, handed_in(meeting, [file]), "KV")[0]) == []
        assert codes(enter(other, handed_in(other, [file]), "TB")[0]) == ["MT204"]
