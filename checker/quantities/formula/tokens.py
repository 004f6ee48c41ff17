"""From a formula's text to text that Python's own parser reads, column for column.

A formula writes quantities (`1 lb 4 oz`), days (`2026-03-01`), names that Python reserves (`car.class`) and texts
in any script. Each of these is replaced by as many plain characters as it has and kept in a table by its offset, so
that the parser's columns are ours and no float is ever made from source text. What Python would quietly accept but
a rulebook never means (comments, backslashes, texts glued together) is refused here.
"""

from __future__ import annotations

import keyword
import re
import unicodedata

from checker.quantities.formula.problem import FormulaError, FormulaProblem
from checker.quantities.literal import Literal, match_literal
from checker.quantities.misread import LiteralError, strange_sign
from checker.reading.patterns import pattern
from checker.reading.quick_dataclasses import dataclass

MAX_CHARACTERS = 500
MAX_BRACKETS = 20

_BLANKS = " \t\r\n"
_TOKEN = pattern(
    r"""(?P<blank>[ \t\r\n])
    | (?P<number>[0-9])
    | (?P<word>[A-Za-z_][A-Za-z0-9_]*)
    | (?P<text>(?<![0-9])'[^']*'|(?<![0-9])"[^"]*")
    | (?P<open>[(\[])
    | (?P<close>[)\]])
    | (?P<sign>\*\*|==|!=|<=|>=|[-+*/<>,.])""",
    re.VERBOSE,
)
_APART = pattern(r"(?:([<>!])[ \t\r\n=]*|==[ \t\r\n]*)=\Z")
"""A comparison with a blank in it, or a sign too many."""
_MARKED = pattern(r"[1-9][0-9]{0,2}(?:'[0-9]{3})+(?![0-9'])")
_OPERATOR_WORDS = frozenset({"and", "or", "not", "in", "if", "else", "for"})
_CLOSED_BY = {"(": ")", "[": "]"}
_TURNED = {"=<": "<=", "=>": ">=", "=!": "!=", "&&": "and", "||": "or", "!": "not"}
"""Signs of other notations, the longest first, and what is written here."""
_HINTS = {
    "=": "to compare write ==",
    "%": "a percent sign follows a number: 53.0 %",
    "^": "write ** for a power",
    "&": "write and",
    "|": "write or",
    ":": "to compare write ==, and write / to divide",
    ";": "write a comma between values",
    "?": "write a value, a name or a formula in its place",
    "$": "write the three letters of the currency behind the number",
    "#": "put remarks in the YAML, outside the formula",
    "\N{LESS-THAN OR EQUAL TO}": "write <=",
    "\N{GREATER-THAN OR EQUAL TO}": "write >=",
    "\N{NOT EQUAL TO}": "write !=",
    "\N{MULTIPLICATION SIGN}": "write *",
    "\N{MIDDLE DOT}": "write *",
    "\N{DIVISION SIGN}": "write /",
    "\N{LEFT SINGLE QUOTATION MARK}": "write a plain '",
    "\N{RIGHT SINGLE QUOTATION MARK}": "write a plain '",
    "\N{LEFT DOUBLE QUOTATION MARK}": "write a plain '",
    "\N{RIGHT DOUBLE QUOTATION MARK}": "write a plain '",
}


@dataclass(frozen=True, slots=True)
class Prepared:
    """A formula ready for parsing."""

    code: str
    """As long as the formula, in ASCII, without what only our language knows."""
    literals: dict[int, Literal]
    """Literals that are more than a whole number, by the offset where they stand."""
    words: dict[int, str]
    """Ordinary names that Python reserves, by their offset."""


def prepare(text: str, currency: str | None) -> Prepared:
    """Replace what Python's parser does not know.

    Args:
        text: The formula; line breaks count as blanks.
        currency: The pack's one currency, e.g. "GBP".

    Raises:
        FormulaError: With number 103, 104, 105, 106 or 107, and the place of the first mistake.
    """
    if not text.strip(_BLANKS):
        raise _error(103, "the formula is empty", 0, len(text), "write a value, a name or a sum")
    if len(text.strip(_BLANKS)) > MAX_CHARACTERS:
        hint = "give parts of it names under `derived`, or use a table"
        raise _error(103, f"the formula has more than {MAX_CHARACTERS} characters", 0, len(text), hint)
    code: list[str] = []
    literals: dict[int, Literal] = {}
    words: dict[int, str] = {}
    opened: list[int] = []
    before = ""  # what kind of token stands before this one
    at = 0
    while at < len(text):
        found = _TOKEN.match(text, at)
        if found is None:
            raise _stray(text, at)
        sort, piece, end = found.lastgroup or "", found.group(), found.end()
        match sort:
            case "blank":
                piece = " "
            case "number":
                literal, end = _number(text, at, currency)
                piece = text[at:end]
                if not piece.isdigit():
                    literals[at] = literal
                    piece = "_" * len(piece)
            case "word":
                _check_name(text, at, piece)
                if keyword.iskeyword(piece) and piece not in _OPERATOR_WORDS:
                    words[at] = piece
                    piece = "_" * len(piece)
            case "text":
                _check_text(piece, at, before)
                piece = f"'{'_' * (len(piece) - 2)}'"
            case "open":
                opened.append(at)
                if len(opened) > MAX_BRACKETS:
                    raise _error(105, f"brackets are nested more than {MAX_BRACKETS} deep", at, end)
            case "close":
                _close(text, at, opened)
            case _ if piece == "." and text[end : end + 1].isdecimal():
                hint = "a number begins with a digit: 0.5; behind the dot of a name stands a letter"
                raise _error(103, f"'{text[at : end + 1]}' cannot be read", at, end + 1, hint)
        code.append(piece)
        before = before if sort == "blank" else sort
        at = end
    if opened:
        at = opened[-1]
        hint = f"close it with {_CLOSED_BY[text[at]]}"
        raise _error(103, f"this {text[at]} is never closed", at, at + 1, hint)
    return Prepared("".join(code), literals, words)


