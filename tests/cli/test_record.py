"""What officials are told about the record itself: that it is not sound, what is on disk, what is still to be judged."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from checker.meeting.record.car_contents import Weighed
from checker.meeting.record.store import Appender, Store
from checker.meeting.session.session import Meeting
from checker.meeting.tables.scale_reading import ScaleReading
from checker.meeting.taking.weighing import weigh
from checker.reading.problems import InputError
from tests.cli.meetings import FOUR, Day
from tests.cli.running import environment, finish, start
from tests.meeting.days import LOADS
from tests.meeting.session.test_rules import WEIGHED
from tests.meeting.tampering import forged, rows, tampered

PRINTING = (("board",), ("results",), ("slip", "7"))
REFUSING = (("export",), ("export", "--csv", "weighings"), ("bundle", "7", "--output", "x.zip"))


@pytest.mark.parametrize("words", PRINTING, ids=lambda words: words[0])
def test_what_is_printed_from_a_record_that_is_not_sound_says_so_first_and_where(
    day: Day, words: tuple[str, ...]
) -> None:
    for _ in range(2):
        assert day("weigh", "7", *FOUR, *([] if _ else ["--fuel", "6 L"])).code == 4
    assert "NOT SOUND" not in day(*words).out
    number = forged(Path(day.file), "XX", WEIGHED)
    ran = day(*words)
    assert ran.code == 3
    first = " ".join(ran.out.split())
    assert first.startswith(
        f"RECORD NOT SOUND: MT410 entry {number} (weighed) could not have been recorded: no"
    )
    assert f"RECORD NOT SOUND: MT410 entry {number} (weighed)" in ran.err


def test_a_second_laptop_is_merged_once_an_official_has_ruled(day: Day, tmp_path: Path) -> None:
    other = tmp_path / "gauges.meeting"
    shutil.copy(day.file, other)
    assert day("weigh", "7", *FOUR, "--fuel", "6 L").code == 4
    there = Day(tmp_path, day.capsys)
    there.file = str(other)
    assert there("measure", "7", "dimensions.ride_height", "80 mm").code == 1
    ran = day("merge", str(other))
    assert ran.code == 3
    assert "car 7: here entry 4 (weighed 155.0 kg, 141.0 kg, 153.0 kg, 141.0 kg, by TB" in " ".join(
        ran.err.split()
    )
    assert ran.err.rstrip().endswith("Nothing was recorded.")
    ran = day("merge", str(other), "--ruling", "car 7", "both", "weighed here, gauged there")
    assert ran.code == 0
    assert "2 entries of" in ran.out
    assert day("verify").code == 0
    assert "FAILS" in day("slip", "7").out


@pytest.mark.parametrize("words", REFUSING, ids=lambda words: words[-1])
def test_what_cannot_say_that_its_record_is_not_sound_is_not_made(day: Day, words: tuple[str, ...]) -> None:
    forged(Path(day.file), "XX", WEIGHED)
    ran = day(*words)
    assert (ran.code, ran.out) == (3, "")
    assert "MT410" in ran.err
    assert not Path("x.zip").exists()


def test_nothing_is_added_to_a_record_that_is_not_sound(day: Day) -> None:
    path = Path(day.file)
    with Meeting.open(path) as meeting:
        tampered(path, ("UPDATE entry SET by = 'KV' WHERE number = 2", ()))
        with pytest.raises(InputError) as error:
            Meeting.open(path)
        assert error.value.problems[0].code == "MT410"
        assert "entry 2 (entered) was changed after it was written" in error.value.problems[0].message
        number = forged(path, "XX", WEIGHED)
        with pytest.raises(InputError) as error:  # it was open before, and looks at what has come
            weigh(meeting, ScaleReading("7", LOADS, fuel="6 L"), "TB")
        assert error.value.problems[0].code == "MT410"
    assert len(rows(path)) == number
    for words in (("weigh", "7", *FOUR, "--fuel", "6 L"), ("sign-on", "AL"), ("close",)):
        ran = day(*words)
        assert (ran.code, ran.out, "MT410" in ran.err) == (3, "", True)


def test_a_verdict_that_was_made_up_is_told_on_the_results_and_on_the_slip(day: Day) -> None:
    path = Path(day.file)
    with Meeting.open(path) as meeting:
        for _ in range(2):
            weigh(meeting, ScaleReading("8", LOADS, fuel="" if _ else "6 L"), "TB")
        content = meeting.judgement(meeting.car("8")).as_content("0.1.0")
    assert content.complies == "no"
    outcomes = dict.fromkeys(content.outcomes, "pass")
    number = forged(path, "TB", replace(content, complies="yes", outcomes=outcomes))
    for words in (("results",), ("slip", "8")):
        ran = day(*words)
        assert ran.code == 3
        told = " ".join(ran.out.split())
        assert (
            f"RECORD NOT SOUND: MT406 entry {number}, car 8: clause 3 was recorded as pass and comes out as fail"
            in told
        )
    assert "NOT SOUND" not in day("board").out


# -- what is on disk -----------------------------------------------------------------------------------------


def on_file(path: str) -> list[str]:
    with Store.open(path, writing=False) as store:
        return [f"entry {entry.number} ({entry.kind})" for entry in store.entries()]


@pytest.mark.deep
def test_where_nobody_can_be_told_it_is_said_last_what_is_on_disk(day: Day) -> None:
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("there is no /dev/full here")
    with full.open("wb") as nowhere:
        ran = finish(
            start("meeting", "weigh", day.file, "7", *FOUR, "--fuel", "6 L", "--by", "TB", stdout=nowhere)
        )
    assert ran.code == 74
    first, last = ran.err.strip().splitlines()
    assert first.startswith("cannot write the result")
    assert (
        last
        == "On disk from this command: entry 4 (weighed), entry 5 (judged). Nothing else of it was recorded."
    )
    assert on_file(day.file)[3:] == ["entry 4 (weighed)", "entry 5 (judged)"]


def test_what_is_refused_says_last_that_nothing_was_recorded(day: Day) -> None:
    ran = day("weigh", "71", *FOUR, "--fuel", "6 L")
    assert ran.err.splitlines()[-1] == "Nothing was recorded."
    assert len(on_file(day.file)) == 3


@pytest.mark.parametrize("written", [True, False])
def test_ctrl_c_while_an_entry_reaches_the_disk_says_whether_it_did(
    day: Day, monkeypatch: pytest.MonkeyPatch, written: bool
) -> None:
    appending = Store.appending

    @contextmanager
    def interrupted(store: Store) -> Iterator[Appender]:
        with appending(store) as held:
            yield held
            if not written:
                raise KeyboardInterrupt
        raise KeyboardInterrupt

    monkeypatch.setattr(Store, "appending", interrupted)
    ran = day("weigh", "7", *FOUR, "--fuel", "6 L")
    assert ran.code == 130
    kept = on_file(day.file)[3:]
    assert kept == (["entry 4 (weighed)"] if written else [])
    said = "On disk from this command: entry 4 (weighed). Nothing else of it was recorded."
    assert ran.err.splitlines()[-1] == (said if written else "Nothing was recorded.")


@pytest.mark.deep
@pytest.mark.parametrize("room", [0, 4096, 8192, 16384, 32768])
def test_on_a_full_disk_an_entry_is_acknowledged_or_refused_and_never_both(day: Day, room: int) -> None:
    """A limit on the size of files stands for the disk; what is said last is what the file then holds."""
    size = os.path.getsize(day.file) + room
    code = (
        f"import resource; resource.setrlimit(resource.RLIMIT_FSIZE, ({size}, {size}))\n"
        "import sys; from checker.cli.main import main\n"
        f"sys.exit(main(['meeting', 'weigh', {day.file!r}, '7', *{FOUR!r}, '--fuel', '6 L', '--by', 'TB']))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment(), check=False
    )
    kept = on_file(day.file)[3:]
    if done.returncode in (0, 1, 4):
        assert kept == ["entry 4 (weighed)", "entry 5 (judged)"]
        assert "entries 4 to 5, on disk" in done.stdout
    else:
        assert "MT104" in done.stderr
        assert "on disk." not in done.stdout
        last = done.stderr.strip().splitlines()[-1]
        expected = f"On disk from this command: {', '.join(kept)}. Nothing else of it was recorded."
        assert last == (expected if kept else "Nothing was recorded.")


# -- no limbo ------------------------------------------------------------------------------------------------


def killed_before_the_verdict(day: Day) -> None:
    """Car 7 is weighed as often as it must be, and its official's machine died before the verdict."""
    with Meeting.open(day.file) as meeting:
        for fuel in ("6 L", ""):
            weigh(meeting, ScaleReading("7", LOADS, fuel=fuel), "TB")


