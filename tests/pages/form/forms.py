"""The form of the sample pack, and of a small one with everything that a form can hold."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.model import Pack
from checker.pages.form.making import form_of
from checker.pages.form.parts import CarForm
from checker.reading.document import Document
from checker.reading.strict_yaml import read_document
from tests.conftest import ROOT

CARS = sorted((ROOT / "samples" / "cars").glob("*.yaml"))


@cache
def dunlin() -> Pack:
    return load_pack(open_folder(str(ROOT / "rulepacks" / "dunlin")), date(2026, 5, 3))


@cache
def dunlin_form() -> CarForm:
    return form_of(dunlin())


def car(file: Path) -> Document:
    return read_document(file, "CD")