def _number(text: str, at: int, currency: str | None) -> tuple[Literal, int]:
    try:
        matched = match_literal(text, at, currency)
    except LiteralError as error:
        raise _error(error.code_number, error.message, error.start, error.end, error.hint) from None
    assert matched is not None, "begins with a digit"
    return matched


def _check_name(text: str, at: int, piece: str) -> None:
    end = at + len(piece)
    if set(piece) == {"_"}:
        raise _error(105, f"'{piece}' is not a name", at, end, "write a name, or a value")
    if text[end : end + 1] in ("'", '"') and piece not in _OPERATOR_WORDS:
        hint = f"write '{piece}', with a mark on either side"
        raise _error(103, f"'{piece}' stands right before a quotation mark", at, end + 1, hint)


def _check_text(piece: str, at: int, before: str) -> None:
    end = at + len(piece)
    if before == "text":
        hint = "put a comma or an operator between them"
        raise _error(103, "two texts stand side by side", at, end, hint)
    for place, character in enumerate(piece, at):
        if character == "\\":
            hint = "write / or leave it out"
            raise _error(105, "a backslash is not allowed in a text", place, place + 1, hint)
        if character not in _BLANKS and unicodedata.category(character) in ("Cc", "Cs"):
            message = f"the character U+{ord(character):04X} is not allowed in a text"
            raise _error(105, message, place, place + 1)


def _close(text: str, at: int, opened: list[int]) -> None:
    if not opened:
        hint = "take it away, or open a bracket before it"
        raise _error(103, f"this {text[at]} closes nothing", at, at + 1, hint)
    wanted = _CLOSED_BY[text[opened.pop()]]
    if text[at] != wanted:
        message = f"this {text[at]} stands where {wanted} was expected"
        raise _error(103, message, at, at + 1, f"write {wanted}")


def _stray(text: str, at: int) -> FormulaError:
    character = text[at]
    turned = next((sign for sign in _TURNED if text.startswith(sign, at)), None)
    if turned is not None:
        end, meant = at + len(turned), _TURNED[turned]
        if character == "=":
            return _error(103, f"'{turned}' cannot be read", at, end, f"write {meant}")
        return _error(105, f"'{turned}' is not allowed in a formula", at, end, f"write {meant}")
    apart = _APART.search(text, 0, at + 1) if character == "=" else None
    if apart is not None:
        meant = f"{apart[1]}=" if apart[1] else "=="
        return _error(103, f"'{apart[0]}' cannot be read", *apart.span(), f"write {meant}")
    hint = _HINTS.get(character, "take it away" if " " < character <= "~" else "")
    marked = _MARKED.match(text, len(text[:at]) - len(re.split(r"[^0-9]", text[:at])[-1]))
    if character in "'\"" and marked is not None:
        cure = f"write {marked[0].replace(character, '')}: thousands have no mark"
        return _error(103, f"{marked[0]} cannot be read as a number", *marked.span(), cure)
    if character in "'\"":
        message = f"the text that begins with this {character} is not closed"
        return _error(103, message, at, len(text), f"close it with {character}")
    if character == "=":
        return _error(103, "'=' alone cannot be read", at, at + 1, hint)
    if " " < character <= "~":
        return _error(105, f"'{character}' is not allowed in a formula", at, at + 1, hint)
    strange = strange_sign(character)
    name, cure = strange[1:] if strange else (f"U+{ord(character):04X}", "")
    return _error(103, f"the sign '{name}' cannot be read outside quotation marks", at, at + 1, hint or cure)


def _error(number: int, message: str, start: int, end: int, hint: str = "") -> FormulaError:
    return FormulaError(FormulaProblem(number, message, start, end, hint))
