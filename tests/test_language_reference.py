"""The language reference: every example in it is extracted and run, and its table of codes is the program's own.

Examples are fenced as ```yaml WORD: `section` and `clauses` together make one pack; `cases` are run with it, `car`,
`bulletin`, `approvals` and `interpretations` are read with it; `pack` is one by itself; `procedure` is read by tests/meeting/test_procedure.py.
"""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest

from checker import kinds
from checker.car.declaration.loading import load_car
from checker.kinds import all_kinds
from checker.kinds.kind_file import summary
from checker.pack.editions.edition import Edition
from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import build_pack
from checker.pack.editors.new_pack import new_pack
from checker.pack.editors.pack_schema import declaration_schema
from checker.pack.lint.everything import lint
from checker.pack.reading.codes import table
from checker.quantities.days import parse_day
from checker.reading.printer import to_yaml
from checker.reading.strict_yaml import parse_document
from checker.studies.cases.casebook import read_cases
from checker.studies.cases.running import run_cases
from tests.pack.editors.test_pack_schema import PACK, accepts, as_json
from tests.pack.folders import write
from tests.studies.casebooks import problems_of

FILE = Path(__file__).parents[1] / "rulepacks" / "README.md"
TEXT = FILE.read_text(encoding="utf-8")
BLOCK = re.compile(r"^( *)```yaml(?: (\w+))?\n(.*?)^ *```$", re.MULTILINE | re.DOTALL)
FOREIGN_KINDS = Path(__file__).parent / "kinds" / "foreign"
HEAD = 'pack: example\nedition: "2026.1"\ntitle: Example\nin_force: {from: 2026-01-01}\ncourse: anticlockwise\ncurrency: GBP\n'


def blocks(word: str) -> list[str]:
    """The examples of one sort, without their indent."""
    return [dedent(text) for _, its_word, text in BLOCK.findall(TEXT) if its_word == word]


def parsed(text: str) -> Any:
    return parse_document(text.encode(), "README.md", "PK").data


def merged(texts: list[str]) -> dict[str, Any]:
    """Several mappings of sections as one; nothing may stand in two of them."""
    whole: dict[str, Any] = {}
    for text in texts:
        for section, content in parsed(text).items():
            if isinstance(content, list):
                whole.setdefault(section, []).extend(content)
            else:
                here = whole.setdefault(section, {})
                assert here.keys().isdisjoint(content), (section, here.keys() & content.keys())
                here.update(content)
    return whole


def whole_pack() -> str:
    """The pack that the examples make together."""
    clauses = {"clauses": merged([f"clauses:\n{_indented(text)}" for text in blocks("clauses")])["clauses"]}
    return HEAD + to_yaml({**merged(blocks("section")), **clauses})


