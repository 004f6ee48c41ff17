"""Checks for many: lists, categories, pairs, runs, guards of entries, and what happens when none is left."""

from __future__ import annotations

from typing import Any

import pytest

from checker.reading.problems import InputError
from checker.report.words.acts import act_words
from tests.examples import each_row
from tests.kinds.workbench import judge, problems, shown

FACTS = "{car.class: {one_of: [open, closed]}}"
MORE = """{
  lists: {
    joints: {known_by: name, fields: {name: {type: text}, locked: {type: truth}, wall: {unit: mm}, kind: {type: text},
      tags: {type: text, several: true}, least: {unit: mm, default: 2 mm}, double: {formula: 2 * wall, unit: mm}}},
    axles: {known_by: name, fields: {name: {type: text}, position: {unit: mm}, load: {unit: kg}}},
    bare: {fields: {size: {unit: mm}}},
    components: {fields: {forged: {type: truth, default: false}, bore: {unit: mm, optional: true}}}
  },
  categories: [brakes/disc, brakes/pad, wheels, safety/kill switch],
  materials: {steel: [], light metal: [aluminium, exotic], exotic: [titanium]},
  tables: {wanted: {by: kind, rows: [{kind: tube, wall: 2 mm, tag: red}, {kind: any, wall: 3 mm, tag: blue}]}}
}"""


def told(check: str, **car: Any) -> tuple[str, str | None]:
    return shown(judge(check, car, FACTS, MORE))


def joint(name: str, wall: str | None = None, **more: Any) -> dict[str, Any]:
    return {"name": name, **({"wall": wall} if wall else {}), **more}


THIN = joint("upper", "1.8 mm")
THICK = joint("lower", "2.5 mm")


@each_row(
    ("joints", "expected"),
    [
        ([THICK], ("pass", "+0.5 mm")),
        ([THICK, THIN], ("fail", "-0.2 mm")),
        ([THICK, joint("middle")], ("not_shown", None)),
        ([THIN, joint("middle")], ("fail", "-0.2 mm")),
        ([], ("not_applicable", None)),
        (None, ("not_shown", None)),
    ],
)
def test_every_entry_of_a_list(joints: Any, expected: tuple[str, str | None]) -> None:
    car = {} if joints is None else {"joints": joints}
    assert told("{each: joints, limit: wall, at_least: 2 mm}", **car) == expected


PIECES = [
    {"label": "S1", "mass": "4 kg", "at": {"behind_front_axle": "1500 mm", "right_of_centre": "500 mm"}},
    {"label": "S2", "mass": "5 kg", "at": {"left_of_centre": "20 in", "above_ground": "300 mm"}},
]


@each_row(
    ("check", "expected"),
    [
        ("{each: ballast, limit: at.right_of_centre, at_most: 510 mm}", ("pass", "+10 mm")),
        ("{each: ballast, limit: at.left_of_centre, at_most: 500 mm}", ("fail", "-8 mm")),
        ("{each: ballast, limit: abs(at.left_of_centre), at_most: 500 mm}", ("fail", "-8 mm")),
        (
            "{each: ballast, where: label == 'S2', limit: at.above_ground, at_most: 400 mm}",
            ("pass", "+100 mm"),
        ),
        ("{each: ballast, limit: at.above_ground, at_most: 400 mm}", ("not_shown", None)),
        (
            "{limit: sum(b.mass * b.at.left_of_centre for b in ballast), at_least: 0 kg * (1 mm)}",
            ("pass", "+0.54 kg m"),
        ),
        ("{limit: count(b for b in ballast if stated(b.at.behind_front_axle)), at_least: 2}", ("fail", "-1")),
        ("{each: ballast, when: stated(at.above_ground), limit: mass, at_least: 5 kg}", ("pass", "0 kg")),
        (
            "{pairs: ballast, limit: abs(a.at.left_of_centre - b.at.left_of_centre), at_least: 1 m}",
            ("pass", "+0.008 m"),
        ),
        ("{runs: ballast, limit: last(run).at.left_of_centre, at_least: 500 mm}", ("pass", "+8 mm")),
    ],
)
def test_places_of_entries_are_read_in_every_list(check: str, expected: tuple[str, str | None]) -> None:
    assert told(check, ballast=PIECES) == expected


