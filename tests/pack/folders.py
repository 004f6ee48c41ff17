"""Small packs in folders, for tests of what is in force when."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.model import Pack
from checker.reading.problems import InputError, Problem

EDITION = """\
pack: kart
edition: "1"
title: Kart rules
in_force: {from: 2026-01-01, until: 2026-12-31}
currency: GBP
facts:
  frame.width: {unit: mm}
  frame.length: {unit: mm}
  engine.capacity: {unit: cc}
tables:
  longest:
    by: [capacity]
    rows:
      - {capacity: up to 100 cc, value: 1800 mm}
      - {capacity: above 100 cc, value: 1900 mm}
clauses:
  "1":
    title: Width
    text: The frame is at most 1400 mm wide.
    check: {limit: frame.width, at_most: 1400 mm}
  "2":
    title: Length
    check: {limit: frame.length, at_most: longest(engine.capacity)}
  "10":
    title: Engine
    check: {limit: engine.capacity, at_most: 125 cc}
"""


def bulletin(changes: str, name: str = "B1", days: str = "from: 2026-06-01", edition: str = "1") -> str:
    """A bulletin whose changes are lines of YAML, one change each."""
    lines = "".join(f"  - {line.strip()}\n" for line in changes.strip().splitlines())
    head = f'bulletin: {name}\namends: {{pack: kart, edition: "{edition}"}}\nin_force: {{{days}}}\n'
    return f"{head}reason: For a test\nchanges:\n{lines}"


def write(folder: Path, files: dict[str, str]) -> Path:
    """The folder with these files in it."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def loaded(folder: Path, on: str = "2026-07-01", **files: str) -> Pack:
    """The pack in force on a day in a folder of one edition and these bulletins (by name of file)."""
    write(folder, {"edition.yaml": EDITION, **{f"{name}.yaml": text for name, text in files.items()}})
    return load_pack(open_folder(folder), date.fromisoformat(on))


def refused(folder: Path, on: str = "2026-07-01", **files: str) -> tuple[Problem, ...]:
    """Why such a pack cannot be used."""
    try:
        pack = loaded(folder, on, **files)
    except InputError as error:
        return error.problems
    raise AssertionError(f"read without a problem, {pack.because}")


def bound(pack: Pack, number: str) -> str:
    """The bound of a clause's limit as written."""
    return str(pack.document.get(("clauses", number, "check", "at_most")))
