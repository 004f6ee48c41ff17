"""Kind `allowed`: everything looked at is one of the list, or belongs to one.

For clauses worded "only", "must be of", "from the list". In a check on components it looks at `materials`;
elsewhere `of` says what it looks at. The margin of words is minus the number of offenders. Of counts, sizes, days and
truths it is a closed list, `{allowed: [5, 6, 7], of: gearbox.gears}`: the margin is the distance to the nearest,
whatever the units.
"""

from __future__ import annotations

from functools import partial
from typing import ClassVar

from checker.kinds.contract.check import Check
from checker.kinds.contract.example import Example
from checker.kinds.contract.schema import LISTED, KindSchema
from checker.kinds.judging.assessment import FAIL, NOT_SHOWN, PASS
from checker.kinds.reading.reader import CheckReader
from checker.kinds.words.word_list import WordList, read_list
from checker.reading.quick_dataclasses import dataclass

KEY = "allowed"
SCHEMA: KindSchema = {
    "required": ["allowed"],
    "properties": {
        "allowed": {**LISTED, "description": "The words or values that pass, or a formula that gives them."},
        "of": {"type": "string", "description": "What is looked at; in a check on components: `materials`."},
    },
}
_MORE = "{categories: [seat], materials: {steel: [], light metal: [aluminium]}}"
_example = partial(Example, check="{within: seat, allowed: [light metal]}", more=_MORE)
EXAMPLES = (
    _example(
        "a member of an allowed family",
        car={"components": [{"name": "seat", "category": "seat", "materials": ["aluminium"]}]},
        outcome=PASS,
        margin="0",
    ),
    _example(
        "one of two materials is not on the list",
        car={"components": [{"name": "seat", "category": "seat", "materials": ["aluminium", "steel"]}]},
        outcome=FAIL,
        margin="-1",
    ),
    _example(
        "a material that no family knows",
        car={"components": [{"name": "seat", "category": "seat", "materials": ["alumnium"]}]},
        outcome=NOT_SHOWN,
    ),
)


@dataclass(frozen=True, slots=True)
class Allowed(WordList):
    kind: ClassVar[str] = KEY
    bans: ClassVar[bool] = False


def compile(reader: CheckReader) -> Check | None:
    return read_list(reader, Allowed, ("materials",))