def test_a_place_that_nobody_stated_is_named_as_the_rule_asks_for_it() -> None:
    found = judge("{each: ballast, limit: at.right_of_centre, at_most: 5 mm}", {"ballast": [{"label": "S1"}]})
    assert found.unknown.absent == ("S1: at.right_of_centre",)


def test_a_place_is_measured_like_any_field() -> None:
    place = {"right_of_centre": {"value": "499 mm", "uncertainty": "2 mm"}}
    found = judge(
        "{each: ballast, limit: at.right_of_centre, at_most: 500 mm}",
        {"ballast": [{"label": "S1", "at": place}]},
    )
    assert found.outcome == "too_close"


BASE = {"wheelbase_left": {"value": "2210 mm", "uncertainty": "2 mm"}, "wheelbase_right": "2208 mm"}


@pytest.mark.parametrize(
    ("check", "place", "expected"),
    [
        ("behind_front_axle, at_most: 2258 mm", {"behind_rear_axle": "50 mm"}, ("too_close", -1)),
        ("behind_rear_axle, at_most: 40 mm", {"behind_front_axle": "2250 mm"}, ("too_close", -1)),
        ("behind_rear_axle, at_most: 40 mm", {"ahead_of_rear_axle": "-50 mm"}, ("fail", -10)),
        ("behind_front_axle, at_least: -40 mm", {"ahead_of_front_axle": "50 mm"}, ("fail", -10)),
    ],
)
def test_a_place_told_from_one_axle_is_read_from_the_other_with_the_wheelbase(
    check: str, place: dict[str, str], expected: tuple[str, int]
) -> None:
    clause, pieces = f"{{each: ballast, limit: at.{check}}}", [{"label": "S1", "at": place}]
    found = judge(clause, {"ballast": pieces, "dimensions": BASE})
    assert found.margin is not None
    assert (found.outcome, found.margin.value) == expected
    without = judge(clause, {"ballast": pieces})
    if expected[0] == "too_close":
        assert without.unknown.absent == ("dimensions.wheelbase_left", "dimensions.wheelbase_right")
        assert "dimensions.wheelbase_right" in found.taken_as_exact
    else:
        assert without.margin == found.margin


@pytest.mark.parametrize(
    ("check", "code"),
    [
        ("{each: ballast, limit: at.behind_rear_axel, at_most: 5 mm}", "PK201"),
        ("{limit: at.behind_front_axle, at_most: 5 mm}", "PK205"),
        ("{limit: sum(b.at.side for b in ballast), at_most: 5 mm}", "PK205"),
        ("{limit: sum(b.name.at for b in ballast), at_most: 5 mm}", "PK105"),
        ("{each: ballast, limit: at.behind_front_axle, at_most: 5 kg}", "PK301"),
    ],
)
def test_what_is_no_place_is_a_mistake(check: str, code: str) -> None:
    assert [p.code for p in problems(check)] == [code]


def test_a_sum_over_a_run_counts_a_part_in_what_holds_it_alone() -> None:
    arm = {"name": "arm", "category": "wheels", "mass": "10 kg"}
    held = {**arm, "parts": [{"name": "bush", "mass": "3 kg"}]}
    check = "{runs: components, shortest: 3, limit: sum(c.mass for c in run), at_most: 20 kg}"
    assert told(check, components=[held, arm]) == ("pass", "0 kg")
    only_parts = (
        "{runs: components, shortest: 1, longest: 1, limit: sum(c.mass for c in run), at_least: 3 kg}"
    )
    assert told(only_parts, components=[held, arm]) == ("pass", "0 kg")


def test_fields_may_be_called_like_functions_and_sections() -> None:
    more = "{lists: {stints: {known_by: name, fields: {name: {type: text}, day: {type: date}, first: {type: count}, tyres: {type: text}}}}}"
    facts = "{tyres.pressure: {unit: bar}}"
    stints = [{"name": "a", "day": "2026-05-03", "first": 3, "tyres": "dry"}]
    car = {"stints": stints, "tyres": {"pressure": "2 bar"}}
    for check in (
        "{each: stints, limit: first, at_most: 3}",
        "{each: stints, limit: tyres, exactly: \"'dry'\"}",
        '{each: stints, limit: day, at_least: "day(2026, 5, 3)"}',
        "{each: stints, limit: tyres.pressure, at_most: 2 bar, unless: tyres == 'wet'}",
        "{limit: sum(s.first for s in stints), at_most: 3}",
        "{limit: first(stints).first, at_most: 3}",
    ):
        assert shown(judge(check, car, facts, more))[0] == "pass", check


