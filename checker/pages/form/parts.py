"""What a form is made of. Nothing here knows of HTML, nor of any car."""

from __future__ import annotations

from typing import TypeAlias

from checker.car.described.vocabulary import FactType
from checker.reading.quick_dataclasses import KW_ONLY, dataclass


@dataclass(frozen=True, slots=True)
class Input:
    """One value of the car's file, or several of one kind."""

    key: str
    """Its key in the section."""
    label: str
    fact: FactType
    _: KW_ONLY
    help: str = ""
    """What it is and how it is measured."""
    form: str = ""
    """What may be written: "cc, 500 cc to 3000 cc"."""
    keys: tuple[tuple[str, str], ...] = ()
    """Keys that it may stand under instead, each with its words: behind the front axle, ahead of it."""
    units: tuple[str, ...] = ()
    """That it may be written in, the one to offer first."""
    words: tuple[str, ...] = ()
    """To pick from; others are refused unless the word stands in a tree."""
    tree: str = ""
    """The tree that its words stand in: "material" or "category"."""
    instrumented: bool = False
    """Whether it may say what it was measured with, and its uncertainty."""


@dataclass(frozen=True, slots=True)
class Group:
    """Things that stand together under one key."""

    key: str
    label: str
    parts: tuple[Part, ...]
    _: KW_ONLY
    help: str = ""
    is_place: bool = False
    """Whether it tells where something sits, so that the drawing may be pointed at."""
    is_rare: bool = False
    """Whether it is folded away while nothing stands in it."""


@dataclass(frozen=True, slots=True)
class Growing:
    """A list of like entries."""

    key: str
    label: str
    entry: Group
    _: KW_ONLY
    help: str = ""
    one: str = "entry"
    """What one of it is called."""
    named: bool = False
    """Each entry stands under a name of its own in the file, instead of in a list."""
    at_hand: int = 12
    """So many fields of an entry are always shown; of longer ones the rest once they are filled, or asked for."""
    always: tuple[str, ...] = ()
    """Fields of an entry that are shown in any case."""
    begun: bool = False
    """Where the file has none, one is there to be filled in."""
    nested: bool = False
    """An entry may have such a list inside it, under `parts`."""


@dataclass(frozen=True, slots=True)
class Either:
    """What may be told in one of several ways under one key."""

    key: str
    label: str
    ways: tuple[tuple[str, Part], ...]
    """What each is called, with what it is made of; the first is the usual one."""


Part: TypeAlias = Input | Group | Growing | Either


@dataclass(frozen=True, slots=True)
class CarForm:
    """The whole form of one formula on one day."""

    title: str
    formula: str
    root: Group
    materials: tuple[str, ...]
    categories: tuple[str, ...]
