from __future__ import annotations

from pathlib import Path

import pytest

from tests.pack.folders import EDITION, bound, bulletin, loaded, refused

NARROWER = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1390 mm}')


def test_a_bulletin_changes_what_it_names_from_its_first_day_on(tmp_path: Path) -> None:
    assert bound(loaded(tmp_path, "2026-05-31", B1=NARROWER), "1") == "1400 mm"
    pack = loaded(tmp_path, "2026-06-01", B1=NARROWER)
    assert bound(pack, "1") == "1390 mm"
    assert pack.bulletins == ("B1",)
    assert pack.because == "2026-06-01 lies within 2026-01-01 to 2026-12-31; with bulletin B1 from 2026-06-01"
    assert pack.clauses["1"].bulletins == ("B1",)
    assert pack.clauses["2"].bulletins == ()


def test_after_its_last_day_the_edition_speaks_again(tmp_path: Path) -> None:
    ends = bulletin(
        '{change: "1", at: check.at_most, for: 1400 mm, read: 1390 mm}',
        days="from: 2026-06-01, until: 2026-06-30",
    )
    assert bound(loaded(tmp_path, "2026-06-30", B1=ends), "1") == "1390 mm"
    assert bound(loaded(tmp_path, "2026-07-01", B1=ends), "1") == "1400 mm"


def test_what_changed_is_remembered_with_what_stood_there(tmp_path: Path) -> None:
    (origin,) = loaded(tmp_path, B1=NARROWER).origins
    assert origin.path == ("clauses", "1", "check", "at_most")
    assert (origin.verb, origin.bulletin, origin.was) == ("changed", "B1", "1400 mm")
    assert origin.span is not None
    assert (origin.span.file, origin.span.line) == (str(tmp_path / "B1.yaml"), 6)


def test_the_digest_covers_the_bulletins_in_force(tmp_path: Path) -> None:
    without = loaded(tmp_path, "2026-05-31", B1=NARROWER).sha256
    assert loaded(tmp_path, "2026-06-01", B1=NARROWER).sha256 != without


def test_a_part_can_be_added_taken_away_and_replaced(tmp_path: Path) -> None:
    pack = loaded(
        tmp_path,
        B1=bulletin(
            """
            {add: "2.1", read: {title: Diagonal, check: {limit: "hypot(frame.width, frame.length)", at_most: 2300 mm}}}
            {withdraw: "10"}
            {change: "1", at: severity, read: advisory}
            {change: "1", at: text, for: The frame is at most 1400 mm wide.}
            {change: tables.longest, at: "rows[1].value", for: 1900 mm, read: 1910 mm}
            {add: facts.frame.colour, read: {type: text}}
            """
        ),
    )
    assert list(pack.clauses) == ["1", "2", "2.1"]
    assert pack.clauses["1"].severity == "advisory"
    assert pack.clauses["1"].text == ""
    assert pack.tables["longest"].rows[1]["value"] == "1910 mm"
    assert "frame.colour" in pack.vocabulary.facts


def test_a_new_clause_stands_where_its_number_belongs(tmp_path: Path) -> None:
    nine = bulletin('{add: "9", read: {check: {limit: frame.width, at_least: 900 mm}}}')
    assert list(loaded(tmp_path, B1=nine).clauses) == ["1", "2", "9", "10"]


def test_bulletins_follow_each_other_by_first_day_then_by_name(tmp_path: Path) -> None:
    later = bulletin(
        '{change: "1", at: check.at_most, for: 1390 mm, read: 1380 mm}', "A2", "from: 2026-06-02"
    )
    pack = loaded(tmp_path, B1=NARROWER, A2=later)
    assert pack.bulletins == ("B1", "A2")
    assert bound(pack, "1") == "1380 mm"
    ten, two = (
        bulletin(f'{{change: "1", at: {key}, read: x}}', name)
        for key, name in (("act", "B10"), ("consequence", "B2"))
    )
    assert loaded(tmp_path, a=ten, b=two, B1=NARROWER, A2=later).bulletins == ("B1", "B2", "B10", "A2")


def test_blanks_and_the_order_of_keys_do_not_make_for_stale(tmp_path: Path) -> None:
    folded = bulletin(
        '{change: "1", at: check, for: {at_most: 1400   mm, limit: frame.width},'
        " read: {limit: frame.width, at_most: 1 m}}"
    )
    assert bound(loaded(tmp_path, B1=folded), "1") == "1 m"