def axle(name: str, position: str | None, **more: Any) -> dict[str, Any]:
    return {"name": name, **({"position": position} if position else {}), **more}


GAP = "limit: last(run).position - first(run).position, at_least: 100 mm"


def test_neighbours_stand_in_the_order_of_a_field() -> None:
    """Declared out of order, 0, 250 and 200 mm have the gaps 200 and 50, not 250 and -50."""
    axles = [axle("a", "0 mm"), axle("b", "250 mm"), axle("c", "200 mm")]
    check = f"{{runs: axles, by: position, longest: 2, {GAP}}}"
    found = judge(check, {"axles": axles}, FACTS, MORE)
    assert shown(found) == ("fail", "-50 mm")
    assert found.item == "c to b"
    assert told(f"{{runs: axles, longest: 2, {GAP}}}", axles=axles) == ("fail", "-150 mm")
    assert told(check, axles=[*axles, axle("d", None)]) == ("not_shown", None)
    assert told(check, axles=[axle("a", "0 mm"), axle("b", "100 mm")]) == ("pass", "0 mm")


def test_entries_stand_in_the_order_of_their_places() -> None:
    pieces = [{"label": n, "at": {"behind_front_axle": at}} for n, at in (("x", "900 mm"), ("y", "100 mm"))]
    check = (
        "{runs: ballast, by: at.behind_front_axle, limit: last(run).at.behind_front_axle, exactly: 900 mm}"
    )
    assert told(check, ballast=pieces) == ("pass", "0 mm")


UNIQUE = "{lists: {tags: {known_by: name, unique: number, fields: {name: {type: text}, number: {type: text}, size: {unit: mm}}}}}"


@pytest.mark.parametrize(
    ("tags", "message"),
    [
        (
            [{"name": "a", "number": "X 7"}, {"name": "b", "number": "x  7"}],
            "tags: number x  7 stands more than once",
        ),
        ([{"name": "a", "number": "7", "count": 2}], "tags: number 7 stands more than once"),
        ([{"name": "a", "number": "7"}, {"name": "b", "number": "8"}, {"name": "c"}, {"name": "d"}], None),
    ],
)
def test_a_value_that_may_stand_once_stands_once(tags: Any, message: str | None) -> None:
    check = "{each: tags, limit: size, at_most: 5 mm}"
    if message is None:
        assert judge(check, {"tags": tags}, more=UNIQUE).outcome == "not_shown"
        return
    with pytest.raises(InputError) as caught:
        judge(check, {"tags": tags}, more=UNIQUE)
    (problem,) = caught.value.problems
    assert problem.code == "CD209"
    assert problem.message.startswith(message)


def test_only_a_field_can_be_unique() -> None:
    found = problems(
        "{each: tags, limit: size, at_most: 5 mm}", more=UNIQUE.replace("unique: number", "unique: nombre")
    )
    assert [(p.code, p.hint) for p in found] == [("PK205", "Did you mean 'number'?")]


def test_every_failing_entry_is_named_and_a_fail_lists_what_is_not_shown() -> None:
    thinner = joint("rear", "1.5 mm")
    found = judge(
        "{each: joints, limit: wall, at_least: 2 mm}", {"joints": [THIN, thinner, joint("x")]}, FACTS, MORE
    )
    assert found.outcome == "fail"
    assert found.item == "rear"
    assert [b.item for b in found.branches if b.outcome == "fail"] == ["upper", "rear"]
    assert found.unknown.absent == ("x: wall",)
    assert "upper: " in act_words(found.act)
    assert "rear: " in act_words(found.act)


