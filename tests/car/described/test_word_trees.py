"""Words that belong to words, and words that nobody knows."""

from __future__ import annotations

from checker.car.described.word_trees import Tree

MATERIALS = Tree("material", {"light metal": ["aluminium", "exotic"], "exotic": ["Magnesium"], "steel": []})


def test_a_word_belongs_to_itself_and_all_above_it() -> None:
    assert MATERIALS.belongs("magnesium", "exotic") is True
    assert MATERIALS.belongs("MAGNESIUM", "light  metal") is True
    assert MATERIALS.belongs("steel", "steel") is True
    assert MATERIALS.families("magnesium") == ("light metal", "exotic")


def test_a_word_does_not_belong_below_or_beside_itself() -> None:
    assert MATERIALS.belongs("exotic", "magnesium") is False
    assert MATERIALS.belongs("steel", "light metal") is False


def test_of_a_word_that_no_tree_knows_nothing_can_be_told() -> None:
    assert MATERIALS.belongs("titanum", "exotic") is None
    assert MATERIALS.canonical("titanum") is None
    assert MATERIALS.belongs("titanum", "titanum") is True


def test_a_word_is_written_as_the_pack_writes_it() -> None:
    assert MATERIALS.canonical(" magnesium ") == "Magnesium"
    assert MATERIALS.words == ("light metal", "aluminium", "exotic", "Magnesium", "steel")


def test_every_leading_part_of_a_path_is_a_word() -> None:
    categories = Tree.of_paths("category", ["safety/suit/lined", "safety/kill switch"])
    assert categories.words == ("safety", "safety/suit", "safety/kill switch", "safety/suit/lined")
    assert categories.belongs("safety/suit/lined", "safety") is True
    assert categories.belongs("safety/kill switch", "safety/suit") is False


def test_a_circle_of_families_does_not_hang() -> None:
    circle = Tree("material", {"a": ["b"], "b": ["a"]})
    assert circle.belongs("a", "b") is True
