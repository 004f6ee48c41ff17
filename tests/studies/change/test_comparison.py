from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import build_pack, load_edition
from checker.pack.model import Pack
from checker.reading.document import Plain
from checker.reading.printer import to_yaml
from checker.reading.strict_yaml import parse_document
from checker.studies.change.comparison import CHANGES, RuleChange, compare, in_words
from tests.building import HEAD, pack_of
from tests.examples import each_row, examples

MORE = """
facts:
  frame.width: {unit: mm}
  frame.length: {unit: mm}
  frame.mass: {unit: kg}
  engine.capacity: {unit: cc}
  engine.kind: {one_of: [two stroke, four stroke]}
  helmet.grade: {grades: [C, B, A]}
  seat.made: {type: date}
categories: [seat, frame]
materials: {steel: [mild steel], light metal: [aluminium, titanium]}
tables:
  lightest:
    by: [capacity]
    rows:
      - {capacity: up to 100 cc, value: 60 kg}
      - {capacity: up to 125 cc, value: 70 kg}
      - {capacity: above 125 cc, value: 80 kg}
derived:
  size: {formula: frame.width + frame.length, unit: mm}
"""


def pack(clause: str, more: str = MORE) -> Pack:
    """A pack with one clause 1; `clause` is what stands in its braces."""
    return pack_of(f'"1": {{title: T, text: Words, {clause}}}', more)


def changes(before: str, after: str) -> Sequence[RuleChange]:
    return compare(pack(f"check: {before}"), pack(f"check: {after}"))


W = "limit: frame.width"


