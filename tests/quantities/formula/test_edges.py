"""Edges are noted where they are met, and only where somebody asks for them."""

from __future__ import annotations

from typing import Any

from checker.car.scene import Scene
from checker.kinds.contract.check import Check
from checker.quantities.formula.edges import MetEdge, noting
from tests.building import car_of, pack_of_check

FACTS = """
facts: {a.x: {unit: mm}, a.y: {unit: mm}, a.word: {one_of: [one, two]}, a.day: {type: date}}
lists: {holes: {fields: {width: {unit: mm}}}}
tables: {step: {by: [width], rows: [{width: up to 10 mm, value: 1 kg}, {width: above 10 mm up to 20 mm, value: 2 kg}]}}
"""
CAR = "a: {x: 12 mm, y: 7 mm, word: one, day: 2026-05-01}\nholes: [{width: 8 mm}, {width: 11 mm}]"


def edges(check: str) -> list[tuple[str, Any]]:
    """What a check meets: each edge as written, and how far off it the value lies in mm."""
    pack = pack_of_check(check, FACTS)
    scene = Scene(car_of(pack, CAR))
    clause: Check = pack.clauses["1"].check

    def told(edge: MetEdge) -> tuple[str, Any]:
        return edge.text, edge.distance(edge.scene)

    with noting(lambda met: met.car is scene.car) as found:
        clause.assess(scene, rule_of_no_doubt())
    return [told(edge) for edge in found]


def rule_of_no_doubt() -> Any:
    from checker.verdict.decision import Rule

    return Rule("entrant", exact=True)


def test_a_comparison_of_measures_is_an_edge() -> None:
    assert edges("{holds: a.x > a.y and a.y >= 6 mm}") == [("a.x against a.y", 5), ("a.y against 6 mm", 1)]


def test_what_is_not_reached_is_not_met() -> None:
    assert edges("{holds: a.x < 1 mm and a.y < 1 mm}") == [("a.x against 1 mm", 11)]


def test_words_days_and_equality_are_no_edges() -> None:
    assert (
        edges("{holds: \"a.word == 'one' and a.day < 2026-06-01 and a.x == 12 mm and a.word in ['one']\"}")
        == []
    )


def test_the_edges_of_a_band_are_those_next_to_the_key() -> None:
    text = "a.x against an edge of table step"
    assert set(edges("{limit: 3 kg, at_least: step(a.x)}")) == {(text, 2), (text, -8)}


def test_an_edge_inside_an_aggregate_is_met_for_each_entry() -> None:
    check = "{limit: count(h for h in holes if h.width > 10 mm), at_least: 1}"
    assert edges(check) == [("h.width against 10 mm", -2), ("h.width against 10 mm", 1)]


def test_nothing_is_noted_unless_asked_for() -> None:
    pack = pack_of_check("{holds: a.x > a.y}", FACTS)
    scene = Scene(car_of(pack, CAR))
    with noting(lambda _: False) as found:
        pack.clauses["1"].check.assess(scene, rule_of_no_doubt())
    assert found == []
    with noting(lambda _: True) as outer:
        with noting(lambda _: True) as inner:
            pack.clauses["1"].check.assess(scene, rule_of_no_doubt())
        assert (len(inner), len(outer)) == (1, 0)
        pack.clauses["1"].check.assess(scene, rule_of_no_doubt())
    assert len(outer) == 1