def _indented(text: str) -> str:
    return "".join(f"  {line}\n" for line in text.splitlines())


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The examples as files of one folder."""
    files = {"rules.yaml": whole_pack() + "cases: cases.yaml\n", "cases.yaml": "\n".join(blocks("cases"))}
    files["bulletin.yaml"], files["approvals.yaml"] = blocks("bulletin")[0], blocks("approvals")[0]
    (files["interpretations.yaml"],) = blocks("interpretations")
    return write(tmp_path_factory.mktemp("reference"), files)


def test_every_example_says_what_it_is() -> None:
    words = {word for _, word, _ in BLOCK.findall(TEXT)}
    assert words == {
        "section",
        "clauses",
        "cases",
        "car",
        "bulletin",
        "approvals",
        "pack",
        "procedure",
        "interpretations",
    }
    assert len(BLOCK.findall(TEXT)) == TEXT.count("```yaml")


def test_the_examples_make_a_pack_without_a_mistake(folder: Path) -> None:
    assert [problem for problem in lint(folder) if not problem.warning] == []


def test_the_cases_come_out(folder: Path) -> None:
    runs = run_cases(read_cases(Edition(open_folder(folder), str(folder / "rules.yaml"))))
    assert len(runs) == sum(
        text.count("name: ") - text.count("{name: arm")
        for text in [*blocks("cases"), *blocks("interpretations")]
    )
    assert [(run.case.name, [p.message for p in problems_of(run)]) for run in runs if not run.came_out] == []


def test_the_bulletin_changes_the_rules(folder: Path) -> None:
    before, after = (load_pack(open_folder(folder), parse_day(day)) for day in ("2026-05-31", "2026-06-01"))
    assert "52.5 %" in after.clauses["6.1"].check.sentence()
    assert "53.0 %" in before.clauses["6.1"].check.sentence()
    assert ("6.9" in after.clauses, "7.3" in after.clauses) == (True, False)
    assert after.approvals is not None


def test_the_declarations_are_read_and_fit_their_schema(folder: Path) -> None:
    pack = load_pack(open_folder(folder), parse_day("2026-05-03"))
    first, weighed = (
        load_car(parse_document(text.encode(), "car.yaml", "CD"), pack.vocabulary) for text in blocks("car")
    )
    assert first.value("dimensions.rear_width_over_tyres") == Fraction("69.625") * Fraction("25.4")
    assert (weighed.tank_levels, weighed.fluids, weighed.warnings) == (2, ("water",), ())
    assert all(accepts(declaration_schema(pack), as_json(parsed(text))) for text in blocks("car"))


def test_the_whole_pack_stands_by_itself() -> None:
    (text,) = blocks("pack")
    pack = build_pack(parse_document(text.encode(), "README.md", "PK"))
    assert list(pack.clauses) == ["1"]


def test_examples_fit_the_schema_of_packs() -> None:
    for word in ("pack", "bulletin", "approvals", "interpretations", "cases"):
        for text in blocks(word):
            assert accepts(PACK, as_json(parsed(text))), word
    assert accepts(PACK, as_json(parsed(whole_pack())))


def test_the_table_of_codes_is_the_programs_own(request: pytest.FixtureRequest) -> None:
    assert_made_part("codes", f"{table()}\n", request)


def assert_made_part(name: str, made: str, request: pytest.FixtureRequest) -> None:
    """Hold a part of the reference that is made from the program to what it says now; --accept puts that in."""
    begin, end = rf"(<!-- {name}: made by pytest --accept -->\n)", rf"(<!-- end of {name} -->)"
    part = re.compile(rf"{begin}(.*?){end}", re.DOTALL)
    text = FILE.read_text("utf-8")
    if request.config.getoption("--accept"):
        text = part.sub(lambda found: found[1] + made + found[3], text)
        FILE.write_text(text, encoding="utf-8")
    found = part.search(text)
    assert found is not None
    assert found[2] == made, "pytest --accept puts in what the program says now"


def kinds_text() -> str:
    """What each kind says of itself: a row with its first example, and a row for each of its keys."""
    rows = ["| kind | for instance | it says |", "|---|---|---|"]
    keys = ["| key | of | what stands there |", "|---|---|---|"]
    for name, kind in all_kinds().items():
        details = " ".join((kind.__doc__ or "").partition("\n\n")[2].split())
        says = f"{summary(kind)} {details}".strip()
        rows.append(f"| `{name}` | `{kind.EXAMPLES[0].check}` | {says[0].upper()}{says[1:]} |")
        keys += [
            f"| `{key}` | `{name}` | {schema['description']} |"
            for key, schema in kind.SCHEMA["properties"].items()
        ]
    return "\n".join([*rows, "", *keys, ""])


def test_each_kind_is_told_as_it_tells_of_itself(request: pytest.FixtureRequest) -> None:
    assert_made_part("kinds", kinds_text(), request)


def test_an_undocumented_kind_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    before = kinds_text()
    monkeypatch.setattr(kinds, "__path__", [*kinds.__path__, str(FOREIGN_KINDS)])
    all_kinds.cache_clear()
    try:
        assert kinds_text() != before
    finally:
        all_kinds.cache_clear()


def test_the_first_steps_are_those_of_the_program() -> None:
    said = re.search(r"\$ checker pack new spring-cup\n(.*?)```", TEXT, re.DOTALL)
    assert said is not None
    assert said[1].splitlines()[0] == "spring-cup holds a pack of five clauses with its cases and a car. Now:"
    assert len(parsed(new_pack("spring-cup")["pack.yaml"])["clauses"]) == 5
    assert json.loads(new_pack("spring-cup")["pack.schema.json"]) == PACK
