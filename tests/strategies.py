"""Strategies that several tests share: random checks and cars to judge by them.

Checks are plain data, as YAML would hold them, over a fixed set of facts and one list, so that a law can change a
pack or a car and judge again.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

LENGTHS = ("f.p", "f.q", "f.r")
TRUTHS = ("f.s", "f.t", "f.u")
FACTS = {
    **{name: {"unit": "mm"} for name in LENGTHS},
    **{name: {"type": "truth"} for name in TRUTHS},
    "f.w": {"one_of": ["x", "y", "z"]},
    "f.g": {"grades": ["C", "B", "A"]},
    "f.several": {"unit": "mm", "several": True},
}
LISTS = {
    "holes": {
        "known_by": "name",
        "fields": {
            "name": {"type": "text"},
            "size": {"unit": "mm"},
            "deep": {"type": "truth"},
            "sort": {"one_of": ["x", "y"]},
        },
    }
}
CATEGORIES = ["brakes/disc", "wheels"]
MATERIALS = {"steel": [], "light metal": ["aluminium"]}

Data = dict[str, Any]


def lengths() -> st.SearchStrategy[str]:
    """Quantities that often meet each other and their bounds."""
    return st.integers(0, 6).map(lambda number: f"{number} mm")


def truth_formulas() -> st.SearchStrategy[str]:
    atoms = st.one_of(
        st.sampled_from(TRUTHS),
        st.tuples(st.sampled_from(LENGTHS), st.sampled_from(("<", "<=", "==", ">")), lengths()).map(" ".join),
        st.sampled_from(("f.w == 'x'", "f.w in ['x', 'y']", "f.g > 'C'")),
    )
    return st.one_of(
        atoms,
        st.tuples(atoms, st.sampled_from(("and", "or")), atoms).map(" ".join),
        atoms.map(lambda text: f"not ({text})"),
    )


def length_formulas() -> st.SearchStrategy[str]:
    names = st.sampled_from(LENGTHS)
    return st.one_of(
        names,
        st.tuples(names, names).map(lambda two: f"abs({two[0]} - {two[1]})"),
        st.tuples(names, names).map(lambda two: f"min({two[0]}, {two[1]})"),
        st.tuples(names, st.sampled_from(TRUTHS), names).map(lambda t: f"{t[0]} if {t[1]} else {t[2]}"),
        st.tuples(names, lengths()).map(" + ".join),
    )


def bounds(extra: st.SearchStrategy[str] | None = None) -> st.SearchStrategy[Data]:
    """One bound or two of a length; `extra` gives further bounds than literals."""
    bound = lengths() if extra is None else st.one_of(lengths(), extra)
    one = st.tuples(st.sampled_from(("at_least", "above", "at_most", "below", "exactly")), bound).map(
        lambda pair: {pair[0]: pair[1]}
    )
    band = st.tuples(lengths(), st.integers(0, 3)).map(
        lambda pair: {"nominal": pair[0], "plus_minus": f"{pair[1]} mm"}
    )
    tolerance = st.sampled_from(({}, {}, {"tolerance": "1 mm"}))
    return st.tuples(st.one_of(one, band), tolerance).map(lambda pair: {**pair[0], **pair[1]})


def limits() -> st.SearchStrategy[Data]:
    """A limit on a length."""
    return st.tuples(length_formulas(), bounds(st.sampled_from(LENGTHS))).map(
        lambda pair: {"limit": pair[0], **pair[1]}
    )


def _words() -> st.SearchStrategy[Data]:
    some = st.lists(st.sampled_from(("x", "y", "z")), min_size=1, max_size=2, unique=True)
    return st.one_of(
        st.tuples(st.sampled_from(("allowed", "banned")), some).map(
            lambda pair: {pair[0]: pair[1], "of": "f.w"}
        ),
        st.sampled_from(("x", "y")).map(lambda word: {"limit": "f.w", "exactly": word}),
        st.sampled_from(("B", "A")).map(lambda word: {"limit": "f.g", "at_least": word}),
    )


def _many() -> st.SearchStrategy[Data]:
    """Checks for many, over holes or components."""
    each = st.fixed_dictionaries(
        {"each": st.just("holes"), "limit": st.just("size"), "at_least": lengths()},
        optional={
            "where": st.sampled_from(("deep", "sort == 'x'")),
            "unless": st.sampled_from(("deep", "f.s", "size > 3 mm")),
            "if_none": st.sampled_from(("pass", "fail", "not_shown", "not_applicable")),
        },
    )
    pairs = lengths().map(
        lambda most: {
            "pairs": "holes",
            "where": "a.sort == b.sort",
            "limit": "abs(a.size - b.size)",
            "at_most": most,
        }
    )
    bans = st.fixed_dictionaries(
        {"banned": st.sampled_from((["light metal"], ["wheels"], ["steel", "brakes"]))},
        optional={"unless": st.sampled_from(("category in 'wheels'", "f.t"))},
    )
    within = st.fixed_dictionaries(
        {"within": st.just("brakes"), "allowed": st.just(["steel"])},
        optional={"if_none": st.sampled_from(("pass", "fail", "not_applicable"))},
    )
    counts = st.integers(0, 3).map(lambda n: {"limit": "count(h for h in holes if h.deep)", "at_least": n})
    required = st.sampled_from((["wheels"], ["brakes", "wheels"])).map(lambda words: {"required": words})
    several = st.tuples(st.sampled_from(("worst", "mean")), lengths()).map(
        lambda pair: {"limit": "f.several", "at_most": pair[1], "of_several": pair[0]}
    )
    return st.one_of(each, pairs, bans, within, counts, required, several)


def checks() -> st.SearchStrategy[Data]:
    """Checks of every kind, combined to a small depth, some with guards."""
    leaves = st.one_of(limits(), limits(), truth_formulas().map(lambda t: {"holds": t}), _words(), _many())

    def combined(inner: st.SearchStrategy[Data]) -> st.SearchStrategy[Data]:
        branches = st.lists(inner, min_size=1, max_size=3)
        return st.one_of(
            st.tuples(st.sampled_from(("all_of", "any_of", "none_of")), branches).map(
                lambda pair: {pair[0]: pair[1]}
            ),
            st.tuples(st.sampled_from(("at_least_of", "at_most_of")), st.integers(0, 1), branches).map(
                lambda triple: {triple[0]: {"count": triple[1], "of": triple[2]}}
            ),
        )

    whole = st.recursive(leaves, combined, max_leaves=4)
    return st.tuples(whole, st.sampled_from(("", "", "when", "unless")), truth_formulas()).map(_guarded)


def _guarded(triple: tuple[Data, str, str]) -> Data:
    check, guard, formula = triple
    return check if not guard or guard in check else {guard: formula, **check}


def cars() -> st.SearchStrategy[Data]:
    """Cars of which everything that `checks` can ask for is stated."""
    section = {
        **{name.partition(".")[2]: lengths() for name in LENGTHS},
        **{name.partition(".")[2]: st.booleans() for name in TRUTHS},
        "w": st.sampled_from(("x", "y", "z")),
        "g": st.sampled_from(("C", "B", "A")),
        "several": st.lists(lengths(), min_size=1, max_size=3),
    }
    hole = st.fixed_dictionaries(
        {
            "name": st.sampled_from(("one", "two")),
            "size": lengths(),
            "deep": st.booleans(),
            "sort": st.sampled_from("xy"),
        }
    )
    component = st.fixed_dictionaries(
        {
            "name": st.sampled_from(("disc", "wheel")),
            "category": st.sampled_from(("brakes", "brakes/disc", "wheels")),
            "materials": st.lists(
                st.sampled_from(("steel", "aluminium")), min_size=1, max_size=2, unique=True
            ),
        }
    )
    return st.fixed_dictionaries(
        {
            "f": st.fixed_dictionaries(section),
            "holes": st.lists(hole, max_size=3),
            "components": st.lists(component, max_size=3),
        }
    )
