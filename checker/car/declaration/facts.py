"""Reads the sections of a declaration: every fact that the pack knows, and nothing that it does not.

Each first part of a fact's name is a section, each second part a key in it.
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.car.described.standard import STRUCTURE, WHEELS
from checker.car.described.stated import DEFAULT, Stated
from checker.car.described.vocabulary import FactType, Vocabulary
from checker.car.reading.mistakes import Reader
from checker.car.reading.values import read_given
from checker.quantities.display import show_value


def read_facts(reader: Reader) -> dict[str, Stated]:
    """All facts that the file states, by full name; problems are noted for what cannot be read."""
    sections = _sections(reader.vocabulary)
    facts: dict[str, Stated] = {}
    top = reader.mapping(wanted="sections, such as car: and weighing:,")
    for section in top:
        keys = sections.get(section)
        if keys is not None:
            by, also = (reader.vocabulary,), (reader.instruments, reader.origin)
            facts.update(reader.once((section,), _read_section, (reader, section, keys), by, also))
        elif section not in STRUCTURE and section not in reader.vocabulary.lists:
            known = dict.fromkeys((*sections, *STRUCTURE, *reader.vocabulary.lists))
            reader.unknown_name("section", known, section)
    return facts


def _sections(vocabulary: Vocabulary) -> dict[str, dict[str, FactType]]:
    sections: dict[str, dict[str, FactType]] = {"weighing": {}, "fuel": {}, "driver": {}, "wear": {}}
    for name, fact in vocabulary.facts.items():
        section, _, key = name.partition(".")
        sections.setdefault(section, {})[key] = fact
    return sections


def _read_section(reader: Reader, section: str, keys: Mapping[str, FactType]) -> dict[str, Stated]:
    facts: dict[str, Stated] = {}
    structural = STRUCTURE.get(section, ())
    for key, data in reader.mapping(section, wanted="a mapping of facts").items():
        path = (section, key)
        if path == ("car", "number") and not isinstance(data, str):
            message = "car.number is to be text in quotes, or 07 and 7 could not be told apart"
            reader.problem(212, message, *path, hint='write it as in number: "27"')
        elif path == ("car", "number") and isinstance(data, str) and not data.strip():
            continue  # as in a blank declaration
        elif key in keys:
            stated = read_given(reader, keys[key], path, data)
            if stated is not None:
                facts[f"{section}.{key}"] = stated
        elif key not in structural and section != "tyres":  # what is no fact there is a tyre set
            reader.unknown_name("wheel" if structural == WHEELS else "fact", (*keys, *structural), *path)
    return facts


def by_default(fact: FactType) -> Stated | None:
    """The value that the pack gives the fact where none is stated."""
    if fact.default is None:
        return None
    return Stated(fact.default, default_in_words(fact), fact.unit, DEFAULT, place=None)


def default_in_words(fact: FactType) -> str:
    return fact.default_text or show_value(fact.default, fact.kind, fact.unit)
