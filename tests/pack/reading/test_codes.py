"""Every code is raised by some pack, at the exact place of the mistake.

In each pack the mistake stands between « and », which are taken out before it is read.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.pack.editions.finding import find_pack, open_folder
from checker.pack.lint.everything import lint
from checker.pack.reading.codes import CODES
from checker.reading.problems import InputError, Problem
from tests.pack.folders import EDITION, bulletin

HEAD = """\
pack: example
edition: "1"
title: Example
in_force: {from: 2026-01-01}
facts: {a.b: {unit: mm}, a.c: {unit: kg}, a.w: {one_of: [front, rear]}, a.t: {type: truth}, a.s: {unit: mm, several: true}}
lists: {holes: {known_by: name, fields: {name: {type: text}, size: {unit: mm}}}}
cases: [{name: all, expect: {"1": pass}}]
"""


def check(text: str, section: str = "") -> str:
    """A pack of one clause."""
    return f'{HEAD}{section}\nclauses:\n  "1": {{check: {text}}}\n'


def table(rows: str, use: str = "a.b") -> str:
    return check(f"{{limit: a.c, at_most: t({use})}}", f"tables: {{t: {{by: k, rows: [{rows}]}}}}")


GOOD = "{limit: a.b, at_most: 5 mm}"
CIRCLE = '"1": {check: {holds: a.t}, instead_of: «["2"]»}\n  "2": {check: {holds: a.t}, instead_of: ["1"]}'

IN_THE_PACK = {
    "PK101": check("{limit: a.b, «at_moast»: 5 mm}"),
    "PK102": HEAD + "clauses:\n  «3.1»: {check: {holds: a.t}}\n",
    "PK103": check("{holds: a.t «)»}"),
    "PK104": check("{limit: a.b, at_most: 5 «mmm»}"),
    "PK105": check('{limit: "«a.b[0]»", at_most: 5 mm}'),
    "PK106": check("{limit: event.date, at_most: «2026-02-30»}"),
    "PK107": check("{limit: a.b, at_most: «5 mm 5 mm»}"),
    "PK108": check(GOOD, "course: «left»"),
    "PK109": check(GOOD, "materials: {steel: {words_from: «../steel.yaml»}}"),
    "PK111": check(GOOD, "course: «\x07»"),
    "PK112": check(GOOD, "course: «}»"),
    "PK113": check(GOOD, "course: clockwise\n«course»: clockwise"),
    "PK114": check(GOOD, "course: «!!str» clockwise"),
    "PK115": check(GOOD, "course: «*way»"),
    "PK116": check(GOOD) + "«---»\n",
    "PK117": check(GOOD, f"course: {'[' * 99}{']' * 99}"),
    "PK118": check(f"{{limit: a.b, at_most: «1e{'9' * 9}»}}"),
    "PK119": check(GOOD, "«[1]»: 2"),
    "PK120": "«»",
    "PK121": check(GOOD, "facts2: {a«:»b}"),
    "PK201": check("{limit: «a.x», at_most: 5 mm}"),
    "PK202": check("{let: {«holes»: 5 mm}, limit: a.b, at_most: 5 mm}"),
    "PK203": check("{limit: x, at_most: 5}", "derived: {x: {formula: y}, y: {formula: «x»}}"),
    "PK204": check("{limit: a.w, exactly: «fornt»}"),
    "PK205": check(
        "{each: holes, limit: size, at_most: a.b, where: count(h for h in holes if «h.wide» > 1 mm) > 0}"
    ),
    "PK301": check("{limit: a.b, at_most: «5 kg»}"),
    "PK302": check("{limit: a.b, at_most: «5 %»}"),
    "PK303": check("{holds: «a.b»}"),
    "PK304": check("{limit: «a.s», at_most: 5 mm}"),
    "PK305": check("{limit: a.b, at_most: «abs()»}"),
    "PK306": check("{limit: a.b, at_most: 5 mm / «0»}"),
    "PK401": table("{k: up to 5 mm, value: 1 kg}, «{k: above 6 mm, value: 2 kg}»"),
    "PK402": table("{k: up to 5 mm, value: 1 kg}, «{k: from 5 mm, value: 2 kg}»"),
    "PK403": table("{k: up to 5 mm, value: 1 kg}, {k: above 5 mm, value: «2 mm»}"),
    "PK404": table("{k: front, value: 1 kg}", "«a.w»"),
    "PK405": table("{k: up to 5 mm, value: 1 kg}, «{k: above 5 mm}»"),
    "PK501": check("«{limits: a.b, at_most: 5 mm}»"),
    "PK502": check("{limit: «a.b»}"),
    "PK503": check("{limit: a.b, at_least: «5 mm», at_most: 4 mm}"),
    "PK504": check("{limit: «weight.total», at_least: 5 kg}"),
    "PK505": check("{limit: «weight.front_left», at_least: 5 kg, condition: any}"),
    "PK506": check("{each: holes, all_of: [{«each»: ballast, limit: mass, at_most: 5 kg}]}"),
    "PK507": check("{holds: «1 < 2»}"),
    "PK601": HEAD + 'clauses:\n  "1": {check: {holds: a.t}, since: 2026-05-01, until: «2026-04-01»}\n',
    "PK602": HEAD + 'clauses:\n  "1": {check: {holds: a.t}, instead_of: [«"7"»]}\n',
    "PK603": f"{HEAD}clauses:\n  {CIRCLE}\n",
    "PK604": HEAD + 'clauses:\n  "1": {check: {holds: a.t}, earlier: [«{before: 2021-01-01}»]}\n',
    "PK605": HEAD
    + 'clauses:\n  "1": {check: {each: holes, limit: size, at_most: a.b}, instead_of: «["2"]»}\n  "2": {check: {holds: a.t}}\n',
}

BY_LINT = {
    "PK206": HEAD.replace("a.c:", "«a.c»:") + 'clauses:\n  "1": {check: {limit: a.b, at_most: 5 mm}}\n',
    "PK508": HEAD
    + 'clauses:\n  "1": {check: {limit: a.b, at_most: 5 mm}}\n  "2": {check: {limit: a.b, at_least: «6 mm»}}\n',
    "PK509": HEAD + 'clauses:\n  "1": {text: At most «6 mm» wide., check: {limit: a.b, at_most: 5 mm}}\n',
    "PK406": HEAD
    + "tables: {t: {by: [k], rows: [{k: any, value: 5 mm}, «{k: 1 mm, value: 6 mm}»]}}\n"
    + 'clauses:\n  "1": {check: {limit: a.b, at_most: t(a.b)}}\n',
    "PK510": HEAD
    + 'clauses:\n  "1": {check: {runs: «holes», limit: last(run).size - first(run).size, at_most: 5 mm}}\n',
    "PK606": HEAD + 'clauses:\n  "1": {text: See clause «4»., check: {holds: a.t}}\n',
    "PK704": HEAD + 'clauses:\n  "1": {check: {holds: a.t}}\n  «"2"»: {check: {limit: a.b, at_most: 5 mm}}\n',
}

ANSWERS = """\
interpretations:
  - {{number: A, clauses: ["1"], asked: 2026-02-01, question: q}}
  - {{number: {number}, clauses: ["1"], asked: {first}, question: q{more}}}
