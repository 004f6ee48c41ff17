"""The printed rulebook: everything that is judged is in it, what is new carries a bar, and nothing else does."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import lru_cache

import pytest
from markdown_it import MarkdownIt

from checker.pack.editions.finding import open_folder
from checker.pack.editions.in_force import load_pack
from checker.pack.editions.loading import load_edition
from checker.pack.model import Pack
from checker.report.rulebook.whole import rulebook
from tests.building import pack_of
from tests.examples import quick_first
from tests.studies.packs import pack

FOLDER = "rulepacks/dunlin"


@lru_cache
def dunlin(day: str = "2026-05-03") -> Pack:
    return load_pack(open_folder(FOLDER), date.fromisoformat(day))


@lru_cache
def before() -> Pack:
    return load_edition(f"{FOLDER}/2025.1.yaml")


def clause(book: str, number: str) -> str:
    """What stands under one clause."""
    found = re.search(rf"^### {re.escape(number)} .*?(?=^### |^## )", book, re.MULTILINE | re.DOTALL)
    assert found is not None
    return found[0]


def unbarred(book: str) -> list[str]:
    return [line for line in book.splitlines() if line and not line.startswith((">", "###", "<a "))]


def test_every_clause_stands_in_it_with_its_text_and_check() -> None:
    book = rulebook(dunlin())
    for number, its in dunlin().clauses.items():
        told = clause(book, number)
        assert told.startswith(f"### {number} {its.title}")
        assert "**Check:**" in told
        words = " ".join(its.text.replace("\\", "").split())
        assert words[:40] in " ".join(told.replace("\\", "").split())


def test_limits_tables_conditions_measuring_and_consequences_stand_with_the_clause() -> None:
    told = clause(rulebook(dunlin()), "3.1")
    assert "in condition [any\\_without\\_driver](#conditions): `weight.total` at least" in told
    assert "| up to 1600 cc | 585 kg |" in told
    assert "`engine.capacity`: measured with the burette; engine cold" in told
    assert "`weight.total`: weighed" in told
    assert "**Consequence:** The car loses its result" in told


def test_a_combined_check_is_a_list() -> None:
    told = clause(rulebook(dunlin()), "8.2")
    assert "**Check:** all of these\n\n- `cage.driver_side_bars` at least 4\n" in told


def test_a_table_is_shown_once_and_then_named() -> None:
    book = rulebook(dunlin())
    assert "| above 1300 cc | 3 |" in clause(book, "2.2")
    assert "**Table `engine_limits`:** see [2.2](#22-cylinders-and-valves)" in clause(book, "2.3")


def test_nothing_is_marked_without_an_edition_before_or_against_itself() -> None:
    for book in (rulebook(dunlin()), rulebook(dunlin(), dunlin())):
        assert not [line for line in book.splitlines() if line.startswith(">")]
        assert "| \\> |" not in book
    assert "## Changes against edition 2026.1\n\nNone.\n" in rulebook(dunlin(), dunlin())


def test_what_is_not_as_in_the_edition_before_carries_a_bar() -> None:
    book = rulebook(dunlin(), before())
    changed = clause(book, "3.3")
    assert "> **Check:** in condition [any](#conditions): `percentage.inside` at most 53.0 %" in changed
    assert "\n**Consequence:**" in changed
    assert "> New clause." in clause(book, "3.4")
    assert unbarred(clause(book, "3.4")) == []
    assert "> Formerly 4.3." in clause(book, "4.4")
    assert not [line for line in clause(book, "3.1").splitlines() if line.startswith(">")]


def test_the_changes_are_listed_with_what_was_withdrawn() -> None:
    book = rulebook(dunlin(), before())
    assert "- [3.3](#33-inside-weight) Inside weight: tighter: at most 54.2 % becomes 53.0 %" in book
    assert "- `3.10` Weight for capacity: withdrawn" in book
    assert "- [4.4](#44-ride-height) Ride height: renumbered: was 4.3" in book


def test_a_changed_table_carries_a_bar_and_one_that_is_not_does_not() -> None:
    book = rulebook(dunlin(), before())
    assert "> | winner | 4 kg |" in book
    assert "\n| up to 1300 cc | 560 kg |" in book
    assert "> | up to 1300 cc | 560 kg |" not in book


def test_facts_that_are_new_or_changed_are_marked() -> None:
    one, other = pack(), pack({'facts."spare.size".about': "The spare"})
    rows = [line for line in rulebook(other, one).splitlines() if line.startswith("| \\> |")]
    assert len(rows) == 1
    assert "`spare.size`" in rows[0]


def test_bulletins_are_told_with_their_days_and_reasons() -> None:
    book = rulebook(dunlin("2026-07-25"), before())
    assert "| 2026-B1 | 2026-07-01 | further notice | [3.3](#33-inside-weight) | Tyre wear" in book
    assert "| 2026-B2 | 2026-07-20 | further notice | `tables.season_tyre` |" in book
    assert "> **Changed by bulletin:** 2026-B1" in clause(book, "3.3")
    assert "> **Cars from before 2025-01-01 until 2026-10-31:**" in clause(book, "3.3")


def test_older_cars_days_and_replacements_are_told() -> None:
    rules = pack_of(
        """
        "1": {title: A, check: {limit: a.b, at_most: 3 mm}, since: 2026-02-01, until: 2026-03-01, severity: advisory,
              penalty: {amount: "round_up(excess / 1 mm, 1)", unit: laps}, earlier: [{before: 2021-01-01, check: none}]}
        "2": {title: B, check: {unless: a.b > 2 mm, holds: a.b > 1 mm}, instead_of: ["1"], interpretation: As read}
        """,
        "facts: {a.b: {unit: mm, stated_by: official, about: Some width}}",
    )
    book = rulebook(rules)
    first, second = clause(book, "1"), clause(book, "2")
    assert "*This clause is advice" in first
    assert "**In force:** from 2026-02-01 until 2026-03-01" in first
    assert "**Cars from before 2021-01-01:** the clause does not bind them" in first
    assert "laps" in first
    assert "**Takes the place of:** [1](#1-a)" in second
    assert "unless `a.b` \\> 2 mm" in second
    assert "**How it is read:** As read" in second
    assert "`a.b`: stated by an official" in first


def test_the_index_leads_to_every_clause_that_looks_at_a_quantity() -> None:
    book = rulebook(dunlin())
    assert (
        "- `engine.capacity`: [2.1](#21-engine-capacity), [2.2](#22-cylinders-and-valves), [2.3](#23-inlet-bore)"
        in book
    )
    assert "- `percentage.inside`: [3.3](#33-inside-weight)" in book


def ids_by_markdown_it(book: str) -> str:
    anchors = pytest.importorskip("mdit_py_plugins.anchors", reason="mdit-py-plugins is not installed")
    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    return str(reader.use(anchors.anchors_plugin, max_level=3).render(book))


def ids_by_markdown(book: str) -> str:
    markdown = pytest.importorskip("markdown", reason="markdown is not installed")
    return str(markdown.markdown(book, extensions=["toc", "tables"]))


@pytest.mark.parametrize("day", quick_first(["2026-05-03", "2026-07-25"], 1))
@pytest.mark.parametrize("rendered", quick_first([ids_by_markdown_it, ids_by_markdown], 1))
def test_every_link_leads_to_a_heading_without_html(day: str, rendered: Callable[[str], str]) -> None:
    book = rulebook(dunlin(day), before())
    assert "<" not in re.sub("`[^`]*`", "", book).replace("\\<", "")
    page = rendered(book)
    links = set(re.findall('href="#([^"]*)"', page))
    assert len(links) > 50
    assert links <= set(re.findall(r'<h\d id="([^"]*)"', page))


def test_another_parser_reads_it_as_the_book_it_is() -> None:
    page = MarkdownIt("commonmark", {"html": True}).enable("table").render(rulebook(dunlin(), before()))
    assert page.count("<h3>") == 60
    assert page.count("<blockquote>") > 20
    assert page.count("<table>") > 8
    assert not re.search(
        r"<(?!/?(?:h1|h2|h3|p|a|ul|li|strong|em|code|table|thead|tbody|tr|th|td|blockquote)\b)", page
    )


def test_a_pack_cannot_put_mark_up_into_the_book() -> None:
    nasty = "<script>alert(1)</script> [x](javascript:1) **b** | `c` \\x1b[2J"
    words = f"title: '{nasty}', text: '{nasty}', consequence: '# {nasty}', act: '- {nasty}'"
    rules = pack_of(
        f'"1": {{{words}, check: {{holds: a.t}}}}',
        f"facts: {{a.t: {{type: truth, about: '{nasty}'}}}}",
    )
    page = MarkdownIt("commonmark", {"html": True}).enable("table").render(rulebook(rules))
    assert "<script" not in page
    assert "javascript:" not in re.sub(r"\[x\]\(javascript:1\)", "", page)
    assert "<strong>b</strong>" not in page


def test_the_same_pack_gives_the_same_book() -> None:
    assert rulebook(dunlin(), before()) == rulebook(dunlin(), before())