@each_row(
    ("if_none", "stated", "expected"),
    [
        ("", [], "not_applicable"),
        ("if_none: not_shown", [], "not_shown"),
        ("if_none: pass", [], "pass"),
        ("if_none: fail", [], "fail"),
        ("if_none: not_applicable", [], "not_applicable"),
        ("if_none: pass", None, "not_shown"),
        ("if_none: fail", None, "not_shown"),
        ("if_none: not_applicable", None, "not_shown"),
        ("where: wall > 9 mm", [THIN], "not_shown"),
        ("where: wall > 9 mm", [], "not_shown"),
        ("where: wall > 9 mm, if_none: pass", [THIN], "pass"),
        ("where: wall > 9 mm, if_none: fail", [THIN], "fail"),
        ("where: wall > 9 mm, if_none: not_applicable", [THIN], "not_applicable"),
    ],
)
def test_when_none_is_left(if_none: str, stated: Any, expected: str) -> None:
    keys = f"each: joints, {if_none + ', ' if if_none else ''}limit: wall, at_least: 1 mm"
    car = {} if stated is None else {"joints": stated}
    assert told(f"{{{keys}}}", **car)[0] == expected


@pytest.mark.parametrize("mode", ["pairs", "runs"])
@pytest.mark.parametrize(
    ("axles", "more", "expected"),
    [
        ([], "", "not_applicable"),
        ([{"name": "one", "position": "0 mm"}], "", "not_shown"),
        ([{"name": "one", "position": "0 mm"}], "if_none: pass,", "pass"),
        (None, "if_none: pass,", "not_shown"),
    ],
)
def test_when_there_is_no_pair_or_run(mode: str, axles: Any, more: str, expected: str) -> None:
    limit = "limit: abs(a.position - b.position)" if mode == "pairs" else "limit: last(run).position"
    car = {} if axles is None else {"axles": axles}
    assert told(f"{{{mode}: axles, {more} {limit}, at_most: 9 mm}}", **car)[0] == expected


@each_row(
    ("check", "components", "expected"),
    [
        ("{within: brakes, limit: mass, at_least: 2 kg}", [("brakes/disc", "1.5 kg")], ("fail", "-0.5 kg")),
        ("{within: Brakes, limit: mass, at_least: 2 kg}", [("brakes/disc", "2 kg")], ("pass", "0 kg")),
        ("{within: brakes, limit: mass, at_least: 2 kg}", [("brakes", "3 kg")], ("pass", "+1 kg")),
        ("{within: brakes, limit: mass, at_least: 2 kg}", [("wheels", "1 kg")], ("not_shown", None)),
        ("{within: brakes, limit: mass, at_least: 2 kg}", [], ("not_shown", None)),
        ("{within: brakes, limit: mass, at_least: 2 kg}", None, ("not_shown", None)),
        (
            "{within: brakes, if_none: pass, limit: mass, at_least: 2 kg}",
            [("wheels", "1 kg")],
            ("pass", None),
        ),
        ("{within: brakes, if_none: pass, limit: mass, at_least: 2 kg}", None, ("not_shown", None)),
        # a category that is not stated may or may not belong here
        ("{within: brakes, limit: mass, at_least: 2 kg}", [(None, "3 kg")], ("not_shown", None)),
        ("{within: brakes, limit: mass, at_least: 2 kg}", [(None, "1 kg")], ("not_shown", None)),
        (
            "{within: brakes, limit: mass, at_least: 2 kg}",
            [(None, "3 kg"), ("brakes/pad", "4 kg")],
            ("pass", "+1 kg"),
        ),
        (
            "{within: brakes, limit: mass, at_least: 2 kg}",
            [(None, "1 kg"), ("brakes/pad", "4 kg")],
            ("not_shown", None),
        ),
        (
            "{within: brakes, limit: mass, at_least: 2 kg}",
            [(None, "3 kg"), ("brakes/pad", "1 kg")],
            ("fail", "-1 kg"),
        ),
        ("{within: brakes, if_none: pass, limit: mass, at_least: 2 kg}", [(None, "3 kg")], ("pass", "+1 kg")),
        (
            "{within: brakes, if_none: fail, limit: mass, at_least: 2 kg}",
            [(None, "3 kg")],
            ("not_shown", None),
        ),
        (
            "{within: brakes, if_none: not_applicable, limit: mass, at_least: 2 kg}",
            [(None, "3 kg")],
            ("pass", "+1 kg"),
        ),
    ],
)
def test_components_within_a_category(check: str, components: Any, expected: tuple[str, str | None]) -> None:
    car: dict[str, Any] = {}
    if components is not None:
        car["components"] = [
            {"name": str(at), "mass": mass, **({"category": category} if category else {})}
            for at, (category, mass) in enumerate(components)
        ]
    assert told(check, **car) == expected


