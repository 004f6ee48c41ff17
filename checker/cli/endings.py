"""A file's ending says what is in it: what would be written there under another name is refused."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping

import click

TABLES_ASKED = "checker.cli.sheets"
"""Under this name a run notes which tables are wanted in place of the report."""

_ENDINGS = {
    "text": (".txt",),
    "json": (".json", ".jsonl", ".ndjson"),
    "yaml": (".yaml", ".yml"),
    "markdown": (".md", ".markdown"),
    "html": (".html", ".htm"),
    "svg": (".svg",),
    "csv": (".csv",),
    "xlsx": (".xlsx",),
    "calendar": (".ics",),
    "zip": (".zip",),
    "pdf": (".pdf",),
    "": (".docx", ".doc", ".odt", ".ods", ".xls", ".xlsm", ".tsv", ".xml"),
}
"""By what is written: the endings that say so, the usual one first. What stands last is never written."""
_FORM_OF = {ending: form for form, endings in _ENDINGS.items() for ending in endings}
_READ_AS_TEXT = ("text", "json", "yaml", "markdown", "csv", "html", "svg", "calendar")
_OPTIONS = {"csv": "--csv", "xlsx": "--xlsx", "calendar": "--ics", "svg": "--svg"}


def wrong_ending(file: str, form: str) -> str:
    """What is wrong with a file's name for what is written there, with the cure; "" where nothing is.

    Args:
        form: A key of the table of endings; "gnu" counts as text.
    """
    form = "text" if form == "gnu" else form
    stem, ending = os.path.splitext(os.path.basename(file))
    says = _FORM_OF.get(ending.lower(), form)
    if says == form or (says == "text" and form in _READ_AS_TEXT):
        return ""
    other = f"name it {stem}{_ENDINGS[form][0]}"
    by_option = _option_for(says)
    cure = f"add {by_option}, or {other}" if by_option else other
    return f"{file} would hold {form}, which is not what a name that ends in {ending} says; {cure}"


def _option_for(form: str) -> str:
    """The option of the command being run that writes a form; "" where it has none."""
    for param in click.get_current_context().command.params:
        if param.name == "form" and isinstance(param.type, click.Choice) and form in param.type.choices:
            return f"--format {form}"
        if _OPTIONS.get(form) in param.opts:
            chosen = " or ".join(param.type.choices) if isinstance(param.type, click.Choice) else ""
            return f"{_OPTIONS[form]} {chosen}".rstrip()
    return ""


def written_there(plain: str, form: str, more: Mapping[str, object], otherwise: Mapping[str, str]) -> str:
    """What a run writes to its --output.

    Args:
        plain: What the command writes where no form is asked for.
        form: That asked for with --format.
        more: All else that is asked.
        otherwise: By an option's name: what is written in its place where that is given.

    Returns:
        "" where two forms are asked for at once, which is refused elsewhere.
    """
    tables = click.get_current_context().meta.get(TABLES_ASKED, {})
    asked = [name for name in ("csv", "xlsx") if tables.get(name)]
    if asked:
        return asked[0] if asked[1:] == [] and form == "text" else ""
    return next(
        (kind for name, kind in otherwise.items() if more.get(name)), plain if form == "text" else form
    )


def ends_as(form: str) -> Callable[[click.Context, click.Parameter, str | None], str | None]:
    """Refuse a name that says it holds something else; for `callback`."""

    def checked(ctx: click.Context, param: click.Parameter, value: str | None) -> str | None:
        if value is not None and (wrong := wrong_ending(value, form)):
            raise click.BadParameter(wrong, ctx, param)
        return value

    return checked
