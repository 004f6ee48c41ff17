"""Words by trees: in, out, or not to be told, by whatever way they are compared."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from checker.car.described.word_trees import Tree
from checker.quantities.formula.families import Kin, is_one_of, may_be, nearness, same_word, word_test
from checker.quantities.formula.reductions import different
from checker.quantities.kind import Kind, Unknown
from tests.examples import each_row
from tests.kinds.workbench import judge, shown

METALS = Tree(
    "material", {"light metal": ["magnesium", "aluminium"], "aluminium": ["cast aluminium"], "steel": []}
)
MORE = """{
  categories: [brakes/disc, brakes/pad],
  materials: {steel: [], light metal: [magnesium, aluminium], aluminium: [cast aluminium]},
  tables: {
    thickness: {by: material, rows: [{material: light metal, value: 3 mm}, {material: any, value: 1 mm}]},
    nearest: {by: material, rows: [{material: light metal, value: 3 mm}, {material: aluminium, value: 2 mm}, {material: any, value: 1 mm}]}
  }
}"""
FACTS = "{floor.material: {type: material}, floor.layers: {type: material, several: true}, floor.thick: {unit: mm}}"


@each_row(
    ("word", "words", "expected"),
    [
        ("Magnesium", ["light metal"], "light metal"),
        ("steel", ["light metal"], None),
        ("light metal", ["magnesium"], "light metal may be magnesium: say which"),
        ("light metal", ["steel", "magnesium", "cast aluminium"], "light metal may be magnesium or cast aluminium: say which"),
        ("light metal", ["magnesium", "light metal"], "light metal"),
        ("stele", ["steel"], "'stele' is no material that this pack knows; did you mean 'steel'?"),
        ("steel", ["stele"], "'stele' is no material that this pack knows; did you mean 'steel'?"),
        ("stele", ["Stele"], "Stele"),
        ("steel", [], None),
    ],
)  # fmt: skip
def test_a_word_is_in_out_or_not_told(word: str, words: list[str], expected: str | None) -> None:
    found = word_test(METALS)(word, words)
    assert (found.told()[0] if isinstance(found, Unknown) else found) == expected


def test_what_is_listed_itself_is_no_family() -> None:
    suits = Tree.of_paths("category", ["safety/suit", "safety/suit/lined"])
    assert is_one_of(suits, "safety/suit", ["safety/suit/lined"]) is False
    assert isinstance(is_one_of(suits, "safety", ["safety/suit/lined"]), Unknown)


def test_words_of_no_tree_belong_to_themselves_alone() -> None:
    assert word_test(None)("A b", ["c", "a  B"]) == "a  B"
    assert word_test(None)("a", ["b"]) is None


def told(check: str, material: str) -> tuple[str, str | None]:
    car = {"floor": {"material": material, "layers": [material], "thick": "2 mm"}}
    return shown(judge(check, car, FACTS, MORE))


VAGUE = [
    "{banned: [magnesium], of: floor.material}",
    "{allowed: [magnesium], of: floor.material}",
    "{required: [magnesium], of: floor.layers}",
    "{holds: floor.material in 'magnesium'}",
    "{holds: \"floor.material not in ['steel', 'magnesium']\"}",
    "{holds: \"'magnesium' in floor.layers\"}",
    "{holds: floor.material == 'magnesium'}",
    "{holds: floor.material != 'magnesium'}",
    "{limit: floor.thick, at_least: nearest(floor.material)}",
    "{when: floor.material in 'magnesium', limit: floor.thick, at_least: 9 mm}",
]


@each_row("check", VAGUE)
def test_a_family_never_hides_its_member(check: str) -> None:
    found = judge(check, {"floor": {"material": "light metal", "layers": ["light metal"], "thick": "2 mm"}}, FACTS, MORE)  # fmt: skip
    assert found.outcome == "not_shown"
    assert any(reason.endswith(": say which") for reason in found.unknown.told()), found.unknown


@each_row("check", VAGUE)
def test_what_is_neither_above_nor_below_is_told(check: str) -> None:
    assert told(check, "steel")[0] != "not_shown"


def test_a_component_of_a_category_above_may_be_meant() -> None:
    components = [{"name": "unit", "category": "brakes", "materials": ["steel"]}]
    found = judge("{within: brakes/disc, banned: [steel]}", {"components": components}, "{}", MORE)
    assert found.outcome == "not_shown"
    assert "brakes may be brakes/disc: say which" in found.unknown.told()


def test_an_exemption_by_family_is_not_had_by_being_vague() -> None:
    check = "{unless: floor.material in 'magnesium', limit: floor.thick, at_least: 3 mm}"
    assert told(check, "light metal")[0] == "not_shown"
    assert told(check, "magnesium")[0] == "not_applicable"
    assert told(check, "steel")[0] == "fail"


@each_row(
    ("table", "material", "margin"),
    [
        ("thickness", "magnesium", "-1 mm"),
        ("thickness", "cast aluminium", "-1 mm"),
        ("thickness", "steel", "+1 mm"),
        ("nearest", "magnesium", "-1 mm"),
        ("nearest", "cast aluminium", "0 mm"),
        ("nearest", "aluminium", "0 mm"),
    ],
)
def test_a_table_gives_the_row_of_the_nearest_family(table: str, material: str, margin: str) -> None:
    assert told(f"{{limit: floor.thick, at_least: {table}(floor.material)}}", material)[1] == margin


def test_what_a_rule_names_is_never_vague() -> None:
    assert told("{holds: \"'light metal' in floor.layers\"}", "magnesium")[0] == "pass"
    assert told("{holds: floor.material == 'light metal'}", "magnesium")[0] == "fail"


TWICE = [
    "{holds: floor.material == seat.material}",
    "{holds: floor.material != seat.material}",
    "{holds: floor.material in seat.layers}",
    "{limit: floor.material, exactly: seat.material}",
    "{allowed: seat.layers, of: floor.material}",
    "{banned: seat.layers, of: floor.material}",
    "{required: seat.layers, of: floor.layers}",
    "{limit: count_different(c.material for c in joints), at_most: 1}",
]
TWO = "{floor.material: {type: material}, seat.material: {type: material}, floor.layers: {type: material, several: true}, seat.layers: {type: material, several: true}}"
JOINTS = MORE.removesuffix("}") + ", lists: {joints: {fields: {material: {type: material}}}}}"


def of_two(check: str, material: str, other: str) -> Any:
    car = {
        "floor": {"material": material, "layers": [material]},
        "seat": {"material": other, "layers": [other]},
        "joints": [{"material": material}, {"material": other}],
    }
    return judge(check, car, TWO, JOINTS)


@each_row("check", TWICE)
def test_one_vague_word_stated_of_two_things_says_nothing_of_whether_they_are_alike(check: str) -> None:
    found = of_two(check, "light metal", "Light Metal")
    assert found.outcome == "not_shown"
    assert found.unknown.told() == ("light metal may be magnesium, aluminium or cast aluminium: say which",)
    assert of_two(check, "magnesium", "magnesium").outcome in ("pass", "fail")
    assert of_two(check, "magnesium", "steel").outcome in ("pass", "fail")


def test_a_cell_of_a_table_is_the_rules_word_and_never_vague() -> None:
    tables = "tables: {of: {by: material, rows: [{material: any, metal: light metal, depth: 3 mm}]}}"
    more = MORE.replace("tables: {", tables.removesuffix("}") + ", ")
    for formula in (
        "floor.material == of(floor.material).metal",
        "floor.material in of(floor.material).metal",
    ):
        found = judge(f"{{holds: '{formula}'}}", {"floor": {"material": "light metal"}}, FACTS, more)
        assert found.outcome == "pass"


def test_two_pieces_of_one_entry_are_alike() -> None:
    check = "{limit: count_different(c.material for c in joints), at_most: 1}"
    car = {"joints": [{"material": "light metal", "count": 2}]}
    assert judge(check, car, TWO, JOINTS).outcome == "pass"


# --- laws ------------------------------------------------------------------------------------------------------

WORDS = tuple("abcdefgh")
TREES = st.lists(st.tuples(st.sampled_from(WORDS), st.sampled_from(WORDS)), max_size=12).map(
    lambda pairs: Tree("material", {w: [b for a, b in pairs if a == w and b > a] for w in WORDS})
)


@given(TREES, st.sampled_from(WORDS), st.lists(st.sampled_from(WORDS), max_size=4))
def test_whatever_is_meant_agrees_with_what_is_told(tree: Tree, word: str, words: list[str]) -> None:
    """Saying more exactly which word is meant never turns an answer round: only what was open is decided."""
    said = is_one_of(tree, word, words)
    meant = [one for one in WORDS if tree.belongs(one, word)]
    answers = [is_one_of(tree, one, words) for one in meant]
    if said is True:
        assert all(answer is True for answer in answers)
    elif said is False:
        assert all(answer is False for answer in answers)
    else:
        assert any(answer is True for answer in answers)


@given(TREES, st.sampled_from(WORDS), st.lists(st.sampled_from(WORDS), max_size=4))
def test_more_words_never_take_one_out(tree: Tree, word: str, words: list[str]) -> None:
    order: dict[Any, int] = {False: 0, True: 2}
    rank = [order.get(is_one_of(tree, word, some), 1) for some in (words[:-1], words)]
    assert rank[0] <= rank[1]


@given(TREES, st.sampled_from(WORDS), st.lists(st.sampled_from(WORDS), max_size=4))
def test_a_row_is_found_by_what_a_word_belongs_to(tree: Tree, word: str, words: list[str]) -> None:
    found = nearness(Kin.of(word, tree), words)
    assert (found is not None) == any(tree.belongs(word, one) for one in words)
    assert (found == 0) == (word in words)


def test_the_reason_names_all_that_may_be_meant() -> None:
    assert may_be("light metal", ["a", "b"]).told() == ("light metal may be a or b: say which",)
    assert may_be("metal", list("abcdef")).told() == ("metal may be a, b, c, d or another: say which",)


def meant_by(tree: Tree, word: str) -> list[str]:
    """What a word may stand for, down to what is no family itself."""
    return [one for one in (word, *tree.meant(word)) if not tree.meant(one)]


@given(TREES, st.lists(st.sampled_from(WORDS), min_size=1, max_size=3), st.data())
def test_saying_more_exactly_never_turns_what_is_told_of_words_that_are_all_declared(
    tree: Tree, words: list[str], data: st.DataObject
) -> None:
    exact = [data.draw(st.sampled_from(meant_by(tree, word))) for word in words]
    count = different(Kind("text", tree="material"), tree)
    for told, then in (
        (count([(w, 1) for w in words]), count([(w, 1) for w in exact])),
        (is_one_of(tree, words[0], words[1:], vague=True), is_one_of(tree, exact[0], exact[1:], vague=True)),
        (same_word((words[0], words[-1]), (tree, tree), (True, True)), exact[0] == exact[-1])
        if len(words) > 1
        else (0, 0),
    ):
        assert isinstance(told, Unknown) or told == then
