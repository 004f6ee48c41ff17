from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.pack.editions.file_heads import head_in, head_of
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import days_of_change, load_pack
from checker.reading.problems import InputError
from checker.reading.strict_yaml import read_document
from tests.examples import examples
from tests.pack.folders import EDITION, bound, bulletin, loaded, refused, write

NEXT = EDITION.replace('edition: "1"', 'edition: "2"').replace(
    "{from: 2026-01-01, until: 2026-12-31}", "{from: 2027-01-01}"
)


@pytest.mark.parametrize(
    ("on", "edition"), [("2026-01-01", "1"), ("2026-12-31", "1"), ("2027-01-01", "2"), ("2040-01-01", "2")]
)
def test_an_edition_speaks_from_its_first_day_to_its_last(tmp_path: Path, on: str, edition: str) -> None:
    assert loaded(tmp_path, on, next=NEXT).edition == edition


def test_a_day_that_no_edition_covers_is_refused_with_the_days_covered(tmp_path: Path) -> None:
    gap = NEXT.replace("2027-01-01", "2027-02-01")
    (problem,) = refused(tmp_path, "2027-01-15", next=gap)
    assert problem.code == "PK620"
    assert problem.message == (
        "no edition is in force on 2027-01-15: edition 1 covers 2026-01-01 to 2026-12-31; "
        "edition 2 covers 2027-02-01 to further notice"
    )


def test_a_day_that_two_editions_cover_is_refused(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, "2026-12-15", next=NEXT.replace("2027-01-01", "2026-12-01"))
    assert problem.code == "PK620"
    assert problem.message.startswith("two editions are in force on 2026-12-15")


def test_a_file_is_one_edition_with_the_bulletins_beside_it(tmp_path: Path) -> None:
    change = '{change: "1", at: check.at_most, for: 1400 mm, read: 1390 mm}'
    foreign = bulletin(change, "F1").replace("pack: kart", "pack: other")
    write(tmp_path, {"e.yaml": EDITION, "n.yaml": NEXT, "b.yaml": bulletin(change), "f.yaml": foreign})
    pack = load_pack(open_folder(tmp_path / "e.yaml"), date(2026, 7, 1))
    assert pack.bulletins == ("B1",)
    assert bound(pack, "1") == "1390 mm"


def test_a_bulletin_that_does_not_say_clearly_what_it_amends_is_not_passed_over(tmp_path: Path) -> None:
    unquoted = bulletin('{withdraw: "1"}').replace('edition: "1"', "edition: 1")
    write(tmp_path, {"e.yaml": EDITION, "b.yaml": unquoted})
    with pytest.raises(InputError) as caught:
        load_pack(open_folder(tmp_path / "e.yaml"), date(2026, 7, 1))
    assert [problem.code for problem in caught.value.problems] == ["PK102"]


def test_days_of_change_are_first_days_and_the_days_after_last_days(tmp_path: Path) -> None:
    days = "from: 2026-06-01, until: 2026-06-30"
    write(tmp_path, {"e.yaml": EDITION, "n.yaml": NEXT, "b.yaml": bulletin('{withdraw: "1"}', days=days)})
    told = [day.isoformat() for day in days_of_change(open_folder(tmp_path))]
    assert told == ["2026-01-01", "2026-06-01", "2026-07-01", "2027-01-01"]


@pytest.mark.parametrize(
    "written",
    [
        "in_force: {from: 2026-01-01, until: 2026-12-31}",
        "in_force: {from: 2026-01-01,until: 2026-12-31 }   # a season",
        "in_force: {from: \"2026-01-01\", until: '2026-12-31'}",
        "in_force:\n  from: 2026-01-01\n  until: 2026-12-31",
        "in_force:   # a season\n    from: 2026-01-01   # first\n    until: 2026-12-31 # last",
        "in_force: {until: 2026-12-31, from: 2026-01-01}",
        'in_force:\n  "from": 2026-01-01\n  until: 2026-12-31',
        "in_force:\n  from: 2026-01-01\n\n  until: 2026-12-31",
        "in_force: {\n  from: 2026-01-01, until: 2026-12-31}",
        '"in_force": {from: 2026-01-01, until: 2026-12-31}',
        "in_force:\n  from: 2026-01-01\n  # the last day\n  until: 2026-12-31",
    ],
)
def test_however_a_head_is_written_a_peek_tells_what_reading_tells(tmp_path: Path, written: str) -> None:
    text = EDITION.replace("in_force: {from: 2026-01-01, until: 2026-12-31}", written)
    file = str(write(tmp_path, {"e.yaml": text}) / "e.yaml")
    peeked = head_of(file)
    assert (peeked.first, peeked.last) == (date(2026, 1, 1), date(2026, 12, 31))
    assert peeked == head_in(read_document(file, "PK"), file)


DAYS = st.dates(date(2026, 5, 1), date(2026, 9, 30))
CHANGES = (
    '{change: "1", at: check.at_most, for: 1400 mm, read: 1390 mm}',
    '{withdraw: "10"}',
    '{change: tables.longest, at: "rows[0].value", for: 1800 mm, read: 1790 mm}',
)


@settings(examples(30), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    first=st.lists(DAYS, min_size=3, max_size=3),
    length=st.lists(st.integers(0, 60), min_size=3, max_size=3),
    on=DAYS,
)
def test_a_day_depends_only_on_what_is_in_force_that_day(
    tmp_path: Path, first: list[date], length: list[int], on: date
) -> None:
    spans = [(day, day + timedelta(days=more)) for day, more in zip(first, length, strict=True)]
    texts = [
        bulletin(change, f"B{place}", f"from: {a.isoformat()}, until: {b.isoformat()}")
        for place, (change, (a, b)) in enumerate(zip(CHANGES, spans, strict=True))
    ]
    every = write(
        tmp_path / "all", {"e.yaml": EDITION, **{f"{n}.yaml": text for n, text in enumerate(texts)}}
    )
    speaking = {f"{n}.yaml": texts[n] for n, (a, b) in enumerate(spans) if a <= on <= b}
    only = tmp_path / "only"
    for file in only.glob("*.yaml") if only.exists() else ():
        file.unlink()
    write(only, {"e.yaml": EDITION, **speaking})
    a, b = load_pack(open_folder(every), on), load_pack(open_folder(only), on)
    assert a.document.data == b.document.data
    assert a.because == b.because
    assert a.sha256 == b.sha256


def test_several_registers_in_one_folder_are_refused(tmp_path: Path) -> None:
    write(tmp_path, {"e.yaml": EDITION, "a.yaml": "approvals: []\n", "b.yaml": "approvals: []\n"})
    with pytest.raises(InputError) as caught:
        open_folder(tmp_path)
    assert caught.value.problems[0].code == "PK612"


def test_the_register_beside_the_pack_is_read_with_it(tmp_path: Path) -> None:
    without = loaded(tmp_path)
    assert without.approvals is None
    entry = 'reference: A-1, clauses: ["1"], cars: ["27"], until: 2026-12-31, reason: Old'
    pack = loaded(tmp_path, approvals=f"approvals: [{{{entry}}}]\n")
    assert [approval.reference for approval in pack.approvals or ()] == ["A-1"]
    assert pack.sha256 != without.sha256
    assert load_pack(open_folder(tmp_path / "edition.yaml"), date(2026, 7, 1)).approvals == pack.approvals
    wrong = entry.replace('"1"', '"99"')
    problems = refused(tmp_path, approvals=f"approvals: [{{{wrong}}}]\n")
    assert [(p.code, p.span.file if p.span else "") for p in problems] == [
        ("PK602", str(tmp_path / "approvals.yaml"))
    ]