@each_row(
    ("before", "after", "change", "by"),
    [
        (f"{{{W}, at_most: 1400 mm}}", f"{{{W}, at_most: 1380 mm}}", "tightened", "20 mm"),
        (f"{{{W}, at_least: 1400 mm}}", f"{{{W}, at_least: 138 cm}}", "relaxed", "2 cm"),
        (f"{{{W}, at_most: 1400 mm}}", f"{{{W}, below: 1400 mm}}", "tightened", ""),
        (f"{{{W}, above: 1 m}}", f"{{{W}, at_least: 1 m}}", "relaxed", ""),
        (f"{{{W}, at_most: 1 m}}", f"{{{W}, at_least: 900 mm, at_most: 1 m}}", "tightened", ""),
        (
            f"{{{W}, nominal: 1 m, plus_minus: 9 mm}}",
            f"{{{W}, nominal: 1 m, plus_minus: 8 mm}}",
            "tightened",
            "1 mm",
        ),
        (
            f"{{{W}, nominal: 1 m, plus_minus: 9 mm}}",
            f"{{{W}, nominal: 2 m, plus_minus: 9 mm}}",
            "changed",
            "",
        ),
        (f"{{{W}, at_most: 1 m}}", f"{{{W}, at_most: 1 m, tolerance: 1 mm}}", "relaxed", ""),
        (
            f"{{{W}, at_most: frame.length + 5 mm}}",
            f"{{{W}, at_most: frame.length + 3 mm}}",
            "tightened",
            "2 mm",
        ),
        (
            f"{{{W}, at_most: frame.length - 5 mm}}",
            f"{{{W}, at_most: frame.length - 3 mm}}",
            "relaxed",
            "2 mm",
        ),
        (f"{{{W}, at_most: 0.3 * frame.length}}", f"{{{W}, at_most: 0.4 * frame.length}}", "changed", ""),
        (
            f"{{{W}, at_most: 2 * (frame.length + 5 mm)}}",
            f"{{{W}, at_most: 2 * (frame.length + 6 mm)}}",
            "relaxed",
            "",
        ),
        (
            f"{{{W}, at_most: 1 m}}",
            f"{{{W}, at_most: 1100 mm if engine.kind == 'two stroke' else 1050 mm}}",
            "relaxed",
            "50 mm to 100 mm",
        ),
        ("{limit: helmet.grade, at_least: B}", "{limit: helmet.grade, at_least: A}", "tightened", ""),
        (
            "{limit: engine.kind, exactly: two stroke}",
            "{limit: engine.kind, exactly: four stroke}",
            "changed",
            "",
        ),
        ("{valid: seat.made + 5 years}", "{valid: seat.made + 4 years}", "tightened", "1 year"),
        ("{valid: seat.made + 5 years}", "{valid: end_of_month(seat.made) + 5 years}", "changed", ""),
        ("{holds: engine.kind == 'two stroke'}", "{holds: engine.kind != 'two stroke'}", "changed", ""),
        ("{within: seat, banned: [steel]}", "{within: seat, banned: [steel, titanium]}", "tightened", ""),
        ("{within: seat, allowed: [steel]}", "{within: seat, allowed: [steel, titanium]}", "relaxed", ""),
        ("{within: seat, allowed: [steel]}", "{within: seat, allowed: [titanium]}", "changed", ""),
        ("{within: seat, allowed: [steel]}", "{within: frame, allowed: [steel]}", "changed", ""),
        ("{required: [seat]}", "{required: [seat, frame]}", "tightened", ""),
        ("{required: [seat]}", "{required: [seat, frame], at_least: 1}", "relaxed", ""),
        ("{required: [seat, frame], at_least: 1}", "{required: [seat, frame], at_least: 2}", "tightened", ""),
        (
            f"{{all_of: [{{{W}, at_most: 1 m}}]}}",
            f"{{all_of: [{{{W}, at_most: 1 m}}, {{limit: frame.length, at_most: 2 m}}]}}",
            "tightened",
            "",
        ),
        (
            f"{{any_of: [{{{W}, at_most: 1 m}}]}}",
            f"{{any_of: [{{limit: frame.length, at_most: 2 m}}, {{{W}, at_most: 1 m}}]}}",
            "relaxed",
            "",
        ),
        (
            f"{{none_of: [{{{W}, at_most: 1 m}}]}}",
            f"{{none_of: [{{{W}, at_most: 2 m}}]}}",
            "tightened",
            "1 m",
        ),
        (
            f"{{at_least_of: {{count: 1, of: [{{{W}, at_most: 1 m}}, {{limit: frame.length, at_most: 2 m}}]}}}}",
            f"{{at_least_of: {{count: 2, of: [{{{W}, at_most: 1 m}}, {{limit: frame.length, at_most: 2 m}}]}}}}",
            "tightened",
            "1",
        ),
        (
            "{limit: weight.total, at_least: 90 kg, condition: as_weighed}",
            "{limit: weight.total, at_least: 90 kg, condition: [as_weighed, any_without_driver]}",
            "tightened",
            "",
        ),
        (f"{{{W}, at_most: 1 m}}", f"{{when: engine.capacity > 90 cc, {W}, at_most: 1 m}}", "changed", ""),
        (f"{{{W}, at_most: 1 m}}", "{holds: engine.kind == 'two stroke'}", "changed", ""),
    ],
)
def test_a_change_of_a_check_says_which_way_it_goes_and_its_mirror_the_other(
    before: str, after: str, change: str, by: str
) -> None:
    (found,) = changes(before, after)
    assert (found.change, found.by) == (change, by)
    assert found.words
    (mirrored,) = changes(after, before)
    assert mirrored.change == {"tightened": "relaxed", "relaxed": "tightened"}.get(change, change)
    assert (mirrored.old, mirrored.new) == (found.new, found.old)


@each_row(
    ("before", "after"),
    [
        (f"{{{W}, at_most: 1400 mm}}", f"{{at_most: 140 cm, {W}}}"),
        (f"{{{W}, at_most: 1400 mm}}", f"{{{W}, at_most: 1 m + 400 mm}}"),
        (f"{{{W}, at_most: 1400 mm}}", f"{{{W}, at_most: 1400 mm, tolerance: 0 mm}}"),
        (f"{{{W}, at_most: frame.length + 5 mm}}", f"{{{W}, at_most: 0.5 cm + frame.length}}"),
        (f"{{{W}, at_most: 'min(1 m, frame.length)'}}", f"{{{W}, at_most: 'min(frame.length, 100 cm)'}}"),
        ("{holds: frame.width < frame.length}", "{holds: frame.length > frame.width}"),
        (
            "{holds: frame.width < 1 m and engine.kind == 'two stroke'}",
            "{holds: (1 m > frame.width) and 'two stroke' == engine.kind}",
        ),
        ("{within: seat, banned: [steel, titanium]}", "{within: seat, banned: [titanium, Steel]}"),
        ("{required: [seat, frame]}", "{required: [frame, seat], at_least: 2}"),
        (
            f"{{all_of: [{{{W}, at_most: 1 m}}, {{limit: frame.length, at_most: 2 m}}]}}",
            f"{{all_of: [{{limit: frame.length, at_most: 2 m}}, {{{W}, at_most: 1 m}}]}}",
        ),
        (
            "{limit: count(c for c in components if c.category in 'seat'), at_most: 2}",
            "{limit: count(x for x in components if x.category in 'seat'), at_most: 2}",
        ),
    ],
)
def test_what_means_the_same_is_no_change(before: str, after: str) -> None:
    assert changes(before, after) == ()


