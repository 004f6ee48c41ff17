"""Every mistake that reading a pack can find, by its code: what is wrong, and what cures it.

Codes are stable once released: a message may change its words, never its code. The table in the language reference is
made from this one.
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.reading.quick_dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Code:
    """What a code stands for."""

    wrong: str
    cure: str
    warning: bool = False
    """Told by lint; the pack can be used."""


CODES: Mapping[str, Code] = {
    # --- the file itself ---
    "PK100": Code("the YAML library is not complete", "install PyYAML with libyaml"),
    "PK101": Code(
        "unknown key", "spell it as the reference does; a formula with a comma inside `{ }` needs quotes"
    ),
    "PK102": Code("a clause number, edition or reference without quotes", 'write `"3.10"`'),
    "PK103": Code(
        "a formula or band that cannot be read", "look at the marked place: a bracket, a word too many"
    ),
    "PK104": Code("unknown unit", "use a unit of the closed list, with its capitals"),
    "PK105": Code(
        "something that formulas do not allow", "write it with the functions and words of the reference"
    ),
    "PK106": Code("a day that is not in the calendar, or not written as one", "write `2026-03-01`"),
    "PK107": Code("two numbers side by side", "put an operator between them, or one unit behind them"),
    "PK108": Code("a part of the pack that is missing or has the wrong shape", "write it as the hint shows"),
    "PK109": Code(
        "a word list that cannot be read or lies outside the pack's folder", "keep it beside the pack"
    ),
    "PK110": Code(
        "no pack there, or a file that cannot be opened", "give a pack's file, its folder or its name"
    ),
    "PK111": Code("text that is not UTF-8, or holds characters that no text needs", "save the file as UTF-8"),
    "PK112": Code(
        "YAML that cannot be read", "look at the marked place: a bracket, a quotation mark, an indent"
    ),
    "PK113": Code("a key given twice", "take one of them away"),
    "PK114": Code("a YAML tag", "take it away: kinds come from the facts"),
    "PK115": Code("an anchor, alias or merge key that is not allowed", "write the value out"),
    "PK116": Code("a YAML directive or a second document", "keep one file for each"),
    "PK117": Code("a file that is too large, too deep or has too many values", "split it"),
    "PK118": Code("a number out of bounds", "write it with fewer digits, and with its unit"),
    "PK119": Code("a key that is not text", "put it in quotes"),
    "PK120": Code("an empty file", "begin with `pack:`"),
    "PK121": Code("a colon without a blank behind it", "write `key: value`"),
    # --- names ---
    "PK201": Code(
        "unknown name; as a warning, an instrument that only declarations can describe",
        "take the nearest name",
    ),
    "PK202": Code("a name used twice, or one that cannot be a name", "choose another"),
    "PK203": Code("names that go in a circle", "let one of them be stated"),
    "PK204": Code(
        "a word that this fact, category or material can never be", "take the nearest word, or add it"
    ),
    "PK205": Code("a field that this list does not have", "take the nearest field, or add it under `fields`"),
    "PK206": Code(
        "a fact, field, list, derived value or table that nothing uses", "use it or take it away", True
    ),
    # --- kinds ---
    "PK301": Code("dimensions that differ", "compare lengths with lengths; give numbers their unit"),
    "PK302": Code("kinds that do not go together", "look at what each side is"),
    "PK303": Code("something else where true or false is expected", "write a comparison"),
    "PK304": Code(
        "a list where one value is needed", "say `of_several`, or use sum, mean, min, max, count, any, all"
    ),
    "PK305": Code("the wrong number of arguments", "give as many as the function or table takes"),
    "PK306": Code("division by zero", "divide by something else"),
    # --- tables ---
    "PK401": Code("a gap between two bands of a table", "let the edges meet: `up to X`, then `above X`"),
    "PK402": Code(
        "rows that overlap, or an edge that two rows own",
        "`up to X` and `above X`, or `below X` and `from X`",
    ),
    "PK403": Code("cells of different kinds in one column", "give every cell of a column the same kind"),
    "PK404": Code("a word that no row covers", "add a row, or one with `any`"),
    "PK405": Code("a missing or empty cell", "fill it; `no limit` is a cell too"),
    "PK406": Code(
        "a row that no car finds, for rows before it hold all that it holds",
        "put the row with `any` last, or correct its key",
        True,
    ),
    # --- checks ---
    "PK501": Code(
        "a check without a kind, or with two", "one of limit, allowed, banned, ... ; combine with `all_of`"
    ),
    "PK502": Code(
        "parts of a check that do not go together, or a bound that is missing",
        "see the kind in the reference",
    ),
    "PK503": Code(
        "an empty range: a lower bound above the upper, an amount below zero", "check both numbers"
    ),
    "PK504": Code(
        "no condition where weights are asked for, or an unknown one", "say `condition: any`, or name one"
    ),
    "PK505": Code(
        "a check that cannot be judged exactly over a range of conditions", "name single conditions"
    ),
    "PK506": Code("one list inside another", "go through one list at a time; use an aggregate for the other"),
    "PK507": Code(
        "a check that is always true, or never", "check the bound against the fact's range and words", True
    ),
    "PK508": Code(
        "two clauses that no value satisfies together", "check both bounds, or guard one of them", True
    ),
    "PK509": Code(
        "a text whose amount the check does not have",
        "correct the text or the check, so that both say one",
        True,
    ),
    "PK510": Code(
        "entries whose order nothing settles but how they are declared", "sort them with `by`", True
    ),
    # --- time ---
    "PK601": Code("a last day before the first", "check both days"),
    "PK602": Code("an unknown clause", "take the nearest number"),
    "PK603": Code("clauses that stand in each other's place in a circle", "let one give way"),
    "PK604": Code("an entry of `earlier` without `before` or `check`", "`{before: 2021-01-01, check: none}`"),
    "PK605": Code("`instead_of` on a check for many", "say `unless` in the general clause"),
    "PK606": Code("a text that names a clause which is not there", "correct the number", True),
    "PK610": Code("a folder with packs of several formulas", "one folder for each formula"),
    "PK611": Code("no pack of that formula", "give one with `--pack`"),
    "PK612": Code(
        "a folder with several registers of approvals, files of interpretations or procedures for one edition;"
        " as a warning, no procedure for the last edition",
        "keep one, and say in each procedure which `editions` it is for",
    ),
    "PK613": Code(
        "a file in a pack's folder that is none of a pack's",
        "mend its first word or its name, or move it to a folder below",
    ),
    "PK614": Code(
        "a bulletin in a folder below, where it does not count",
        "move it beside its edition, unless it is no longer to speak",
        True,
    ),
    "PK620": Code("no edition, or two, in force on the day", "let the editions' days meet"),
    "PK630": Code("`for` is not what stands there", "copy it from the text in force"),
    "PK631": Code(
        "two bulletins of one first day that touch the same place", "let one come into force a day later"
    ),
    "PK632": Code("no such part or place to change", "write the path as the hint shows"),
    "PK633": Code("something stands there already", "say `change`"),
    "PK634": Code("a part changed after it was withdrawn", "take the change away"),
    "PK635": Code("a bulletin for another pack or edition", "check `amends`"),
    "PK636": Code("a bulletin that comes into force after its edition has ended", "check both days"),
    "PK637": Code("two bulletins of one name", "rename one"),
    "PK638": Code("a bulletin that is to come into force before its edition", "check both days", True),
    "PK641": Code("an approval's reference given twice", "give each its own"),
    "PK642": Code("an interpretation's number given twice", "give each its own"),
    "PK643": Code(
        "an interpretation that a bulletin is to settle which is not there", "take the nearest name"
    ),
    "PK644": Code("an interpretation of a day on which no edition is in force", "check its days"),
    # --- cases ---
    "PK701": Code("a case whose outcome differs", "correct the rule or the case"),
    "PK702": Code("a case whose margin differs", "correct the rule or the case"),
    "PK703": Code("a path that the case's declaration does not have", "count entries from 0"),
    "PK704": Code("a clause without a case", "write one on the limit and one just beyond it", True),
    "PK705": Code("a case that expects what cannot be", "correct what it expects"),
    "PK710": Code(
        "a schema beside the pack that no longer fits it", "renew it with `checker pack schema`", True
    ),
}
"""In the order of their numbers."""


def table() -> str:
    """All codes as a Markdown table."""
    rows = [
        f"| {code} | {said.wrong}{' (warning)' if said.warning else ''} | {said.cure} |"
        for code, said in CODES.items()
    ]
    return "\n".join(["| code | what is wrong | what to do |", "|---|---|---|", *rows])
