"""Rounding against published examples and the General Decimal Arithmetic test cases.

Each example names its source; "read" means that it was read in a copy of that document, "recalled" that it
was written from memory of it.
"""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from checker.quantities.literal import parse_literal
from checker.quantities.rounding import round_to
from tests.examples import each_row


def rounded(x: str, step: str, mode: str = "half_even") -> Fraction:
    return round_to(Fraction(x), Fraction(step), mode)


@pytest.mark.parametrize(
    ("x", "step", "expected"),
    [
        ("6.9749515", "0.01", "6.97"),
        ("6.9749515", "0.001", "6.975"),
        ("6.9749515", "0.0001", "6.9750"),
        ("6.9749515", "0.000001", "6.974952"),
        ("6.9749505", "0.000001", "6.974950"),
    ],
)
def test_nist_sp_811_b_7_1(x: str, step: str, expected: str) -> None:
    """NIST SP 811 (2008) B.7.1, to 3, 4, 5 and 7 digits, half to even; recalled."""
    assert rounded(x, step) == Fraction(expected)


def test_nist_sp_811_b_7_2() -> None:
    """NIST SP 811 (2008) B.7.2: 36 ft is 10.9728 m, rounded to 11.0 m; read."""
    length = parse_literal("36 ft", None).value
    assert isinstance(length, Fraction)
    assert length == parse_literal("10.9728 m", None).value
    assert round_to(length, Fraction(100), "half_even") == parse_literal("11.0 m", None).value


@pytest.mark.parametrize(
    ("x", "step", "expected"),
    [
        ("3.141593", "0.01", "3.14"),
        ("3.141593", "0.001", "3.142"),
        ("3.141593", "0.0001", "3.1416"),
        ("1.75", "0.1", "1.8"),
        ("1.85", "0.1", "1.8"),
    ],
)
def test_40_cfr_1065_20_e(x: str, step: str, expected: str) -> None:
    """40 CFR 1065.20(e), half to even; recalled."""
    assert rounded(x, step) == Fraction(expected)


def test_40_cfr_1090_50() -> None:
    """40 CFR 1090.50(a),(c): a percentage in a rule is exact, 1 % is 0.01; read."""
    assert parse_literal("1 %", None).value == Fraction(1, 100)


@each_row(
    ("limit", "at_least", "observed", "step", "half_even", "passes", "half_up_passes"),
    [
        ("36000", True, "35940", "100", "35900", False, False),
        ("36000", True, "35950", "100", "36000", True, True),
        ("36000", True, "35960", "100", "36000", True, True),
        ("57", True, "56.4", "1", "56", False, False),
        ("57", True, "56.5", "1", "56", False, True),
        ("57", True, "56.6", "1", "57", True, True),
        ("40", False, "40.4", "1", "40", True, True),
        ("40", False, "40.5", "1", "40", True, False),
        ("40", False, "40.6", "1", "41", False, False),
        ("0.5", False, "0.54", "0.1", "0.5", True, True),
        ("0.5", False, "0.55", "0.1", "0.6", False, False),
        ("0.5", False, "0.56", "0.1", "0.6", False, False),
    ],
)
def test_astm_e29(
    limit: str, at_least: bool, observed: str, step: str, half_even: str, passes: bool, half_up_passes: bool
) -> None:
    """ASTM E29, application of the rounding method (half to even) and what half up would give; recalled."""
    bound = Fraction(limit)

    def meets(value: Fraction) -> bool:
        return value >= bound if at_least else value <= bound

    assert rounded(observed, step) == Fraction(half_even)
    assert meets(rounded(observed, step)) == passes
    assert meets(rounded(observed, step, "half_up")) == half_up_passes
    assert not meets(Fraction(observed)), "by the absolute method none of these pass"