def test_the_order_of_a_file_means_nothing() -> None:
    clauses = '"1": {check: {limit: frame.width, at_most: 1 m}}', '"2": {check: {limit: size, at_most: 2 m}}'
    turned = MORE.replace("frame.width: {unit: mm}", "").replace(
        "facts:\n", "facts:\n  frame.width: {unit: mm}\n"
    )
    assert compare(pack_of("\n".join(clauses), MORE), pack_of("\n".join(reversed(clauses)), turned)) == ()


def test_clauses_come_go_and_are_reworded() -> None:
    old = pack_of(
        '"1": {title: A, check: {limit: frame.width, at_most: 1 m}}\n"2": {check: {holds: frame.width > 1 mm}}',
        MORE,
    )
    new = pack_of(
        '"1": {title: A, text: In other words., check: {limit: frame.width, at_most: 1 m}}\n'
        '"1a": {title: B, check: {limit: frame.length, at_most: 2 m}}',
        MORE,
    )
    assert [(c.clause, c.change, c.old, c.new) for c in compare(old, new)] == [
        ("1", "reworded", "", "In other words."),
        ("2", "withdrawn", "frame.width > 1 mm", ""),
        ("1a", "added", "", "frame.length at most 2 m"),
    ]


def test_a_clause_tells_the_days_that_it_binds() -> None:
    dated = '"1": {title: A, since: 2026-07-01, until: 2026-12-31, check: {limit: frame.width, at_most: 1 m}}'
    here, none = pack_of(dated, MORE), pack_of('"2": {check: {holds: frame.width > 1 mm}}', MORE)
    words = "frame.width at most 1 m; in force from 2026-07-01 until 2026-12-31"
    assert compare(none, here)[-1].new == words
    assert compare(here, none)[0].old == words
    assert (
        in_words(pack_of(dated.replace("until: 2026-12-31, ", ""), MORE).clauses["1"])
        == words.partition(" until")[0]
    )


def later(clauses: str) -> Pack:
    text = HEAD.replace('edition: "1"', 'edition: "2"').replace("2020-01-01", "2021-01-01") + MORE
    return build_pack(parse_document(f"{text}\nclauses:\n{clauses}".encode(), "pack.yaml", "PK"))


def test_a_renumbered_clause_is_known_by_what_it_was() -> None:
    old = pack_of(
        '"4": {check: {limit: frame.width, at_most: 1 m}}\n'
        '"5": {check: {holds: frame.width > 1 mm}, instead_of: ["4"]}',
        MORE,
    )
    new = later(
        '  "4": {check: {limit: frame.length, at_most: 3 m}}\n'
        '  "5": {formerly: "4", check: {limit: frame.width, at_most: 1100 mm}}\n'
        '  "6": {formerly: "5", check: {holds: frame.width > 1 mm}, instead_of: ["5"]}\n'
    )
    forth = [(c.clause, c.change, c.by) for c in compare(old, new)]
    assert forth == [
        ("4", "added", ""),
        ("5", "renumbered", ""),
        ("5", "relaxed", "100 mm"),
        ("6", "renumbered", ""),
    ]
    back = [(c.clause, c.change, c.by) for c in compare(new, old)]
    assert back == [
        ("4", "withdrawn", ""),
        ("4", "renumbered", ""),
        ("4", "tightened", "0.1 m"),
        ("5", "renumbered", ""),
    ]


TABLED = "check: {limit: frame.mass, at_least: lightest(engine.capacity)}"


