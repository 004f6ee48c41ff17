"""What every file of a pack's folder is: nothing in it is passed over because it is not recognised.

A bulletin that nobody notices makes an illegal car comply. So a file either is known for what it is, or it is an error.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from checker.pack.editions.file_heads import LIST_OF_NAMED, first_word, of_a_bulletin, read_in_full
from checker.quantities.folding import fold
from checker.reading.nearest import nearest
from checker.reading.patterns import pattern
from checker.reading.problems import InputError, Problem, Span
from checker.reading.quick_dataclasses import dataclass

if TYPE_CHECKING:
    from checker.reading.document import Document
    from checker.reading.values import Plain

EDITION, BULLETIN, REGISTER, PROCEDURE = "pack", "bulletin", "approvals", "procedure"
INTERPRETATIONS = "interpretations"
"""Files that verdicts or the day at the weighbridge rest on, by the word that tells them."""

_FIRST = (EDITION, BULLETIN, REGISTER, PROCEDURE, INTERPRETATIONS, "formula")
"""Words of which a file has one; `formula` tells a declaration or readings."""
_WORDS = (*_FIRST, "cases", "instruments", "import")
"""The last are told from a file without one of the first: cases, a club's gear, columns of an import."""
_OF_A_CASE, _OF_NO_CASE = frozenset({"name", "expect"}), frozenset({*_WORDS, "amends"})
_IS_YAML = pattern(r"\.ya?ml\Z", re.IGNORECASE)
_WAS_YAML = pattern(r"\.ya?ml(?![a-z])", re.IGNORECASE)
_NO_RULES = pattern(
    r"(?:README|LICEN[CS]E)(?:\..*)?|.*\.schema\.json|\..*|Thumbs\.db|desktop\.ini", re.IGNORECASE
)
"""Names of files that are never rules: notes for readers, schemas for editors, what computers leave behind."""
_NO_LINK = "put the file itself in its place"
_ELSEWHERE = "move what does not belong to the pack to a folder below"
_DEPTH = 3
"""How many folders deep bulletins are looked for that somebody may miss."""


@dataclass(slots=True)
class FolderFiles:
    """The files of a folder by the word that tells what they are, in the order of their names."""

    by_word: dict[str, list[str]]
    problems: list[Problem]
    """What is not known for what it is, and what cannot be read."""
    below: list[str]
    """Bulletins in folders below, which are not searched."""
    any_yaml: bool = False
    """Whether anything in it is YAML by its name, or was before it was renamed."""

    def of(self, word: str) -> list[str]:
        return self.by_word.get(word, [])


def files_in(folder: Path, only_yaml: bool = False) -> FolderFiles:
    """Every file of a folder.

    Args:
        folder: A pack's own folder, or the one that a single file stands in.
        only_yaml: Look at files that are YAML by their name, or were before they were renamed; a single file may stand
            among files of any kind.
    """
    found = FolderFiles({}, [], [])
    strange: list[tuple[Path, Problem]] = []
    try:
        entries = sorted(folder.iterdir())
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        found.problems.append(Problem("PK110", f"the folder '{folder}' cannot be read: {reason}"))
        found.any_yaml = True  # for all that is known
        return found
    for entry in entries:
        found.any_yaml |= _WAS_YAML.search(entry.name) is not None
        try:
            word = _word_of(entry, only_yaml)
        except InputError as error:
            if all(problem.code == "PK613" for problem in error.problems):
                strange.append((entry, error.problems[0]))
            else:
                found.problems += error.problems
            continue
        found.by_word.setdefault(word, []).append(str(entry))
        if not word and not only_yaml:
            found.below += _bulletins_below(entry, _DEPTH)
    if strange:
        named = set(_named(found.of(EDITION)))
        found.problems += [problem for entry, problem in strange if entry not in named]
    return found


def _bulletins_below(folder: Path, depth: int) -> Iterator[str]:
    """What is plainly a bulletin in a folder and those below it; nothing else there is looked into."""
    if not depth or folder.name.startswith(".") or folder.is_symlink() or not folder.is_dir():
        return
    with suppress(OSError):  # nothing is taken from there
        for entry in sorted(folder.iterdir()):
            if is_yaml(entry) and entry.is_file() and first_word(str(entry)) == BULLETIN:
                yield str(entry)
            yield from _bulletins_below(entry, depth - 1)


def is_yaml(entry: Path) -> bool:
    """Whether a file's name is that of a YAML file; "._" begins what one kind of computers leaves on a stick."""
    return _IS_YAML.search(entry.name) is not None and not entry.name.startswith("._")


def word_of(file: str) -> str:
    """The word that tells what a YAML file is.

    Raises:
        InputError: It cannot be read, or is none of a pack's (613).
    """
    word = first_word(file)
    if word == LIST_OF_NAMED:
        return "cases"
    return word if word in _FIRST else _word_in(read_in_full(file))