def test_iowa_im_202() -> None:
    """Iowa DOT IM 202 (the E29 method with half up): "max 4" is met by 4 1/4, "max 4.0" is not; read."""
    observed = parse_literal("4 1/4", None).value
    assert isinstance(observed, Fraction)
    assert round_to(observed, Fraction(1), "half_up") <= 4
    assert round_to(observed, Fraction(1, 10), "half_up") > 4
    assert rounded("1.861", "0.01", "half_up") == Fraction("1.86")


@pytest.mark.parametrize(
    ("x", "step", "expected"),
    [
        ("2.675", "0.01", "2.68"),
        ("1.005", "0.01", "1.00"),
        ("0.285", "0.01", "0.28"),
        ("0.545", "0.01", "0.54"),
        ("1.15", "0.1", "1.2"),
    ],
)
def test_traps_of_binary_floats(x: str, step: str, expected: str) -> None:
    """Recomputed with `decimal`, half to even; binary floats give another result for three of these."""
    assert rounded(x, step) == Fraction(expected)
    assert Fraction(Decimal(x).quantize(Decimal(step))) == Fraction(expected)


CASE = re.compile(r"(\w+)\s+(quantize|tointegralx|add|multiply|divide)\s+(\S+)\s+(?:(\S+)\s+)?->\s+(\S+)(.*)")
FILES = ("quantize", "ddQuantize", "dqQuantize", "ddToIntegral", "dqToIntegral", "rounding")


def decimal_test_data() -> Path | None:
    """The folder of the General Decimal Arithmetic test cases in this Python's own tests, if it has them."""
    found = importlib.util.find_spec("test")
    for folder in (found.submodule_search_locations if found else None) or ():
        data = Path(folder) / "decimaltestdata"
        if data.is_dir():
            return data
    return None


def exact(operation: str, x: Fraction, y: Fraction) -> Fraction:
    match operation:
        case "add":
            return x + y
        case "multiply":
            return x * y
        case "divide":
            return x / y
        case _:
            return x


def by_mode(x: Fraction, step: Fraction, mode: str) -> Fraction | None:
    """The result by the modes of that standard, most of which go by size and not by direction."""
    size, sign = abs(x), -1 if x < 0 else 1
    match mode:
        case "half_even":
            return round_to(x, step, "half_even")
        case "ceiling":
            return round_to(x, step, "up")
        case "floor":
            return round_to(x, step, "down")
        case "half_up":
            return sign * round_to(size, step, "half_up")
        case "half_down":
            return -sign * round_to(-size, step, "half_up")
        case "up" | "down":
            return sign * round_to(size, step, mode)
        case _:
            return None


def cases(text: str) -> Iterator[tuple[str, Fraction, Fraction, str, Fraction]]:
    """Name, exact result before rounding, step, mode and expected result of every case of one file."""
    mode = ""
    for line in text.splitlines():
        if directive := re.match(r"rounding:\s*(\w+)", line):
            mode = directive[1]
        found = CASE.match(line.split("--")[0].replace("'", ""))
        if not found or re.search("[#?]|Invalid|Division|flow|Subnormal|Clamped", line):
            continue
        name, operation, first, second, expected, _ = found.groups()
        operands = [Decimal(first), Decimal(second or "0"), Decimal(expected)]
        if not all(operand.is_finite() and abs(operand.adjusted()) < 10000 for operand in operands):
            continue
        x, y, result = (Fraction(operand) for operand in operands)
        exponent = operands[2].as_tuple().exponent
        assert isinstance(exponent, int)
        yield name, exact(operation, x, y), Fraction(10) ** exponent, mode, result


@each_row("file", FILES)
def test_general_decimal_arithmetic(file: str) -> None:
    """General Decimal Arithmetic test cases 2.59, as shipped with CPython's own tests."""
    data = decimal_test_data()
    if data is None:
        pytest.skip("this Python was built without its own tests, where the decimal test cases are")
    tried = 0
    for name, x, step, mode, expected in cases((data / f"{file}.decTest").read_text(encoding="utf-8")):
        result = by_mode(x, step, mode)
        if result is not None:
            assert result == expected, f"{file} {name}: {x} to {step} {mode}"
            tried += 1
    assert tried > 100
