"""The form of a pack: a section for each of a declaration, its facts as the pack types them, and what else may be told.

Order, help and how a thing is measured are those of the blank declaration (`checker.report.one_car.blank`).
"""

from __future__ import annotations

from checker.car.described.vocabulary import FactType, ListType
from checker.pack.model import Pack
from checker.pages.form import structure
from checker.pages.form.maker import Maker, label_of
from checker.pages.form.parts import CarForm, Group, Growing, Part
from checker.report.one_car.blank import places_asked, sections_in_order


def form_of(pack: Pack) -> CarForm:
    """The form of a pack's declarations."""
    made = Maker(pack.vocabulary)
    sections = {
        name: _section(made, name, facts)
        for name, facts in sections_in_order(pack).items()
        if name not in pack.vocabulary.lists
    }
    sections["checks"] = structure.checks(made)
    lists = {name: _listed(made, one, pack) for name, one in pack.vocabulary.lists.items()}
    before = ["ballast", "components"]  # what is on the car comes before what is only brought and shown
    parts = [
        *(sections.pop(name) for name in structure.FIRST if name in sections),
        *(lists[name] for name in before if name in lists),
        *(part for name, part in sections.items() if name not in structure.LAST),
        *(part for name, part in lists.items() if name not in before),
        *(sections[name] for name in structure.LAST if name in sections),
    ]
    vocabulary = pack.vocabulary
    return CarForm(
        f"{pack.title or pack.name}, edition {pack.edition}",
        pack.name,
        Group("", "", tuple(parts)),
        tuple(vocabulary.materials.words),
        tuple(vocabulary.categories.words),
    )


def _section(make: Maker, name: str, facts: list[FactType]) -> Part:
    """A section: what is no fact in it, then its facts."""
    if name in ("approvals", "unfinished"):
        return make.texts(name, structure.HELP[name], tuple(make.vocabulary.lists) * (name == "unfinished"))
    if name == "tyres" and not facts and not make.vocabulary.tyre_sets:
        return structure.tyres_by_name(make)
    parts = [make.fact(fact, fact.name.partition(".")[2], instrumented=True) for fact in facts]
    more = structure.parts_of(name, make)
    if name in ("fluids", "instruments"):
        return more[0]
    return Group(name, label_of(name), (*parts, *more), help=structure.HELP.get(name, ""))


def _listed(make: Maker, its_list: ListType, pack: Pack) -> Growing:
    name = its_list.name
    one = structure.ONE_OF.get(name, name.removesuffix("s").replace("_", " "))
    nested = name == "components"
    weighs = "mass" in its_list.fields
    always = ["category", "materials", "mass", "price"]
    if weighs or "price" in its_list.fields:
        always.append("count")
    if weighs or places_asked(pack, its_list):
        always.append("at")
    return Growing(
        name,
        label_of(name),
        make.entry(its_list),
        help=structure.HELP.get(name, ""),
        one=one,
        nested=nested,
        at_hand=2 if nested else min(12, len(its_list.fields)),
        always=tuple(always),
    )
