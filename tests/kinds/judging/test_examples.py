"""Every kind is explained, shows both sides, and does what its examples say."""

from __future__ import annotations

from checker.kinds import all_kinds
from checker.kinds.contract.example import Example
from checker.kinds.judging.assessment import FAIL, PASS
from checker.kinds.kind_file import KindFile
from tests.examples import each_row
from tests.kinds.workbench import judge, shown

EXAMPLES = {
    f"{key}: {example.name}": example for key, kind in all_kinds().items() for example in kind.EXAMPLES
}


@each_row("example", EXAMPLES.values(), ids=EXAMPLES)
def test_an_example_does_what_it_says(example: Example) -> None:
    found = judge(example.check, example.car, example.facts, example.more)
    assert shown(found) == (example.outcome, example.margin)


@each_row("kind", all_kinds().values(), ids=all_kinds())
def test_every_kind_is_explained_and_shows_both_sides(kind: KindFile) -> None:
    outcomes = {example.outcome for example in kind.EXAMPLES}
    assert {PASS, FAIL} <= outcomes, "give one passing and one failing example"
    assert kind.__doc__ is not None
    assert len(kind.__doc__.splitlines()) >= 3
    assert kind.KEY in kind.__doc__.splitlines()[0]


@each_row("kind", all_kinds().values(), ids=all_kinds())
def test_every_key_of_a_kind_is_described(kind: KindFile) -> None:
    assert kind.KEY in kind.SCHEMA["properties"]
    for key, schema in kind.SCHEMA["properties"].items():
        assert schema.get("description"), f"{kind.KEY}: {key}"
