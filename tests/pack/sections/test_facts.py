"""Facts and lists: every attribute, what entrants may then declare, and what is wrong with a definition."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

from checker.car.described.vocabulary import FactType
from checker.report.words.acts import act_words
from tests.examples import each_row
from tests.kinds.workbench import judge, pack_of, problems, shown

CHECK = "{limit: car.number, exactly: car.number}"


def fact(attributes: str, more: str = "{}") -> FactType:
    """The type of the fact a.b with these attributes."""
    return pack_of(CHECK, f"{{a.b: {{{attributes}}}}}", more).vocabulary.facts["a.b"]


@each_row(
    ("attributes", "kind", "default"),
    [
        ("unit: mm, default: 2 in", "quantity", Fraction("50.8")),
        ("unit: mm, default: 1 1/2 in", "quantity", Fraction("38.1")),
        ("unit: '%', default: 5 %", "percent", Fraction(1, 20)),
        ("unit: GBP, default: 12.50 GBP", "quantity", Fraction("12.5")),
        ("unit: months, default: 2 years", "months", Fraction(24)),
        ("unit: days, default: 30 days", "days", Fraction(30)),
        ("type: number, default: 1.5", "number", Fraction(3, 2)),
        ("type: count, default: 3", "number", Fraction(3)),
        ("type: truth, default: false", "truth", False),
        ("type: text, default: some words", "text", "some words"),
        ("type: text, default: no", "text", "no"),
        ("one_of: [front, rear], default: FRONT", "text", "front"),
        ("grades: [C, B, A], default: b", "grade", "B"),
        ("type: date, default: 2026-05-03", "date", date(2026, 5, 3)),
        ("type: date, to: month, default: 2026-02", "date", date(2026, 2, 28)),
        ("type: date, to: [month, year], default: 2026", "date", date(2026, 12, 31)),
        ("unit: mm, several: true, default: [1 mm, 2 mm]", "quantity", (1, 2)),
        ("unit: mm, several: true, default: 1 mm", "quantity", (1,)),
        ("one_of: [x, y], several: true, default: []", "text", ()),
    ],
)
def test_types_and_defaults(attributes: str, kind: str, default: Any) -> None:
    found = fact(attributes)
    assert found.kind.name == kind
    assert found.default == default


def test_words_of_trees() -> None:
    more = "{materials: {steel: [mild steel]}, categories: [brakes/disc]}"
    assert fact("type: material, default: Mild steel", more).default == "mild steel"
    assert fact("type: category, default: brakes", more).default == "brakes"


def test_a_default_is_taken_and_is_not_stated() -> None:
    facts = "{a.b: {unit: mm, default: 5 mm}}"
    assert shown(judge("{limit: a.b, at_most: 5 mm}", {}, facts)) == ("pass", "0 mm")
    assert judge("{holds: stated(a.b)}", {}, facts).outcome == "fail"
    assert judge("{holds: stated(a.b)}", {"a": {"b": "5 mm"}}, facts).outcome == "pass"


def test_who_states_a_fact_and_how_it_is_measured() -> None:
    more = "{instruments: {tape: {resolution: 1 mm, permissible_error: 0.5 mm}}}"
    found = fact("unit: mm, stated_by: official, measured_with: tape, taken: driver aboard, about: how", more)
    assert (found.stated_by, found.measured_with, found.taken, found.about) == (
        "official",
        "tape",
        "driver aboard",
        "how",
    )
    found = fact("unit: mm, uncertainty: 0.1 in, range: [1 mm, 2 in], optional: true")
    assert (found.uncertainty, found.low, found.high, found.optional) == (
        Fraction("2.54"),
        1,
        Fraction("50.8"),
        True,
    )


FOUR = "{flat.gap: {unit: mm, readings: 4}}"


@each_row(
    ("gap", "several", "expected"),
    [
        (["1 mm", "2 mm", "3 mm"], "worst", ("not_shown", None)),
        (["1 mm", "2 mm", "3 mm", "5 mm"], "worst", ("pass", "0 mm")),
        (["1 mm", "2 mm", "3 mm", "4 mm", "6 mm"], "worst", ("fail", "-1 mm")),
        (["1 mm", "2 mm", "3 mm", "4 mm", "5 mm"], "mean", ("pass", "+2 mm")),
        ("1 mm", "worst", ("not_shown", None)),
        ([], "worst", ("not_shown", None)),
    ],
)
def test_a_fact_takes_so_many_readings_or_more(
    gap: Any, several: str, expected: tuple[str, str | None]
) -> None:
    check = f"{{limit: flat.gap, at_most: 5 mm, of_several: {several}}}"
    assert shown(judge(check, {"flat": {"gap": gap}}, FOUR)) == expected


def test_what_is_missing_of_the_readings_is_told_and_what_to_do() -> None:
    found = judge("{limit: max(flat.gap), at_most: 5 mm}", {"flat": {"gap": ["1 mm", "2 mm", "3 mm"]}}, FOUR)
    assert found.unknown.told() == ("flat.gap has 3 of the 4 readings it needs",)
    assert act_words(found.act) == "take 1 more reading of flat.gap"


def test_a_field_takes_so_many_readings_too() -> None:
    more = "{lists: {joints: {known_by: name, fields: {name: {type: text}, wall: {unit: mm, readings: 2}}}}}"
    joints = [{"name": "upper", "wall": ["3 mm", "4 mm"]}, {"name": "lower", "wall": "3 mm"}]
    check = "{each: joints, limit: wall, at_least: 2 mm, of_several: worst}"
    found = judge(check, {"joints": joints}, more=more)
    assert found.unknown.told() == ("lower: wall has 1 of the 2 readings it needs",)
    assert act_words(found.act) == "take 1 more reading of lower: wall"


def test_facts_of_tyres_stand_beside_the_tyre_sets() -> None:
    car = {"tyres": {"pressure": "2.4 bar", "dry": {"front": {"mass": "14 kg"}}}}
    found = judge("{limit: tyres.pressure, at_most: 2.4 bar}", car, "{tyres.pressure: {unit: bar}}")
    assert shown(found) == ("pass", "0 bar")


def test_a_standard_fact_can_be_told_more_of() -> None:
    pack = pack_of(
        CHECK,
        "{fuel.capacity: {unit: L, range: [1 L, 60 L], about: to the brim}, event.session: {one_of: [race, practice]}}",
    )
    assert pack.vocabulary.facts["fuel.capacity"].high == 60_000_000
    assert pack.vocabulary.facts["event.session"].kind.words == ("race", "practice")
    assert pack.vocabulary.facts["fuel.density"].default is None


LISTS = """{lists: {
  joints: {known_by: name, fields: {name: {type: text}, wall: {unit: mm}, bore: {unit: mm},
    both: {formula: wall + bore, unit: cm}, twice: {formula: 2 * both}}},
  components: {fields: {forged: {type: truth, default: false}, made: {type: date, to: year}}}}}"""


def test_lists_and_worked_out_fields() -> None:
    joints = [{"name": "one", "wall": "2 mm", "bore": "3 mm"}]
    assert shown(judge("{each: joints, limit: both, at_most: 1 cm}", {"joints": joints}, more=LISTS)) == (
        "pass",
        "+0.5 cm",
    )
    assert shown(judge("{each: joints, limit: twice, at_most: 10 mm}", {"joints": joints}, more=LISTS)) == (
        "pass",
        "0 mm",
    )
    assert shown(judge("{each: joints, limit: both, at_most: wall}", {"joints": joints}, more=LISTS)) == (
        "fail",
        "-3 mm",
    )


def test_standard_lists_can_be_added_to() -> None:
    components = [{"name": "a", "made": "2020", "forged": True}]
    found = judge("{each: components, valid: made + 10 years}", {"components": components}, more=LISTS)
    assert shown(found) == ("pass", "+1703 days")


@each_row(
    ("facts", "code", "text"),
    [
        ("{a.b: {unit: kgs}}", "PK104", "kgs"),
        ("{a.b: {unit: 12}}", "PK104", "12"),
        ("{a.b: {}}", "PK108", "a.b"),
        ("{a.b: 12}", "PK108", "12"),
        ("{a.b: {unit: mm, type: number}}", "PK108", "a.b"),
        ("{a.b: {type: length}}", "PK108", "length"),
        ("{a.b: {units: mm}}", "PK101", "units"),
        ("{a.b: {unit: mm, readings: 1}}", "PK108", "1"),
        ("{a.b: {unit: mm, readings: true}}", "PK108", "true"),
        ("{a.b: {unit: mm, readings: 3, several: false}}", "PK502", "false"),
        ("{a: {unit: mm}}", "PK202", "a"),
        ("{a.b.c: {unit: mm}}", "PK202", "a.b.c"),
        ("{a.b c: {unit: mm}}", "PK202", "a.b c"),
        ("{a.in: {unit: mm}}", "PK202", "a.in"),
        ("{weight.total: {unit: kg}}", "PK202", "weight.total"),
        ("{weighing.readings: {type: text}}", "PK202", "weighing.readings"),
        ("{fluids.oil: {type: text}}", "PK202", "fluids.oil"),
        ("{a.b: {one_of: []}}", "PK108", "[]"),
        ("{a.b: {one_of: [x, 1]}}", "PK108", "[x, 1]"),
        ("{a.b: {one_of: [x, X]}}", "PK202", "X"),
        ("{a.b: {unit: mm, range: [2 mm, 1 mm]}}", "PK503", "[2 mm, 1 mm]"),
        ("{a.b: {unit: mm, range: [2 mm]}}", "PK108", "[2 mm]"),
        ("{a.b: {unit: mm, range: [2 mm, 1 kg]}}", "PK301", "1 kg"),
        ("{a.b: {type: text, range: [a, b]}}", "PK108", "[a, b]"),
        ("{a.b: {unit: mm, default: 2}}", "PK301", "2"),
        ("{a.b: {unit: mm, range: [1 mm, 3 mm], default: 4 mm}}", "PK503", "4 mm"),
        ("{a.b: {one_of: [front], default: fornt}}", "PK204", "fornt"),
        ("{a.b: {type: count, default: 1.5}}", "PK302", "1.5"),
        ("{a.b: {type: truth, default: maybe}}", "PK302", "maybe"),
        ("{a.b: {type: date, default: 2026-02-30}}", "PK106", "2026-02-30"),
        ("{a.b: {type: date, default: 2026-02}}", "PK106", "2026-02"),
        ("{a.b: {type: date, to: week}}", "PK108", "week"),
        ("{a.b: {unit: mm, to: month}}", "PK108", "month"),
        ("{a.b: {unit: mm, several: many}}", "PK108", "many"),
        ("{a.b: {unit: mm, stated_by: marshal}}", "PK108", "marshal"),
        ("{a.b: {unit: mm, uncertainty: -1 mm}}", "PK108", "-1 mm"),
        ("{a.b: {unit: mm, uncertainty: 1 kg}}", "PK301", "1 kg"),
        ("{fuel.capacity: {unit: kg}}", "PK302", "fuel.capacity"),
        ("{a.b: {unit: USD}}", "PK104", "USD"),
    ],
)
def test_mistakes_in_facts_are_told_at_their_place(facts: str, code: str, text: str) -> None:
    found = problems(CHECK, facts)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    assert span.source_line[span.column - 1 : span.end_column - 1] == text


@each_row(
    ("more", "code", "text"),
    [
        ("{lists: {joints: {known_by: nmae, fields: {name: {type: text}}}}}", "PK205", "nmae"),
        ("{lists: {joints: {known: name}}}", "PK101", "known"),
        ("{lists: {tyres: {fields: {name: {type: text}}}}}", "PK202", "tyres"),
        ("{lists: {sum: {fields: {name: {type: text}}}}}", "PK202", "sum"),
        ("{lists: {run: {fields: {name: {type: text}}}}}", "PK202", "run"),
        ("{lists: {event: {fields: {name: {type: text}}}}}", "PK202", "event"),
        ("{lists: {joints: {fields: {count: {type: count}}}}}", "PK202", "count"),
        ("{lists: {joints: {fields: {x: {formula: y}}}}}", "PK201", "y"),
        ("{lists: {joints: {fields: {x: {formula: x + 1}}}}}", "PK203", "x"),
        ("{lists: {joints: {fields: {x: {formula: y}, y: {formula: x}}}}}", "PK203", None),
        ("{lists: {joints: {fields: {x: {formula: 2 kg, unit: mm}}}}}", "PK301", "mm"),
        ("{lists: {joints: {fields: {x: {formula: 2 kg, default: 1 kg}}}}}", "PK101", "default"),
        ("{derived: {x: {formula: 2 kg, unit: mm}}}", "PK301", "mm"),
        ("{derived: {x: {formula: y}, y: {formula: x}}}", "PK203", None),
        ("{derived: {x: {formula: x + 1}}}", "PK203", "x"),
        ("{derived: {x: {unit: mm}}}", "PK108", "{unit: mm}"),
        ("{derived: {car: {formula: 2 kg}}}", "PK202", "car"),
        ("{derived: {ballast: {formula: 2 kg}}}", "PK202", "ballast"),
        ("{derived: {x: {formula: 2 kg + 1 mm}}}", "PK301", "2 kg + 1 mm"),
        ("{tables: {sum: {by: [k], rows: [{k: 1, value: 2}]}}}", "PK202", "sum"),
        ("{tables: {ballast: {by: [k], rows: [{k: 1, value: 2}]}}}", "PK202", "ballast"),
        ("{tables: {t: {by: [], rows: [{k: 1, value: 2}]}}}", "PK108", "[]"),
        ("{tables: {t: {by: [k], rows: []}}}", "PK108", "[]"),
        ("{tables: {t: {by: [k], rows: [{k: 1, 'a b': 2}]}}}", "PK202", "'a b'"),
        ("{instruments: {tape: {resolution: 1 mm, permissible_error: 1 kg}}}", "PK301", "1 kg"),
        ("{instruments: {tape: {resolution: -1 mm}}}", "PK503", "-1 mm"),
        ("{instruments: {tape: {step: 1 mm}}}", "PK101", "step"),
        ("{categories: [a, A]}", "PK202", "A"),
        ("{categories: [a//b]}", "PK108", "a//b"),
        ("{categories: {a: b}}", "PK108", "{a: b}"),
        ("{materials: {a: [b], b: [a]}}", "PK203", "a"),
        ("{materials: {a: steel}}", "PK108", "steel"),
        ("{materials: {a: [1]}}", "PK108", "1"),
        ("{conditions: {x: {fuel: 4 kg}}}", "PK504", "4 kg"),
        ("{conditions: {x: {petrol: 4 L}}}", "PK101", "petrol"),
        ("{conditions: {as_weighed: {fuel: 4 L}}}", "PK504", "as_weighed"),
        ("{defaults: {condition: everywhere}}", "PK504", "everywhere"),
        ("{defaults: {tolerance: [1 mm, 2 mm]}}", "PK202", "2 mm"),
        ("{defaults: {tolerance: [car.number]}}", "PK302", "car.number"),
        ("{defaults: {tolerances: [1 mm]}}", "PK101", "tolerances"),
        ("{decision: {official: kind}}", "PK108", "kind"),
        ("{decision: {confidence: 40 %}}", "PK503", "40 %"),
        ("{decision: {confidence: 95}}", "PK302", "95"),
        ("{course: left}", "PK108", "left"),
        ("{clausses: {}}", "PK101", "clausses"),
    ],
)
def test_mistakes_in_other_sections_are_told_at_their_place(more: str, code: str, text: str | None) -> None:
    found = problems(CHECK, "{}", more)
    assert found[0].code == code
    span = found[0].span
    assert span is not None
    if text is not None:
        assert span.source_line[span.column - 1 : span.end_column - 1] == text


def test_an_instrument_that_only_declarations_describe_is_a_warning() -> None:
    (found,) = problems(
        CHECK, "{a.b: {unit: mm, measured_with: tap}}", "{instruments: {tape: {resolution: 1 mm}}}"
    )
    assert (found.code, found.warning) == ("PK201", True)
    assert "tape" in found.hint


def test_derived_values_may_name_each_other_in_any_order() -> None:
    more = "{derived: {x: {formula: 2 * y}, y: {formula: z + 1}, z: {formula: 3}}}"
    assert shown(judge("{limit: x, exactly: 8}", more=more)) == ("pass", "0")
