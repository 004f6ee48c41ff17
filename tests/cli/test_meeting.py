"""The commands of a meeting, from opening to the bundle, as officials type them."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import signal
import sys
import zipfile
from pathlib import Path

import pytest

from checker.cli.program import COMMANDS
from tests.cli.meetings import FOUR, Day
from tests.cli.running import environment, finish, run, start
from tests.meeting.days import PROCEDURE, car_text

GROUP = "meeting "


def test_what_is_recorded_is_acknowledged_with_its_entry_and_hash(day: Day) -> None:
    ran = day("weigh", "7", *FOUR, "--fuel", "6 L")
    assert re.search(
        r"Car 7 weighed: entries 4 to 5, on disk\. Hash( [0-9a-f]{4}){5}$", " ".join(ran.out.split())
    )
    assert "CAR 7 Ruff: ON SCALES" in ran.out, "as the board and the slip say"
    assert "Weighing 1 of 2; the next with the pads swapped side to side." in ran.out
    assert ran.code == 4


def test_the_exit_code_of_a_weighing_is_that_of_the_car(day: Day) -> None:
    assert day("measure", "7", "seals.sump", "SO 7").code == 0
    assert day("weigh", "7", *FOUR, "--fuel", "6 L").code == 0
    assert day("weigh", "8", *FOUR, "--fuel", "6 L").code == 1


def test_a_car_with_an_open_defect_is_nowhere_said_to_comply(day: Day) -> None:
    day("measure", "7", "seals.sump", "SO 7")
    day("weigh", "7", *FOUR, "--fuel", "6 L")
    day("measure", "7", "--note", "defect", "--clause", "6", "--text", "a disc is cracked", "--state", "open")
    ran = day("weigh", "7", *FOUR)
    told = "open defect: 6 a disc is cracked"
    assert (ran.code, "CAR 7 Ruff: UNDECIDED" in ran.out, told in ran.out.lower()) == (4, True, True)
    slip = day("slip", "7")
    assert (slip.code, "UNDECIDED" in slip.out.splitlines()[0], told in slip.out.lower()) == (4, True, True)
    board, results = (" ".join(day(name).out.split()) for name in ("board", "results"))
    assert "undecided: 6; open defect: 6 a disc" in board
    assert told in results
    assert "1 undecided" in results
    assert f"car 7 UNDECIDED ({told})" in " ".join(day("close").out.split())
    assert day("verify").code == 0


@pytest.mark.parametrize(
    ("arguments", "code", "word"),
    [
        (("weigh", "7", "155", "141"), 2, "give four loads"),
        (("weigh", "7", "155", "141", "153", "total=9"), 2, "give four loads"),
        (("weigh", "7", *FOUR), 3, "MT210 the fuel on board is not stated"),
        (("weigh", "71", *FOUR, "--fuel", "6 L"), 3, "MT203 car 71 is not entered"),
        (("weigh", "7", *FOUR, "--fuel", "6 L", "--by", "XX"), 3, "MT202 no official signs as 'XX'"),
        (("weigh", "--import", "x.csv"), 2, "--mapping"),
        (("measure", "7", "seals.sump"), 2, "give FACT and VALUE"),
        (("measure", "7", "components", "x"), 3, "a field of it: components.ENTRY.FIELD"),
        (("measure", "7", "components.x", "x"), 3, "a field of it: components.ENTRY.FIELD"),
        (("measure", "7", "--seen", "3", "--gauge", "no-go"), 2, "--gauge goes with FACT and VALUE only"),
        (("measure", "7", "--seen", "3", "--with", "step gauge"), 2, "--with goes with FACT and VALUE only"),
        (("measure", "7", "--seen", "3", "--new"), 2, "--new goes with FACT and VALUE only"),
        (("measure", "7", "--seen", "3", "--text", "bent"), 2, "--text goes with --note only"),
        (
            ("measure", "7", "--seen", "3", "--corrects", "4"),
            2,
            "--corrects goes with FACT and VALUE or --note",
        ),
        (("measure", "7", "seals.sump", "SO 7", "--state", "broken"), 2, "--state goes with --note only"),
        (("measure", "7", "--note", "remark", "--text", "x", "--gauge", "go"), 2, "--gauge goes with FACT"),
        (("measure", "7", "--clause", "3"), 2, "--clause goes with --note only"),
        (("measure", "7", "seals.sumps", "x"), 3, "MT208 the pack has no fact 'seals.sumps'"),
        (("enter",), 2, "give declarations"),
        (("gear", "pads", "--pad", "rear_left"), 2, "--shows is needed"),
        (("gear", "pats", "--shows", "0"), 3, "MT211 no gear 'pats'"),
        (("rule", "7", "3", "allow"), 3, "MT206"),
        (("strike", "99", "--reason", "x"), 3, "MT207 there is no entry 99"),
        (("draw", "--sample", "9"), 3, "MT214"),
        (("carry",), 3, "MT213"),
        (("close", "--reopen", "why"), 3, "MT216"),
        (("close", "--reopen", "--by", "kv"), 2, "a reason in words was wanted, not --by"),
        (("strike", "3", "--reason", "--by", "kv"), 2, "a reason in words was wanted, not --by"),
        (("weigh", "7", *FOUR, "--again", "--fuel", "6 L"), 2, "a reason in words was wanted, not --fuel"),
        (("verify", "--hash", "zz"), 3, "MT209"),
        (("board", "--watch", "--format", "json"), 2, "--watch shows text"),
        (("slip", "71"), 3, "MT203"),
    ],
)
def test_what_cannot_be_done_ends_in_a_clear_word_and_records_nothing(
    day: Day, arguments: tuple[str, ...], code: int, word: str
) -> None:
    before = day("export").out
    ran = day(*arguments)
    assert (ran.code, ran.out) == (code, "")
    assert word in ran.err
    assert day("export").out == before


def test_a_meeting_that_is_none_is_told(day: Day, tmp_path: Path) -> None:
    other = tmp_path / "other.meeting"
    for command in ("board", "verify", "results"):
        ran = run(day.capsys, "meeting", command, str(other))
        assert (ran.code, "MT101" in ran.err) == (3, True)
    other.write_text("no meeting")
    ran = run(day.capsys, "meeting", "verify", str(other))
    assert (ran.code, "MT102" in ran.err) == (3, True)


def test_a_declaration_that_cannot_be_used_is_told_and_the_others_are_entered(day: Day) -> None:
    bad = day.put("bad.yaml", car_text("11").replace("sound: true", "sond: true"))
    good = day.put("good.yaml", car_text("12", "Tern"))
    ran = day("enter", bad, good, "--late")
    assert ran.code == 3
    assert f"not entered: {bad}" in ran.err
    assert "CD201" in ran.err
    assert "Entered: 12" in ran.out
    assert day("enter", "--withdraw", "12", "--reason", "engine").code == 0
    assert "withdrawn" in day("board").out


def test_a_bad_gear_check_names_the_cars_in_doubt(day: Day) -> None:
    assert day("gear", "pads", "--pad", "rear_left", "--weight", "20", "--shows", "20.5").code == 0
    day("weigh", "7", *FOUR, "--fuel", "6 L")
    ran = day("gear", "pads", "--pad", "rear_left", "--weight", "20", "--shows", "11")
    assert ran.code == 1
    assert "In doubt, to be weighed again: cars 7." in ran.out
    ran = day("gear")
    assert (ran.code, "pads rear_left: 11 kg for 20 kg, BAD" in ran.out) == (1, True)
    assert "car 7: entry 5 is in doubt since check 7" in ran.out


def test_sides_that_look_exchanged_are_told_once(day: Day) -> None:
    ran = day("weigh", "7", "141", "155", "141", "153", "--fuel", "6 L")
    assert ran.err.count("look as if left and right were exchanged") == 1
    assert "MT314 warning: car 7 is left open" in ran.err


def test_a_table_is_imported_and_every_car_judged(day: Day) -> None:
    table = day.put("pads.csv", "No;FL;FR;RL;RR\n7;155,0;141,0;153,0;141,0\n8;155,0;141,0;153,0;141,0\n")
    columns = "columns: {car: No, front_left: FL, front_right: FR, rear_left: RL, rear_right: RR}"
    mapping = day.put("map.yaml", f"import: weighings\n{columns}\nfixed: {{fuel: 6 L, gear: pads}}\n")
    ran = day("weigh", "--import", table, "--mapping", mapping)
    assert ran.code == 1
    assert "2 weighings imported: entries 4 to 8" in ran.out
    again = day("weigh", "--import", table, "--mapping", mapping)
    assert (again.code, "MT311" in again.err) == (3, True)


def test_an_announcement_judges_again_whom_it_touches(day: Day) -> None:
    day("weigh", "7", *FOUR, "--fuel", "6 L")
    ran = day("announce", "results.carried", "9 kg")
    assert ran.code == 0
    assert "judged again: 7" in ran.out


def test_a_protest_from_paper_to_bundle(day: Day, tmp_path: Path) -> None:
    day("weigh", "8", *FOUR, "--fuel", "6 L")
    assert "entry 6" in day("protest", "8", "3", "it drags on the ground", "--from", "7").out
    ran = day("rule", "8", "3", "exclude", "--reason", "measured before us", "--protest", "6", "--by", "kv")
    assert ran.code == 0
    assert "computed: FAILS. ride height 80 mm is 5 mm below the minimum of 85 mm" in ran.out
    target = tmp_path / "protest.zip"
    assert day("bundle", "8", "--output", str(target)).code == 0
    with zipfile.ZipFile(target) as archive:
        assert "protest/README.txt" in archive.namelist()
    assert day("bundle", "8", "--output", str(target)).code == 2
    assert day("bundle", "8", "--output", str(tmp_path / "folder")).code == 0
    assert (tmp_path / "folder" / "SHA256SUMS").is_file()


def test_a_ruling_that_leaves_a_protest_open_says_how_it_would_answer(day: Day) -> None:
    day("weigh", "8", *FOUR, "--fuel", "6 L")
    day("protest", "8", "3", "it drags on the ground", "--from", "7")
    ran = day("rule", "8", "3", "exclude", "--reason", "measured before us")
    told = "Entry 6 still protests against this clause. If this answers it: --corrects 7 --protest 6"
    assert told in " ".join(ran.out.split())
    ran = day("rule", "8", "3", "exclude", "--reason", "measured", "--corrects", "7", "--protest", "6")
    assert (ran.code, "still protests" in ran.out) == (0, False)


def test_slips_results_and_verification_hold_each_other(day: Day) -> None:
    day("weigh", "7", *FOUR, "--fuel", "6 L")
    slip = day("slip", "7")
    assert slip.code == 4
    printed = re.search(r"hash ((?:[0-9a-f]{4} ?){5})", slip.out)
    assert printed
    assert "The meeting is closed: entry 6, on disk." in day("close").out
    results = day("results")
    whole = re.search(r"hash ((?:[0-9a-f]{4}\s?){16})", results.out)
    assert whole
    ran = day("verify", "--hash", printed[1], "--hash", whole[1])
    assert (ran.code, "sound." in ran.out) == (0, True)
    ran = day("verify", "--hash", "0" * 20)
    assert (ran.code, "MT405" in ran.out) == (1, True)
    assert day("weigh", "7", *FOUR).code == 3
    assert day("close", "--reopen", "a protest came in time").code == 0


@pytest.mark.parametrize("command", ["board", "results", "slip", "verify"])
def test_json_is_one_document_and_nothing_more(day: Day, command: str) -> None:
    day("weigh", "7", *FOUR, "--fuel", "6 L")
    ran = day(command, *(["7"] if command == "slip" else []), "--format", "json")
    document = json.loads(ran.out)
    assert document["document"] in ("meeting", "slip", "verification")
    assert document["version"] == 1
    assert ran.out.count("\n") == 1


def test_exports_go_to_a_file_and_never_over_the_record(day: Day, tmp_path: Path) -> None:
    day("weigh", "7", *FOUR, "--fuel", "6 L")
    target = str(tmp_path / "w.csv")
    assert day("export", "--csv", "weighings", "--output", target).code == 0
    assert Path(target).read_text().startswith("entry,time,by,car")
    before = Path(day.file).read_bytes()
    assert day("export", "--output", day.file).code == 2
    assert Path(day.file).read_bytes() == before


def test_a_draw_prints_its_seed_and_can_be_drawn_again(day: Day) -> None:
    first = day("draw", "--seed", "page 14", "--purpose", "fuel")
    again = day("draw", "--seed", "page 14")
    assert "Seed: page 14" in first.out
    order = [re.search(r"Drawn(?: for fuel)?: (.*)", ran.out) for ran in (first, again)]
    assert order[0]
    assert order[1]
    assert order[0][1] == order[1][1]


def test_an_official_who_signed_on_later_may_record(day: Day) -> None:
    assert day("measure", "7", "seals.sump", "SO 7", "--by", "AL").code == 3
    assert day("sign-on", "AL").code == 0
    assert day("measure", "7", "seals.sump", "SO 7", "--by", "al").code == 0


@pytest.mark.deep
@pytest.mark.skipif(sys.platform == "win32", reason="ends the program by a signal")
def test_a_watched_board_shows_what_is_new_until_it_is_stopped(day: Day) -> None:
    process = start("meeting", "board", day.file, "--watch")
    assert process.stdout is not None
    try:
        shown = b""
        while b"Knot" not in shown:
            shown += os.read(process.stdout.fileno(), 65536)
        assert b"1/2" not in shown
        day("weigh", "7", *FOUR, "--fuel", "6 L")
        while b"1/2" not in shown:
            shown += os.read(process.stdout.fileno(), 65536)
        process.send_signal(signal.SIGINT)
        assert finish(process).code == 130
    finally:
        process.kill()


def test_a_clock_set_back_is_told_when_it_happens(day: Day, monkeypatch: pytest.MonkeyPatch) -> None:
    from datetime import UTC, datetime

    monkeypatch.setattr(
        "checker.meeting.session.session.Meeting.open.__func__.__kwdefaults__",
        {"writing": True, "clock": lambda: datetime(2020, 1, 1, tzinfo=UTC)},
    )
    ran = day("weigh", "7", *FOUR, "--fuel", "6 L")
    assert "MT409 warning: entry 4 bears a time" in ran.err
    assert "Car 7 weighed: entries 4 to 5, on disk." in ran.out


def test_the_desk_answers_lines_where_there_is_no_terminal(day: Day, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        sys, "stdin", io.StringIO("\n".join(["7", "6", *FOUR, "", *FOUR[:3], "<", "154", "141"]) + "\n")
    )
    ran = day("weigh")
    assert ran.code == 0
    assert "\x1b" not in ran.out
    assert "Weighing 2 of 2" in ran.out
    rows = day("export", "--csv", "weighings").out.splitlines()
    assert len(rows) == 3
    assert ",155,141,154,141," in rows[2]


@pytest.mark.parametrize("width", [32, 60])
def test_the_desk_is_as_wide_as_it_is_told(day: Day, monkeypatch: pytest.MonkeyPatch, width: int) -> None:
    monkeypatch.setenv("COLUMNS", str(width))
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(["7", "6", *FOUR]) + "\n"))
    lines = day("weigh").out.splitlines()
    assert max(map(len, lines)) == width


def test_the_desk_begins_with_the_car_that_is_named(day: Day, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(["6", *FOUR]) + "\n"))
    ran = day("weigh", "7")
    assert ran.code == 0
    assert ran.out.startswith("CAR 7 Ruff")
    assert len(day("export", "--csv", "weighings").out.splitlines()) == 2
    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    assert "car 71 is not entered" in day("weigh", "71").out


def test_a_blank_sheet_has_room_for_all_that_the_procedure_asks(day: Day) -> None:
    ran = day("sheet", "7", "--width", "60")
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert lines[0] == "CAR 7 Ruff"
    assert sum(line.startswith("    under the ") for line in lines) == 8
    asked = [line for line in lines if line.startswith("  [ ] ")]
    assert asked == ["  [ ] 5 Seal", "  [ ] 3 Ride height", "  [ ] 4 Inlet"]
    assert "      ride height: declared 90 mm, found" in lines
    assert max(map(len, lines)) <= 60
    assert day("sheet").out.count("\f") == 1
    assert day("sheet", "71").code == 3


def test_results_as_they_stood_at_an_hour(day: Day) -> None:
    assert day("results", "--at", "half past").code == 2
    assert "nothing had been recorded by 00:00" in day("results", "--at", "00:00").err
    told = json.loads(day("results", "--format", "json").out)
    assert told["entries_since"] == 0
    assert {car["entrants_word"] for car in told["cars"]} == {0}, "nothing was judged yet"
    assert day("weigh", "7", *FOUR, "--fuel", "6 L").code in (0, 1, 4)
    car = json.loads(day("results", "--format", "json").out)["cars"][0]
    assert [one["clause"] for one in car["weights"]] == ["1", "2"]
    assert car["entrants_word"] > 0
    assert "margins on the scales: 1 +10 kg" in day("results").out


def test_slips_of_all_cars_come_one_after_the_other(day: Day) -> None:
    ran = day("slip")
    assert ran.code == 1
    assert [part.split()[1] for part in ran.out.split("\f")] == ["7", "8"]
    assert [
        json.loads(line)["standing"]["number"] for line in day("slip", "--format", "json").out.splitlines()
    ] == ["7", "8"]


def test_gauges_and_pads_have_desks_of_their_own(day: Day, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("=\n\n36\n"))
    ran = day("measure", "7", "--by", "KV")
    assert ran.code == 0
    assert "2 of 3 taken down." in ran.out
    monkeypatch.setattr(sys, "stdin", io.StringIO("20\n0\n0\n0\n0\n20\n20\n20\n20\n"))
    ran = day("gear", "pads", "--by", "TB")
    assert ran.code == 0
    assert "All pads are within what they may be out." in ran.out
    assert "no swap shows that" not in ran.out


SLOW = "pads: by their checks front_left, front_right, rear_left, rear_right all show 2.5 % too little. no swap shows"


def test_pads_that_are_all_slow_by_one_part_are_told_at_the_desk_in_the_list_and_on_the_board(
    day: Day, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("40\n0\n0\n0\n0\n39\n39\n39\n39\n"))
    ran = day("gear", "pads", "--by", "TB")
    assert SLOW in " ".join(ran.out.split())
    for command in (("gear",), ("board",)):
        assert SLOW in " ".join(day(*command).out.split()).replace("SCALES: ", "")
    assert json.loads(day("board", "--format", "json").out)["gear_warnings"]
    again = day("gear", "pads", "--pad", "rear_left", "--weight", "40", "--shows", "40", "--by", "TB")
    assert "all show" not in again.out
    assert "all show" not in day("board").out


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
def test_the_desk_on_a_terminal_takes_keys_one_by_one(day: Day) -> None:
    import pty

    before = os.environ.get("TERM")
    keys = b"7\r6\r155.0\r141.0\r\x1b[A\x1b[B153.0\r14x1.5\x7f0\r\x1b\r"
    controller, terminal = pty.openpty()
    try:
        process = start(
            "meeting", "weigh", day.file, "--by", "TB", stdin=terminal, stdout=terminal,
            env=environment({"TERM": before or "xterm", "NO_COLOR": "1"}),
        )  # fmt: skip
        os.close(terminal)
        shown = b""
        while b"Esc: leave" not in shown:
            shown += os.read(controller, 65536)
        os.write(controller, keys)
        with contextlib.suppress(OSError):  # the other end is closed
            while data := os.read(controller, 65536):
                shown += data
        ran = finish(process)
    finally:
        os.close(controller)
    assert ran.code == 0, ran.err
    assert b"\x1b[3" not in shown
    assert shown.rstrip().endswith(b"\x1b[?25h\x1b[?1049l")  # the terminal's own screen and cursor are back
    rows = day("export", "--csv", "weighings").out.splitlines()
    assert len(rows) == 2
    assert ",155,141,153,141," in rows[1]


def test_every_command_has_help_and_an_example_that_names_it(capsys: pytest.CaptureFixture[str]) -> None:
    commands = [name for name in COMMANDS if name.startswith(GROUP)]
    assert len(commands) == 22
    for name in commands:
        ran = run(capsys, *name.split(), "--help")
        assert ran.code == 0
        assert f"checker {name}" in ran.out
        assert "Examples:" in ran.out


def test_a_whole_day_on_the_dunlin_pack(day: Day, tmp_path: Path) -> None:
    """The pack's own procedure is found beside it."""
    path = str(tmp_path / "dunlin.meeting")
    common = ("--pack", "dunlin", "--on", "2026-05-24", "--official", "TB")
    assert run(day.capsys, "meeting", "open", path, *common).code == 0
    assert run(day.capsys, "meeting", "enter", path, "samples/cars/legal.yaml").code == 0
    four = ("159.0", "147.5", "148.5", "141.0")
    ran = run(day.capsys, "meeting", "weigh", path, "27", *four, "--fuel", "6 L")
    assert "the next with the pads swapped side to side" in ran.out
    assert PROCEDURE.startswith("procedure: plover")
