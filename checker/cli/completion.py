"""What a shell offers when Tab is pressed: commands, options, files, packs and clauses.

click writes the script for bash, zsh or fish and finds what stands before the cursor. That must not take longer than
typing on, so nothing that judges is loaded: `completion.json` says what each command takes, which
`tests/cli/test_completion.py` holds to the commands themselves, and of a pack only its clauses' names are looked at.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.shell_completion import CompletionItem, shell_complete, split_arg_string

from checker.cli import exits
from checker.cli.program import GROUPS, program

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

TABLE = Path(__file__).with_name("completion.json")


def complete(instruction: str, variable: str) -> int:
    """Answer a shell.

    Args:
        instruction: The shell and what it asks for, such as "bash_complete".
        variable: The environment variable that says so.

    Returns:
        An exit code.
    """
    table = json.loads(TABLE.read_text("utf-8"))
    typed = split_arg_string(os.environ.get("COMP_WORDS", ""))[1:3]
    names = (" ".join(typed), *typed[:1])
    light = click.Group("checker", params=program.params, context_settings=program.context_settings)
    groups = {name: click.Group(name, short_help=told) for name, told in GROUPS.items()}
    for name, one in table.items():
        group, _, word = name.rpartition(" ")
        params = [_parameter(param) for param in one["params"]] if name in names else []
        if group in groups:
            light.add_command(groups[group])
        groups.get(group, light).add_command(click.Command(word, params=params, short_help=one["help"]))
    try:
        return shell_complete(light, {}, "checker", variable, instruction)
    except (KeyError, ValueError):  # no shell asks so: what stands before the mark is not told as shells do
        return exits.USAGE


def _parameter(told: dict[str, Any]) -> click.Parameter:
    takes = {"file": click.Path(), "pack": _PackPath(), "clause": _ClauseNumber()}.get(told.get("takes", ""))
    kind = takes or (click.Choice(told["choices"]) if "choices" in told else None)
    if "argument" in told:
        return click.Argument([told["argument"]], type=kind, nargs=told["nargs"])
    many = told.get("multiple", False)
    return click.Option(
        told["option"], type=kind, help=told["help"], is_flag=told.get("flag", False), multiple=many
    )


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
        typed = split_arg_string(os.environ["COMP_WORDS"])[2:]
        numbers = _clauses([word for word in typed if not word.startswith("-")])
        return [CompletionItem(n, help=title) for n, title in numbers.items() if n.startswith(incomplete)]


def _clauses(words: Sequence[str]) -> dict[str, str]:
    """The clauses, with their titles, of the first word that is a pack, else of the pack of the first that is a car."""
    from checker.pack.editions.finding import find_pack, open_folder
    from checker.reading.problems import InputError

    formulas = {word: _formula(word) for word in words if os.path.isfile(word)}
    packs = [partial(open_folder, word.partition("@")[0]) for word in words if not formulas.get(word)]
    for opened in (*packs, *(partial(find_pack, formula) for formula in formulas.values() if formula)):
        with suppress(InputError):
            if found := dict(_titles(opened().editions)):
                return found
    return {}


def _formula(car: str) -> str:
    return next((text for path, text in _texts(car) if path == ("formula",)), "")


def _titles(editions: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Of every edition."""
    for edition in editions:
        for path, text in _texts(edition):
            if len(path) == 3 and path[0] == "clauses" and path[2] == "title":
                yield path[1], text


def _texts(file: str) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every text in a file that stands in at most three mappings, with the keys that lead to it.

    A file that is judged is read strictly; here it is only looked at, for as far as it goes.
    """
    import yaml

    from checker.reading.file_bytes import read_bytes

    keys: list[str | None] = []
    with suppress(yaml.YAMLError, ValueError):
        for event in yaml.parse(read_bytes(file, "CD"), getattr(yaml, "CSafeLoader", yaml.SafeLoader)):
            if isinstance(event, yaml.CollectionStartEvent):
                keys.append(None if isinstance(event, yaml.MappingStartEvent) else "")
                continue
            if isinstance(event, yaml.ScalarEvent) and keys and keys[-1] is None:
                keys[-1] = event.value or "~"
                continue
            if isinstance(event, yaml.ScalarEvent) and len(keys) <= 3:
                yield tuple(filter(None, keys)), event.value
            if isinstance(event, yaml.CollectionEndEvent):
                keys.pop()
            if keys and keys[-1]:
                keys[-1] = None
