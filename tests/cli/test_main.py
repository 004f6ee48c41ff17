"""However the program is started and however it ends: one clear line and the right code."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from checker import __version__
from checker.cli import plain
from checker.cli.main import main
from checker.cli.program import COMMANDS
from tests.cli.running import environment, finish, run, start
from tests.examples import each_row, quick_first

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]

LEGAL = "samples/cars/legal.yaml"
PADS = "samples/cars/pads-that-disagree.yaml"


def test_version_and_help(capsys: Capsys) -> None:
    assert run(capsys, "--version").out == f"checker {__version__}\n"
    shown = run(capsys, "--help")
    assert shown.code == 0
    assert "Exit codes: 0 complies" in " ".join(shown.out.split())


@each_row("words", sorted(COMMANDS))
def test_every_command_has_help_in_plain_words(words: str, capsys: Capsys) -> None:
    ran = run(capsys, *words.split(), "--help")
    assert ran.code == 0
    assert f"Usage: checker {words}" in ran.out
    assert "Examples:" in ran.out
    top = run(capsys, *words.split()[:-1], "--help")
    assert words.split()[-1] in top.out


@pytest.mark.parametrize("arguments", [(), ("pack",), ("inspekt", LEGAL), ("pack", "shwo"), ("--nonsense",)])
def test_without_a_command_it_shows_how(arguments: tuple[str, ...], capsys: Capsys) -> None:
    ran = run(capsys, *arguments)
    assert ran.code == 2
    assert "Usage: checker" in ran.err
    assert ran.out == ""


def test_a_misspelt_command_names_the_nearest(capsys: Capsys) -> None:
    assert "Did you mean 'inspect'?" in run(capsys, "inspekt").err
    assert "Did you mean 'show'?" in run(capsys, "pack", "shwo").err


def test_our_own_bug_is_called_one(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> None:
        raise RuntimeError("no such thing")

    monkeypatch.setattr(plain, "inspect_request", broken)
    ran = run(capsys, "inspect", LEGAL)
    assert ran.code == 70
    assert "a mistake of its own (RuntimeError: no such thing)" in ran.err
    assert "Traceback" not in ran.err
    assert ran.out == ""
    monkeypatch.setenv("CHECKER_TRACEBACK", "1")
    assert "Traceback" in run(capsys, "inspect", LEGAL).err


def test_ctrl_c_while_judging_ends_in_130(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(plain, "inspect_request", interrupted)
    ran = run(capsys, "inspect", LEGAL)
    assert ran.code == 130
    assert ran.err.strip() == "interrupted"


@pytest.mark.deep
@pytest.mark.skipif(os.name != "posix", reason="signals as POSIX has them")
def test_a_signal_from_outside_ends_in_130_without_a_traceback(capsys: Capsys, tmp_path: Path) -> None:
    day = str(tmp_path / "day.meeting")
    run(capsys, "meeting", "open", day, "--pack", "dunlin", "--on", "2026-05-24", "--official", "KV")
    reading, writing = os.pipe()
    process = start("meeting", "weigh", day, stdin=reading)
    assert process.stdout is not None
    assert process.stdout.read(1)  # the desk has asked, and waits for an answer
    process.send_signal(signal.SIGINT)
    ran = finish(process)
    os.close(reading)
    os.close(writing)
    assert ran.code == 130
    assert ran.err.splitlines()[0] == "interrupted"
    assert "Traceback" not in ran.err


@pytest.mark.skipif(os.name != "posix", reason="signals as POSIX has them")
def test_ctrl_c_after_the_last_word_changes_no_code() -> None:
    code = (
        "import atexit, os, signal; atexit.register(lambda: os.kill(os.getpid(), signal.SIGINT));"
        "from checker.cli.main import run; run()"
    )
    command = [sys.executable, "-c", code, "pack", "lint", "absent.yaml"]
    ended = subprocess.run(command, env=environment(), capture_output=True, check=False)
    assert ended.returncode == 3
    assert b"Traceback" not in ended.stderr


@pytest.mark.skipif(os.name != "posix", reason="signals as POSIX has them")
@pytest.mark.parametrize(
    ("loading", "arguments"),
    quick_first(
        [
            ("checker.cli.guard", ("inspect", LEGAL)),
            ("signal", ("pack", "lint", "absent.yaml")),
            ("checker.cli.guard", ("pack", "lint", "absent.yaml")),
            ("checker.reading.problems", ("inspect", LEGAL)),
        ],
        1,
    ),
)
def test_ctrl_c_while_the_program_is_loaded_is_said_too(loading: str, arguments: tuple[str, ...]) -> None:
    code = (
        "import os, sys, _signal\n"
        "from checker.cli import main\n"
        "class Interrupting:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        f"        if name == {loading!r}: os.kill(os.getpid(), _signal.SIGINT)\n"
        "sys.meta_path.insert(0, Interrupting())\n"
        f"sys.modules.pop({loading!r}, None)\n"
        "main.run()"
    )
    command = [sys.executable, "-c", code, *arguments]
    ended = subprocess.run(command, env=environment(), capture_output=True, check=False)
    assert (ended.returncode, ended.stderr.splitlines()[-1]) == (130, b"interrupted")


@pytest.mark.skipif(os.name != "posix", reason="pipes as POSIX has them")
def test_a_closed_pipe_ends_silently_in_141() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    process = start("inspect", LEGAL, stdout=writing)
    os.close(writing)
    ran = finish(process)
    assert ran.code == 141
    assert ran.err == ""


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
def test_a_full_disk_is_told_and_is_no_result() -> None:
    with open("/dev/full", "wb") as full:
        ran = finish(start("inspect", LEGAL, stdout=full))
    assert ran.code == 74
    assert "cannot write the result: No space left on device" in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize("encoding", quick_first(["ascii", "latin-1", "cp1252", "utf-8"], 1))
def test_what_an_encoding_cannot_show_is_printed_in_ascii(encoding: str) -> None:
    process = start("inspect", PADS, env=environment({"PYTHONIOENCODING": encoding}))
    out, err = process.communicate(timeout=60)
    assert process.returncode == 4
    assert err.count(b"CD221") == 1
    assert ("known to +/-" if encoding == "ascii" else "known to ±") in out.decode(encoding)


@pytest.mark.parametrize(
    "encoding", quick_first(["idna", "undefined", "punycode", "unicode_escape", "raw_unicode_escape"], 0)
)
def test_an_encoding_that_is_no_alphabet_is_printed_in_ascii(encoding: str) -> None:
    plain = finish(start("inspect", PADS, env=environment({"PYTHONIOENCODING": "ascii"})))
    assert finish(start("inspect", PADS, env=environment({"PYTHONIOENCODING": encoding}))) == plain
    assert plain.code == 4


@pytest.mark.deep
def test_a_bare_locale_changes_no_letter() -> None:
    plain, bare = (
        subprocess.run(
            [sys.executable, "-m", "checker.cli.main", "inspect", PADS],
            env=env,
            capture_output=True,
            check=False,
        )
        for env in (environment(), environment({"LC_ALL": "C", "LANG": "C"}))
    )
    assert plain.returncode == bare.returncode == 4
    assert plain.stdout == bare.stdout


@pytest.mark.deep
def test_json_is_utf8_whatever_the_terminal_shows() -> None:
    process = start("inspect", PADS, "--format", "json", env=environment({"PYTHONIOENCODING": "ascii"}))
    out, _ = process.communicate(timeout=60)
    assert out.decode("utf-8").startswith('{"document": "inspection"')


def test_standard_streams_that_are_closed_do_no_harm() -> None:
    command = f"exec {sys.executable} -m checker.cli.main inspect {LEGAL} >&- 2>&-"
    ended = subprocess.run(["/bin/sh", "-c", command], env=environment(), check=False)
    assert ended.returncode in (0, 74)


LONG = "a" * 5000


@pytest.mark.parametrize(
    "words",
    [
        ("inspect", LONG),
        ("inspect", LEGAL, "--pack", LONG),
        ("inspect", LEGAL, "--readings", LONG),
        ("meeting", "open", "DAY", "--pack", LONG, "--on", "2026-05-24", "--official", "KV"),
        ("meeting", "board", LONG),
        ("meeting", "enter", "DAY", LONG),
        ("pack", "lint", LONG),
    ],
)
def test_a_name_too_long_for_the_system_is_refused_in_a_line(
    capsys: Capsys, tmp_path: Path, words: tuple[str, ...]
) -> None:
    day = str(tmp_path / "day.meeting")
    if words[:2] == ("meeting", "enter"):
        run(capsys, "meeting", "open", day, "--pack", "dunlin", "--on", "2026-05-24", "--official", "KV")
    ran = run(capsys, *(day if word == "DAY" else word for word in words))
    assert ran.code == 3
    assert ran.out == "" or "not entered" in ran.out
    assert "mistake of its own" not in ran.err


def test_what_is_no_text_on_the_command_line_is_named(capsys: Capsys, tmp_path: Path) -> None:
    """Bytes that are not UTF-8 come as half surrogates; a record takes none."""
    day = str(tmp_path / "day.meeting")
    run(capsys, "meeting", "open", day, "--pack", "dunlin", "--on", "2026-05-24", "--official", "KV")
    run(capsys, "meeting", "enter", day, "samples/meeting/cars/27-redshank.yaml")
    for words in (("protest", day, "27", "3.1", "S\udcff"), ("measure", day, "27", "seals.sump", "S\udcff")):
        ran = run(capsys, "meeting", *words)
        assert ran.code == 2
        assert ran.err.splitlines()[-2] == "'S\\udcff' on the command line is not text in UTF-8"
        assert ran.err.splitlines()[-1] == "Nothing was recorded."
    ran = run(capsys, "inspect", "samples/cars/legal.yaml", "--set", "car.name=\udcff")
    assert (ran.code, ran.err) == (2, "'car.name=\\udcff' on the command line is not text in UTF-8\n")


@pytest.mark.parametrize(
    "option", ["--pack", "--readings", "--gear", "--since", "--output", "--on", "--pack="]
)
def test_an_option_with_an_empty_text_is_refused(capsys: Capsys, option: str) -> None:
    """As by a variable of the shell that is not set; no other pack is taken then."""
    given = (option,) if option.endswith("=") else (option, "")
    ran = run(capsys, "inspect", "samples/cars/legal.yaml", *given)
    assert (ran.code, ran.out) == (2, "")
    assert f"{option.rstrip('=')} is given an empty text" in ran.err


@pytest.mark.parametrize(
    "words",
    [
        ("explain", "samples/cars/legal.yaml", "9" * 100_000),
        ("inspect", "samples/cars/legal.yaml", "--set", f"{'a' * 100_000}=1"),
        ("inspect", "samples/cars/legal.yaml", "--set", f"{'.'.join('a' * 5000)}=1"),
        ("inspect", "y" * 100_000),
        ("x" * 100_000,),
        ("pack", "lint", f"--{'x ' * 50_000}"),
    ],
)
def test_what_is_typed_at_length_is_told_in_short(capsys: Capsys, words: tuple[str, ...]) -> None:
    ran = run(capsys, *words)
    assert (ran.code in (2, 3), ran.out) == (True, "")
    assert len(ran.err) < 4000
    assert "mistake of its own" not in ran.err


def test_a_path_into_a_file_leads_no_deeper_than_a_file_goes(capsys: Capsys) -> None:
    car = "samples/cars/legal.yaml"
    ran = run(capsys, "inspect", car, "--set", f"{'.'.join(['a'] * 41)}=1")
    assert ran.code == 2
    assert "leads more than 40 levels deep" in ran.err
    assert "levels deep" not in run(capsys, "inspect", car, "--set", f"{'.'.join(['a'] * 40)}=1").err


def test_a_message_goes_nowhere_where_stderr_is_closed(
    capsys: Capsys, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stderr", None)
    code = main(("inspect", "absent.yaml"))
    assert (code, capsys.readouterr().out) == (3, "")


def test_help_that_cannot_be_printed_is_no_success(capsys: Capsys, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    assert main(("--help",)) == 74
    assert "the standard output is closed" in capsys.readouterr().err


def test_a_folder_that_is_gone_is_told(
    capsys: Capsys, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    words = ("meeting", "open", "z.meeting", "--pack", "dunlin", "--on", "2026-05-24", "--official", "KV")
    for arguments in (words, ("inspect", "car.yaml"), ("pack", "show")):
        ran = run(capsys, *arguments)
        assert "mistake of its own" not in ran.err, arguments
        assert ran.code in (0, 3), arguments
