"""The page of an inspection: what it answers, and that it stands alone."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Callable

import pytest

from checker.report.html.one_car import inspection_page
from checker.report.one_car.document import inspection_document
from checker.report.one_car.layout_data import layout_data
from checker.report.one_car.tables import inspection_tables
from checker.studies.one_car.layout import layout
from tests.building import inspection_of, pack_of
from tests.examples import quick_first
from tests.report.documents import STORIES, document_of, sample, valid
from tests.report.html.reading import Reading

pytestmark = pytest.mark.usefixtures("at_root")

FACTS = "facts: {body.front: {unit: mm}, body.sound: {type: truth}}"
HOSTILE = (
    "<script>alert(1)</script>",
    "]]> --> </style></svg>",
    "\"quoted' & <b>bold</b>",
    "\u202etfel ot thgir\u2066",
    "{{ 7 * 7 }}{% raw %}",
    "x" * 10_000,
)


@pytest.mark.parametrize("name", quick_first(STORIES, 1))
def test_a_page_stands_alone(name: str) -> None:
    page = inspection_page([document_of(sample(name))])
    read = Reading(page)
    assert not {"script", "link", "iframe", "img", "object", "form"} & set(read.elements)
    assert [a for a in read.attributes if a[1] in ("src", "href", "style") or a[1].startswith("on")] == []
    assert "url(" not in page.replace("url(#", "")
    assert page == inspection_page([document_of(sample(name))])


@pytest.mark.parametrize("name", ["legal", "creeping-inside", "misspelt-alloy"])
def test_a_page_is_as_accepted(name: str, golden: Callable[[str, str], None]) -> None:
    """Without its style sheet and its pictures, which have tests of their own."""
    inspection = sample(name)
    page = inspection_page([valid(inspection_document(inspection, layout_data(layout(inspection))))])
    bare = re.sub(r"<style>.*?</style>|<svg.*?</svg>|sha256-[^&]*", "", page, flags=re.DOTALL)
    golden(f"inspect-{name}.html", bare)


def test_its_policy_allows_its_own_style_alone() -> None:
    page = inspection_page([document_of(sample("legal"))])
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)
    assert style is not None
    digest = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
    assert f"default-src &#39;none&#39;; style-src &#39;sha256-{digest}&#39;;" in page


def test_the_head_of_a_legal_cars_page_answers() -> None:
    head = Reading(inspection_page([document_of(sample("built-2023"))])).text.partition("Assumed")[0]
    for told in (
        "73",
        "Greenshank",
        "COMPLIES",
        "+0.23 %",
        "3.4 Rear weight: 50.27 %, max 50.5 %",
        "22 L on board",
        "0.08 % left open by the errors that are stated",
    ):
        assert told in head
    assert "Nothing has to be put right" in head


def test_a_failing_cars_page_tells_digits_that_can_be_measured() -> None:
    read = Reading(inspection_page([document_of(sample("creeping-inside"))])).text.partition("The numbers")[0]
    assert "3.3 Inside weight: 53.33 %, max 53 %" in read
    assert "53.3293 %" not in read


def test_a_chance_is_told_only_where_every_error_is_stated() -> None:
    told = Reading(inspection_page([document_of(sample("close-to-the-minimum"))])).text
    assert "±0.66 kg, 9 times in 10; 23 chances in 100 that it is met" in told
    assert (
        "±"
        not in Reading(inspection_page([document_of(sample("built-2023"))])).text.partition("The numbers")[0]
    )


def test_a_failing_cars_page_says_what_to_do() -> None:
    read = Reading(inspection_page([document_of(sample("creeping-inside"))])).text
    assert "FAILS" in read
    assert "Move 2.6 kg from inside to outside" in read


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_whatever_a_file_says_is_text(name: str, hostile: Callable[[str], dict[str, object]]) -> None:
    plain, read = (Reading(inspection_page([hostile(one)])) for one in ("plain", name))
    assert read.elements == plain.elements
    assert [a[:2] for a in read.attributes] == [a[:2] for a in plain.attributes]
    assert not re.search("[\u202a-\u202e\x00-\x08]", read.text)


@pytest.fixture
def hostile() -> Callable[[str], dict[str, object]]:
    """A document in which every text that a pack or a car may choose is that text."""

    def made(words: str) -> dict[str, object]:
        pack = pack_of('"1": {title: Width, check: {limit: body.front, at_most: 100 mm}}', FACTS)
        document = document_of(inspection_of(pack, "body: {front: 102.5 mm}"))
        (outcome,) = document["outcomes"]
        document["car"] = {**document["car"], "number": words, "name": words}
        document["pack"] = {**document["pack"], "title": words, "edition": words}
        document["assumed"] = [words]
        document["outcomes"] = [
            {
                **outcome,
                "title": words,
                "act": words,
                "text": words,
                "interpretation": words,
                "penalty": words,
            }
        ]
        return document

    return made


def test_names_from_right_to_left_are_put_apart() -> None:
    document = document_of(sample("legal"))
    document["car"] = {**document["car"], "name": "\u05d0\u05d1\u05d2 \u05d3"}
    document["assumed"] = ["mass of \u05d0\u05d1 \u05d2 is 3 kg"]
    page = inspection_page([document])
    assert "of <bdi>\u05d0\u05d1 \u05d2</bdi> is 3 kg" in page
    assert "<title>Car 27 \u2068\u05d0\u05d1\u05d2 \u05d3\u2069" in page


@pytest.mark.parametrize(("audience", "word"), [("entrant", "not declared"), ("official", "not yet checked")])
def test_what_is_missing_is_told_in_the_words_of_those_it_is_told_to(audience: str, word: str) -> None:
    pack = pack_of('"1": {title: Width, check: {limit: body.front, at_most: 100 mm}}', FACTS)
    document = document_of(inspection_of(pack, "body: {sound: true}", audience=audience))
    other = {"not declared", "not yet checked"} - {word}
    page = inspection_page([document]).lower()
    assert word in page
    assert not any(one in page for one in other)
    assert [row[6] for row in inspection_tables([document], ["car.yaml"], [])["clauses"].rows] == [word]