@pytest.mark.parametrize(
    ("row", "next_row", "change", "by", "words"),
    [
        (
            "up to 125 cc, value: 72 kg",
            "above 125 cc",
            "tightened",
            "2 kg",
            "above 100 cc up to 125 cc: 70 kg becomes 72 kg",
        ),
        (
            "up to 120 cc, value: 70 kg",
            "above 120 cc",
            "tightened",
            "10 kg",
            "above 120 cc up to 125 cc: 70 kg becomes 80 kg",
        ),
        ("below 125 cc, value: 70 kg", "from 125 cc", "tightened", "10 kg", "at 125 cc: 70 kg becomes 80 kg"),
        ("up to 125 cc, value: 0.07 t", "above 125 cc", None, "", ""),
        ("up to 110 cc, value: 70 kg}, {capacity: up to 125 cc, value: 70 kg", "above 125 cc", None, "", ""),
    ],
)
def test_a_table_is_compared_by_what_it_says_for_each_key(
    row: str, next_row: str, change: str | None, by: str, words: str
) -> None:
    rows = (
        "[{capacity: up to 100 cc, value: 60 kg}, {capacity: "
        f"{row}}}, {{capacity: {next_row}, value: 80 kg}}]"
    )
    more = re.sub(r"rows:\n(      - .*\n)+", f"rows: {rows}\n", MORE)
    found = compare(pack(TABLED), pack(TABLED, more))
    told = [] if change is None else [(change, by, (f"table lightest: {words}",))]
    assert [(c.change, c.by, c.words) for c in found] == told
    back = compare(pack(TABLED, more), pack(TABLED))
    assert [c.change for c in back] == ([] if change is None else ["relaxed"])


@each_row(
    ("check", "change"),
    [
        ("{limit: frame.mass, at_most: lightest(engine.capacity) + 40 kg}", "relaxed"),
        ("{limit: frame.mass - lightest(engine.capacity), at_least: 0 kg}", "tightened"),
        ("{limit: frame.mass, at_least: 'max(50 kg, 1.1 * lightest(engine.capacity))'}", "tightened"),
        ("{holds: frame.mass > lightest(engine.capacity)}", "changed"),
        ("{when: lightest(engine.capacity) > 65 kg, limit: frame.mass, at_least: 1 kg}", "changed"),
        ("{limit: frame.mass / lightest(engine.capacity), at_most: 2}", "changed"),
        ("{none_of: [{limit: frame.mass, at_most: lightest(engine.capacity)}]}", "changed"),
    ],
)
def test_which_way_a_table_goes_depends_on_the_check(check: str, change: str) -> None:
    more = MORE.replace("value: 70 kg", "value: 71 kg")
    (found,) = compare(pack(f"check: {check}"), pack(f"check: {check}", more))
    assert (found.clause, found.change) == ("1", change)


def test_a_derived_value_changes_the_clauses_that_rest_on_it() -> None:
    clause = "check: {limit: size, at_most: 3 m}"
    more = MORE.replace("frame.width + frame.length,", "frame.width + frame.length + 10 mm,")
    (found,) = compare(pack(clause), pack(clause, more))
    assert (found.clause, found.change) == ("1", "changed")
    assert found.words == ("size: frame.width + frame.length becomes frame.width + frame.length + 10 mm",)
    ten, twelve = (MORE.replace("+ frame.length,", f"+ frame.length + {n} mm,") for n in (10, 12))
    (found,) = compare(pack(clause, ten), pack(clause, twelve))
    assert (found.change, found.by) == ("tightened", "2 mm")


def test_a_family_that_grows_changes_the_clauses_that_name_it() -> None:
    more = MORE.replace("[aluminium, titanium]", "[aluminium, titanium, magnesium]")
    for check, change in (
        ("{banned: [light metal]}", "tightened"),
        ("{within: seat, allowed: [light metal]}", "relaxed"),
    ):
        (found,) = compare(pack(f"check: {check}"), pack(f"check: {check}", more))
        assert (found.clause, found.change) == ("1", change)
        assert found.words == ("material light metal: magnesium added",)