"""

OF_A_FOLDER = {
    "PK620": {
        "later.yaml": EDITION.replace('edition: "1"', 'edition: "2"').replace("in_force: {", "in_force: «{"),
    },
    "PK630": {"b.yaml": bulletin('{change: "1", at: check.at_most, for: «1 mm», read: 2 mm}')},
    "PK631": {
        "b.yaml": bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 2 mm}'),
        "c.yaml": bulletin('{change: «"1"», at: check.at_most, for: 2 mm, read: 3 mm}', "B2"),
    },
    "PK632": {"b.yaml": bulletin('{change: «"1"», at: check.at_moast, for: 1 mm, read: 2 mm}')},
    "PK633": {"b.yaml": bulletin('{add: «"1"», read: {check: {holds: true}}}')},
    "PK634": {"b.yaml": bulletin('{withdraw: "1"}\n{change: «"1"», at: title, for: Width, read: W}')},
    "PK635": {
        "b.yaml": bulletin('{change: "1", at: title, for: Width, read: W}').replace(
            "pack: kart", "pack: «cart»"
        )
    },
    "PK613": {
        "b.yaml": bulletin('{change: "1", at: title, for: Width, read: W}').replace("bulletin:", "«bulletn»:")
    },
    "PK614": {
        "sent/b.yaml": bulletin('{change: "1", at: title, for: Width, read: W}').replace(
            "bulletin:", "«bulletin»:"
        )
    },
    "PK636": {"b.yaml": bulletin('{change: "1", at: title, for: Width, read: W}', days="from: «2027-02-01»")},
    "PK638": {"b.yaml": bulletin('{change: "1", at: title, for: Width, read: W}', days="from: «2025-02-01»")},
    "PK637": {
        "b.yaml": bulletin('{change: "1", at: title, for: Width, read: W}'),
        "c.yaml": bulletin('{change: "2", at: title, for: Length, read: L}', "«B1»"),
    },
    "PK642": {"a.yaml": ANSWERS.format(first="2026-02-01", number="«A»", more="")},
    "PK643": {"a.yaml": ANSWERS.format(first="2026-02-01", number="B", more=", settled_by: «B7»")},
    "PK644": {"a.yaml": ANSWERS.format(first="«2025-02-01»", number="B", more="")},
    "PK641": {
        "a.yaml": "approvals:\n  - {reference: A1, clauses: ['1'], reason: x}\n  - {reference: «A1», clauses: ['1'], reason: x}\n"
    },
}

WITHOUT_A_PLACE = ("PK100", "PK110", "PK610", "PK611", "PK612")
"""What is wrong with a folder, a name on the command line or the installation."""

IN_CASES = ("PK701", "PK702", "PK703", "PK705")
"""What reading and running cases finds."""


OF_SCHEMAS = ("PK710",)
"""What is wrong with a schema beside the pack: tests/pack/editors/test_new_pack.py."""


def test_every_code_has_its_test() -> None:
    tested = {*IN_THE_PACK, *BY_LINT, *OF_A_FOLDER, *WITHOUT_A_PLACE, *IN_CASES, *OF_SCHEMAS}
    assert set(CODES) == tested


def unmarked(folder: Path, files: dict[str, str]) -> list[tuple[str, int, int]]:
    """Write the files without their marks; where the marks stood: file, line and column."""
    places: list[tuple[str, int, int]] = []
    for name, text in files.items():
        if "«" in text:
            before = text[: text.index("«")]
            places.append(
                (Path(name).name, before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
            )
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text.replace("«", "").replace("»", ""), encoding="utf-8")
    return places


def raised(problems: tuple[Problem, ...], code: str) -> list[tuple[str, int, int]]:
    spans = [p.span for p in problems if p.code == code]
    assert spans, [p.code for p in problems]
    return [(Path(s.file).name, s.line, s.column) for s in spans if s is not None]


@pytest.mark.parametrize(("code", "text"), [*IN_THE_PACK.items(), *BY_LINT.items()])
def test_a_mistake_is_told_at_its_exact_place(tmp_path: Path, code: str, text: str) -> None:
    places = unmarked(tmp_path, {"pack.yaml": text})
    found = lint(tmp_path / "pack.yaml") if code != "PK120" else _of_an_empty_file(tmp_path)
    if places:
        assert raised(found, code)[:1] == places
    else:
        assert code in [p.code for p in found]
    assert CODES[code].warning is False or all(p.warning for p in found if p.code == code)


def _of_an_empty_file(folder: Path) -> tuple[Problem, ...]:
    from checker.pack.editions.loading import load_edition

    with pytest.raises(InputError) as caught:
        load_edition(str(folder / "pack.yaml"))
    return caught.value.problems


@pytest.mark.parametrize(("code", "files"), OF_A_FOLDER.items())
def test_a_mistake_beside_the_pack_is_told_at_its_exact_place(
    tmp_path: Path, code: str, files: dict[str, str]
) -> None:
    places = unmarked(tmp_path, {"edition.yaml": EDITION, **files})
    assert raised(lint(tmp_path), code)[:1] == places


def test_what_has_no_place(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        lint(tmp_path)
    assert [p.code for p in caught.value.problems] == ["PK110"]
    (tmp_path / "a.yaml").write_text(EDITION, encoding="utf-8")
    (tmp_path / "b.yaml").write_text(EDITION.replace("pack: kart", "pack: cart"), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        open_folder(tmp_path)
    assert [p.code for p in caught.value.problems] == ["PK610"]
    (tmp_path / "b.yaml").write_text("approvals: []\n", encoding="utf-8")
    (tmp_path / "c.yaml").write_text("approvals: []\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        open_folder(tmp_path)
    assert [p.code for p in caught.value.problems] == ["PK612"]
    with pytest.raises(InputError) as caught:
        find_pack("no such formula")
    assert [p.code for p in caught.value.problems] == ["PK611"]