def test_parts_are_seen_with_their_parents_category_unless_they_state_one() -> None:
    parts = [{"name": "bell", "mass": "1 kg"}, {"name": "sticker", "category": "wheels", "mass": "0.1 kg"}]
    disc = {"name": "disc", "category": "brakes/disc", "mass": "5 kg", "parts": parts}
    found = judge("{within: brakes, limit: mass, at_least: 2 kg}", {"components": [disc]}, FACTS, MORE)
    assert shown(found) == ("fail", "-1 kg")
    assert found.item == "bell"
    assert len(found.branches) == 2


@pytest.mark.parametrize(
    ("where", "joints", "expected"),
    [
        ("locked", [joint("a", "1 mm", locked=False), joint("b", "3 mm", locked=True)], ("pass", "+1 mm")),
        ("locked", [joint("a", "1 mm", locked=True)], ("fail", "-1 mm")),
        ("locked", [joint("a", "1 mm"), joint("b", "3 mm", locked=True)], ("not_shown", None)),
        ("locked", [joint("a", "4 mm"), joint("b", "3 mm", locked=True)], ("pass", "+1 mm")),
        ("locked", [joint("a", "4 mm")], ("not_shown", None)),
    ],
)
def test_an_unknown_where_matters_only_where_it_can_change_the_outcome(
    where: str, joints: list[Any], expected: tuple[str, str | None]
) -> None:
    assert told(f"{{each: joints, where: {where}, limit: wall, at_least: 2 mm}}", joints=joints) == expected


@each_row(
    ("guard", "joints", "expected"),
    [
        ("unless: locked", [joint("a", "1 mm", locked=True), THICK | {"locked": False}], ("pass", "+0.5 mm")),
        ("unless: locked", [joint("a", "1 mm", locked=True)], ("not_applicable", None)),
        ("unless: locked", [joint("a", "1 mm")], ("not_shown", None)),
        ("unless: locked", [joint("a", "3 mm")], ("pass", "+1 mm")),
        ("when: locked", [joint("a", "1 mm", locked=False)], ("not_applicable", None)),
        (
            "when: not locked and car.class == 'open'",
            [joint("a", "1 mm", locked=True)],
            ("not_applicable", None),
        ),
    ],
)
def test_guards_are_asked_for_each_entry(
    guard: str, joints: list[Any], expected: tuple[str, str | None]
) -> None:
    assert told(f"{{each: joints, {guard}, limit: wall, at_least: 2 mm}}", joints=joints) == expected


@pytest.mark.parametrize(
    ("number", "joints", "expected"),
    [
        ("1", None, "not_applicable"),
        ("1", [THIN], "not_applicable"),
        ("2", None, "not_shown"),
        ("2", [THIN], "fail"),
    ],
)
def test_a_guard_that_names_nothing_of_the_entry_is_asked_before_the_list_is_looked_at(
    number: str, joints: Any, expected: str
) -> None:
    car: dict[str, Any] = {"car": {"number": number}, **({} if joints is None else {"joints": joints})}
    check = "{each: joints, unless: car.number == '1', limit: wall, at_least: 2 mm}"
    assert told(check, **car)[0] == expected


def test_an_unknown_guard_softens_a_breach_and_leaves_a_pass() -> None:
    check = "{each: joints, when: car.class == 'open', limit: wall, at_least: 2 mm}"
    assert told(check, joints=[THICK])[0] == "pass"
    assert told(check, joints=[THIN])[0] == "not_shown"
    found = judge(check, {"joints": [THIN]}, FACTS, MORE)
    assert found.unknown.absent == ("car.class",)


