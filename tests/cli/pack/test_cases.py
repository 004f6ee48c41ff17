from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli import exits
from checker.reading.document import Plain
from checker.reading.problems import InputError
from checker.reading.strict_yaml import parse_document
from checker.studies.cases.adding import HEADING, added_to
from tests.cli.running import run
from tests.studies.casebooks import PACK, book

pytestmark = pytest.mark.usefixtures("at_root")
Capsys = pytest.CaptureFixture[str]
GOOD = '- {name: fine, from: car.yaml, set: {frame.width: 1400 mm}, expect: {"1": {outcome: pass, margin: 0 mm}}}'


@pytest.mark.parametrize(
    ("cases", "code"),
    [
        (GOOD, exits.COMPLIES),
        (GOOD.replace("0 mm}", "1 mm}"), exits.FAILS),
        (GOOD.replace("frame.width", "frame.widht"), exits.UNREADABLE),
        ("[]", exits.UNSETTLED),
    ],
)
def test_the_exit_code_says_whether_every_case_came_out(
    capsys: Capsys, tmp_path: Path, cases: str, code: int
) -> None:
    book(tmp_path, cases)
    assert run(capsys, "pack", "cases", str(tmp_path)).code == code


def test_json_is_one_document(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    ran = run(capsys, "pack", "cases", str(tmp_path / "pack.yaml"), "--format", "json")
    document = json.loads(ran.out)
    assert (document["document"], document["version"]) == ("cases", 1)
    assert document["counts"]["as_expected"] == 1


def test_suggestions_are_cases_that_come_out(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    ran = run(capsys, "pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "car.yaml"))
    assert ran.code == exits.COMPLIES
    suggested = parse_document(ran.out.encode(), "suggested", "PK").data
    assert isinstance(suggested, list)
    (tmp_path / "more.yaml").write_text(ran.out, encoding="utf-8")
    (tmp_path / "pack.yaml").write_text(PACK.replace("cases:\n", "cases: more.yaml\n"), encoding="utf-8")
    assert run(capsys, "pack", "cases", str(tmp_path)).code == exits.COMPLIES


def test_a_folder_is_its_newest_edition_and_a_day_picks_another(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    before = PACK.replace('edition: "1"', 'edition: "0"').replace(
        "{from: 2026-01-01}", "{from: 2025-01-01, until: 2025-12-31}"
    )
    (tmp_path / "before.yaml").write_text(before.replace("cases:\n", ""), encoding="utf-8")
    for place, edition in ((str(tmp_path), "1"), (f"{tmp_path}@2025-05-01", "0")):
        ran = run(capsys, "pack", "cases", place, "--format", "json")
        assert json.loads(ran.out)["pack"]["edition"] == edition
    assert run(capsys, "pack", "cases", f"{tmp_path}@2020-05-01").code == exits.UNREADABLE


def test_what_cannot_be_is_refused(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, GOOD)
    car = str(tmp_path / "car.yaml")
    assert (
        run(capsys, "pack", "cases", str(tmp_path), "--suggest", car, "--format", "json").code == exits.USAGE
    )
    assert run(capsys, "pack", "cases", str(tmp_path / "no")).code == exits.UNREADABLE
    assert (
        run(capsys, "pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "no.yaml")).code
        == exits.UNREADABLE
    )


OWN = """\
# what the club agreed on
- name: wide   # as at the spring meeting
  from: car.yaml
  set: {frame.width: 1500 mm}
  expect: {"1": fail}

# the last one
- {name: plain, from: car.yaml, expect: {"2": pass}}
"""


def test_suggestions_begin_the_file_that_the_pack_names(capsys: Capsys, tmp_path: Path) -> None:
    """As one does who has written the clauses first."""
    book(tmp_path, "[]")
    (tmp_path / "pack.yaml").write_text(PACK.replace("cases:\n", "cases: own.yaml\n"), encoding="utf-8")
    own = tmp_path / "own.yaml"
    told = run(capsys, "pack", "lint", str(tmp_path))
    assert "--output own.yaml" in " ".join((told.out + told.err).split())
    asked = ("pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "car.yaml"), "--output")
    assert run(capsys, *asked, str(tmp_path / "other.yaml")).code == exits.UNREADABLE
    assert run(capsys, *asked, str(own)).code == exits.COMPLIES
    assert run(capsys, "pack", "cases", str(tmp_path)).code == exits.COMPLIES


def test_suggestions_are_added_to_a_file_that_has_cases(capsys: Capsys, tmp_path: Path) -> None:
    """Its own keep their order and their comments; asked again, nothing is added twice."""
    book(tmp_path, "[]")
    (tmp_path / "pack.yaml").write_text(PACK.replace("cases:\n", "cases: own.yaml\n"), encoding="utf-8")
    own = tmp_path / "own.yaml"
    own.write_text(OWN, encoding="utf-8")
    asked = ("pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "car.yaml"), "--output", str(own))
    ran = run(capsys, *asked)
    assert ran.code == exits.COMPLIES
    text = own.read_text(encoding="utf-8")
    assert text.startswith(OWN)
    names = [case["name"] for case in parse_document(text.encode(), "own.yaml", "PK").data]  # type: ignore[union-attr, index, call-overload]
    assert names[:2] == ["wide", "plain"]
    assert len(names) > 2
    assert f"{len(names) - 2} cases written to {own}" in ran.out
    after = run(capsys, "pack", "cases", str(tmp_path), "--format", "json")
    assert json.loads(after.out)["counts"] == {"as_expected": len(names), "otherwise": 0, "not_judged": 0}
    run(capsys, *asked)
    assert own.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("[]\n", None),
        ("cases:\n  - {name: a, expect: {}}\n\nother: 1\n", "other: 1\n"),
        ("- name: a\n  expect: {}\n# behind\n", "# behind\n"),
        ("-   name: a\n    expect: {}", ""),
    ],
)
def test_cases_are_added_behind_the_last(before: str, after: str | None) -> None:
    made: list[Plain] = [{"name": "b", "set": {"a.b": "1 mm"}, "expect": {"1": "pass"}}]
    text = added_to(parse_document(before.encode(), "own.yaml", "PK"), made)
    data = parse_document(text.encode(), "own.yaml", "PK").data
    cases = data["cases"] if isinstance(data, dict) else data
    assert isinstance(cases, list)
    assert cases[-1] == made[0]
    if after is not None:
        kept, _, added = text.partition(HEADING)
        assert before.startswith(kept.rstrip(" \n"))
        assert added.endswith(after)
    assert added_to(parse_document(text.encode(), "own.yaml", "PK"), made) == text


@pytest.mark.parametrize("text", ["formula: kart\n", "[{name: a, expect: {}}]\n", "cases: own.yaml\n"])
def test_nothing_is_added_where_it_would_not_be_a_case(text: str) -> None:
    with pytest.raises(InputError) as refused:
        added_to(parse_document(text.encode(), "own.yaml", "PK"), [{"name": "b", "expect": {"1": "pass"}}])
    assert "holds no list of cases" in refused.value.problems[0].message


def test_what_could_not_be_suggested_is_told(capsys: Capsys, tmp_path: Path) -> None:
    pack = PACK.replace(
        "cases:\n", '  "4": {title: Seal, check: {limit: seal.number, exactly: "\'A1\'"}}\ncases:\n'
    )
    book(tmp_path, "[]", pack)
    ran = run(capsys, "pack", "cases", str(tmp_path), "--suggest", str(tmp_path / "car.yaml"))
    assert "# Not suggested: clause 4: for this car it is not shown; begin with one that meets it." in ran.out
    parse_document(ran.out.encode(), "suggested", "PK")


def test_the_day_of_a_case_that_does_not_come_out_is_told(capsys: Capsys, tmp_path: Path) -> None:
    book(tmp_path, '- {name: wide, on: 2026-04-02, from: car.yaml, expect: {"1": fail}}')
    assert "wide, judged for 2026-04-02" in run(capsys, "pack", "cases", str(tmp_path)).out
