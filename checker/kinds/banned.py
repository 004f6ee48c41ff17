"""Kind `banned`: nothing looked at is one of the list, or belongs to one.

For clauses worded "no", "may not be used", "is forbidden". In a check on components it looks at `materials`
and `category`; without `within` or `each` it covers every component, nested parts too. A material that no
family knows is not shown: a ban is not dodged by a misspelling. The margin of words is minus the
number of offenders; of counts, sizes, days and truths (with `of`) it is the distance to the nearest.
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

KEY = "banned"
COVERS = "components"
"""What it covers where the check does not say."""
SCHEMA: KindSchema = {
    "required": ["banned"],
    "properties": {
        "banned": {**LISTED, "description": "The words or values that fail, or a formula that gives them."},
        "of": {
            "type": "string",
            "description": "What is looked at; in a check on components: `materials` and `category`.",
        },
    },
}
_MORE = "{categories: [brakes/disc], materials: {steel: [], light metal: [aluminium, exotic], exotic: [titanium]}}"
_example = partial(Example, check="{banned: [exotic]}", more=_MORE)
EXAMPLES = (
    _example(
        "nothing offends",
        car={"components": [{"name": "disc", "category": "brakes/disc", "materials": ["steel"]}]},
        outcome=PASS,
        margin="0",
    ),
    _example(
        "a banned family, in a part inside a component",
        car={
            "components": [
                {
                    "name": "disc",
                    "category": "brakes/disc",
                    "materials": ["steel"],
                    "parts": [{"name": "bell", "materials": ["titanium"]}],
                }
            ]
        },
        outcome=FAIL,
        margin="-1",
    ),
    _example(
        "a misspelt material",
        car={"components": [{"name": "disc", "category": "brakes/disc", "materials": ["titanum"]}]},
        outcome=NOT_SHOWN,
    ),
)


@dataclass(frozen=True, slots=True)
class Banned(WordList):
    kind: ClassVar[str] = KEY
    bans: ClassVar[bool] = True


def compile(reader: CheckReader) -> Check | None:
    return read_list(reader, Banned, ("materials", "category"))
