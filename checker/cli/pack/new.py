"""`checker pack new`: a small pack to begin with."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from checker.cli import exits, output
from checker.cli.options import a_command
from checker.pack.editors.beginnings import BEGINNINGS
from checker.pack.editors.new_pack import DECLARATION_SCHEMA, NAME, new_pack


def _beginnings(function: Callable[..., int]) -> Callable[..., int]:
    """An option for each beginning; of several the last counts."""
    for name, beginning in reversed(BEGINNINGS.items()):
        about = f"Begin with two clauses more for {beginning.about}."
        function = click.option(f"--{name}", "beginning", flag_value=name, default=None, help=about)(function)
    return function


@a_command(
    "Write a small pack that works, to begin with.",
    "checker pack new spring-cup",
    "checker pack new volt-cup --electric",
    "checker pack new spring-cup --output rulepacks/spring-cup",
)
@click.argument("name", metavar="NAME")
@click.option(
    "--output", "folder", metavar="DIR", help="The folder to write it to. Without it: one called NAME."
)
@_beginnings
def command(name: str, folder: str | None, beginning: str | None) -> int:
    """Write a pack for the formula NAME: five clauses, cases that pass, a car to judge, and schemas for editors.

    NAME is of small letters, digits and -. No file is overwritten. An option such as --electric adds two clauses of
    that sort of formula.
    """
    if NAME.fullmatch(name) is None:
        raise click.UsageError(
            f"'{name}' cannot be a pack's name; use small letters, digits and -, as in spring-cup"
        )
    place = Path(folder if folder is not None else name)
    if place.exists() and (not place.is_dir() or any(place.iterdir())):
        raise click.UsageError(f"'{place}' is there already and not empty; give another folder with --output")
    with output.told_in_words(f"'{place}'"):
        place.mkdir(parents=True, exist_ok=True)
    for file, text in new_pack(name, beginning or "").items():
        output.deliver(text, str(place / file))
    output.deliver(
        f"{place} holds a pack of {'seven' if beginning else 'five'} clauses with its cases and a car. Now:\n"
        f"  checker pack lint {place}\n"
        f"  checker pack cases {place}\n"
        f"  checker inspect {place / 'car.yaml'} --pack {place}\n"
        f"then change {place / 'pack.yaml'} clause by clause, and renew the schema after a change of its facts:\n"
        f"  checker pack schema {place} --output {place / DECLARATION_SCHEMA}\n"
    )
    return exits.COMPLIES
