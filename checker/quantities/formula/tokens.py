"""From a formula's text to text that Python's own parser reads, column for column.

A formula writes quantities (`1 lb 4 oz`), days (`2026-03-01`) and names that Python reserves (`car.class`).
Each of these is replaced by as many underscores as it has characters and kept in a table by its offset, so
that the parser's columns stay right and no float is ever made from source text. What Python would quietly
accept but a rulebook never means (comments, backslashes, texts glued together) is refused here.
"""

from __future__ import annotations

import keyword
import re
from dataclasses import dataclass

from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.literal import Literal, LiteralError, match_literal

MAX_CHARACTERS = 500
MAX_BRACKETS = 20

_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_OPERATOR_WORDS = frozenset({"and", "or", "not", "in", "if", "else", "for"})
_PLAIN_WHOLE = re.compile(r"0|[1-9][0-9]*")
_OPERATORS = frozenset("+-*/<>=!()[],. ")


@dataclass(frozen=True, slots=True)
class Prepared:
    """A formula ready for parsing."""

    code: str
    """Same length as the formula, without what only our language knows."""
    literals: dict[int, Literal]
    """Literals by the offset where they stand, in UTF-8 bytes of `code`, as the parser counts."""
    words: dict[int, str]
    """Ordinary names that Python reserves, by the same offsets."""


def prepare(text: str, currency: str | None) -> Prepared:
    """Replace what Python's parser does not know by underscores.

    Args:
        text: The formula; line breaks count as blanks.
        currency: The pack's one currency, e.g. "GBP".

    Raises:
        FormulaError: With numbers 103, 104, 105, 106 or 107, and the place of the first mistake.
    """
    if len(text) > MAX_CHARACTERS:
        raise _error(
            103, f"the formula has {len(text)} characters; at most {MAX_CHARACTERS} are allowed", 0, 0
        )
    text = re.sub(r"[\n\r\t]", " ", text)
    if not text.strip():
        raise _error(103, "the formula is empty", 0, 0)
    code: list[str] = []
    literals: dict[int, Literal] = {}
    words: dict[int, str] = {}
    offset = 0  # in bytes
    at = 0
    after_text = False  # the last thing but blanks was a quoted text
    brackets = 0
    after_number = -1  # where the last number ended, if nothing but blanks follows it

    while at < len(text):
        character = text[at]
        if character == " ":
            code.append(" ")
            at += 1
            offset += 1
            continue
        if character in "'\"":
            end = _end_of_text(text, at, after_text)
            piece = text[at:end]
            code.append(piece)
            offset += len(piece.encode())
            at, after_text, after_number = end, True, -1
            continue
        after_text = False
        if character.isascii() and character.isdigit():
            literal, end = _literal(text, at, currency, after_number)
            piece = text[at:end]
            if _PLAIN_WHOLE.fullmatch(piece):
                code.append(piece)
            else:
                literals[offset] = literal
                code.append("_" * len(piece))
            offset += len(piece)
            at = after_number = end
            continue
        after_number = -1
        if word := _WORD.match(text, at):
            piece = word.group()
            if set(piece) == {"_"}:
                raise _error(105, f"'{piece}' is not a name", at, word.end())
            if text[word.end() : word.end() + 1] in ("'", '"'):
                raise _error(103, f"'{piece}' stands right before a quote", at, word.end())
            if keyword.iskeyword(piece) and piece not in _OPERATOR_WORDS:
                words[offset] = piece
                code.append("_" * len(piece))
            else:
                code.append(piece)
            at = word.end()
            offset += len(piece)
            continue
        if character not in _OPERATORS:
            raise _stray(character, at)
        brackets += (character in "([") - (character in ")]")
        if brackets > MAX_BRACKETS:
            raise _error(105, f"brackets are nested more than {MAX_BRACKETS} deep", at, at + 1)
        code.append(character)
        offset += 1
        at += 1
    return Prepared("".join(code), literals, words)


def _literal(text: str, at: int, currency: str | None, after_number: int) -> tuple[Literal, int]:
    try:
        matched = match_literal(text, at, currency)
    except LiteralError as error:
        raise _error(error.code_number, error.message, error.start, error.end, error.hint) from None
    if matched is None:
        raise _error(103, f"'{text[at : at + 12]}' is not a number", at, at + 1)
    if after_number >= 0:
        raise _error(
            107,
            f"two numbers side by side: '{text[at : matched[1]]}' follows another number",
            at,
            matched[1],
            "put an operator or a comma between them, or write the parts of one amount in ever smaller units",
        )
    return matched


def _end_of_text(text: str, at: int, after_text: bool) -> int:
    """Where the quoted text that begins at `at` ends (behind its quote)."""
    end = text.find(text[at], at + 1)
    if end < 0:
        raise _error(103, f"the quote {text[at]} is not closed", at, len(text))
    if "\\" in text[at:end]:
        raise _error(105, "a backslash is not allowed in a text", text.index("\\", at), end)
    if after_text or text[end + 1 : end + 2] in ("'", '"'):
        raise _error(
            103, "two texts stand side by side", at, end + 1, "put a comma or an operator between them"
        )
    return end + 1


def _stray(character: str, at: int) -> FormulaError:
    if not character.isascii():
        shown = character if character.isprintable() else f"U+{ord(character):04X}"
        hints = {
            "≤": "write <=",
            "≥": "write >=",
            "×": "write *",
            "−": "write -",
            "·": "write *",
            "÷": "write /",
        }
        return _error(
            103,
            f"the character {shown!r} is not allowed outside quotes",
            at,
            at + 1,
            hints.get(character, ""),
        )
    hints = {
        "%": "a percent sign follows a number: 53.0 %",
        "^": "powers are written **",
        "&": "write and",
        "|": "write or",
        "#": "put remarks in the YAML, outside the formula",
        "{": "",
    }
    return _error(105, f"'{character}' is not allowed in a formula", at, at + 1, hints.get(character, ""))


def _error(number: int, message: str, start: int, end: int, hint: str = "") -> FormulaError:
    return FormulaError(FormulaProblem(number, message, start, end, hint))
