"""Random data that several tests draw from: exact numbers, and formulas of every kind over the facts of a small car.

A formula is drawn as text, so that it goes the whole way through the reader. The facts and lists it names are those of
`FACTS` and `ITEMS`; the values they take are few and small, so that comparisons often stand exactly on the limit.
"""

from __future__ import annotations

import re
from datetime import date
from fractions import Fraction

from hypothesis import strategies as st

NUMBERS = tuple(Fraction(text) for text in ("0", "1", "2", "3", "-1", "1/2", "5/2", "1/3", "12"))
MASSES_KG = tuple(Fraction(text) for text in ("0", "1", "2", "3", "1/2", "0.45359237", "0.90718474", "-1"))
LENGTHS_MM = tuple(Fraction(text) for text in ("0", "1", "2", "25.4", "50.8", "12.7", "100"))
RATIOS = tuple(Fraction(text) for text in ("0", "1/2", "53/100", "1/100", "1"))
DAYS = (date(2024, 2, 29), date(2025, 2, 28), date(2026, 1, 31), date(2026, 3, 1))
WORDS = ("front", "mid", "rear")

FACTS: dict[str, tuple[str, st.SearchStrategy[object]]] = {
    "n.a": ("number", st.sampled_from(NUMBERS)),
    "n.b": ("number", st.sampled_from(NUMBERS)),
    "m.a": ("mass", st.sampled_from(MASSES_KG)),
    "m.b": ("mass", st.sampled_from(MASSES_KG)),
    "l.a": ("length", st.sampled_from(LENGTHS_MM)),
    "l.b": ("length", st.sampled_from(LENGTHS_MM)),
    "p.a": ("percent", st.sampled_from(RATIOS)),
    "t.a": ("truth", st.booleans()),
    "t.b": ("truth", st.booleans()),
    "w.a": ("word", st.sampled_from(WORDS)),
    "d.a": ("day", st.sampled_from(DAYS)),
    "d.b": ("day", st.sampled_from(DAYS)),
    "m.many": ("masses", st.lists(st.sampled_from(MASSES_KG), max_size=3).map(tuple)),
}
"""Every fact: the kind of its values, and the values it is given."""

FIELDS: dict[str, tuple[str, st.SearchStrategy[object]]] = {
    "mass": ("mass", st.sampled_from(MASSES_KG)),
    "width": ("length", st.sampled_from(LENGTHS_MM)),
    "locked": ("truth", st.booleans()),
    "place": ("word", st.sampled_from(WORDS)),
}
"""The fields of an entry of the list `items`."""


def facts(known: float = 1.0) -> st.SearchStrategy[dict[str, object]]:
    """Values of the facts; below 1.0 some are left out."""
    if known >= 1:
        return st.fixed_dictionaries({name: values for name, (_, values) in FACTS.items()})
    return st.fixed_dictionaries({}, optional={name: values for name, (_, values) in FACTS.items()})


def items(known: float = 1.0) -> st.SearchStrategy[list[dict[str, object]]]:
    """Entries of the list `items`, at most three; below 1.0 some fields are left out."""
    values = {name: values for name, (_, values) in FIELDS.items()}
    entry = st.fixed_dictionaries(values) if known >= 1 else st.fixed_dictionaries({}, optional=values)
    return st.lists(entry, max_size=3)


# --- formulas ----------------------------------------------------------------------------------------------------

_ORDER = ("<", "<=", ">", ">=", "==", "!=")
_ROUNDINGS = ("round_half_up", "round_half_even", "round_up", "round_down")