@each_row(
    ("check", "joints", "expected"),
    [
        (
            "{each: joints, let: {row: wanted(kind)}, limit: wall, at_least: row.wall}",
            [joint("a", "2.5 mm", kind="tube")],
            ("pass", "+0.5 mm"),
        ),
        (
            "{each: joints, let: {row: wanted(kind)}, all_of: [{limit: wall, at_least: row.wall}, {allowed: row.tag, of: tags}]}",
            [joint("a", "2.5 mm", kind="rod", tags=["blue"])],
            ("fail", "-0.5 mm"),
        ),
        (
            "{each: joints, let: {row: wanted(kind), spare: wall - row.wall}, limit: spare, at_least: 0 mm}",
            [joint("a", "2.5 mm", kind="tube")],
            ("pass", "+0.5 mm"),
        ),
        (
            "{each: joints, let: {thick: wall > 2 mm}, where: thick, holds: locked}",
            [joint("a", "1 mm", locked=False), joint("b", "3 mm", locked=True)],
            ("pass", None),
        ),
        (
            "{each: joints, let: {thick: wall > 2 mm}, when: thick, holds: locked}",
            [joint("a", "1 mm")],
            ("not_applicable", None),
        ),
        ("{each: joints, limit: wall, at_least: least}", [joint("a", "2.5 mm")], ("pass", "+0.5 mm")),
        ("{each: joints, limit: double, at_least: 5 mm}", [joint("a", "2.5 mm")], ("pass", "0 mm")),
        (
            "{each: joints, limit: tags, exactly: car.number, of_several: worst}",
            [joint("a", tags=["1", "2"])],
            ("fail", "-1"),
        ),
    ],
)
def test_names_and_fields(check: str, joints: list[Any], expected: tuple[str, str | None]) -> None:
    assert told(check, joints=joints) == expected


def test_a_field_whose_name_means_something_else_too_is_refused_where_it_is_used() -> None:
    more = (
        "{lists: {joints: {fields: {wall: {unit: mm}, depth: {unit: mm}}}}, derived: {wall: {formula: 2 mm}}}"
    )
    (found,) = problems("{each: joints, limit: wall, at_least: 2 mm}", more=more)
    assert found.code == "PK202"
    assert not problems("{each: joints, limit: depth, at_least: 2 mm}", more=more)
    assert not problems("{limit: sum(j.wall for j in joints), at_least: 2 mm}", more=more)


def axles(*positions: int) -> list[dict[str, Any]]:
    return [
        {"name": f"axle {at}", "position": f"{mm} mm", "load": "100 kg"} for at, mm in enumerate(positions)
    ]


SPAN = "let: {span: last(run).position - first(run).position}"


@each_row(
    ("check", "positions", "expected"),
    [
        ("{pairs: axles, limit: abs(a.position - b.position), at_least: 5 mm}", (0, 9, 14), ("pass", "0 mm")),
        (
            "{pairs: axles, limit: abs(a.position - b.position), at_least: 6 mm}",
            (0, 9, 14),
            ("fail", "-1 mm"),
        ),
        (
            "{pairs: axles, where: a.position < b.position, limit: b.position, at_most: 9 mm}",
            (9, 0, 5),
            ("pass", "+4 mm"),
        ),
        (f"{{runs: axles, {SPAN}, limit: span, at_least: 5 mm}}", (0, 9, 14), ("pass", "0 mm")),
        (f"{{runs: axles, {SPAN}, limit: span, at_most: 13 mm}}", (0, 9, 14), ("fail", "-1 mm")),
        (f"{{runs: axles, longest: 2, {SPAN}, limit: span, at_most: 13 mm}}", (0, 9, 14), ("pass", "+4 mm")),
        (f"{{runs: axles, shortest: 3, {SPAN}, limit: span, at_least: 14 mm}}", (0, 9, 14), ("pass", "0 mm")),
        (
            f"{{runs: axles, shortest: 4, {SPAN}, limit: span, at_least: 14 mm}}",
            (0, 9, 14),
            ("not_shown", None),
        ),
        (
            "{runs: axles, shortest: 1, longest: 1, limit: first(run).position, at_most: 14 mm}",
            (0, 9, 14),
            ("pass", "0 mm"),
        ),
        (
            "{runs: axles, limit: sum(x.load for x in run), at_most: 100 kg * count(run)}",
            (0, 9, 14),
            ("pass", "0 kg"),
        ),
        ("{runs: axles, limit: count(run), at_most: 2}", (0, 9, 14), ("fail", "-1")),
    ],
)
def test_pairs_and_runs(check: str, positions: tuple[int, ...], expected: tuple[str, str | None]) -> None:
    assert told(check, axles=axles(*positions)) == expected


