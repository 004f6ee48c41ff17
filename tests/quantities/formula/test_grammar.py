"""What the grammar keeps of Python's: every construct that is not of the language is refused at its place."""

from __future__ import annotations

import pytest

from checker.quantities.formula.grammar import parse
from tests.examples import each_row
from tests.quantities.formula.workshop import Scene, entry, problems, value, wrong


@each_row(
    ("text", "number", "at"),
    [
        # attributes and dunder names
        ("().__class__", 105, "().__class__"),
        ("'a'.upper", 105, "'a'.upper"),
        ("'a'.upper()", 105, "'a'.upper"),
        ("(1).real", 105, "(1).real"),
        ("5 kg.real", 105, "5 kg.real"),
        ("(5 kg).real", 105, "(5 kg).real"),
        ("[1].append", 105, "[1].append"),
        ("engine.capacity.real", 105, "engine.capacity.real"),
        ("(1 + 2).real", 105, "(1 + 2).real"),
        ("engine. 5 kg", 105, "engine. 5 kg"),
        ("__import__", 201, "__import__"),
        ("engine.__class__", 201, "engine.__class__"),
        ("engine.__dict__", 201, "engine.__dict__"),
        # calls
        ("__import__('os')", 201, "__import__"),
        ("eval('1')", 201, "eval"),
        ("min(1, 2)(3)", 105, "min(1, 2)"),
        ("min(1, 2).real", 201, "min(1, 2).real"),
        ("engine.capacity(3)", 105, "engine.capacity"),
        ("(1)(2)", 105, "1"),
        ("5 kg(3)", 105, "5 kg"),
        ("(max if true else min)(1, 2)", 105, "max if true else min"),
        ("max(*[1, 2])", 105, "*[1, 2]"),
        ("max(**a)", 105, "**a"),
        # indexing and Python's own brackets
        ("brakes.pad[0]", 105, "brakes.pad[0]"),
        ("[1, 2][0]", 105, "[1, 2][0]"),
        ("(1, 2)", 105, "(1, 2)"),
        ("1, 2", 105, ","),
        ("()", 105, "()"),
        ("[*brakes.pad]", 105, "*brakes.pad"),
        ("...", 105, "..."),
        # operators
        ("7 // 2", 105, "7 // 2"),
        ("1 << 9", 105, "<<"),
        ("1 >> 9", 105, ">>"),
        ("+1", 105, "+1"),
        ("engine.cylinders ** 5", 105, "engine.cylinders ** 5"),
        ("engine.cylinders ** 1", 105, "engine.cylinders ** 1"),
        ("engine.cylinders ** 0", 105, "engine.cylinders ** 0"),
        ("engine.cylinders ** -2", 105, "engine.cylinders ** -2"),
        ("engine.cylinders ** 2.5", 105, "engine.cylinders ** 2.5"),
        ("engine.cylinders ** engine.cylinders", 105, "engine.cylinders ** engine.cylinders"),
        ("2 ** 3 ** 2", 105, "2 ** 3 ** 2"),
        ("9 ** 9 ** 9 ** 9", 105, "9 ** 9 ** 9 ** 9"),
        ("engine.cylinders ** 'a'", 105, "engine.cylinders ** 'a'"),
        # `for`
        ("(b for b in ballast)", 105, "(b for b in ballast)"),
        ("[b for b in ballast]", 105, "[b for b in ballast]"),
        ("(1) in (b.mass for b in ballast)", 105, "(b.mass for b in ballast)"),
        ("max((b.mass for b in ballast), 3 kg)", 105, "(b.mass for b in ballast)"),
        ("sum(b.mass for b in ballast for c in components)", 105, "c"),
        ("sum(b.mass for b, c.d in ballast)", 105, "b, c.d"),
        ("sum(1 for b.mass in ballast)", 105, "b.mass"),
        ("sum(1 for [b] in ballast)", 105, "[b]"),
        ("sum(1 for 5 kg in ballast)", 105, "5 kg"),
        ("sum(b for b in [1, 2])", 105, "[1, 2]"),
        ("sum(b for b in ballast if true else components)", 103, "else"),
        ("sum(b for b in (ballast if true else components))", 105, "ballast if true else components"),
        ("sum(b for b in 5 kg)", 105, "5 kg"),
        ("sum((c.mass for c in components) for b in ballast)", 105, "(c.mass for c in components)"),
        ("abs(b.mass for b in ballast)", 105, "(b.mass for b in ballast)"),
        ("minimum(b.mass for b in ballast)", 105, "(b.mass for b in ballast)"),
        # what Python's parser itself refuses
        ("1 +", 103, "+"),
        ("engine.capacity >", 103, ">"),
        ("* 2", 103, "*"),
        ("1 2", 107, "1 2"),
        ("engine.capacity body.width", 103, "body"),
        ("(1) 2", 103, "2"),
        ("engine.", 103, "."),
        ("engine..capacity", 103, "."),
        ("3 if true", 103, "3 if true"),
        ("a is b", 103, "is"),
        ("a is not b", 103, "is not"),
        ("not", 103, "t"),
        ("1 <> 2", 103, "<>"),
        ("min(1, 2", 103, "("),
        ("for", 103, "for"),
        ("if true else 3", 103, "if"),
        ("engine.capacity = 3", 103, "="),
    ],
)
def test_refused_at_its_place(text: str, number: int, at: str) -> None:
    assert wrong(text) == [(number, at)]


