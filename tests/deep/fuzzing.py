"""Readers to be fuzzed, what they are held to, and what a run begins with.

Whatever bytes come, a reader answers with what they mean or with an `InputError` whose problems have a message fit for
a terminal and a place inside the file, within the seconds of processor time that `LONGEST_S` grants. Anything else is a
finding, which becomes a case beside what was wrong. `tests.deep.guided` lets coverage guide the choice of inputs.
"""

from __future__ import annotations

import random
import tempfile
import time
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import date
from functools import cache
from pathlib import Path

from checker.meeting.session.procedure import read_procedure
from checker.meeting.standing.verifying import verify
from checker.meeting.tables.lines import read_lines
from checker.pack.editions.loading import build_pack
from checker.pack.model import Pack
from checker.quantities.formula.compiling import compile_formula
from checker.quantities.formula.problem import FormulaError
from checker.quantities.literal import parse_literal
from checker.quantities.misread import LiteralError
from checker.reading.excerpt import render
from checker.reading.problems import InputError, Problem
from checker.reading.strict_yaml import parse_document
from checker.studies.one_car.season import read_meetings
from checker.verdict.run import inspect_document
from tests.meeting.days import DAY, PACK, PROCEDURE, a_meeting, car_text
from tests.quantities.formula.drawn import formula_of
from tests.quantities.formula.workshop import SCOPE

ROOT = Path(__file__).parents[2]
LONGEST_S = 2.0
ON = date.fromisoformat(DAY)

MAPPING = """\
import: weighings
columns: {car: No, front_left: FL, front_right: FR, rear_left: RL, rear_right: RR, fuel: Fuel, time: When}
units: {loads: kg, fuel: L}
encoding: utf-8
time: "%Y-%m-%d %H:%M"
zone: "+01:00"
fixed: {gear: pads, driver: out, tyres: dry}
"""
TABLE = "When;RR;RL;FR;FL;Fuel;No\n2026-05-03 09:15;141,0;153,0;141,0;155,0;6;7\n"


@cache
def small_pack() -> Pack:
    return build_pack(parse_document(PACK.encode(), "pack.yaml", "PK"))


def fuzz_yaml(data: bytes) -> None:
    parse_document(data, "file.yaml", "XX")


def fuzz_car(data: bytes) -> None:
    inspect_document(small_pack(), parse_document(data, "car.yaml", "CD"), ON, "entrant")


def fuzz_pack(data: bytes) -> None:
    build_pack(parse_document(data, "pack.yaml", "PK"))


def fuzz_formula(data: bytes) -> None:
    """Half of the inputs are choices of a grammar, so that they get past the parser."""
    text = formula_of("number", data[1:]) if data[:1] < b"\x80" else data[1:].decode("utf-8", "replace")
    with suppress(FormulaError):
        compile_formula(text, SCOPE)


def fuzz_quantity(data: bytes) -> None:
    with suppress(LiteralError):
        parse_literal(data.decode("utf-8", "replace"), "GBP")


def fuzz_table(data: bytes) -> None:
    """A table and its mapping, with a NUL between them."""
    table, _, mapping = data.partition(b"\0")
    read_lines(table, "table.csv", mapping, "mapping.yaml", ON)


def fuzz_procedure(data: bytes) -> None:
    read_procedure(parse_document(data, "procedure.yaml", "MT"), small_pack())


def fuzz_season(data: bytes) -> None:
    read_meetings(parse_document(data, "meetings.yaml", "SN"))


def fuzz_record(data: bytes) -> None:
    """A changed record is refused, found not sound, or says what it said."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "day.meeting"
        file.write_bytes(data)
        found = verify(file, recompute=False)
        assert not found.sound or found.hash == _last_hash(), "another record is sound"


@cache
def _record() -> bytes:
    with tempfile.TemporaryDirectory() as folder, a_meeting(Path(folder), {"7": car_text()}) as meeting:
        return Path(meeting.store.path).read_bytes()


@cache
def _last_hash() -> str:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "day.meeting"
        file.write_bytes(_record())
        return verify(file, recompute=False).hash


TARGETS: dict[str, Callable[[bytes], None]] = {
    name.removeprefix("fuzz_"): one for name, one in list(globals().items()) if name.startswith("fuzz_")
}


def seeds_of(target: str) -> Iterator[bytes]:
    """What a run begins with: valid input of every sort."""
    files = {
        "yaml": ("samples/cars/*.yaml", "rulepacks/dunlin/*.yaml", "samples/**/*.yaml"),
        "season": ("samples/season/*.yaml",),
    }
    for pattern in files.get(target, ()):
        yield from (file.read_bytes() for file in sorted(ROOT.glob(pattern)))
    own = {
        "car": car_text(),
        "pack": PACK,
        "formula": "min(a, 3 kg) if b > 2 else sum(i.mass for i in items)",
        "quantity": "3 1/2 in",
        "table": f"{TABLE}\0{MAPPING}",
        "procedure": PROCEDURE,
    }
    if target in own:
        yield own[target].encode()
    if target == "record":
        yield _record()


def tried(target: str, data: bytes) -> None:
    """One input, held to what the module promises.

    Raises:
        AssertionError: A promise is broken; what else is raised is a finding too.
    """
    began = time.process_time()
    try:
        TARGETS[target](data)
    except InputError as error:
        for problem in error.problems:
            _fit_to_be_shown(problem, data)
    taken = time.process_time() - began
    assert taken < LONGEST_S, f"took {taken:.1f} s of processor time"


def _fit_to_be_shown(problem: Problem, data: bytes) -> None:
    assert problem.message
    shown = render(problem)
    strange = [
        sign
        for sign in shown.replace("\n", "")
        if unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp")
    ]
    assert not strange, f"the message holds {strange[0]!r}"
    assert len(shown) < 4000, "the message is longer than a screen"
    if problem.span is not None:
        assert 1 <= problem.span.line <= data.count(b"\n") + data.count(b"\r") + 2
        assert problem.span.column >= 1


def changed(data: bytes, rnd: random.Random, words: list[bytes]) -> bytes:
    """The bytes with something changed, as people and accidents change files: for runs without the fuzzer."""
    at, to = sorted((rnd.randint(0, len(data)), rnd.randint(0, len(data))))
    to = min(to, at + rnd.choice((1, 1, 2, 8, 64, 512)))
    piece = rnd.choice(
        (
            b"",
            bytes([rnd.randrange(256)]),
            rnd.choice(words),
            data[at:to] * 2,
            data[at:to][::-1],
            rnd.choice(words) * 50,
        )
    )
    return data[:at] + piece + data[to:]


WORDS = [
    b": ", b"- ", b"{", b"}", b"[", b"]", b"&a ", b"*a", b"#", b" #1", b"'", b'"', b"|\n", b">-\n", b"\t", b"\n", b"\r",
    b"\0", b"\xff", b"\xef\xbb\xbf", b"\xe2\x80\x8b", b"\xe2\x80\xae", b"\xc2\x85", b"\xc2\x9b", b"1e30", b"0x1F", b".5",
    b"-0", b"1/0", b" kg", b" mm", b" %", b"2026-02-30", b"true", b"null", b"~", b"<<", b"!!str ", b"%d", b"undefined",
    b"punycode", b"utf-16", b"no limit", b"if ", b" else ", b" for ", b" in ", b" ** ", b" / ", b"(", b")", b",", b";",
]  # fmt: skip