def test_a_car_without_its_verdict_is_in_no_results_and_the_next_command_judges_it(day: Day) -> None:
    killed_before_the_verdict(day)
    ran = day("results")
    assert (ran.code, ran.out) == (3, "")
    assert "MT217 no verdict stands yet on car 7" in ran.err
    assert "to judge" in day("board").out
    assert day("sign-on", "AL").code == 0
    assert "to judge" not in day("board").out
    assert day("results").code == 0
    assert on_file(day.file)[-2:] == ["entry 6 (judged)", "entry 7 (signed_on)"]


def test_a_meeting_is_not_closed_before_every_verdict_stands(day: Day) -> None:
    killed_before_the_verdict(day)
    from checker.meeting.taking.closing import close

    with Meeting.open(day.file) as meeting, pytest.raises(InputError) as error:
        close(meeting, "KV")
    assert error.value.problems[0].code == "MT217"
    assert day("close", "--by", "KV").code == 0
    assert on_file(day.file)[-2:] == ["entry 6 (judged)", "entry 7 (closed)"]


def test_a_struck_weighing_has_its_car_judged_at_once(day: Day) -> None:
    killed_before_the_verdict(day)
    assert day("measure", "7", "dimensions.ride_height", "80 mm").code == 1
    number = len(on_file(day.file)) - 1
    assert day("strike", str(number), "--reason", "another car").code == 0
    with Meeting.open(day.file) as meeting:
        assert meeting.due() == []
        last = meeting.day.last_judged(meeting.car("7"))
        assert last is not None
        assert last.outcomes["3"] == "pass"


def test_an_entry_made_on_a_screen_that_has_changed_is_refused_and_shows_what_came(day: Day) -> None:
    with Meeting.open(day.file) as here, Meeting.open(day.file) as there:
        seen = here.day.number
        weigh(there, ScaleReading("7", LOADS, fuel="6 L"), "KV", seen=seen)
        with pytest.raises(InputError) as error:
            weigh(here, ScaleReading("7", LOADS), "TB", seen=seen)
        problem = error.value.problems[0]
        assert (problem.code, "entry 4 (weighed by KV)" in problem.message) == ("MT218", True)
        assert len(here.car("7").of(Weighed)) == 1
        weigh(here, ScaleReading("8", LOADS, fuel="6 L"), "TB", seen=seen)
        weigh(here, ScaleReading("7", LOADS), "TB", seen=here.day.number)