def test_a_mistake_in_a_new_value_is_shown_in_the_bulletin(tmp_path: Path) -> None:
    (problem,) = refused(
        tmp_path, B1=bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1390 kg}')
    )
    assert problem.code == "PK301"
    assert problem.span is not None
    assert (problem.span.file, problem.span.line) == (str(tmp_path / "B1.yaml"), 6)
    assert problem.span.source_line[problem.span.column - 1 :].startswith("1390 kg")


def test_a_bulletin_of_another_edition_says_nothing_of_this_one(tmp_path: Path) -> None:
    old = EDITION.replace('"1"\ntitle', '"0"\ntitle').replace(
        "2026-01-01, until: 2026-12-31", "2025-01-01, until: 2025-12-31"
    )
    open_ended = bulletin(
        '{change: "1", at: check.at_most, for: 1400 mm, read: 1 mm}', days="from: 2025-06-01", edition="0"
    )
    pack = loaded(tmp_path, B1=open_ended, old=old)
    assert pack.bulletins == ()
    assert bound(pack, "1") == "1400 mm"


def test_what_is_not_in_force_is_not_even_read(tmp_path: Path) -> None:
    broken = bulletin("{change: [", days="from: 2026-08-01")
    assert loaded(tmp_path, "2026-07-31", B1=broken).bulletins == ()
    assert refused(tmp_path, "2026-08-01", B1=broken)[0].code == "PK112"


STALE = '{change: "1", at: check.at_most, for: 1410 mm, read: 1390 mm}'


@pytest.mark.parametrize(
    ("changes", "code", "said"),
    [
        (
            STALE,
            "PK630",
            "clause 1, check.at_most: `for` says '1410 mm', but '1400 mm' stands there",
        ),
        ('{change: "3", at: check.at_most, for: 1 mm, read: 2 mm}', "PK602", "there is no clause 3"),
        ('{withdraw: "3"}', "PK602", "there is no clause 3"),
        ("{change: tabels.longest, at: by, read: x}", "PK602", "there is no clause tabels.longest"),
        (
            '{change: "1", at: check.at_mots, for: 1400 mm, read: 2 mm}',
            "PK632",
            "there is no at_mots in clause 1, check",
        ),
        ("{change: tables.shortest, at: by, read: x}", "PK632", "there is no shortest in tables"),
        (
            '{change: tables.longest, at: "rows[2].value", for: 1 mm, read: 2 mm}',
            "PK632",
            "there is no [2] in tables.longest.rows",
        ),
        ('{change: tables.longest, at: "rows[7]", read: {}}', "PK632", "there is no tables.longest.rows[7]"),
        (
            "{change: in_force, at: until, for: 2026-12-31, read: 2027-12-31}",
            "PK632",
            "a bulletin cannot change `in_force`",
        ),
        (
            "{change: clauses.1, at: title, for: Width, read: x}",
            "PK632",
            "a bulletin cannot change `clauses`",
        ),
        ('{change: "1", at: "check[", read: x}', "PK632", "'[' needs a position"),
        (
            '{add: "1", read: {check: {limit: frame.width, at_most: 1 m}}}',
            "PK633",
            "clause 1 is there already",
        ),
        ('{change: "1", at: title, read: Breadth}', "PK633", "clause 1, title is there already"),
        ('{change: "1", at: check.at_most}', "PK108", "`change` needs `for`, `read` or both"),
        ('{add: "3"}', "PK108", "`add` needs `read`"),
        ('{replace: "1"}', "PK108", "this is no change"),
        ('{add: "3", withdraw: "1", read: {}}', "PK108", "this change says add and withdraw"),
        ('{withdraw: "1", at: check}', "PK101", "'at' is not a key of `withdraw`"),
        ("{withdraw: 10}", "PK102", "'10' needs quotes"),
    ],
)
def test_what_a_bulletin_cannot_do_is_named_with_its_place(
    tmp_path: Path, changes: str, code: str, said: str
) -> None:
    problems = refused(tmp_path, B1=bulletin(changes))
    assert [problem.code for problem in problems] == [code]
    assert said in problems[0].message
    assert problems[0].span is not None
    assert (problems[0].span.file, problems[0].span.line) == (str(tmp_path / "B1.yaml"), 6)


