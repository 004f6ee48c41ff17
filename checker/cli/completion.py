"""What a shell offers when Tab is pressed: commands, options, files, packs and clauses.

click writes the script for bash, zsh or fish and finds what stands before the cursor; here each argument learns what it
wants, from the word that its help calls it by.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem, shell_complete

from checker.cli.program import COMMANDS, program
from checker.reading.problems import InputError

if TYPE_CHECKING:
    from checker.pack.editions.finding import PackFolder

_FILES = ("FILE", "CAR", "CARS", "DIR", "REPORT", "HOME", "CLUB", "PLACE", "DAY.meeting")
_PACKS = ("PATH", "OLD", "NEW")
_CLAUSES = ("CLAUSE", "NUMBER")


def complete(instruction: str, variable: str) -> int:
    """Answer a shell.

    Args:
        instruction: The shell and what it asks for, such as "bash_complete".
        variable: The environment variable that says so.

    Returns:
        An exit code.
    """
    typed = os.environ.get("COMP_WORDS", "").split()[1:3]
    name = next((name for name in (" ".join(typed), *typed[:1]) if name in COMMANDS), None)
    if name is not None:
        for parameter in import_module(f"checker.cli.{COMMANDS[name]}").command.params:
            _teach(parameter, name)
    return shell_complete(program, {}, "checker", variable, instruction)


def _teach(parameter: click.Parameter, command: str) -> None:
    """Give a parameter that takes any text the type that its word for help means."""
    word = (parameter.metavar or "").strip("[].")
    if parameter.type is not click.STRING or (command.startswith("meeting") and word in ("CAR", *_CLAUSES)):
        return  # a car of a meeting is its number
    if word in _FILES:
        parameter.type = click.Path()
    elif word in _PACKS and parameter.name != "at":
        parameter.type = _PackPath()
    elif word in _CLAUSES:
        parameter.type = _ClauseNumber()


class _PackPath(click.Path):
    def shell_complete(
        self, ctx: click.Context, param: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        from checker.pack.editions.finding import find_packs

        found = [CompletionItem(one.place, help=one.name) for one in find_packs()[0]]
        return [
            *(one for one in found if one.value.startswith(incomplete)),
            *super().shell_complete(ctx, param, incomplete),
        ]


class _ClauseNumber(click.types.StringParamType):
    def shell_complete(
        self,
        ctx: click.Context,  # noqa: ARG002
        param: click.Parameter,  # noqa: ARG002
        incomplete: str,
    ) -> list[CompletionItem]:
        numbers = _clauses(os.environ["COMP_WORDS"].split()[2:])
        return [CompletionItem(n, help=title) for n, title in numbers.items() if n.startswith(incomplete)]


def _clauses(words: Sequence[str]) -> dict[str, str]:
    """The clauses, with their titles, of the first word that is a pack, else of the pack of the first that is a car."""
    from checker.pack.editions.finding import find_pack, open_folder
    from checker.reading.strict_yaml import read_document

    def of_car(word: str) -> PackFolder:
        return find_pack(str(read_document(word, "CD").get(("formula",))))

    def of_pack(word: str) -> PackFolder:
        return open_folder(word.partition("@")[0])

    for opened in (of_pack, of_car):
        for word in words:
            with suppress(InputError):
                if found := _titles(opened(word)):
                    return found
    return {}


def _titles(folder: PackFolder) -> dict[str, str]:
    """Of every edition."""
    from checker.reading.strict_yaml import read_document

    found: dict[str, str] = {}
    for edition in folder.editions:
        clauses = read_document(edition, "PK").get(("clauses",))
        for number, clause in clauses.items() if isinstance(clauses, dict) else ():
            found[str(number)] = str(clause.get("title", "")) if isinstance(clause, dict) else ""
    return found