_LEAVES: dict[str, tuple[str, ...]] = {
    "number": ("n.a", "n.b", "0", "1", "2", "0.5", "2 1/2", "1/3", "12", "count(items)", "count(m.many)"),
    "mass": (
        "m.a",
        "m.b",
        "1 kg",
        "2 kg",
        "0.5 kg",
        "1000 g",
        "1 lb",
        "1 lb 16 oz",
        "0 kg",
        "1/2 kg",
        "sum(m.many)",
    ),
    "length": ("l.a", "l.b", "1 mm", "2 mm", "1 in", "1/2 in", "2 inch", "10 cm"),
    "percent": ("p.a", "50 %", "53.0 %", "1 %", "100%"),
    "day": ("d.a", "d.b", "2024-02-29", "2026-03-01"),
    "word": ("w.a", "'front'", "'mid'", "'REAR'"),
    "truth": (
        "t.a",
        "t.b",
        "true",
        "false",
        "(w.a in ['mid', 'Rear'])",
        "(w.a not in ['front'])",
        "(m.a in m.many)",
        "stated(n.a)",
        "(w.a == 'mid')",
    ),
    "item mass": ("x.mass", "x.mass", "1 kg", "m.a"),
    "item truth": (
        "x.locked",
        "(x.place == 'mid')",
        "(x.place in ['mid', 'rear'])",
        "t.a",
        "(x.width > 1 in)",
    ),
}
_SHAPES: dict[str, tuple[str, ...]] = {
    "number": (
        *("({number} + {number})", "({number} - {number})", "({number} * {number})", "({number} / {number})"),
        *(
            "({mass} / {mass})",
            "({length} / {length})",
            "({percent} / {percent})",
            "(({day} - {day}) / 1 day)",
        ),
        *(
            "min({number}, {number})",
            "max({number}, {number}, {number})",
            "abs({number})",
            "(-{number})",
            "({number} ** 2)",
        ),
        *("{rounding}({number}, 1)", "{rounding}({number}, 0.5)", "{rounding}({number}, n.b)"),
        *("({number} if {truth} else {number})", "count(x for x in items if {item truth})"),
    ),
    "mass": (
        *(
            "({mass} + {mass})",
            "({mass} - {mass})",
            "({number} * {mass})",
            "({mass} * {number})",
            "({mass} / {number})",
        ),
        *(
            "({percent} * {mass})",
            "({mass} / {percent})",
            "min({mass}, {mass})",
            "max({mass}, {mass})",
            "abs({mass})",
        ),
        *("(-{mass})", "{rounding}({mass}, 1 kg)", "{rounding}({mass}, 1 lb)", "{rounding}({mass}, 100 g)"),
        *("({mass} if {truth} else {mass})", "mean(m.many)", "min(m.many)", "max(2 * y for y in m.many)"),
        *(
            "sum(y for y in m.many if y > 1 kg)",
            "sum({item mass} for x in items)",
            "mean({item mass} for x in items)",
        ),
        *(
            "sum({item mass} for x in items if {item truth})",
            "max({item mass} for x in items if {item truth})",
        ),
        "min({item mass} for x in items if {item truth} if {item truth})",
    ),
    "length": (
        *(
            "({length} + {length})",
            "({length} - {length})",
            "({number} * {length})",
            "max({length}, {length})",
        ),
        *(
            "({length} if {truth} else {length})",
            "{rounding}({length}, 1 mm)",
            "{rounding}({length}, 1/2 in)",
        ),
    ),
    "percent": (
        *(
            "({percent} + {percent})",
            "({percent} - {percent})",
            "({percent} * {percent})",
            "({percent} * {number})",
        ),
        *(
            "({percent} / {number})",
            "percent({number})",
            "min({percent}, {percent})",
            "({percent} if {truth} else {percent})",
        ),
    ),
    "day": (
        *(
            "({day} + 1 month)",
            "({day} - 1 month)",
            "({day} + 2 years)",
            "({day} + 30 days)",
            "({day} - 1 day)",
        ),
        *("max({day}, {day})", "end_of_month({day})", "end_of_year({day})", "({day} if {truth} else {day})"),
    ),
    "word": ("({word} if {truth} else {word})",),
    "truth": (
        *(
            "({number} {order} {number})",
            "({mass} {order} {mass})",
            "({length} {order} {length})",
            "({day} {order} {day})",
        ),
        *(
            "({percent} {order} {percent})",
            "({mass} {order} {mass} {order} {mass})",
            "({word} == w.a)",
            "({word} != w.a)",
        ),
        *("({truth} and {truth})", "({truth} or {truth})", "({truth} == {truth})", "(not {truth})"),
        *("({truth} and {truth} and {truth})", "({truth} if {truth} else {truth})"),
        *("(({number}) in [{number}, {number}])", "(({number}) not in [{number}, 1])"),
        *("any({item truth} for x in items)", "all({item truth} for x in items)"),
        *(
            "any({item truth} for x in items if {item truth})",
            "all({item truth} for x in items if {item truth})",
        ),
    ),
    "item mass": (
        "({item mass} + {item mass})",
        "({item mass} - {item mass})",
        "(n.a * {item mass})",
        "(count(items) * {item mass})",
    ),
    "item truth": (
        *(
            "({item mass} {order} {item mass})",
            "({item truth} and {item truth})",
            "({item truth} or {item truth})",
        ),
        "(not {item truth})",
    ),
}
_WORDS: dict[str, tuple[str, ...]] = {"order": _ORDER, "rounding": _ROUNDINGS}
_BLANK = re.compile(r"\{([a-z ]+)\}")