def test_runs_and_pairs_name_their_entries() -> None:
    found = judge(
        f"{{runs: axles, {SPAN}, limit: span, at_most: 6 mm}}", {"axles": axles(0, 5, 14)}, FACTS, MORE
    )
    assert found.item == "axle 0 to axle 2"
    found = judge("{pairs: axles, limit: a.position, at_most: 4 mm}", {"axles": axles(0, 5, 14)}, FACTS, MORE)
    assert found.item == "axle 1 and axle 2"


def test_an_entry_that_stands_twice_makes_a_pair_and_a_run_with_itself() -> None:
    wheels = [{"name": "front", "position": "3 mm", "count": 2}]
    assert told("{pairs: axles, limit: abs(a.position - b.position), at_most: 1 mm}", axles=wheels) == (
        "pass",
        "+1 mm",
    )
    assert told("{runs: axles, limit: count(run), exactly: 2}", axles=wheels) == ("pass", "0")


def test_an_entry_without_a_name_is_called_by_its_path() -> None:
    found = judge("{each: bare, limit: size, at_least: 2 mm}", {"bare": [{"size": "1 mm"}]}, FACTS, MORE)
    assert found.item == "bare[0]"


@each_row(
    ("check", "code", "text"),
    [
        ("{within: brake, limit: mass, at_least: 2 kg}", "PK204", "brake"),
        ("{each: joint, limit: wall, at_least: 2 mm}", "PK201", "joint"),
        ("{each: joints, limit: wal, at_least: 2 mm}", "PK201", "wal"),
        ("{each: joints, limit: position, at_least: 2 mm}", "PK205", "position"),
        ("{pairs: axles, limit: a.wall, at_least: 2 mm}", "PK205", "a.wall"),
        ("{pairs: axles, limit: position, at_least: 2 mm}", "PK205", "position"),
        ("{limit: wall, at_least: 2 mm}", "PK205", "wall"),
        ("{each: joints, pairs: axles, limit: wall, at_least: 2 mm}", "PK501", "pairs"),
        ("{each: joints, all_of: [{each: axles, limit: load, at_least: 1 kg}]}", "PK506", "each"),
        ("{within: brakes, all_of: [{within: wheels, limit: mass, at_least: 1 kg}]}", "PK506", "within"),
        ("{where: 1 > 0, limit: car.number, exactly: car.number}", "PK502", "where"),
        ("{if_none: pass, limit: car.number, exactly: car.number}", "PK502", "if_none"),
        ("{each: joints, if_none: maybe, limit: wall, at_least: 2 mm}", "PK502", "maybe"),
        ("{each: joints, shortest: 2, limit: wall, at_least: 2 mm}", "PK502", "shortest"),
        ("{runs: axles, shortest: 0, limit: count(run), at_least: 2}", "PK302", "0"),
        ("{runs: axles, shortest: 3, longest: 2, limit: count(run), at_least: 2}", "PK503", "2"),
        ("{each: joints, where: wall, limit: wall, at_least: 2 mm}", "PK303", "wall"),
        ("{each: joints, when: wall, limit: wall, at_least: 2 mm}", "PK303", "wall"),
        ("{each: joints, let: {wall: 2 mm}, limit: wall, at_least: 2 mm}", "PK202", "wall"),
        ("{each: joints, let: {double: 2 mm}, limit: wall, at_least: 2 mm}", "PK202", "double"),
        ("{each: joints, let: {joints: 2 mm}, limit: wall, at_least: 2 mm}", "PK202", "joints"),
        ("{each: joints, let: {x y: 2 mm}, limit: wall, at_least: 2 mm}", "PK202", "x y"),
        ("{each: joints, let: {x: y, y: 2 mm}, limit: wall, at_least: 2 mm}", "PK201", "y"),
        ("{each: joints, let: {}, limit: wall, at_least: 2 mm}", "PK101", "{}"),
        ("{each: joints, by: wall, limit: wall, at_least: 2 mm}", "PK502", "by"),
        ("{runs: axles, by: place, limit: last(run).load, at_least: 2 kg}", "PK205", "place"),
        ("{runs: axles, by: name, limit: last(run).load, at_least: 2 kg}", "PK302", "name"),
        ("{each: joints, let: {car: 2 mm}, limit: wall, at_least: 2 mm}", "PK202", "car"),
    ],
)
def test_mistakes_are_told_at_their_place(check: str, code: str, text: str) -> None:
    found = problems(check, FACTS, MORE)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text
