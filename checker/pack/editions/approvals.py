"""The register of approvals: what the organising body has permitted, to whom, and until when.

The register is kept beside the pack; a declaration only cites references. An approval that is not in force on
the day is not held against the pack, for it may have been given under another edition.
"""

from __future__ import annotations

from datetime import date

from checker.pack.editions.bulletins import read_amendment
from checker.pack.editions.consolidation import amended
from checker.pack.editions.loading import clauses_of
from checker.pack.model import Approval, Clause, Pack
from checker.pack.reading.source import PackSource
from checker.quantities.folding import fold
from checker.quantities.formula.expression import Expression
from checker.quantities.kind import TRUTH
from checker.reading.document import Document
from checker.reading.nearest import named_with
from checker.reading.problems import InputError, Path
from checker.reading.quick_dataclasses import replace

_KEYS = ("reference", "clauses", "cars", "when", "from", "until", "reason", "changes")
_EXAMPLE = 'reference: A-2026-014, clauses: ["4.2"], cars: ["27"], until: 2026-12-31, reason: why'


def read_register(document: Document, pack: Pack, on: date) -> tuple[Approval, ...]:
    """The approvals of a register, for a pack in force on a day.

    Raises:
        InputError: With every mistake: 101, 102, 106, 108 and 601; 641 a reference given twice; and in what is
            in force on the day 602 a clause that the pack does not have or the approval is not for, and what is
            wrong with `when` and `changes`.
    """
    source = PackSource(document, currency=pack.vocabulary.currency)
    source.known_keys(("approvals",), what="a register")
    listed = source.listed("approvals", hint=f"approvals: [{{{_EXAMPLE}}}]")
    found: list[Approval] = []
    first: dict[str, int] = {}
    for place in range(len(listed)):
        approval = _read(source, ("approvals", place), pack, on)
        if approval is None:
            continue
        same = first.setdefault(fold(approval.reference), place)
        if same != place:
            where: Path = ("approvals", place, "reference")
            related = (("the first", document.span(("approvals", same, "reference"))),)
            message = f"approval {approval.reference} stands twice in the register"
            source.problem(641, message, *where, related=related)
        found.append(approval)
    source.problems.raise_if_any()
    return tuple(found)


def _read(source: PackSource, path: Path, pack: Pack, on: date) -> Approval | None:
    given = source.mapping(*path)
    if not given or not source.known_keys(_KEYS, *path, what="an approval"):
        if not given:
            source.problem(108, "an approval is a mapping", *path, hint=_EXAMPLE)
        return None
    sound = True
    for key in ("reference", "clauses", "reason"):
        if given.get(key) in (None, "", []):
            source.problem(108, f"the approval has no `{key}`", *path, hint=_EXAMPLE)
            sound = False
    clauses, cars = _numbers(source, (*path, "clauses")), _numbers(source, (*path, "cars"))
    reference = source.in_quotes(*path, "reference")
    first, last = source.day(*path, "from"), source.day(*path, "until")
    if first and last and last < first:
        source.problem(601, "`until` is before `from`", *path, "until")
        sound = False
    days_read = all(key not in given or day is not None for key, day in (("from", first), ("until", last)))
    if not sound or clauses is None or cars is None or not reference or not days_read:
        return None
    approval = Approval(
        reference,
        clauses,
        cars,
        first,
        last_day=last,
        reason=source.text(*path, "reason"),
        span=source.document.span(path),
    )
    return _in_full(source, path, approval, pack) if approval.covers(on) else approval


def _in_full(source: PackSource, path: Path, approval: Approval, pack: Pack) -> Approval | None:
    """An approval in force, held against the pack: its clauses, its guard and its changes."""
    unknown = [place for place, number in enumerate(approval.clauses) if number not in pack.clauses]
    for place in unknown:
        number = approval.clauses[place]
        listed = isinstance(source.get(*path, "clauses"), list)
        where: Path = (*path, "clauses", place) if listed else (*path, "clauses")
        message = f"approval {approval.reference} is for clause {number}, which the pack does not have"
        hint = named_with(number, pack.titles)
        source.of_clause(number).problem(602, message, *where, hint=hint)
    when: Expression | None = None
    if source.has(*path, "when"):
        when = source.formula(pack.scope, *path, "when", expected=TRUTH)
    changed = _changed(source, path, approval, pack) if not unknown and source.has(*path, "changes") else {}
    return replace(approval, when=when, changed=changed)


def _changed(source: PackSource, path: Path, approval: Approval, pack: Pack) -> dict[str, Clause]:
    """The approval's clauses as its changes have them."""
    listed = source.get(*path, "changes")
    if not isinstance(listed, list) or not listed:
        source.problem(108, "`changes` needs a list", *path, "changes", hint="as in a bulletin")
        return {}
    read = [read_amendment(source, (*path, "changes", place)) for place in range(len(listed))]
    amendments = [amendment for amendment in read if amendment is not None]
    astray = [a for a in amendments if a.part in pack.clauses and a.part not in approval.clauses]
    for amendment in astray:
        message = (
            f"approval {approval.reference} is not for clause {amendment.part}, so changing it has no effect"
        )
        source.problem(602, message, *amendment.place, amendment.verb, hint="name the clause under `clauses`")
    if len(amendments) < len(read) or astray:
        return {}
    first = approval.first_day or date.min
    try:
        text = amended(pack.document, amendments, approval.reference, first, approval.last_day)
        clauses = clauses_of(pack, text.document, approval.clauses)
    except InputError as error:
        source.problems.found.extend(error.problems)
        return {}
    return clauses


def _numbers(source: PackSource, path: Path) -> tuple[str, ...] | None:
    """Clause or car numbers, one or a list of them, each in quotes; () where the key is left out, or says `any`.

    None where they cannot be used, which is noted (102, 108): a list that is empty is no approval for every car.
    """
    given = source.get(*path)
    if not source.has(*path) or given == "any":
        return ()
    paths = source.one_or_several(*path)
    read = [source.in_quotes(*one) for one in paths]
    empty = [one for one in paths if source.get(*one) in (None, "")] or ([] if paths else [path])
    for one in empty if path[-1] == "cars" or given else ():
        hint = "name them, or leave `cars` out where it is for any car" if path[-1] == "cars" else _EXAMPLE
        source.problem(108, f"`{path[-1]}` names none here", *one, hint=hint)
    if empty:
        return None
    return tuple(read) if all(read) else None