def formula_of(kind: str, choices: bytes, depth: int = 4) -> str:
    """A formula of one kind, as text: sound, but for divisions by a constant zero.

    Args:
        kind: number, mass, length, percent, day, word or truth; "item mass" and "item truth" inside a `for x in items`.
        choices: What to take at each turn, one byte each; where there are none left, names and literals.
        depth: How deep parts may be nested.
    """
    left = iter(choices)

    def filled(kind: str, depth: int) -> str:
        choice = next(left, 0)
        if kind in _WORDS:
            return _WORDS[kind][choice % len(_WORDS[kind])]
        leaves, shapes = _LEAVES[kind], _SHAPES[kind] if depth else ()
        place = choice % (len(leaves) + len(shapes))
        if place < len(leaves):
            return leaves[place]
        return _BLANK.sub(lambda blank: filled(blank[1], depth - 1), shapes[place - len(leaves)])

    return filled(kind, depth)


def formulas_of(kind: str) -> st.SearchStrategy[str]:
    """Formulas of one kind, as text."""
    return (
        st.binary(max_size=24)
        .map(lambda choices: formula_of(kind, choices))
        .filter(lambda text: len(text) <= 500)
    )


KINDS = ("number", "mass", "length", "percent", "day", "word", "truth")
formulas = st.one_of(*(formulas_of(kind) for kind in KINDS))
"""Formulas of any kind, as text."""
truths = formulas_of("truth")

TOKENS = (
    *(
        "n.a",
        "m.a",
        "t.a",
        "w.a",
        "d.a",
        "m.many",
        "items",
        "x",
        "x.mass",
        "n",
        "weight.total",
        "pi",
        "true",
        "class",
    ),
    *("and", "or", "not", "in", "if", "else", "for", "is", "lambda", "None", "__class__", "_", "__"),
    *(
        "sum",
        "mean",
        "min",
        "max",
        "count",
        "any",
        "all",
        "abs",
        "round_up",
        "percent",
        "sqrt",
        "hypot",
        "tan",
        "first",
    ),
    *("year", "day", "end_of_month", "stated", "tables"),
    *(
        "0",
        "1",
        "12",
        "0.5",
        "5/8",
        "1 1/2",
        "3 kg",
        "2 in",
        "53 %",
        "1 lb 4 oz",
        "2026-03-01",
        "2026-02-30",
        "18 months",
    ),
    *("'mid'", '"front"', "''", "'\u00fc'", "'a", "9" * 39, "1e5", "007", "0x1", "1_0", "3 kgs", "5 GBP"),
    *(
        "+",
        "-",
        "*",
        "/",
        "**",
        "//",
        "%",
        "<",
        "<=",
        "==",
        "!=",
        "=",
        ">",
        "(",
        ")",
        "[",
        "]",
        ",",
        ".",
        ":",
        ";",
        "@",
    ),
    *("\n", "\t", " ", "#", "\\", "{", "}", "\x00", "\u00a0", "\u0430", "\u2264", "\ud800", "\U0001f3c1"),
)
"""Words and signs of the language, and some that only look like it."""

token_soups = st.lists(st.sampled_from(TOKENS), max_size=25).flatmap(
    lambda tokens: st.sampled_from([" ", ""]).map(lambda between: between.join(tokens))
)
"""Texts of the language's own words in any order, with and without blanks."""
