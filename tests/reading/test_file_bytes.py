from __future__ import annotations

import os
from pathlib import Path

import pytest

from checker.reading.file_bytes import decode, read_bytes
from checker.reading.problems import InputError, Problem
from tests.examples import each_row


def refused(data: bytes) -> Problem:
    with pytest.raises(InputError) as caught:
        decode(data, "car.yaml", "CD")
    (problem,) = caught.value.problems
    return problem


def unreadable(file: str | Path) -> Problem:
    with pytest.raises(InputError) as caught:
        read_bytes(file, "CD")
    (problem,) = caught.value.problems
    assert problem.code == "CD110"
    assert problem.span is None
    return problem


@each_row(
    ("data", "place", "message"),
    [
        (b"\xff\xfea\x00:\x00", "car.yaml:1:1", "the file is in UTF-16, not in UTF-8"),
        (b"\xfe\xff\x00a\x00:", "car.yaml:1:1", "the file is in UTF-16, not in UTF-8"),
        (b"a\x00:\x00 \x00", "car.yaml:1:2", "a NUL byte stands here"),
        (b"a: caf\xe9\n", "car.yaml:1:7", "the byte 0xE9 is not UTF-8 text"),
        (b"a: 1\r\nb: \xe6\x97\xa5\xff", "car.yaml:2:5", "the byte 0xFF is not UTF-8 text"),
        (b"\xef\xbb\xbfa: \x80", "car.yaml:1:4", "the byte 0x80 is not UTF-8 text"),
        (b"a: \xed\xa0\xbc", "car.yaml:1:4", "the byte 0xED is not UTF-8 text"),
        (b"a: \xc0\x80", "car.yaml:1:4", "the byte 0xC0 is not UTF-8 text"),
        (b"a: 1\nb: \x1b[31m", "car.yaml:2:4", "an escape character stands here"),
        (b"a: 1\nb: \x07", "car.yaml:2:4", "the control character U+0007 stands here"),
        (b"a: \x7f", "car.yaml:1:4", "the control character U+007F stands here"),
        ("a: b\u0085c".encode(), "car.yaml:1:5", "a next-line character (NEL) stands here"),
        ("a: 'b\u2028c'".encode(), "car.yaml:1:6", "a line separator stands here"),
        ("# b\u2029c".encode(), "car.yaml:1:4", "a paragraph separator stands here"),
        ("a: 1\n\ufeffb: 2".encode(), "car.yaml:2:1", "a byte order mark inside the text stands here"),
        ("a: \ufffe".encode(), "car.yaml:1:4", "the control character U+FFFE stands here"),
        (b"PK\x03\x04\x14\x00", "car.yaml:1:3", "the control character U+0003 stands here"),
    ],
)
def test_what_is_no_utf8_text_is_refused_with_its_place(data: bytes, place: str, message: str) -> None:
    problem = refused(data)
    assert (problem.code, str(problem.span), problem.message) == ("CD111", place, message)
    assert "UTF-8" in problem.hint


def test_ordinary_text_is_kept_exactly() -> None:
    text = "a: 1\r\n\tb: é 日本 🏁 \u00a0 \u200d \u202e\n"
    assert decode(text.encode(), "x", "CD").text == text
    assert decode(b"\xef\xbb\xbf" + text.encode(), "x", "CD").text == text


def test_the_fingerprint_is_that_of_the_bytes() -> None:
    # sha256sum of "abc": FIPS 180-2, appendix B.1.
    expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert decode(b"abc", "x", "CD").sha256 == expected
    assert decode(b"\xef\xbb\xbfabc", "x", "CD").sha256 != expected


def test_a_file_too_large_is_refused() -> None:
    problem = refused(b"x" * (4 * 1024 * 1024 + 1))
    assert (problem.code, problem.message) == ("CD117", "the file is larger than 4 MiB")