def _word_of(entry: Path, only_yaml: bool) -> str:
    """The word of one entry of a folder; "" for what is never rules."""
    if is_yaml(entry) and entry.is_symlink():
        from checker.pack.reading.companion_files import not_beside

        if wrong := not_beside(str(entry.parent), entry.name):
            raise InputError([_strange(entry, f"'{entry.name}' is a link that {wrong}", _NO_LINK)])
    if is_yaml(entry) and (entry.is_file() or not entry.exists()):
        return word_of(str(entry))
    if is_yaml(entry):
        what = "a folder" if entry.is_dir() else "no ordinary file"
        raise InputError(
            [_strange(entry, f"'{entry.name}' is {what}, though its name is that of a file of the pack")]
        )
    if entry.is_dir() or _NO_RULES.fullmatch(entry.name):
        return ""
    was_yaml = _WAS_YAML.search(entry.name)
    if only_yaml and was_yaml is None:
        return ""
    hint = _ELSEWHERE
    if was_yaml is not None:
        hint = f"name it {entry.name[: was_yaml.end()]} if it belongs to the pack; else move it to a folder below"
    raise InputError([_strange(entry, f"'{entry.name}' is none of the files that a pack has", hint)])


def _strange(entry: Path, message: str, hint: str = _ELSEWHERE) -> Problem:
    return Problem("PK613", message, Span(str(entry), 1, 1, 1, 1), hint=hint)


def _word_in(document: Document) -> str:
    """What a document that has been read is; a list of texts is a list of words, a list of mappings is of cases."""
    data = document.data
    if isinstance(data, list) and all(_is_listed(one) for one in data):
        return "cases"
    keys = tuple(document.mapping(()))
    words = [word for word in _FIRST if word in keys]
    if words == [REGISTER, "formula"] and "car" in keys and _cites(document.get((REGISTER,))):
        words.remove(REGISTER)
    if len(words) > 1:
        message = f"this begins as two kinds of files: {' and '.join(f'`{word}`' for word in words)}"
        raise InputError(
            [Problem("PK613", message, document.key_span((words[1],)), hint="take one of them away")]
        )
    amending = next((key for key in keys if fold(key) == "amends"), None)
    if amending is not None and BULLETIN not in keys:
        message, hint = (
            "this amends a pack and does not say which bulletin it is",
            "begin it with `bulletin:` and its name",
        )
        at = next((key for key in keys if nearest(fold(key), (BULLETIN,))), amending)
        raise InputError([Problem("PK613", message, document.key_span((at,)), hint=hint)])
    words += [word for word in _WORDS if word in keys]
    if words and words[0] not in (EDITION, BULLETIN):
        _refuse_bulletin_begun_wrongly(document, keys, words[0])
    if words:
        return words[0]
    for key in keys:
        meant = nearest(fold(key), _WORDS)
        if meant is not None:
            message = f"'{key}' does not tell what this file is"
            hint = f"Did you mean '{meant}'?"
            raise InputError([Problem("PK613", message, document.key_span((key,)), hint=hint)])
    hint = f"an edition begins with `pack:`, a bulletin with `bulletin:`, a register with `approvals:`; {_ELSEWHERE}"
    span = document.key_span((keys[0],)) if keys else document.span(())
    raise InputError([Problem("PK613", "this file does not tell what it is", span, hint=hint)])


def _refuse_bulletin_begun_wrongly(document: Document, keys: tuple[str, ...], begun: str) -> None:
    """Raise where a file that begins as another holds two of a bulletin's words, spelt as they may be.

    Raises:
        InputError: It does (613).
    """
    meant = of_a_bulletin(keys)
    if len(set(meant.values())) > 1:
        first = next(iter(meant))
        message = f"this begins with `{begun}:` and holds what a bulletin does: {', '.join(f'`{k}`' for k in meant)}"
        hint = f"begin a bulletin with `bulletin:` and its name; {_ELSEWHERE}"
        raise InputError([Problem("PK613", message, document.key_span((first,)), hint=hint)])


def _cites(approvals: Plain) -> bool:
    """Whether approvals are cited, as a car's file does, by their references; a register describes each."""
    return approvals is None or (
        isinstance(approvals, list) and all(isinstance(one, str) for one in approvals)
    )


def _is_listed(entry: object) -> bool:
    """Whether an entry of a list is a word, or a case, which has a name or says what is expected."""
    if isinstance(entry, dict):
        return not _OF_NO_CASE.intersection(entry) and not _OF_A_CASE.isdisjoint(entry)
    return isinstance(entry, str)


def _named(editions: list[str]) -> Iterator[Path]:
    """Files that editions name: word lists and cases may be called anything."""
    for edition in editions:
        try:
            document = read_in_full(edition)
        except InputError:
            continue  # told when the edition is read
        cases, families = document.get(("cases",)), document.mapping(("materials",)).values()
        listed = [words.get("words_from") for words in families if isinstance(words, dict)]
        yield from (Path(edition).parent / name for name in (cases, *listed) if isinstance(name, str))
