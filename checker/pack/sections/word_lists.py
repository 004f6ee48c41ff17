"""Materials and categories: the trees of words of a pack, and word lists kept in files beside it."""

from __future__ import annotations

from checker.car.described.word_trees import Tree
from checker.pack.reading.companion_files import read_beside
from checker.pack.reading.source import PackSource
from checker.quantities.folding import fold
from checker.reading.values import Plain


def read_categories(source: PackSource) -> Tree:
    """`categories:` a list of slash-separated words."""
    found: list[str] = []
    given = source.get("categories")
    if given is None:
        return Tree("category", {})
    if not isinstance(given, list):
        source.problem(
            108, "`categories` needs a list of words", "categories", hint="categories: [brakes/disc, wheels]"
        )
        return Tree("category", {})
    seen: dict[str, int] = {}
    for place, word in enumerate(given):
        if not isinstance(word, str) or not all(part.strip() for part in word.split("/")):
            source.problem(108, "a category is a word, or words joined by /", "categories", place)
            continue
        tidy = "/".join(" ".join(part.split()) for part in word.split("/"))
        if fold(tidy) in seen:
            source.problem(202, f"category '{tidy}' stands twice", "categories", place)
            continue
        seen[fold(tidy)] = place
        found.append(tidy)
    return Tree.of_paths("category", found)


def read_materials(source: PackSource) -> Tree:
    """`materials:` families and their members; a lone material has an empty list."""
    members: dict[str, list[str]] = {}
    for family in source.mapping("materials"):
        given = source.get("materials", family)
        if given is None:
            given = []
        if isinstance(given, dict):
            members[family] = _from_file(source, given, ("materials", family))
        elif isinstance(given, list):
            members[family] = _listed(source, given, ("materials", family))
        else:
            source.problem(
                108, f"family '{family}' needs a list of materials", "materials", family, hint=f"{family}: []"
            )
    _refuse_circles(source, members)
    return Tree("material", members)


def _listed(source: PackSource, given: list[Plain], path: tuple[str, ...]) -> list[str]:
    words: list[str] = []
    for place, word in enumerate(given):
        if not isinstance(word, str) or not word.strip():
            source.problem(108, "a material is a word", *path, place, hint="put it in quotes")
        else:
            words.append(word)
    return words


def _from_file(source: PackSource, given: dict[str, Plain], path: tuple[str, ...]) -> list[str]:
    """Words from a YAML list in a file of the pack's own folder."""
    if set(given) != {"words_from"} or not isinstance(given["words_from"], str):
        source.problem(108, "write {words_from: file.yaml}, or a list of words", *path)
        return []
    name = given["words_from"]
    document = read_beside(source, name, (*path, "words_from"))
    if document is None:
        return []
    source.files.append(document)
    words = document.data
    if not isinstance(words, list) or not all(isinstance(word, str) and word.strip() for word in words):
        PackSource(document, problems=source.problems).problem(108, f"'{name}' must hold a list of words")
        return []
    return [str(word) for word in words]


def _refuse_circles(source: PackSource, members: dict[str, list[str]]) -> None:
    """A family may not belong to itself (203)."""
    below = {fold(family): [fold(word) for word in words] for family, words in members.items()}
    for family in members:
        waiting, seen = list(below[fold(family)]), set[str]()
        while waiting:
            word = waiting.pop()
            if word == fold(family):
                source.key_problem(203, f"family '{family}' belongs to itself", "materials", family)
                break
            if word not in seen:
                seen.add(word)
                waiting.extend(below.get(word, ()))