@each_row(
    ("before", "after", "clause", "change"),
    [
        ("frame.mass: {unit: kg}", "frame.mass: {unit: kg, default: 80 kg}", "facts.frame.mass", "changed"),
        ("frame.width: {unit: mm}", "frame.width: {unit: mm, stated_by: official}", "1", "changed"),
        (
            "frame.mass: {unit: kg}",
            "frame.mass: {unit: kg, range: [1 kg, 90 kg]}",
            "facts.frame.mass",
            "changed",
        ),
        ("frame.mass: {unit: kg}", "frame.mass: {unit: kg, about: Its mass}", None, ""),
        (
            "frame.mass: {unit: kg}",
            "frame.mass: {unit: kg}\n  frame.colour: {type: text}",
            "facts.frame.colour",
            "added",
        ),
        ("value: 70 kg", "value: 71 kg", "tables.lightest", "changed"),
        ("frame.width + frame.length, unit", "frame.width - frame.length, unit", "derived.size", "changed"),
        ("categories: [seat, frame]", "categories: [seat, frame, wheel]", "categories", "changed"),
        ("[aluminium, titanium]}", "[aluminium, titanium, lead]}", "materials", "changed"),
        ("facts:", "course: clockwise\nfacts:", "course", "changed"),
        ("facts:", "decision: {official: strict}\nfacts:", "decision.official", "changed"),
        ("facts:", "instruments: {tape: {resolution: 1 mm}}\nfacts:", "instruments.tape", "added"),
        ("facts:", "conditions: {empty: {fuel: unusable}}\nfacts:", "conditions.empty", "added"),
        ("facts:", "lists: {joints: {fields: {name: {type: text}}}}\nfacts:", "lists.joints", "added"),
    ],
)
def test_what_no_clause_speaks_of_is_told_by_its_section(
    before: str, after: str, clause: str | None, change: str
) -> None:
    more = MORE.replace(before, after, 1)
    text = "check: {limit: frame.width, at_most: 1 m}"
    new = _pack_with(text, more)
    found = [(c.clause, c.change) for c in compare(pack(text), new)]
    assert found == ([] if clause is None else [(clause, change)])


def _pack_with(clause: str, more: str) -> Pack:
    head = HEAD.replace("course: anticlockwise\n", "") if "course:" in more else HEAD
    text = f'{head}{more}\nclauses:\n  "1": {{title: T, text: Words, {clause}}}\n'
    return build_pack(parse_document(text.encode(), "pack.yaml", "PK"))


@each_row(
    ("before", "after", "change"),
    [
        ("severity: mandatory", "severity: advisory", "relaxed"),
        ("consequence: A warning", "consequence: Exclusion", "changed"),
        ("penalty: 5 points", "penalty: 6 points", "changed"),
        ("penalty: {amount: 2, unit: laps}", "penalty: {amount: 3 - 1, unit: laps}", None),
        ("since: 2020-03-01", "since: 2020-04-01", "changed"),
        ("act: Cut it.", "act: Saw it.", "reworded"),
        ("interpretation: So.", "interpretation: Or so.", "reworded"),
        ("title: T", "title: U", "reworded"),
    ],
)
def test_the_rest_of_a_clause_is_compared_too(before: str, after: str, change: str | None) -> None:
    check = "check: {limit: frame.width, at_most: 1 m}"
    packs = [pack_of(f'"1": {{text: Words, {part}, {check}}}', MORE) for part in (before, after)]
    assert [c.change for c in compare(*packs)] == ([] if change is None else [change])


@pytest.mark.parametrize(
    ("before", "after", "change"),
    [
        ("", "earlier: [{before: 2019-01-01, check: none}]", "relaxed"),
        ("", "earlier: [{before: 2019-01-01, check: {limit: frame.width, at_most: 2 m}}]", "relaxed"),
        ("", "earlier: [{before: 2019-01-01, check: {limit: frame.width, at_most: 900 mm}}]", "tightened"),
        (
            "earlier: [{before: 2019-01-01, until: 2021-12-31, check: none}]",
            "earlier: [{before: 2019-01-01, until: 2022-12-31, check: none}]",
            "relaxed",
        ),
        (
            "earlier: [{before: 2019-01-01, check: none}]",
            "earlier: [{before: 2019-01-01, check: {limit: frame.width, at_most: 2 m}}]",
            "tightened",
        ),
    ],
)
def test_what_older_cars_keep_is_compared_too(before: str, after: str, change: str) -> None:
    check = "check: {limit: frame.width, at_most: 1 m}"
    old, new = (
        pack_of(f'"1": {{title: T, {part}{", " if part else ""}{check}}}', MORE) for part in (before, after)
    )
    assert [c.change for c in compare(old, new)] == [change]
    assert [c.change for c in compare(new, old)] == [{"relaxed": "tightened", "tightened": "relaxed"}[change]]


def test_older_cars_that_keep_their_limit_do_not_soften_a_tightened_clause() -> None:
    old = pack("check: {limit: frame.width, at_most: 1 m}")
    new = pack(
        "check: {limit: frame.width, at_most: 900 mm},"
        " earlier: [{before: 2019-01-01, until: 2021-12-31, check: {limit: frame.width, at_most: 1 m}}]"
    )
    (found,) = compare(old, new)
    assert (found.change, found.by) == ("tightened", "100 mm")
    assert found.words[1] == "cars from before 2019-01-01, until 2021-12-31 keep frame.width at most 1 m"