def test_no_more_of_a_huge_file_is_read_than_shows_that_it_is_huge(tmp_path: Path) -> None:
    file = tmp_path / "huge.yaml"
    with open(file, "wb") as opened:
        opened.truncate(2**33)
    assert len(read_bytes(file, "CD")) == 4 * 1024 * 1024 + 1


def test_an_absent_file(tmp_path: Path) -> None:
    problem = unreadable(tmp_path / "car.yaml")
    assert problem.message == f"cannot read '{tmp_path / 'car.yaml'}': there is no such file"
    assert problem.hint == ""


def test_an_absent_file_with_a_name_like_another(tmp_path: Path) -> None:
    (tmp_path / "redshank.yaml").write_text("a: 1")
    assert unreadable(tmp_path / "redshnk.yaml").hint == "Did you mean 'redshank.yaml'?"


def test_a_link_that_leads_nowhere_is_not_its_own_cure(tmp_path: Path) -> None:
    (tmp_path / "redshank.yaml").symlink_to(tmp_path / "gone")
    assert unreadable(tmp_path / "redshank.yaml").hint == ""


def test_an_ending_alone_makes_no_name_like_another(tmp_path: Path) -> None:
    (tmp_path / "e9.yaml").write_text("a: 1")
    assert unreadable(tmp_path / "nofile.yaml").hint == ""


@pytest.mark.parametrize("name", ["legal.yml", "legal", "LEGAL.yaml", "leagl.yaml"])
def test_a_name_may_be_meant_whatever_its_ending(tmp_path: Path, name: str) -> None:
    for there in ("legal.json", "legal.yaml", "other.yaml"):
        (tmp_path / there).write_text("a: 1")
    hint = unreadable(tmp_path / name).hint
    assert hint in {f"Did you mean 'legal.{ending}'?" for ending in ("json", "yaml")}
    assert hint.endswith("yaml'?") or not name.endswith("yaml")


def test_an_absent_file_in_an_absent_folder(tmp_path: Path) -> None:
    assert "no such file" in unreadable(tmp_path / "no" / "car.yaml").message


def test_a_folder_is_told_how_its_files_are_named(tmp_path: Path) -> None:
    (tmp_path / "cars").mkdir()
    for name in ("legal", "light"):
        (tmp_path / "cars" / f"{name}.yaml").write_text("a: 1")
    (tmp_path / "shelf.yaml").write_text("a: 1")
    for folder in (tmp_path, tmp_path / "cars"):
        assert unreadable(folder).hint == f"Give files in it, as in {tmp_path}/cars/*.yaml"
    (tmp_path / "none").mkdir()
    assert unreadable(tmp_path / "none").hint == ""


def test_a_folder(tmp_path: Path) -> None:
    assert unreadable(tmp_path).message.endswith("it is a folder, not a file")


def test_names_that_no_file_can_have() -> None:
    assert "cannot read" in unreadable("a\0b").message
    assert "cannot read" in unreadable("x" * 5000).message


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_without_permission(tmp_path: Path) -> None:
    file = tmp_path / "car.yaml"
    file.write_text("a: 1")
    file.chmod(0)
    assert unreadable(file).message.endswith("you are not allowed to read it")


def test_a_file_without_permission_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError

    monkeypatch.setattr("builtins.open", refuse)
    assert unreadable("car.yaml").message == "cannot read 'car.yaml': you are not allowed to read it"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes with names here")
def test_a_pipe_or_a_device_is_refused_at_once(tmp_path: Path) -> None:
    """Whoever opened a pipe to read it would wait for ever; a device may never end."""
    os.mkfifo(tmp_path / "pipe")
    for place in (tmp_path / "pipe", "/dev/zero"):
        assert unreadable(place).message.endswith("it is a pipe or a device, no ordinary file")


def test_a_name_that_cannot_be_one_is_told() -> None:
    assert unreadable("a\0b").message.startswith("cannot read 'a")