def test_names_in_this_order_are_refused_first_where_they_stand_first() -> None:
    (found,) = problems("body.width[0] + max(*a) + (1).b")
    assert (found.start, found.end) == (0, 13)


@each_row(
    ("text", "expected"),
    [
        ("1 + 2 * 3", 7),
        ("(1 + 2) * 3", 9),
        ("-2 ** 2", -4),
        ("2 * -3", -6),
        ("7 - 2 - 1", 4),
        ("12 / 2 / 3", 2),
        ("not true or true", True),
        ("not (true or true)", False),
        ("1 < 2 < 3", True),
        ("1 < 3 < 2", False),
        ("1 if false else 2 if false else 3", 3),
        ("max(1, 2,)", 2),
        ("sum((b.fixings for b in ballast))", 3),
        ("sum(b.fixings for (b) in ballast)", 3),
        ("(2 ** 2) ** 2", 16),
    ],
)
def test_sums_are_read_as_on_paper(text: str, expected: object) -> None:
    assert value(text, Scene(lists={"ballast": (entry(fixings=1), entry(fixings=2))})) == expected


def test_depth_is_at_most_20() -> None:
    deep = "true"
    for _ in range(19):
        deep = f"not {deep}"
    assert value(deep) is False
    (found,) = problems(f"not {deep}")
    assert found.number == 105
    assert "nested" in found.message
    assert "derived" in found.hint
    assert wrong("-" * 200 + "1")[0][0] == 105
    assert wrong("1 if true else " * 30 + "1")[0][0] == 105


def test_a_row_of_sums_is_as_deep_as_one() -> None:
    assert value("+".join(["1"] * 249)) == 249
    assert value("*".join(["1"] * 249)) == 1
    assert value("true and " * 50 + "true") is True


def test_at_most_two_for_inside_each_other() -> None:
    two = "sum(count(c for c in components) for b in ballast)"
    scene = Scene(lists={"ballast": (entry(), entry()), "components": (entry(), entry(), entry())})
    assert value(two, scene) == 6
    three = "sum(sum(count(c for c in components) for d in ballast) for b in ballast)"
    assert wrong(three) == [(105, "(c for c in components)")]


@pytest.mark.parametrize(
    ("text", "number", "at"),
    [
        ("3 in [3, 4]", 105, "3 in"),
        ("3 in (brakes.pad)", 105, "3 in"),
        ("3 in brakes.pad", 103, "3 in"),
    ],
)
def test_inches_that_were_not_meant_come_with_their_cure(text: str, number: int, at: str) -> None:
    assert wrong(text) == [(number, at)]
    assert problems(text)[0].hint == "write (3) in: right after a number `in` is inches"


def test_the_tree_knows_what_is_written() -> None:
    tree = parse("  car.class ==\n 'é' + 3 kg", "GBP")
    compare = tree.body
    assert tree.span(compare) == (2, 26)
    assert tree.source(compare) == "car.class == 'é' + 3 kg"
    assert tree.name(compare.left) == "class"  # type: ignore[attr-defined]
    addition = compare.comparators[0]  # type: ignore[attr-defined]
    assert tree.quoted(addition.left) == "é"
    literal = tree.literal(addition.right)
    assert literal is not None
    assert literal.text == "3 kg"
