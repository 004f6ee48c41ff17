"""Constructors of classes with so many fields, written out so that Python keeps them compiled.

Each takes what sets a field of an object, which gives nothing, for one field after the other; some then what is done
after: of those stand here the numbers of fields that a class has.
"""
# ruff: noqa: ARG005, E501

from __future__ import annotations

from functools import cache
from types import CodeType
from typing import Any


@cache
def constructor(fields: int, after: bool) -> CodeType:
    """The code of one with so many fields, with something that is done after or without."""
    written = THEN_AFTER if after else ALONE
    outer: Any = written.get(fields) or eval(text(fields, after))
    return next(inner for inner in outer.__code__.co_consts if isinstance(inner, CodeType))


def text(fields: int, after: bool) -> str:
    """How one is written."""
    setters = [f"s{at}" for at in range(fields)] + ["after"] * after
    given = [f"v{at}" for at in range(fields)]
    calls = [f"s{at}(self, v{at})" for at in range(fields)] + ["after(self)"] * after
    outer = f"lambda {', '.join(setters)}:" if setters else "lambda:"
    return f"{outer} lambda {', '.join(['self', *given])}: {' or '.join(calls) or 'None'}"


# fmt: off
ALONE: dict[int, Any] = dict(enumerate((
    lambda: lambda self: None,
    lambda s0: lambda self, v0: s0(self, v0),
    lambda s0, s1: lambda self, v0, v1: s0(self, v0) or s1(self, v1),
    lambda s0, s1, s2: lambda self, v0, v1, v2: s0(self, v0) or s1(self, v1) or s2(self, v2),
    lambda s0, s1, s2, s3: lambda self, v0, v1, v2, v3: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3),
    lambda s0, s1, s2, s3, s4: lambda self, v0, v1, v2, v3, v4: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4),
    lambda s0, s1, s2, s3, s4, s5: lambda self, v0, v1, v2, v3, v4, v5: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5),
    lambda s0, s1, s2, s3, s4, s5, s6: lambda self, v0, v1, v2, v3, v4, v5, v6: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6),
    lambda s0, s1, s2, s3, s4, s5, s6, s7: lambda self, v0, v1, v2, v3, v4, v5, v6, v7: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18, s19: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18) or s19(self, v19),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18, s19, s20: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18) or s19(self, v19) or s20(self, v20),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18, s19, s20, s21: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20, v21: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18) or s19(self, v19) or s20(self, v20) or s21(self, v21),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18, s19, s20, s21, s22: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20, v21, v22: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18) or s19(self, v19) or s20(self, v20) or s21(self, v21) or s22(self, v22),
    lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18, s19, s20, s21, s22, s23: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20, v21, v22, v23: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18) or s19(self, v19) or s20(self, v20) or s21(self, v21) or s22(self, v22) or s23(self, v23),
)))
THEN_AFTER: dict[int, Any] = {
    4: lambda s0, s1, s2, s3, after: lambda self, v0, v1, v2, v3: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or after(self),
    6: lambda s0, s1, s2, s3, s4, s5, after: lambda self, v0, v1, v2, v3, v4, v5: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or after(self),
    7: lambda s0, s1, s2, s3, s4, s5, s6, after: lambda self, v0, v1, v2, v3, v4, v5, v6: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or after(self),
    11: lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, after: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or after(self),
    21: lambda s0, s1, s2, s3, s4, s5, s6, s7, s8, s9, s10, s11, s12, s13, s14, s15, s16, s17, s18, s19, s20, after: lambda self, v0, v1, v2, v3, v4, v5, v6, v7, v8, v9, v10, v11, v12, v13, v14, v15, v16, v17, v18, v19, v20: s0(self, v0) or s1(self, v1) or s2(self, v2) or s3(self, v3) or s4(self, v4) or s5(self, v5) or s6(self, v6) or s7(self, v7) or s8(self, v8) or s9(self, v9) or s10(self, v10) or s11(self, v11) or s12(self, v12) or s13(self, v13) or s14(self, v14) or s15(self, v15) or s16(self, v16) or s17(self, v17) or s18(self, v18) or s19(self, v19) or s20(self, v20) or after(self),
}