# --- laws ------------------------------------------------------------------------------------------------------

BOUNDS = st.sampled_from(
    [
        "at_most: 1 m",
        "at_most: 1100 mm",
        "below: 1 m",
        "at_least: 500 mm",
        "at_least: 500 mm, at_most: 1 m",
        "at_most: frame.length",
        "at_most: frame.length + 1 mm",
        "nominal: 1 m, plus_minus: 5 mm",
        "exactly: 1 m",
        "at_most: 1 m if engine.kind == 'two stroke' else 2 m",
    ]
)
PARTS = st.one_of(
    BOUNDS.map(lambda bound: f"{{limit: frame.width, {bound}}}"),
    st.sampled_from(
        [
            "{banned: [steel]}",
            "{banned: [steel, titanium]}",
            "{within: seat, allowed: [light metal]}",
            "{required: [seat]}",
            "{required: [seat, frame], at_least: 1}",
            "{valid: seat.made + 5 years}",
            "{valid: seat.made + 6 years}",
            "{holds: frame.width < frame.length}",
            "{limit: frame.mass, at_least: lightest(engine.capacity)}",
        ]
    ),
)
CHECKS = st.one_of(
    PARTS,
    st.builds(
        lambda kind, parts: f"{{{kind}: [{', '.join(parts)}]}}",
        st.sampled_from(["all_of", "any_of", "none_of"]),
        st.lists(PARTS, min_size=1, max_size=3),
    ),
)
VALUES = st.sampled_from([60, 70, 75])


@examples(60)
@given(before=CHECKS, after=CHECKS, values=st.tuples(VALUES, VALUES))
def test_there_and_back_are_mirror_images(before: str, after: str, values: tuple[int, int]) -> None:
    old, new = (
        pack(f"check: {check}", MORE.replace("value: 70 kg", f"value: {value} kg"))
        for check, value in zip((before, after), values, strict=True)
    )
    turned = {"tightened": "relaxed", "relaxed": "tightened"}
    forth, back = compare(old, new), compare(new, old)
    assert [(c.clause, turned.get(c.change, c.change)) for c in forth] == [(c.clause, c.change) for c in back]
    assert [(c.old, c.new) for c in forth] == [(c.new, c.old) for c in back]
    assert all(c.change in CHANGES for c in forth)


@examples(40)
@given(check=CHECKS)
def test_a_pack_differs_in_nothing_from_itself(check: str) -> None:
    assert compare(pack(f"check: {check}"), pack(f"check: {check}")) == ()


DUNLIN = Path(__file__).parents[3] / "rulepacks/dunlin"


def test_the_two_dunlin_editions() -> None:
    old, new = (load_edition(str(DUNLIN / f"{edition}.yaml")) for edition in ("2025.1", "2026.1"))
    told = {(c.clause, c.change): c.by for c in compare(old, new)}
    assert told[("3.3", "tightened")] == "1.2 %"
    assert told[("5.1", "relaxed")] == "15.00 GBP"
    assert told[("8.2", "tightened")] == "1"
    assert {("3.4", "added"), ("3.10", "withdrawn"), ("4.4", "renumbered"), ("2.7", "reworded")} <= set(told)
    assert compare(old, old) == compare(new, new) == ()


def test_the_dunlin_bulletins() -> None:
    before, after = (load_pack(open_folder(DUNLIN), date(2026, *day)) for day in ((6, 30), (7, 20)))
    assert [(c.clause, c.change, c.by) for c in compare(before, after)] == [
        ("3.3", "tightened", "0.6 %"),
        ("6.3", "relaxed", ""),
    ]


def turned_round(value: Plain) -> Plain:
    """The same data with the keys of every mapping in the opposite order."""
    if isinstance(value, dict):
        return {key: turned_round(inside) for key, inside in reversed(value.items())}
    return [turned_round(one) for one in value] if isinstance(value, list) else value


@pytest.mark.deep
def test_a_file_in_another_order_is_the_same_pack() -> None:
    pack = load_edition(str(DUNLIN / "2026.1.yaml"))
    text = to_yaml(turned_round(pack.document.data))
    again = build_pack(parse_document(text.encode(), str(DUNLIN / "turned.yaml"), "PK"))
    assert list(again.clauses) == list(pack.clauses)[::-1]
    assert compare(pack, again) == compare(again, pack) == ()
