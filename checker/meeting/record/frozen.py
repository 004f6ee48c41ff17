"""The pack as it was when the meeting opened: every file it is made of, kept in the record.

Verdicts are worked out from these, never from the pack's folder, so that a change to the folder during the day, or
years later, changes nothing.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path

from checker.meeting.record.refusal import refusal
from checker.pack.editions.finding import PackFolder, open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.model import Clause, Pack
from checker.pack.reading.companion_files import not_beside
from checker.reading.file_bytes import read_bytes
from checker.reading.patterns import pattern
from checker.reading.plain_text import printable
from checker.reading.problems import InputError, Problem
from checker.reading.problems import Path as Where
from checker.reading.quick_dataclasses import replace
from checker.reading.strict_yaml import parse_document

_NAME = pattern(r"[^/\\\x00-\x1f]+(?:/[^/\\\x00-\x1f]+)*")


def freeze(folder: PackFolder) -> dict[str, bytes]:
    """Every file of a pack that its rules are made of or explained by, by its name in the pack's folder.

    Raises:
        InputError: A file cannot be read (PKxxx).
    """
    place = Path(folder.place)
    home = place if place.is_dir() else place.parent
    others = [file for file in (folder.approvals, folder.interpretations) if file is not None]
    listed = [*folder.editions, *folder.bulletins, *others]
    files: dict[str, bytes] = {}
    for file in listed:
        data = read_bytes(file, "PK")
        name = _name_in(home, Path(file))
        files[name if name.endswith((".yaml", ".yml")) else f"{name}.yaml"] = data
        document = parse_document(data, file, "PK")
        for path, word_list in _word_lists(document.data):
            wrong = not_beside(str(Path(file).parent), word_list)
            if wrong:
                message = f"'{printable(word_list)}' {wrong}"
                hint = "keep the file beside the pack"
                raise InputError([Problem("PK109", message, document.span(path), hint=hint)])
            beside = Path(file).parent / word_list
            files[_name_in(home, beside)] = read_bytes(beside, "PK")
    return files


def thaw(files: Mapping[str, bytes], on: date) -> Pack:
    """The pack in force on a day, from frozen files alone.

    Raises:
        InputError: MT215, a name leads out of the pack's folder, or nothing can be written for a moment; PKxxx as
            for any pack.
    """
    return _thawed(tuple(files.items()), on)


@lru_cache(maxsize=8)
def _thawed(files: tuple[tuple[str, bytes], ...], on: date) -> Pack:
    for name, _ in files:
        if not _NAME.fullmatch(name) or ".." in name.split("/"):
            raise refusal("MT215", f"the frozen pack has a file that leads out of its folder: {name!r}")
    try:
        with tempfile.TemporaryDirectory(prefix="frozen-pack-") as home:
            for name, data in files:
                path = Path(home, *name.split("/"))
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(data)
            return _told_by_name(load_pack(open_folder(home), on), home)
    except OSError as error:
        message = f"the frozen pack cannot be laid out to be read: {error.strerror or error}"
        hint = "make room where temporary files go"
        raise refusal("MT215", message, hint) from None


def _told_by_name(pack: Pack, home: str) -> Pack:
    """The pack with its clauses told by their file's name in the pack, not by where it was laid out for a moment."""
    clauses = {number: _named_by(clause, home) for number, clause in pack.clauses.items()}
    return replace(pack, clauses=clauses)


def _named_by(clause: Clause, home: str) -> Clause:
    if clause.span is None:
        return clause
    name = f"pack/{_name_in(Path(home), Path(clause.span.file))}"
    return replace(clause, span=replace(clause.span, file=name))


def check_digest(pack: Pack, recorded: str) -> None:
    """Refuse a pack that is not the one the meeting was opened with.

    Raises:
        InputError: MT215.
    """
    if pack.sha256 != recorded:
        message = (
            f"the frozen pack reads as {pack.sha256[:16]}..., the meeting was opened with {recorded[:16]}..."
        )
        raise refusal("MT215", message, "verify the record")


def _name_in(home: Path, file: Path) -> str:
    return Path(os.path.relpath(file, home)).as_posix()


def _word_lists(data: object, *path: str | int) -> Iterator[tuple[Where, str]]:
    """Names of word lists that a pack's file asks for, each with its place."""
    if isinstance(data, dict):
        name = data.get("words_from")
        if isinstance(name, str):
            yield (*path, "words_from"), name
        for key, value in data.items():
            yield from _word_lists(value, *path, key)
    elif isinstance(data, list):
        for at, value in enumerate(data):
            yield from _word_lists(value, *path, at)
