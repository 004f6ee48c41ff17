"""Writes plain data as YAML that a person likes to read and `parse_document` reads back equal."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Final

from checker.reading.paths import format_path
from checker.reading.plain_text import printable
from checker.reading.problems import Path
from checker.reading.values import DEEPEST, LARGEST_EXPONENT, MOST_DIGITS, NumberError, Plain, understand

_LONGEST_KEY: Final = 120
"""A longer key is written after a `?`; YAML bounds the others."""

_INDICATORS: Final = "-?:,[]{}#&*!|>'\"%@`=<"
_ESCAPES: Final = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def to_yaml(
    data: Plain, comments: Mapping[Path, str] | None = None, quoted: Collection[Path] = frozenset()
) -> str:
    """`data` as YAML, keys in the order given, fractions as exact decimals.

    Args:
        data: Anything a file can say.
        comments: Text to print above the key or entry at a path.
        quoted: Paths of texts to write in quotes, though they need none to be read back.

    Raises:
        ValueError: Something in `data` cannot be written so that it would be read back equal.
    """
    return "\n".join(_lines(data, (), comments or {}, quoted)) + "\n"


def inline_text(data: Plain) -> str:
    """`data` on one line, in braces and brackets.

    Raises:
        ValueError: Something in it cannot be written so that it would be read back equal.
    """
    if isinstance(data, dict):
        return (
            "{" + ", ".join(f"{inline_text(key)}: {inline_text(value)}" for key, value in data.items()) + "}"
        )
    if isinstance(data, list):
        return f"[{', '.join(map(inline_text, data))}]"
    if isinstance(data, str):
        return _text(data, quoted=any(sign in data for sign in ",[]{}:"))
    (line,) = _scalar(data, (), quoted=False)
    return line


def _lines(data: object, path: Path, comments: Mapping[Path, str], quoted: Collection[Path]) -> list[str]:
    if len(path) > DEEPEST:
        raise ValueError(f"{format_path(path[:3])}... is nested more than {DEEPEST} levels deep")
    lines: list[str] = []
    if isinstance(data, dict) and data:
        for key, value in data.items():
            if not isinstance(key, str):
                raise ValueError(f"the key {key!r} in {format_path(path) or 'the data'} is not text")
            inner = (*path, key)
            lines += _comment(inner, comments)
            head = f"{_text(key)}:"
            if len(head) > _LONGEST_KEY:
                lines.append(f"? {_text(key)}")
                head = ":"
            written = _lines(value, inner, comments, quoted)
            if value and isinstance(value, dict | list):
                lines.append(head)
                lines += [_indented(line) for line in written]
            else:
                lines.append(f"{head} {written[0]}")
                lines += written[1:]
    elif isinstance(data, list) and data:
        for position, value in enumerate(data):
            inner = (*path, position)
            lines += _comment(inner, comments)
            written = _lines(value, inner, comments, quoted)
            above = next(index for index, line in enumerate(written) if not line.startswith("#"))
            lines += [*written[:above], f"- {written[above]}"]
            lines += [_indented(line) for line in written[above + 1 :]]
    else:
        lines += _scalar(data, path, path in quoted)
    return lines


def _comment(path: Path, comments: Mapping[Path, str]) -> list[str]:
    text = comments.get(path)
    if text is None:
        return []
    return [f"# {line}".rstrip() for line in printable(text, keep_newlines=True).split("\n")]


def _indented(line: str) -> str:
    return f"  {line}" if line else ""


def _scalar(value: object, path: Path, quoted: bool) -> list[str]:
    """The lines of a scalar or an empty collection; those after the first are indented already."""
    if value is None:
        return ["null"]
    if isinstance(value, bool):
        return ["true" if value else "false"]
    if isinstance(value, str):
        return _block(value) or [_text(value, quoted)]
    if isinstance(value, int | Fraction):
        return [number_text(value)]
    if isinstance(value, dict | list):
        return ["{}" if isinstance(value, dict) else "[]"]
    raise ValueError(f"{format_path(path) or 'the data'} is a {type(value).__name__}, which no file can say")


def number_text(number: int | Fraction) -> str:
    """A number as an exact decimal; a `Fraction` always has a point, as `2.0`.

    Raises:
        ValueError: It has no finite decimal, or so many digits that it would not be read back.
    """
    if isinstance(number, int):
        text = str(number) if abs(number) < 10**MOST_DIGITS else ""
    else:
        for exponent in (0, -LARGEST_EXPONENT, LARGEST_EXPONENT):
            text = _decimal_text(number / Fraction(10) ** exponent)
            if text:
                text += f"e{exponent}" if exponent else ""
                break
    if not text:
        raise ValueError(f"{number} cannot be written as a decimal of at most {MOST_DIGITS} digits")
    return text


def _decimal_text(number: Fraction) -> str:
    """All digits of `number`; "" if there are more than `MOST_DIGITS`."""
    for decimals in range(1, MOST_DIGITS):
        scaled = number * 10**decimals
        if scaled.denominator == 1:
            digits = str(abs(scaled.numerator)).rjust(decimals + 1, "0")
            if len(digits) > MOST_DIGITS:
                return ""
            return f"{'-' if number < 0 else ''}{digits[:-decimals]}.{digits[-decimals:]}"
    return ""


def _text(text: str, quoted: bool = False) -> str:
    """Text on one line, in quotes where asked for or where it would else be read as something else."""
    if not quoted and _reads_as_itself(text):
        return text
    return '"' + "".join(_escaped(character) for character in text) + '"'


def _reads_as_itself(text: str) -> bool:
    if not text or not text.isprintable() or text[0] in _INDICATORS or text.startswith("..."):
        return False
    if text != text.strip() or ": " in text or " #" in text or text.endswith(":"):
        return False
    try:
        return understand(text) == text
    except NumberError:
        return False


def _escaped(character: str) -> str:
    if character in _ESCAPES:
        return _ESCAPES[character]
    if character.isprintable():
        return character
    code = ord(character)
    if 0xD800 <= code <= 0xDFFF:
        raise ValueError(f"half of a surrogate pair, U+{code:04X}, is no text")
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def _block(text: str) -> list[str]:
    """Text of several lines as a block after `|`; [] where only quotes would keep it exactly."""
    lines = text.removesuffix("\n").split("\n")
    if "\n" not in text or not all(line.isprintable() and line == line.rstrip() for line in lines):
        return []
    if not lines[0] or lines[0].startswith(" ") or not lines[-1]:
        return []
    return ["|" if text.endswith("\n") else "|-", *map(_indented, lines)]