def test_a_stale_change_names_the_bulletin_that_was_faster_and_where(tmp_path: Path) -> None:
    late = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}', "B2", "from: 2026-06-15")
    (problem,) = refused(tmp_path, B1=NARROWER, B2=late)
    assert problem.code == "PK630"
    assert "'1390 mm' stands there" in problem.message
    assert problem.hint == "bulletin B1 put it there on 2026-06-01"
    assert [(label, span.file) for label, span in problem.related] == [
        ("stands here", str(tmp_path / "B1.yaml"))
    ]


def test_two_bulletins_of_one_day_may_not_touch_one_path(tmp_path: Path) -> None:
    same_day = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}', "B2")
    (problem,) = refused(tmp_path, B1=NARROWER, B2=same_day)
    assert problem.code == "PK631"
    assert problem.message == "bulletins B1 and B2, both of 2026-06-01, touch clause 1, check.at_most"
    whole = bulletin('{withdraw: "1"}', "B2")
    assert refused(tmp_path, B1=NARROWER, B2=whole)[0].code == "PK631"
    elsewhere = bulletin('{change: "1", at: title, for: Width, read: Breadth}', "B2")
    assert loaded(tmp_path, B1=NARROWER, B2=elsewhere).bulletins == ("B1", "B2")


def test_what_was_withdrawn_can_only_be_added_again(tmp_path: Path) -> None:
    gone = bulletin('{withdraw: "1"}')
    late = bulletin('{change: "1", at: check.at_most, for: 1400 mm, read: 1380 mm}', "B2", "from: 2026-06-15")
    (problem,) = refused(tmp_path, B1=gone, B2=late)
    assert (problem.code, problem.message) == ("PK634", "clause 1 was withdrawn by bulletin B1")
    again = bulletin(
        '{add: "1", read: {check: {limit: frame.width, at_most: 1 m}}}', "B2", "from: 2026-06-15"
    )
    pack = loaded(tmp_path, B1=gone, B2=again)
    assert bound(pack, "1") == "1 m"
    assert pack.clauses["1"].bulletins == ("B1", "B2")


def test_a_clause_added_twice_is_refused(tmp_path: Path) -> None:
    new = '{add: "3", read: {check: {limit: frame.width, at_most: 1 m}}}'
    problems = refused(tmp_path, B1=bulletin(new), B2=bulletin(new, "B2", "from: 2026-06-15"))
    assert [(p.code, p.message) for p in problems] == [("PK633", "bulletin B1 added clause 3 already")]


def test_a_bulletin_must_amend_an_edition_that_is_here(tmp_path: Path) -> None:
    stray = bulletin(STALE, edition="2")
    (problem,) = refused(tmp_path, B1=stray)
    assert (problem.code, problem.message) == ("PK635", "bulletin B1 amends edition 2, which is not here")
    (problem,) = refused(tmp_path, B1=bulletin(STALE).replace("pack: kart", "pack: cart"))
    assert (problem.code, problem.hint) == ("PK635", "Did you mean 'kart'?")


def test_a_bulletin_that_comes_after_its_edition_has_ended_is_refused(tmp_path: Path) -> None:
    old = EDITION.replace('"1"\ntitle', '"0"\ntitle').replace(
        "2026-01-01, until: 2026-12-31", "2025-01-01, until: 2025-12-31"
    )
    (problem,) = refused(tmp_path, B1=bulletin(STALE, edition="0"), old=old)
    assert problem.code == "PK636"
    assert "ended on 2025-12-31" in problem.message


def test_two_bulletins_of_one_name_are_refused(tmp_path: Path) -> None:
    other = bulletin('{change: "1", at: title, for: Width, read: Breadth}', days="from: 2026-06-15")
    assert [p.code for p in refused(tmp_path, B1=NARROWER, other=other)] == ["PK637"]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("bulletin: B1\nin_force: {from: 2026-06-01}\nchanges: []\n", "PK108"),
        ("bulletin: B1\nin_force: {from: 2026-06-32}\n", "PK106"),
        ("bulletin: B1\nin_force: {from: 2026-06-01, until: 2026-05-01}\n", "PK601"),
        (
            'bulletin: 1\namends: {pack: kart, edition: 1}\nin_force: {from: 2026-06-01}\nchanges: [{withdraw: "1"}]\n',
            "PK102",
        ),
        ("bulletin: B1\nfor: kart\n", "PK101"),
        ("bulletin: B1\namends: {pack: kart, editions: x}\nin_force: {from: 2026-06-01}\n", "PK101"),
    ],
)
def test_a_head_that_cannot_be_read_is_refused(tmp_path: Path, text: str, code: str) -> None:
    assert code in [problem.code for problem in refused(tmp_path, B1=text)]
